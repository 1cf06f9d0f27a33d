// A review in another language: its frame and its sentences are, what the specs say stays as it is written, and programs read English.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { packed, pagesIn, rowsIn } from '../../client/translations.mjs';
import { rowsOf } from '../../grammar/languages.ts';
import { messageIn, type Say } from '../../server/review/change.ts';
import { reviewMarkdown } from '../../server/review/markdown.ts';
import { reviewPage } from '../../server/review/page.tsx';
import { placedChange } from '../../server/review/placed-change.ts';
import { reviewSpecs } from '../../server/review/review.ts';
import { analyseText } from '../annotated.ts';

const root = join(import.meta.dirname, '../..');
const rows = rowsOf(packed({ ...rowsIn(root, 'de'), ...pagesIn(root, 'de') }));
const inGerman: Say = (said) => said.in(rows);
const four = readFileSync(join(root, 'tests/model/brindle-four.fettle'), 'utf8');
const now = four
  .replace('60 N.m, 90 deg', '65 N.m, 90 deg')
  .replace(/\n {4}tighten cam-plate-bolt\n/, '\n')
  .replace('part sump\n', 'part sump {\n  mass 3 kg\n}\n');
const changes = reviewSpecs(analyseText(four), analyseText(now));
const here = { file: 'b.fettle', start: { line: 1, column: 1 }, end: { line: 1, column: 1 } };
const files = { old: 'a.fettle', new: 'b.fettle', changes: changes.map((change) => placedChange(change, () => here)) };

test('each sentence has its words, with the figures and names of the specs', () => {
  expect(changes.length).toBeGreaterThan(2);
  const said = changes.map((change) => messageIn(change, inGerman));
  expect(said).toContain('Fastener head-bolt: torque stage 2 war 60 N.m, ist jetzt 65 N.m: 5 N.m mehr (8.3 %).');
  for (const [i, sentence] of said.entries()) expect(sentence).not.toBe(changes[i]?.message);
  expect(changes.map((change) => messageIn(change, (each) => each.text))).toEqual(
    changes.map(({ message }) => message),
  );
});

test('page and markdown are in it as a whole', () => {
  for (const shown of [reviewPage([files], inGerman, 'de'), reviewMarkdown([files], inGerman)]) {
    expect(shown).toContain('Was sich für die Werkbank geändert hat');
    expect(shown).toContain('Kritisch');
    expect(shown).toMatch(/\d+ Änderungen:/);
    expect(shown).not.toMatch(/What changed|Critical|The maker's manual|\bchanges:|now says|was 60/);
  }
  expect(reviewPage([files], inGerman, 'de')).toContain('<html lang="de">');
  expect(reviewPage([files])).toContain('<html lang="en">');
});
