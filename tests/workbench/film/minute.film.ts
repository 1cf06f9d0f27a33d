// The minute: a torque that can't be, a bolt that is tightened too early and its way out, and the job at the bench.
import { join } from 'node:path';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { type Desk, startDesk } from '../desk.ts';
import { openWorkbench, type Workbench } from '../driver.ts';
import { lineWith, samples } from '../samples.ts';
import { type Camera, camera } from './camera.ts';

const file = 'inline-four.fettle';
const spec = samples()[file] ?? '';
const target = join(import.meta.dirname, '../../../client/media/minute.gif');

let desk: Desk;
let bench: Workbench;
let film: Camera;

beforeAll(async () => {
  const files = { [file]: spec, 'common-fasteners.fettle': samples()['common-fasteners.fettle'] ?? '' };
  desk = await startDesk(inject('editors'), inject('extension'), files);
  bench = await openWorkbench(desk.url, inject('browser'), join(import.meta.dirname, '../shots'));
  await bench.openFile(file);
  await bench.untilStatus('No findings');
  await bench.page.keyboard.press('Control+B');
  film = camera(bench.page);
});
afterAll(async () => {
  await bench?.close();
  await desk?.stop();
});

/** Where the pointer is in nobody's way. */
const park = (): Promise<void> => bench.page.mouse.move(850, 560);

test('a torque', async () => {
  const { keyboard } = bench.page;
  const place = lineWith(spec, 'torque 9 N.m');
  await bench.goTo(place.line, place.column + 'torque 9 N.m'.length);
  await park();
  await film.take(2.5);
  for (let letter = 0; letter < '9 N.m'.length; letter += 1) await keyboard.press('Backspace');
  await film.take(0.4);
  await film.type('88 N.m');
  await keyboard.press('Escape');
  // What was found in half a figure goes first.
  await bench.untilStatus('1 finding');
  await keyboard.press('Escape');
  const finding = await bench.squiggle('warning');
  await film.take(1);
  expect(await bench.hover(finding)).toContain('88 N.m');
  await bench.page.waitForTimeout(1500); // what can be done about it comes after
  await film.take(6);
  await park();
  await bench.command('File: Revert File');
  await bench.untilStatus('No findings');
  await film.take(1);
});

test('an order', async () => {
  const { keyboard } = bench.page;
  const place = lineWith(spec, 'tighten head-bolt');
  await bench.goTo(place.line, place.column);
  await park();
  await film.take(2);
  await keyboard.press('Alt+ArrowUp');
  await bench.untilStatus('1 finding');
  const finding = await bench.squiggle('error');
  await film.take(1);
  expect(await bench.hover(finding)).toContain('head-bolt');
  await bench.page.waitForTimeout(1500);
  await film.take(5);
  await park();
  await bench.page.waitForTimeout(1000);
  await keyboard.press('Control+.');
  await bench.page.locator('.action-widget .monaco-list-row.action').first().waitFor();
  await film.take(3);
  await keyboard.press('Enter');
  await bench.untilStatus('No findings');
  await film.take(2.5);
  await bench.command('File: Revert File');
});

test('the bench', async () => {
  await bench.command('Fettle: Open the bench page');
  await bench.answer('tourer', 'tourer');
  await bench.answer('full-rebuild', 'full-rebuild');
  await bench.page.locator('.quick-input-title', { hasText: 'Engine number' }).waitFor();
  await film.type('QL-0417');
  await film.take(0.8);
  await bench.page.keyboard.press('Enter');
  const panel = bench.webview();
  await panel.getByRole('heading', { level: 1 }).first().waitFor();
  await park();
  await film.take(3);
  const ticks = panel.getByRole('checkbox');
  for (let tick = 0; tick < Math.min(2, await ticks.count()); tick += 1) {
    await ticks.nth(tick).check();
    await film.take(1);
  }
  await panel.getByRole('button', { name: 'Next step' }).click();
  await panel.getByRole('heading', { level: 1, name: /Gap the rings/ }).waitFor();
  await park();
  await film.take(3);
  for (const [place, value] of [
    [1, '0.41'],
    [2, '0,44'],
    [3, '0.62'],
  ] as const) {
    const field = panel.getByRole('textbox', { name: `Top ring gap, ${place}` });
    await field.fill(value);
    await bench.page.waitForTimeout(700);
    await film.take(2);
  }
  await panel.getByText(/^Worn/).first().scrollIntoViewIfNeeded();
  await bench.page.waitForTimeout(1500);
  await film.take(5);
  expect(film.length()).toBeGreaterThan(40);
  expect(film.length()).toBeLessThan(75);
  film.develop(target, 960);
});
