// Every feature at any place of any text, whole or cut off or spoilt: none falls over, and what it gives lies inside the text.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { actions } from '../../server/features/actions.ts';
import { completions } from '../../server/features/completion.ts';
import { headlines, unitHints } from '../../server/features/hints.ts';
import { hover } from '../../server/features/hover.ts';
import { layoutClosed, layoutStretch } from '../../server/features/layout.ts';
import { folds, outline } from '../../server/features/outline.ts';
import { nameAt } from '../../server/features/place-in-tree.ts';
import { definitions, placesOf, renameObjection } from '../../server/features/rename.ts';
import { selectionAt } from '../../server/features/selection.ts';
import { signature } from '../../server/features/signature.ts';
import { turnHints } from '../../server/features/standing-text.ts';
import { semanticTokens } from '../../server/features/tokens.ts';
import { analyseText } from '../annotated.ts';
import { edited } from './marked.ts';

const folder = join(import.meta.dirname, '../../samples');
const files = Object.fromEntries(
  [folder, join(folder, 'two-shops')].flatMap((each) =>
    readdirSync(each)
      .filter((name) => name.endsWith('.fettle'))
      .map((name) => [name, readFileSync(join(each, name), 'utf8')]),
  ),
);
const share = fc.integer({ min: 0, max: 9999 }).map((each) => each / 10_000);
const spoil = fc.constantFrom(
  '',
  '',
  '{',
  '}',
  '"',
  '#',
  '.',
  ',',
  ' 3',
  '\r\n',
  '😀',
  'when ',
  'step x {',
  'change part block {',
  '\u0000',
);

test('nothing falls over', () => {
  fc.assert(
    fc.property(fc.constantFrom(...Object.keys(files)), share, spoil, share, share, (name, at, put, cut, cursor) => {
      const whole = files[name] ?? '';
      const spot = Math.floor(at * whole.length);
      const text = (whole.slice(0, spot) + put + whole.slice(spot)).slice(
        0,
        Math.floor((1 - cut * cut) * whole.length),
      );
      const analysis = analyseText(text, files, name);
      const here = Math.floor(cursor * (text.length + 1));
      const inside = (place: { readonly start: number; readonly end: number }): void => {
        // There are very many.
        if (place.start >= 0 && place.end >= place.start && place.end <= text.length) return;
        expect.fail(`${place.start} to ${place.end} is outside of a text of ${text.length} characters`);
      };
      const offered = completions(analysis, here);
      inside({ start: offered.start, end: here });
      expect(new Set(offered.completions.map((each) => `${each.kind} ${each.label}`)).size).toBe(
        offered.completions.length,
      );
      const hovered = hover(analysis, here);
      if (hovered !== undefined) inside(hovered);
      const form = signature(analysis, here);
      if (form !== undefined) expect(form.pieces[form.active]).toBeDefined();
      for (const stretch of selectionAt(analysis, here)) inside(stretch);
      for (const action of actions(analysis, here, here)) for (const edit of action.edits) inside(edit);
      const found = nameAt(analysis, here);
      if (found !== undefined) {
        placesOf(analysis, found).forEach(inside);
        definitions(analysis, here);
        expect(renameObjection([analysis], found, 'part')).toBeDefined();
      }
      for (const layout of [layoutClosed(analysis, here), layoutStretch(analysis, here, here + 200)]) {
        if (layout.kind !== 'edits') continue;
        layout.edits.forEach(inside);
        // Layout changes blanks, and words to their usual form; no comment goes.
        const comments = (each: string): number => each.split('#').length;
        expect(comments(edited(text, layout.edits))).toBe(comments(text));
      }
      let last = 0;
      for (const token of semanticTokens(analysis)) {
        if (!(token.start >= last)) expect(token.start).toBeGreaterThanOrEqual(last);
        last = token.start + token.length;
      }
      folds(analysis).forEach(inside);
      for (const item of outline(analysis)) inside(item);
      for (const hint of [
        ...unitHints(analysis, 0, text.length),
        ...headlines(analysis),
        ...turnHints(analysis, 0, text.length),
      ])
        inside({ start: hint.offset, end: hint.offset });
    }),
    { numRuns: 150, seed: 9 },
  );
}, 120_000);
