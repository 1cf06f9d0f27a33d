// Figures ten, 25.4 or 1000 times from what the trade holds usual. The usual ranges are common practice, no source; what is proved here is
// that a figure of a public manual is left alone, and the same figure with its point or its unit slipped is not.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';

const HEAD = 'spec example {\n  revision 1\n  source sheet "Brindle sheet"\n  per sheet\n}\n';
const said = (text: string, code: string): readonly string[] =>
  analyseText(HEAD + text)
    .findings.filter((finding) => finding.code === code)
    .map((finding) => finding.message);
const limit = (name: string, kind: string, within: string): string =>
  `limit ${name}\n${kind === '' ? '' : `  kind ${kind}\n`}  measured\n  within ${within}\n`;

describe('right, and slipped', () => {
  test.each([
    ['backlash', 'backlash', '0.10..0.25 mm', ['1.0..2.5 mm', '0.005..0.012 mm', '100..250 mm']],
    ['lash', 'valve-lash', '0.15..0.25 mm', ['1.5..2.5 mm', '0.15..0.25 in', '0.006..0.010 mm']],
    ['nozzle-pressure', '', '148..156 bar', ['148..156 psi', '1480..1560 bar', '14.8..15.6 bar']],
    ['oil-pressure', '', '3.0..4.5 bar', ['30..45 bar', '435..653 bar']],
    ['deck-taken-off', '', 'at-most 0.10 mm', ['at-most 0.10 in', 'at-most 5 mm']],
    ['run-out', 'runout', 'at-most 0.05 mm', ['at-most 0.05 in', 'at-most 50 mm']],
    ['end-play', 'end-play', '0.05..0.20 mm', ['2.0..2.5 mm', '0.004..0.008 mm']],
    ['squish', 'squish', '0.9..1.1 mm', ['9.0..11.0 mm', '0.035..0.044 mm']],
  ] as const)('%s', (name, kind, right, wrong) => {
    expect(said(limit(name, kind, right), 'limit/trade-range')).toEqual([]);
    for (const each of wrong)
      expect([each, said(limit(name, kind, each), 'limit/trade-range').length]).toEqual([each, 1]);
  });

  test('the other unit is named', () => {
    expect(said(limit('nozzle-pressure', '', '148..156 psi'), 'limit/trade-range')[0]).toContain(
      'Is 148..156 bar meant?',
    );
    expect(said(limit('deck-taken-off', '', 'at-most 0.10 in'), 'limit/trade-range')[0]).toContain('0.10 mm meant?');
  });
});

test('nothing is said of any sample or of any page of a public manual', () => {
  const root = join(import.meta.dirname, '../..');
  const filesOf = (folder: string): Readonly<Record<string, string>> =>
    Object.fromEntries(
      readdirSync(join(root, folder))
        .filter((name) => name.endsWith('.fettle'))
        .map((name) => [name, readFileSync(join(root, folder, name), 'utf8')]),
    );
  const files = { ...filesOf('samples'), ...filesOf('tests/manuals') };
  const codes = ['unit/amount', 'limit/wear-far', 'limit/no-value'];
  for (const [name, text] of Object.entries(files)) {
    const found = analyseText(text, files, name).findings.filter(
      (finding) => codes.includes(finding.code) || /about .* the trade holds usual/.test(finding.message),
    );
    expect([name, found.map((finding) => finding.message)]).toEqual([name, []]);
  }
});

describe('amounts', () => {
  const fill = (amount: string, whole = '4.2 L'): string => `part sump
supply engine-oil {
  kind oil
  amount ${whole}
}
sequence last-work {
  phase assemble
  starts-with sump
  step fill-oil {
    fill sump with engine-oil ${amount}
  }
}
`;
  test.each([
    ['4.2 L', 0],
    ['4.0 L', 0],
    ['1.0 L', 0],
    ['5.0 L', 0],
    ['42 L', 1],
    ['420 L', 1],
    ['0.42 L', 0],
    ['0.042 L', 1],
    ['4.2 imp-gal', 1],
    ['7 cc', 1],
  ])('%s of 4.2 L', (amount, found) => {
    expect(said(fill(amount), 'unit/amount')).toHaveLength(found);
  });
});

describe('wear limits', () => {
  const journal = (wear: string): string =>
    `part crankshaft {\n  dimension main-journal x5 47.970..47.985 mm\n    wear-limit ${wear}\n}\n`;
  test.each([
    ['47.93 mm', 0],
    ['47.5 mm', 0],
    ['4.793 mm', 1],
    ['479.3 mm', 1],
    ['47.93 in', 1],
  ])('%s', (wear, found) => {
    expect(said(journal(wear), 'limit/wear-far')).toHaveLength(found);
  });

  test('of an open bound', () => {
    const open = (wear: string): string =>
      `limit play\n  kind runout\n  measured\n  within at-most 0.05 mm\n  wear-limit ${wear}\n`;
    expect(said(open('0.12 mm'), 'limit/wear-far')).toHaveLength(0);
    expect(said(open('1.2 mm'), 'limit/wear-far')).toHaveLength(1);
  });
});
