// The pages and pictures in another language: no words of Fettle's own are left in English, and a page is as safe and says the same to programs.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { packed, rowsIn } from '../../client/translations.mjs';
import { rowsOf } from '../../grammar/languages.ts';
import { speaking } from '../../grammar/spoken.ts';
import { IN_ENGLISH, type Rows } from '../../grammar/told.ts';
import { UNITS } from '../../grammar/vocabulary/units.ts';
import { ACTIONS, CLAUSES, DECLARATIONS, STAGES, STATEMENTS } from '../../grammar/vocabulary.ts';
import { noEntries } from '../../server/bench/entries.ts';
import { benchJob } from '../../server/bench/make-job.ts';
import { benchPage } from '../../server/bench/page.tsx';
import { recordText } from '../../server/bench/record-text.ts';
import { sheetOf } from '../../server/workspace/sheet-of.ts';
import { analyseText } from '../annotated.ts';
import { root } from '../house/imports.ts';
import { loneTextsBelow } from '../house/lone-texts.ts';
import { type Page, pagesOf, readScreens, type Screens } from './every-page.ts';

const german = rowsIn(root, 'de');
const packedRows = packed(german);

/** A language in which each letter of ours is another one: what stands in plain letters was said in no language. */
const AFAR: Rows = (english) =>
  Object.hasOwn(german, english)
    ? english.replace(/\{\d+\}|[A-Za-z]/g, (each) =>
        each.length > 1 ? each : String.fromCodePoint((each.codePointAt(0) ?? 0) + 0xfee0),
      )
    : undefined;

const QUOTED = /#.*$|\buse "[^"]*"|"[^"]*"/gm;

/** A spec with no prose of its own: what stands in quotes is one sign, but for the paths of files. */
const bared = (text: string): string =>
  text.replace(QUOTED, (each) => (each.startsWith('#') ? '' : each.startsWith('"') ? '"§"' : each));

const folder = join(root, 'samples');
const samples = Object.fromEntries(
  readdirSync(folder)
    .filter((name) => name.endsWith('.fettle'))
    .map((name) => [name, bared(readFileSync(join(folder, name), 'utf8'))]),
);

const libraries = readdirSync(join(root, 'server/library'))
  .filter((name) => name.endsWith('.fettle'))
  .map((name) => readFileSync(join(root, 'server/library', name), 'utf8'));
/** What the libraries say, which are specs too. */
const librarySays = libraries.flatMap((text) => (text.match(/"[^"]{4,}"/g) ?? []).map((each) => each.slice(1, -1)));

const pieces = (text: string): readonly string[] => text.toLowerCase().match(/[a-z]+/g) ?? [];

/** Words of the language, which are names of nothing unless they stand in a longer one. */
const words = new Set(
  [...STATEMENTS, ...ACTIONS, ...DECLARATIONS, ...CLAUSES, ...STAGES].flatMap((row) => [
    row.word,
    ...('choices' in row ? Object.keys(row.choices ?? {}) : []),
  ]),
);

/** What stands as it is written: units, when a valve opens, files of specs. */
const AS_WRITTEN = new Set([
  ...UNITS.flatMap(({ unit }) => pieces(unit)),
  ...['fettle', 'btdc', 'atdc', 'bbdc', 'abdc', 'opens', 'closes', 'inlet', 'exhaust', 'lift', 'valve', 'phaser'],
  ...['parked', 'retarded', 'advanced', 'measured', 'at', 'rocker', 'ratio', 'lobe', 'per', 'tdc', 'bdc'],
  // What the base of a derived spec says; names that are words of the language as well.
  ...['least', 'most', 'compression', 'squish', 'number', 'left', 'right', 'front', 'rear'],
  ...[
    'joint',
    'drain',
    'sprocket',
    'pump',
    'coolant',
    'speed',
    'crankpin',
    'belt',
    'chain',
    'gear',
    'plug',
    'oil',
    'bore',
    'crank',
    'journal',
    'wall',
    'shell',
  ],
  // Functions of sums.
  ...['min', 'max', 'sum', 'mean'],
]);

const wordsOf = (text: string): readonly string[] => text.toLowerCase().match(/[a-z0-9]+/g) ?? [];

/** What all specs say themselves, by its first word, the longest first: their names, and what the libraries have in quotes. */
const ofSpecs = new Map<string, (readonly string[])[]>();
for (const said of new Set([
  ...librarySays,
  ...[...Object.values(samples), ...libraries.map(bared)].flatMap((text) =>
    (text.match(/[A-Za-z][\w-]*/g) ?? []).filter((name) => !words.has(name) || name.includes('-')),
  ),
])) {
  const [first = '', ...more] = wordsOf(said);
  ofSpecs.set(
    first,
    [...(ofSpecs.get(first) ?? []), more].sort((one, other) => other.length - one.length),
  );
}

/** The words of a text that no spec says. */
function besideSpecs(text: string): readonly string[] {
  const all = wordsOf(text);
  const left: string[] = [];
  for (let at = 0; at < all.length; at += 1) {
    const word = all[at] ?? '';
    const name = ofSpecs.get(word)?.find((more) => more.every((each, i) => all[at + 1 + i] === each));
    if (name === undefined) left.push(word);
    else at += name.length;
  }
  return left;
}

/** All that somebody reads or hears of a page: its texts, what its style sheet writes, labels. */
function readable(html: string): readonly string[] {
  const styles = [...html.matchAll(/content: ("[^;]*");/g)].map((each) => each[1] ?? '');
  const labels = [...html.matchAll(/ (?:aria-label|title|alt|placeholder)="([^"]*)"/g)].map((each) => each[1] ?? '');
  const texts = html
    .replace(/<(script|style)\b.*?<\/\1>/gs, '')
    .replace(/<[^>]*>/g, '\n')
    .split('\n');
  return [...styles, ...labels, ...texts].map((text) => text.replace(/&(?:[a-z]+|#\w+);|\\[0-9a-f]+ /g, ' '));
}

/** Words that belong to no spec. */
function ours(text: string): readonly string[] {
  return besideSpecs(text.replace(/counter\(pages?\)/g, ' ')).filter(
    (word) => /^[a-z]{2,}$/.test(word) && !AS_WRITTEN.has(word),
  );
}

/** Small words of English that are none of German. */
const SMALL = new Set(['the', 'of', 'and', 'with', 'is', 'are', 'not', 'by', 'for', 'from', 'once', 'take', 'turns']);

/** The pages that say something which is not as it must be, each text once. */
function saying(pages: readonly Page[], isWrong: (text: string) => boolean): readonly string[] {
  const found = new Map<string, string>();
  for (const { called, html } of pages)
    for (const text of readable(html)) if (!found.has(text)) found.set(text, called);
  return [...found].flatMap(([text, called]) => (isWrong(text) ? [`${called}: ${text}`] : [])).slice(0, 40);
}

let screens: Screens;
beforeAll(async () => {
  screens = await readScreens();
});

describe.each(Object.keys(samples))('%s', (name) => {
  const pages = (rows: Rows) =>
    speaking(rows, () => pagesOf(analyseText(samples[name] ?? '', samples, name), screens, rows));

  test('all that Fettle says on a page or in a picture has a row', () => {
    const all = pages(AFAR);
    expect(saying(all, (text) => ours(text).length > 0)).toEqual([]);
    if (name !== 'common-fasteners.fettle') expect(all.length).toBeGreaterThan(1);
  });

  test('in German no small word of English is left', () => {
    const all = pages(rowsOf(packedRows));
    expect(saying(all, (text) => besideSpecs(text).some((word) => SMALL.has(word)))).toEqual([]);
  });
});

test('a text that was forgotten is seen', () => {
  expect(ours('ＰＡＲＴ forgotten')).toEqual(['forgotten']);
  expect(readable('<p aria-label="one">two</p>')).toEqual(expect.arrayContaining(['one', 'two']));
});

test('no text stands in the elements of a page without being said', () => {
  expect(loneTextsBelow('server/sheet', 'server/bench', 'server/bench-page', 'server/pictures')).toEqual([]);
});

const SPEC = `spec s { title "</script><script>alert(1)</script>" }
engine { cylinders 4 inline firing-order 1 3 4 2 }
part sump { title "<img src=x onerror=alert(1)>" }
sequence build { step fit-sump { fit sump note "</style>" } }
job all { sequences build }
`;

describe('a German page', () => {
  const rows = rowsOf(packedRows);
  const analysis = analyseText(SPEC, {}, 's.fettle');
  const [view] = analysis.views;
  const job = (language: Rows) => {
    const made = speaking(language, () =>
      view === undefined
        ? undefined
        : benchJob(view, { file: 's.fettle', use: 's.fettle', errors: 0, texts: [{ file: 's.fettle', text: SPEC }] }),
    );
    if (made === undefined) throw new Error('no job');
    return made;
  };
  const page = (language: Rows, own?: typeof packedRows): string =>
    speaking(language, () => benchPage(job(language), { first: '', rest: '' }, own));

  test('says which language it is in', () => {
    if (view === undefined) throw new Error('no view');
    expect(sheetOf(analysis, view, { rows }).html).toContain('<html lang="de">');
    expect(page(rows, packedRows)).toContain('<html lang="de">');
    expect(sheetOf(analysis, view, {}).html).toContain('<html lang="en">');
  });

  test('lets no text of a spec, and no row, be anything but text', () => {
    const html = page(rows, { ...packedRows, hostile: '</script><script>alert(2)</script>' });
    expect(html).not.toMatch(/<script>alert|<img/);
    expect((html.match(/<script/g) ?? []).length).toBe((page(IN_ENGLISH).match(/<script/g) ?? []).length + 1);
    const policy = /Content-Security-Policy" content="([^"]*)"/;
    expect(policy.exec(html)?.[1]?.replace(/'sha256-[^']*'/g, '')).toBe(
      policy.exec(page(IN_ENGLISH))?.[1]?.replace(/'sha256-[^']*'/g, ''),
    );
  });

  test('holds its words, and an English one holds none', () => {
    const [, held = ''] = /id="words">(.*?)<\/script>/s.exec(page(rows, packedRows)) ?? [];
    expect(rowsOf(JSON.parse(held))('Next step')).toBe('Nächster Schritt');
    expect(page(IN_ENGLISH)).not.toContain('id="words"');
  });

  test('begins each line with a capital letter, though the thing stands before the verb', () => {
    const text = 'part sump\nlimit end-play\n  measured\n  within 0.05..0.20 mm\nfastener bolt x4 { torque 9 N.m }\n';
    const work =
      'sequence s { step t { fit sump tighten bolt inspect sump measure end-play } }\njob all { sequences s }\n';
    const [seen] = analyseText(text + work, {}, 's.fettle').views;
    const made = speaking(rows, () =>
      seen === undefined ? undefined : benchJob(seen, { file: 's.fettle', use: 's.fettle', errors: 0, texts: [] }),
    );
    const lines = made?.chapters.flatMap(({ steps }) => steps.flatMap((step) => step.lines)) ?? [];
    const texts = lines.flatMap((line) => (line.kind === 'do' || line.kind === 'measure' ? [line.text] : []));
    expect(texts).toHaveLength(4);
    expect(texts.filter((each) => !/^[\p{Lu}\p{N}]/u.test(each))).toEqual([]);
  });

  test('writes the same record as an English one', () => {
    const record = (language: Rows): string =>
      speaking(language, () => recordText(noEntries(job(language)), job(language)));
    expect(record(rows)).toBe(record(IN_ENGLISH));
  });
});
