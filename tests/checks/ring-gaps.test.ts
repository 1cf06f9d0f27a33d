// Ring gaps that are told from each other: an angle goes on from where the other feature stands. The sums are of degrees alone.
import { expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';

const said = (...rules: readonly string[]): readonly string[] =>
  analyseText(`part piston x4 {\n${rules.map((rule) => `  orient ${rule}\n`).join('')}}\n`)
    .findings.filter((finding) => finding.code.startsWith('orientation/gaps'))
    .map((finding) => `${finding.code}: ${finding.message}`);

test('90 and 120 on from it are 120 apart, not 30', () => {
  expect(said('top-gap at 90 deg', 'second-gap at 120 deg from top-gap')).toEqual([]);
});

test('the same figure from each other is no line through', () => {
  expect(
    said('top-gap at 100 deg', 'second-gap at 100 deg from top-gap', 'third-gap at 100 deg from second-gap'),
  ).toEqual([]);
});

test('20 on from it is close, wherever it stands', () => {
  expect(said('top-gap at 60 deg', 'second-gap at 20 deg from top-gap')).toEqual([
    'orientation/gaps-close: second-gap is 20 degrees from top-gap. 120 degrees is common for three rings, and less than 45 is close.',
  ]);
});

test('a whole turn on from it is one line', () => {
  expect(said('top-gap at 60 deg', 'second-gap at 360 deg from top-gap')[0]).toContain('orientation/gaps-in-line');
});

test('nothing is said where it is not known from where an angle counts, nor where two count from each other', () => {
  expect(said('top-gap at 60 deg', 'second-gap at 60 deg from arrow', 'arrow toward exhaust')).toEqual([]);
  expect(said('top-gap at 10 deg from second-gap', 'second-gap at 10 deg from top-gap')).toEqual([]);
});

test('gaps told from a mark whose place nobody knows are held against each other', () => {
  const rings = (second: number): string => `part piston x2 { orient arrow toward exhaust }
part top-ring x2 { orient gap at 155 deg from piston.arrow }
part second-ring x2 { orient gap at ${second} deg from piston.arrow }
`;
  const codes = (text: string): readonly string[] =>
    analyseText(text).findings.flatMap(({ code }) => (code === 'orientation/gaps-in-line' ? [code] : []));
  expect(codes(rings(155))).toEqual(['orientation/gaps-in-line']);
  expect(codes(rings(205))).toEqual([]);
});

test('a mark of one name on a rod and its cap looks to one side', () => {
  const pair = (mark: string, cap: string): readonly string[] =>
    analyseText(`part rod x4 { matched orient ${mark} toward up }
part rod-cap x4 { matched orient ${mark} toward ${cap} }
`).findings.flatMap(({ code }) => (code === 'orientation/pair' ? [code] : []));
  for (const mark of ['forge-mark', 'dot', 'match-letter']) {
    expect(pair(mark, 'down')).toEqual(['orientation/pair']);
    expect(pair(mark, 'up')).toEqual([]);
  }
});
