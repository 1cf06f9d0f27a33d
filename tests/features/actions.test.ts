// Ways out that the editor offers, taken: what then stands there.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { actions } from '../../server/features/actions.ts';
import { analyseText } from '../annotated.ts';
import { edited, marked } from './marked.ts';

/** What is offered at the cursor, and what each would make of the text. */
function offered(written: string): readonly { readonly title: string; readonly text: string }[] {
  const { analysis, text, cursor } = marked(written);
  return actions(analysis, cursor, cursor).map((each) => ({ title: each.told.text, text: edited(text, each.edits) }));
}

describe('a quantity', () => {
  test('is converted, or written in both units', () => {
    const [converted, both] = offered('fastener f {\n  thread M8\n  torque 2|4 N.m\n}\n');
    expect(converted?.text).toContain('torque 18 lbf.ft\n');
    expect(both?.text).toContain('torque 24 N.m (18 lbf.ft)\n');
  });

  test('that stands in both units already is left alone', () => {
    expect(offered('fastener f {\n  thread M8\n  torque 2|4 N.m (18 lbf.ft)\n}\n').map((each) => each.title)).toEqual(
      [],
    );
  });
});

test('a part that is not there is declared before what names it', () => {
  const all = offered('part block\n\nfastener bolt {\n  clamps l|id to block\n}\n');
  const declared = all.find((each) => each.title.startsWith('Declare'));
  expect(declared?.text).toBe('part block\n\npart lid\n\nfastener bolt {\n  clamps lid to block\n}\n');
});

test('all of one kind are mended at once', () => {
  const all = offered('part p {\n  mass 3,|5 kg\n  wall 1,5 mm\n}\n\npart q {\n  mass 2,5 kg\n}\n');
  const every = all.find((each) => each.title.startsWith('Mend all 3'));
  expect(every?.text).toBe('part p {\n  mass 3.5 kg\n  wall 1.5 mm\n}\n\npart q {\n  mass 2.5 kg\n}\n');
});

describe('an order of tightening', () => {
  const path = join(import.meta.dirname, '../../samples/faults/tightening-order-short.fettle');
  const mended = (text: string, titled: string): readonly string[] => {
    const analysis = analyseText(text);
    const finding = analysis.findings.find((each) => each.code.startsWith('torque/'));
    const fix = finding?.fixes.find((each) => each.told.text.includes(titled));
    const now = edited(text, fix?.edits ?? []);
    return analyseText(now).findings.flatMap((each) => (each.code.startsWith('torque/') ? [each.code] : []));
  };
  const text = readFileSync(path, 'utf8');

  test.each(['at place 5 of row 1 to 8', 'at place 5 of row 2 to 8'])(
    'in which one number lacks and one is there twice: %s',
    (titled) => {
      expect(mended(text, 'no such')).toContain('torque/tightening-order');
      expect(mended(text, titled)).not.toContain('torque/tightening-order');
    },
  );

  test('in which more is wrong, or that begins at an end, is numbered from the middle', () => {
    const worse = text.replace('9 5 1', '9 7 1');
    expect(mended(worse, 'from the middle')).not.toContain('torque/tightening-order');
    const fromEnd = text.replace(/9 5 1 4 7 \/\n.*\n {4}10 6 2 3 7/, '1 2 3 4 5 /\n    6 7 8 9 10');
    expect(mended(fromEnd, 'no such')).toContain('torque/order-from-end');
    expect(mended(fromEnd, 'from the middle')).not.toContain('torque/order-from-end');
  });
});
