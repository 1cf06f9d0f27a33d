// Holds that what is said can be said in every language that there are words of: each sentence has its row, with what is put into it,
// and no row is left over.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { takeTexts } from '../../client/manifest-texts.mjs';
import { languagesIn, packed, pagePairs, pagesIn, rowsIn } from '../../client/translations.mjs';
import { languageOf, languageOfEnvironment, rowsOf } from '../../grammar/languages.ts';
import { rowKey } from '../../grammar/row-key.mjs';
import { Told, textOf, told } from '../../grammar/told.ts';
import { UNITS } from '../../grammar/vocabulary/units.ts';
import { ACTIONS, CHANGES, CLAUSES, DECLARATIONS, STAGES, STATEMENTS } from '../../grammar/vocabulary.ts';
import { CHECKS, pageTold } from '../../server/checks/catalog.ts';
import { kindName } from '../../server/mechanics/units.ts';
import { analyse } from '../../server/workspace/analyse.ts';
import { root, sourcesBelow } from './imports.ts';
import { sentencesBelow } from './sentences.ts';
import { keysOfClient, shownTextsBelow } from './shown-texts.ts';

const sentences = sentencesBelow('grammar', 'server');
const placesIn = (text: string): readonly string[] => [...new Set(text.match(/\{\d+\}/g) ?? [])].sort();

/** Terms that tables of ours put into sentences, which have rows of their own: kinds of unit, and texts in the sources as they stand. */
const sources = ['grammar', 'server'].flatMap(sourcesBelow).map((path) => readFileSync(join(root, path), 'utf8'));
const holds = (source: string, text: string): boolean => {
  for (let at = source.indexOf(text); at >= 0; at = source.indexOf(text, at + 1))
    if (!/[\p{L}\d]/u.test(`${source[at - 1] ?? ''}${source[at + text.length] ?? ''}`)) return true;
  return false;
};
/** As whole words: `Wedged` in `stillWedgedPage` is nothing that is said. */
const standsInSource = (text: string): boolean =>
  sources.some((source) => holds(source, text) || holds(source, text.replaceAll(' ', '-')));

test('there is something said, and German words for it', () => {
  expect(sentences.length).toBeGreaterThan(600);
  expect(languagesIn(root)).toContain('de');
});

describe.each(languagesIn(root))('%s', (language) => {
  const rows = rowsIn(root, language);

  test('each sentence has a row', () => {
    expect(sentences.filter(({ english }) => !/[A-Za-z]{2}/.test(english) || english in rows).length).toBeGreaterThan(
      600,
    );
    const without = sentences.filter(({ english }) => /[A-Za-z]{2}/.test(english) && !(english in rows));
    expect(
      without.map(({ where, english }) => `${where} ${english}`),
      `give it a row in server/translations/${language}/*.json`,
    ).toEqual([]);
  });

  test('a row has what is put into its sentence, and nothing else', () => {
    const wrong = Object.entries(rows).filter(
      ([english, said]) => String(placesIn(english)) !== String(placesIn(said)),
    );
    expect(wrong).toEqual([]);
  });

  test('no row is left over', () => {
    const said = new Set(sentences.map(({ english }) => english));
    const idle = Object.keys(rows).filter((english) => !said.has(english) && !standsInSource(english));
    expect(idle).toEqual([]);
  });

  test('no two sentences come to one key, and the packed rows say the same', () => {
    const said = rowsOf(packed(rows));
    expect(Object.keys(rows).filter((english) => said(english) !== rows[english])).toEqual([]);
    expect(said('no such sentence')).toBeUndefined();
  });
});

test('no text of ours is put into a sentence as it is', () => {
  expect(sentences.flatMap(({ where, bare }) => bare.map((text) => `${where} ${text}`))).toEqual([]);
});

test('what is not in a table of sentences is said nowhere: a bare text is put in by the edge alone', () => {
  const bare = ['server/checks', 'server/rehearsal', 'server/model', 'server/workspace', 'grammar']
    .flatMap(sourcesBelow)
    .filter((path) => path !== 'grammar/told.ts')
    .flatMap((path) =>
      (readFileSync(join(root, path), 'utf8').match(/told\.asIs\((?:`|')[^)]*/g) ?? []).map(
        (each) => `${path} ${each}`,
      ),
    );
  expect(bare).toEqual([]);
});

describe('in German', () => {
  const rows = rowsOf(packed(rowsIn(root, 'de')));

  test('a sentence, with a part of one, a list and a term in it', () => {
    const german = told`${told.capital(told.term(kindName('length')))} can't be added to ${told.term(kindName('torque'))}.`;
    expect(german.in(rows)).toBe('Eine Länge und ein Drehmoment lassen sich nicht addieren.');
    expect(textOf(told.list(['a', 'b', 'c'], 'or'), rows)).toBe('a, b oder c');
    expect(textOf(told.list(['a', 'b', 'c', 'd'], 'and', 2), rows)).toBe('a, b und 2 weitere');
    expect(new Told(['no row for ', ''], ['this']).in(rows)).toBe('no row for this');
  });

  test('a finding, with its figures and names as they are written', () => {
    const text = 'spec s draft\nengine {\n  bore 80 mm\n}\npart sump {\n  mass 3 kg\n}\nfastener b {\n  torque 9\n}\n';
    const findings = analyse('s.fettle', text, { resolve: () => undefined, read: () => undefined }).findings;
    const found = findings.find((each) => each.code === 'unit/missing');
    expect(found?.message).toBe('9 has no unit. After torque a number needs one: is 9 N.m meant?');
    expect(found?.told.in(rows)).toBe(
      '9 hat keine Einheit. Nach torque braucht eine Zahl eine Einheit: Ist 9 N.m gemeint?',
    );
  });
});

test('a term has a row in every language: kinds of unit, usual sizes, rules of thumb, kinds of limit that have a rule, ways to secure', () => {
  const written = (path: string, pattern: RegExp): readonly string[] =>
    [...readFileSync(join(root, path), 'utf8').matchAll(pattern)].flatMap((each) => each[1] ?? []);
  const terms = [
    ...written('server/mechanics/unit-kinds.ts', /: '(an? [^']+)'/g).filter((each) => each !== 'a count'),
    ...written('server/mechanics/usual-sizes.ts', /what: '([^']+)'/g),
    ...written('server/mechanics/trade-ranges.ts', /rule: '([^']+)'/g),
    ...written('server/mechanics/nut-factor.ts', /said: (?:`|')([^:`']+)/g),
  ];
  expect(terms.length).toBeGreaterThan(40);
  for (const language of languagesIn(root)) {
    const rows = rowsIn(root, language);
    expect(terms.filter((each) => !(each in rows))).toEqual([]);
  }
});

test('a choice that a page shows in words has a row in every language', () => {
  const shown = ['rotation', 'cylinders', 'fitted', 'secured-by', 'found', 'run', 'timed', 'rotate', 'marks-agree'];
  const rowsOfWords = [...STATEMENTS, ...ACTIONS].filter(({ word }) => shown.includes(word));
  const choices = rowsOfWords.flatMap((row) => ('choices' in row ? Object.keys(row.choices ?? {}) : []));
  expect(choices.length).toBeGreaterThan(25);
  for (const language of languagesIn(root)) {
    const rows = rowsIn(root, language);
    expect(choices.map((each) => each.replace('-', ' ')).filter((each) => !(each in rows))).toEqual([]);
  }
});

test('which language is asked for', () => {
  expect(['de', 'de_DE.UTF-8', 'de-AT', 'DE', 'de@euro'].map(languageOf)).toEqual(['de', 'de', 'de', 'de', 'de']);
  expect(['en_GB.UTF-8', 'C', '', 'deutsch', undefined].map(languageOf)).toEqual(Array(5).fill(undefined));
  expect(languageOfEnvironment({ LC_ALL: '', LC_MESSAGES: 'de_DE', LANG: 'en_GB' })).toBe('de');
  expect(languageOfEnvironment({ LC_ALL: 'C', LANG: 'de_DE' })).toBeUndefined();
  expect(rowKey('a')).not.toBe(rowKey('b'));
});

/** Where texts stand in quotes that no translation is for, and why. */
const OF_ONE_LANGUAGE: ReadonlyMap<string, string> = new Map([
  ['server/features/first-', 'is written into a spec'],
  ['server/features/layouts.ts', 'is written into a spec'],
  ['server/features/reach-job.ts', 'is written into a spec'],
  ['server/features/reach-clear-of-pistons.ts', 'is written into a spec'],
  ['server/features/shared-bolts.ts', 'is written into a spec'],
  ['server/features/pasted-table.ts', 'is written into a spec'],
  ['server/features/table-cells.ts', 'is written into a spec'],
  ['server/features/forms.ts', 'how a statement is written, in the words of the language'],
  ['server/features/missing-work.ts', 'is written into a spec'],
  ['server/checks/source/bundle-heading.ts', 'is written into a bundle'],
  ['server/checks/unit/written-values.ts', 'words of the language'],
  ['server/model/trade-table.ts', 'names of parts, as specs have them'],
  ['server/model/values.ts', 'goes into JSON alone'],
  ['server/command-line/git-barred.ts', 'what git may not do, for who reads the source'],
  ['server/bench/record-notes.ts', 'is written into a record, and read again'],
  ['server/sheet/style.ts', 'a style sheet'],
  ['server/bench/style.ts', 'a style sheet'],
  ['server/entry/', 'is said when nothing else can be'],
  ['server/protocol/', 'goes to the log of the editor'],
]);

describe.each(languagesIn(root))('what is shown in %s', (language) => {
  const rows = rowsIn(root, language);

  test('no text that the command or the editor shows stands in quotes without a row', () => {
    const shown = shownTextsBelow(
      ...['server/command-line', 'server/features', 'server/protocol', 'server/workspace', 'server/rehearsal'],
      ...['server/model', 'server/checks', 'server/entry', 'grammar/vocabulary'],
      ...['server/sheet', 'server/pictures', 'server/bench', 'server/bench-page'],
    );
    expect(shown.length).toBeGreaterThan(200);
    const isOfOneLanguage = (path: string): boolean =>
      [...OF_ONE_LANGUAGE.keys()].some((each) => path.startsWith(each));
    // What goes by our own sentence, and never shows it.
    const goesBy = /putBehind|hasWords|startsWith|\.text === |writtenBefore/;
    const lineOf = (where: string): string => {
      const [path = '', line = ''] = where.split(':');
      return readFileSync(join(root, path), 'utf8').split('\n')[Number(line) - 1] ?? '';
    };
    const without = shown.filter(
      ({ path, where, text }) =>
        !(text in rows) &&
        !isOfOneLanguage(path) &&
        !goesBy.test(lineOf(where)) &&
        !(path.startsWith('grammar/vocabulary') && (/example/.test(lineOf(where)) || text.includes('\n'))),
    );
    expect(
      without.map(({ where, text }) => `${where} ${text}`),
      `say it as told, with a row in server/translations/${language}/*.json`,
    ).toEqual([]);
  });

  test('the help of every word of the language has a row', () => {
    const helps = [
      ...[...STATEMENTS, ...ACTIONS, ...DECLARATIONS, ...CHANGES, ...CLAUSES, ...STAGES, ...UNITS].map(
        ({ help }) => help,
      ),
      ...[...STATEMENTS, ...ACTIONS, ...CLAUSES].flatMap((row) =>
        'choices' in row ? Object.values(row.choices ?? {}) : [],
      ),
    ];
    expect(helps.length).toBeGreaterThan(400);
    expect(
      helps.filter((help) => !(help in rows)),
      `give it a row in server/translations/${language}/vocabulary.json`,
    ).toEqual([]);
  });

  test('the client has words for all that it says, and for its titles, and none are left over', () => {
    const bundle = JSON.parse(readFileSync(join(root, `client/l10n/bundle.l10n.${language}.json`), 'utf8'));
    expect(Object.keys(bundle).sort()).toEqual([...keysOfClient()].sort());
    const titles = JSON.parse(readFileSync(join(root, `client/package.nls.${language}.json`), 'utf8'));
    const { texts } = takeTexts(JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')));
    expect(Object.keys(titles)).toEqual(Object.keys(texts));
  });

  test('a help page in it stands beside the English one, and tells of the same code', () => {
    const pairs = pagePairs(root, language);
    expect(pairs.map(({ name }) => name).sort()).toEqual(CHECKS.map(({ code }) => `${code}.${language}.md`).sort());
    for (const { name, english, said } of pairs) {
      expect(said[0], name).toBe(english[0]);
      expect(said.length, name).toBe(english.length);
      for (const [i, paragraph] of english.entries()) if (i > 0) expect(said[i], name).not.toBe(paragraph);
    }
  });

  test('a help page in it has the examples of the English one, and no English paragraph', () => {
    const rows = rowsOf(packed({ ...rowsIn(root, language), ...pagesIn(root, language) }));
    const fences = (page: string): readonly string[] => page.match(/^```\w*\n[\s\S]*?^```$/gm) ?? [];
    for (const { code, page } of CHECKS) {
      const said = pageTold(page).in(rows);
      expect(fences(said), code).toEqual(fences(page));
      expect(
        pageTold(page).in(() => undefined),
        code,
      ).toBe(page);
      expect(said, code).not.toMatch(/Gives the finding:|Does not:/);
      expect(said.split('\n')[0], code).toBe(`# ${code}`);
    }
  });
});
