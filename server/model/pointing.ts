// At which angle a feature of a part stands, all told: `oil-gap at 120 deg from expander-gap` counts on from where that one stands.
import type { OrientRule } from '../../grammar/tree.ts';
import { type Exact, plus } from '../mechanics/exact.ts';
import { kindOf } from '../mechanics/units.ts';
import { measureOf, takesIn } from './measure.ts';
import type { Part, View } from './view.ts';

/** Rules that count from each other in a circle never end. */
const DEEPEST = 8;

/** One of the places of a rule, for what it counts from: the first, where it is for some alone. */
function isAbout(rule: OrientRule, other: OrientRule): boolean {
  const [place] = rule.places;
  if (place?.from === undefined || other.places.length === 0) return true;
  const asked = { name: place.name?.text, number: place.from };
  return other.places.some((each) => takesIn(each, asked));
}

/** The angle in degrees, seen from above, 0 toward the front; undefined where it can't be told. A clock direction is none. */
export function angleOf(part: Part, rule: OrientRule, view: View, depth = 0): Exact | undefined {
  const measure = rule.at === undefined ? undefined : measureOf(rule.at);
  if (measure === undefined || kindOf(measure.unit) !== 'angle' || depth > DEEPEST) return undefined;
  const own = measure.interval.nominal;
  if (rule.from === undefined) return own;
  const { owner, feature } = rule.from;
  const thing = feature === undefined ? part : view.things.get(owner.text);
  if (thing?.kind !== 'part') return undefined;
  const name = feature?.text ?? owner.text;
  const from = thing.statements
    .flatMap((each) => (each.kind === 'orient' ? each.rules : []))
    .find((each) => each.feature.text === name && each !== rule && isAbout(rule, each));
  const before = from === undefined ? undefined : angleOf(thing, from, view, depth + 1);
  return before === undefined ? undefined : plus(before, own);
}
