// Bounds of what is measured that the engine's own figures miss whatever their tolerances do: how far pistons stand proud against rod, stroke and
// block, the chamber of a head against the engine's.
import { leavesOf } from '../../../grammar/terms.ts';
import { type Told, told } from '../../../grammar/told.ts';
import type { Span, Value } from '../../../grammar/tree.ts';
import { compare, type Exact, negate } from '../../mechanics/exact.ts';
import { sameDimension, unitOf } from '../../mechanics/units.ts';
import { engineFigure, engineMeasure } from '../../model/engine-sums.ts';
import { limitBounds } from '../../model/limit-sums.ts';
import { plainValues } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import { isA } from '../../model/trade-names.ts';
import type { Limit, Part, View } from '../../model/view.ts';
import type { Report, ThingCheck } from '../check.ts';
import { boundsShown, rangeShown } from '../figures.ts';
import page from './design-differs.md';
import { plainBounds } from './wear-pairs.ts';

interface Designed {
  readonly low: Exact;
  readonly high: Exact;
  readonly from: Told;
}

/** What the engine's figures make of what a limit measures; undefined for what they do not tell. */
function designed(limit: Limit, view: View): Designed | undefined {
  const of = (limit.of ?? limit.each)?.owner.text ?? '';
  if (limit.sort === 'protrusion' && isA(of, 'piston')) {
    const deck = engineFigure('deck-clearance', view)?.stack.interval;
    return deck === undefined
      ? undefined
      : {
          low: negate(deck.high),
          high: negate(deck.low),
          from: told`block height, rod length, stroke and compression height`,
        };
  }
  if (limit.sort === 'volume' && /chamber/i.test(limit.name) && (of === '' || isA(of, 'head'))) {
    const chamber = engineMeasure('chamber', view)?.stack.interval;
    return chamber === undefined
      ? undefined
      : { low: chamber.low, high: chamber.high, from: told`the chamber of the engine` };
  }
  return undefined;
}

/** The figure of a part that a limit is about by its name: `damper-balance` and the figure balance of damper. */
function figureOf(
  limit: Limit,
  view: View,
): { readonly part: Part; readonly name: string; readonly value: Value } | undefined {
  for (let at = limit.name.indexOf('-'); at > 0; at = limit.name.indexOf('-', at + 1)) {
    const part = view.things.get(limit.name.slice(0, at));
    const name = limit.name.slice(at + 1);
    const value = part?.kind === 'part' ? part.figures.get(name)?.value : undefined;
    if (part?.kind === 'part' && value !== undefined) return { part, name, value };
  }
  return undefined;
}

/** The load of a spring as its part has it, where that is one figure, for a limit of what springs carry. */
function loadOf(limit: Limit, view: View): ReturnType<typeof figureOf> {
  if (limit.sort !== 'spring-load') return undefined;
  const part = view.things.get((limit.each ?? limit.of)?.owner.text ?? '');
  if (part?.kind !== 'part') return undefined;
  const loads = [...part.figures].filter(([name]) => /(?:^|-)load$/.test(name));
  const [first] = loads;
  return loads.length === 1 && first !== undefined && first[1].value !== undefined
    ? { part, name: first[0], value: first[1].value }
    : undefined;
}

/** A figure of a part, and the bounds of the limit that is named for it, which are of another kind or have nothing in common. */
function sayFigure(limit: Limit, view: View, report: Report): void {
  const found = figureOf(limit, view) ?? loadOf(limit, view);
  const [own, its] = [plainValues(found?.value), plainValues(limit.within)];
  if (found === undefined || own.length !== 1 || its.length !== 1 || own[0] === undefined || its[0] === undefined)
    return;
  const [figures, bounds] = [plainBounds(own[0]), plainBounds(its[0])];
  if (figures === undefined || bounds === undefined) return;
  const isOther =
    !sameDimension(figures.unit, bounds.unit) ||
    (figures.low !== undefined && bounds.high !== undefined && compare(figures.low, bounds.high) > 0) ||
    (figures.high !== undefined && bounds.low !== undefined && compare(figures.high, bounds.low) < 0);
  if (!isOther) return;
  const text = (placed: Placed, value: Span): string =>
    placed.section.text.slice(value.start, value.end).replace(/\s+/g, ' ');
  report(
    found.part.placed,
    own[0],
    told`${told.named(found.name)} of ${told.thing(found.part)} is ${text(found.part.placed, own[0])} here, and ${told.thing(limit)} must be ${text(limit.placed, its[0])}. See which of the two is wrong.`,
    { related: [{ placed: limit.placed, span: its[0], message: told`The limit of ${told.thing(limit)}.` }] },
  );
}

/** How far a bolt is stretched, told at the bolt and as a limit of it, with nothing in common. */
function sayStretch(limit: Limit, view: View, report: Report): void {
  const of = view.things.get((limit.each ?? limit.of)?.owner.text ?? '');
  const stretch = of?.kind === 'fastener' ? of.statements.find((each) => each.word === 'stretch') : undefined;
  if (of?.kind !== 'fastener' || stretch?.kind !== 'value' || !/stretch|longer|lengthen/i.test(limit.name)) return;
  const [own, its] = [plainValues(stretch.value)[0], plainValues(limit.within)[0]];
  const [figures, bounds] = [own, its].map((each) => (each === undefined ? undefined : plainBounds(each)));
  if (own === undefined || its === undefined || figures === undefined || bounds === undefined) return;
  if (!sameDimension(figures.unit, bounds.unit)) return;
  const isApart =
    (figures.low !== undefined && bounds.high !== undefined && compare(figures.low, bounds.high) > 0) ||
    (figures.high !== undefined && bounds.low !== undefined && compare(figures.high, bounds.low) < 0);
  if (!isApart) return;
  const text = (placed: Placed, value: Span): string =>
    placed.section.text.slice(value.start, value.end).replace(/\s+/g, ' ');
  report(
    limit.placed,
    its,
    told`${told.thing(of)} is stretched by ${text(of.placed, own)}, and ${told.thing(limit)} must be ${text(limit.placed, its)}. See which of the two is wrong.`,
    { related: [{ placed: of.placed, span: own, message: told`${told.thing(of)} is told here` }] },
  );
}

/** What the engine's figures make of a limit, and its bounds, where those have nothing in common. */
function missed(
  limit: Limit,
  view: View,
): { readonly found: Designed; readonly bounds: NonNullable<ReturnType<typeof limitBounds>> } | undefined {
  if (limit.broken || limit.expression !== undefined || limit.within === undefined) return undefined;
  const found = designed(limit, view);
  const bounds = found === undefined ? undefined : limitBounds(limit, 'within', { index: 1, of: 1 }, view);
  if (found === undefined || bounds === undefined) return undefined;
  if (!sameDimension(bounds.unit, unitOf(limit.sort === 'volume' ? 'cc' : 'mm'))) return undefined;
  const isUnder = bounds.low !== undefined && found.high.compare(bounds.low) < 0;
  const isOver = bounds.high !== undefined && found.low.compare(bounds.high) > 0;
  return isUnder || isOver ? { found, bounds } : undefined;
}

/** Whether the sum of a limit names one whose bounds the engine's figures miss: that is told, and all that rests on it with it. */
export const restsOnMissed = (limit: Limit, view: View): boolean =>
  leavesOf(limit.expression).some((leaf) => {
    const named = leaf.kind === 'reference' ? view.things.get(leaf.reference.owner.text) : undefined;
    return named?.kind === 'limit' && missed(named, view) !== undefined;
  });

export const designDiffers: ThingCheck<'limit'> = {
  code: 'limit/design-differs',
  severity: 'warning',
  scope: 'thing',
  of: ['limit'],
  page,
  run(limit, view, report) {
    if (limit.broken || limit.expression !== undefined || limit.within === undefined) return;
    sayFigure(limit, view, report);
    sayStretch(limit, view, report);
    const differs = missed(limit, view);
    if (differs === undefined) return;
    const { found, bounds } = differs;
    report(
      limit.placed,
      limit.within,
      told`${told.thing(limit)} must be ${boundsShown(bounds)}, and from ${found.from} it comes out at ${rangeShown(found, bounds.unit, bounds.places)}, whatever the parts measure. Either a figure of the engine or a bound is wrong.`,
    );
  },
};
