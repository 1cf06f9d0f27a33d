// The language page's example with one fault put in: one finding, at the right place. And what looks odd and is true: nothing.
import { describe, expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';
import { BRINDLE_FOUR, changed, wrongIn } from './brindle-four.ts';

/** Everything said of a text that is not said of the example as it stands. */
function said(text: string): readonly string[] {
  const usual = new Set(analyseText(BRINDLE_FOUR).findings.map((finding) => `${finding.code} ${finding.message}`));
  return analyseText(text)
    .findings.filter((finding) => !usual.has(`${finding.code} ${finding.message}`))
    .map((finding) => `${finding.severity} ${finding.code} ${text.slice(finding.start, finding.end)}`);
}

const FAULTS: readonly (readonly [
  what: string,
  changes: readonly (readonly [string, string])[],
  expected: readonly string[],
])[] = [
  ['a torque beyond proof', [['torque 24 N.m (18 lbf.ft)', 'torque 42 N.m']], ['error torque/over-proof 42 N.m']],
  [
    'only the high end beyond proof',
    [['torque 24 N.m (18 lbf.ft)', 'torque 29 N.m']],
    ['information torque/over-proof 29 N.m'],
  ],
  [
    'a structural bolt left at its first stage',
    [['torque 20 N.m, 65 N.m', 'into iron torque 20 N.m']],
    ['warning torque/low-preload 20 N.m'],
  ],
  ['lbf.in for N.m', [['torque 9 N.m', 'torque 80 N.m']], ['warning unit/suspect 80 N.m']],
  ['kgf.m read as N.m', [['torque 20 N.m, 65 N.m', 'torque 6.5 kgf.cm']], ['warning unit/suspect 6.5 kgf.cm']],
  ['a bolt without class', [['thread M6\n  class 8.8', 'thread M6']], ['information torque/no-class sump-bolt']],
  ['an unlisted thread', [['thread M10x1.5', 'thread M10x1.4']], ['information torque/unlisted-thread M10x1.4']],
  ['a left-hand thread', [['thread M6', 'thread M6 left-hand']], ['information torque/left-hand sump-bolt']],
  [
    'too little thread',
    [
      [
        'fitted oiled\n  joint structural\n  clamps cam-plate',
        'length 25 mm hole-depth 9 mm into aluminium fitted oiled\n  joint structural\n  clamps cam-plate',
      ],
    ],
    ['warning torque/engagement 9 mm'],
  ],
  [
    'pistons that do not rise together',
    [['firing-order 1-3-4-2', 'firing-order 1-4-3-2']],
    ['error engine/firing-order-crank 1-4-3-2'],
  ],
  [
    'a rod shorter than the throw',
    [['rod-length 138.00 mm', 'rod-length 13.80 mm']],
    ['error engine/impossible 13.80 mm'],
  ],
  [
    'a stated duration',
    [['stated inlet-duration 240 deg', 'stated inlet-duration 244 deg']],
    ['error valve-timing/stated-differs 244 deg'],
  ],
  [
    'one event that two stated values contradict',
    [['closes 48 deg abdc', 'closes 58 deg abdc']],
    ['error valve-timing/stated-differs 58 deg abdc'],
  ],
  [
    'an event before bottom dead centre',
    [
      ['closes 48 deg abdc', 'closes 48 deg bbdc'],
      ['  stated inlet-duration 240 deg\n  stated separation 108 deg\n', ''],
    ],
    ['warning valve-timing/unusual 48 deg bbdc'],
  ],
  [
    'a chain too short',
    [
      ['links 56', 'links 54'],
      ['marked-link 29', 'marked-link 28'],
    ],
    ['error timing/length 135.4 ±0.3 mm'],
  ],
  [
    'a chain too long',
    [
      ['links 56', 'links 60'],
      ['marked-link 29', 'marked-link 31'],
    ],
    ['error timing/length 135.4 ±0.3 mm'],
  ],
  ['marked links one tooth out', [['marked-link 29', 'marked-link 28']], ['error timing/links-spacing 28']],
  [
    'a bore that is too large',
    [['dimension bore x4 78.400..78.418 mm', 'dimension bore x4 78.500..78.518 mm']],
    ['error limit/outside 0.030..0.060 mm'],
  ],
  [
    'a clearance that may be missed',
    [['within 0.030..0.060 mm', 'within 0.035..0.060 mm']],
    ['warning limit/select 0.035..0.060 mm'],
  ],
  [
    'the same, measured',
    [
      [
        '  = block.bore - piston.skirt\n  within 0.030..0.060 mm',
        '  = block.bore - piston.skirt\n  measured\n  within 0.035..0.060 mm',
      ],
    ],
    ['information limit/select 0.035..0.060 mm'],
  ],
  [
    'neither worked out nor measured',
    [['kind piston-clearance\n  = block.bore - piston.skirt', 'kind piston-clearance']],
    ['error limit/no-value piston-clearance'],
  ],
  [
    'a wall that shifts by the whole step',
    [['wall 2.116..2.120 mm', 'wall 2.241..2.245 mm']],
    ['error limit/size-step 2.241..2.245 mm'],
  ],
  [
    'a wall that got thinner',
    [['wall 2.116..2.120 mm', 'wall 1.866..1.870 mm']],
    ['error limit/size-step 1.866..1.870 mm'],
  ],
  [
    'a wear limit inside the new range',
    [['wear-limit 56.140 mm', 'wear-limit 56.180 mm']],
    ['warning limit/wear-inside 56.180 mm'],
  ],
];

/** Codes of the sums alone: what the rehearsal says of a changed example is another matter. */
const OF_SUMS = /^\w+ (torque|unit|engine|valve-timing|timing|limit)\//;

describe('one fault, one finding', () => {
  test.each(FAULTS)('%s', (_what, changes, expected) => {
    expect(said(changed(...changes)).filter((each) => OF_SUMS.test(each))).toEqual(expected);
  });
});

describe('true, and nothing is said', () => {
  test.each([
    ['beyond proof on purpose: single-use', [['torque 24 N.m (18 lbf.ft)', 'torque 42 N.m single-use']]],
    ['beyond proof on purpose: an angle follows', [['torque 24 N.m (18 lbf.ft)', 'torque 26 N.m, 90 deg single-use']]],
    ['a low torque into aluminium', [['torque 20 N.m, 65 N.m', 'into aluminium torque 20 N.m']]],
    ['a low torque that an angle follows', [['torque 20 N.m, 65 N.m', 'into iron single-use torque 20 N.m, 90 deg']]],
    [
      'a low snug torque before the stretch is measured',
      [['torque 20 N.m, 65 N.m', 'into iron length 80 mm torque 20 N.m stretch 0.20..0.24 mm']],
    ],
    [
      'a retorque that brings it up',
      [['torque 20 N.m, 65 N.m', 'into iron torque 20 N.m retorque 65 N.m after "an hour"']],
    ],
    ['an odd torque in both units', [['torque 9 N.m', 'torque 1.1 N.m (10 lbf.in)']]],
    [
      'a piston that stands proud',
      [
        ['block-height 216.40 ±0.05 mm', 'block-height 216.00 ±0.05 mm'],
        ['within 8.6..9.3', 'within 8.6..9.6'],
        ['within 1.3..1.7 mm', 'within 1.0..1.2 mm'],
      ],
    ],
    ['the other firing order', [['firing-order 1-3-4-2', 'firing-order 1-2-4-3']]],
    ['crankpins counted the other way', [['crankpin 2, 3 at 180 deg', 'crankpin 2, 3 at -180 deg']]],
    [
      'a stated duration rounded to whole degrees',
      [
        ['opens 12 deg btdc', 'opens 12.4 deg btdc'],
        ['stated separation 108 deg', 'stated separation 107.9 deg'],
      ],
    ],
    ['a distance rounded to whole millimetres', [['135.4 ±0.3 mm', '135 mm']]],
    [
      'links counted on from another',
      [
        ['marked-link 1 at', 'marked-link 40 at'],
        ['marked-link 29 at', 'marked-link 12 at'],
      ],
    ],
    [
      'a mark between two links',
      [
        ['marked-link 1 at', 'marked-link 1, 2 either-side-of'],
        ['marked-link 29 at', 'marked-link 29, 30 either-side-of'],
      ],
    ],
    ['a wear limit at the end of the new range', [['wear-limit 56.140 mm', 'wear-limit 56.170 mm']]],
    [
      'an undersize in inches, its wall rounded to microns',
      [['undersize 0.25 mm { wall 2.116..2.120 mm }', 'undersize 0.010 in { wall 2.118..2.122 mm }']],
    ],
    ['bounds that are touched', [['within 0.030..0.060 mm', 'within 0.030..0.058 mm']]],
  ] as const)('%s', (_what, changes) => {
    expect(said(changed(...changes)).filter((each) => OF_SUMS.test(each) && !each.startsWith('information'))).toEqual(
      [],
    );
  });
});

describe('an unreadable input silences what depends on it', () => {
  test.each([
    ['a torque without unit', [['torque 24 N.m (18 lbf.ft)', 'torque 240']], 'torque/over-proof'],
    [
      'a bore without unit',
      [['dimension bore x4 78.400..78.418 mm', 'dimension bore x4 78.500..78.518']],
      'limit/outside',
    ],
    [
      'a crankpin that can not be read',
      [['crankpin 2, 3 at 180 deg', 'crankpin 2, 3 at']],
      'engine/firing-order-crank',
    ],
    ['an event that can not be read', [['closes 48 deg abdc', 'closes abdc']], 'valve-timing/stated-differs'],
  ] as const)('%s', (_what, changes, code) => {
    const codes = wrongIn(changed(...changes));
    expect(codes.length).toBeGreaterThan(0);
    expect(codes).not.toContain(code);
  });
});

test('each way out of a wrong figure puts it right', () => {
  const faults = [
    changed(['marked-link 29', 'marked-link 28']),
    changed(['closes 48 deg abdc', 'closes 58 deg abdc']),
    changed(['wall 2.116..2.120 mm', 'wall 2.241..2.245 mm']),
    changed(['torque 9 N.m', 'torque 80 N.m']),
  ];
  for (const text of faults) {
    const finding = analyseText(text).findings.find((each) => each.fixes.length > 0 && each.severity !== 'information');
    const edits = [...(finding?.fixes[0]?.edits ?? [])].sort((first, second) => second.start - first.start);
    expect(edits.length).toBeGreaterThan(0);
    const right = edits.reduce((now, edit) => now.slice(0, edit.start) + edit.text + now.slice(edit.end), text);
    expect(wrongIn(right)).toEqual([]);
  }
});

test('a draft takes a limit without a value as information', () => {
  const text = changed(
    ['kind piston-clearance\n  = block.bore - piston.skirt', 'kind piston-clearance'],
    ['revision 3', 'revision 3 draft'],
  );
  expect(analyseText(text).findings.find((finding) => finding.code === 'limit/no-value')?.severity).toBe('information');
});

describe('tables of grades', () => {
  const table = (rows: string): readonly string[] =>
    wrongIn(`limit protrusion measured within 0.45..0.65 mm\ngrades gasket by protrusion { ${rows} }`).filter((code) =>
      code.startsWith('limit/'),
    );
  test('ends that are shared, or one last place apart, are as they should be', () => {
    expect(table('a 0.45..0.55 mm b 0.55..0.65 mm')).toEqual([]);
    expect(table('a 0.45..0.54 mm b 0.55..0.65 mm')).toEqual([]);
    expect(table('a at-most 0.55 mm b 0.55..0.65 mm c at-least 0.65 mm')).toEqual([]);
  });
  test('a hole and an overlap', () => {
    expect(table('a 0.45..0.55 mm b 0.57..0.65 mm')).toEqual(['limit/grades']);
    expect(table('a 0.45..0.56 mm b 0.55..0.65 mm')).toEqual(['limit/grades']);
  });
});
