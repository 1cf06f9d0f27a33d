// A repair size that changes one part of a fit, and nothing else of the fit has that size: a block that can be bored out, and no pistons for it.
import { leavesOf } from '../../../grammar/terms.ts';
import { told } from '../../../grammar/told.ts';
import type { Size } from '../../../grammar/tree.ts';
import { type Exact, equal } from '../../mechanics/exact.ts';
import { limitsNaming } from '../../model/by-kind.ts';
import { measureOf } from '../../model/measure.ts';
import { isA, type TradeKind } from '../../model/trade-names.ts';
import type { Limit, Part, View } from '../../model/view.ts';
import type { Extra, ThingCheck } from '../check.ts';
import { insert } from '../support.ts';
import page from './size-partner.md';
import { sizeLine } from './size-step.ts';

interface Input {
  readonly part: Part;
  readonly feature: string;
}

/** The sizes of parts that a limit is worked out from. */
function inputsOf(limit: Limit, view: View): readonly Input[] {
  return leavesOf(limit.expression).flatMap((leaf) => {
    const part = leaf.kind === 'reference' ? view.things.get(leaf.reference.owner.text) : undefined;
    const feature = leaf.kind === 'reference' ? leaf.reference.feature?.text : undefined;
    return part?.kind === 'part' && feature !== undefined ? [{ part, feature }] : [];
  });
}

const sizesOf = (part: Part): readonly Size[] =>
  [...part.sizes.values()].flatMap((each) => (each.kind === 'size' ? [each] : []));

/** Whether a repair size makes another of this. */
function changes(size: Size, feature: string): boolean {
  return (size.body?.statements ?? []).some(
    (each) =>
      (each.kind === 'dimension' && each.name.text === feature) ||
      (each.kind === 'value' && each.word === feature && feature === 'wall'),
  );
}

/** By how much a size differs from standard, in base units. */
function stepOf({ step }: Size): Exact | undefined {
  const measure = step === undefined || step.kind === 'by-place' ? undefined : measureOf(step);
  return measure?.interval.nominal;
}

const goTogether = (one: Size, other: Size): boolean => {
  const [own, its] = [stepOf(one), stepOf(other)];
  return one.name.text === other.name.text || (own !== undefined && its !== undefined && equal(own, its));
};

/** The size written in the partner too, behind the last of its own. */
function partnerSize({ part, feature }: Input, size: Size): NonNullable<Extra['fixes']> {
  const last = sizesOf(part).at(-1);
  const line = sizeLine(part, size, feature);
  if (last === undefined || line === undefined) return [];
  return [insert(part.placed, last.end, `\n  ${line}`, told`Write ${line} in ${part.name}`)];
}

/** What is ground or bored to a size, and so wants a part of that size. */
const MACHINED: readonly TradeKind[] = ['block', 'crankshaft', 'barrel', 'liner'];

export const sizePartner: ThingCheck<'part'> = {
  code: 'limit/size-partner',
  severity: 'warning',
  scope: 'thing',
  of: ['part'],
  page,
  run(thing, view, report) {
    if (thing.broken) return;
    let isSaid = false;
    for (const size of sizesOf(thing)) {
      for (const name of limitsNaming(view, thing.name)) {
        const limit = view.things.get(name);
        if (limit?.kind !== 'limit' || limit.broken) continue;
        const inputs = inputsOf(limit, view);
        if (!inputs.some((input) => input.part.name === thing.name && changes(size, input.feature))) continue;
        const others = inputs.filter((input) => input.part.name !== thing.name);
        if (others.length === 0) continue;
        const sized = others.filter(({ part, feature }) => sizesOf(part).some((each) => changes(each, feature)));
        if (
          sized.some(({ part, feature }) =>
            sizesOf(part).some((each) => changes(each, feature) && goTogether(size, each)),
          )
        )
          continue;
        const [lacking] = sized;
        // Where the partner has none at all that is said once, and of what is machined: what is bought comes in sizes that nobody may want.
        if (lacking === undefined && (isSaid || !isA(thing, ...MACHINED))) break;
        isSaid ||= lacking === undefined;
        report(
          thing.placed,
          size.name,
          lacking === undefined
            ? told`${told.named(size.name.text)} of ${told.thing(thing)} changes ${told.thing(limit)}, and nothing that goes with it has a repair size. Say the size of its partner too.`
            : told`${told.named(size.name.text)} of ${told.thing(thing)} changes ${told.thing(limit)}, and ${told.thing(lacking.part)} has other sizes, and not this one. Say it there too.`,
          {
            missing: true,
            ...(lacking === undefined ? { severity: 'information' } : { fixes: partnerSize(lacking, size) }),
            related: [
              {
                placed: limit.placed,
                span: limit.declaration.name ?? limit.declaration.wordSpan,
                message: told`${told.thing(limit)} is declared here`,
              },
            ],
          },
        );
        break;
      }
    }
  },
};
