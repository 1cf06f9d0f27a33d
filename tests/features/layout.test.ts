// Layout as edits: only the lines that differ, in a stretch or in what was just closed; and the ways out of findings.

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { layoutCache, layoutPieces } from '../../grammar/layout-pieces.ts';
import { cutSections } from '../../grammar/sections.ts';
import { actions } from '../../server/features/actions.ts';
import { layoutClosed, layoutStretch, layoutWhole } from '../../server/features/layout.ts';
import { lineEdits } from '../../server/features/line-edits.ts';
import { readFile } from '../../server/model/read-file.ts';
import { edited, marked } from './marked.ts';

const SAMPLES = join(import.meta.dirname, '../../samples');

describe('line edits', () => {
  test('make one text of the other, whatever they are, and lie apart', () => {
    const lines = fc.array(fc.constantFrom('a', 'b', '}', '', '  c', 'd'), { maxLength: 30 });
    fc.assert(
      fc.property(lines, lines, fc.constantFrom('', '\n'), (one, other, end) => {
        const [before, after] = [one.join('\n') + end, other.join('\n')];
        const edits = lineEdits(before, after);
        expect(edited(before, edits)).toBe(after);
        for (const [i, edit] of edits.entries()) expect(edit.start).toBeGreaterThanOrEqual(edits[i - 1]?.end ?? 0);
      }),
      { numRuns: 500, seed: 3 },
    );
  });

  test('are the same text, wherever both are cut in two', () => {
    const pieces = fc.array(fc.tuple(fc.constantFrom('', 'a\n', 'b\n\n', '  c\n'), fc.constantFrom('', 'a\n', 'b\n')), {
      maxLength: 20,
    });
    fc.assert(
      fc.property(pieces, (both) => {
        let [before, after] = ['', ''];
        const seams: (readonly [number, number])[] = [];
        for (const [one, other] of both) {
          before += one;
          after += other;
          seams.push([before.length, after.length]);
        }
        const edits = lineEdits(before, after, seams);
        expect(edited(before, edits)).toBe(after);
        for (const [i, edit] of edits.entries()) expect(edit.start).toBeGreaterThanOrEqual(edits[i - 1]?.end ?? 0);
      }),
      { numRuns: 300, seed: 5 },
    );
  });

  test('leave alike lines alone', () => {
    const before = 'one\n two\nthree\nfour\n  five\nsix\n';
    const after = 'one\ntwo\nthree\nfour\nfive\nsix\n';
    expect(lineEdits(before, after).map(({ start, end }) => before.slice(start, end))).toEqual([' two\n', '  five\n']);
  });
});

const MESSY = 'part  a {\n mass 3 kg\n}\n\npart b {\nmatched\n}\n\npart   c\n';

test('a whole file is laid out by edits of single lines', () => {
  const layout = layoutWhole(marked(MESSY).analysis.file);
  const edits = layout.kind === 'edits' ? layout.edits : [];
  expect(edited(MESSY, edits)).toBe('part a {\n  mass 3 kg\n}\n\npart b {\n  matched\n}\n\npart c\n');
  expect(edits.map(({ start, end }) => MESSY.slice(start, end))).toEqual([
    'part  a {\n',
    ' mass 3 kg\n',
    'matched\n',
    'part   c\n',
  ]);
});

test.each(readdirSync(SAMPLES, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.fettle')))(
  'a file that was read is laid out as its text is: %s',
  (name) => {
    const written = readFileSync(join(SAMPLES, name), 'utf8');
    for (const text of [
      written,
      written.replace(/[ \t]+/g, '  '),
      written.replace(/\n+/g, '\r\n'),
      written.replace(/\n+/g, '\n'),
      written.replace(/\n/g, '\n\n\n'),
      written.replace(/\}\n+/g, '} '),
    ]) {
      const layout = layoutWhole(readFile('file:///shop/spec.fettle', text));
      const fresh = layoutPieces(text, cutSections(text), 0, layoutCache()).map((piece) => piece.text);
      const edits = layout.kind === 'edits' ? layout.edits : [];
      expect(edited(text, edits).replace(/\r/g, '')).toBe(fresh.join('').replace(/\r/g, ''));
      for (const [i, edit] of edits.entries()) expect(edit.start).toBeGreaterThanOrEqual(edits[i - 1]?.end ?? 0);
    }
  },
);

test('a stretch is laid out, and nothing round it', () => {
  const { analysis, text } = marked(MESSY);
  const at = text.indexOf('matched');
  const layout = layoutStretch(analysis, at, at + 3);
  expect(edited(text, layout.kind === 'edits' ? layout.edits : [])).toBe(MESSY.replace('\nmatched', '\n  matched'));
});

describe('a brace that is typed', () => {
  test('lays out the declaration that it closes, and nothing else', () => {
    const { analysis, text, cursor } = marked('part  a {\n mass 3 kg\n}|\n\npart   c\n');
    const layout = layoutClosed(analysis, cursor);
    expect(edited(text, layout.kind === 'edits' ? layout.edits : [])).toBe('part a {\n  mass 3 kg\n}\n\npart   c\n');
  });

  test('does nothing where it closes something inside one, or what is written has a fault', () => {
    for (const written of ['part  a {\n size s { wall 3 mm }|\n}\n', 'part  a {\n mas 3 kg\n}|\n']) {
      const { analysis, cursor } = marked(written);
      expect(layoutClosed(analysis, cursor)).toEqual({ kind: 'edits', edits: [] });
    }
  });
});

describe('ways out', () => {
  const offered = (written: string): { readonly text: string; readonly all: ReturnType<typeof actions> } => {
    const { analysis, text, cursor } = marked(written);
    return { text, all: actions(analysis, cursor, cursor) };
  };

  test('of a finding, and of all of its kind', () => {
    const { text, all } = offered(
      'fastener a {\n  thread M6\n  torque 9|\n}\n\nfastener b {\n  thread M6\n  torque 10\n}\n',
    );
    const one = all.find((each) => each.told.text === 'Write 9 N.m');
    expect(edited(text, one?.edits ?? [])).toContain('torque 9 N.m\n');
    const every = all.find((each) => each.told.text.startsWith('Mend all 2'));
    expect(edited(text, every?.edits ?? [])).toMatch(/torque 9 N\.m\n.*torque 10 N\.m\n/s);
  });

  test('of a figure: in the other unit, and in both', () => {
    const { text, all } = offered('fastener a {\n  thread M8\n  torque 2|4 N.m\n}\n');
    const texts = all.map((each) => edited(text, each.edits));
    expect(texts).toEqual(
      expect.arrayContaining([
        expect.stringContaining('torque 18 lbf.ft\n'),
        expect.stringContaining('torque 24 N.m (18 lbf.ft)\n'),
      ]),
    );
  });
});
