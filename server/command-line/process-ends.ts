// The ends of this process, for a command that runs in a shell. Tests use their own.

import { cwd, env, stderr, stdin, stdout } from 'node:process';
import { createInterface } from 'node:readline/promises';
import { languageOfEnvironment } from '../../grammar/languages.ts';
import { told } from '../../grammar/told.ts';
import { LARGEST } from '../workspace/disk.ts';
import type { Ends } from './output.ts';
import { CannotDo } from './streams.ts';

async function readAll(): Promise<string> {
  const pieces: Buffer[] = [];
  let size = 0;
  for await (const piece of stdin) {
    const bytes = Buffer.from(piece as Uint8Array);
    size += bytes.length;
    if (size > LARGEST)
      throw new CannotDo(told`Standard input is larger than ${LARGEST / 1024 / 1024} MB, which no spec is.`);
    pieces.push(bytes);
  }
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(Buffer.concat(pieces));
  } catch {
    throw new CannotDo(told`Standard input is not UTF-8 text. Save it as UTF-8 first.`);
  }
}

async function askPerson(question: string, choices: readonly string[]): Promise<string> {
  const lines = createInterface({ input: stdin, output: stderr });
  const answer = await lines.question(`${question} (${choices.join(', ')}) `);
  lines.close();
  return answer.trim();
}

/** Colour only on a terminal, and not where the user has turned it off (no-color.org). */
export function processEnds(words: NonNullable<Ends['words']>): Ends {
  const plain = (env['NO_COLOR'] ?? '') !== '' || env['TERM'] === 'dumb';
  return {
    out: (text) => void stdout.write(text),
    err: (text) => void stderr.write(text),
    terminal: stdout.isTTY === true,
    plain,
    progress: stderr.isTTY === true && env['TERM'] !== 'dumb',
    folder: cwd(),
    language: languageOfEnvironment(env),
    words,
    stdin: readAll,
    ...(stdin.isTTY === true && stderr.isTTY === true ? { ask: askPerson } : {}),
  };
}
