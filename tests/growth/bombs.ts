// Texts that are long in one way. The work that each gives must be in proportion to its length, times a logarithm at most:
// growth.test.ts counts it for n and for four times as many. Everybody who mends or makes something that goes over a text adds a row.
import { CHECKING } from './checking.ts';
import { DERIVED } from './derived.ts';

/** What is done with the text: cut and read, laid out, or checked as a whole (`fettle check`). */
export type Work = 'read' | 'lay out' | 'check';

export interface Bomb {
  readonly name: string;
  readonly work: readonly Work[];
  /** How many of its kind are enough to see how it grows. */
  readonly n: number;
  /** Declarations that read well have `n` in their names: what is kept of a shorter text may not serve in a longer one. */
  readonly make: (n: number) => string;
  /** The files beside it, by name. */
  readonly beside?: (n: number) => Readonly<Record<string, string>>;
}

const times = (n: number, one: (i: number) => string): string => Array.from({ length: n }, (_, i) => one(i)).join('');

/** What is long to read and to lay out. */
const READING: readonly Bomb[] = [
  {
    name: 'inch marks',
    work: ['read', 'lay out'],
    n: 100,
    make: (n) => `part a {\n${'dimension b 3" note "x"\n'.repeat(n)}}\n`,
  },
  {
    name: 'parts without faults among inch marks',
    work: ['read', 'lay out'],
    n: 100,
    make: (n) => times(n, (i) => `part p${n}-${i} { mass 3 kg } part q { bore 3" "x }\n`),
  },
  { name: 'comment lines', work: ['read', 'lay out', 'check'], n: 200, make: (n) => '# a remark\n'.repeat(n) },
  {
    name: 'comment lines in braces',
    work: ['read', 'lay out'],
    n: 200,
    make: (n) => `part a {\n${'  # a remark\n'.repeat(n)}}\n`,
  },
  {
    name: 'comments behind statements',
    work: ['read', 'lay out'],
    n: 200,
    make: (n) => `part a {\n${'  note "x" # a remark\n'.repeat(n)}}\n`,
  },
  {
    name: 'parts',
    work: ['read', 'lay out', 'check'],
    n: 200,
    make: (n) => times(n, (i) => `part p${n}-${i} { mass 3 kg }\n`),
  },
  {
    name: 'steps',
    work: ['read', 'lay out'],
    n: 200,
    make: (n) => `sequence s {\n${times(n, (i) => `step t${n}-${i} { note "x" }\n`)}}\n`,
  },
  {
    name: 'statements in one declaration',
    work: ['read', 'lay out'],
    n: 200,
    make: (n) => `part a {\n${times(n, (i) => `dimension d${i} ${i}.5 mm\n`)}}\n`,
  },
  {
    name: 'braces left open',
    work: ['read', 'lay out', 'check'],
    n: 100,
    make: (n) => times(n, (i) => `part p${n}-${i} {\n`),
  },
  { name: 'braces, one in the other', work: ['read', 'lay out'], n: 200, make: (n) => '{ '.repeat(n) },
  { name: 'braces closed too often', work: ['read', 'lay out'], n: 200, make: (n) => '} '.repeat(n) },
  { name: 'whens left open', work: ['read', 'lay out'], n: 100, make: (n) => 'when a { '.repeat(n) },
  {
    name: 'steps of sequences left open',
    work: ['read', 'lay out', 'check'],
    n: 100,
    make: (n) => times(n, (i) => `sequence s${n}-${i} { step t {\n`),
  },
  {
    name: 'steps left open',
    work: ['read', 'lay out'],
    n: 100,
    make: (n) => `sequence s {\n${'step t {\n'.repeat(n)}`,
  },
  {
    name: 'quoted mail',
    work: ['read', 'lay out', 'check'],
    n: 100,
    make: (n) => `> part a {\n${'>   mass 3 kg\n'.repeat(n)}> }\n`,
  },
  { name: 'quotes left open', work: ['read', 'lay out'], n: 100, make: (n) => 'note "x\n'.repeat(n) },
  { name: 'quotes', work: ['read', 'lay out'], n: 200, make: (n) => '"'.repeat(2 * n + 1) },
  {
    name: 'texts after figures',
    work: ['read', 'lay out'],
    n: 200,
    make: (n) => `part a { ${'note 3"x" '.repeat(n)}}`,
  },
  { name: 'one long text', work: ['read', 'lay out'], n: 400, make: (n) => `part a { note "${'x '.repeat(n)}" }` },
  { name: 'one long word', work: ['read', 'lay out'], n: 2000, make: (n) => `part ${'x'.repeat(n)} { }` },
  { name: 'one long number', work: ['read', 'lay out'], n: 2000, make: (n) => `part a { mass ${'1'.repeat(n)} kg }` },
  { name: 'blanks', work: ['read', 'lay out'], n: 400, make: (n) => `part a {${' '.repeat(n)}}` },
  { name: 'empty lines', work: ['read', 'lay out'], n: 400, make: (n) => `part a {${'\n'.repeat(n)}}` },
  { name: 'a long sum', work: ['read', 'lay out'], n: 100, make: (n) => `limit l = 1 mm${' + 1 mm'.repeat(n)}` },
  { name: 'a long product', work: ['read', 'lay out'], n: 100, make: (n) => `limit l = 1 mm${' * 2'.repeat(n)}` },
  { name: 'signs', work: ['read', 'lay out'], n: 200, make: (n) => `limit l = ${'- '.repeat(n)}1 mm` },
  {
    name: 'brackets',
    work: ['read', 'lay out'],
    n: 200,
    make: (n) => `limit l = ${'('.repeat(n)}1 mm${')'.repeat(n)}`,
  },
  {
    name: 'names in one list',
    work: ['read', 'lay out'],
    n: 200,
    make: (n) => `sequence s { step t { fit a${times(n, (i) => `, p${i}`)} } }`,
  },
  {
    name: 'actions without names',
    work: ['read', 'lay out'],
    n: 200,
    make: (n) => `sequence s { step t { ${'fit '.repeat(n)} } }`,
  },
  {
    name: 'misspelt statements',
    work: ['read', 'lay out', 'check'],
    n: 100,
    make: (n) => `part a {\n${'masss 3 kg\n'.repeat(n)}}`,
  },
  { name: 'words outside', work: ['read', 'lay out', 'check'], n: 200, make: (n) => 'word '.repeat(n) },
  { name: 'notes for the file', work: ['read', 'lay out'], n: 200, make: (n) => 'note "x"\n'.repeat(n) },
  {
    name: 'changes of a base',
    work: ['read', 'lay out'],
    n: 100,
    make: (n) => `spec a extends b {\n${times(n, (i) => `change part p${n}-${i} { mass 3 kg }\n`)}}`,
  },
  {
    name: 'rows of grades',
    work: ['read', 'lay out'],
    n: 100,
    make: (n) => `grades g by a.b {\n${times(n, (i) => `g${i} ${i}..${i + 1} mm\n`)}}`,
  },
];

const LIMIT = ' within 1..2 mm';
const PART = 'part a { dimension b 1.00..1.02 mm }\n';

/** What is long to work out. */
const SUMS: readonly Bomb[] = [
  { name: 'terms', work: ['check'], n: 100, make: (n) => `limit l = 1 mm${' + 1 mm'.repeat(n)}${LIMIT}` },
  { name: 'factors', work: ['check'], n: 100, make: (n) => `limit l = 1 mm${' * 2 / 2'.repeat(n)}${LIMIT}` },
  {
    name: 'one name in a sum',
    work: ['check'],
    n: 100,
    make: (n) => `${PART}limit l = a.b${' - a.b'.repeat(n)}${LIMIT}`,
  },
  {
    name: 'names in a sum',
    work: ['check'],
    n: 100,
    make: (n) =>
      `${times(n, (i) => `part p${n}-${i} { dimension b 1..2 mm }\n`)}limit l = 1 mm${times(n, (i) => ` + p${n}-${i}.b`)}${LIMIT}`,
  },
  {
    name: 'divisors that can be zero',
    work: ['check'],
    n: 100,
    make: (n) => `${PART}limit l = 1 mm${' / (a.b - a.b)'.repeat(n)}${LIMIT}`,
  },
  ...['min', 'mean', 'spread'].map(
    (name): Bomb => ({
      name: `operands of ${name}`,
      work: ['check'],
      n: 300,
      make: (n) => `${PART}limit l = ${name}(a.b${', a.b'.repeat(n)})${LIMIT}`,
    }),
  ),
];

export const BOMBS: readonly Bomb[] = [...READING, ...SUMS, ...CHECKING, ...DERIVED];
