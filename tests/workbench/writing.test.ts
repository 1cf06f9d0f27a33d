// Writing a spec with the help of the editor, in both builds: what is offered while typing, a new name that reaches two files, the
// outline, figures in other units behind the written ones, the layout on saving, the first steps; in light, in dark and in high
// contrast. What each of them says is tested elsewhere; here it only has to arrive.
import { join } from 'node:path';
import type { Locator } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, inject, test } from 'vitest';
import { startDesk } from './desk.ts';
import { openWorkbench, type Workbench } from './driver.ts';
import { lineWith, samples } from './samples.ts';
import { editorSettings } from './settings.ts';
import { startWeb } from './web.ts';

const file = 'inline-four.fettle';
const common = 'common-fasteners.fettle';

describe.sequential.each([
  ['desktop', startDesk],
  ['browser', startWeb],
] as const)('%s', (build, start) => {
  let bench: Workbench;
  let stop: () => Promise<void>;

  beforeAll(async () => {
    const editor = await start(inject('editors'), inject('extension'), samples());
    stop = () => editor.stop();
    bench = await openWorkbench(editor.url, inject('browser'), join(import.meta.dirname, 'shots'));
    await bench.openFile(file);
    await bench.untilStatus('No findings');
  });

  afterAll(async () => {
    await bench?.close();
    await stop?.();
  });

  afterEach(async ({ task }) => {
    if (task.result?.state === 'fail') await bench.shot(`failed-writing-${build}`);
  });

  const revert = async (): Promise<void> => {
    await bench.command('File: Revert File');
    await bench.untilStatus('No findings');
  };

  /** Writes settings of the user, as one does by hand, and waits for what shows that they hold; once more where it does not come. */
  const settings = async (all: Readonly<Record<string, unknown>>, shows: Locator): Promise<void> => {
    await writeSettings(all);
    try {
      await shows.waitFor({ timeout: 15_000 });
    } catch {
      await writeSettings(all);
      await shows.waitFor();
    }
  };

  const writeSettings = async (all: Readonly<Record<string, unknown>>): Promise<void> => {
    await bench.command('Preferences: Open User Settings (JSON)');
    await bench.page.locator('.tab.active[data-resource-name="settings.json"]').waitFor();
    await bench.page.locator('.editor-group-container.active .view-lines').first().click();
    await bench.page.keyboard.press('Control+A');
    await bench.page.keyboard.press('Delete');
    // The editor closes a brace that is typed by itself; the rest goes in between.
    await bench.page.keyboard.type('{');
    await bench.page.keyboard.insertText(JSON.stringify({ ...editorSettings, ...all }).slice(1, -1));
    await bench.page.locator('.tab.active.dirty[data-resource-name="settings.json"]').waitFor();
    await bench.page.keyboard.press('Control+S');
    await bench.page.locator('.tab.active[data-resource-name="settings.json"]:not(.dirty)').waitFor();
    await bench.closeTab('settings.json');
  };

  test('what may stand here is offered while it is written, with its help', async () => {
    const place = lineWith(samples()[file], 'fit thermostat-gasket onto cylinder-head');
    await bench.goTo(place.line, place.column + 'fit thermostat-gasket onto cylinder-head'.length);
    await bench.page.keyboard.press('Enter');
    await bench.page.keyboard.type('fit cyl');
    const row = bench.page.locator('.suggest-widget.visible .monaco-list-row');
    await row.filter({ hasText: 'cylinder-head' }).first().waitFor();
    await bench.shot(`completion-${build}`);
    await bench.page.keyboard.press('Escape');
    await bench.page.keyboard.press('Escape');
    await revert();
  });

  test('a new name reaches the file that is used too', async () => {
    const place = lineWith(samples()[file], 'with assembly-lube');
    await bench.goTo(place.line, place.column + 'with asse'.length);
    await bench.page.keyboard.press('F2');
    const box = bench.page.locator('.rename-box input');
    await box.waitFor();
    await box.fill('bearing-lube');
    await bench.page.keyboard.press('Enter');
    await box.waitFor({ state: 'hidden' });
    await bench.untilStatus('No findings');
    await bench.page.locator('.view-line', { hasText: 'with bearing-lube' }).first().waitFor();
    expect(await bench.text()).toContain('with bearing-lube');
    await bench.openFile(common);
    await bench.untilStatus('No findings');
    expect(await bench.text()).toContain('supply bearing-lube');
    for (const each of [common, file]) {
      await bench.openFile(each);
      await bench.page.keyboard.press('Control+S');
      await bench.page.locator(`.tab.active[data-resource-name="${each}"]:not(.dirty)`).waitFor();
      await bench.untilStatus('No findings');
    }
  });

  test('the outline names what the spec declares, and leads there', async () => {
    await bench.command('Explorer: Focus on Outline View');
    const rows = bench.page.locator('.outline-pane .monaco-list-row');
    await rows.first().waitFor();
    await bench.page.keyboard.press('Home');
    const said = (await rows.allInnerTexts()).join('\n');
    expect(said).toContain('brindle-tallboy');
    await bench.shot(`outline-${build}`);
  });

  test('saving puts the layout right', async () => {
    const place = lineWith(samples()[file], 'chamber 48.0');
    await bench.goTo(place.line, 1);
    await bench.page.keyboard.type('      ');
    await bench.page.keyboard.press('Control+S');
    await bench.page.locator('.tab.active:not(.dirty)').waitFor();
    expect(await bench.text()).toContain('\n  chamber 48.0 ±0.5 cc');
  });

  test('the Problems panel lists what is wrong, with its code', async () => {
    const place = lineWith(samples()[file], 'chamber 48.0');
    await bench.goTo(place.line, place.column + 'chamber 48'.length);
    await bench.page.keyboard.press('Delete');
    await bench.page.keyboard.type(',');
    await bench.squiggle('error');
    expect((await bench.problems()).join('\n')).toMatch(/48\.0.*syntax\//s);
    await bench.page.keyboard.press('Control+J');
    await revert();
  });

  test('figures stand in the other unit behind the written ones where that is asked for', async () => {
    const place = lineWith(samples()[file], 'chamber 48.0');
    await bench.goTo(place.line, 1);
    await settings(
      { 'fettle.hints.otherUnits': true, 'workbench.colorTheme': 'Default Light Modern' },
      bench.page.locator('.view-line', { hasText: /chamber.*=\s*2\.90\.\.2\.96\s*in3/ }).first(),
    );
    await bench.shot(`light-${build}`);
  });

  test.each([
    ['dark', 'Default Dark Modern', '.monaco-workbench.vs-dark'],
    ['high-contrast', 'Default High Contrast', '.monaco-workbench.hc-black'],
    ['high-contrast-light', 'Default High Contrast Light', '.monaco-workbench.hc-light'],
  ])('in %s a finding is seen', async (name, colorTheme, shown) => {
    await settings({ 'fettle.hints.otherUnits': true, 'workbench.colorTheme': colorTheme }, bench.page.locator(shown));
    const place = lineWith(samples()[file], 'chamber 48.0');
    await bench.goTo(place.line, place.column + 'chamber 48'.length);
    await bench.page.keyboard.press('Delete');
    await bench.page.keyboard.type(',');
    await bench.hover(await bench.squiggle('error'));
    await bench.shot(`${name}-${build}`);
    await revert();
  });

  test('the first steps are shown, with what they lead to', async () => {
    await bench.command('Welcome: Open Walkthrough...');
    await bench.answer('Your first engine spec', 'Your first engine spec');
    await bench.page.getByText('Make a first spec').first().waitFor();
    await bench.page.getByText('Make a mistake').first().waitFor();
    await bench.shot(`walkthrough-${build}`);
  });

  test('nothing was asked of any other machine', () => {
    expect(bench.outside).toEqual([]);
  });
});
