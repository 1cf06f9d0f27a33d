// The `fettle` command as it is installed: streams of the process, and the server that lies beside it.

import { argv, cwd, exit, stderr, stdin, stdout } from 'node:process';
import { createInterface } from 'node:readline/promises';
import { run } from '../command-line/run.ts';
import type { Streams } from '../command-line/streams.ts';

// A reader that has seen enough (head, less) closes the pipe; that is no fault.
for (const stream of [stdout, stderr]) {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') exit(0);
    throw error;
  });
}

const streams: Streams = {
  out: (text) => void stdout.write(text),
  err: (text) => void stderr.write(text),
  terminal: stdout.isTTY === true && process.env['NO_COLOR'] === undefined,
  folder: cwd(),
  async stdin() {
    const pieces: Buffer[] = [];
    for await (const piece of stdin) pieces.push(Buffer.from(piece as Uint8Array));
    return Buffer.concat(pieces).toString('utf8');
  },
  ...(stdin.isTTY === true && stdout.isTTY === true
    ? {
        async ask(question, choices) {
          const lines = createInterface({ input: stdin, output: stderr });
          const answer = await lines.question(`${question} (${choices.join(', ')}) `);
          lines.close();
          return answer.trim();
        },
      }
    : {}),
};

async function serve(): Promise<number> {
  // The server is a bundle of its own, started in this process.
  const server = './server-node.js';
  await import(server);
  return new Promise(() => undefined);
}

run(argv.slice(2), streams, serve).then((status) => {
  process.exitCode = status;
});
