// A feature that is machined to a repair size, and what runs in it or on it left as it was: the limits that it brings out of bounds.
import { leavesOf } from '../../../grammar/terms.ts';
import { told } from '../../../grammar/told.ts';
import type { Action } from '../../../grammar/tree.ts';
import { type LimitResult, workOutLimit } from '../../model/limit-sums.ts';
import type { Limit, Part, Step, View } from '../../model/view.ts';
import type { Report } from '../check.ts';
import { withMachined } from '../record/fitted-sizes.ts';
import { comesOut } from './verdicts.ts';

const isOut = (limit: Limit, view: View): readonly LimitResult[] =>
  workOutLimit(limit, view).filter(({ verdict }) => verdict === 'outside');

/** The parts besides one that a limit is worked out from. */
function othersIn(limit: Limit, part: Part, view: View): readonly Part[] {
  const names = new Set(
    leavesOf(limit.expression).flatMap((leaf) => (leaf.kind === 'reference' ? [leaf.reference.owner.text] : [])),
  );
  return [...names].flatMap((name) => {
    const thing = view.things.get(name);
    return thing?.kind === 'part' && thing !== part ? [thing] : [];
  });
}

function sayOfAction(step: Step, action: Action, view: View, report: Report): void {
  const [target] = action.targets;
  const { to } = action;
  const part = target === undefined ? undefined : view.things.get(target.owner.text);
  const feature = target?.feature?.text;
  if (target === undefined || to === undefined || part?.kind !== 'part' || feature === undefined) return;
  const machined = withMachined(view, part, to.text, [feature], target.places);
  if (machined === undefined) return;
  for (const limit of view.limits) {
    if (limit.broken || limit.expression === undefined || limit.within === undefined) continue;
    const others = othersIn(limit, part, view);
    if (others.length === 0 || isOut(limit, view).length > 0) continue;
    const out = isOut(limit, machined);
    if (out.length === 0) continue;
    const withIt = others.filter(({ sizes }) => sizes.has(to.text));
    const both = withIt.reduce((seen, each) => withMachined(seen, each, to.text, undefined, []) ?? seen, machined);
    const text = comesOut(limit, out);
    const isRight = withIt.length > 0 && isOut(limit, both).length === 0;
    report(
      step.placed,
      to,
      isRight
        ? told`With ${told.thing(part)} at ${told.named(to.text)} and all else standard ${text.range}, and must be ${text.bounds}. Fit ${told.list(withIt.map((each) => told.thing(each)))} of the same size, and write it into the record.`
        : told`With ${told.thing(part)} at ${told.named(to.text)} ${text.range}, and must be ${text.bounds}. Nothing that goes with it has a size that fits.`,
      {
        ...(isRight ? { severity: 'information' } : {}),
        related: [{ placed: limit.placed, span: limit.within, message: told`The limit of ${told.thing(limit)}.` }],
      },
    );
    return;
  }
}

/** Says what machining to a size in a step brings out of bounds. */
export function sayMachined(step: Step, view: View, report: Report): void {
  for (const each of step.statements)
    if (each.kind === 'action' && each.word === 'machine') sayOfAction(step, each, view, report);
}
