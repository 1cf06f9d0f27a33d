// axe-core finds nothing on the bench page, the sheet and the review, at the size of a desk and of a phone, light and dark.

import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, inject, test } from 'vitest';
import { fettle, folder, openTablet, samples } from './tablet.ts';

const browser = inject('browser');
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

interface Axe {
  run(options: object): Promise<{
    readonly violations: readonly {
      readonly id: string;
      readonly nodes: readonly { readonly html: string; readonly failureSummary?: string }[];
    }[];
  }>;
}

/**
 * What axe finds, contrast held to the highest level. The page's policy lets no script in but its own, so axe comes in past it. The screen is
 * made as high as the page for it: what is scrolled half under the bar at the bottom is no small target.
 */
async function faults(page: Page): Promise<readonly string[]> {
  const width = page.viewportSize()?.width ?? 0;
  const height = page.viewportSize()?.height ?? 0;
  const whole = await page.evaluate(() => document.documentElement.scrollHeight);
  await page.setViewportSize({ width, height: Math.max(height, whole + 200) });
  const session = await page.context().newCDPSession(page);
  await session.send('Runtime.evaluate', { expression: axe });
  const found = await page.evaluate(() =>
    (globalThis as unknown as { readonly axe: Axe }).axe.run({
      runOnly: {
        type: 'tag',
        values: ['wcag2a', 'wcag2aa', 'wcag2aaa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
      },
    }),
  );
  await page.setViewportSize({ width, height });
  return found.violations.flatMap(({ id, nodes }) =>
    nodes.map((node) => `${id}: ${node.html.slice(0, 160)} ${node.failureSummary ?? ''}`),
  );
}

describe.each([
  ['desk', { width: 1280, height: 900 }],
  ['phone', { width: 390, height: 844 }],
] as const)('%s', (_called, size) => {
  describe.each(['light', 'dark'] as const)('%s', (scheme) => {
    test('bench page', async () => {
      const place = folder();
      const file = join(place, 'page.html');
      fettle('bench', join(samples, 'inline-four.fettle'), '--job', 'full-rebuild', '--output', file);
      const tablet = await openTablet(browser, file, join(place, 'profile'), size, scheme);
      const { page } = tablet;
      expect(await faults(page)).toEqual([]);
      await page.getByRole('button', { name: 'Begin the work' }).tap();
      for (const step of [
        /Gap the rings/,
        /Lay the crankshaft/,
        /Pistons and rods/,
        /Fit timing set/,
        /After first run/,
      ]) {
        await page.getByRole('button', { name: 'All steps' }).tap();
        await page.getByRole('main').getByRole('button', { name: step }).tap();
        await page.locator('.pictures svg').first().waitFor({ state: 'attached' });
        expect(await faults(page)).toEqual([]);
      }
      for (const field of await page.locator('main .field input[inputmode=decimal]').all()) await field.fill('9');
      expect(await faults(page)).toEqual([]);
      for (const name of ['All steps', 'The record'] as const) {
        await page.getByRole('button', { name }).tap();
        expect(await faults(page)).toEqual([]);
      }
      await tablet.close();
    });

    test('sheet, record, what the customer gets, and review', async () => {
      const place = folder();
      const sheet = join(place, 'sheet.html');
      const review = join(place, 'review.html');
      fettle('sheet', join(samples, 'inline-four.fettle'), '--output', sheet);
      fettle(
        'review',
        join(samples, 'review', 'brindle-pony-1.fettle'),
        join(samples, 'review', 'brindle-pony-2.fettle'),
        '--format',
        'html',
        '--output',
        review,
      );
      const record = join(place, 'record.html');
      const customer = join(place, 'customer.html');
      fettle('sheet', join(samples, 'build-061.fettle'), '--output', record);
      fettle('sheet', join(samples, 'build-061.fettle'), '--for', 'customer', '--output', customer);
      for (const [at, file] of [sheet, review, record, customer].entries()) {
        const tablet = await openTablet(browser, file, join(place, `profile ${at}`), size, scheme);
        expect(await faults(tablet.page)).toEqual([]);
        await tablet.close();
      }
    });
  });
});
