// Copies of Fettle that have seen nothing, to hold against it what was kept from edit to edit.
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { Script } from 'node:vm';
import type { Plugin } from 'esbuild';
import { bundleOf } from './bundled.ts';

/** What a copy has. */
export type Copy = typeof import('./copied.ts');

type Unchanging = typeof import('./unchanging.ts');
type Begin<given> = (module: { exports: unknown }, exports: unknown, require: NodeJS.Require, given: given) => void;

const TOKENS = join(import.meta.dirname, '../grammar/tokens.ts');
const require = createRequire(import.meta.url);

function compiled<given>(text: string, filename: string): Begin<given> {
  return new Script(`(function (module, exports, require, unchanging) {${text}\n})`, { filename }).runInThisContext();
}

function begun<result>(begin: Begin<Unchanging | undefined>, unchanging?: Unchanging): result {
  const module = { exports: {} };
  begin(module, module.exports, require, unchanging);
  return module.exports as result;
}

/** Has a bundle take what does not change from what it is given. */
function given(unchanging: Unchanging): Plugin {
  return {
    name: 'unchanging',
    setup({ onResolve, onLoad }) {
      onResolve({ filter: /^chevrotain$/ }, () => ({ path: 'chevrotain', namespace: 'unchanging' }));
      onResolve({ filter: /\/tokens\.ts$/ }, ({ path, importer }) =>
        join(dirname(importer), path) === TOKENS ? { path: 'tokens', namespace: 'unchanging' } : undefined,
      );
      onLoad({ filter: /./, namespace: 'unchanging' }, ({ path }) => ({
        contents: Object.keys(Reflect.get(unchanging, path))
          .map((name) => `export const ${name} = unchanging.${path}.${name};`)
          .join('\n'),
      }));
    },
  };
}

async function prepare(): Promise<() => Copy> {
  const unchanging = begun<Unchanging>(compiled(await bundleOf('tests/unchanging.ts'), 'fettle-unchanging.js'));
  const begin = compiled<Unchanging | undefined>(
    await bundleOf('tests/copied.ts', [given(unchanging)]),
    'fettle-anew.js',
  );
  return () => begun(begin, unchanging);
}

let prepared: Promise<() => Copy> | undefined;

/**
 * A copy of Fettle that keeps nothing in common with the one under test nor with any copy before: no module has been read yet, nothing is
 * kept. All of it is bundled and compiled once in a process, as one function that makes a copy whenever it is called, and always the same one:
 * what the engine has learned of its code holds for the next copy, too.
 */
export async function anew(): Promise<Copy> {
  prepared ??= prepare();
  return (await prepared)();
}
