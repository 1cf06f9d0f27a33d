// The bench page in the editor, beside its spec: what is entered becomes lines of a record's file, undo takes them out of page and file, a file
// that is changed elsewhere is read in and never written over, an edit of the spec comes onto the page.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { FrameLocator } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, inject, test } from 'vitest';
import { type Desk, startDesk } from './desk.ts';
import { openWorkbench, type Workbench } from './driver.ts';
import { lineWith, samples } from './samples.ts';

const file = 'flat-twin.fettle';
const record = 'build-ql-0417.fettle';

describe.sequential('desktop', () => {
  let desk: Desk;
  let bench: Workbench;
  let panel: FrameLocator;

  beforeAll(async () => {
    desk = await startDesk(inject('editors'), inject('extension'), samples());
    bench = await openWorkbench(desk.url, inject('browser'), join(import.meta.dirname, 'shots'));
    await bench.page.setViewportSize({ width: 1600, height: 1000 });
    await bench.openFile(file);
    await bench.untilStatus('1 finding');
  });

  afterAll(async () => {
    await bench?.close();
    await desk?.stop();
  });

  afterEach(async ({ task }) => {
    if (task.result?.state === 'fail') await bench.shot('failed-bench-page');
  });

  const onDisk = (): string =>
    existsSync(join(desk.folder, record)) ? readFileSync(join(desk.folder, record), 'utf8') : '';
  const untilFile = (text: string | RegExp): Promise<void> =>
    expect.poll(onDisk, { timeout: 30_000 }).toMatch(text) as unknown as Promise<void>;
  const field = (place: number) => panel.getByRole('textbox', { name: `Top ring gap, ${place}` });

  test('it opens beside the spec, and no file is made before something is entered', async () => {
    await bench.command('Fettle: Open the bench page');
    await bench.answer('full-rebuild', 'full-rebuild');
    await bench.page.locator('.quick-input-title', { hasText: 'Engine number' }).waitFor();
    await bench.answer('QL-0417');
    panel = bench.webview();
    await panel.getByRole('heading', { level: 1, name: /Inspect castings/ }).waitFor();
    await panel.getByText('QL-0417').first().waitFor();
    expect(onDisk()).toBe('');
    await bench.shot('bench-page');
  });

  test('a measurement becomes a line of the record beside the spec', async () => {
    await panel.getByRole('button', { name: 'Next step' }).click();
    await panel.getByRole('heading', { level: 1, name: /Gap the rings/ }).waitFor();
    await field(1).fill('0.010');
    await untilFile(/^ {2}measured top-ring-gap 1: 0\.010 in/m);
    expect(onDisk()).toMatch(/^record build-ql-0417 of brindle-wren revision 2 \{$/m);
    expect(onDisk()).toMatch(/^use "flat-twin\.fettle"$/m);
    await bench.shot('bench-page-measured');
  });

  test('undo in the record takes it out of the page', async () => {
    // Beside the page, not over it.
    await bench.page.locator(`.tab[data-resource-name="${file}"]`).click();
    await bench.openFile(record);
    expect(await bench.text()).toContain('measured top-ring-gap');
    await field(2).fill('0.011');
    await untilFile(/2: 0\.011 in/);
    await bench.page.locator(`.tab[data-resource-name="${record}"]`).click();
    await bench.page.keyboard.press('Control+Z');
    await expect.poll(() => field(2).inputValue()).toBe('');
    expect(await field(1).inputValue()).toBe('0.010');
    await bench.page.keyboard.press('Control+S');
    await bench.page.locator(`.tab[data-resource-name="${record}"]:not(.dirty)`).waitFor();
    expect(onDisk()).not.toContain('0.011');
  });

  test('a file that is changed elsewhere is read in, and what is entered next goes into it', async () => {
    writeFileSync(join(desk.folder, record), onDisk().replace('}', '  note "From another place."\n}'));
    // In the very moment: neither the editor nor the page has noticed.
    await field(2).fill('0.012');
    await untilFile(/2: 0\.012 in/);
    expect(onDisk()).toContain('note "From another place."');
    await expect.poll(() => field(2).inputValue()).toBe('0.012');
    expect(await panel.getByRole('alert').count()).toBe(0);
    await bench.page.locator('.view-line', { hasText: 'From another place' }).waitFor();
  });

  test('many entries in one breath, while another program writes the file, come into it all, and its line stays', async () => {
    const places = ['0.0101', '0.0102', '0.0103', '0.0104', '0.0105'];
    await field(1).fill(places[0] ?? '');
    await untilFile(/1: 0\.0101 in/);
    writeFileSync(join(desk.folder, record), onDisk().replace('}', '  note "And again."\n}'));
    for (const value of places) await field(1).fill(value);
    await field(2).fill('0.013');
    await untilFile(/1: 0\.0105 in/);
    await untilFile(/2: 0\.013 in/);
    expect(onDisk()).toContain('note "And again."');
    expect(await panel.getByRole('alert').count()).toBe(0);
    await field(1).fill('0.010');
    await field(2).fill('0.012');
    await untilFile(/2: 0\.012 in/);
  });

  test('an edit of the spec comes onto the page', async () => {
    await bench.page.locator(`.tab[data-resource-name="${file}"]`).click();
    const place = lineWith(samples()[file], 'Gap the rings in their barrels');
    await bench.goTo(place.line, place.column);
    await bench.page.keyboard.type('Slowly: ');
    await panel.getByRole('heading', { level: 1, name: /Slowly: Gap the rings/ }).waitFor();
    expect(await field(2).inputValue()).toBe('0.012');
    await bench.shot('bench-page-edited');
  });

  test('nothing was asked of any other machine', () => {
    expect(bench.outside).toEqual([]);
  });
});
