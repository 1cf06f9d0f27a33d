// What is shown of a text: hover, the form of a statement, selection, folds, colours, hints.
import { describe, expect, test } from 'vitest';
import { headlines, unitHints } from '../../server/features/hints.ts';
import { hover } from '../../server/features/hover.ts';
import { folds, isMeant, outline } from '../../server/features/outline.ts';
import { selectionAt } from '../../server/features/selection.ts';
import { signature } from '../../server/features/signature.ts';
import { semanticTokens } from '../../server/features/tokens.ts';
import { marked } from './marked.ts';

const said = (written: string): string => {
  const { analysis, cursor } = marked(written);
  return hover(analysis, cursor)?.markdown ?? '';
};

describe('hover', () => {
  test('on a word tells what it is for, with an example', () => {
    expect(said('fastener f {\n  tor|que 9 N.m\n}\n')).toMatch(/\*\*torque\*\*.*```fettle\ntorque/s);
  });

  test('on a name shows its declaration and what is worked out', () => {
    const text = said(
      'part block\n\npart lid "The lid"\n\nfastener bolt x4 {\n  thread M8x1.25\n  class 8.8\n  fitted oiled\n  clamps lid to block\n  torque 20 N.m\n}\n\nsequence s {\n  step t {\n    tighten bo|lt\n  }\n}\n',
    );
    expect(text).toContain('fastener bolt x4 {');
    expect(text).toMatch(/proof/);
    expect(said('part l|id "The lid"\n')).toContain('The lid');
  });

  test('on a figure gives the other unit system', () => {
    expect(said('part p {\n  dimension d 25.4|0 mm\n}\n')).toContain('1\\.0000 in');
  });

  test('on a finding adds its help', () => {
    expect(said('fastener f {\n  thread M6\n  torque 9|\n}\n')).toContain('Nobody can know');
  });

  test('on a figure of the engine works it out', () => {
    const text = said(
      'engine {\n  bore 80 mm\n  stroke 80 mm\n  cylinders 4 inline\n}\n\nlimit l\n  = engine.displ|acement\n  within 1600..1610 cc\n',
    );
    expect(text).toContain('engine\\.displacement');
  });

  test('takes no markup out of a spec', () => {
    expect(said('part l|id "<img src=x> [a](b)"\n').split('```')[0]).not.toMatch(/(?<!\\)<img|(?<!\\)\[a/);
  });
});

describe('the form of a statement', () => {
  const active = (written: string): string | undefined => {
    const { analysis, cursor } = marked(written);
    const found = signature(analysis, cursor);
    const piece = found?.pieces[found.active];
    return piece === undefined ? undefined : found?.label.slice(...piece);
  };
  const step = (line: string): string => `part a\n\npart b\n\nsequence s {\n  step t {\n    ${line}\n  }\n}\n`;

  test.each([
    ['part p {\n  dimension |\n}\n', 'NAME'],
    ['part p {\n  dimension bore |\n}\n', 'xCOUNT'],
    ['part p {\n  dimension bore x4 |\n}\n', 'SIZE'],
    ['part p {\n  dimension bore x4 3 mm |\n}\n', 'wear-limit SIZE'],
    [step('fit |'), 'PART, …'],
    [step('fit a, |'), 'PART, …'],
    [step('fit a |'), 'into|onto PART'],
    [step('fit a onto |'), 'into|onto PART'],
    [step('fit a onto b |'), 'together'],
    ['valve-timing v on s {\n  inlet opens 12 deg btdc |\n}\n', 'closes ANGLE EVENT'],
  ])('%j', (written, piece) => {
    expect(active(written)).toBe(piece);
  });

  test('is not shown where a statement takes one piece, nor on the line after', () => {
    expect(active('part p {\n  mass |\n}\n')).toBeUndefined();
    expect(active('part p {\n  dimension bore x4 3 mm\n  |\n}\n')).toBeUndefined();
  });

  test.each([
    ['inside a note', step('note "fit | it"')],
    ['in the quotes of a clause', step('measure l with "dial | gauge"')],
    ['in a comment', step('fit a # onto | b')],
    ['once all of it is written', step('measure l with "dial gauge" otherwise "grind it" |')],
    ['on the next line', step('fit a onto b\n    |')],
    ['where a single piece is wanted', 'part p {\n  mass |\n}\n'],
    ['between declarations', 'part a\n\n|\n\npart b\n'],
  ])('is not shown %s', (_where, written) => expect(active(written)).toBeUndefined());
});

test('a selection grows from name to figure to statement to braces to declaration', () => {
  const { analysis, text, cursor } = marked('part block\n\npart p x4 {\n  dimension bore 78.4|00..78.418 mm\n}\n');
  const grown = selectionAt(analysis, cursor).map(({ start, end }) => text.slice(start, end));
  expect(grown).toEqual([
    '78.400..78.418',
    '78.400..78.418 mm',
    'dimension bore 78.400..78.418 mm',
    '{\n  dimension bore 78.400..78.418 mm\n}',
    'part p x4 {\n  dimension bore 78.400..78.418 mm\n}',
    text,
  ]);
});

test('folds are declarations, steps, whens and runs of comments', () => {
  const { analysis, text } = marked(
    '# one\n# two\n\npart p {\n  matched\n}\n\nwhen a {\n  part q\n}\n\nsequence s {\n  step t {\n    tool "x"\n  }\n}\n',
  );
  const lines = folds(analysis).map(({ start, end, comment }) => [
    text.slice(0, start).split('\n').length,
    text.slice(0, end).split('\n').length,
    comment,
  ]);
  expect(lines).toEqual(
    expect.arrayContaining([
      [1, 2, true],
      [4, 6, false],
      [8, 10, false],
      [12, 16, false],
      [13, 15, false],
    ]),
  );
});

test('the outline has the declarations in order, steps inside their sequence', () => {
  const { analysis } = marked('part p "Piston"\n\nsequence s {\n  step t "Fit it" {\n    tool "x"\n  }\n}\n');
  expect(outline(analysis)).toMatchObject([
    { name: 'p', detail: 'Piston', word: 'part' },
    { name: 's', children: [{ name: 't', detail: 'Fit it' }] },
  ]);
});

test('the outline has the sizes and marks of a part, and what holds for a variant', () => {
  const { analysis } = marked(
    "spec s {\n  variants a, b\n}\n\npart p {\n  dimension d 3 mm\n  mark dot at 6 o'clock\n  size over oversize 0.5 mm\n  when a {\n    dimension e 4 mm\n  }\n}\n",
  );
  expect(outline(analysis)[1]?.children).toMatchObject([
    { name: 'd', word: 'dimension' },
    { name: 'dot', word: 'mark' },
    { name: 'over', word: 'size' },
    { name: 'a', word: 'when', children: [{ name: 'e' }] },
  ]);
});

test('the outline has the grades of a table', () => {
  const { analysis } = marked('grades shim by lash {\n  thin 2.00..2.05 mm\n  thick 2.05..2.10 mm\n}\n');
  expect(outline(analysis)[0]?.children).toMatchObject([
    { name: 'thin', word: 'grade' },
    { name: 'thick', word: 'grade' },
  ]);
});

test.each([
  ['main-bolt', 'mainbolt', true],
  ['main-bolt', 'MAIN-B', true],
  ['main-bearing-bolt', 'mbb', true],
  ['main-bolt', 'boltmain', false],
  ['sump', 'piston', false],
])('%s is found by %s: %s', (name, query, found) => expect(isMeant(name, query)).toBe(found));

test('statements over several lines and runs of use fold', () => {
  const { analysis, text } = marked(
    'use "a.fettle"\nuse "b.fettle"\n\npart p {\n  size u undersize 0.25 mm {\n    wall 2 mm\n  }\n}\n',
    { 'a.fettle': 'part a\n', 'b.fettle': 'part b\n' },
  );
  const lines = folds(analysis).map(({ start, end }) => [
    text.slice(0, start).split('\n').length,
    text.slice(0, end).split('\n').length,
  ]);
  expect(lines).toEqual(
    expect.arrayContaining([
      [1, 2],
      [5, 7],
    ]),
  );
});

test('colours by meaning: a name that is a word elsewhere is a name', () => {
  const { analysis, text } = marked('part torque\n\npart lid {\n  covers torque\n}\n');
  const seen = semanticTokens(analysis).map((token) => [
    text.slice(token.start, token.start + token.length),
    token.type,
  ]);
  expect(seen).toEqual([
    ['part', 'keyword'],
    ['torque', 'class'],
    ['part', 'keyword'],
    ['lid', 'class'],
    ['covers', 'keyword'],
    ['torque', 'class'],
  ]);
});

describe('hints', () => {
  test('give each figure in the other system, unless it is written in both', () => {
    const { analysis, text } = marked('fastener f {\n  thread M8\n  torque 20 N.m, 24 N.m (18 lbf.ft)\n}\n');
    const hints = unitHints(analysis, 0, text.length);
    expect(hints.map((hint) => hint.text.text)).toEqual(['= 15 lbf.ft']);
    expect(text.slice(0, hints[0]?.offset)).toMatch(/20 N\.m$/);
  });

  test('above a limit tell how it comes out', () => {
    const { analysis } = marked(
      'part a {\n  dimension d 10.00..10.02 mm\n}\n\npart b {\n  dimension d 9.96..9.98 mm\n}\n\nlimit play\n  = a.d - b.d\n  within 0.02..0.06 mm\n',
    );
    expect(headlines(analysis).map((hint) => hint.text.text)).toEqual([
      expect.stringMatching(/0\.02.*0\.06 mm.*inside/),
    ]);
  });
});
