// A step that a record has as done on an earlier day than one that has to come before it; a signature before the work was done.
import { told } from '../../../grammar/told.ts';
import type { DateText, Done, Log, Statement } from '../../../grammar/tree.ts';
import type { Placed } from '../../model/placed.ts';
import type { Sequence, Step, View } from '../../model/view.ts';
import { question } from '../../model/view-questions.ts';
import { stepsCalled } from '../../rehearsal/step-work.ts';
import { type DeclarationCheck, nameSpan, type Report } from '../check.ts';
import { concerns } from '../name/unknown.ts';
import { doneIn, signedIn, type WorkStep, workOf } from './left-to-do.ts';
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
  /** The step runs the engine. */
  readonly isRun?: boolean;
}

/** Of some steps the one that was done last, the first of those of one day; of a long list it is looked for once. */
type Last = (steps: readonly Step[]) => Step | undefined;

function lastBy(days: ReadonlyMap<string, Day>): Last {
  const known = new Map<readonly Step[], Step | undefined>();
  return (steps) => {
    if (!known.has(steps))
      known.set(
        steps,
        steps.reduce<Step | undefined>((last, each) => later(last, each, days), undefined),
      );
    return known.get(steps);
  };
}

/** Of two steps the one that was done later; the first where they are of one day. */
function later(one: Step | undefined, other: Step, days: ReadonlyMap<string, Day>): Step | undefined {
  const [first, second] = [one === undefined ? undefined : days.get(one.name), days.get(other.name)];
  return second !== undefined && (first === undefined || second.on.text > first.on.text) ? other : one;
}

/** What has to be done before a step since its `after` or that of its sequence says so: of a whole sequence what was done last. */
function needsOf(step: Step, sequence: Sequence, view: View, lastOf: Last): readonly Need[] {
  return [...step.after, ...sequence.after].flatMap((name): readonly Need[] => {
    const other = view.things.get(name.text);
    const need = other?.kind === 'step' ? other : other?.kind === 'sequence' ? lastOf(other.steps) : undefined;
    return need === undefined || need.name === step.name ? [] : [{ step: need, said: true }];
  });
}

/** Whether a step runs the engine. */
const runs = question((_view, step: Step): boolean => step.statements.some((each) => each.kind === 'run'));

/** What has to be done before the engine is first run: all that the work has before that step, in other sequences too. */
function needsOfRun(step: Step, work: readonly WorkStep[], first: number): readonly Need[] {
  if (first < 0 || work[first]?.step !== step) return [];
  return work.slice(0, first).map((each) => ({ step: each.step, said: false, isRun: true }));
}

/** Readings of a running engine. */
const RUNNING = /pressure|coolant|water|temperature|speed|idle|rpm|vacuum|charge|volt/i;

/** A log of the running engine on a day before what it needs to run was done. */
function earlyLogs(
  statements: readonly Statement[],
  work: readonly WorkStep[],
  days: ReadonlyMap<string, Day>,
  first: number,
): readonly { readonly log: Log & { readonly on: DateText }; readonly need: Step; readonly other: Day }[] {
  // Where no step runs it, the engine is assembled before it is run all the same.
  const upTo =
    first < 0 ? work.filter(({ sequence }) => (sequence.phase ?? 'assemble') === 'assemble') : work.slice(0, first);
  // The first that was done after a day is one that was done after all before it.
  const before: { readonly step: Step; readonly day: Day }[] = [];
  for (const { step } of upTo) {
    const day = days.get(step.name);
    if (day !== undefined && day.on.text > (before.at(-1)?.day.on.text ?? '')) before.push({ step, day });
  }
  return statements.flatMap((log) => {
    if (log.kind !== 'log' || log.on?.valid !== true || !log.readings.some(({ name }) => RUNNING.test(name.text)))
      return [];
    const { on } = log;
    const late = before.find(({ day }) => day.on.text > on.text);
    return late === undefined ? [] : [{ log: { ...log, on }, need: late.step, other: late.day }];
  });
}

/** Words by which a deviation may tell that work was done in another order than written. */
const ORDER =
  /\b(?:before|after|order|first|last|lat\w+|earl\w+|ahead|already|then|while|mean\w*|until|wait\w*|came|come|day|days|week|held|swap\w*|stood|stop\w*|delay\w*|missing|not there|sequence|trial|tried|to (?:measure|try|check|test|look|see|get|find))\b|\d{4}-\d\d/i;

/** Whether a deviation may be about when a step was done; one without a text may be about anything. */
export const tellsOrder = (text: string | undefined): boolean => text === undefined || ORDER.test(text);

/** Of the steps that were done too late, the one to name: one that an `after` asks for, else the last day. */
function worst(needs: readonly Need[], days: ReadonlyMap<string, Day>): Need | undefined {
  const day = (need: Need): string => days.get(need.step.name)?.on.text ?? '';
  return [...needs].sort(
    (one, other) =>
      Number(other.said) - Number(one.said) || (day(one) < day(other) ? 1 : day(one) > day(other) ? -1 : 0),
  )[0];
}

/** A step that is recorded on an earlier day than one that it needs. */
interface Early {
  readonly step: Step;
  readonly own: Day;
  readonly need: Need;
  readonly other: Day;
  readonly sequence: Sequence;
}

/** Each by itself; where one day stands against those of several steps it is that day that is said, once. */
function sayEarly(found: readonly Early[], placed: Placed, report: Report): void {
  const byNeed = new Map<string, Early[]>();
  for (const each of found) {
    const name = each.need.step.name;
    byNeed.set(name, [...(byNeed.get(name) ?? []), each]);
  }
  for (const all of byNeed.values()) {
    const [first, ...others] = all;
    if (first === undefined) continue;
    if (others.length === 0) sayOneEarly(first, placed, report);
    else
      report(
        placed,
        first.other.on,
        told`${told.thing(first.need.step)} is recorded as done on ${first.other.on.text}, and ${all.length} steps that come after it on an earlier day, first ${told.thing(first.step)} on ${first.own.on.text}. Put the day right, or say in a deviation line why it was done in another order.`,
        {
          related: all.slice(0, 6).map(({ step, own }) => ({
            placed,
            span: own.done,
            message: told`${told.thing(step)} is recorded here.`,
          })),
        },
      );
  }
}

function sayOneEarly({ step, own, need, other, sequence }: Early, placed: Placed, report: Report): void {
  const why = need.isRun
    ? told`runs the engine, which ${told.thing(need.step)} has to come before`
    : need.said
      ? told`comes after ${told.thing(need.step)}`
      : told`stands after ${told.thing(need.step)} in ${told.thing(sequence)}`;
  const way = need.said
    ? told`Put the day right, or do it again in its order.`
    : told`Put the day right, or say in a deviation line why it was done in another order.`;
  report(
    placed,
    own.on,
    told`${told.thing(step)} ${why}, and is recorded as done on ${own.on.text}, ${told.thing(need.step)} only on ${other.on.text}. ${way}`,
    {
      related: [
        { placed, span: other.done, message: told`${told.thing(need.step)} is recorded here.` },
        { placed: step.placed, span: nameSpan(step.placed), message: told`${told.thing(step)} is described here.` },
      ],
    },
  );
}

export const recordOrder: DeclarationCheck = {
  code: 'record/order',
  severity: 'error',
  scope: 'declaration',
  words: ['record'],
  page,
  run(placed, view, report) {
    if (!concerns(placed, view)) return;
    const statements = recordStatements(placed, view);
    const done = doneIn(statements, 'done');
    const deviations = new Set(
      doneIn(statements, 'deviation').flatMap((each) => (tellsOrder(each.text?.value) ? [each.step.owner.text] : [])),
    );
    const days = firstDays(done);
    const { work } = workOf(new Set(done.map((each) => each.step.owner.text)), view);
    const lastOf = lastBy(days);
    const firstRun = work.findIndex((each) => runs(view, each.step));
    const found: Early[] = [];
    // In any other sequence no step has a day.
    const recorded = new Set([...days.keys()].flatMap((name) => stepsCalled(view, name)).map((each) => each.sequence));
    for (const sequence of view.sequences) {
      if (!recorded.has(sequence)) continue;
      /** What is written before a step and was done last. Who worked in another order than written has said so. */
      let before: Step | undefined;
      for (const step of sequence.steps) {
        const own = days.get(step.name);
        const written: readonly Need[] = before === undefined ? [] : [{ step: before, said: false }];
        if (!deviations.has(step.name)) before = later(before, step, days);
        if (own === undefined || step.broken) continue;
        const needs = [...needsOf(step, sequence, view, lastOf), ...written, ...needsOfRun(step, work, firstRun)];
        const late = needs.filter((need) => {
          const other = days.get(need.step.name);
          if (other === undefined || other.on.text <= own.on.text) return false;
          // Who worked in another order than written has said so; what an after asks for stays.
          return need.said || !(deviations.has(step.name) || deviations.has(need.step.name));
        });
        const need = worst(late, days);
        const other = need === undefined ? undefined : days.get(need.step.name);
        if (need === undefined || other === undefined) continue;
        found.push({ step, own, need, other, sequence });
      }
    }
    sayEarly(found, placed, report);
    for (const { log, need, other } of earlyLogs(statements, work, days, firstRun))
      report(
        placed,
        log.on,
        told`The engine is logged as running on ${log.on.text}, and ${told.thing(need)} is recorded as done only on ${other.on.text}. Put the day right.`,
        { related: [{ placed, span: other.done, message: told`${told.thing(need)} is recorded here.` }] },
      );
    const signed = signedIn(statements);
    if (signed?.on === undefined || !signed.on.valid) return;
    const day = signed.on.text;
    const late = done.filter((each) => each.on?.valid === true && each.on.text > day);
    const last = late[late.length - 1];
    if (last?.on === undefined) return;
    report(
      placed,
      signed.on,
      told`Signed on ${day}, and ${told.named(last.step.owner.text)} is recorded as done on ${last.on.text}. A record is signed when the work is done.`,
      { related: [{ placed, span: last, message: told`${told.named(last.step.owner.text)} is recorded here.` }] },
    );
  },
};
