// The language server in a process of its own (see `fettle serve`), over the channel that the editor asks for: its own pipe, or standard
// input and output.
import { Console } from 'node:console';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { argv, exit, stderr, stdin, stdout } from 'node:process';
import {
  type Connection,
  createConnection,
  ProposedFeatures,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { startServer } from '../protocol/server.ts';
import { addressOf, diskHost, fettleFilesBelow, pathOf } from '../workspace/disk.ts';
import { wordsIn } from '../workspace/words.ts';
import { begun } from './begun.ts';

/**
 * Over standard input and output. Where a message ends is told by the one before it: once that cannot be made out, nothing more can,
 * and every question would stay without an answer. The server ends then, and the editor starts it again.
 */
function overStandardStreams(): Connection {
  // Whatever a library says goes where it cuts no message in two.
  globalThis.console = new Console(stderr);
  const reader = new StreamMessageReader(stdin);
  const end = (why: string): void => {
    stderr.write(`fettle: ${why}. The server ends, so that it can be started again.\n`, () => exit(1));
  };
  reader.onError(() => end('what came from the editor is no message'));
  reader.onPartialMessage(() => end('a message from the editor never came to its end'));
  for (const gone of ['end', 'close']) stdin.on(gone, () => exit(1));
  return createConnection(ProposedFeatures.all, reader, new StreamMessageWriter(stdout));
}

/** The libraries lie beside the bundle as files, for editors that open nothing else. */
const libraries = join(__dirname, '..', 'server', 'library');

/** The page with the help of every code. */
const help = join(__dirname, 'help.html');

/** Milliseconds without a message from the editor after which the engine is set for what comes; it is, after so many, in any case. */
const [SOON, LATEST] = [300, 1500];
/** Milliseconds without a message after which what was compiled is stored. */
const QUIET = 3000;

/** When the editor last sent something. */
let heard = 0;
let isTold = false;

/** Does something once, when nothing came from the editor for a while, or at a time at the latest. */
function whenQuiet(quiet: number, work: () => void, latest = Number.POSITIVE_INFINITY): void {
  const due = (): number => Math.min(heard + quiet, latest) - Date.now();
  setTimeout(() => (due() > 0 ? whenQuiet(quiet, work, latest) : work()), due()).unref();
}

/** The first findings are told: what is needed for them has been compiled, and is seldom done again. */
function onTold(): void {
  if (isTold || begun === undefined) return;
  isTold = true;
  const { settle, store } = begun;
  heard = Date.now();
  whenQuiet(SOON, settle, heard + LATEST);
  whenQuiet(QUIET, () => store('serve'));
}

startServer(argv.includes('--stdio') ? overStandardStreams() : createConnection(ProposedFeatures.all), {
  disk: diskHost,
  words: wordsIn(__dirname),
  onTold,
  ...(existsSync(join(libraries, 'supplies.fettle')) ? { libraries: addressOf(libraries) } : {}),
  ...(existsSync(help) ? { help: addressOf(help) } : {}),
  onFault(tell) {
    process.on('uncaughtException', tell);
    process.on('unhandledRejection', tell);
  },
  filesBelow: (root) => {
    const folder = pathOf(root);
    return folder === undefined ? [] : fettleFilesBelow(folder).map(addressOf);
  },
});

const hears = (): void => {
  heard = Date.now();
};
if (argv.includes('--stdio')) stdin.on('data', hears);
else process.on('message', hears);
