// Every way out that a finding offers: taken, the finding is gone, and nothing that could be read is unreadable.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { CHECKS } from '../../server/checks/catalog.ts';
import type { Finding, QuickFix } from '../../server/model/finding.ts';
import { analyseText } from '../annotated.ts';

const root = join(import.meta.dirname, '../..');
const filesOf = (folder: string): Readonly<Record<string, string>> =>
  Object.fromEntries(
    readdirSync(join(root, folder))
      .filter((name) => name.endsWith('.fettle'))
      .map((name) => [name, readFileSync(join(root, folder, name), 'utf8')]),
  );
const samples = filesOf('samples');

/** A text with all edits of a fix in it. */
function taken(text: string, fix: QuickFix): string {
  return [...fix.edits]
    .sort((a, b) => b.start - a.start)
    .reduce((now, edit) => now.slice(0, edit.start) + edit.text + now.slice(edit.end), text);
}

const times = (findings: readonly Finding[], which: Finding): number =>
  findings.filter((each) => each.code === which.code && each.message === which.message).length;
const unreadable = (findings: readonly Finding[]): number =>
  findings.filter((each) => each.code.startsWith('syntax/')).length;

const cases: readonly (readonly [string, string])[] = [
  ...CHECKS.flatMap((check) =>
    [...check.page.matchAll(/```fettle\n([\s\S]*?)```/g)].map(
      (match, i) => [`${check.code.replace('/', '-')}-${i + 1}.fettle`, match[1] ?? ''] as const,
    ),
  ),
  ...Object.entries(filesOf('samples/faults')),
  ...Object.entries(filesOf('tests/manuals')),
].filter(([name, text]) => analyseText(text, samples, name).findings.some((each) => each.fixes.length > 0));

test('there are many', () => {
  expect(cases.length).toBeGreaterThan(25);
});

describe.each(cases)('%s', (name, text) => {
  const before = analyseText(text, samples, name).findings;
  const fixes = before.flatMap((finding) => finding.fixes.map((fix) => [fix.title, finding, fix] as const));

  test.each(fixes)('%s', (_title, finding, fix) => {
    const after = analyseText(taken(text, fix), samples, name).findings;
    expect(times(after, finding)).toBe(times(before, finding) - 1);
    expect(unreadable(after)).toBeLessThanOrEqual(unreadable(before));
  });
});

/** Two edits of one fix that change the same letters, in one file. */
function overlaps(fix: QuickFix): boolean {
  const edits = [...fix.edits].sort((a, b) =>
    a.file < b.file ? -1 : a.file > b.file ? 1 : a.start - b.start || a.end - b.end,
  );
  return edits.some((edit, i) => {
    const before = edits[i - 1];
    return before !== undefined && before.file === edit.file && edit.start < before.end;
  });
}

const ORDERS = [
  '1 2 3 4/5 6 7 8',
  '1 1/2 5/8 7',
  '1 2/3 4',
  '8/7/6/5/4/3/2/1',
  '1 2 3 4 / 5 6 7 8',
  '1.2.3.4/5.6.7.8',
  '1 ½ 3 4',
];

test('no fix changes the same letters twice: every page, every sample, orders that are read as fractions', () => {
  const orders = ORDERS.map(
    (order) =>
      [
        order,
        `part a\n\npart b\n\nfastener f x8 {\n  clamps a to b\n  thread M8\n  tightening-order ${order}\n}\n`,
      ] as const,
  );
  const fixes = [...cases, ...orders].flatMap(([name, text]) =>
    analyseText(text, samples, name).findings.flatMap((finding) =>
      finding.fixes.map((fix) => ({ name, code: finding.code, title: fix.title, overlaps: overlaps(fix) })),
    ),
  );
  expect(fixes.filter((each) => each.code.startsWith('torque/') && ORDERS.includes(each.name)).length).toBeGreaterThan(
    3,
  );
  expect(fixes.filter((each) => each.overlaps)).toEqual([]);
});

describe('a name that is not there', () => {
  const spec = `spec example {
  variants one
}

part block

fastener bolt {
  thread M8
  clamps block
  torque hand-tight
}

sequence build {
  phase assemble
  starts-with block
  step fit-pump {
    fit pump onto block
    seal pump with goo
    tighten nut
  }
}
`;
  const fixOf = (title: string, text = spec): string => {
    const fix = analyseText(text)
      .findings.flatMap((each) => each.fixes)
      .find((each) => each.title === title);
    expect(fix).toBeDefined();
    return fix === undefined ? '' : taken(text, fix);
  };

  test.each([
    ['Declare pump as a part', '\npart pump\n\nsequence build'],
    ['Declare goo as a supply', '\nsupply goo\n\nsequence build'],
    ['Declare nut as a fastener', '\nfastener nut\n\nsequence build'],
  ])('%s: before the sequence, not in it', (title, written) => {
    expect(fixOf(title)).toContain(written);
  });

  test('a fastener that is declared so still lacks its torque', () => {
    const codes = analyseText(fixOf('Declare nut as a fastener')).findings.map((each) => each.code);
    expect(codes).toContain('torque/missing');
  });

  test('a variant is added to the list, a source to the spec', () => {
    const text = spec.replace('torque hand-tight', 'when two { torque hand-tight per book "3" }');
    expect(fixOf('Add two to the variants of the spec', text)).toContain('variants one, two\n');
    expect(fixOf('Name book as a source in the spec', text)).toContain('{\n  source book "book"\n  variants one');
  });
});
