// The `fettle` command as it is installed: streams of the process, and the server in the same bundle.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { argv, exit, stderr, stdout } from 'node:process';
import { processStreams } from '../command-line/process-streams.ts';
import { run } from '../command-line/run.ts';

// A reader that has seen enough (head, less) closes the pipe; that is no fault.
for (const stream of [stdout, stderr]) {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') exit(0);
    throw error;
  });
}

/** The server is made ready only where it is asked for. It runs in this process and ends it itself. */
async function serve(): Promise<number> {
  await import('./node-server.ts');
  return new Promise(() => undefined);
}

function version(): string {
  return String(JSON.parse(readFileSync(join(__dirname, '..', 'package.json'), 'utf8')).version);
}

run(argv.slice(2), processStreams(), serve, version).then((status) => {
  process.exitCode = status;
});
