// Every help page: its first example gives the finding, its second does not. Every code has a page, and its title is the code.
import { describe, expect, test } from 'vitest';
import { CHECKS } from '../../server/checks/catalog.ts';
import { analyseText, disagreements, expectations } from '../annotated.ts';

const examplesOf = (page: string): readonly string[] =>
  [...page.matchAll(/```fettle\n([\s\S]*?)```/g)].map((match) => match[1] ?? '');

// No text gives a fault of Fettle itself: tests/workspace/contained.test.ts puts some in.
const BY_EXAMPLE = CHECKS.filter((check) => check.code !== 'fettle/fault');

describe.each(BY_EXAMPLE.map((check) => [check.code, check.page] as const))('%s', (code, page) => {
  const [gives, doesNot] = examplesOf(page);

  test('has a page of the right form', () => {
    expect(page.startsWith(`# ${code}\n`)).toBe(true);
    expect(page).toContain('Gives the finding:');
    expect(page).toContain('Does not:');
  });

  test('the first example gives it, and nothing that is not marked', () => {
    expect(expectations(gives ?? '').map((each) => each.code)).toContain(code);
    expect(disagreements(gives ?? '', analyseText(gives ?? ''))).toEqual([]);
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
