// Any text gives a bench sheet, values, a rehearsal told and an answer to what comes off: with pieces cut out, doubled and put elsewhere.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { reach } from '../../server/features/reach.ts';
import { reachText } from '../../server/features/reach-text.ts';
import { rehearsalText, tellRehearsal } from '../../server/features/rehearsal-text.ts';
import { valuesForPeople } from '../../server/features/values-people.ts';
import { sheetPage } from '../../server/sheet/page.tsx';
import { analyseText } from '../annotated.ts';

const brindle = readFileSync(join(import.meta.dirname, '../model/brindle-four.fettle'), 'utf8');

/** A text with some stretches taken out, doubled or moved, at offsets told as shares of its length. */
function mangled(text: string, edits: readonly (readonly [number, number, number])[]): string {
  let result = text;
  for (const [at, length, to] of edits) {
    const start = Math.floor(at * result.length);
    const piece = result.slice(start, start + Math.floor(length * 60));
    const without = result.slice(0, start) + result.slice(start + piece.length);
    const target = Math.floor(to * without.length);
    result = to < 0.4 ? without : (to < 0.7 ? result : without).slice(0, target) + piece + without.slice(target);
  }
  return result;
}

const share = fc.double({ min: 0, max: 0.999, noNaN: true });

test('nothing falls over, and the page stays whole', () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(share, share, share), { minLength: 1, maxLength: 6 }), (edits) => {
      const analysis = analyseText(mangled(brindle, edits));
      for (const view of analysis.views) {
        const page = sheetPage(view, { file: analysis.file.file, errors: 1 });
        expect(page.endsWith('</html>\n')).toBe(true);
        expect(page).not.toContain('undefined');
        expect(page).not.toContain('NaN');
        expect(valuesForPeople(view, () => true, []).text).not.toContain('NaN');
        for (const job of tellRehearsal(view, analysis.file.file, analysis.findings))
          expect(rehearsalText(job).text).not.toContain('undefined');
        for (const part of view.parts)
          expect(reachText(reach(part, view, analysis.file.file), view).text).not.toContain('undefined');
      }
    }),
    { numRuns: 40, seed: 20260304 },
  );
});
