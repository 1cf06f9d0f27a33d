// A record as text that a rebuilder and the customer read: what is wrong first, then what was measured, done, left, fitted and found.
import { type Argument, type Told, told } from '../../grammar/told.ts';
import {
  boundsWords,
  type ToldMeasurement,
  type ToldPart,
  type ToldRecord,
  type ToldStep,
  type ToldWorkedOut,
  verdictWords,
  withinWords,
} from './record.ts';

const CAUTION = told`The maker's manual, local rules and licensed practice come first. What Fettle holds against a limit is a check, not an approval.`;

/** Says something in the language that is asked for. */
type Say = (told: Told) => string;

function named(name: string, title: string | undefined): string {
  return title === undefined ? name : `${name} (${title})`;
}

function list(title: string, lines: readonly string[]): string {
  return lines.length === 0 ? '' : `\n${title}\n${lines.map((line) => `  ${line}\n`).join('')}`;
}

/** Lines of cells, each column as wide as its widest cell; the last column is free. */
function columns(rows: readonly (readonly string[])[]): readonly string[] {
  const many = Math.max(0, ...rows.map((row) => row.length));
  const widths = Array.from({ length: many }, (_, i) =>
    Math.min(44, Math.max(0, ...rows.map((row) => (row[i] ?? '').length))),
  );
  return rows.map((row) =>
    row
      .map((cell, i) => (i === row.length - 1 ? cell : cell.padEnd(widths[i] ?? 0)))
      .join('  ')
      .trimEnd(),
  );
}

function by(...said: readonly (string | undefined)[]): string {
  return said.filter((each) => each !== undefined && each !== '').join(', ');
}

const WORKED_OUT = {
  inside: told`inside`,
  outside: told`OUTSIDE`,
  select: told`may be inside or outside`,
} as const;

function measuredRow(each: ToldMeasurement, say: Say): readonly string[] {
  return [
    `${each.limit}${each.place === undefined ? '' : ` ${each.place}`}`,
    each.text,
    say(boundsWords(each)),
    say(verdictWords(each)),
    by(each.with, each.on, each.by),
  ];
}

function workedOutRow({ limit, place, text, withinText, verdict }: ToldWorkedOut, say: Say): readonly string[] {
  return [
    `${limit}${place === undefined ? '' : ` ${place}`}`,
    text,
    withinText === undefined ? '' : say(withinWords(withinText)),
    say(verdict === undefined ? told`nothing to hold it against` : WORKED_OUT[verdict]),
  ];
}

function doneRow(each: ToldStep, say: Say): readonly string[] {
  const sequence = each.sequence === undefined ? '' : `${each.sequence}: `;
  return [each.on ?? say(told`no day`), each.by ?? '', `${sequence}${named(each.step, each.title)}`];
}

function partLine({ part, size, grade, text, verdict }: ToldPart, say: Say): string {
  const said = by(
    size === undefined ? '' : say(told`size ${size}`),
    grade === undefined ? '' : say(told`grade ${grade}`),
    text,
    verdict === undefined ? '' : say(told`${told.term(verdict)}`),
  );
  return said === '' ? part : `${part}: ${said}`;
}

/** Something with the day and the person: `Agreed on 2026-03-01 by QL`. */
function dated(what: Argument, { on, by: who }: { readonly on?: string; readonly by?: string }): Told {
  const day = on === undefined ? told`${what}` : told`${what} on ${on}`;
  return who === undefined ? day : told`${day} by ${who}`;
}

function heading(record: ToldRecord, say: Say): string {
  const { revision, specRevision, signed } = record;
  const called = told`Record ${named(record.record, record.title)}`;
  const of = record.spec === undefined ? called : told`${called} of ${named(record.spec, record.specTitle)}`;
  const at = revision === undefined ? of : told`${of}, revision ${String(revision)}`;
  const other =
    revision !== undefined && specRevision !== undefined && revision !== specRevision
      ? told`${at} (the spec is at revision ${String(specRevision)} now)`
      : at;
  const engine = by(
    record.engineNumber === undefined ? undefined : say(told`engine number ${record.engineNumber}`),
    ...record.run.map((far) => say(told`had run ${far}`)),
    record.variant === undefined ? undefined : say(told`variant ${record.variant}`),
  );
  return [
    say(other),
    ...(engine === '' ? [] : [`${engine.charAt(0).toUpperCase()}${engine.slice(1)}.`]),
    ...(record.customer === undefined ? [] : [say(told`For ${record.customer}.`)]),
    ...record.complaints.map((text) => say(told`Came with: ${text}`)),
    ...record.agreed.map((each) => `${say(dated(told`Agreed`, each))}: ${each.text}`),
    say(
      signed === undefined
        ? told`Not signed: the job is open.`
        : told`${signed.on === undefined ? told`Signed by ${signed.by}` : told`Signed by ${signed.by} on ${signed.on}`}.`,
    ),
    ...record.witnessed.map((each) => `${say(dated(told`Hold point of ${each.step} looked at`, each))}.`),
    ...(record.notWitnessed.length === 0
      ? []
      : [say(told`Hold points that nobody is said to have looked at: ${record.notWitnessed.join(', ')}.`)]),
    say(CAUTION),
    '',
  ].join('\n');
}

function summary({ steps, measured, notMeasured }: ToldRecord, say: Say): string {
  const count = (state: ToldStep['state']): number => steps.filter((each) => each.state === state).length;
  const standing = measured.filter((each) => !each.again);
  const of = (verdict: ToldMeasurement['verdict']): number =>
    standing.filter((each) => each.verdict === verdict).length;
  const wrong = of('outside') + of('slip') + of('wrong-kind');
  const said = [
    ...(steps.length === 0 ? [] : [told`${count('done')} of ${steps.length} steps done`]),
    ...(count('left') === 0 ? [] : [told`${count('left')} left with a reason`]),
    standing.length === 1
      ? told`1 value measured: ${of('inside')} inside`
      : told`${standing.length} values measured: ${of('inside')} inside`,
    ...(of('worn') === 0 ? [] : [told`${of('worn')} worn`]),
    ...(wrong === 0 ? [] : [told`${wrong} outside`]),
    ...(notMeasured.length === 0
      ? []
      : [notMeasured.length === 1 ? told`1 limit not measured` : told`${notMeasured.length} limits not measured`]),
  ];
  return `\n${said.map(say).join(', ')}.\n`;
}

/** A record as text, one line a thing, in the language that `say` speaks. */
export function recordText(record: ToldRecord, say: Say = (each) => each.text): string {
  const { steps, findings } = record;
  const grave = findings.filter((finding) => finding.severity !== 'information');
  return [
    heading(record, say),
    summary(record, say),
    list(
      say(told`To be settled`),
      grave.map((finding) => `${finding.severity}: ${say(finding.told)} [${finding.code}]`),
    ),
    list(say(told`Measured`), columns(record.measured.map((each) => measuredRow(each, say)))),
    list(
      say(told`Worked out from what was measured`),
      columns(record.workedOut.map((each) => workedOutRow(each, say))),
    ),
    list(
      say(told`Not measured`),
      record.notMeasured.map(({ limit, title, places }) =>
        places.length === 0 ? named(limit, title) : say(told`${named(limit, title)} at ${places.join(', ')}`),
      ),
    ),
    list(
      say(told`Not answered`),
      record.unanswered.map((each) => say(each.text)),
    ),
    list(say(told`Done`), columns(steps.filter((each) => each.state === 'done').map((each) => doneRow(each, say)))),
    list(
      say(told`Not done`),
      steps
        .filter((each) => each.state === 'open')
        .map((each) => `${each.sequence === undefined ? '' : `${each.sequence}: `}${named(each.step, each.title)}`),
    ),
    list(
      say(told`Other than in the spec`),
      steps.flatMap((each) =>
        each.deviation === undefined ? [] : [`${named(each.step, each.title)}: ${each.deviation}`],
      ),
    ),
    list(
      say(told`Fitted`),
      record.fitted.map((each) => partLine(each, say)),
    ),
    list(
      say(told`Found`),
      record.found.map((each) => partLine(each, say)),
    ),
    list(
      say(told`Ran`),
      record.log.map(({ on, text }) => `${on === undefined ? '' : `${on}: `}${text}`),
    ),
    list(
      say(told`Photos`),
      record.photos.map(({ path, of }) => (of === undefined ? path : say(told`${path} of ${of}`))),
    ),
  ].join('');
}
