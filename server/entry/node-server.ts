// The language server in a process of its own (see `fettle serve`), over the channel that the editor asks for: its own pipe, or standard
// input and output.
import { Console } from 'node:console';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { argv, exit, stderr, stdin, stdout } from 'node:process';
import { setFlagsFromString } from 'node:v8';
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

// The process takes little more than it holds. Each of these can be set while it runs, in every Node from 20 on; none slows an edit.
for (const flag of [
  // What an edit leaves behind is let go of soon: without this the process grows to several times what it holds.
  '--heap-growing-percent=40',
  // The room for what is new stays as large as starting made it, twice 4 MB; it would grow to twice 16 MB with a long spec.
  '--semi-space-growth-factor=1',
  // Less machine code is made in one piece: what the compiler needs while it makes it is never given back.
  '--max-inlined-bytecode-size-cumulative=300',
])
  setFlagsFromString(flag);

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

startServer(argv.includes('--stdio') ? overStandardStreams() : createConnection(ProposedFeatures.all), {
  disk: diskHost,
  words: wordsIn(__dirname),
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
