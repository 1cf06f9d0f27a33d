// The samples are where the words of the language are seen in use: a new word of the language comes with a sample.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { parseSection } from '../../grammar/parse.ts';
import { ACTIONS, CHANGES, CLAUSES, DECLARATIONS, STAGES, STATEMENTS } from '../../grammar/vocabulary.ts';
import { everySection } from '../grammar/trees.ts';

const root = join(import.meta.dirname, '../../samples');
const textsOf = (folder: string): readonly string[] =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.fettle'))
    .map((name) => readFileSync(join(folder, name), 'utf8'));

/** Whole engines, jobs and records; the samples of faults show what is wrong, not how it is said. */
const texts = ['.', 'two-shops', 'review'].flatMap((folder) => textsOf(join(root, folder)));

interface Written {
  readonly word?: unknown;
  readonly wordSpan?: unknown;
  readonly changed?: { readonly word?: unknown };
  readonly start?: number;
  readonly end?: number;
}

/** Every word with what it stands in: `part: fitted`, `fit: press`, `clause: kind`, `kind: squish`. */
function wordsOf(text: string): ReadonlySet<string> {
  const found = new Set<string>();
  for (const { section, inSequence } of everySection(text)) {
    const { declaration, outside, tokens } = parseSection(section, inSequence);
    const images = tokens.map((token) => token.image.toLowerCase());
    images.forEach((image, at) => {
      found.add(`clause: ${image}`);
      const before = images[at - 1];
      if (before !== undefined) found.add(`${before}: ${image}`);
      // Between the word and what it chooses stands an angle: `opens 12 deg btdc`.
      const event = images[at - 3];
      if (event === 'opens' || event === 'closes') found.add(`${event}: ${image}`);
    });
    const walk = (value: unknown, block: string): void => {
      if (Array.isArray(value)) for (const one of value) walk(one, block);
      if (typeof value !== 'object' || value === null || Array.isArray(value)) return;
      const node: Written = value;
      let inside = block;
      if (typeof node.word === 'string' && node.wordSpan !== undefined) {
        found.add(`${block}: ${node.word}`);
        if (block === '') inside = String(node.changed?.word ?? node.word);
        else if (node.word === 'size') inside = 'size';
        const { start = 0, end = 0 } = node;
        for (const token of tokens)
          if (token.startOffset >= start && token.startOffset < end)
            found.add(`${node.word}: ${token.image.toLowerCase()}`);
        if (node.changed !== undefined) found.add(`change: ${String(node.changed.word)}`);
      }
      for (const inner of Object.values(value)) walk(inner, inside);
    };
    walk(declaration, '');
    walk(outside, 'spec');
  }
  return found;
}

test('every word of the language is in use in a sample', () => {
  const used = new Set(texts.flatMap((text) => [...wordsOf(text)]));
  const choicesOf = (row: { readonly word: string; readonly choices?: Readonly<Record<string, string>> }) =>
    Object.keys(row.choices ?? {}).map((choice) => `${row.word}: ${choice}`);
  const wanted = new Set([
    ...[...DECLARATIONS, ...CHANGES].map((row) => `: ${row.word}`),
    ...[...STATEMENTS, ...ACTIONS].flatMap((row) => [
      ...(row.word === 'note' || row.word === 'allow' || row.word === 'when'
        ? []
        : row.in.map((block) => `${block}: ${row.word}`)),
      ...choicesOf(row),
    ]),
    ...CLAUSES.flatMap((row) => [`clause: ${row.word}`, ...choicesOf(row)]),
    ...STAGES.map((row) => `torque: ${row.word}`),
  ]);
  expect([...wanted].filter((word) => !used.has(word)).sort(), 'write it in a sample (samples/*.fettle)').toEqual([]);
});
