// What is kept from edit to edit stays of one size: nothing holds on to earlier texts, to variants that are no more, or to files that
// are gone.
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { expect, test } from 'vitest';
import { cachedFiles } from '../../server/model/file-cache.ts';
import { createDocuments, type Documents } from '../../server/workspace/documents.ts';
import { positionAt } from '../../server/workspace/lines.ts';

const URI = 'file:///shop/long.fettle';

/** A spec of so many parts. */
function spec(parts: number): string {
  const all = Array.from({ length: parts }, (_, i) => `part housing-${i} "Housing ${i}" {\n  mass ${i + 1} g\n}\n`);
  return ['spec long "Long" {\n  draft\n  variants one, two\n}\n', ...all].join('\n');
}

function opened(text: string): Documents {
  const documents = createDocuments();
  documents.setRoots(['file:///shop']);
  documents.open(URI, 1, text);
  documents.analysis(URI);
  return documents;
}

function write(documents: Documents, old: RegExp, now: string): void {
  const found = old.exec(documents.read(URI) ?? '');
  if (found === null) throw new Error(`${old} is not there`);
  const lines = documents.lines(URI);
  const [start, end] = [positionAt(lines, found.index), positionAt(lines, found.index + found[0].length)];
  documents.change(URI, (documents.get(URI)?.version ?? 0) + 1, [{ range: { start, end }, text: now }]);
  documents.analysis(URI);
}

/** Megabytes that are held when all that can be let go of has been. */
function held(): number {
  setFlagsFromString('--expose-gc');
  const collect = runInNewContext('gc') as () => void;
  collect();
  collect();
  return process.memoryUsage().heapUsed / 2 ** 20;
}

/** How many megabytes more are held after some edits, by their number. */
function grown(documents: Documents, edits: number, edit: (i: number) => void): number {
  for (let i = 0; i < 20; i += 1) edit(i);
  const before = held();
  for (let i = 20; i < 20 + edits; i += 1) edit(i);
  const after = held();
  expect(documents.read(URI)?.length).toBeGreaterThan(0);
  return after - before;
}

test('words that come and go hold no text that they stood in', () => {
  const documents = opened(spec(2000));
  // Each text is 100 KB: four hundred of them are 40 MB.
  expect(
    grown(documents, 400, (i) =>
      write(documents, /mass \d+ g\n}\n\npart \S+7 /, `mass 9 g\n}\n\npart a-long-new-name-${i}-7 `),
    ),
  ).toBeLessThan(15);
}, 120_000);

test('what can not be read holds no text that it stood in', () => {
  const documents = opened(spec(2000));
  expect(
    grown(documents, 400, (i) =>
      write(documents, /part (\? \S+ )?housing-17 /, `part ? a-long-word-that-is-${i} housing-17 `),
    ),
  ).toBeLessThan(15);
}, 120_000);

test('variants that come and go leave nothing', () => {
  const documents = opened(spec(300));
  expect(grown(documents, 60, (i) => write(documents, /variants \S+/, `variants a-variant-${i},`))).toBeLessThan(10);
}, 120_000);

test('of files that are gone nothing is kept', () => {
  const documents = opened('spec one\n\npart block\n');
  for (let i = 0; i < 30; i += 1) {
    const [one, other] = [`file:///shop/open-${i}.fettle`, `file:///shop/told-${i}.fettle`];
    documents.told(
      other,
      `use "long.fettle"\n\nspec built-${i} extends one {\n  change part block {\n    mass 1 g\n  }\n}\n`,
    );
    documents.open(one, 1, `use "told-${i}.fettle"\n\nspec of-${i}\n\npart x\n`);
    expect(documents.analysis(one)?.used).toHaveLength(2);
    expect(documents.analysis(other)?.used).toHaveLength(1);
    documents.close(one);
    documents.told(other, undefined);
  }
  expect(cachedFiles().filter((file) => /(open|told)-\d+/.test(file))).toEqual([]);
  expect(cachedFiles()).toContain(URI);
});
