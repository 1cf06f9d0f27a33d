// What is looked up straight after an edit, from views that are kept over edits, is what a fresh reading of the text says at the same place.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { atOnce } from '../../grammar/give-way.ts';
import { completions } from '../../server/features/completion.ts';
import { headlines, unitHints } from '../../server/features/hints.ts';
import { hover } from '../../server/features/hover.ts';
import { openRecords } from '../../server/features/record-lines.ts';
import { turnHints } from '../../server/features/standing-text.ts';
import { tokensBySection } from '../../server/features/tokens.ts';
import { choices } from '../../server/features/what-if.ts';
import { type Analysis, withRecordedViews } from '../../server/model/analysis.ts';
import { createDocuments, type Documents } from '../../server/workspace/documents.ts';
import { indexLines, positionAt } from '../../server/workspace/lines.ts';
import { expectSame } from '../same.ts';

const folder = join(import.meta.dirname, '../../samples');
const files: Readonly<Record<string, string>> = Object.fromEntries(
  readdirSync(folder)
    .filter((name) => name.endsWith('.fettle'))
    .map((name) => [`file:///shop/${name}`, readFileSync(join(folder, name), 'utf8')]),
);

/** What is written behind the last place that fits: a figure, a name, a declaration, an action. */
const EDITS: readonly (readonly [what: string, behind: RegExp, put: string])[] = [
  ['a figure', /^ {2}dimension [a-z].* \d+\.\d+/gm, '1'],
  ['the name of what is tightened', /^ {4}tighten [-a-z0-9]+/gm, 'x'],
  ['a new part', /^\n(?=part )/gm, 'part lug "Lug"\n\n'],
  ['an action less', /^ {4}fit [a-z].*\n/gm, '    # '],
];

/** Files whose texts hold each kind of statement; one of them is built on another, one holds a record. */
const LOOKED_AT = ['inline-four', 'race-four-hill', 'build-061', 'vee-six'];

/** Of lines that begin alike, so many are looked at: what is looked up does not hang on which. */
const MOST_ALIKE = 1;

function opened(address: string, text: string): Documents {
  const documents = createDocuments();
  for (const [file, told] of Object.entries(files)) documents.told(file, told);
  documents.open(address, 1, text);
  return documents;
}

/** The words at which something is looked up: of lines that begin alike those of a few, spread over the text. */
function placesIn(text: string): readonly number[] {
  const lines = new Map<string, number[]>();
  for (const { 0: line, index } of text.matchAll(/^.*\S.*$/gm)) {
    const key = /^\s*\S+/.exec(line)?.[0] ?? '';
    lines.set(key, [...(lines.get(key) ?? []), index]);
  }
  return [...lines.values()].flatMap((starts) =>
    Array.from(
      { length: Math.min(MOST_ALIKE, starts.length) },
      (_, i) => starts[Math.floor((i * starts.length) / MOST_ALIKE)] ?? 0,
    ).flatMap((start) => {
      const line = /.*/.exec(text.slice(start))?.[0] ?? '';
      return [...line.matchAll(/[\p{L}\p{N}]+/gu)].slice(0, 4).map(({ index }) => start + index);
    }),
  );
}

const offered = (analysis: Analysis, at: number): unknown =>
  completions(analysis, at)
    .completions.map((each) =>
      JSON.stringify(each, (_, value: unknown) => (typeof value === 'bigint' ? String(value) : value)),
    )
    .sort();

/** What stands beside the text of its own accord: lines above declarations, figures behind others, what is open in records, colours. */
const standing = (analysis: Analysis, text: string): unknown =>
  JSON.parse(
    JSON.stringify(
      [
        headlines(analysis).map(({ text: line, ...rest }) => ({ ...rest, line: line.text })),
        unitHints(analysis, 0, text.length).map(({ text: hint, offset }) => [offset, hint.text]),
        turnHints(analysis, 0, text.length).map(({ text: hint, offset }) => [offset, hint.text]),
        openRecords(analysis),
        choices(analysis),
        [...tokensBySection(analysis, 0, text.length)],
      ],
      (_, value: unknown) => (typeof value === 'bigint' ? String(value) : value),
    ),
  );

/** What is looked up after an edit, held against a fresh reading of the text as it is then. */
function isAsFresh(address: string, before: string, [, behind, put]: (typeof EDITS)[number]): void {
  const places = [...before.matchAll(behind)];
  const last = places[Math.floor(places.length / 2)];
  if (last === undefined) return;
  const at = last.index + last[0].length;
  const text = before.slice(0, at) + put + before.slice(at);
  const edited = opened(address, before);
  atOnce(edited.analysis(address)?.check() ?? (function* () {})());
  const there = positionAt(indexLines(before), at);
  edited.change(address, 2, [{ range: { start: there, end: there }, text: put }]);
  const made = edited.analysis(address);
  const fresh = opened(address, text).analysis(address);
  if (made === undefined || fresh === undefined) throw new Error('nothing was analysed');
  const kept = withRecordedViews(made);
  expect(kept.views).not.toBe(made.views);
  expectSame(standing(kept, text), standing(fresh, text));
  for (const place of placesIn(text)) {
    const about = text.slice(place - 20, place + 20);
    expectSame(hover(kept, place, true), hover(fresh, place, true), about);
    expectSame(offered(kept, place), offered(fresh, place), about);
  }
}

describe.each(LOOKED_AT)('%s', (name) => {
  const address = `file:///shop/${name}.fettle`;
  test.each(EDITS)('after %s', (...edit) => isAsFresh(address, files[address] ?? '', edit));
});

describe.each([0, 1, 2])('where each third statement from %i on is another for each variant', (from) => {
  const address = 'file:///shop/inline-four.fettle';
  let count = 0;
  const text = (files[address] ?? '').replace(
    /^( +)((?!step |when |\}|revision|variants|source|sequences)[a-z-]+ [^{}\n]*)$/gm,
    (line, indent: string, statement: string) => {
      count += 1;
      const other = statement.replace(/\d(?=\D*$)/, (digit) => String((Number(digit) + 3) % 10));
      return count % 3 === from && other !== statement
        ? `${indent}when tourer { ${statement} }\n${indent}when delivery { ${other} }`
        : line;
    },
  );
  expect([...text.matchAll(/when delivery/g)].length).toBeGreaterThan(60);
  const [figure] = EDITS;
  test('after a figure', () => (figure === undefined ? undefined : isAsFresh(address, text, figure)));
});
