// Days of a record that can't be: what was measured, read, agreed or witnessed after the signature, a hold point witnessed before its step was
// done, a measurement months before or after its step, before its parts were together or after they were shut in; a log that runs backwards.
import { told } from '../../../grammar/told.ts';
import type { DateText, Done, Log, Measured, Statement, Witnessed } from '../../../grammar/tree.ts';
import type { Placed } from '../../model/placed.ts';
import type { View } from '../../model/view.ts';
import { stepsMeasuring } from '../../rehearsal/foresight.ts';
import type { DeclarationCheck, Report } from '../check.ts';
import { concerns } from '../name/unknown.ts';
import page from './days.md';
import { doneIn, signedIn, workOf } from './left-to-do.ts';
import { recordStatements } from './measurements.ts';
import { tellsOrder } from './order.ts';
import { type Days, type DaysDone, daysOf, shutInBefore, togetherAfter } from './when-measurable.ts';

/** So many days lie between a measurement and the step that takes it at most; beyond that a month or a year is wrong. Judgement; no source. */
const LONG = 60;
const DAY = 86_400_000;

const days = (from: string, to: string): number => Math.round((Date.parse(to) - Date.parse(from)) / DAY);

const dated = <statement extends { readonly on?: DateText }>(
  statement: statement,
): statement is statement & { readonly on: DateText } => statement.on?.valid === true;

/** What stands in a record with a day after its signature: the last of it. */
function sayAfterSigning(placed: Placed, statements: readonly Statement[], report: Report): void {
  const signed = signedIn(statements)?.on;
  if (signed?.valid !== true) return;
  const late = statements.flatMap((each) => {
    if (each.kind !== 'measured' && each.kind !== 'log' && each.kind !== 'agreed' && each.kind !== 'witnessed')
      return [];
    return dated(each) && each.on.text > signed.text ? [each.on] : [];
  });
  const last = late.at(-1);
  if (last === undefined) return;
  report(
    placed,
    last,
    told`This is of ${last.text}, and the record is signed on ${signed.text}. A record is signed when all is in it: see which day is wrong.`,
    { related: [{ placed, span: signed, message: told`Signed here.` }] },
  );
}

/** By step, the days on which it was done. */
function daysDone(statements: readonly Statement[]): DaysDone {
  const all = new Map<string, (Done & { readonly on: DateText })[]>();
  for (const each of doneIn(statements, 'done'))
    if (dated(each)) all.set(each.step.owner.text, [...(all.get(each.step.owner.text) ?? []), each]);
  return all;
}

function sayWitnessed(
  placed: Placed,
  witnessed: Witnessed,
  done: readonly (Done & { readonly on: DateText })[],
  report: Report,
): void {
  const [first] = done;
  if (first === undefined || !dated(witnessed) || done.some((each) => each.on.text <= witnessed.on.text)) return;
  report(
    placed,
    witnessed.on,
    told`${told.named(first.step.owner.text, 'step')} is witnessed on ${witnessed.on.text}, and done only on ${first.on.text}. See which day is wrong.`,
    { related: [{ placed, span: first.on, message: told`Done here.` }] },
  );
}

/** A measurement after all steps that take it were done, or long before. */
function sayMeasured(
  placed: Placed,
  measured: Measured & { readonly on: DateText },
  done: DaysDone,
  view: View,
  report: Report,
): void {
  const steps = stepsMeasuring(view, measured.limit.owner.text).map(({ step }) => step);
  const all = steps.flatMap((step) => done.get(step.name) ?? []);
  // One of them that has no day may be the one.
  if (all.length === 0 || steps.some((step) => !done.has(step.name))) return;
  const sorted = [...all].sort((one, other) => (one.on.text < other.on.text ? -1 : 1));
  const [first, last] = [sorted[0], sorted.at(-1)];
  if (first === undefined || last === undefined) return;
  const { text } = measured.on;
  const limit = told.named(measured.limit.owner.text, 'limit');
  // What is looked at again a few days later is good work.
  if (days(last.on.text, text) > LONG)
    report(
      placed,
      measured.on,
      told`${limit} is measured on ${text}, ${days(last.on.text, text)} days after ${told.named(last.step.owner.text, 'step')}, which measures it. See whether the month or the year is wrong.`,
      { related: [{ placed, span: last.on, message: told`Done here.` }] },
    );
  else if (days(text, first.on.text) > LONG)
    report(
      placed,
      measured.on,
      told`${limit} is measured on ${text}, ${days(text, first.on.text)} days before ${told.named(first.step.owner.text, 'step')}, which measures it. See whether the month or the year is wrong.`,
      { related: [{ placed, span: first.on, message: told`Done here.` }] },
    );
}

/** A measurement after what it is taken at was shut in, or before it was together; true where it is said. */
function sayOutOfReach(
  placed: Placed,
  measured: Measured & { readonly on: DateText },
  first: string,
  known: Days,
  report: Report,
): boolean {
  const limit = known.view.things.get(measured.limit.owner.text);
  if (limit?.kind !== 'limit' || limit.broken) return false;
  const { text } = measured.on;
  const over = shutInBefore(known, limit, measured);
  // What was measured in time as well may have been opened once more.
  if (over !== undefined && first > over.done.on.text) {
    const step = told.named(over.done.step.owner.text, 'step');
    report(
      placed,
      measured.on,
      told`${told.thing(limit)} is measured on ${text}, and can't be reached since ${step} on ${over.done.on.text}, where ${told.thing(over.part)} went on. See which day is wrong.`,
      { related: [{ placed, span: over.done.on, message: told`Done here.` }] },
    );
    return true;
  }
  const late = togetherAfter(known, limit, measured);
  if (late === undefined) return false;
  const step = told.named(late.done.step.owner.text, 'step');
  report(
    placed,
    measured.on,
    told`${told.thing(limit)} is measured on ${text}, and ${told.thing(late.part)}, which it is measured at, went on only in ${step} on ${late.done.on.text}. See which day is wrong.`,
    { related: [{ placed, span: late.done.on, message: told`Done here.` }] },
  );
  return true;
}

/** The moment of a log line; those of one day have to have their hour. */
function momentOf({ on, time }: Log): string | undefined {
  if (on?.valid !== true || time === undefined) return undefined;
  return `${on.text} ${String(time.hour).padStart(2, '0')}:${String(time.minute).padStart(2, '0')}`;
}

/** A log line that is earlier than the one above it. A log of three lines and more that is kept with the latest on top is none. */
function sayBackwards(placed: Placed, statements: readonly Statement[], report: Report): void {
  const lines = statements.flatMap((log) => {
    const moment = log.kind === 'log' ? momentOf(log) : undefined;
    return log.kind === 'log' && log.on !== undefined && moment !== undefined ? [{ log, on: log.on, moment }] : [];
  });
  const back = lines.flatMap((line, i) => {
    const before = lines[i - 1];
    return before !== undefined && line.moment < before.moment ? [{ line, before }] : [];
  });
  const [first] = back;
  if (first === undefined || (lines.length > 2 && back.length === lines.length - 1)) return;
  const { line, before } = first;
  report(
    placed,
    line.on,
    told`This is of ${line.moment}, and the log line before it of ${before.moment}. A log runs forward: see which of the two is wrong.`,
    { related: [{ placed, span: before.on, message: told`The line before it.` }] },
  );
}

export const recordDays: DeclarationCheck = {
  code: 'record/days',
  severity: 'warning',
  scope: 'declaration',
  words: ['record'],
  page,
  run(placed, view, report) {
    if (!concerns(placed, view)) return;
    const statements = recordStatements(placed, view);
    sayAfterSigning(placed, statements, report);
    const done = daysDone(statements);
    const deviates = new Set(doneIn(statements, 'deviation').map((each) => each.step.owner.text));
    const signed = signedIn(statements)?.on;
    sayBackwards(placed, statements, report);
    const outOfOrder = new Set(
      doneIn(statements, 'deviation').flatMap((each) => (tellsOrder(each.text?.value) ? [each.step.owner.text] : [])),
    );
    const named = new Set(doneIn(statements, 'done').map((each) => each.step.owner.text));
    // With a step that nobody knows it can't be told which work it is: of that step it is said, and all sequences are not gone through for it.
    const isKnown = [...named].every((name) => view.things.get(name)?.kind === 'step');
    const known = daysOf(view, isKnown ? workOf(named, view).work : [], done, outOfOrder);
    const earliest = new Map<string, string>();
    for (const each of statements) {
      if (each.kind !== 'measured' || !dated(each)) continue;
      const before = earliest.get(each.limit.owner.text);
      if (before === undefined || each.on.text < before) earliest.set(each.limit.owner.text, each.on.text);
    }
    for (const each of statements) {
      if (each.kind === 'witnessed') sayWitnessed(placed, each, done.get(each.step.owner.text) ?? [], report);
      // What is beyond the signature is said as that.
      if (each.kind !== 'measured' || !dated(each) || (signed?.valid === true && each.on.text > signed.text)) continue;
      const steps = stepsMeasuring(view, each.limit.owner.text).map(({ step }) => step.name);
      const first = earliest.get(each.limit.owner.text) ?? each.on.text;
      if (!steps.some((step) => outOfOrder.has(step)) && sayOutOfReach(placed, each, first, known, report)) continue;
      if (steps.some((step) => deviates.has(step))) continue;
      sayMeasured(placed, each, done, view, report);
    }
  },
};
