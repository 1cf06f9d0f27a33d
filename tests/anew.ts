// Copies of Fettle that have seen nothing, to hold against it what was kept from edit to edit.
import { createRequire } from 'node:module';
import { Script } from 'node:vm';
import { bundleOf } from './bundled.ts';

/** What a copy has. */
export type Copy = typeof import('./copied.ts');

type Begin = (module: { exports: unknown }, exports: unknown, require: NodeJS.Require) => void;

let compiled: Promise<Script> | undefined;

/** All of Fettle that findings come from, and all that it imports, as one function that makes a copy of it whenever it is called. */
async function compile(): Promise<Script> {
  const text = await bundleOf('tests/copied.ts');
  return new Script(`(function (module, exports, require) {${text}\n})`, { filename: 'fettle-anew.js' });
}

/**
 * A copy of Fettle that shares nothing with the one under test nor with any copy before: no module has been read yet, nothing is kept.
 * It is bundled and compiled once in a process: that, and not the reading, is what takes time where the modules are imported again.
 */
export async function anew(): Promise<Copy> {
  compiled ??= compile();
  const begin = (await compiled).runInThisContext() as Begin;
  const module = { exports: {} };
  begin(module, module.exports, createRequire(import.meta.url));
  return module.exports as Copy;
}
