// The guard behind layout: it lets nothing pass that says something else than was written, and layout never breaks what may be a text.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { saysTheSame } from '../../grammar/layout-guard.ts';
import { layOutText, layoutCache } from '../../grammar/layout-pieces.ts';
import { formatText } from '../../grammar/printer.ts';
import { cutSections } from '../../grammar/sections.ts';

const TEXT = `# A heading.
part lid "Lid of the sump" {
  dimension bore 38.5 mm # as new
  note "Turn it, then lift it."
}

sequence s {
  step off {
    remove lid
  }
}
`;

/** Whether the guard lets a layout pass that is `now` where a good one is `text`. */
function passes(text: string, change: (written: string) => string): boolean {
  const sections = cutSections(text);
  const layout = layOutText({ text, sections }, 0, layoutCache());
  const pieces = layout.pieces.map((piece) => ({ ...piece, text: change(piece.text) }));
  return saysTheSame(text, sections, pieces.map((piece) => piece.text).join(''), { ...layout, pieces });
}

test('a good layout passes', () => {
  expect(passes(TEXT, (text) => text)).toBe(true);
});

test.each([
  ['a word goes', (text: string) => text.replace('remove', '')],
  ['a word comes', (text: string) => text.replace('remove', 'remove block,')],
  ['words change places', (text: string) => text.replace('remove lid', 'lid remove')],
  ['a figure changes', (text: string) => text.replace('38.5', '3.85')],
  ['a unit changes', (text: string) => text.replace('mm', 'cm')],
  ['a name changes its capitals', (text: string) => text.replace('step off', 'step Off')],
  ['a text changes', (text: string) => text.replace('lift it.', 'lift it')],
  ['a text is broken by an empty line', (text: string) => text.replace('it, then', 'it,\n\nthen')],
  ['a comment goes', (text: string) => text.replace('# as new', '')],
  ['a comment changes', (text: string) => text.replace('as new', 'As new')],
  ['a comment takes in what comes behind it', (text: string) => text.replace('# A heading.\n', '# A heading. ')],
  ['a comment changes places with a statement', (text: string) => text.replace(/( dimension.*mm) +(# .*)/, ' $2\n$1')],
  ['a brace goes', (text: string) => text.replace(/\}\n$/, '\n')],
  ['a declaration is cut in two', (text: string) => text.replace('remove lid', 'remove part lid')],
])('where %s, it does not', (_what, change) => {
  expect(passes(TEXT, change)).toBe(false);
});

describe('what may be a text', () => {
  test.each([
    'part a { note 3" for road use" note "b part c" }',
    'part a {\n  note 3" for road\n  use the lid"\n}\n\npart b { }\n',
    'part a {\n  note "use the lid\n  part of the kit\n}\n\npart b { }\n',
    'sequence s { step a { note 3" of it\nstep b" } step c { } }\n',
    'part a { dimension bore 3" "x }\npart b { mass 3 kg }\n',
  ])('%s', (text) => {
    const lines = text.trimEnd().split(/\n\n/)[0] ?? '';
    const result = formatText(text);
    expect(result.kind).toBe('formatted');
    expect(result.kind === 'formatted' ? result.text : '').toContain(lines);
  });

  test('an inch mark by itself keeps nobody from laying out the next declaration', () => {
    const result = formatText('part a { dimension bore 3" }\n\n\npart b "Lid" {mass   3 kg}\n');
    expect(result).toEqual({
      kind: 'formatted',
      text: 'part a { dimension bore 3" }\n\npart b "Lid" {\n  mass 3 kg\n}\n',
    });
  });
});

/** Words that would begin something, were they not in quotes, and figures before the quotes. */
const INSIDE = [
  'for',
  'road',
  'use',
  'part',
  'of the',
  'step',
  'engine',
  '{',
  '}',
  'note',
  'limit',
  '3',
  '#',
  '\n',
  'x4',
];
const BEFORE = ['3', '1/2', '0.5', '¾', 'x4', 'lid', 'p2', '3 ', 'note ', '..', '= 2', '5 mm', ','];
const AROUND = [
  'part a {',
  'part b',
  '}',
  'note',
  'mass 3 kg',
  'sequence s {',
  'step t {',
  '# c\n',
  '\n',
  '\n\n',
  'spec e',
  'when v {',
];

test('whatever stands before a quote, what is quoted is never broken', () => {
  const quoted = fc
    .tuple(fc.constantFrom(...BEFORE), fc.array(fc.constantFrom(...INSIDE), { minLength: 1, maxLength: 6 }))
    .map(([before, inside]) => ({
      before,
      inside:
        inside
          .join(' ')
          .replace(/\n\s*\n/g, '\n')
          .trim() || 'a',
    }));
  fc.assert(
    fc.property(fc.array(fc.oneof(fc.constantFrom(...AROUND), quoted), { maxLength: 14 }), (pieces) => {
      const text = pieces
        .map((piece) => (typeof piece === 'string' ? piece : `${piece.before}"${piece.inside}"`))
        .join(' ');
      const result = formatText(text);
      if (result.kind === 'unchanged') return;
      const plain = (of: string): string => of.replace(/[^\S\n]*\n[^\S\n]*(?!\n)|[^\S\n]+/g, ' ');
      let from = 0;
      for (const piece of pieces) {
        if (typeof piece === 'string' || piece.inside.includes('#')) continue;
        const at = plain(result.text).indexOf(plain(`"${piece.inside}"`), from);
        expect(at).toBeGreaterThanOrEqual(from);
        from = at + 1;
      }
    }),
    { seed: 3_111_127, numRuns: 3000 },
  );
});
