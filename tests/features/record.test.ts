// The hover on a measured line of a record: the limit's bounds and how the value stands, at the cursor.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { hover } from '../../server/features/hover.ts';
import { measuredAt, recordsOf } from '../../server/features/record.ts';
import { analyseText } from '../annotated.ts';

const samples = join(import.meta.dirname, '../../samples');
const read = (name: string): string => readFileSync(join(samples, name), 'utf8');
const files = Object.fromEntries(['vee-six.fettle', 'common-fasteners.fettle'].map((name) => [name, read(name)]));
const text = read('build-061.fettle').replace('3: 0.38 mm', '3: 0.58 mm');
const analysis = analyseText(text, files);
const at = (words: string): number => {
  expect(text).toContain(words);
  return text.indexOf(words) + 1;
};

describe('a measured line', () => {
  test('on a value it tells of that value', () => {
    expect(measuredAt(analysis, at('4: 0.40 mm'))?.lines.map((line) => line.text)).toEqual([
      'top-ring-gap 4: 0.40 mm, within 0.34..0.50 mm, wear limit 0.80 mm: inside',
    ]);
    expect(measuredAt(analysis, at('3: 0.58 mm'))?.lines.map((line) => line.text)).toEqual([
      'top-ring-gap 3: 0.58 mm, within 0.34..0.50 mm, wear limit 0.80 mm: worn: outside the new range, inside the wear limit',
    ]);
  });

  test('on its word it tells of all its values', () => {
    expect(measuredAt(analysis, at('measured top-ring-gap'))?.lines).toHaveLength(6);
  });

  test('the hover has it first, and the value in the other system under it', () => {
    const shown = hover(analysis, at('0.14 mm'))?.markdown ?? '';
    expect(shown).toMatch(
      /^crank\\-end\\-play: 0\\\.14 mm, within 0\\\.08\\\.\\\.0\\\.24 mm, wear limit 0\\\.35 mm: inside\n/,
    );
    expect(shown).toContain('in');
  });

  test('elsewhere there is nothing of it', () => {
    expect(measuredAt(analysis, at('done fit-heads'))).toBeUndefined();
    expect(measuredAt(analysis, at('use "vee-six'))).toBeUndefined();
  });
});

test('a record without its spec still tells what it says', () => {
  const [told] = recordsOf(analyseText(text));
  expect(told?.measured).toEqual([]);
  expect(told?.steps.filter((each) => each.state === 'done')).toHaveLength(32);
  expect(told?.found).toHaveLength(2);
});
