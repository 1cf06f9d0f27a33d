// What is offered behind each clause and word that wants something of its own, and what is not.
import { describe, expect, test } from 'vitest';
import { textOf } from '../../grammar/told.ts';
import { completions } from '../../server/features/completion.ts';
import type { Completion } from '../../server/features/offered.ts';
import { marked } from './marked.ts';

const SPEC = `spec s "S" {
  revision 1
  variants saloon, van
  source manual "Workshop manual"
}

engine {
  cylinders 4 inline
}

part block {
  dimension bore x4 78.400..78.418 mm
}

part wheel {
  mark dot at 6 o'clock
}

part shell {
  places upper 1..5 into block, lower 1..5 into block
  size under-25 undersize 0.25 mm
}

part chain {
  links 56
}

fastener bolt x4 {
  thread M8x1.25
  clamps shell to block
  torque 10 N.m, 90 deg
}

limit play of block
  kind oil-clearance
  measured
  within 0.03..0.06 mm

sequence first {
  step fit-it {
    fit shell into block
  }
}

`;
const offered = (piece: string, spec = SPEC): readonly Completion[] => {
  const { analysis, cursor } = marked(spec + piece);
  return completions(analysis, cursor, {
    files: () => ['file:///a/b.fettle'],
    libraries: ['metric-bolts'],
  }).completions;
};
const labels = (piece: string, spec = SPEC): readonly string[] => offered(piece, spec).map((each) => each.label);
const step = (line: string): string => `sequence a {\n  step one {\n    ${line}\n  }\n}\n`;
const record = (line: string): string => `record r of s revision 1 {\n  ${line}\n}\n`;

describe('offers what is apt', () => {
  test.each([
    ['class', 'fastener f {\n  class |\n}\n', ['8.8', '10.9', 'grade-8'], ['single-use']],
    ['thread', 'fastener f {\n  thread |\n}\n', ['M8x1.25', 'M10x1.25', '3/8 UNC'], ['single-use']],
    ['thread, half typed', 'fastener f {\n  thread M8|\n}\n', ['M8x1.25'], ['single-use']],
    ['torque', 'fastener f {\n  torque |\n}\n', ['0 N.m', '0 deg', 'hand-tight'], ['thread']],
    ['bore', 'engine {\n  bore |\n}\n', ['block.bore'], ['stroke']],
    ['firing-order', 'engine {\n  firing-order |\n}\n', ['1-3-4-2', '1-2-4-3'], ['1-2-3', 'stroke']],
    ['a repair size that was fitted', record('fitted shell size |'), ['under-25'], ['block']],
    ['what was found', record('found shell "worn" |'), ['scrap', 'repair', 'reuse'], ['done']],
    ['begins after', 'job j of s {\n  begins after |\n}\n', ['first'], ['block', 'fit-it']],
    ['marked-link', 'drive d {\n  marked-link 1 at |\n}\n', ['wheel.dot'], ['block', 'chain']],
    ['a stage', step('tighten bolt stage |'), ['1', '2'], ['bolt']],
    ['of a record', 'record r of |\n', ['s'], ['block']],
    ['of a job', 'job j of |\n', ['s'], ['block']],
    ['of a limit', 'limit l of |\n', ['block'], ['s']],
    ['the size to machine to', step('machine shell to |'), ['under-25'], ['block', 'wheel']],
    ['the speed of a run', step('run engine at 2000 |'), ['rpm'], ['mm', 'N.m']],
    ['the time of a run', step('run engine for 20 |'), ['min', 'h'], ['mm', 'rpm']],
    ['where a shaft is set', step('set block at |'), ['tdc', 'bdc'], ['block', 'wheel']],
    ['places behind a part', step('fit shell |'), ['upper', 'lower', 'into'], []],
    [
      'the units of the kind of a limit',
      'limit l kind oil-clearance\n  measured\n  within 0.03..0.06 |\n',
      ['mm', 'in'],
      ['N.m', 'cc'],
    ],
    ['no units on the next line', 'limit l\n  measured\n  within 0.03..0.06\n  |\n', [], ['mm', 'N.m']],
    [
      'no units behind a bound',
      'limit l kind oil-clearance\n  measured\n  within 0.03..0.06 mm |\n',
      ['wear-limit'],
      ['mm', 'N.m'],
    ],
    ['codes when half of one stands there', 'part p {\n  allow torque/|\n}\n', ['torque/over-proof'], []],
    ['units straight behind a number', 'part p {\n  dimension d 90.00m|\n}\n', ['mm'], []],
    ['not the thing itself', 'part cover {\n  covers |\n}\n', ['block', 'wheel'], ['cover']],
    ['files and libraries', 'use "|"\n', ['fettle:metric-bolts'], []],
  ])('%s', (_what, piece, wanted, not) => {
    const seen = labels(piece);
    expect(seen).toEqual(expect.arrayContaining([...wanted]));
    // A name is told by its declaration, anything else by a line of help.
    expect(offered(piece).filter((each) => each.kind !== 'name' && textOf(each.help ?? '') === '')).toEqual([]);
    expect(seen.filter((each) => (not as readonly string[]).includes(each))).toEqual([]);
  });
});

test('a date is offered where one is wanted, and no part', () => {
  expect(labels(record('done fit-it on |'))).toEqual([expect.stringMatching(/^\d{4}-\d\d-\d\d$/)]);
});

test('the units of the spec come first', () => {
  const best = (units: string): readonly string[] =>
    offered('part p {\n  dimension d 3 |\n}\n', SPEC.replace('revision 1', `revision 1\n  units ${units}`))
      .filter((each) => each.rank === 0 && textOf(each.detail) === 'length')
      .map((each) => each.label);
  expect(best('metric')).toContain('mm');
  expect(best('inch')).toEqual(['in']);
});

test('the whole word is known, behind the cursor too', () => {
  const { analysis, cursor, text } = marked(`${SPEC}${step('fit wh|ole')}`);
  const { start, end } = completions(analysis, cursor);
  expect(text.slice(start, end)).toBe('whole');
});

describe('where a figure or a text is wanted next', () => {
  const BEGUN: readonly (readonly [string, readonly string[], readonly string[]])[] = [
    ['part p {\n  mass |\n}\n', ['0 g'], ['covers', 'orient']],
    ['part p {\n  wall |\n}\n', ['0..0 mm', '0 mm'], ['covers']],
    ['part p {\n  dimension d 3 mm wear-limit |\n}\n', ['0 mm'], ['covers']],
    ['part p {\n  mark dot at |\n}\n', ["12 o'clock", '0 deg'], ['covers']],
    ['part p {\n  size over-50 oversize |\n}\n', ['0 mm'], ['covers']],
    ['engine {\n  crankpin 1 at |\n}\n', ['0 deg'], ['cycle']],
    ['engine {\n  crankpin 1 |\n}\n', ['at'], ['deg', 'cycle']],
    ['limit l of block\n  kind end-play\n  within |\n', ['0..0 mm', 'at-least'], ['part']],
    ['supply x {\n  cure |\n}\n', ['0 min'], ['kind']],
    ['fastener f {\n  retorque 30 N.m after |\n}\n', [], ['thread']],
    ['sequence z {\n  step y {\n    wait |\n  }\n}\n', ['0 min'], ['fit']],
    ['sequence z {\n  step y {\n    run engine at |\n  }\n}\n', ['0 rpm'], ['fit']],
    ['sequence z {\n  step y {\n    adjust play by |\n  }\n}\n', [], ['play', 'fit']],
    ['sequence z {\n  step y {\n    lift engine with |\n  }\n}\n', [], ['block', 'fit']],
    ['record r of s |\n', ['revision'], ['part']],
    ['record r of s revision |\n', ['1'], ['part']],
    ['grades g |\n', ['by'], ['part']],
    ['record r of s revision 1 {\n  fitted shell |\n}\n', ['size', 'grade'], []],
    ['spec t extends s {\n  drop step |\n}\n', ['fit-it'], ['revision']],
    ['spec t extends s {\n  drop part |\n}\n', ['block', 'shell'], ['fit-it']],
  ];
  test.each(BEGUN)('%j', (piece, wanted, unwanted) => {
    const seen = labels(piece);
    expect(seen).toEqual(expect.arrayContaining([...wanted]));
    for (const each of unwanted) expect(seen).not.toContain(each);
  });

  test('on a new line the next statement may begin', () =>
    expect(labels('part p {\n  mass\n  |\n}\n')).toContain('covers'));
});

test('the likeliest come first: the unit of the limit, chains behind chain, supplies behind with, bolts by size', () => {
  const first = (piece: string): string => {
    const all = offered(piece);
    const [best] = [...all].sort((a, b) => a.rank - b.rank || (a.order ?? 0) - (b.order ?? 0));
    return best?.label ?? '';
  };
  expect(first('record r of s revision 1 {\n  measured play 0.04 |\n}\n')).toBe('mm');
  expect(first('part p {\n  dimension d 3 |\n}\n')).toBe('mm');
  expect(first('drive d {\n  chain |\n}\n')).toBe('chain');
  expect(first('supply oil\n\nsequence z {\n  step y {\n    lubricate shell with |\n  }\n}\n')).toBe('oil');
  expect(first('fastener f {\n  thread |\n}\n')).toBe('M5x0.8');
  expect(first('sequence z {\n  step y {\n    rotate block 2 |\n  }\n}\n')).toBe('turn');
});

test('a choice that may follow is told as what it is', () => {
  const inline = offered('engine {\n  cylinders 4 |\n}\n').find(({ label }) => label === 'inline');
  expect(textOf(inline?.help ?? '')).toBe('all in one row');
  const clockwise = offered('sequence z {\n  step y {\n    rotate block 2 turns |\n  }\n}\n').find(
    ({ label }) => label === 'clockwise',
  );
  expect(textOf(clockwise?.help ?? '')).toBe('seen from the front');
});
