// Which language is asked for, and the rows of a packed translation. The tables themselves are in server/translations; how they are read is at
// the edge.
import { rowKey } from './row-key.mjs';
import type { Rows } from './told.ts';

/** A translation as it is packed: by the keys of `row-key.mjs`. */
export type PackedRows = Readonly<Record<string, string>>;

/** Languages that there is a translation for, besides English. */
export const LANGUAGES: readonly string[] = ['de'];

/** The rows of a packed translation. */
export function rowsOf(packed: PackedRows): Rows {
  return (english) => {
    const key = rowKey(english);
    return Object.hasOwn(packed, key) ? packed[key] : undefined;
  };
}

/** The language of a tag as people, systems and editors write it (`de`, `de_DE.UTF-8`, `de-AT`); undefined where only English is there. */
export function languageOf(tag: string | undefined): string | undefined {
  const [, word = ''] = /^([A-Za-z]+)(?:[-_.@]|$)/.exec(tag ?? '') ?? [];
  return LANGUAGES.find((each) => each === word.toLowerCase());
}

/** What the environment asks for: the first of these that is set decides. */
export function languageOfEnvironment(env: Readonly<Record<string, string | undefined>>): string | undefined {
  return languageOf([env['LC_ALL'], env['LC_MESSAGES'], env['LANG']].find((each) => each !== undefined && each !== ''));
}
