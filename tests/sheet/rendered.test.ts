// Nothing of a spec moves what stands round it in a page: control characters and marks that turn a line round are seen, not obeyed.
import { expect, test } from 'vitest';
import { nothingMoved } from '../../grammar/characters.ts';
import { sheetOf } from '../../server/workspace/sheet-of.ts';
import { analyseText } from '../annotated.ts';

const MOVING = ['\u0007', '\u001b', '\u007f', '\u009b', '\u202e', '\u2066'];

test.each(MOVING)('%j is shown by a mark', (letter) => {
  expect(nothingMoved(`<p title="a${letter}b">c${letter}d\n</p>`)).toBe('<p title="a\ufffdb">c\ufffdd\n</p>');
});

test('letters that are written from right to left, and their marks, stay', () => {
  expect(nothingMoved('<p>שלום\u200f 25</p>')).toBe('<p>שלום\u200f 25</p>');
});

test('none is in a sheet', () => {
  const { views, ...analysis } = analyseText(
    `spec s "A${MOVING.join('')}" {\n  revision 1\n}\npart a "B${MOVING.join('')}"\nsequence q { step t "C${MOVING.join('')}" { fit a } }\njob j { begins bare sequences q }\n`,
  );
  const [view] = views;
  if (view === undefined) throw new Error('no view');
  const { html } = sheetOf({ ...analysis, views }, view, { job: undefined, isForCustomer: false });
  expect(html).toContain(`C${'\ufffd'.repeat(MOVING.length)}`);
  expect(MOVING.filter((letter) => html.includes(letter))).toEqual([]);
});
