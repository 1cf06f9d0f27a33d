// The words of a language lie beside the bundle, and are read only where that language is asked for.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { PackedRows } from '../../grammar/languages.ts';

/** Reads the words of a language from a folder; undefined where there are none. */
export function wordsIn(folder: string): (language: string) => PackedRows | undefined {
  return (language) => {
    try {
      return JSON.parse(readFileSync(join(folder, `words-${language}.json`), 'utf8'));
    } catch {
      return undefined;
    }
  };
}
