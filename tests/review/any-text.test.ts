// Any two texts can be reviewed: with pieces cut out, doubled and put elsewhere. Nothing falls over, every place lies in its file, and
// every form stays whole.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { reviewMarkdown } from '../../server/review/markdown.ts';
import { reviewPage } from '../../server/review/page.tsx';
import { placedChange } from '../../server/review/placed-change.ts';
import { reviewSpecs } from '../../server/review/review.ts';
import { analyseText } from '../annotated.ts';

const brindle = readFileSync(join(import.meta.dirname, '../model/brindle-four.fettle'), 'utf8');

/** A text with some stretches taken out, doubled or moved, at offsets told as shares of its length. */
function mangled(text: string, edits: readonly (readonly [number, number, number])[]): string {
  let result = text;
  for (const [at, length, to] of edits) {
    const start = Math.floor(at * result.length);
    const piece = result.slice(start, start + Math.floor(length * 400));
    const without = result.slice(0, start) + result.slice(start + piece.length);
    const target = Math.floor(to * without.length);
    result = to < 0.4 ? without : (to < 0.7 ? result : without).slice(0, target) + piece + without.slice(target);
  }
  return result;
}

const share = fc.double({ min: 0, max: 0.999, noNaN: true });
const edits = fc.noShrink(fc.array(fc.tuple(share, share, share), { minLength: 1, maxLength: 6 }));

test('nothing falls over', () => {
  fc.assert(
    fc.property(edits, edits, fc.boolean(), (one, other, both) => {
      const [old, now] = [both ? mangled(brindle, one) : brindle, mangled(brindle, other)];
      const changes = reviewSpecs(analyseText(old), analyseText(now));
      for (const { oldPlace, newPlace, message, old: before, new: after, kind } of changes) {
        expect(`${message} ${before} ${after}`).not.toMatch(/undefined undefined|NaN|\[object/);
        expect([kind, oldPlace !== undefined, newPlace !== undefined]).toEqual([
          kind,
          kind !== 'added',
          kind !== 'removed',
        ]);
        for (const [place, text] of [
          [oldPlace, old],
          [newPlace, now],
        ] as const) {
          if (place === undefined) continue;
          expect(place.start).toBeGreaterThanOrEqual(0);
          expect(place.end).toBeGreaterThanOrEqual(place.start);
          expect(place.end).toBeLessThanOrEqual(text.length);
        }
      }
      const place = { file: 'a', start: { line: 1, column: 1 }, end: { line: 1, column: 1 } };
      const files = { old: 'a', new: 'b', changes: changes.map((change) => placedChange(change, () => place)) };
      expect(reviewPage([files]).endsWith('</html>\n')).toBe(true);
      expect(reviewMarkdown([files])).toContain(
        `${changes.length === 0 ? 'Nothing changed' : `${changes.length} change`}`,
      );
      expect(reviewSpecs(analyseText(now), analyseText(now))).toEqual([]);
    }),
    { seed: 20260305, numRuns: 40 },
  );
});
