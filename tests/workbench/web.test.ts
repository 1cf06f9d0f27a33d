// The extension in an editor that runs wholly in the browser, on a folder that is on no disk: the same server in a
// worker, reading files through the editor.
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, inject, test } from 'vitest';
import { openWorkbench, type Workbench } from './driver.ts';
import { lineWith, samples } from './samples.ts';
import { startWeb, type Web } from './web.ts';

const file = 'inline-four.fettle';

let web: Web;
let bench: Workbench;

beforeAll(async () => {
  web = await startWeb(inject('editors'), inject('extension'), samples());
  bench = await openWorkbench(web.url, inject('browser'), join(import.meta.dirname, 'shots'));
});

afterAll(async () => {
  await bench?.close();
  await web?.stop();
});

afterEach(async ({ task }) => {
  if (task.result?.state === 'fail') await bench.shot('failed-web');
});

describe.sequential('a spec in the browser', () => {
  const place = lineWith(samples()[file], 'chamber 48.0');

  test('a clean sample has no findings, though it uses another file of the folder', async () => {
    await bench.openFile(file);
    await bench.untilStatus('No findings');
  });

  test('a decimal comma is underlined and put right', async () => {
    await bench.goTo(place.line, place.column + 'chamber 48'.length);
    await bench.page.keyboard.press('Delete');
    await bench.page.keyboard.type(',');
    expect(await bench.hover(await bench.squiggle('error'))).toContain('48.0');
    await bench.shot('web-finding');
    await bench.quickFix('48.0');
    await bench.untilStatus('No findings');
    expect(await bench.text()).toContain('chamber 48.0 ±0.5 cc');
  });

  test('the checker can be started again', async () => {
    await bench.command("Fettle: Restart Fettle's checker");
    await bench.untilStatus('No findings');
  });

  test('the bench sheet opens beside the spec', async () => {
    await bench.command('Fettle: Show the bench sheet');
    await bench.answer('delivery', 'delivery');
    await bench.answer('full-rebuild', 'full-rebuild');
    await bench.webview().getByText('variant delivery').first().waitFor();
  });

  test('two specs are compared without git, and without it the last commit is not to be had', async () => {
    await bench.openFile(file);
    await bench.command('Fettle: Compare with the last commit');
    await bench.page.getByText('There is no git in this editor').first().waitFor();
    await bench.command('Fettle: Compare with a file');
    await bench.answer('flat-twin', 'flat-twin');
    await bench.page.locator('.part.panel .monaco-list-row', { hasText: 'cylinders 2 flat' }).first().waitFor();
    await bench.command('Fettle: Close the list of changes');
  });

  test('nothing was asked of any other machine', () => {
    expect(bench.outside).toEqual([]);
  });
});
