// What the tests of the pages alone need: a browser and the command. No editor is installed for them.
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { execPath } from 'node:process';
import type { TestProject } from 'vitest/node';
import { findBrowser } from './find-browser.ts';

const root = join(import.meta.dirname, '../..');

export function setup({ provide }: TestProject): void {
  provide('browser', findBrowser());
  execFileSync(execPath, [join(root, 'client', 'build.mjs')], { cwd: root, stdio: ['ignore', 'ignore', 'inherit'] });
}
