// The index of needs: each piece of a spec in it is read, laid out, and has no fault but that the rest of the spec is not there.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { formatText } from '../../grammar/printer.ts';
import { analyseText } from '../annotated.ts';

const page = readFileSync(join(import.meta.dirname, '../../grammar/how-to-say.md'), 'utf8');
const entries = [...page.matchAll(/^\*\*(.+)\*\*\n\n```fettle\n([\s\S]*?)```/gm)].map(
  (match) => [match[1] ?? '', match[2] ?? ''] as const,
);

/** What can only be so in a whole spec: names that are declared elsewhere, work that other steps do. */
const OF_THE_WHOLE = /^(?:name\/(?:unknown|unused)|record\/|sequence\/|torque\/missing|limit\/no-value|source\/)/;

test('there are many, and each is told once', () => {
  expect(entries.length).toBeGreaterThan(40);
  expect(new Set(entries.map(([what]) => what)).size).toBe(entries.length);
  expect(page.match(/```fettle/g)).toHaveLength(entries.length);
});

describe.each(entries)('%s', (_what, piece) => {
  test('is written rightly', () => {
    const found = analyseText(piece).findings.filter(
      (each) => each.severity !== 'information' && !OF_THE_WHOLE.test(each.code),
    );
    expect(found.map((each) => `${each.code} ${each.message}`)).toEqual([]);
  });

  test('stands in the canonical layout', () => {
    expect(formatText(piece)).toEqual({ kind: 'formatted', text: piece });
  });
});

test('the first hour, typed along, is a spec in which nothing is wrong; each mistake that it asks for is told', () => {
  const hour = readFileSync(join(import.meta.dirname, '../../grammar/first-hour.md'), 'utf8');
  const whole = [...hour.matchAll(/```fettle\n([\s\S]*?)```/g)].map((match) => match[1] ?? '').join('\n');
  const codes = (text: string): readonly string[] => analyseText(text).findings.map((each) => each.code);
  expect(codes(whole)).toEqual([]);
  expect(formatText(whole)).toEqual({ kind: 'formatted', text: whole });
  expect(codes(whole.replace('(16 lbf.ft)', '(61 lbf.ft)'))).toContain('unit/restated-differs');
  const measured = '    measure pump-end-play with "feeler gauge"\n';
  const late = whole.replace(measured, '').replace('    tighten sump-bolt\n', `    tighten sump-bolt\n${measured}`);
  expect(codes(late)).toContain('sequence/measured-late');
});
