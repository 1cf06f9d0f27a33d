// A limit that is each of another part than what it is worked out from, or than its name tells: a pin clearance each lifter, a top ring's gap
// each second ring.
import { leavesOf } from '../../../grammar/terms.ts';
import { told } from '../../../grammar/told.ts';
import type { Reference } from '../../../grammar/tree.ts';
import { placesOf } from '../../model/feature-places.ts';
import type { Limit, View } from '../../model/view.ts';
import type { Report, ThingCheck } from '../check.ts';
import { change } from '../support.ts';
import page from './other-part.md';

const lastWord = (name: string): string => name.slice(name.lastIndexOf('-') + 1);
const holds = (name: string, other: string): boolean => `-${name}-`.includes(`-${other}-`);

/** The part that a limit is named after, where it is of another of the same kind: both end in the same word. */
function namedAfter(limit: Limit, of: string, view: View): string | undefined {
  // Play between two gears is told for either.
  if (holds(limit.name, of) || /backlash/i.test(`${limit.name} ${limit.sort ?? ''}`)) return undefined;
  const words = limit.name.split('-');
  for (let end = words.length; end > 1; end -= 1)
    for (let start = 0; start < end - 1; start += 1) {
      const name = words.slice(start, end).join('-');
      if (name === of || lastWord(name) !== lastWord(of) || holds(of, name)) continue;
      if (view.things.get(name)?.kind === 'part') return name;
    }
  return undefined;
}

/** Says that the sum of a limit is of other parts, of which there are not as many. */
function sayOther(limit: Limit, each: Reference, view: View, report: Report): void {
  const inputs = leavesOf(limit.expression).map((leaf) => (leaf.kind === 'reference' ? leaf.reference : undefined));
  const places = (reference: Reference | undefined): number | undefined =>
    reference?.feature === undefined || view.things.get(reference.owner.text)?.kind !== 'part'
      ? undefined
      : placesOf(reference, view)?.length;
  const counts = inputs.map(places);
  const own = placesOf(each, view)?.length ?? 1;
  const [first] = inputs;
  if (first === undefined || counts.some((count) => count === undefined || count === 1 || count >= own)) return;
  if (inputs.some((input) => input?.owner.text === each.owner.text)) return;
  report(
    limit.placed,
    each.owner,
    told`${told.thing(limit)} is told for each ${told.named(each.owner.text, 'part')}, ${own} in all, and is worked out from ${told.named(first.owner.text, 'part')}, of which there are ${counts[0] ?? 1}. See which part is meant.`,
    { severity: 'information', fixes: [change(limit.placed, each.owner, first.owner.text)] },
  );
}

/** What the sum of a limit takes of another part of the same kind, and its own has too: the stem of the exhaust valve for each inlet valve. */
export function takenOfOther(limit: Limit, view: View): Reference | undefined {
  const own = limit.each?.owner.text;
  const part = own === undefined ? undefined : view.things.get(own);
  if (own === undefined || part?.kind !== 'part' || limit.broken) return undefined;
  const inputs = leavesOf(limit.expression).flatMap((leaf) => (leaf.kind === 'reference' ? [leaf.reference] : []));
  if (inputs.some(({ owner }) => owner.text === own)) return undefined;
  return inputs.find(
    ({ owner, feature }) =>
      feature !== undefined &&
      lastWord(owner.text) === lastWord(own) &&
      part.dimensions.has(feature.text) &&
      view.things.get(owner.text)?.kind === 'part',
  );
}

const HIGHEST = /(?:^|-)(?:highest|max|maximum|largest|greatest|tallest|longest|heaviest|loosest|widest)(?:-|$)/;
const LOWEST = /(?:^|-)(?:lowest|min|minimum|smallest|least|shortest|lightest|tightest|narrowest)(?:-|$)/;

/** A limit that is named for the highest of several and takes the lowest, or the other way round. */
function sayOtherEnd(limit: Limit, report: Report): void {
  const { expression } = limit;
  if (expression?.kind !== 'call') return;
  const name = limit.name.toLowerCase();
  const [isHigh, isLow] = [HIGHEST.test(name), LOWEST.test(name)];
  const takes = expression.name.text.toLowerCase();
  if (isHigh === isLow || takes !== (isHigh ? 'min' : 'max')) return;
  const right = isHigh ? 'max' : 'min';
  report(
    limit.placed,
    expression.name,
    isHigh
      ? told`${told.thing(limit)} is named for the highest, and takes the lowest of them. Is ${right} meant?`
      : told`${told.thing(limit)} is named for the lowest, and takes the highest of them. Is ${right} meant?`,
    { fixes: [change(limit.placed, expression.name, right)] },
  );
}

export const otherPart: ThingCheck<'limit'> = {
  code: 'limit/other-part',
  severity: 'warning',
  scope: 'thing',
  of: ['limit'],
  page,
  run(thing, view, report) {
    if (thing.broken) return;
    sayOtherEnd(thing, report);
    const of = thing.each ?? thing.of;
    if (of === undefined || view.things.get(of.owner.text)?.kind !== 'part') return;
    const meant = namedAfter(thing, of.owner.text, view);
    if (meant !== undefined)
      report(
        thing.placed,
        of.owner,
        told`${told.thing(thing)} is named after ${told.named(meant, 'part')}, and is told for ${told.named(of.owner.text, 'part')}. See which of the two is meant.`,
        { fixes: [change(thing.placed, of.owner, meant)] },
      );
    const taken = meant === undefined ? takenOfOther(thing, view) : undefined;
    if (taken !== undefined)
      report(
        thing.placed,
        taken.owner,
        told`${told.thing(thing)} is told for each ${told.named(of.owner.text, 'part')}, and its sum takes nothing of that and something of ${told.named(taken.owner.text, 'part')}. See which part is meant.`,
        { fixes: [change(thing.placed, taken.owner, of.owner.text)] },
      );
    else if (meant === undefined && thing.each !== undefined) sayOther(thing, thing.each, view, report);
  },
};
