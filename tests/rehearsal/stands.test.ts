// How the engine stands at a step in figures, held against what is told in words and against turning a chain by hand.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { plansOf } from '../../server/rehearsal/plan.ts';
import { standsAt, standsInPlan } from '../../server/rehearsal/stands.ts';
import { analyseText } from '../annotated.ts';

const sample = (name: string): string => readFileSync(join(import.meta.dirname, '../../samples', name), 'utf8');
const analysis = analyseText(sample('inline-four.fettle'), {
  'common-fasteners.fettle': sample('common-fasteners.fettle'),
});
const [view] = analysis.views;
if (view === undefined) throw new Error('no view');
const stepOf = (name: string) => {
  const step = view.sequences.flatMap((sequence) => sequence.steps).find((each) => each.name === name);
  if (step === undefined) throw new Error(`no step ${name}`);
  return step;
};
const at = (name: string, job?: string) => {
  const found = standsAt(view, analysis.file.file, stepOf(name), job);
  if (found === undefined) throw new Error(`${name} is not done`);
  return found;
};

test('the chain goes on by its marks, and two turns later its links are 42 of 60 on while every mark is back', () => {
  expect(at('fit-timing-set').after.drives.get('cam-drive')).toEqual({
    whole: true,
    turned: new Map([
      ['crank-sprocket', 0],
      ['cam-sprocket', 0],
    ]),
    links: 0,
  });
  const proved = at('prove-timing').after.drives.get('cam-drive');
  // 21 teeth, two turns: 42 links have passed the crank sprocket. The crank sprocket has turned 720 degrees, the other 360.
  expect(proved?.links).toBe(42);
  expect(proved?.turned.get('crank-sprocket')).toBe(720);
  expect(proved?.turned.get('cam-sprocket')).toBe(360);
  expect(at('find-tdc').after.drives.get('cam-drive')?.whole).toBe(false);
});

test('what is on, what covers it, what is held back', () => {
  expect(at('fit-timing-set').after.heldBack).toEqual(new Set(['chain-tensioner']));
  expect(at('let-tensioner-go').after.heldBack).toEqual(new Set());
  const cover = at('fit-timing-cover');
  expect(cover.before.coveredBy.get('crank-sprocket')).toBeUndefined();
  expect(cover.after.coveredBy.get('crank-sprocket')).toBe('timing-cover');
  expect(cover.before.on.get('timing-cover')).toBe(0);
  expect(cover.after.on.get('timing-cover')).toBe(1);
  // Four rods, fitted cylinder by cylinder: the step counts when all are in.
  expect(at('fit-rods').before.on.get('connecting-rod')).toBe(0);
  expect(at('fit-rods').after.on.get('connecting-rod')).toBe(4);
  expect(at('find-tdc').after.crank).toBe('at top dead centre 1 on compression');
});

test('each step of each job is there, and a step of another job is not', () => {
  for (const plan of plansOf(view, analysis.file.file)) {
    const all = standsInPlan(view, analysis.file.file, plan);
    expect([...all.keys()].map((step) => step.name)).toEqual(
      plan.sequences.flatMap((sequence) => sequence.steps.map((step) => step.name)),
    );
  }
  expect(standsAt(view, analysis.file.file, stepOf('chain-off'), 'full-rebuild')).toBeUndefined();
});
