// The bench sheet: what a rebuilder needs is on it, and no text of a spec can be more than text.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { sheetPage } from '../../server/sheet/page.tsx';
import { analyseText } from '../annotated.ts';

const root = join(import.meta.dirname, '../..');
const sample = (name: string): string => readFileSync(join(root, 'samples', name), 'utf8');

function pageOf(text: string, files: Readonly<Record<string, string>> = {}): string {
  const view = analyseText(text, files).views[0];
  return view === undefined ? '' : sheetPage(view, 0);
}

test('steps, stages in both units, cautions, limits and blanks are there', () => {
  const page = pageOf(sample('inline-four.fettle'), { 'common-fasteners.fettle': sample('common-fasteners.fettle') });
  for (const wanted of [
    "The maker's manual",
    'To lay out',
    'Table of limits',
    'Fasteners',
    'lbf.ft',
    'Caution.',
    'measured',
    'done by',
    'as the bolts lie',
  ])
    expect(page).toContain(wanted);
});

const NASTY = [
  '<script>alert(1)</script>',
  '<img src=x onerror=alert(1)>',
  "'-alert(1)-'",
  '</style><script>alert(1)</script>',
  '&lt;b&gt;',
  'javascript:alert(1)',
  '{{constructor}}',
];

test.each(NASTY)('text can do nothing: %s', (nasty) => {
  const quoted = nasty.replace(/\\/g, '\\\\').replace(/"/g, '\\"');
  const text = `spec a "${quoted}" {\n  source manual "${quoted}"\n}\n\npart block "${quoted}" {\n  orient arrow toward front\n}\n\nfastener bolt "${quoted}" x2 {\n  thread M8\n  torque 20 N.m\n}\n\nsupply oil "${quoted}"\n\nlimit play "${quoted}"\n  measured\n  within 1..2 mm\n\nsequence s "${quoted}" {\n  phase assemble\n  step t "${quoted}" {\n    tool "${quoted}"\n    caution "${quoted}"\n    note "${quoted}"\n    hold-point "${quoted}"\n    inspect block for "${quoted}"\n    fit block\n    tighten bolt\n    measure play with "${quoted}"\n  }\n}\n`;
  const page = pageOf(text);
  const plain = pageOf(text.replaceAll(quoted, 'plain'));
  const tags = (html: string): readonly string[] => html.match(/<\/?[a-z][^>]*>/gi) ?? [];
  expect(tags(page)).toEqual(tags(plain));
  expect(page).not.toMatch(/<script/i);
  expect(page).toContain("default-src 'none'");
});
