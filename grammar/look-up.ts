// Looking a word up in a table that is written as a plain object: a user's word may be one that every object answers to by itself
// (`constructor`, `toString`), and is in no table of ours.

/** What a table has under a word, or undefined; only what is written in the table counts. */
export function lookUp<Value>(table: Readonly<Partial<Record<string, Value>>>, word: string): Value | undefined {
  return Object.hasOwn(table, word) ? table[word] : undefined;
}
