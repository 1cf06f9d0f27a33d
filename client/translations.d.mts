/** The languages that there are rows of. */
export function languagesIn(root: string): string[];
/** All rows of a language as they are written: what is said, by the English sentence. */
export function rowsIn(root: string, language: string): Record<string, string>;
/** The help pages of a language, paragraph by paragraph, beside the English ones. */
export function pagePairs(
  root: string,
  language: string,
): readonly { readonly name: string; readonly english: readonly string[]; readonly said: readonly string[] }[];
/** The paragraphs of the help pages of a language, each by the English one. */
export function pagesIn(root: string, language: string): Record<string, string>;
/** The rows by their short keys. Throws where two sentences come to one key. */
export function packed(rows: Readonly<Record<string, string>>): Record<string, string>;
