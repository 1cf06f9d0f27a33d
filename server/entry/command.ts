// The `fettle` command as it is installed: streams of the process, and the server in the same bundle.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { argv, exit, stderr, stdout } from 'node:process';
import { deflateRawSync } from 'node:zlib';
import { type Program, programOf } from '../bench/program.ts';
import { type StartWorker, serveChecks, workersOf } from '../command-line/check-workers.ts';
import { processEnds } from '../command-line/process-ends.ts';
import { run } from '../command-line/run.ts';
import { wordsIn } from '../workspace/words.ts';
import { begun } from './begun.ts';

let isServing = false;

/** Results that find no room are a fault of their own: one line says so, where standard error still takes it. */
function notWritten(stream: NodeJS.WriteStream, code: string | undefined): void {
  if (stream === stderr) exit(2);
  const why = code === 'ENOSPC' ? 'there is no room left' : (code ?? 'unknown reason');
  stderr.write(`fettle: what was found could not be written: ${why}.\n`, () => exit(2));
}

for (const stream of [stdout, stderr])
  stream.on('error', ({ code }: NodeJS.ErrnoException) => {
    // A reader that has seen enough (head, less) closes the pipe. That is no fault, and what was found is still told by the exit status.
    if (code !== 'EPIPE') notWritten(stream, code);
    // An editor that is gone asks nothing more.
    else if (isServing) exit(0);
  });

/** The server is made ready only where it is asked for. It runs in this process and ends it itself. */
async function serve(): Promise<number> {
  isServing = true;
  await import('./node-server.ts');
  return new Promise(() => undefined);
}

function version(): string {
  return String(JSON.parse(readFileSync(join(__dirname, '..', 'package.json'), 'utf8')).version);
}

/** What runs in a bench page is in the command's own file and beside it. */
function benchProgram(): Program {
  const program = programOf(readFileSync(__filename, 'utf8'), readFileSync(join(__dirname, 'bench-page.js'), 'utf8'));
  return { ...program, packed: deflateRawSync(program.rest, { level: 9 }).toString('base64') };
}

let hasWorkers = false;

/** The file that was started is the worker of its own: see check-workers.ts. */
const startWorker: StartWorker = (data) => {
  hasWorkers = true;
  return workersOf(begun?.file ?? __filename)(data);
};

/** What a command was compiled to is stored when all is said. Where workers did its work, one of them has. */
function storeCode([command = '']: readonly string[], status: number): void {
  if (status !== 2 && !hasWorkers && /^[a-z]+$/.test(command)) begun?.store(command);
}

if (!serveChecks(() => begun?.store('check-many'))) {
  const args = argv.slice(2);
  run(args, processEnds(wordsIn(__dirname)), serve, version, startWorker, benchProgram).then((status) => {
    process.exitCode = status;
    storeCode(args, status);
  });
}
