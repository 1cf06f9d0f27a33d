// Names that other specs of the folder and the libraries declare, and the `use` line that brings one of them. They are looked for in the
// texts, so that no key waits for a folder to be analysed.
import { apart } from '../../grammar/characters.ts';
import type { NameKind } from '../../grammar/vocabulary.ts';
import type { Analysis } from '../model/analysis.ts';
import { fileCache } from '../model/file-cache.ts';
import type { FixEdit } from '../model/finding.ts';
import { placeOf } from '../model/placed.ts';

/** A name that may be had from another file. */
export interface Elsewhere {
  readonly name: string;
  readonly kind: NameKind;
  /** What a `use` here would say: a path, or a library. */
  readonly path: string;
}

/** Kinds of things that a spec takes from others. */
const SHARED = /^[ \t]*(part|fastener|supply|drive|limit|grades)[ \t]+(\p{L}[\p{L}\p{M}\p{N}_-]*)/gmu;

/** More files than a folder of specs has. */
const MOST_CACHED = 5000;

const cache = fileCache<{ readonly text: string; readonly names: readonly (readonly [NameKind, string])[] }>(
  MOST_CACHED,
);

/** The names that a text declares; kept by its address as long as it is the same. */
export function declaredIn(address: string, text: string): readonly (readonly [kind: NameKind, name: string])[] {
  const known = cache.get(address);
  if (known?.text === text) return known.names;
  // A copy: a piece of a text would hold all of it.
  const names = [...text.matchAll(SHARED)].map(([, kind = '', name = '']): readonly [NameKind, string] => [
    kind as NameKind,
    apart(name),
  ]);
  cache.set(address, { text, names });
  return names;
}

/** The edit that writes a `use` line: behind the last of them, or before the first declaration. */
export function useLine(analysis: Analysis, path: string): FixEdit | undefined {
  const { file, declarations } = analysis.file;
  if (/["\\\n]/.test(path)) return undefined;
  const uses = declarations.filter((each) => each.declaration.word === 'use');
  const last = uses[uses.length - 1];
  const first = declarations[0];
  if (last !== undefined) {
    const { end } = placeOf(last, last.declaration);
    return { file, start: end, end, text: `\nuse "${path}"` };
  }
  const start = first === undefined ? 0 : placeOf(first, first.declaration).start;
  return { file, start, end: start, text: `use "${path}"\n\n` };
}
