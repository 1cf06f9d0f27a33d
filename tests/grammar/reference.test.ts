// The reference page: its tables are those of the vocabulary, its examples read and check without an error.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { withTables } from '../../grammar/reference-tables.ts';
import { analyseText } from '../annotated.ts';

const page = readFileSync(join(import.meta.dirname, '../../grammar/reference.md'), 'utf8');
const examples = [...page.matchAll(/```fettle\n([\s\S]*?)```/g)].map((match) => match[1] ?? '');

test('the tables are in step with the table of words', () => {
  expect(withTables(page)).toBe(page);
  expect(page).toContain('| `tightening-order` |');
});

test('there are examples', () => {
  expect(examples.length).toBeGreaterThan(2);
});

test.each(examples)('an example is free of errors: %s', (example) => {
  expect(analyseText(example).findings.filter((finding) => finding.severity === 'error')).toEqual([]);
});
