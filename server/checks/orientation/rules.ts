// Which way round: one feature told two ways, rods on one pin that face the same way. What is said nowhere is in missing.ts.
import { told } from '../../../grammar/told.ts';
import type { OrientRule } from '../../../grammar/tree.ts';
import { isA } from '../../model/trade-names.ts';
import type { Part, View } from '../../model/view.ts';
import { placesIn } from '../../rehearsal/places.ts';
import type { ThingCheck } from '../check.ts';
import conflictPage from './conflict.md';
import rodPairPage from './rod-pair.md';

function rulesOf(part: Part): readonly OrientRule[] {
  return part.statements.flatMap((each) => (each.kind === 'orient' ? each.rules : []));
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

interface Told {
  readonly rule: OrientRule;
  readonly text: string;
  readonly number: number;
}

/** The first that is told of something, and the first that is told otherwise: what differs from a third is one of the two. */
type FirstTold = Told[];

function note(first: FirstTold, told: Told): void {
  if (first.length < 2 && first[0]?.text !== told.text) first.push(told);
}

/** What is told of one feature: of all places, of each, and of any at all. */
interface ToldOf {
  readonly ofAll: FirstTold;
  readonly byPlace: Map<number, FirstTold>;
  readonly ofAny: FirstTold;
}

/** Finds the first rule that tells otherwise of a place of the same feature. */
function tellingOtherwise(part: Part): (rule: OrientRule, text: string) => Told | undefined {
  const byFeature = new Map<string, ToldOf>();
  let number = 0;
  return (rule, text) => {
    const key = `${rule.feature.text} ${rule.at === undefined}`;
    const of = byFeature.get(key) ?? { ofAll: [], byPlace: new Map<number, FirstTold>(), ofAny: [] };
    byFeature.set(key, of);
    const own = { rule, text, number: number++ };
    const places = rule.places.length === 0 ? undefined : placesIn(part, rule.places);
    let found: Told | undefined;
    const look = (first: FirstTold): void => {
      const other = first.find((each) => each.text !== text);
      if (other !== undefined && other.number < (found?.number ?? number)) found = other;
    };
    look(places === undefined ? of.ofAny : of.ofAll);
    note(of.ofAny, own);
    if (places === undefined) note(of.ofAll, own);
    for (const place of places ?? []) {
      const there = of.byPlace.get(place) ?? [];
      look(there);
      note(there, own);
      of.byPlace.set(place, there);
    }
    return found;
  };
}

export const conflict: ThingCheck<'part'> = {
  code: 'orientation/conflict',
  severity: 'error',
  scope: 'thing',
  of: ['part'],
  page: conflictPage,
  run(thing, _view, report) {
    if (thing.broken) return;
    const otherwise = tellingOtherwise(thing);
    for (const rule of rulesOf(thing)) {
      const text = ruleText(thing, rule);
      const other = otherwise(rule, text);
      if (other !== undefined) {
        report(
          thing.placed,
          rule.feature,
          told`${told.named(rule.feature.text)} of ${told.thing(thing)} is told two ways: ${other.text}, and here ${text}. Keep the one that is right.`,
          { related: [{ placed: thing.placed, span: other.rule, message: told`the other way` }] },
        );
      }
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

export const rodPair: ThingCheck<'part'> = {
  code: 'orientation/rod-pair',
  severity: 'warning',
  scope: 'thing',
  of: ['part'],
  page: rodPairPage,
  run(thing, view, report) {
    if (thing.broken || thing.count !== view.engine?.cylinders || !isA(thing, 'rod')) return;
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
