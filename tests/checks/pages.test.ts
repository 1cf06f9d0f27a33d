// Every help page: its first example gives the finding, its second does not. Every code has a page, and its title is the code.
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { helpPages } from '../../client/help-pages.mjs';
import { CHECKS } from '../../server/checks/catalog.ts';
import { analyseText, disagreements, expectations } from '../annotated.ts';

const examplesOf = (page: string): readonly string[] =>
  [...page.matchAll(/```fettle\n([\s\S]*?)```/g)].map((match) => match[1] ?? '');

/** Files that a spec is read with, each using the next. */
const inARow = (
  n: number,
  one: (i: number) => readonly [name: string, text: string],
): Readonly<Record<string, string>> => Object.fromEntries(Array.from({ length: n }, (_, i) => one(i)));

/** What stands beside the examples of a page that take more than one file. */
const BESIDE: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  'name/too-deep': inARow(13, (i) => [
    `level-${i}.fettle`,
    i === 0
      ? 'spec level-0 { revision 1 }\n'
      : `use "level-${i - 1}.fettle"\nspec level-${i} extends level-${i - 1} { revision 1 }\n`,
  ]),
  'name/too-many-files': inARow(250, (i) => [`shelf-${i}.fettle`, `use "shelf-${i + 1}.fettle"\n`]),
};

// No text gives a fault of Fettle itself: tests/workspace/contained.test.ts puts some in.
const BY_EXAMPLE = CHECKS.filter((check) => !check.code.startsWith('fettle/'));

describe.each(BY_EXAMPLE.map((check) => [check.code, check.page] as const))('%s', (code, page) => {
  const [gives, doesNot] = examplesOf(page);

  test('has a page of the right form', () => {
    expect(page.startsWith(`# ${code}\n`)).toBe(true);
    expect(page).toContain('Gives the finding:');
    expect(page).toContain('Does not:');
  });

  test('the first example gives it, and nothing that is not marked', () => {
    expect(expectations(gives ?? '').map((each) => each.code)).toContain(code);
    expect(disagreements(gives ?? '', analyseText(gives ?? '', BESIDE[code]))).toEqual([]);
  });

  test('the second example does not', () => {
    const analysis = analyseText(doesNot ?? 'no example');
    expect(analysis.findings.map((finding) => finding.code)).not.toContain(code);
    expect(disagreements(doesNot ?? '', analysis)).toEqual([]);
  });
});

test('each code is in the catalog once', () => {
  const codes = CHECKS.map((check) => check.code);
  expect(codes.filter((code, i) => codes.indexOf(code) !== i)).toEqual([]);
});

test('all of them are on one page, each under its code, for editors that open a link', () => {
  const all = helpPages(join(import.meta.dirname, '../..'));
  for (const { code } of CHECKS) expect(all).toContain(`<section id="${code}">`);
  expect(
    [...all.matchAll(/<section id="([^"]+)"/g)].map(([, code]) => code).sort(),
    'each page has its code in server/checks/catalog.ts (of the rehearsal: sequence/rehearsed.ts)',
  ).toEqual(CHECKS.map(({ code }) => code).sort());
  expect(all).toContain('<pre>fastener cover-bolt x6 {');
  expect(
    all.replace(/<\/?(?:p|pre|code|h[12]|section|html|head|body|title|style|meta|!DOCTYPE)\b[^>]*>/g, ''),
  ).not.toMatch(/[<>]/);
});
