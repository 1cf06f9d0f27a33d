// A day of edits: what is held after some thousands of them, each with names, units, figures and texts that were never there before, is what
// was held after the first thousand.
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { expect, test } from 'vitest';
import { createDocuments } from '../../server/workspace/documents.ts';

const URI = 'file:///shop/day.fettle';

/** Megabytes that are held when all that can be let go of has been. */
function held(): number {
  setFlagsFromString('--expose-gc');
  const collect = runInNewContext('gc') as () => void;
  collect();
  collect();
  return process.memoryUsage().heapUsed / 2 ** 20;
}

/** One declaration of a few lines, with its number in all that it says. */
const declared = (at: number, i: number): string =>
  [
    `part housing-${at}-${i} "Housing ${i}" {`,
    `  dimension bore-${i} ${i % 90}.${i} mm`,
    `  figure reach-${i} ${i} furlong${i}`,
    `  mark dot-${i} at ${i % 360}.${i} deg`,
    `  mass ${i}.5 g per manual "${i}"`,
    `  fixed-to housng-${i}`,
    `  note "as found on the ${i}th day"`,
    '}',
    '',
  ].join('\n');

const PARTS = 150;

/** Megabytes that may be more or less at hand, as what is kept for an undo fills and is let go of. */
const SWAY = 8;

test('what is held levels off', () => {
  const documents = createDocuments();
  documents.setRoots(['file:///shop']);
  const all = Array.from({ length: PARTS }, (_, at) => declared(at, 0));
  documents.open(URI, 1, all.join(''));
  documents.analysis(URI);
  const lines = declared(0, 0).split('\n').length - 1;
  const edit = (i: number): void => {
    const at = (i * 7) % PARTS;
    documents.change(URI, i + 2, [
      {
        range: { start: { line: at * lines, character: 0 }, end: { line: (at + 1) * lines, character: 0 } },
        text: declared(at, i),
      },
    ]);
    documents.analysis(URI);
  };
  for (let i = 1; i <= 1000; i += 1) edit(i);
  const early = held();
  for (let i = 1001; i <= 4000; i += 1) edit(i);
  const late = held();
  expect(documents.analysis(URI)?.file.sections.length).toBe(PARTS);
  expect(late - early).toBeLessThan(SWAY);
}, 120_000);
