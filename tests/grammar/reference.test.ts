// The reference page: its tables are those of the vocabulary, its examples are free of errors and in the canonical layout,
// what it says of reading is so.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { formatText } from '../../grammar/printer.ts';
import { choiceRows, exampleOf, withTables } from '../../grammar/reference-tables.ts';
import { DECLARATIONS } from '../../grammar/vocabulary.ts';
import { analyseText } from '../annotated.ts';
import { faultsOf } from './trees.ts';

const page = readFileSync(join(import.meta.dirname, '../../grammar/reference.md'), 'utf8');
const files = { 'brindle-four.fettle': readFileSync(join(import.meta.dirname, 'language-1.fettle'), 'utf8') };
const examples = [...page.matchAll(/```fettle\n([\s\S]*?)```/g)].map((match) => match[1] ?? '');

test('the tables are in step with the table of words', () => {
  expect(withTables(page)).toBe(page);
  expect(page).toContain('| `tightening-order` |');
});

test('every declaration has a chapter, and every link leads to one', () => {
  const titles = [...page.matchAll(/^#{2,3} (.*)$/gm)].map((match) => match[1] ?? '');
  for (const { word } of DECLARATIONS) expect(titles.join(' ') + page).toContain(word === 'when' ? '`when ' : word);
  const anchors = titles.map((title) =>
    title
      .toLowerCase()
      .replace(/[^a-z -]/g, '')
      .replace(/ /g, '-'),
  );
  const links = [...page.matchAll(/\]\(#([a-z-]+)\)/g)].map((match) => match[1] ?? '');
  expect(links.length).toBeGreaterThan(15);
  for (const link of links) expect(anchors).toContain(link);
});

/** What an example stands in: its block, in a sequence where that is a step. */
const inBlock = (block: string, example: string): string =>
  block === 'step'
    ? `sequence s {\n  step one {\n    ${example}\n  }\n}\n`
    : block === 'record' || block === 'job'
      ? `${block} one of brindle-four {\n  ${example}\n}\n`
      : block === 'valve-timing'
        ? `${block} one on camshaft {\n  ${example}\n}\n`
        : `${block}${block === 'engine' ? '' : ' one'} {\n  ${example}\n}\n`;

test('every choice has an example with the choice in it, which is read wherever it may stand', () => {
  const wrong = choiceRows().flatMap(({ row, choice }) => {
    const example = exampleOf(row, choice);
    return row.in.flatMap((block) =>
      example.split(/[ ,]/).includes(choice) && faultsOf(inBlock(block, example)).length === 0
        ? []
        : [`${block} ${row.word} ${choice}: ${example}`],
    );
  });
  expect(wrong).toEqual([]);
  expect(choiceRows().length).toBeGreaterThan(80);
});

test('there are examples', () => {
  expect(examples.length).toBeGreaterThan(12);
});

describe.each(examples)('an example: %s', (example) => {
  test('has no error and no warning', () => {
    const findings = analyseText(example, files, 'example.fettle').findings;
    expect(findings.filter((each) => each.severity !== 'information').map((each) => each.message)).toEqual([]);
  });

  test('stands in the canonical layout', () => {
    expect(formatText(example)).toEqual({ kind: 'formatted', text: example });
  });
});

/** The rows of a table of pairs: each way of writing it, and how it is properly written. */
function pairs(name: string): readonly (readonly [string, string])[] {
  const start = page.indexOf(`<!-- pairs: ${name} -->`);
  const table = page.slice(start, page.indexOf('<!-- end of pairs -->', start));
  return table.split('\n').flatMap((line) => {
    const cells = line.split('|').map((cell) => [...cell.matchAll(/`([^`]+)`/g)].map((match) => match[1] ?? ''));
    return (cells[1] ?? []).map((written) => [written, cells[2]?.[0] ?? ''] as const);
  });
}

const inPart = (value: string): string => `part p {\n  dimension d ${value}\n}\n`;

test.each(pairs('meant'))('%s is read as %s', (written, proper) => {
  expect(faultsOf(inPart(written))).toEqual([]);
  expect(formatText(inPart(written))).toEqual({ kind: 'formatted', text: inPart(proper) });
});

test.each(pairs('found'))('%s is found, and leads to %s', (written, proper) => {
  const text = inPart(written);
  const [fault] = faultsOf(text);
  const [edit] = fault?.fixes[0]?.edits ?? [];
  if (edit === undefined) throw new Error('no way out is offered');
  const mended = text.slice(0, edit.start) + edit.text + text.slice(edit.end);
  expect(faultsOf(mended)).toEqual([]);
  expect(formatText(mended)).toEqual({ kind: 'formatted', text: inPart(proper) });
});
