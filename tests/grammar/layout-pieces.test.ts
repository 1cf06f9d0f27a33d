// The layout that is kept piece by piece is that of the whole text, after edit upon edit, whatever they are.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { layOut } from '../../grammar/layout.ts';
import { layoutCache, layoutPieces } from '../../grammar/layout-pieces.ts';
import { cutSections } from '../../grammar/sections.ts';

const samples = join(import.meta.dirname, '../../samples');
const texts = ['inline-four.fettle', 'flat-twin.fettle', 'two-shops/tallow-bridge.fettle'].map((name) =>
  readFileSync(join(samples, name), 'utf8'),
);
const faulty = readdirSync(join(samples, 'faults'))
  .filter((name) => name.endsWith('.fettle'))
  .map((name) => readFileSync(join(samples, 'faults', name), 'utf8'));

const plain = (text: string): string => text.replace(/\r\n?/g, '\n').trim();

function inPieces(text: string, from: number): string {
  const pieces = layoutPieces(text, cutSections(text), from);
  return plain(pieces.map((piece) => piece.text).join(''));
}

/** As it is laid out in one go, with nothing kept. */
function whole(written: string): string {
  const text = plain(written);
  return plain(layOut(layoutPieces(text, cutSections(text), 0, layoutCache()).flatMap(({ items }) => items)));
}

const share = fc.integer({ min: 0, max: 9999 }).map((each) => each / 10_000);
const edit = fc.record({
  at: share,
  cut: fc.constantFrom(0, 0, 0, 1, 1, 3, 40),
  put: fc.constantFrom(
    ...['', '1', '7', '\n', '\n\n', '\r\n', '}', '{', '"', '#', ' # a note\n', '\n# of its own\n', ' mm', 'block'],
    ...['part x\n\n', '\n\nstep y {\n  wait 3 min\n}\n', 'allow name/unused because "x"\n', 'when van {', 'use "x"\n'],
    ...['tightening-order 1 2 / 3 4', '\n\n# apart\n\n', 'size a { wall 2 mm }\n', 'engine ', 'note "a\nb"\n'],
  ),
});

test.each([
  ['\n', ''],
  ['\r\n', ''],
  ['\n', '# Bundle: x\n#\n'],
])(
  'any edits, line ends %j, behind %j',
  (lineEnd, head) => {
    fc.assert(
      fc.property(fc.constantFrom(...texts), fc.array(edit, { minLength: 1, maxLength: 12 }), (before, edits) => {
        let text = before.replace(/\n/g, lineEnd);
        for (const { at, cut, put } of edits) {
          const start = Math.floor(at * text.length);
          text = text.slice(0, start) + put + text.slice(Math.min(text.length, start + cut));
          expect(inPieces(head + text, head.length)).toBe(whole(text));
        }
      }),
      { numRuns: 25, seed: 17, endOnFailure: true },
    );
  },
  120_000,
);

test('the samples of faults', () => {
  for (const text of faulty) expect(inPieces(text, 0)).toBe(whole(text));
});

test('a piece that an edit left alone is the same object', () => {
  const [text = ''] = texts;
  const before = new Set(layoutPieces(text, cutSections(text), 0));
  const at = text.search(/\d+ N\.m/);
  const after = text.slice(0, at) + text.slice(at).replace(/\d+/, '17');
  expect(layoutPieces(after, cutSections(after), 0).filter((piece) => !before.has(piece))).toHaveLength(1);
});

test('of a text longer than any spec, too', () => {
  const part = (number: number): string => `part p${number} {\n  mass ${number} kg\n  note "${'a '.repeat(1000)}"\n}\n`;
  const text = Array.from({ length: 500 }, (_, i) => part(i + 1)).join('\n');
  const before = new Set(layoutPieces(text, cutSections(text), 0));
  const after = text.replace('mass 250 kg', 'mass 251 kg');
  expect(layoutPieces(after, cutSections(after), 0).filter((piece) => !before.has(piece))).toHaveLength(1);
});
