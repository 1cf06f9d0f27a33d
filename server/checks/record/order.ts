// A step that a record has as done on an earlier day than one that has to come before it; a signature before the work was done.
import type { DateText, Done } from '../../../grammar/tree.ts';
import type { Sequence, Step, View } from '../../model/view.ts';
import { type DeclarationCheck, nameSpan } from '../check.ts';
import { concerns } from '../name/unknown.ts';
import { doneIn, signedIn } from './left-to-do.ts';
import { recordStatements } from './measurements.ts';
import page from './order.md';

interface Day {
  readonly done: Done;
  readonly on: DateText;
}

/** The first day on which each step was done. */
function firstDays(done: readonly Done[]): ReadonlyMap<string, Day> {
  const days = new Map<string, Day>();
  for (const each of done) {
    if (each.on === undefined || !each.on.valid) continue;
    const name = each.step.owner.text;
    const known = days.get(name);
    if (known === undefined || each.on.text < known.on.text) days.set(name, { done: each, on: each.on });
  }
  return days;
}

interface Need {
  readonly step: Step;
  /** Said by an `after`, and not only by the order in which the steps are written. */
  readonly said: boolean;
}

/** The steps that have to be done before a step: those that its `after` and that of its sequence name, and those written before it. */
function needsOf(step: Step, sequence: Sequence, view: View): readonly Need[] {
  const needs: Need[] = [];
  for (const name of [...step.after, ...sequence.after]) {
    const other = view.things.get(name.text);
    if (other?.kind === 'step') needs.push({ step: other, said: true });
    if (other?.kind === 'sequence') needs.push(...other.steps.map((each) => ({ step: each, said: true })));
  }
  const at = sequence.steps.indexOf(step);
  needs.push(...sequence.steps.slice(0, Math.max(0, at)).map((each) => ({ step: each, said: false })));
  return needs.filter((need) => need.step.name !== step.name);
}

/** Of the steps that were done too late, the one to name: one that an `after` asks for, else the last day. */
function worst(needs: readonly Need[], days: ReadonlyMap<string, Day>): Need | undefined {
  const day = (need: Need): string => days.get(need.step.name)?.on.text ?? '';
  return [...needs].sort(
    (one, other) =>
      Number(other.said) - Number(one.said) || (day(one) < day(other) ? 1 : day(one) > day(other) ? -1 : 0),
  )[0];
}

export const recordOrder: DeclarationCheck = {
  code: 'record/order',
  severity: 'error',
  scope: 'declaration',
  page,
  run(placed, view, report) {
    if (placed.declaration.word !== 'record' || !concerns(placed, view.variant)) return;
    const statements = recordStatements(placed, view.variant);
    const done = doneIn(statements, 'done');
    const deviations = new Set(doneIn(statements, 'deviation').map((each) => each.step.owner.text));
    const days = firstDays(done);
    for (const sequence of view.sequences)
      for (const step of sequence.steps) {
        const own = days.get(step.name);
        if (own === undefined || step.broken) continue;
        const late = needsOf(step, sequence, view).filter((need) => {
          const other = days.get(need.step.name);
          if (other === undefined || other.on.text <= own.on.text) return false;
          // Who worked in another order than written has said so; what an after asks for stays.
          return need.said || !(deviations.has(step.name) || deviations.has(need.step.name));
        });
        const need = worst(late, days);
        const other = need === undefined ? undefined : days.get(need.step.name);
        if (need === undefined || other === undefined) continue;
        const why = need.said ? `comes after ${need.step.name}` : `stands after ${need.step.name} in ${sequence.name}`;
        const way = need.said
          ? 'Put the day right, or do it again in its order.'
          : 'Put the day right, or say in a deviation line why it was done in another order.';
        report(
          placed,
          own.on,
          `${step.name} ${why}, and is recorded as done on ${own.on.text}, ${need.step.name} only on ${other.on.text}. ${way}`,
          {
            related: [
              { placed, span: other.done, message: `${need.step.name} is recorded here.` },
              { placed: step.placed, span: nameSpan(step.placed), message: `${step.name} is described here.` },
            ],
          },
        );
      }
    const signed = signedIn(statements);
    if (signed?.on === undefined || !signed.on.valid) return;
    const day = signed.on.text;
    const late = done.filter((each) => each.on?.valid === true && each.on.text > day);
    const last = late[late.length - 1];
    if (last?.on === undefined) return;
    report(
      placed,
      signed.on,
      `Signed on ${day}, and ${last.step.owner.text} is recorded as done on ${last.on.text}. A record is signed when the work is done.`,
      { related: [{ placed, span: last, message: `${last.step.owner.text} is recorded here.` }] },
    );
  },
};
