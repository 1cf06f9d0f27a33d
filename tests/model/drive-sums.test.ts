// Sums of drives that went wrong or were not made: the ratio of crankshaft to camshaft, marked links on several wheels and links that are
// not there, when marks are back, a chain that is the next even one, stated figures in minutes. By hand where it can be.
import { describe, expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';
import { rowsOf } from './brindle-four.ts';

const HEAD =
  'spec example {\n  revision 1\n  source sheet "Brindle sheet"\n  per sheet\n}\npart crankshaft\npart camshaft\n';
const said = (text: string, code: string): readonly string[] =>
  analyseText(HEAD + text)
    .findings.filter((finding) => finding.code === code)
    .map((finding) => finding.message);

const gears = (idler: number): string => `part crank-gear {
  teeth 24
  fixed-to crankshaft
  mark dot at 12 o'clock
}
part idler-gear {
  teeth ${idler}
  mark one against crank-gear.dot
  mark two
}
part cam-gear {
  teeth 48
  fixed-to camshaft
  mark dot against idler-gear.two
}
drive gears {
  mesh crank-gear with idler-gear
  mesh idler-gear with cam-gear
  ratio crankshaft to camshaft 2:1
}
`;

describe('marks of gears are back', () => {
  // 57 teeth against 24: 24 / 57 of a turn for each of the crankshaft, so 19 turns for whole ones; with the camshaft's half, 38.
  test.each([
    [57, 38],
    [48, 2],
    [24, 2],
    [36, 6],
    [55, 110],
  ])('with an idler of %i teeth after %i turns', (idler, turns) => {
    expect(rowsOf(HEAD + gears(idler)).get('drive.gears.marks-return')?.nominal).toBe(turns);
  });

  // Turned tooth by tooth: the mark of each gear is back when the teeth gone by are a whole number of its own.
  test('turned tooth by tooth', () => {
    for (const idler of [31, 40, 57, 64]) {
      let turns = 1;
      while ((turns * 24) % idler !== 0 || (turns * 24) % 48 !== 0) turns += 1;
      expect(rowsOf(HEAD + gears(idler)).get('drive.gears.marks-return')?.nominal).toBe(turns);
    }
  });
});

describe('the ratio is of crankshaft to camshaft', () => {
  const chain = (order: string): string => `part crank-sprocket {
  teeth 18
  fixed-to crankshaft
}
part idler-shaft
part idler {
  teeth 15
  fixed-to idler-shaft
}
part cam-sprocket {
  teeth 36
  fixed-to camshaft
}
part loop {
  links 78
  pitch 9.525 mm
}
drive d {
  chain loop over ${order}
}
valve-timing road on camshaft {
  inlet opens 12 deg btdc closes 48 deg abdc
}
`;
  test.each([['crank-sprocket, idler, cam-sprocket'], ['idler, cam-sprocket, crank-sprocket']])('over %s', (order) => {
    expect(rowsOf(HEAD + chain(order)).get('drive.d.ratio')?.nominal).toBe(2);
  });
});

describe('marked links on three wheels', () => {
  const drive = (left: number, right: number, links = 150): string => `part one {
  teeth 30
  mark dot at 8 o'clock
}
part two {
  teeth 30
  mark dot at 12 o'clock
}
part three {
  teeth 30
  mark dot at 4 o'clock
}
part loop {
  links ${links}
  pitch 10 mm
}
drive d {
  chain loop over one, two, three
  centre-distance one to two 400 mm at 1 o'clock
  centre-distance one to three 400 mm at 3 o'clock
  marked-link 1 at one.dot
  marked-link ${left} at two.dot
  marked-link ${right} at three.dot
}
`;
  // A triangle of 40 pitches a side round three wheels of 30 teeth: 150 links, 50 from each mark to the next.
  test.each([
    ['right', 51, 101, []],
    ['two out on one', 53, 101, ['2 teeth']],
    ['one out on the other', 51, 102, ['1 tooth']],
    ['the first out', 54, 104, ['3 teeth']],
  ] as const)('%s', (_, left, right, out) => {
    expect(
      said(drive(left, right), 'timing/links-spacing').map((message) => /would be (\d \w+) out/.exec(message)?.[1]),
    ).toEqual(out);
  });

  test('a link that is not there', () => {
    expect(said(drive(51, 199), 'timing/links-spacing')).toEqual([expect.stringContaining('There is no link 199')]);
    expect(said(drive(0, 101), 'timing/links-spacing')).toEqual([expect.stringContaining('There is no link 0')]);
  });

  test('a chain that does not reach round', () => {
    expect(said(drive(51, 101, 148), 'timing/length')).toEqual([expect.stringContaining('150.0 links')]);
    expect(said(drive(51, 101, 152), 'timing/length')).toEqual([]);
  });
});

// 20 and 63 teeth 452 mm apart with 12.7 mm pitch: 2 · 35.59 + 41.5 + 43² / (4π² · 35.59) = 114.0 by the usual formula.
test('the next even number of links is never too long', () => {
  const chain = (links: number, distance: string): string => `part small-wheel {
  teeth 20
  fixed-to crankshaft
}
part large-wheel {
  teeth 63
  fixed-to camshaft
}
part long-chain {
  links ${links}
  pitch 12.7 mm
}
drive d {
  chain long-chain over small-wheel, large-wheel
  centre-distance small-wheel to large-wheel ${distance}
}
`;
  expect(said(chain(114, '452.0 mm'), 'timing/length')).toEqual([]);
  // 446 mm need 113.05: 114 are the next even number, 116 two more.
  expect(said(chain(114, '443.0 mm'), 'timing/length')).toEqual([]);
  expect(said(chain(116, '443.0 mm'), 'timing/length')).toHaveLength(1);
  expect(said(chain(112, '452.0 mm'), 'timing/length')).toHaveLength(1);
});

// 12 + 180 + 48 = 240 degrees; 12°20' + 180 + 48°10' = 240°30'.
test('a stated duration in minutes is compared at a minute', () => {
  const timing = (opens: string, stated: string): string =>
    `valve-timing road on camshaft {\n  inlet opens ${opens} btdc closes 48°10' abdc\n  exhaust opens 50 deg bbdc closes 14 deg atdc\n  stated inlet-duration ${stated}\n}\n`;
  expect(said(timing("12°20'", "240°30'"), 'valve-timing/stated-differs')).toEqual([]);
  expect(said(timing("12°20'", "240°40'"), 'valve-timing/stated-differs')).toHaveLength(1);
  expect(said(timing("12°20'", '241 deg'), 'valve-timing/stated-differs')).toEqual([]);
});

test.each([
  ['top-gap', 'second-gap', 1],
  ['gap-top', 'gap-second', 1],
  ['gap1', 'gap2', 1],
  ['top-ring-gap-end', 'topgap', 1],
  ['gapless-ring', 'top-gap', 0],
])('ring gaps by the word gap: %s and %s', (one, two, found) => {
  const text = `part piston x4 {\n  orient arrow toward front\n  orient ${one} at 45 deg, ${two} at 45 deg\n}\n`;
  expect(said(text, 'orientation/gaps-in-line')).toHaveLength(found);
});
