// What is done between the manual and the bench, in both builds: a figure that is tried, a table that is pasted, a record that is written by its
// lenses; on the desktop a photo that is dropped on it, and a revision that is raised. What each of them says is tested elsewhere.
import { execFileSync } from 'node:child_process';
import { copyFileSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, inject, test } from 'vitest';
import { startDesk } from './desk.ts';
import { openWorkbench, type Workbench } from './driver.ts';
import { lineWith, samples } from './samples.ts';
import { editorSettings } from './settings.ts';
import { startWeb } from './web.ts';

const file = 'inline-four.fettle';
const record = 'build-ql-0417.fettle';
const spec = samples()[file] ?? '';
const files = {
  [file]: spec,
  'common-fasteners.fettle': samples()['common-fasteners.fettle'] ?? '',
  [record]:
    'use "inline-four.fettle"\n\nrecord build-ql-0417 of brindle-tallboy revision 4 {\n  engine-number "QL-0417"\n  variant tourer\n}\n',
};
const TABLE =
  '<table><tr><th>Bolt</th><th>Thread</th><th>Stage</th><th>N·m</th></tr>' +
  '<tr><td rowspan="2">Carrier bolts</td><td rowspan="2">M10 x 1.5</td><td>Stage 1</td><td>20</td></tr>' +
  '<tr><td>Stage 2</td><td>60°</td></tr><tr><td>Flywheel</td><td>M10</td><td></td><td>see page 12</td></tr></table>';
const PLAIN = 'Carrier bolts\t25 N.m\nFlywheel\tsee page 12';

/** A folder that git keeps, with a photograph in it. */
function prepare(folder: string): void {
  mkdirSync(join(folder, 'photos'));
  copyFileSync(join(import.meta.dirname, '../../client/media/icon.png'), join(folder, 'photos', 'piston-3.png'));
  for (const words of [
    ['init', '--quiet'],
    ['add', '.'],
    ['commit', '--quiet', '-m', 'As they were'],
  ])
    execFileSync('git', ['-C', folder, '-c', 'user.name=Q', '-c', 'user.email=q@example.org', ...words]);
}

describe.sequential.each(['desk', 'web'])('in the %s editor', (build) => {
  let stop: () => Promise<void>;
  let bench: Workbench;
  const lens = (text: string) => bench.page.locator('.codelens-decoration a', { hasText: text }).first();
  const line = (text: string | RegExp) =>
    bench.page.locator('.editor-group-container.active .view-line', { hasText: text }).first();

  beforeAll(async () => {
    const settings = { ...editorSettings, 'workbench.colorTheme': 'Default Dark Modern', 'git.enabled': true };
    const started = await (build === 'desk' ? startDesk : startWeb)(
      inject('editors'),
      inject('extension'),
      files,
      settings,
    );
    stop = () => started.stop();
    if ('folder' in started && typeof started.folder === 'string') prepare(started.folder);
    bench = await openWorkbench(started.url, inject('browser'), join(import.meta.dirname, 'shots'));
    await bench.page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
    await bench.openFile(file);
    await bench.untilStatus('No findings');
  });
  afterAll(async () => {
    await bench?.close();
    await stop?.();
  });
  afterEach(async ({ task }) => {
    if (task.result?.state === 'fail') await bench.shot(`failed-bench-work-${build}`);
  });

  test('what another figure would do is shown while it is typed, and nothing is written', async () => {
    await bench.goTo(1, 1);
    // In sight without going to the end of the line of figures.
    await lens('What if…').click();
    await bench.answer('chamber', 'chamber');
    const box = bench.page.locator('.quick-input-box input').first();
    await bench.page.locator('.quick-input-title', { hasText: 'What if chamber is not 48.0 ±0.5 cc?' }).waitFor();
    await box.fill('42.0 ±0.5 cc');
    const rows = bench.page.locator('.quick-input-list .monaco-list-row');
    await rows
      .filter({ hasText: /compression ratio.*→/ })
      .first()
      .waitFor();
    await rows.filter({ hasText: 'compression comes out at' }).first().waitFor();
    await bench.shot(`what-if-${build}`);
    await bench.page.keyboard.press('Escape');
    expect(await bench.text()).toContain('chamber 48.0 ±0.5 cc');
    await bench.untilStatus('No findings');
  });

  test('a table becomes bolts at the end, with what could not be read', async () => {
    await bench.goTo(14, 1);
    await bench.page.evaluate(clip, build === 'desk' ? [TABLE, PLAIN] : ['', PLAIN]);
    if (build === 'desk') {
      await bench.page.keyboard.press('Control+V');
      await bench.page.locator('.post-edit-widget').click();
      await bench.page.getByText('As bolts and limits, at the end of the spec').waitFor();
      await bench.shot('paste-offer');
      await bench.page.keyboard.press('ArrowDown');
      await bench.page.keyboard.press('Enter');
      // A bolt that nothing uses, without a class, turned by an angle.
      await bench.untilStatus('3 findings');
    } else await bench.command('Fettle: Paste a table from a manual');
    await bench.goTo(spec.split('\n').length, 1);
    await line(build === 'desk' ? 'torque 20 N.m, 60 deg' : 'torque 25 N.m').waitFor();
    await line('# Could not be read: Flywheel').waitFor();
    await bench.shot(`pasted-${build}`);
    await bench.command('File: Revert File');
    await bench.untilStatus('No findings');
  });

  test('a record is begun and measured by its lenses, with the bounds in sight', async () => {
    await bench.openFile(record);
    await lens('Done: inspect castings (Bare block to first start)').click();
    await line('done inspect-castings on').waitFor();
    await lens('Enter a measurement').click();
    await bench.answer('top ring', 'top ring gap');
    await bench.answer('3', '3');
    await bench.page.getByText('It must measure 0.33..0.50 mm').waitFor();
    await bench.shot(`measure-${build}`);
    await bench.answer('0,34 mm');
    await line(/measured\stop-ring-gap\s3:\s0\.34\smm\son/).waitFor();
    await bench.shot(`record-${build}`);
  });

  if (build === 'desk') {
    test('a photo that is dropped on a record becomes a line of its own', async () => {
      const { mouse, keyboard } = bench.page;
      await bench.page.locator('.explorer-folders-view .monaco-list-row', { hasText: 'photos' }).first().click();
      const photo = bench.page.locator('.explorer-folders-view .monaco-list-row', { hasText: 'piston-3.png' }).first();
      await photo.waitFor();
      const [from, to] = [await photo.boundingBox(), await line('variant tourer').boundingBox()];
      if (from === null || to === null) throw new Error('what is dragged, or where to, is out of sight');
      await mouse.move(from.x + 40, from.y + 8);
      await mouse.down();
      await mouse.move(to.x + 80, to.y + 8, { steps: 10 });
      await keyboard.down('Shift');
      await mouse.move(to.x + 90, to.y + 9, { steps: 3 });
      await mouse.up();
      await keyboard.up('Shift');
      await line('photo "photos/piston-3.png"').waitFor();
      expect(await bench.text()).toMatch(/variant tourer\n.*\n {2}photo "photos\/piston-3\.png"\n\}/s);
      await bench.shot('photo');
    });

    test('a critical change since the last commit offers to raise the revision', async () => {
      await bench.openFile(file);
      const place = lineWith(spec, '70 N.m, 110 N.m');
      await bench.goTo(place.line, place.column + '70 N.m, 11'.length);
      await bench.page.keyboard.press('Delete');
      await bench.page.keyboard.type('8');
      await bench.page.keyboard.press('Control+S');
      const raise = bench.page.getByRole('button', { name: 'Raise it to 5' });
      await raise.waitFor();
      await bench.shot('revision-offered');
      await raise.click();
      await bench.goTo(1, 1);
      await line('revision 5').waitFor();
      await line('note "Revision 5: Fastener main-bolt: torque stage 3 was 110 N.m, is now 118 N.m').waitFor();
    });
  }

  test('nothing was asked of any other machine', () => {
    expect(bench.outside).toEqual([]);
  });
});

/** Puts a table into the clipboard, as a page of the web does that it is copied from; runs in the page. */
async function clip([html = '', text = '']: readonly string[]): Promise<void> {
  const {
    navigator,
    ClipboardItem: Item,
    Blob: Piece,
  } = globalThis as never as {
    navigator: { clipboard: { write(items: readonly unknown[]): Promise<void> } };
    ClipboardItem: new (kinds: object) => unknown;
    Blob: new (parts: readonly string[], how: object) => unknown;
  };
  const kinds = { ...(html === '' ? {} : { 'text/html': html }), 'text/plain': text };
  const items = Object.entries(kinds).map(([type, said]) => [type, new Piece([said], { type })]);
  await navigator.clipboard.write([new Item(Object.fromEntries(items))]);
}
