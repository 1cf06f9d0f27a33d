// Entries as a record that checks: a text of its own, or put into the record that was read in, whose other lines stay as they stand.
import { formatText } from '../../grammar/printer.ts';
import type { Done as DoneStatement, Statement } from '../../grammar/tree.ts';
import { edited } from '../model/edited.ts';
import { type Placed, placeOf, type ReadFile } from '../model/placed.ts';
import { quoted } from '../model/quoted.ts';
import { readFile } from '../model/read-file.ts';
import type { BenchJob } from './bench-job.ts';
import type { Entries, StepEntries, Value } from './entries.ts';
import { readRecord } from './read-record.ts';
import { heldNote, underWayNote, whatNote } from './record-notes.ts';

/** A name that a record may give itself, whatever was written. */
function isName(name: string): boolean {
  return /^\p{L}[\p{L}\p{N}]*(?:[-_][\p{L}\p{N}]+)*$/u.test(name);
}

function clauses(on: string | undefined, by: string | undefined): string {
  return `${on === undefined ? '' : ` on ${on}`}${by === undefined || by.trim() === '' ? '' : ` by ${quoted(by)}`}`;
}

/** Values that were measured alike stand in one line. */
function measuredLines(limit: string, values: ReadonlyMap<string, Value>): readonly string[] {
  const alike = new Map<string, string[]>();
  for (const [place, value] of values) {
    const tail = `${value.with === undefined ? '' : ` with ${quoted(value.with)}`}${clauses(value.on, value.by)}`;
    const entry = place === '' ? value.text : `${place}: ${value.text}`;
    const key = place === '' ? ` ${tail}` : tail;
    alike.set(key, [...(alike.get(key) ?? []), entry]);
  }
  return [...alike].map(
    ([tail, entries]) => `measured ${limit} ${entries.join(', ')}${tail.replace(/^ {2}/, ' ').replace(/^ $/, '')}`,
  );
}

function doneLines(step: string, entries: StepEntries): readonly string[] {
  const alike = new Map<string, string[]>();
  for (const [place, done] of entries.done) {
    const tail = clauses(done.on, done.by);
    alike.set(tail, [...(alike.get(tail) ?? []), place]);
  }
  return [...alike].map(([tail, places]) => {
    const said = places.filter((place) => place !== '');
    return `done ${step}${said.length === 0 ? '' : ` ${said.join(', ')}`}${tail}`;
  });
}

/** The lines of a step: done, deviating, looked at, under way. */
function stepLines(step: string, entries: StepEntries): readonly string[] {
  return [
    ...doneLines(step, entries),
    ...(entries.deviation === undefined ? [] : [`deviation ${step} ${quoted(entries.deviation)}`]),
    ...new Set([...entries.looked.values()].map(({ by, at }) => `witnessed ${step}${clauses(at.day, by)}`)),
    // The time of day, and which line of several, a record has no statement for.
    ...[...entries.looked].flatMap(([key, looked]) =>
      looked.at.time === '' ? [] : [`note ${quoted(heldNote(step, key, looked))}`],
    ),
    ...underWay(step, entries),
  ];
}

/** What is ticked of a step that is not done. */
function underWay(step: string, entries: StepEntries): readonly string[] {
  const open = [...entries.ticks].filter((tick) => {
    const at = /^(.*?):/.exec(tick)?.[1] ?? '';
    return !entries.done.has(at);
  });
  return open.length === 0 ? [] : [`note ${quoted(underWayNote(step, open))}`];
}

function headOf(entries: Entries, job: BenchJob): string {
  const name = isName(entries.record) ? entries.record : 'build-engine';
  return `record ${name} of ${job.spec}${entries.revision === undefined ? '' : ` revision ${entries.revision}`}`;
}

/** All lines of a record, in the order in which a record is read. */
function allLines(entries: Entries, job: BenchJob): readonly string[] {
  const number = entries.engineNumber.trim();
  return [
    ...(job.variant === undefined ? [] : [`variant ${job.variant}`]),
    ...(number === '' ? [] : [`engine-number ${quoted(number)}`]),
    ...[...entries.sizes].flatMap(([part, size]) => (size === '' ? [] : [`fitted ${part} size ${size}`])),
    ...[...entries.grades].flatMap(([table, row]) => (row === '' ? [] : [`fitted ${table} grade ${row}`])),
    ...[...entries.measured].flatMap(([limit, values]) => measuredLines(limit, values)),
    ...[...entries.steps].flatMap(([step, own]) => stepLines(step, own)),
    ...(entries.signed === undefined ? [] : [`signed ${quoted(entries.signed.by)} on ${entries.signed.on}`]),
  ];
}

function laidOut(text: string): string {
  const formatted = formatText(text);
  return formatted.kind === 'unchanged' ? text : formatted.text;
}

/** A record of its own, in the canonical layout. */
export function newRecordText(entries: Entries, job: BenchJob): string {
  const lines = allLines(entries, job);
  const body = lines.map((line) => `  ${line}\n`).join('');
  const use = job.use === '' ? '' : `use ${quoted(job.use)}\n\n`;
  return laidOut(`${use}${headOf(entries, job)} {\n${body}}\n`);
}

/** The record of a text: the one of that name, else the only one. */
function recordIn(read: ReadFile, name?: string): Placed | undefined {
  const records = read.declarations.filter((placed) => placed.declaration.word === 'record');
  return (
    records.find((placed) => placed.declaration.name?.text === name) ?? (records.length === 1 ? records[0] : undefined)
  );
}

interface Cut {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

function deepEqual(one: Value | undefined, other: Value | undefined): boolean {
  return (
    one === other ||
    (one !== undefined &&
      other !== undefined &&
      one.text === other.text &&
      one.on === other.on &&
      one.by === other.by &&
      one.with === other.with)
  );
}

const asText = (lines: readonly string[]): string => [...lines].sort().join('\n');

/**
 * The entries put into a record as it stands: lines that say the same stay where they are, a value that was measured again stands behind the
 * old one, what was taken back goes. Undefined where there is no such record in the text, or it can't be read.
 */
export function putInto(text: string, entries: Entries, job: BenchJob): string | undefined {
  const read = readFile('record.fettle', text);
  const placed = recordIn(read, entries.record);
  if (placed === undefined || placed.parsed.faults.length > 0) return undefined;
  const was = readRecord(text, job, entries.record);
  if (was === undefined) return undefined;
  const statements = placed.declaration.body?.statements ?? [];
  const cuts: Cut[] = [];
  const cut = (statement: Statement, instead = ''): void => {
    const { start, end } = placeOf(placed, statement);
    cuts.push({ start, end, text: instead });
  };
  const fresh: string[] = [];

  // Of which there is one.
  const only = (line: string | undefined, found: Statement | undefined, same: boolean): void => {
    if (same) return;
    if (found !== undefined) cut(found, line ?? '');
    else if (line !== undefined) fresh.push(line);
  };
  const number = entries.engineNumber.trim();
  only(
    number === '' ? undefined : `engine-number ${quoted(number)}`,
    statements.find((each) => each.word === 'engine-number'),
    number === was.engineNumber.trim(),
  );
  if (job.variant !== undefined && !statements.some((each) => each.word === 'variant'))
    fresh.push(`variant ${job.variant}`);
  for (const [part, size] of entries.sizes) {
    const found = statements.find(
      (each) => each.kind === 'record-fitted' && each.part.owner.text === part && each.size !== undefined,
    );
    only(size === '' ? undefined : `fitted ${part} size ${size}`, found, (was.sizes.get(part) ?? '') === size);
  }
  for (const [table, row] of entries.grades) {
    const found = statements.find(
      (each) => each.kind === 'record-fitted' && each.part.owner.text === table && each.grade !== undefined,
    );
    only(row === '' ? undefined : `fitted ${table} grade ${row}`, found, (was.grades.get(table) ?? '') === row);
  }
  for (const [limit, values] of entries.measured) {
    const before = was.measured.get(limit);
    const changed = [...values].filter(([place, value]) => !deepEqual(value, before?.get(place)));
    fresh.push(...measuredLines(limit, new Map(changed)));
  }
  for (const [limit, before] of was.measured) {
    const values = entries.measured.get(limit);
    const isGone = [...before.keys()].some((place) => values?.has(place) !== true);
    if (!isGone) continue;
    // A value that was taken back: its lines are written again without it.
    for (const each of statements) if (each.kind === 'measured' && each.limit.owner.text === limit) cut(each);
    const kept = new Map([...(values ?? [])].filter(([place, value]) => deepEqual(value, before.get(place))));
    fresh.push(...measuredLines(limit, kept));
  }
  for (const step of new Set([...entries.steps.keys(), ...was.steps.keys()])) {
    const [now, before] = [entries.steps.get(step), was.steps.get(step)];
    const [lines, old] = [
      now === undefined ? [] : stepLines(step, now),
      before === undefined ? [] : stepLines(step, before),
    ];
    if (asText(lines) === asText(old)) continue;
    const own = statements.filter((each) => stepOfStatement(each) === step);
    for (const each of own) if (!lines.includes(oldLine(each, placed))) cut(each);
    const standing = new Set(own.map((each) => oldLine(each, placed)));
    fresh.push(...lines.filter((line) => !standing.has(line)));
  }
  const signed = statements.find((each) => each.kind === 'signed');
  only(
    entries.signed === undefined ? undefined : `signed ${quoted(entries.signed.by)} on ${entries.signed.on}`,
    signed,
    entries.signed?.by === was.signed?.by && entries.signed?.on === was.signed?.on,
  );
  if (cuts.length === 0 && fresh.length === 0) return text;

  const isSignedKept = signed !== undefined && !cuts.some((each) => each.start === placeOf(placed, signed).start);
  const body = placed.declaration.body;
  if (body === undefined) {
    const end = placeOf(placed, placed.declaration).end;
    cuts.push({ start: end, end, text: ` {\n${fresh.map((line) => `  ${line}\n`).join('')}}` });
  } else if (fresh.length > 0) {
    const at = isSignedKept ? placeOf(placed, signed).start : placeOf(placed, body).end - 1;
    cuts.push({
      start: at,
      end: at,
      text: `${isSignedKept ? '' : '\n'}${fresh.map((line) => `  ${line}\n`).join('')}${isSignedKept ? '  ' : ''}`,
    });
  }
  return laidOut(edited(text, cuts));
}

/** The step that a statement of a record is about. */
function stepOfStatement(statement: Statement): string | undefined {
  if (statement.kind === 'done' || statement.kind === 'witnessed') return statement.step.owner.text;
  return statement.kind === 'text' && statement.word === 'note' ? whatNote(statement.text.value)?.step : undefined;
}

/** A statement of a record as it would be written here. */
function oldLine(statement: Statement, placed: Placed): string {
  if (statement.kind === 'text') return `note ${quoted(statement.text.value)}`;
  if (statement.kind === 'witnessed')
    return `witnessed ${statement.step.owner.text}${clauses(statement.on?.text, statement.by?.value)}`;
  if (statement.kind !== 'done') return '';
  const done: DoneStatement = statement;
  const places = done.step.places.map((place) =>
    placed.section.text.slice(place.start, place.end).replace(/\s+/g, ' '),
  );
  return done.word === 'deviation'
    ? `deviation ${done.step.owner.text} ${quoted(done.text?.value ?? '')}`
    : `done ${done.step.owner.text}${places.length === 0 ? '' : ` ${places.join(', ')}`}${clauses(done.on?.text, done.by?.value)}`;
}

/** The record of what is entered: put into the one that was read in, or a new one. */
export function recordText(entries: Entries, job: BenchJob): string {
  return (entries.base === undefined ? undefined : putInto(entries.base, entries, job)) ?? newRecordText(entries, job);
}
