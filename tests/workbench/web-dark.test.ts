// The editor of the browser with a dark theme: panels are dark too, commands have their keys, a photo is dropped on a record.
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, inject, test } from 'vitest';
import { openWorkbench, type Workbench } from './driver.ts';
import { lineWith, samples } from './samples.ts';
import { editorSettings } from './settings.ts';
import { startWeb, type Web } from './web.ts';

const file = 'inline-four.fettle';
const record = 'build-ql-0417.fettle';
const spec = samples()[file] ?? '';
const files = {
  [file]: spec,
  'common-fasteners.fettle': samples()['common-fasteners.fettle'] ?? '',
  [record]:
    'use "inline-four.fettle"\n\nrecord build-ql-0417 of brindle-tallboy revision 4 {\n  engine-number "QL-0417"\n  variant tourer\n}\n',
  'photos/piston-3.png': 'stands for a photograph',
};

let web: Web;
let bench: Workbench;

beforeAll(async () => {
  const settings = { ...editorSettings, 'workbench.colorTheme': 'Default Dark Modern' };
  web = await startWeb(inject('editors'), inject('extension'), files, settings);
  bench = await openWorkbench(web.url, inject('browser'), join(import.meta.dirname, 'shots'));
  await bench.openFile(file);
  await bench.untilStatus('No findings');
});

afterAll(async () => {
  await bench?.close();
  await web?.stop();
});

afterEach(async ({ task }) => {
  if (task.result?.state === 'fail') await bench.shot('failed-web-dark');
});

/** How bright the paper of the panel is, and its letters: from 0 to 255. */
async function brightness(): Promise<{ readonly paper: number; readonly ink: number }> {
  const [paper, ink] = await bench
    .webview()
    .locator('body')
    .evaluate((body) => {
      const style = getComputedStyle(body);
      return [style.backgroundColor, style.color].map((colour) => Number(/\d+/.exec(colour)?.[0] ?? Number.NaN));
    });
  return { paper: paper ?? Number.NaN, ink: ink ?? Number.NaN };
}

describe.sequential('a dark editor in the browser', () => {
  test('the sheet is light on dark', async () => {
    await bench.command('Fettle: Show the bench sheet');
    await bench.answer('delivery', 'delivery');
    await bench.answer('full-rebuild', 'full-rebuild');
    await bench.webview().getByText('variant delivery').first().waitFor();
    await bench.shot('web-dark-sheet');
    const { paper, ink } = await brightness();
    expect(paper).toBeLessThan(60);
    expect(ink).toBeGreaterThan(180);
    await bench.closeTab('Bench sheet');
  });

  test('a key shows where the engine stands, and keys go on from there', async () => {
    await bench.openFile(file);
    const place = lineWith(spec, 'fit crankshaft');
    await bench.goTo(place.line, place.column);
    await bench.page.keyboard.press('Control+K');
    await bench.page.keyboard.press('g');
    await bench.webview().getByText('fit crankshaft').first().waitFor();
    await bench.page.keyboard.press('Alt+.');
    await bench.webview().getByText('fit crankshaft').first().waitFor({ state: 'hidden' });
    await bench.shot('web-dark-standing');
    await bench.closeTab('Where the engine stands');
  });

  test('a key opens the bench page, light on dark', async () => {
    await bench.openFile(file);
    await bench.goTo(1, 1);
    await bench.page.keyboard.press('Control+K');
    await bench.page.keyboard.press('b');
    await bench.answer('tourer', 'tourer');
    await bench.answer('full-rebuild', 'full-rebuild');
    await bench.answer('ql-0417', 'build-ql-0417');
    await bench.webview().getByText('All steps').first().waitFor();
    await bench.shot('web-dark-bench-page');
    const { paper, ink } = await brightness();
    expect(paper).toBeLessThan(60);
    expect(ink).toBeGreaterThan(180);
    await bench.closeTab('Bench page');
  });

  test('a photo that is dropped on a record becomes a line of its own', async () => {
    await bench.openFile(record);
    const { mouse, keyboard } = bench.page;
    const line = bench.page.locator('.editor-group-container.active .view-line', { hasText: 'variant tourer' }).first();
    await bench.command('Explorer: Focus on Folders View');
    await bench.page.locator('.explorer-folders-view .monaco-list-row', { hasText: 'photos' }).first().click();
    const photo = bench.page.locator('.explorer-folders-view .monaco-list-row', { hasText: 'piston-3.png' }).first();
    await photo.waitFor();
    const [from, to] = [await photo.boundingBox(), await line.boundingBox()];
    if (from === null || to === null) throw new Error('what is dragged, or where to, is out of sight');
    await mouse.move(from.x + 40, from.y + 8);
    await mouse.down();
    await mouse.move(to.x + 80, to.y + 8, { steps: 10 });
    await keyboard.down('Shift');
    await mouse.move(to.x + 90, to.y + 9, { steps: 3 });
    await mouse.up();
    await keyboard.up('Shift');
    await bench.page.locator('.view-line', { hasText: 'photo "photos/piston-3.png"' }).first().waitFor();
    await bench.shot('web-dark-photo');
  });

  test('nothing was asked of any other machine', () => {
    expect(bench.outside).toEqual([]);
  });
});
