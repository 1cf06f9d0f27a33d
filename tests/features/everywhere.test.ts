// What can be said, where it shows: each need is read, laid out, in the reference, coloured, told, offered, renamed, reviewed with its
// weight, printed, on the bench page, looked at by a check that has its page, and in use in a sample.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { createRegistry } from 'vscode-tmgrammar-test/dist/common/index.js';
import { formatText } from '../../grammar/printer.ts';
import { benchJob } from '../../server/bench/make-job.ts';
import { helpPage } from '../../server/checks/catalog.ts';
import { completions } from '../../server/features/completion.ts';
import { hover } from '../../server/features/hover.ts';
import { nameAt } from '../../server/features/place-in-tree.ts';
import { placesOf } from '../../server/features/rename.ts';
import { reviewSpecs } from '../../server/review/review.ts';
import { sheetPage } from '../../server/sheet/page.tsx';
import { recordPage } from '../../server/sheet/record-page.tsx';
import { analyseText, disagreements } from '../annotated.ts';
import { FIGURES } from './everywhere-figures.ts';
import { FACTS, type SaidRow } from './everywhere-rows.ts';
import { RECORD, WORK } from './everywhere-work.ts';

const root = join(import.meta.dirname, '../..');
const read = (path: string): string => readFileSync(join(root, path), 'utf8');
const TEXTS = { work: read('tests/model/said/work.fettle'), values: read('tests/model/said/values.fettle') };
const REFERENCE = read('grammar/reference.md');
const SAMPLES = ['samples', 'samples/two-shops', 'samples/review'].flatMap((folder) =>
  readdirSync(join(root, folder))
    .filter((name) => name.endsWith('.fettle'))
    .map((name) => read(`${folder}/${name}`)),
);

const nameOf = (which: SaidRow['in']): string => `${which}.fettle`;
const analysisOf = (which: SaidRow['in'], text = TEXTS[which]) => analyseText(text, {}, nameOf(which));
const ANALYSES = { work: analysisOf('work'), values: analysisOf('values') };

/** A page as it is read, in one line. */
const readable = (page: string): string =>
  page
    .replace(/^.*<body>/s, '')
    .replace(/<[^>]*>/g, ' ')
    .replace(/&#39;|&#x27;/g, "'")
    .replace(/&quot;/g, '"')
    .replace(/\s+/g, ' ');

function sheetOf(which: SaidRow['in']): string {
  const analysis = ANALYSES[which];
  const [view] = analysis.views;
  if (view === undefined) return '';
  const record = analysis.file.declarations.find((each) => each.declaration.word === 'record');
  const page = sheetPage(view, { file: nameOf(which), errors: 0 });
  const ofRecord =
    record === undefined ? '' : recordPage({ record, view, findings: analysis.findings, isForCustomer: false });
  return `${readable(page)} ${readable(ofRecord)}`;
}
const SHEETS = { work: sheetOf('work'), values: sheetOf('values') };

function benchOf(which: SaidRow['in']): string {
  const [view] = ANALYSES[which].views;
  if (view === undefined) return '';
  const file = nameOf(which);
  const job = benchJob(view, { file, use: file, errors: 0, texts: [] });
  return JSON.stringify(job).replace(/\\n/g, ' ').replace(/\s+/g, ' ');
}
const BENCH = { work: benchOf('work'), values: benchOf('values') };

const registry = createRegistry([
  { path: join(root, 'grammar/fettle.tmLanguage.json'), scopeName: 'source.fettle', injectTo: [], language: 'fettle' },
]);
const grammar = await registry.loadGrammar('source.fettle');

/** Where each letter of a text is coloured as a word of the language. */
function colouredLines(text: string): readonly (readonly boolean[])[] {
  let state: Parameters<NonNullable<typeof grammar>['tokenizeLine']>[1] = null;
  return text.split('\n').map((line) => {
    const result = grammar?.tokenizeLine(line, state);
    state = result?.ruleStack ?? null;
    const letters = new Array<boolean>(line.length).fill(false);
    for (const { startIndex, endIndex, scopes } of result?.tokens ?? [])
      if (scopes.some((scope) => /^(?:keyword|constant|storage|support|variable\.other\.enummember)\b/.test(scope)))
        letters.fill(true, startIndex, endIndex);
    return letters;
  });
}
const COLOURS = { work: colouredLines(TEXTS.work), values: colouredLines(TEXTS.values) };

function isColoured(which: SaidRow['in'], at: number): boolean {
  const before = TEXTS[which].slice(0, at);
  const line = before.split('\n').length - 1;
  return COLOURS[which][line]?.[at - (before.lastIndexOf('\n') + 1)] === true;
}

const wordsOf = ({ words, says }: SaidRow): readonly string[] => words ?? [says.split(' ')[0] ?? ''];

const once = (text: string, piece: string): number => {
  const at = text.indexOf(piece);
  return at >= 0 ? at : Number.NaN;
};

/** Where a word stands in a piece, by itself. */
const wordIn = (piece: string, word: string): number =>
  new RegExp(`(?<![\\w-])${word}(?![\\w-])`).exec(piece)?.index ?? Number.NaN;

function changed(row: SaidRow, from: string, to: string): string {
  const text = TEXTS[row.in];
  expect(text, 'the fixture has it').toContain(from);
  return text.replace(from, to);
}

/** The change that a review row asks for, in the piece where that has it, else in the whole. */
function reviewedText(row: SaidRow, from: string, to: string): string {
  if (!row.says.includes(from)) return changed(row, from, to);
  return changed(row, row.says, row.says.replace(from, to));
}

test.each(['work', 'values'] as const)('%s: nothing is wrong, and it stands in the canonical layout', (which) => {
  expect(disagreements(TEXTS[which], ANALYSES[which])).toEqual([]);
  expect(formatText(TEXTS[which])).toMatchObject({ text: TEXTS[which] });
});

describe.each([...FACTS, ...FIGURES, ...WORK, ...RECORD].map((row) => [row.need, row] as const))('%s', (_need, row) => {
  const text = TEXTS[row.in];
  const start = once(text, row.says);
  const analysis = ANALYSES[row.in];

  test('is said in the fixture, and each word is in the reference with an example, coloured, told and offered', () => {
    expect(start).not.toBeNaN();
    for (const word of wordsOf(row)) {
      const at = start + wordIn(row.says, word);
      expect([word, at]).not.toContain(Number.NaN);
      expect(REFERENCE).toMatch(new RegExp(`\`[^\`\n]*(?<![\\w-])${word}(?![\\w-])[^\`\n]*\``));
      expect([word, 'coloured', isColoured(row.in, at)]).toEqual([word, 'coloured', true]);
      expect([word, hover(analysis, at + 1)?.markdown ?? '']).not.toContain('');
      const offered = completions(analysis, at + 1).completions.map((each) => each.label);
      expect([word, 'offered', offered.some((label) => label === word || label.startsWith(`${word} `))]).toEqual([
        word,
        'offered',
        true,
      ]);
    }
  });

  test('the thing that it names is told, and renamed', () => {
    if (row.name === undefined) return;
    const at = start + wordIn(row.says, row.name);
    expect(hover(analysis, at + 1)?.markdown ?? '').toContain(row.name.replaceAll('-', '\\-'));
    const name = nameAt(analysis, at + 1);
    const places = name === undefined ? [] : placesOf(analysis, name);
    expect(places.some((each) => each.start === at)).toBe(true);
    expect(places.some((each) => each.declares)).toBe(true);
  });

  test('a review tells it by meaning, with its weight', () => {
    const [weight, from, to] = row.reviewed;
    const changes = reviewSpecs(analysis, analysisOf(row.in, reviewedText(row, from, to))).filter(
      (change) => !change.what.startsWith('finding.'),
    );
    expect(changes.map((each) => each.weight)).toContain(weight);
  });

  test('it is on the sheet and on the bench page', () => {
    if (typeof row.sheet !== 'string') expect(SHEETS[row.in]).toMatch(row.sheet);
    else expect(row.sheet.length).toBeGreaterThan(20);
    const bench = row.bench ?? row.sheet;
    if (typeof bench !== 'string') expect(BENCH[row.in]).toMatch(bench);
  });

  test('a check looks at it, and has a page', () => {
    if (typeof row.checked === 'string') return;
    const [from, to, code] = row.checked;
    const codes = (of: typeof analysis): readonly string[] => of.findings.map((each) => each.code);
    const wrong = analysisOf(row.in, reviewedText(row, from, to));
    expect(codes(wrong).filter((each) => each === code).length).toBeGreaterThan(
      codes(analysis).filter((each) => each === code).length,
    );
    expect(helpPage(code)).toContain('```fettle');
  });

  test('a sample uses it', () => {
    expect(SAMPLES.some((each) => row.sample.test(each))).toBe(true);
  });
});
