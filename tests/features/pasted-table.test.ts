// A table from a manual as declarations: what was read, and what is left for a person.
import { describe, expect, test } from 'vitest';
import { cellsOf, fromTable } from '../../server/features/pasted-table.ts';
import { analyseText } from '../annotated.ts';

const errors = (text: string): readonly string[] =>
  analyseText(text)
    .findings.filter((each) => each.severity === 'error')
    .map((each) => `${each.code} ${each.message}`);

describe('torques', () => {
  test.each([
    [
      'of a page',
      '<table><tr><th>Bolt</th><th>Thread</th><th>Torque</th></tr><tr><td>Main cap bolt</td><td>M12 x 1.75</td><td>30 N&middot;m + 90&deg;</td></tr></table>',
      ['fastener main-cap-bolt "Main cap bolt" {', '  thread M12x1.75', '  torque 30 N.m, 90 deg'],
    ],
    [
      'between tabs, as a spreadsheet copies',
      'Item\tQty\tTorque (Nm)\tTorque (lb-ft)\nCylinder head bolt\t10\t40, 80\t30, 59\nSump bolt\t14\t9\t7\n',
      [
        'fastener cylinder-head-bolt x10 "Cylinder head bolt" {',
        '  torque 40 N.m, 80 N.m',
        'fastener sump-bolt x14 "Sump bolt" {',
        '  torque 9 N.m',
      ],
    ],
    [
      'between commas, with decimal commas and quotes',
      'Bolt,Class,Torque\n"Cover bolt, short",8.8,"9,5 N.m"\n',
      ['fastener cover-bolt-short "Cover bolt, short" {', '  class 8.8', '  torque 9.5 N.m'],
    ],
    ['in pounds', 'Rod nut | 34 lb ft\n', ['fastener rod-nut "Rod nut" {', '  torque 34 lbf.ft']],
  ])('%s', (_what, pasted, lines) => {
    const text = fromTable(pasted)?.text ?? '';
    for (const line of lines) expect(text.split('\n')).toContain(line);
    expect(errors(text)).toEqual([]);
  });
});

test('clearances become limits', () => {
  const told = fromTable(
    'Clearance;Standard (mm)\nPiston in bore;0.025 - 0.060\nCrankshaft end float;0,08 to 0,22 mm\n',
  );
  expect(told?.text).toContain('limit piston-in-bore "Piston in bore"\n  measured\n  within 0.025..0.060 mm');
  expect(told?.text).toContain('within 0.08..0.22 mm');
  expect(told?.rows).toBe(2);
  expect(errors(told?.text ?? '')).toEqual([]);
});

test('a cell that can not be read is left as a comment, and so is a row without a figure', () => {
  const told = fromTable('Bolt\tTorque\nMain bolt\t70 N.m\tsee text *\nFlywheel\tsee page 12\n');
  expect(told).toMatchObject({ rows: 1, unread: 3 });
  expect(told?.text).toContain('# Could not be read: see text *');
  expect(told?.text).toContain('# Could not be read: Flywheel | see page 12');
  expect(errors(told?.text ?? '')).toEqual([]);
});

test('what is no table gives nothing', () => {
  expect(fromTable('')).toBeUndefined();
  expect(fromTable('Torque the bolts with care.\nAlways.')).toBeUndefined();
});

test('no text of it gets out of its quotes or its comment', () => {
  const told = fromTable('Evil "} part x {\t10 N.m\tline\rpart y\n');
  const analysis = analyseText(told?.text ?? '');
  expect(analysis.file.declarations.map((each) => each.declaration.word)).toEqual(['fastener']);
});

test('names that the spec has are not taken again', () => {
  expect(fromTable('Main bolt\t70 N.m\nMain bolt\t80 N.m', new Set(['main-bolt']))?.text).toMatch(
    /fastener main-bolt-2 [\s\S]*fastener main-bolt-3 /,
  );
});

test('cells of a page keep their entities as letters', () => {
  expect(cellsOf('<tr><td>A &amp; B</td><td>5&nbsp;N.m &lt;b&gt;</td></tr>')).toEqual([['A & B', '5 N.m <b>']]);
});
