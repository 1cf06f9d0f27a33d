// Brings together what the workbench tests need: a browser, the editors, and the packed extension. It runs once
// before them, and says plainly what is missing.
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { execPath } from 'node:process';
import type { TestProject } from 'vitest/node';
import { findBrowser } from './find-browser.ts';

const here = import.meta.dirname;
const root = join(here, '../..');

declare module 'vitest' {
  export interface ProvidedContext {
    /** Folder that holds the editors. */
    editors: string;
    /** The packed extension. */
    extension: string;
    /** The browser's program. */
    browser: string;
  }
}

/** Called by the test runner before the first test. */
export function setup({ provide }: TestProject): void {
  provide('browser', findBrowser());
  needOtherEditors();
  const script = join(here, 'install-code-server.sh');
  const printed = execFileSync('bash', [script], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit'] });
  provide('editors', printed.trim().split('\n').at(-1) ?? '');
  for (const step of ['build.mjs', 'package-extension.mjs']) {
    execFileSync(execPath, [join(root, 'client', step)], { cwd: root, stdio: ['ignore', 'ignore', 'inherit'] });
  }
  provide('extension', join(root, 'dist', 'fettle.vsix'));
}

/** The other editors, with what tells that they are there and the Debian packages that bring them. */
const OTHERS: readonly (readonly [program: string, args: readonly string[], packages: string])[] = [
  ['nvim', ['--version'], 'neovim'],
  ['emacs', ['--batch', '-f', 'package-initialize', '-l', 'eglot'], 'emacs-nox elpa-eglot'],
  ['vim', ['-N', '-u', 'NONE', '-es', '-c', 'packadd ale', '-c', 'qall!'], 'vim-nox vim-ale'],
];

function needOtherEditors(): void {
  for (const [program, args, packages] of OTHERS)
    try {
      execFileSync(program, args, { stdio: 'ignore' });
    } catch {
      throw new Error(`The workbench tests need ${program}. On Debian: apt-get install ${packages}.`);
    }
}
