// What all declarations of one file together say, counted as they come and go: which names and sources they use, which words they begin
// with, which of them are of some sort. Nobody goes through them all after an edit.

import type { InPieces } from '../../grammar/give-way.ts';
import { allIn, changedDeclarations } from './changed-declarations.ts';
import type { Placed, ReadFile } from './placed.ts';
import { type Cell, invalidate, newCell, track } from './questions.ts';
import { usesOf } from './references.ts';

export interface DeclarationIndex {
  /** Whether some other declaration names a thing. */
  isUsed(name: string): boolean;
  /** Whether something is said to come from a source. */
  isSource(name: string): boolean;
  /** Whether a declaration begins with a word. */
  hasWord(word: string): boolean;
  /** The declarations and each `when` of a sort, each told by its own text alone; the same function is the same sort. */
  those(sort: (placed: Placed) => boolean): readonly Placed[];
  /** Looks for them in pieces, so that they are known when they are asked for. */
  lookingFor(sort: (placed: Placed) => boolean): InPieces<void>;
}

export interface CachedIndex {
  readonly index: DeclarationIndex;
  update(file: ReadFile): void;
}

type Count = Map<string, number>;

/** An index of a file without declarations. */
export function newIndex(): CachedIndex {
  let file: ReadFile | undefined;
  const [used, sources, words]: readonly [Count, Count, Count] = [new Map(), new Map(), new Map()];
  const cells = new Map<string, Cell>();
  const sorts = new Map<(placed: Placed) => boolean, { readonly cell: Cell; readonly found: Set<Placed> }>();

  const noteCount = (set: string, name: string): void => {
    const key = `${set} ${name}`;
    let cell = cells.get(key);
    if (cell === undefined) {
      cell = newCell(() => cells.delete(key));
      cells.set(key, cell);
    }
    track(cell);
  };
  const touched = new Map<string, boolean>();
  const count = (set: string, counts: Count, name: string, by: number): void => {
    const before = counts.get(name) ?? 0;
    const key = `${set} ${name}`;
    if (cells.has(key) && !touched.has(key)) touched.set(key, before > 0);
    if (before + by === 0) counts.delete(name);
    else counts.set(name, before + by);
  };
  const add = (placed: Placed, by: 1 | -1): void => {
    const { word, name } = placed.declaration;
    count('word', words, word, by);
    const uses = usesOf(placed);
    for (const use of uses.uses) if (use.name.text !== name?.text) count('name', used, use.name.text, by);
    for (const source of uses.sources) count('source', sources, source.text, by);
  };
  const counts = new Map([
    ['word', words],
    ['name', used],
    ['source', sources],
  ]);
  const isThere = (set: string, name: string): boolean => (counts.get(set)?.get(name) ?? 0) > 0;
  const isCounted = ({ declaration }: Placed): boolean => declaration.word !== 'when';

  return {
    index: {
      isUsed(name) {
        noteCount('name', name);
        return used.has(name);
      },
      isSource(name) {
        noteCount('source', name);
        return sources.has(name);
      },
      hasWord(word) {
        noteCount('word', word);
        return words.has(word);
      },
      those(sort) {
        let known = sorts.get(sort);
        if (known === undefined) {
          known = { cell: newCell(), found: new Set() };
          sorts.set(sort, known);
          for (const section of file?.sections ?? [])
            for (const placed of allIn(section)) if (sort(placed)) known.found.add(placed);
        }
        track(known.cell);
        return [...known.found];
      },
      *lookingFor(sort) {
        const looked = file;
        const found = new Set<Placed>();
        for (const section of looked?.sections ?? []) {
          for (const placed of allIn(section)) if (sort(placed)) found.add(placed);
          yield;
        }
        // An edit meanwhile: whoever asks goes through them all.
        if (looked === file && !sorts.has(sort)) sorts.set(sort, { cell: newCell(), found });
      },
    },
    update(now) {
      const changes = changedDeclarations(file, now);
      file = now;
      const [gone, come] = [changes.gone.filter(isCounted), changes.come.filter(isCounted)];
      for (const placed of gone) add(placed, -1);
      for (const placed of come) add(placed, 1);
      for (const [key, was] of touched) {
        const [set = '', name = ''] = key.split(' ');
        const cell = cells.get(key);
        if (cell !== undefined && isThere(set, name) !== was) invalidate(cell);
      }
      touched.clear();
      for (const [sort, { cell, found }] of sorts) {
        let isOther = false;
        for (const placed of changes.gone) if (found.delete(placed)) isOther = true;
        for (const placed of changes.come)
          if (sort(placed)) {
            found.add(placed);
            isOther = true;
          }
        if (isOther) invalidate(cell);
      }
    },
  };
}
