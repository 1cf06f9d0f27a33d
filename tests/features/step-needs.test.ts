// What a step needs and what needs it, and where that is said: the cursor stands in a step; each [[ ]] is a place that leads to a step
// that it needs.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { neededBy, needing, type StepItem, stepsAt } from '../../server/features/step-needs.ts';
import type { Analysis } from '../../server/workspace/api.ts';
import { analyseText } from '../annotated.ts';
import { marked } from './marked.ts';

function stepAt(analysis: Analysis, offset: number): StepItem {
  const [step, ...more] = stepsAt(analysis, offset);
  if (step === undefined || more.length > 0) throw new Error(`${more.length} steps too many, or none`);
  return step;
}

function neededNames(analysis: Analysis, offset: number): readonly string[] {
  return neededBy(analysis, stepAt(analysis, offset).whole).map((need) => `${need.step.name}: ${need.why.join('; ')}`);
}

const PARTS = `part block

part crankshaft

part cap x5

part sump {
  covers cap
}

fastener cap-bolt x10 {
  clamps cap to block
  torque 20 N.m
}

`;
const SEQUENCE = `sequence build {
  starts-with block
  step lay {
    fit crankshaft into block
  }
  step caps {
    fit cap onto block
  }
  step bolts {
    tighten cap-bolt
  }
  step other {
    clean block
  }
  step close {
    fit sump onto block
    after other
  }
}
`;

describe('a step needs', () => {
  test('what fits the parts that its bolts hold', () => {
    const { analysis, cursor, stretches } = marked(
      PARTS + SEQUENCE.replace('tighten cap-bolt', 'tigh|ten [[cap-bolt]]'),
    );
    const [need, ...more] = neededBy(analysis, stepAt(analysis, cursor).whole);
    expect(more).toEqual([]);
    expect(need?.step.name).toBe('caps');
    expect(need?.places.map(({ start, end }) => ({ start, end }))).toEqual(stretches);
  });

  test('what it covers, and what it says with after', () => {
    const { analysis, cursor, stretches } = marked(
      PARTS + SEQUENCE.replace('fit sump onto block\n    after other', 'fit [[sump]] onto blo|ck\n    after [[other]]'),
    );
    const needs = neededBy(analysis, stepAt(analysis, cursor).whole);
    expect(needs.map((need) => need.step.name).sort()).toEqual(['caps', 'other']);
    expect(
      needs.flatMap((need) => need.places.map(({ start, end }) => ({ start, end }))).sort((a, b) => a.start - b.start),
    ).toEqual(stretches);
  });

  test('nothing, where it works on what stands there from the beginning', () => {
    const { analysis, cursor } = marked(PARTS + SEQUENCE.replace('clean block', 'clean |block'));
    expect(neededNames(analysis, cursor)).toEqual([]);
  });

  test('in a teardown, what covers and holds it', () => {
    const teardown = `sequence strip {
  phase teardown
  step pan-off {
    remove sump
  }
  step undo {
    loosen cap-bolt
  }
  step caps-off {
    remove |cap
  }
}
`;
    const { analysis, cursor } = marked(PARTS + teardown);
    expect(neededNames(analysis, cursor)).toEqual(['pan-off: takes off sump', 'undo: loosens cap-bolt']);
  });
});

test('what needs a step is the other way round', () => {
  const { analysis, cursor } = marked(PARTS + SEQUENCE.replace('step caps', 'step ca|ps'));
  expect(needing(analysis, stepAt(analysis, cursor).whole).map((need) => need.step.name)).toEqual(['bolts', 'close']);
});

test('a name of a step leads to it; outside of steps there is none', () => {
  const { analysis, cursor } = marked(PARTS + SEQUENCE.replace('after other', 'after oth|er'));
  expect(stepAt(analysis, cursor).name).toBe('other');
  expect(stepsAt(analysis, 2)).toEqual([]);
});

test('in a whole engine no step needs a later one of its job, and both ways agree', () => {
  const read = (name: string): string => readFileSync(join(import.meta.dirname, '../../samples', name), 'utf8');
  const analysis = analyseText(read('flat-twin.fettle'), {
    'common-fasteners.fettle': read('common-fasteners.fettle'),
  });
  const steps = (analysis.views[0]?.steps ?? []).flatMap((step) =>
    stepsAt(analysis, (step.placed.section.start ?? 0) + 6).filter((item) => item.name === step.name),
  );
  expect(steps.length).toBeGreaterThan(20);
  let all = 0;
  for (const step of steps)
    for (const need of neededBy(analysis, step.whole)) {
      all += 1;
      expect(needing(analysis, need.step.whole).map((each) => each.step.name)).toContain(step.name);
    }
  expect(all).toBeGreaterThan(steps.length / 2);
});
