// The canonical layout, case by case: what is written, and how it is laid out. What layout must keep whatever the text is
// tested in properties.test.ts and fuzz.test.ts.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { formatText } from '../../grammar/printer.ts';

const laidOut = (text: string): string => {
  const result = formatText(text);
  if (result.kind === 'unchanged') throw new Error(result.why);
  return result.text;
};

const CASES: readonly (readonly [string, string, string])[] = [
  [
    'declarations have an empty line between them, uses have none',
    'use "a.fettle" use "b.fettle" part a part b { teeth 18 matched }\n\n\n\npart c',
    'use "a.fettle"\nuse "b.fettle"\n\npart a\n\npart b {\n  teeth 18\n  matched\n}\n\npart c\n',
  ],
  [
    'remarks for the whole file stand together',
    'note "One."  allow torque/over-proof because "Two." part a',
    'note "One."\nallow torque/over-proof because "Two."\n\npart a\n',
  ],
  ['empty lines in braces go', 'part a {\n\n  teeth 18\n\n\n  matched\n\n}\n', 'part a {\n  teeth 18\n  matched\n}\n'],
  ['braces with nothing in them', 'part a {\n}\n', 'part a {}\n'],
  [
    'steps have no empty line between them',
    'sequence s { phase assemble step a { fit b }\n\n step c { fit d } }',
    'sequence s {\n  phase assemble\n  step a {\n    fit b\n  }\n  step c {\n    fit d\n  }\n}\n',
  ],
  [
    'declarations in a when stand apart',
    'when van { part a part b { teeth 3 } }',
    'when van {\n  part a\n\n  part b {\n    teeth 3\n  }\n}\n',
  ],
  [
    'inner braces stay on the line where one statement fits',
    'part a { when van {\n teeth 18 } size u undersize 0.25 mm { wall 1.2 mm dimension b 3 mm } }',
    'part a {\n  when van { teeth 18 }\n  size u undersize 0.25 mm {\n    wall 1.2 mm\n    dimension b 3 mm\n  }\n}\n',
  ],
  [
    'inner braces open where a clause or a wide line is in them',
    'part a { when van { wall 1 mm per book "a" } when a-rather-long-variant { note "a text that is rather too long here" } }',
    'part a {\n  when van {\n    wall 1 mm\n      per book "a"\n  }\n  when a-rather-long-variant {\n    note "a text that is rather too long here"\n  }\n}\n',
  ],
  [
    'the clauses of a limit, and its braces after them',
    'limit l each piston within 1..2 mm wear-limit 3 mm per manual "1" { note "x" }',
    'limit l each piston\n  within 1..2 mm\n  wear-limit 3 mm\n  per manual "1"\n{\n  note "x"\n}\n',
  ],
  [
    'a wide line breaks after a comma or before a clause word',
    'sequence s { step t { fit a-rather-long-name, another-long-name, timing-chain into block-of-iron together } }',
    'sequence s {\n  step t {\n    fit a-rather-long-name, another-long-name, timing-chain\n      into block-of-iron together\n  }\n}\n',
  ],
  [
    'a wide sum breaks before a sign',
    'limit l = block.first-main-bore - 2 * main-shell.wall-at-the-crown - crankshaft.main-journal',
    'limit l\n  = block.first-main-bore - 2 * main-shell.wall-at-the-crown\n    - crankshaft.main-journal\n',
  ],
  [
    'a wide text breaks at its blanks, and not where there is none',
    `part a { note "${'word '.repeat(20)}end" note "${'x'.repeat(80)}" }`,
    `part a {\n  note "${'word '.repeat(13).trim()}\n    ${'word '.repeat(7)}end"\n  note "${'x'.repeat(80)}"\n}\n`,
  ],
  [
    'a tightening order is drawn row by row',
    'fastener b { tightening-order each head 1 2 3/ 4 5 6 per manual "1" }',
    'fastener b {\n  tightening-order each head\n    1 2 3 /\n    4 5 6\n    per manual "1"\n}\n',
  ],
  [
    'signs, brackets, ratios, times, directions',
    "limit l = - ( a.b - 1 mm )*max( a.c , -2 mm )\ndrive d { ratio a to b 2 : 1 centre-distance a to b 81.00 + 0.02 - 0.01 mm ( 3.19 in ) at 1 : 30 o'clock }",
    "limit l\n  = -(a.b - 1 mm) * max(a.c, -2 mm)\n\ndrive d {\n  ratio a to b 2:1\n  centre-distance a to b 81.00 +0.02 -0.01 mm (3.19 in) at 1:30 o'clock\n}\n",
  ],
  [
    'clauses of a head stand in it, unless they come after those on lines of their own',
    'limit l of b each c measured limit m measured of b each c',
    'limit l of b each c\n  measured\n\nlimit m\n  measured\n  of b\n  each c\n',
  ],
  [
    'a sign stands with its figure, an operator apart',
    'part a { dimension b - 0.02 mm dimension c +0.01..+ 0.02 mm figure d -1 +0.2 - 0.1 mm wall a.b- 1 mm size e oversize - 1 mm }',
    'part a {\n  dimension b -0.02 mm\n  dimension c +0.01..+0.02 mm\n  figure d -1 +0.2 -0.1 mm\n  wall a.b - 1 mm\n  size e oversize -1 mm\n}\n',
  ],
  [
    'many line ends of two characters make all such',
    'part a {\r\nteeth 18\r\n}\r\n',
    'part a {\r\n  teeth 18\r\n}\r\n',
  ],
  ['a byte order mark goes, a line end comes', '\ufeffpart a', 'part a\n'],
  ['nothing stays nothing', ' \n\n', ''],
];

const COMMENTS: readonly (readonly [string, string, string])[] = [
  [
    'stay behind what they were behind',
    'part a "T" x4 { # one\n teeth 18 # two\n matched } # three\npart b # four',
    'part a "T" x4 {  # one\n  teeth 18  # two\n  matched\n}  # three\n\npart b  # four\n',
  ],
  [
    'stay above what they were above, as far in',
    '# one\npart a { # two\n# three\nteeth 18\n# four\n}\n# five\npart b',
    '# one\npart a {  # two\n  # three\n  teeth 18\n  # four\n}\n\n# five\npart b\n',
  ],
  [
    'keep one empty line before them',
    'part a {\n\n  # one\n\n\n  # two\n\n  teeth 18\n}',
    'part a {\n  # one\n\n  # two\n  teeth 18\n}\n',
  ],
  [
    'belong to what is before them where an empty line comes after',
    'part a\n# of a\n\n# of b\npart b\n# of b too',
    'part a\n# of a\n\n# of b\npart b\n# of b too\n',
  ],
  [
    'stay in the middle of a statement',
    'part a {\n covers b, # one\n # two\n c,\n d }',
    'part a {\n  covers b,  # one\n    # two\n    c, d\n}\n',
  ],
  [
    'stay between the clauses of a limit',
    'limit l # one\n # two\n kind squish\n = a.b - # three\n c.d\n# four\n within 1..2 mm\n# five',
    'limit l  # one\n  # two\n  kind squish\n  = a.b -  # three\n    c.d\n  # four\n  within 1..2 mm\n# five\n',
  ],
  [
    'stay between the rows of a tightening order',
    'fastener b { tightening-order # one\n 1 2 / # two\n # three\n 3 4 }',
    'fastener b {\n  tightening-order  # one\n    1 2 /  # two\n    # three\n    3 4\n}\n',
  ],
  [
    'stay between steps',
    'sequence s { step a { fit b } # one\n # two\n step c { fit d } }',
    'sequence s {\n  step a {\n    fit b\n  }  # one\n  # two\n  step c {\n    fit d\n  }\n}\n',
  ],
  ['alone in braces', 'part a {\n# one\n}', 'part a {\n  # one\n}\n'],
  ['alone in a file', '\n\n# one\n\n# two', '# one\n\n# two\n'],
];

const FAULTY: readonly (readonly [string, string, string])[] = [
  [
    'is left as written, and the others are laid out',
    'part a {teeth 18}\npart   b {\n     tooth 18 }\npart c {teeth 19}',
    'part a {\n  teeth 18\n}\n\npart   b {\n     tooth 18 }\n\npart c {\n  teeth 19\n}\n',
  ],
  [
    'keeps its own comments, and the next declaration has those above it',
    'part a { tooth  18 # one\n  # two\n  } # three\n# four\npart b',
    'part a { tooth  18 # one\n  # two\n  } # three\n\n# four\npart b\n',
  ],
  [
    'keeps its place among steps',
    'sequence s {\n# one\nstep a { fitt  b }\nstep c { fit d } }',
    'sequence s {\n  # one\n  step a { fitt  b }\n  step c {\n    fit d\n  }\n}\n',
  ],
  ['keeps stray signs', 'part a ;;\npart b', 'part a ;;\n\npart b\n'],
];

describe.each([
  ['laid out', CASES],
  ['comments', COMMENTS],
  ['a declaration with a fault', FAULTY],
])('%s', (_what, cases) => {
  test.each(cases)('%s', (_title, written, proper) => {
    expect(laidOut(written)).toBe(proper);
    expect(laidOut(proper)).toBe(proper);
  });
});

test('no line of the samples, run together, comes out wider than 72 columns', () => {
  const folder = join(import.meta.dirname, '../../samples');
  for (const name of readdirSync(folder).filter((each) => each.endsWith('.fettle'))) {
    const words = readFileSync(join(folder, name), 'utf8').replace(/#.*/g, '').replace(/\s+/g, ' ');
    const lines = laidOut(words).split('\n');
    expect(lines.length).toBeGreaterThan(50);
    expect(lines.filter((line) => line.length > 72)).toEqual([]);
  }
});

test('the first example of the language comes back from any width', () => {
  const example = readFileSync(join(import.meta.dirname, 'language-1.fettle'), 'utf8').replace(/^#.*\n/, '');
  const words = example.match(/"[^"]*"|\S+/g) ?? [];
  for (let width = 20; width <= 100; width += 4) {
    let wrapped = '';
    let column = 0;
    for (const word of words) {
      const isNext = column > 0 && column + 1 + word.length <= width;
      wrapped += `${isNext ? ' ' : '\n'}${word}`;
      column = isNext ? column + 1 + word.length : word.length;
    }
    expect(laidOut(wrapped)).toBe(example);
  }
});
