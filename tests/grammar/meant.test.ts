// What is meant by what is written otherwise: the finding says it, and the way out writes it. One fault, one finding.
import { describe, expect, test } from 'vitest';
import { formatText } from '../../grammar/printer.ts';
import { valuesOf } from '../../server/model/values.ts';
import { analyseText } from '../annotated.ts';
import { faultsOf, treesOf } from './trees.ts';

/** What each fault stands at, and what its ways out write there. */
const meant = (text: string): readonly (readonly [string, readonly string[]])[] =>
  faultsOf(text).map((fault) => [fault.text, fault.fixes.flatMap((fix) => fix.edits.map((edit) => edit.text))]);

describe('a statement word that is misspelt behind names', () => {
  test.each([
    ['fastener f { clamps a to b torqe 10 N.m }', 'torqe', 'torque'],
    ['fastener f { each lid tourque 10 N.m, 20 N.m }', 'tourque', 'torque'],
    ['fastener f { clamps a to b thraed M8x1.25 }', 'thraed', 'thread'],
    ['part a { covers b dimesion bore 3.5 mm }', 'dimesion', 'dimension'],
    ['part a { fixed-to shaft teeht x4 }', 'teeht', 'teeth'],
    ['part a { covers b captoin "x" }', 'captoin', 'caution'],
    ['sequence s { step t { run engine untill "warm" } }', 'untill', 'until'],
  ])('%s', (text, written, word) => {
    expect(meant(text)).toEqual([[written, [word]]]);
  });

  test.each([
    'part a { covers b upper 3, lower 4 mass 3 kg }',
    'part a { covers b inner mass 3 kg }',
    'fastener f { clamps lid left to block outer torque 10 N.m }',
  ])('a place is none: %s', (text) => {
    expect(meant(text)).toEqual([]);
  });
});

describe('a thread with a comma', () => {
  test.each([
    ['M8x1,25', 'M8x1.25'],
    ['M10 x 1,5', 'M10x1.5'],
    ['M8x1,25 left-hand', 'M8x1.25 left-hand'],
  ])('%s', (written, usual) => {
    expect(meant(`fastener f x4 { thread ${written} class 8.8 }`)).toEqual([[written, [usual]]]);
  });
});

// US 0.946353 L and imperial 1.136523 L to the quart: NIST Handbook 44 and the UK's Weights and Measures Act 1985, as in the unit tables.
describe('units that are none', () => {
  test.each([
    ['qt', ['US-qt', 'imp-qt']],
    ['quarts', ['US-qt', 'imp-qt']],
    ['gal', ['US-gal', 'imp-gal']],
    ['pint', ['US-pt', 'imp-pt']],
    ['pt', ['US-pt', 'imp-pt']],
    ['Torr', ['mmHg']],
    ['cmkg', ['kgf.cm']],
    ['psig', ['psi']],
  ])('%s', (unit, offered) => {
    expect(meant(`part a { figure b 3 ${unit} }`)).toEqual([[unit, offered]]);
  });
});

describe('a tolerance with a stroke', () => {
  test.each(['+0.02/-0.01', '+0.02 / -0.01', '-0.01/+0.02', '+0.02/ -0.01'])('%s is read as meant', (written) => {
    const text = `part a { dimension b 30 ${written} mm }`;
    expect(meant(text)).toEqual([]);
    const sorted = JSON.stringify(treesOf(text)).replace('"slash":{},', '').replace(',"slash":{}', '');
    expect(JSON.parse(sorted)).toEqual(treesOf('part a { dimension b 30 +0.02 -0.01 mm }'));
  });

  test('is laid out without blanks', () => {
    const laid = formatText('part a { dimension b 30 + 0.02 / - 0.01 mm }');
    expect(laid).toEqual({ kind: 'formatted', text: 'part a {\n  dimension b 30 +0.02/-0.01 mm\n}\n' });
  });
});

describe('a comment that begins with two strokes', () => {
  test.each(['part a { mass 3 kg } // as new, part b "x', '// part b {', 'part a {\n  // note "x"\n  mass 3 kg\n}'])(
    '%s',
    (text) => {
      expect(meant(text)).toEqual([['//', ['#']]]);
    },
  );
});

describe('minutes of a degree', () => {
  const inDegrees = (written: string): number | undefined => {
    const [view] = analyseText(`part a {\n  figure b ${written}\n}\nlimit l = a.b\n  within 1..2 deg\n`).views;
    return view === undefined ? undefined : valuesOf(view, 'limit.l')[0]?.nominal;
  };

  // 30 minutes are half a degree, 6 a tenth.
  test.each([
    ["5°30'", 5.5],
    ["-5°30'", -5.5],
    ["-0°30'", -0.5],
    ["32°6'", 32.1],
  ])('%s is %d degrees', (written, degrees) => {
    expect(inDegrees(written)).toBeCloseTo(degrees, 9);
  });

  test.each([
    ["32°75'", ["33°15'"]],
    ["-5°60'", ['-6°']],
    ["32.5°30'", []],
  ])('%s is none', (written, offered) => {
    expect(meant(`part a { figure b ${written} }`)).toEqual([[written, offered]]);
  });
});

describe('an angle at dead centre', () => {
  test.each([
    ['inlet opens 15 deg tdc', '15 deg tdc', ['btdc', 'atdc']],
    ['inlet closes 40 deg bdc', '40 deg bdc', ['bbdc', 'abdc']],
  ])('%s', (event, written, offered) => {
    expect(meant(`valve-timing v on c { ${event} }`)).toEqual([[written, offered]]);
  });

  test('a crankshaft that is set says so too; at nought it stands there', () => {
    expect(meant('sequence s { step t { set crankshaft at 15 deg tdc 1 } }')).toEqual([
      ['15 deg tdc', ['btdc', 'atdc']],
    ]);
    expect(meant('sequence s { step t { set crankshaft at 0 deg tdc 1 } }')).toEqual([]);
    expect(meant('valve-timing v on c { inlet opens 0 deg tdc }')).toEqual([]);
  });
});

describe('a word of the language that is written as two', () => {
  test.each([
    ['engine { rod length 138.00 mm }', 'rod length', ['rod-length']],
    ['engine { firing order 1-3-4-2 }', 'firing order', ['firing-order']],
    ['fastener f { hole depth 96 mm }', 'hole depth', ['hole-depth']],
    ['engine { compression ratio 9.3 }', 'compression ratio', []],
  ])('%s', (text, written, words) => {
    expect(meant(text)).toEqual([[written, words]]);
  });

  test('a figure that is worked out is named, with the limit that holds it', () => {
    expect(faultsOf('engine { compression ratio 9.3 }').map(({ message }) => message.text)).toEqual([
      expect.stringContaining('= engine.compression-ratio'),
    ]);
  });
});

describe('a name in two words, where the head goes on behind it', () => {
  test.each([
    ['limit end play of crankshaft measured', 'end play', ['end-play']],
    ['limit oil clearance = block.bore - 3 mm', 'oil clearance', ['oil-clearance']],
    ['job camshaft change of brindle-four {\n}', 'camshaft change', ['camshaft-change']],
    ['valve-timing road grind on camshaft {\n}', 'road grind', ['road-grind']],
  ])('%s', (text, written, words) => {
    expect(meant(text)).toEqual([[written, words]]);
  });

  test('a clause that is misspelt is no part of the name', () => {
    expect(meant('limit lash witin 0.20..0.30 mm')).toEqual([['witin', ['within']]]);
  });
});

describe('which way round, and how tight, as it is said at the bench', () => {
  test.each([
    ['part p { orient arrow forward }', 'forward', ['toward front']],
    ['part p { orient arrow up }', 'up', ['toward up']],
    ['part p { orient gap toward 45 deg }', '45', ['at']],
    ['fastener f { M6 class 8.8 }', 'M6', ['thread M6']],
    ['limit l measured {\n  0.05 - 0.20 mm\n}', '0.05', []],
    ['sequence s { step t { tighten sump-bolt to 9 N.m } }', '9', []],
  ])('%s', (text, written, words) => {
    expect(meant(text)).toEqual([[written, words]]);
  });

  test('a torque in a step is told where it belongs', () => {
    const [fault] = faultsOf('sequence s { step t { tighten sump-bolt to 9 N.m } }');
    expect(fault?.message.text).toContain('behind torque');
    expect(fault?.message.text).toContain('tighten sump-bolt');
  });
});

test('a count whose number is not there yet is no part of the name', () => {
  expect(meant('fastener sump-bolt x {\n  thread M6\n}')).toEqual([['x', ['']]]);
  expect(meant('part piston x "Piston" {\n  mass 398 g\n}')).toEqual([['x', ['']]]);
});

test('a name that lacks behind a word of the head is asked for by that word', () => {
  const [fault] = faultsOf('job rebuild of {\n  begins bare\n}');
  expect(fault?.message.text).toMatch(/^A name is missing after of\./);
});
