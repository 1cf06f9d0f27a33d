// The samples of the project as the workbench tests use them: copies by name, and places in them.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const folder = join(import.meta.dirname, '../../samples');

/** Every sample by its name. */
export function samples(): Readonly<Record<string, string>> {
  const names = readdirSync(folder).filter((name) => name.endsWith('.fettle'));
  return Object.fromEntries(names.map((name) => [name, readFileSync(join(folder, name), 'utf8')]));
}

/** Where a text stands, line and column from 1. Throws if the sample has changed and it is not there. */
export function lineWith(text: string | undefined, wanted: string): { readonly line: number; readonly column: number } {
  const at = text?.indexOf(wanted) ?? -1;
  if (text === undefined || at < 0) throw new Error(`the sample no longer holds "${wanted}"`);
  const before = text.slice(0, at).split('\n');
  return { line: before.length, column: (before.at(-1) ?? '').length + 1 };
}
