// A record as text that a rebuilder and the customer read: what is wrong first, then what was measured, done, left, fitted and found.
import {
  boundsWords,
  type ToldMeasurement,
  type ToldPart,
  type ToldRecord,
  type ToldStep,
  type ToldWorkedOut,
  verdictWords,
} from './record.ts';

const CAUTION =
  "The maker's manual, local rules and licensed practice come first. What Fettle holds against a limit is a check, not an approval.";

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

function measuredRow(each: ToldMeasurement): readonly string[] {
  return [
    `${each.limit}${each.place === undefined ? '' : ` ${each.place}`}`,
    each.text,
    boundsWords(each),
    verdictWords(each),
    by(each.with, each.on, each.by),
  ];
}

const WORKED_OUT = { inside: 'inside', outside: 'OUTSIDE', select: 'may be inside or outside' } as const;

function workedOutRow({ limit, place, text, withinText, verdict }: ToldWorkedOut): readonly string[] {
  const bounds = withinText === undefined ? '' : withinText.startsWith('at ') ? withinText : `within ${withinText}`;
  return [
    `${limit}${place === undefined ? '' : ` ${place}`}`,
    text,
    bounds,
    verdict === undefined ? 'nothing to hold it against' : WORKED_OUT[verdict],
  ];
}

function doneRow(each: ToldStep): readonly string[] {
  const sequence = each.sequence === undefined ? '' : `${each.sequence}: `;
  return [each.on ?? 'no day', each.by ?? '', `${sequence}${named(each.step, each.title)}`];
}

function partLine({ part, size, grade, text, verdict }: ToldPart): string {
  const what = [
    size === undefined ? '' : `size ${size}`,
    grade === undefined ? '' : `grade ${grade}`,
    text ?? '',
    verdict ?? '',
  ];
  const said = what.filter((each) => each !== '').join(', ');
  return said === '' ? part : `${part}: ${said}`;
}

/** ` on 2026-03-01 by QL`. */
function dated({ on, by: who }: { readonly on?: string; readonly by?: string }): string {
  return `${on === undefined ? '' : ` on ${on}`}${who === undefined ? '' : ` by ${who}`}`;
}

function heading(told: ToldRecord): string {
  const { revision, specRevision, signed } = told;
  const of = told.spec === undefined ? '' : ` of ${named(told.spec, told.specTitle)}`;
  const other =
    revision !== undefined && specRevision !== undefined && revision !== specRevision
      ? ` (the spec is at revision ${specRevision} now)`
      : '';
  const engine = by(
    told.engineNumber === undefined ? undefined : `engine number ${told.engineNumber}`,
    ...told.run.map((far) => `had run ${far}`),
    told.variant === undefined ? undefined : `variant ${told.variant}`,
  );
  const state =
    signed === undefined
      ? 'Not signed: the job is open.'
      : `Signed by ${signed.by}${signed.on === undefined ? '' : ` on ${signed.on}`}.`;
  return [
    `Record ${named(told.record, told.title)}${of}${revision === undefined ? '' : `, revision ${revision}`}${other}`,
    ...(engine === '' ? [] : [`${engine.charAt(0).toUpperCase()}${engine.slice(1)}.`]),
    ...(told.customer === undefined ? [] : [`For ${told.customer}.`]),
    ...told.complaints.map((text) => `Came with: ${text}`),
    ...told.agreed.map((each) => `Agreed${dated(each)}: ${each.text}`),
    state,
    ...told.witnessed.map((each) => `Hold point of ${each.step} looked at${dated(each)}.`),
    ...(told.notWitnessed.length === 0
      ? []
      : [`Hold points that nobody is said to have looked at: ${told.notWitnessed.join(', ')}.`]),
    CAUTION,
    '',
  ].join('\n');
}

function summary({ steps, measured, notMeasured }: ToldRecord): string {
  const count = (state: ToldStep['state']): number => steps.filter((each) => each.state === state).length;
  const standing = measured.filter((each) => !each.again);
  const of = (verdict: ToldMeasurement['verdict']): number =>
    standing.filter((each) => each.verdict === verdict).length;
  const said = [
    ...(steps.length === 0 ? [] : [`${count('done')} of ${steps.length} steps done`]),
    ...(count('left') === 0 ? [] : [`${count('left')} left with a reason`]),
    `${standing.length} value${standing.length === 1 ? '' : 's'} measured: ${of('inside')} inside`,
    ...(of('worn') === 0 ? [] : [`${of('worn')} worn`]),
    ...(of('outside') + of('slip') + of('wrong-kind') === 0
      ? []
      : [`${of('outside') + of('slip') + of('wrong-kind')} outside`]),
    ...(notMeasured.length === 0
      ? []
      : [`${notMeasured.length} limit${notMeasured.length === 1 ? '' : 's'} not measured`]),
  ];
  return `\n${said.join(', ')}.\n`;
}

/** A record as text, one line a thing. */
export function recordText(told: ToldRecord): string {
  const { steps, findings } = told;
  const grave = findings.filter((finding) => finding.severity !== 'information');
  return [
    heading(told),
    summary(told),
    list(
      'To be settled',
      grave.map((finding) => `${finding.severity}: ${finding.message} [${finding.code}]`),
    ),
    list('Measured', columns(told.measured.map(measuredRow))),
    list('Worked out from what was measured', columns(told.workedOut.map(workedOutRow))),
    list(
      'Not measured',
      told.notMeasured.map(
        ({ limit, title, places }) => `${named(limit, title)}${places.length === 0 ? '' : ` at ${places.join(', ')}`}`,
      ),
    ),
    list(
      'Not answered',
      told.unanswered.map((each) => each.text),
    ),
    list('Done', columns(steps.filter((each) => each.state === 'done').map(doneRow))),
    list(
      'Not done',
      steps
        .filter((each) => each.state === 'open')
        .map((each) => `${each.sequence === undefined ? '' : `${each.sequence}: `}${named(each.step, each.title)}`),
    ),
    list(
      'Other than in the spec',
      steps.flatMap((each) =>
        each.deviation === undefined ? [] : [`${named(each.step, each.title)}: ${each.deviation}`],
      ),
    ),
    list('Fitted', told.fitted.map(partLine)),
    list('Found', told.found.map(partLine)),
    list(
      'Ran',
      told.log.map(({ on, text }) => `${on === undefined ? '' : `${on}: `}${text}`),
    ),
    list(
      'Photos',
      told.photos.map(({ path, of }) => `${path}${of === undefined ? '' : ` of ${of}`}`),
    ),
  ].join('');
}
