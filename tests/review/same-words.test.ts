// The page and the markdown of a review say the same words for the same things: every change of the samples, once in each, with its old and its
// new text.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { reviewMarkdown } from '../../server/review/markdown.ts';
import { reviewPage } from '../../server/review/page.tsx';
import { placedChange } from '../../server/review/placed-change.ts';
import { reviewSpecs } from '../../server/review/review.ts';
import { analyseText } from '../annotated.ts';

const samples = join(import.meta.dirname, '../../samples');
const read = (name: string): string => readFileSync(join(samples, name), 'utf8');

const ENTITIES: ReadonlyMap<string, string> = new Map([
  ['lt', '<'],
  ['gt', '>'],
  ['amp', '&'],
  ['quot', '"'],
]);

/** References of characters as the characters that they stand for. */
function decoded(text: string): string {
  return text
    .replace(/&#x([\da-f]+);/gi, (_all, code: string) => String.fromCodePoint(Number.parseInt(code, 16)))
    .replace(/&#(\d+);/g, (_all, code: string) => String.fromCodePoint(Number(code)))
    .replace(/&(lt|gt|amp|quot);/g, (_all, name: string) => ENTITIES.get(name) ?? '');
}

const words = (text: string): readonly string[] =>
  text
    .replace(/\u200b/g, '')
    .split(/\s+/)
    .filter((each) => each !== '')
    .sort();

function wordsOfPage(page: string): readonly string[] {
  const body = page
    .replace(/^.*<body>/s, '')
    .replace(/<(?:p|li|dt|dd|h\d|span|div)\b[^>]*>|<\/\w+>/g, ' ')
    .replace(/<[^>]*>/g, ' ');
  return words(decoded(body));
}

function wordsOfMarkdown(text: string): readonly string[] {
  const plain = text
    .replace(/^(?:#+|- | {2}- )/gm, '')
    .replace(/^(Old|New): /gm, '$1 ')
    .replace(/\*\*?/g, ' ');
  return words(decoded(plain));
}

const PAIRS = [
  [read('review/brindle-pony-1.fettle'), read('review/brindle-pony-2.fettle')],
  // A whole sample with figures, places and texts altered in it.
  [
    read('inline-four.fettle'),
    read('inline-four.fettle')
      .replace(/revision 4/, 'revision 5')
      .replace(/caution "The plunger[^"]*"/g, 'caution "Keep *both* hands <b>clear</b> & pin it."')
      .replace(/torque 110 N\.m/, 'torque 105 N.m')
      .replace(/within 0\.33\.\.0\.50 mm/, 'within 0.35..0.50 mm'),
  ],
] as const;

test.each(PAIRS)('pair %#', (old, now) => {
  const common = { 'common-fasteners.fettle': read('common-fasteners.fettle') };
  const changes = reviewSpecs(analyseText(old, common), analyseText(now, common));
  expect(changes.length).toBeGreaterThan(2);
  const place = { file: 'spec.fettle', start: { line: 7, column: 1 }, end: { line: 7, column: 2 } };
  const files = {
    old: 'spec.fettle',
    new: 'spec.fettle',
    changes: changes.map((each) => placedChange(each, () => place)),
  };
  const [page, markdown] = [reviewPage([files]), reviewMarkdown([files])];
  expect(wordsOfMarkdown(markdown)).toEqual(wordsOfPage(page));
  const said = decoded(markdown).replace(/\u200b/g, '');
  for (const { old: before, new: after } of changes)
    for (const side of [before, after]) if (side !== undefined) expect(said).toContain(side.replace(/\s+/g, ' '));
});
