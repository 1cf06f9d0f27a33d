// The view "Where the engine stands" and the jobs in the Testing view, in an editor of the desktop and in one that runs in the browser.
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, inject, test } from 'vitest';
import { startDesk } from './desk.ts';
import { openWorkbench, type Workbench } from './driver.ts';
import { lineWith, samples } from './samples.ts';
import { startWeb } from './web.ts';

const file = 'inline-four.fettle';
const broken = 'timing.fettle';
const files = {
  [file]: samples()[file] ?? '',
  'common-fasteners.fettle': samples()['common-fasteners.fettle'] ?? '',
  [broken]:
    'spec timing "Timing side" {\n  revision 1\n}\n\npart block\n\npart lid "Front lid"\n\nsequence build {\n  phase assemble\n  starts-with block\n\n  step one {\n    fit lid onto block\n  }\n\n  step two {\n    fit lid onto block\n  }\n}\n\njob whole-build "The whole build" of timing {\n  begins bare\n  sequences build\n}\n',
};
const spec = files[file] ?? '';

describe.each(['desk', 'web'])('in the %s editor', (build) => {
  let stop: () => Promise<void>;
  let bench: Workbench;
  beforeAll(async () => {
    const started = await (build === 'desk' ? startDesk : startWeb)(inject('editors'), inject('extension'), files);
    stop = started.stop;
    bench = await openWorkbench(started.url, inject('browser'), join(import.meta.dirname, 'shots'));
  });
  afterAll(async () => {
    await bench?.close();
    await stop?.();
  });
  afterEach(async ({ task }) => {
    if (task.result?.state === 'fail') await bench.shot(`failed-standing-${build}`);
  });

  test('the view follows the cursor, shows the timing face and goes action by action', async () => {
    await bench.openFile(file);
    await bench.untilStatus('No findings');
    const prove = lineWith(spec, 'align cam-drive');
    await bench.goTo(prove.line, prove.column);
    await bench.command('Fettle: Show where the engine stands');
    const view = bench.webview();
    await view.getByText('align cam-drive').first().waitFor();
    await view.getByText('Still to prove').waitFor();
    await view.locator('svg[role=img]').first().waitFor();
    await bench.shot(`standing-${build}`);
    const start = lineWith(spec, 'fit crankshaft');
    await bench.goTo(start.line, start.column);
    await view.getByText('fit crankshaft').first().waitFor();
    await bench.command('Fettle: Where the engine stands: next action');
    await view.getByText('fit crankshaft').first().waitFor({ state: 'hidden' });
    const number = await view.locator('.at span').innerText();
    await view.getByRole('button', { name: 'Next action' }).click();
    await view.locator('.at span', { hasText: number }).waitFor({ state: 'hidden' });
    await bench.closeTab('Where the engine stands');
  });

  test('a job that does not hold is red in the Testing view when its file is saved, and nothing comes up over it', async () => {
    await bench.openFile(broken);
    await bench.goTo(1, 1);
    await bench.page.keyboard.press('Enter');
    await bench.page.keyboard.press('Control+S');
    await bench.page.locator(`.tab.active[data-resource-name="${broken}"]:not(.dirty)`).waitFor();
    await bench.command('Testing: Focus on Test Explorer View');
    const red = bench.page.locator('.test-explorer .monaco-list-row[aria-label*="ailed"]', { hasText: broken });
    await red.first().waitFor();
    expect(await bench.page.locator('.test-output-peek, .part.panel .test-output-peek-message-container').count()).toBe(
      0,
    );
    await bench.shot(`jobs-${build}`);
  });

  test('nothing was asked of any other machine', () => {
    expect(bench.outside).toEqual([]);
  });
});
