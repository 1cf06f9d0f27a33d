// Which way round: one feature told two ways, rods on one pin that face the same way. What is said nowhere is in missing.ts.
import { told } from '../../../grammar/told.ts';
import type { OrientRule, Place } from '../../../grammar/tree.ts';
import { isA } from '../../model/trade-names.ts';
import type { Part, View } from '../../model/view.ts';
import { placesIn } from '../../rehearsal/places.ts';
import type { ThingCheck } from '../check.ts';
import conflictPage from './conflict.md';
import rodPairPage from './rod-pair.md';

function rulesOf(part: Part): readonly OrientRule[] {
  return part.statements.flatMap((each) => (each.kind === 'orient' ? each.rules : []));
}

function overlap(part: Part, one: readonly Place[], other: readonly Place[]): boolean {
  if (one.length === 0 || other.length === 0) return true;
  const first = new Set(placesIn(part, one));
  return placesIn(part, other).some((i) => first.has(i));
}

/** What a rule says, with blanks evened out. */
function ruleText(part: Part, rule: OrientRule): string {
  const from = rule.feature.end;
  const to = rule.places[0]?.start ?? rule.end;
  return part.placed.section.text
    .slice(from, to)
    .replace(/\bfor\s*$/, '')
    .replace(/\s+/g, ' ')
    .replace(/,\s*$/, '')
    .trim()
    .replace(/^towards /, 'toward ');
}

export const conflict: ThingCheck = {
  code: 'orientation/conflict',
  severity: 'error',
  scope: 'thing',
  page: conflictPage,
  run(thing, _view, report) {
    if (thing.kind !== 'part' || thing.broken) return;
    const byFeature = new Map<string, OrientRule[]>();
    for (const rule of rulesOf(thing)) {
      const earlier = byFeature.get(rule.feature.text) ?? [];
      const other = earlier.find(
        (each) =>
          overlap(thing, each.places, rule.places) &&
          (each.at === undefined) === (rule.at === undefined) &&
          ruleText(thing, each) !== ruleText(thing, rule),
      );
      if (other !== undefined) {
        report(
          thing.placed,
          rule.feature,
          told`${told.named(rule.feature.text)} of ${told.thing(thing)} is told two ways: ${ruleText(thing, other)}, and here ${ruleText(thing, rule)}. Keep the one that is right.`,
          { related: [{ placed: thing.placed, span: other, message: told`the other way` }] },
        );
      }
      byFeature.set(rule.feature.text, [...earlier, rule]);
    }
  },
};

/** Features by which a rod's two sides differ. */
const SIDE = /chamfer|bevel|fillet|radius/i;

/** Cylinders that share a pin: in a vee those of one crankpin line. In other layouts one line may name two pins at one angle. */
function sharedPins(view: View): readonly (readonly number[])[] {
  if (view.engine?.layout !== 'vee') return [];
  return view.engine.statements.flatMap((each) =>
    each.kind === 'crankpin' && each.cylinders.length === 2 ? [each.cylinders.map((cylinder) => cylinder.value)] : [],
  );
}

export const rodPair: ThingCheck = {
  code: 'orientation/rod-pair',
  severity: 'warning',
  scope: 'thing',
  page: rodPairPage,
  run(thing, view, report) {
    if (thing.kind !== 'part' || thing.broken || thing.count !== view.engine?.cylinders || !isA(thing, 'rod')) return;
    const said = new Set<OrientRule>();
    for (const [first, second] of sharedPins(view)) {
      if (first === undefined || second === undefined) continue;
      const at = (cylinder: number): OrientRule | undefined =>
        rulesOf(thing).find(
          (rule) =>
            SIDE.test(rule.feature.text) &&
            (rule.direction?.word === 'front' || rule.direction?.word === 'rear') &&
            placesIn(thing, rule.places).includes(cylinder - 1),
        );
      const [one, other] = [at(first), at(second)];
      if (
        one === undefined ||
        other === undefined ||
        one.feature.text !== other.feature.text ||
        one.direction?.word !== other.direction?.word ||
        said.has(other)
      )
        continue;
      said.add(other);
      report(
        thing.placed,
        other.feature,
        told`The rods of cylinders ${first} and ${second} share a pin, and ${told.named(other.feature.text)} of both is toward the ${other.direction?.word ?? ''}. It faces the cheek of the crankshaft, so two rods on one pin face opposite ways.`,
      );
    }
  },
};
