// What another figure would do, without changing the spec: which figures there are to try, the edits that try one, and what comes of it.
import { type Argument, IN_ENGLISH, textOf as inWords, type Rows, told } from '../../grammar/told.ts';
import type { Statement, Value } from '../../grammar/tree.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Finding, FixEdit } from '../model/finding.ts';
import { placeOf } from '../model/placed.ts';
import { figureText, figureWord, sharedRows, verdictText } from './figures-text.ts';

/** A figure of the engine, or a repair size, that may be tried. */
export interface Choice {
  /** `chamber`, or `under-25` for a repair size. */
  readonly name: string;
  /** As it is written; undefined for a repair size, which brings its own figures. */
  readonly text: string | undefined;
  readonly title: string;
  /** The edits that try it, for a text in its place. */
  readonly edits: (text: string) => readonly FixEdit[];
}

/** A value that would be otherwise. */
export interface Outcome {
  readonly name: string;
  readonly before: string;
  readonly after: string;
}

function engineChoices(analysis: Analysis): readonly Choice[] {
  return analysis.file.declarations
    .filter((each) => each.declaration.word === 'engine')
    .flatMap((placed) =>
      (placed.declaration.body?.statements ?? []).flatMap((each): readonly Choice[] => {
        if (each.kind !== 'value') return [];
        const place = placeOf(placed, each.value);
        const text = placed.section.text.slice(each.value.start, each.value.end);
        return [{ name: each.word, text, title: `${each.word} ${text}`, edits: (put) => [{ ...place, text: put }] }];
      }),
    );
}

/** The value of a size or a wall. */
function sizeSaid(statement: Statement): Value | undefined {
  if (statement.kind === 'dimension') return statement.value;
  return statement.kind === 'value' && statement.word === 'wall' ? statement.value : undefined;
}

/** Whether a part says with one statement what a repair size of it says with another. */
function saysSame(standard: Statement, own: Statement): boolean {
  if (own.kind === 'dimension') return standard.kind === 'dimension' && standard.name.text === own.name.text;
  return standard.kind === 'value' && own.word === 'wall' && standard.word === 'wall';
}

/** The repair sizes by name: those of all parts that have one of that name are tried together, as a set is fitted. */
function sizeChoices(analysis: Analysis): readonly Choice[] {
  const found = new Map<string, { parts: string[]; edits: FixEdit[] }>();
  for (const placed of analysis.file.declarations) {
    const { declaration, section } = placed;
    if (declaration.word !== 'part') continue;
    const statements = declaration.body?.statements ?? [];
    for (const size of statements) {
      if (size.kind !== 'size' || size.body === undefined) continue;
      const known = found.get(size.name.text) ?? { parts: [], edits: [] };
      found.set(size.name.text, known);
      known.parts.push(declaration.name?.text ?? '');
      for (const own of size.body.statements) {
        const standard = statements.find((each) => saysSame(each, own));
        const [is, was] = [sizeSaid(own), standard === undefined ? undefined : sizeSaid(standard)];
        if (is === undefined || was === undefined) continue;
        known.edits.push({ ...placeOf(placed, was), text: section.text.slice(is.start, is.end) });
      }
    }
  }
  return [...found].flatMap(([name, { parts, edits }]) =>
    edits.length === 0
      ? []
      : [{ name, text: undefined, title: `${name} of ${[...new Set(parts)].join(', ')}`, edits: () => edits }],
  );
}

/** What may be tried in a spec. */
export function choices(analysis: Analysis): readonly Choice[] {
  return [...engineChoices(analysis), ...sizeChoices(analysis)];
}

function valuesIn(analysis: Analysis, rows: Rows = IN_ENGLISH): ReadonlyMap<string, string> {
  const values = new Map<string, string>();
  for (const { row, variants, inchesFirst } of sharedRows(analysis)) {
    const worked = figureText(row, inchesFirst);
    const verdict = verdictText(row);
    const text = (verdict === undefined ? worked : told`${worked}, ${verdict}`).in(rows);
    values.set(`${row.name}${variants.length === 0 ? '' : ` (${variants.join(', ')})`}`, text);
  }
  return values;
}

/** `compression ratio` for `engine.compression-ratio`, `piston-clearance` for a limit. */
function called(name: string): Argument {
  return name.startsWith('engine.')
    ? figureWord(name.slice('engine.'.length))
    : name.replace(/^(?:limit|fastener|drive)\./, '');
}

/** Whether a finding stands in a repair size of that name. */
function isInSize(analysis: Analysis, size: string, finding: Finding): boolean {
  return analysis.file.declarations.some((placed) =>
    (placed.declaration.body?.statements ?? []).some((each) => {
      if (each.kind !== 'size' || each.name.text !== size) return false;
      const { file, start, end } = placeOf(placed, each);
      return finding.file === file && finding.start >= start && finding.end <= end;
    }),
  );
}

/**
 * What would be otherwise: values that change, then what would be wrong that is not now. The second reading must stay as it is.
 * @param size the repair size that is tried: its figures stand as the standard ones then, so that its own step is none
 */
export function outcomes(
  before: ReadonlyMap<string, string>,
  known: readonly Finding[],
  after: Analysis,
  size?: string,
  rows: Rows = IN_ENGLISH,
): readonly Outcome[] {
  const now = valuesIn(after, rows);
  const values = [...now].flatMap(([name, text]): readonly Outcome[] => {
    const was = before.get(name);
    return was === text ? [] : [{ name: inWords(called(name), rows), before: was ?? '', after: text }];
  });
  const messages = new Set(known.map((each) => each.message));
  const wrong = after.findings
    .filter((each) => each.severity !== 'information' && !messages.has(each.message))
    .filter((each) => size === undefined || !isInSize(after, size, each))
    .map((each): Outcome => ({ name: each.severity, before: '', after: each.told.in(rows) }));
  return [...values, ...wrong];
}

/** The values of a spec as they are, to hold others against. */
export const valuesNow = valuesIn;
