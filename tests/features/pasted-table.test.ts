// A table from a manual as declarations: what was read, and what is left for a person.
import { describe, expect, test } from 'vitest';
import { fromTable } from '../../server/features/pasted-table.ts';
import { cellsOf } from '../../server/features/table-cells.ts';
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
  expect(told).toMatchObject({ rows: 1, unread: 2 });
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

describe('of a page of the web', () => {
  test('a bolt whose name reaches over several rows has the figures of all of them as stages', () => {
    const told = fromTable(
      '<html><head><style>td { width: 3 }</style></head><body><!--StartFragment--><table><thead><tr><th rowspan="2">Bolt</th><th>Thread</th><th colspan="2">Torque</th></tr>' +
        '<tr><th></th><th>stage</th><th>N&middot;m</th></tr></thead><tbody>' +
        '<tr><td rowspan="3">Cylinder head bolts</td><td rowspan="3">M10 x 1.5</td><td>Stage 1</td><td>20</td></tr>' +
        '<tr><td>Stage 2</td><td>60</td></tr><tr><td>Stage 3</td><td>90&deg;</td></tr>' +
        '<tr><td>Sump bolts</td><td>M6</td><td></td><td>9</td></tr></tbody></table><!--EndFragment--></body></html>',
    );
    expect(told).toMatchObject({ rows: 2, unread: 0 });
    expect(told?.text).toContain('"Cylinder head bolts" {\n  thread M10x1.5\n  torque 20 N.m, 60 N.m, 90 deg\n}');
    expect(told?.text).toContain('"Sump bolts" {\n  thread M6\n  torque 9 N.m\n}');
    expect(errors(told?.text ?? '')).toEqual([]);
  });

  test('stages on lines of one cell are stages, and a name on two lines is one name', () => {
    const told = fromTable('<tr><td>Main cap<br>bolts</td><td>30 N.m<br>60 N.m<br/>+ 90°</td></tr>');
    expect(told?.text).toContain('fastener main-cap-bolts "Main cap bolts" {\n  torque 30 N.m, 60 N.m, 90 deg\n}');
  });

  test('the mark of a footnote is no digit', () => {
    const told = fromTable(
      '<table><tr><td>Rod bolt</td><td>30<sup>1</sup> N.m</td></tr><tr><td>Cap bolt</td><td>70 N.m</td></tr></table>',
    );
    expect(told?.text).not.toMatch(/torque 30/);
    expect(told?.text).toContain('# Could not be read: Rod bolt | 30^1 N.m');
    expect(told?.text).toContain('torque 70 N.m');
  });

  test('what is not shown is not read', () => {
    const hidden = '<script>var a = "<td>9 N.m</td>"</script><!-- <tr><td>Old bolt</td><td>5 N.m</td></tr> -->';
    expect(cellsOf(`<table>${hidden}<tr><td>A</td><td>1</td></tr></table>`)).toEqual([['A', '1']]);
  });

  test('no long or broken text takes long', () => {
    const bombs = [
      '<tr><td '.repeat(20_000),
      '<tr><!--'.repeat(20_000),
      '<tr><td>&'.repeat(20_000),
      `<tr><td rowspan=999 colspan=999>${'\n '.repeat(90_000)}`,
    ];
    for (const bomb of bombs) expect(cellsOf(bomb).length).toBeLessThan(500);
  });
});

describe('commas between figures', () => {
  test('are decimal where only so the rows are as long as each other', () => {
    expect(cellsOf('Bolt, Torque (N.m)\nSump, 9,5\nHead, 80,0')).toEqual([
      ['Bolt', 'Torque (N.m)'],
      ['Sump', '9,5'],
      ['Head', '80,0'],
    ]);
  });

  test('divide where only so the rows are as long as each other', () => {
    expect(cellsOf('Bolt,Qty,Nm\nSump,14,9\nHead,10,80')[1]).toEqual(['Sump', '14', '9']);
  });

  test('are asked about where both would do: nothing is guessed', () => {
    const told = fromTable('Sump bolt,9,5 N.m\nCap bolt, 70 N.m, oiled\nRod bolt, 30,5 N.m');
    expect(told?.text).not.toMatch(/torque (?:9|5|9\.5|30)/);
    expect(told?.text).toContain('# Could not be read: Sump bolt | 9,5 N.m (one figure, or two?)');
  });

  test('in quotes belong to their cell, as a line that ends in it does', () => {
    expect(cellsOf('"Bolt, ""long""","Torque\nN.m"\nMain,9')).toEqual([
      ['Bolt, "long"', 'Torque\nN.m'],
      ['Main', '9'],
    ]);
  });
});

test('a row without a name is not taken for a stage where nothing says so', () => {
  const told = fromTable('Bolt\tThread\tTorque\nManifold\tM8\t20 N.m\n\t\t25 N.m\n\tM10\t40 N.m');
  expect(told?.text).toContain('fastener manifold "Manifold" {\n  thread M8\n  torque 20 N.m\n}');
  expect(told?.text).toContain('fastener manifold-2 "Manifold" {\n  thread M10\n  torque 40 N.m\n}');
  expect(told?.text).toMatch(/# Could not be read: .*25 N\.m/);
});
