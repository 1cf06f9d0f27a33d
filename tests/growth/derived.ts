// Specs that are built on others, long in one way: the text of the last, and the files beside it.
import type { Bomb } from './bombs.ts';

const times = (n: number, one: (i: number) => string): string => Array.from({ length: n }, (_, i) => one(i)).join('');

/** A spec on a base in a file beside it; each row has a file of its own, so that nothing is kept of another's. */
function built(
  name: string,
  n: number,
  own: (n: number) => string,
  base: (n: number) => string,
  spec = (_n: number): string => 'revision 1',
): Bomb {
  const baseOf = (size: number): string => `${name.replaceAll(/\W+/g, '-')}-${size}`;
  return {
    name: `built: ${name}`,
    work: ['check'],
    n,
    make: (size) =>
      `use "${baseOf(size)}.fettle"\nspec own-${size} extends ${baseOf(size)} {\n  revision 2\n${own(size)}}\n`,
    beside: (size) => ({
      [`${baseOf(size)}.fettle`]: `spec ${baseOf(size)} {\n  ${spec(size)}\n}\n${base(size)}`,
    }),
  };
}

/** A file of a row in which each is built on the one before. */
const level = (row: string, i: number, changes: string): string =>
  `use "${row}-${i - 1}.fettle"\nspec ${row}-${i} extends ${row}-${i - 1} {\n  revision 1\n${changes}}\n`;

const inARow = (row: string, levels: number, base: string, changes: (i: number) => string): Record<string, string> =>
  Object.fromEntries(
    Array.from({ length: levels }, (_, i) => [
      `${row}-${i}.fettle`,
      i === 0 ? `spec ${row}-0 { revision 1 }\n${base}` : level(row, i, changes(i)),
    ]),
  );

const parts = (n: number): string => times(n, (i) => `part p${n}-${i} {\n  mass 1 kg\n  dimension d 1.0..1.1 mm\n}\n`);

const job = (n: number, statements: (i: number) => string): string =>
  `sequence s {\n${times(n, (i) => `  step t${n}-${i} { ${statements(i)} }\n`)}}\njob j { begins bare sequences s }\n`;

export const DERIVED: readonly Bomb[] = [
  {
    name: 'specs, each built on the one before',
    work: ['check'],
    n: 20,
    make: (n) => level(`r${n}`, n, '  change part a { mass 1 kg }\n'),
    beside: (n) => inARow(`r${n}`, n, 'part a { mass 2 kg }\n', () => '  change part a { mass 3 kg }\n'),
  },
  {
    name: 'a long base, six levels up',
    work: ['check'],
    n: 20,
    make: (n) => level(`b${n}`, 6, `  change part p${n}-0 { mass 1 kg }\n`),
    beside: (n) => inARow(`b${n}`, 6, parts(n), (i) => `  change part p${n}-${i} { mass 3 kg }\n`),
  },
  built('changes of parts', 40, (n) => times(n, (i) => `  change part p${n}-${i} { mass ${i + 2} kg }\n`), parts),
  built(
    'changes of one part',
    40,
    (n) => times(n, (i) => `  change part a { mass ${i + 2} kg }\n`),
    () => 'part a\n',
  ),
  built(
    'statements of one change',
    60,
    (n) => `  change part a${n} {\n${times(n, (i) => `    dimension d${i} ${i + 1}.5 mm\n`)}  }\n`,
    (n) => `part a${n} {\n${times(n, (i) => `  dimension d${i} ${i}.5 mm\n`)}}\n`,
  ),
  built('drops of parts', 40, (n) => times(n, (i) => `  drop part p${n}-${i}\n`), parts),
  built(
    'drops in one part',
    60,
    (n) => `  change part b${n} {\n${times(n, (i) => `    drop dimension d${i}\n`)}  }\n`,
    (n) => `part b${n} {\n${times(n, (i) => `  dimension d${i} ${i}.5 mm\n`)}}\n`,
  ),
  built(
    'drops of what is not there',
    40,
    (n) => times(n, (i) => `  drop part q${n}-${i}\n`),
    (n) => parts(n),
  ),
  built(
    'drops of one part',
    40,
    (n) => times(n, () => '  drop part a\n'),
    () => 'part a\n',
  ),
  built(
    'steps inserted after one',
    40,
    (n) => times(n, (i) => `  insert step u${n}-${i} after t${n}-0 { note "x" }\n`),
    (n) => job(n, () => 'note "x"'),
  ),
  built(
    'steps inserted, each after the one before',
    40,
    (n) => times(n, (i) => `  insert step u${n}-${i} after ${i === 0 ? `t${n}-0` : `u${n}-${i - 1}`} { note "x" }\n`),
    (n) => job(n, () => 'note "x"'),
  ),
  built(
    'steps inserted after each',
    40,
    (n) => times(n, (i) => `  insert step u${n}-${i} after t${n}-${i} { note "x" }\n`),
    (n) => job(n, () => 'note "x"'),
  ),
  built(
    'steps inserted in a circle',
    40,
    (n) => times(n, (i) => `  insert step u${n}-${i} after u${n}-${(i + 1) % n} { note "x" }\n`),
    (n) => job(n, () => 'note "x"'),
  ),
  built(
    'changes of steps',
    40,
    (n) => times(n, (i) => `  change step t${n}-${i} { note "y" }\n`),
    (n) => job(n, () => 'note "x"'),
  ),
  built(
    'drops of steps',
    40,
    (n) => times(n, (i) => `  drop step t${n}-${i}\n`),
    (n) => job(n, () => 'note "x"'),
  ),
  built(
    'changes of one sequence',
    40,
    (n) => times(n, (i) => `  change sequence s { note "x${n}-${i}" }\n`),
    (n) => job(n, () => 'note "x"'),
  ),
  built(
    'changes for variants',
    10,
    (n) => times(n, (i) => `  when v${i % 6} { change part p${n}-${i} { mass ${i + 2} kg } }\n`),
    parts,
    () => 'variants v0, v1, v2, v3, v4, v5',
  ),
  built(
    'changes of one part for variants',
    5,
    (n) => times(n, (i) => `  when v${i} { change part a { mass ${i + 2} kg } }\n`),
    () => 'part a { mass 1 kg }\n',
    (n) => `variants ${Array.from({ length: n }, (_, i) => `v${i}`).join(', ')}`,
  ),
  built(
    'steps inserted for variants',
    10,
    (n) => times(n, (i) => `  when v${i % 6} { insert step u${n}-${i} after t${n}-${i} { note "x" } }\n`),
    (n) => job(n, () => 'note "x"'),
    () => 'variants v0, v1, v2, v3, v4, v5',
  ),
  built(
    'what a base has wrong',
    40,
    () => '',
    (n) => times(n, (i) => `part p${n}-${i} { mass 3 mm }\n`),
  ),
  built(
    'what one change makes wrong in the base',
    40,
    () => '  change part a { dimension d 9 mm }\n',
    (n) => `part a { dimension d 1 mm }\n${times(n, (i) => `limit l${n}-${i} = a.d within 0..2 mm\n`)}`,
  ),
];
