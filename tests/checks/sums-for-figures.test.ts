// Wherever a figure is written, a sum in its place is told, with what it comes to; and so is a name in it that nobody declared.
import { describe, expect, test } from 'vitest';
import type { Statement } from '../../grammar/tree.ts';
import { analyseText } from '../annotated.ts';

const INTRO = `spec sums "Sums" {
  revision 1
  source shop "Decided at Quarry Lane Engine Works"
  per shop
}

part block {
  dimension height 200 mm
  figure pull 30 N.m
  figure turn 90 deg
  figure soak 20 min
  figure warm 80 degC
}

part crankshaft
`;

const inFastener = (statement: string): string => `fastener bolt x4 {
  thread M10
  ${statement}
}`;
const inPart = (statement: string): string => `part plate {
  ${statement}
}`;
const inStep = (statement: string): string => `sequence work {
  phase assemble
  step one {
    ${statement}
  }
}`;

/** Where SUM stands there is a figure in a right spec; REF is a size of the kind that is wanted there. */
const PLACES: Partial<Record<Statement['kind'], readonly (readonly [string, string])[]>> = {
  value: [
    [inPart('wall SUM'), 'block.height'],
    [inFastener('shank SUM'), 'block.height'],
  ],
  dimension: [
    [inPart('dimension width SUM'), 'block.height'],
    [inPart('dimension width at-least SUM'), 'block.height'],
    [inPart('dimension width 20 mm wear-limit SUM'), 'block.height'],
  ],
  figure: [[inPart('figure rate SUM'), 'block.pull']],
  size: [[inPart('size over oversize SUM'), 'block.height']],
  mark: [[inPart('mark dot at SUM'), 'block.turn']],
  orient: [[inPart('orient notch at SUM'), 'block.turn']],
  timed: [[inPart('timed at SUM btdc 1'), 'block.turn']],
  torque: [
    [inFastener('torque SUM'), 'block.pull'],
    [inFastener('torque 10 N.m, SUM'), 'block.turn'],
  ],
  retorque: [[inFastener('torque 20 N.m\n  retorque SUM'), 'block.pull']],
  'draw-up': [[inFastener('draw-up SUM'), 'block.pull']],
  reuse: [[inFastener('reuse to SUM'), 'block.height']],
  crankpin: [['engine {\n  cylinders 1 inline\n  crankpin 1 at SUM\n}', 'block.turn']],
  grade: [['grades shims by block.height {\n  one SUM\n}', 'block.height']],
  phaser: [['valve-timing road {\n  phaser SUM\n}', 'block.turn']],
  stated: [['valve-timing road {\n  stated overlap SUM\n}', 'block.turn']],
  action: [[inStep('fit crankshaft into block by heat at SUM'), 'block.warm']],
  set: [[inStep('set crankshaft at SUM btdc 1'), 'block.turn']],
  rotate: [[inStep('rotate crankshaft SUM'), 'block.turn']],
  run: [
    [inStep('run engine for SUM'), 'block.soak'],
    [inStep('run engine until SUM'), 'block.warm'],
  ],
  crank: [[inStep('crank engine for SUM'), 'block.soak']],
  wait: [[inStep('wait SUM'), 'block.soak']],
};

const cases = Object.entries(PLACES).flatMap(([kind, rows]) =>
  (rows ?? []).map(
    ([text, ref]) =>
      [
        `${kind}: ${text
          .split('\n')
          .find((line) => line.includes('SUM'))
          ?.trim()}`,
        text,
        ref,
      ] as const,
  ),
);

describe('a sum in place of a figure', () => {
  test.each(cases)('%s', (_name, text, ref) => {
    const whole = `${INTRO}\n${text.replace('SUM', `${ref} + ${ref}`)}\n`;
    const { findings } = analyseText(whole);
    const found = findings.filter((each) => each.code === 'unit/sum-here');
    expect(findings.filter((each) => each.code.startsWith('syntax/')).map((each) => each.message)).toEqual([]);
    expect(found.map((each) => whole.slice(each.start, each.end).replace(/^at-least /, ''))).toEqual([
      `${ref} + ${ref}`,
    ]);
    const [fix] = found[0]?.fixes ?? [];
    const [edit] = fix?.edits ?? [];
    expect(edit, found[0]?.message).toBeDefined();
    const mended = `${whole.slice(0, edit?.start)}${edit?.text}${whole.slice(edit?.end)}`;
    const left = analyseText(mended).findings.map((each) => each.code);
    expect(left).not.toContain('unit/sum-here');
    expect(left).not.toContain('unit/wrong-kind');
    expect(left.some((code) => code.startsWith('syntax/'))).toBe(false);
  });

  test.each(cases)('and a name in it that is not there: %s', (_name, text) => {
    const whole = `${INTRO}\n${text.replace('SUM', 'blok.height')}\n`;
    const codes = analyseText(whole).findings.map((each) => each.code);
    expect(codes.filter((code) => code === 'name/unknown')).toHaveLength(1);
    expect(codes).not.toContain('unit/sum-here');
  });
});

describe('where sums are worked out they stand', () => {
  test.each([
    'limit gap = block.height - 100 mm within at-least 0.4 * block.height',
    'limit gap measured within at-most block.height wear-limit at-most 2 * block.height',
    'engine {\n  bore block.height\n}',
  ])('%s', (text) => {
    expect(analyseText(`${INTRO}\n${text}\n`).findings.map((each) => each.code)).not.toContain('unit/sum-here');
  });

  test('a bound that is a bare sum is told', () => {
    const { findings } = analyseText(`${INTRO}\nlimit gap measured within block.height\n`);
    expect(findings.filter((each) => each.code === 'unit/sum-here').map((each) => each.message)).toEqual([
      'block.height would not be worked out here: after within a figure is wanted. Write at-least or at-most before it, or the figures.',
    ]);
  });
});
