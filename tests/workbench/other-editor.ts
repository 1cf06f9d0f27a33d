// A folder with a spec in it and the command on its path, as a user of another editor has them, and the set-up lines of the README.
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { env, execPath } from 'node:process';

const root = join(import.meta.dirname, '../..');

/** Line 9 has a comma where a point belongs. */
export const spec = `part head
part block

fastener head-bolt x4 {
  thread M10x1.25
  class 10.9
  fitted oiled
  clamps head to block
  torque 24,5 N.m
}
`;

export interface OtherEditor {
  /** The lines that the README has in this language. */
  lines(language: string): string;
  write(name: string, text: string): void;
  /** Runs the editor in the folder, for a minute at most. */
  run(program: string, args: readonly string[]): void;
  /** What its script has written. */
  told(name: string): unknown;
  close(): void;
}

export function otherEditor(name: string): OtherEditor {
  const folder = mkdtempSync(join(tmpdir(), `fettle-${name}-`));
  const programs = join(folder, 'bin');
  mkdirSync(programs);
  const started = [execPath, join(root, 'dist', 'fettle.js')].map((each) => `'${each}'`).join(' ');
  writeFileSync(join(programs, 'fettle'), `#!/bin/sh\nexec ${started} "$@"\n`, { mode: 0o755 });
  writeFileSync(join(folder, 'head.fettle'), spec);
  return {
    lines(language) {
      const readme = readFileSync(join(root, 'README.md'), 'utf8');
      const lines = new RegExp(`\`\`\`${language}\\n([\\s\\S]*?)\`\`\``).exec(readme)?.[1];
      if (lines === undefined) throw new Error(`the README no longer says how ${name} is set up`);
      return lines;
    },
    write: (file, text) => writeFileSync(join(folder, file), text),
    run(program, args) {
      execFileSync(program, args, {
        cwd: folder,
        env: {
          ...env,
          PATH: `${programs}${delimiter}${env['PATH'] ?? ''}`,
          HOME: folder,
          XDG_STATE_HOME: folder,
          TERM: 'dumb',
        },
        stdio: ['ignore', 'pipe', 'pipe'],
        timeout: 60_000,
      });
    },
    told: (file) => JSON.parse(readFileSync(join(folder, file), 'utf8')),
    close: () => rmSync(folder, { recursive: true, force: true }),
  };
}
