// Comparing a spec as a user of a desktop editor does: with the last commit of its folder, and with another file. What a review says
// is tested elsewhere; here the two texts and the list have to arrive, lead to their places and follow the writing.
import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, inject, test } from 'vitest';
import { type Desk, startDesk } from './desk.ts';
import { openWorkbench, type Workbench } from './driver.ts';
import { lineWith } from './samples.ts';

const folder = join(import.meta.dirname, '../../samples/review');
const [first, second] = ['brindle-pony-1.fettle', 'brindle-pony-2.fettle'];
const files = Object.fromEntries([first, second].map((name) => [name, readFileSync(join(folder, name), 'utf8')]));

let desk: Desk;
let bench: Workbench;

beforeAll(async () => {
  desk = await startDesk(inject('editors'), inject('extension'), files);
  const git = (...args: readonly string[]): void => {
    execFileSync('git', ['-C', desk.folder, '-c', 'user.name=Q', '-c', 'user.email=q@example.org', ...args]);
  };
  // The other tests do without git; here the folder asks for it.
  mkdirSync(join(desk.folder, '.vscode'));
  writeFileSync(join(desk.folder, '.vscode', 'settings.json'), '{ "git.enabled": true }\n');
  git('init', '--quiet');
  git('add', '.');
  git('commit', '--quiet', '-m', 'As they were');
  bench = await openWorkbench(desk.url, inject('browser'), join(import.meta.dirname, 'shots'));
});

afterAll(async () => {
  await bench?.close();
  await desk?.stop();
});

afterEach(async ({ task }) => {
  if (task.result?.state === 'fail') await bench.shot('failed-compare');
});

/** The rows of the list, once one of them says so. */
async function listed(text: string): Promise<readonly string[]> {
  const rows = bench.page.locator('.part.panel .monaco-list-row');
  await rows.filter({ hasText: text }).first().waitFor();
  return (await rows.allInnerTexts()).map((row) => row.replaceAll('\u00a0', ' ').trim());
}

describe.sequential('what changed', () => {
  const place = lineWith(files[first] ?? '', 'torque 25 N.m, 50 N.m');

  test('since the last commit: nothing, until something is written', async () => {
    await bench.openFile(first);
    await bench.untilStatus('No findings');
    await bench.command('Fettle: Compare with the last commit');
    await bench.page.locator('.part.panel', { hasText: 'Nothing changed in meaning.' }).waitFor();
    await bench.page.locator('.monaco-diff-editor').first().waitFor();
    await bench.goTo(place.line, place.column + 'torque 25 N.m, '.length);
    await bench.page.keyboard.press('Delete');
    await bench.page.keyboard.type('6');
    const rows = await listed('is now 60 N.m');
    expect(rows.join('\n')).toContain('torque stage 2 was 50 N.m, is now 60 N.m: 10 N.m more (20 %).');
    await bench.shot('compare-commit');
  });

  test('since another file, and a change leads to its place', async () => {
    await bench.openFile(second);
    await bench.command('Fettle: Compare with a file');
    await bench.answer(first, first);
    // What is not saved yet counts.
    const rows = await listed('torque stage 2 was 60 N.m, is now 55 N.m');
    expect(rows.join('\n')).toContain('Critical');
    await bench.shot('compare-file');
    await bench.page.locator('.monaco-list-row', { hasText: 'torque stage 2' }).first().click();
    const line = lineWith(files[second] ?? '', 'torque 25 N.m, 55 N.m').line;
    await bench.page.locator('#status\\.editor\\.selection', { hasText: `Ln ${line}` }).waitFor();
  });

  test('the list goes when it is closed', async () => {
    await bench.command('Fettle: Close the list of changes');
    await bench.page
      .locator('.part.panel .monaco-list-row', { hasText: 'torque stage 2' })
      .waitFor({ state: 'hidden' });
  });
});
