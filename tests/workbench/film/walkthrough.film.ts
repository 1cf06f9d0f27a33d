// The pictures of the walkthrough: a first spec, what a mistake looks like, what the rehearsal finds in it.
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { type Desk, startDesk } from '../desk.ts';
import { openWorkbench, type Workbench } from '../driver.ts';
import { lineWith } from '../samples.ts';

const target = join(import.meta.dirname, '../../../client/walkthrough');

let desk: Desk;
let bench: Workbench;

beforeAll(async () => {
  desk = await startDesk(inject('editors'), inject('extension'), {});
  bench = await openWorkbench(desk.url, inject('browser'), join(import.meta.dirname, '../shots'));
  await bench.page.setViewportSize({ width: 900, height: 420 });
});
afterAll(async () => {
  await bench?.close();
  await desk?.stop();
});

/** A piece of the window from under its title down, so many pixels wide and high, with few colours. */
async function picture(name: string, width: number, height: number): Promise<void> {
  const file = join(target, name);
  await bench.page.screenshot({ path: file, clip: { x: 0, y: 30, width, height } });
  execFileSync('convert', [file, '+dither', '-colors', '32', '-strip', '-define', 'png:compression-level=9', file]);
}

/** Takes all of the file, to know what stands where. */
async function written(): Promise<string> {
  await bench.page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
  await bench.page.keyboard.press('Control+A');
  await bench.page.keyboard.press('Control+C');
  return bench.page.evaluate(() =>
    (
      globalThis as never as { navigator: { clipboard: { readText(): Promise<string> } } }
    ).navigator.clipboard.readText(),
  );
}

test('a first spec', async () => {
  // The list of commands is as it was when it was opened.
  await bench.page.locator('.explorer-folders-view').first().waitFor();
  await bench.page.waitForTimeout(8000);
  await bench.command('Fettle: New engine spec');
  await bench.answer('brindle-four');
  await bench.answer('Inline four', 'Inline four');
  await bench.page.locator('.tab.active[data-resource-name="brindle-four.fettle"]').waitFor();
  await bench.untilStatus('1 finding');
  await bench.page.keyboard.press('Control+B');
  const text = (await written()).replaceAll('\r\n', '\n');
  const bolt = lineWith(text, 'fastener sump-bolt');
  await bench.goTo(bolt.line + 8, 1);
  await bench.goTo(bolt.line, 1);
  await bench.page.mouse.move(850, 400);
  await bench.page.waitForTimeout(800);
  await picture('first-spec.png', 440, 360);
  const torque = lineWith(text.slice(text.indexOf('fastener sump-bolt')), 'torque 9 N.m');
  await bench.goTo(bolt.line + torque.line - 1, torque.column + 'torque 9'.length);
  for (let letter = 0; letter < ' N.m'.length; letter += 1) await bench.page.keyboard.press('Delete');
  await bench.untilStatus('2 findings');
  expect(await bench.hover(await bench.squiggle('error'))).toContain('unit');
  await picture('mistake.png', 900, 250);
});
