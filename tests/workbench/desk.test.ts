// The extension as a user of a desktop editor meets it, from opening a spec to saving it, in the packed form in which
// it is installed. What each finding says is tested elsewhere; here it only has to arrive.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, inject, test } from 'vitest';
import { type Desk, startDesk } from './desk.ts';
import { openWorkbench, type Workbench } from './driver.ts';
import { lineWith, samples } from './samples.ts';

const file = 'inline-four.fettle';
const shots = join(import.meta.dirname, 'shots');

let desk: Desk;
let bench: Workbench;

beforeAll(async () => {
  desk = await startDesk(inject('editors'), inject('extension'), samples());
  bench = await openWorkbench(desk.url, inject('browser'), shots);
});

afterAll(async () => {
  await bench?.close();
  await desk?.stop();
});

afterEach(async ({ task }) => {
  if (task.result?.state === 'fail') await bench.shot('failed-desk');
});

describe.sequential('a spec in the editor', () => {
  const place = lineWith(samples()[file], 'chamber 48.0');

  test('a clean sample has no findings', async () => {
    await bench.openFile(file);
    await bench.untilStatus('No findings');
    expect(await bench.page.locator('.squiggly-error, .squiggly-warning, .squiggly-info').count()).toBe(0);
    expect(await bench.text()).toContain('spec brindle-tallboy');
  });

  test('a decimal comma is underlined, and the hover and the Problems panel say why', async () => {
    await bench.goTo(place.line, place.column + 'chamber 48'.length);
    await bench.page.keyboard.press('Delete');
    await bench.page.keyboard.type(',');
    const line = await bench.squiggle('error');
    expect(await bench.page.locator('.suggest-widget.visible').count()).toBe(0);
    const said = await bench.hover(line);
    expect(said).toContain('48.0');
    expect(said).toContain('syntax/');
    const rows = await bench.problems();
    expect(rows.join('\n')).toContain('48.0');
    await bench.hover(line);
    await bench.shot('finding');
  });

  test('the quick fix puts it right', async () => {
    await bench.goTo(place.line, place.column + 'chamber 48'.length);
    await bench.quickFix('48.0');
    await bench.untilStatus('No findings');
    expect(await bench.text()).toContain('chamber 48.0 ±0.5 cc');
  });

  test('saving restores the layout and writes the file', async () => {
    await bench.goTo(place.line, 1);
    await bench.page.keyboard.type('      ');
    await bench.page.keyboard.press('Control+S');
    await bench.page.locator('.tab.active:not(.dirty)').waitFor();
    expect(readFileSync(join(desk.folder, file), 'utf8')).toBe(samples()[file]);
  });

  test('two values that should be the same and are not are both shown', async () => {
    const pair = lineWith(samples()[file], '22 N.m (16 lbf.ft)');
    await bench.goTo(pair.line, pair.column + '22 N.m ('.length);
    await bench.page.keyboard.press('Delete');
    await bench.page.keyboard.press('Delete');
    await bench.page.keyboard.type('61');
    const said = await bench.hover(await bench.squiggle('error'));
    expect(said).toContain('22 N.m');
    expect(said).toContain('61 lbf.ft');
    await bench.shot('pair');
    await bench.command('File: Revert File');
    await bench.untilStatus('No findings');
  });

  test('the code of a finding leads to its help page, from the Problems panel and from the hover', async () => {
    await bench.goTo(place.line, place.column + 'chamber 48'.length);
    await bench.page.keyboard.press('Delete');
    await bench.page.keyboard.type(',');
    const line = await bench.squiggle('error');
    const heading = bench.webview().getByRole('heading', { level: 1 });
    await bench.problems();
    await bench.page.locator('.markers-panel a.monaco-link').first().click();
    await heading.waitFor();
    await bench.shot('help');
    await bench.closeTab('Help:');
    await bench.hover(line);
    await bench.page.locator('.monaco-hover a', { hasText: 'syntax/' }).click();
    await heading.waitFor();
    await bench.closeTab('Help:');
    await bench.command('File: Revert File');
    await bench.untilStatus('No findings');
  });

  test('the bench sheet opens beside the spec', async () => {
    await bench.command('Fettle: Show the bench sheet');
    await bench.answer('delivery', 'delivery');
    await bench.answer('full-rebuild', 'full-rebuild');
    await bench.webview().getByText('variant delivery').first().waitFor();
    await bench.shot('bench-sheet');
    await bench.closeTab('Bench sheet');
  });

  test('a checker that fell over is started again by itself', async () => {
    desk.fellChecker();
    await bench.untilStatus('has stopped');
    await bench.untilStatus('No findings');
  });

  test('the checker can be started again', async () => {
    await bench.command("Fettle: Restart Fettle's checker");
    await bench.untilStatus('No findings');
  });

  test('a first spec is made from two answers, and one thing is left to be written: its firing order', async () => {
    await bench.command('Fettle: New engine spec');
    await bench.answer('my-engine');
    await bench.answer('Inline four', 'Inline four');
    await bench.page.locator('.tab.active[data-resource-name="my-engine.fettle"]').waitFor();
    await bench.untilStatus('1 finding');
    expect(await bench.text()).toContain('draft');
    await bench.shot('first-spec');
  });

  test('nothing was asked of any other machine', () => {
    expect(bench.outside).toEqual([]);
  });
});
