// dist/fettle.js: the file that is started, as the command, as the server and as a thread of theirs. It makes the program ready that lies beside
// it (fettle.ts), from what was cached of it at an earlier start where there is something; see code-cache.ts.
import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { argv, env } from 'node:process';
import { isMainThread } from 'node:worker_threads';
import type { Begun } from './begun.ts';
import { type CacheFolder, cacheFolder } from './cache-folder.ts';
import { compiled } from './code-cache.ts';
import { setEngine } from './engine-settings.ts';

/** What differs where the program does; put in when it is built. */
declare const FETTLE_BUILD: string;

const file = join(__dirname, 'fettle-all.js');

/** Settings are those of the process: its threads have them too. */
const engine = isMainThread ? setEngine(argv.slice(2).includes('serve')) : undefined;

function folder(): CacheFolder | undefined {
  try {
    return cacheFolder(env);
  } catch {
    // There is no home.
    return undefined;
  }
}

const { size, mtimeMs } = statSync(file);
// The program is ASCII alone: read so, it is one byte a letter, outside of what is collected.
const program = compiled({ file, build: `${FETTLE_BUILD} ${size} ${mtimeMs}` }, readFileSync(file, 'latin1'), folder());

const begun: Begun = {
  file: __filename,
  store(kind) {
    if (engine === undefined) program.store(kind);
    else engine.asAtStart(() => program.store(kind));
  },
  settle: () => engine?.settle(),
};

(program.value as (...given: readonly unknown[]) => void)(require, __dirname, file, begun);
