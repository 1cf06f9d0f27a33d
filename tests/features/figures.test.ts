// Worked-out figures where they are read in the editor: in the hover and above declarations. The sums have tests of their own.
import { expect, test } from 'vitest';
import { headlines } from '../../server/features/hints.ts';
import { hover } from '../../server/features/hover.ts';
import { analyseText } from '../annotated.ts';

const text = `spec small-single "Small single" {
  revision 1
  variants road, trials
}

engine {
  cylinders 1 inline
  cycle four-stroke
  bore 71.30 mm
  stroke 66.40 mm
  rod-length 121.00 mm
  block-height 184.10 mm
  compression-height 29.60 mm
  chamber 30.0 cc
  when road { dish 2.0 cc }
  when trials { dish 6.0 cc }
  gasket-bore 73.0 mm
  gasket-thickness 1.00 mm
}

part head
part barrel

fastener head-bolt x4 {
  thread M8x1.25
  class 8.8
  fitted oiled
  joint structural
  clamps head to barrel
  torque 10 N.m, 22 N.m
}
`;
const analysis = analyseText(text, {}, 'small-single.fettle');
const above = (line: string): string | undefined => {
  const start = text.indexOf(line);
  return headlines(analysis).find(({ offset }) => offset >= start && offset < start + line.length)?.text.text;
};

test('where variants differ, the line above tells each', () => {
  expect(above('engine {')).toMatch(/compression [\d.]+:1 \(road\); compression [\d.]+:1 \(trials\)/);
  expect(above('engine {')).toMatch(/^265\.1\d cc/);
});

test('the share of proof load is told in percent, of the last stage alone', () => {
  expect(above('fastener head-bolt x4 {')).toMatch(/^\d+ to \d+ % of proof load$/);
});

test('the hover names figures in plain words', () => {
  const shown = hover(analysis, text.indexOf('head-bolt') + 2)?.markdown ?? '';
  expect(shown).toMatch(/stage 2, 22 N.*of its proof load/);
  expect(shown).not.toMatch(/proof.?-share/);
});

// 265.12 cc are 16.18 in3: the exact inch of 25.4 mm.
test('a spec in inches has inches first, above a declaration and in the hover', () => {
  const inches = analyseText(text.replace('revision 1', 'revision 1\n  units inch'), {}, 'small-single.fettle');
  const told = headlines(inches).map((each) => each.text.text);
  expect(told.some((each) => /^16\.18 in3 \(265\.1\d cc\)/.test(each))).toBe(true);
});

test('where most engines come to lie is told as finely as the bounds', () => {
  const written =
    'part a {\n  dimension d 10.000..10.012 mm\n}\n\npart b {\n  dimension d 9.960..9.970 mm\n}\n\nlimit play\n  = a.d - b.d\n  within 0.020..0.060 mm\n';
  const shown = hover(analyseText(written), written.indexOf('limit play') + 'limit '.length)?.markdown ?? '';
  expect(shown.replaceAll('\\', '')).toMatch(/0\.030 to 0\.052 mm .*, mostly 0\.0\d\d to 0\.0\d\d: inside/);
});
