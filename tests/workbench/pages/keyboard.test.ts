// Whole jobs worked through by keyboard alone: Tab, Space, Enter and what is typed; no tap, no click.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, inject, test } from 'vitest';
import { fettle, folder, openTablet, samples } from './tablet.ts';

const browser = inject('browser');

/** What the next key would act on. */
interface Focus {
  readonly kind: 'tick' | 'part' | 'value' | 'text' | 'button' | 'onward' | 'other' | 'nothing';
  readonly name: string;
  readonly isSet: boolean;
  /** The bounds of a value that is measured. */
  readonly within: string;
  /** Whether it can be seen that it has the focus. */
  readonly isSeen: boolean;
}

async function focus(page: Page): Promise<Focus> {
  return page.evaluate((): Focus => {
    const active = document.activeElement;
    const none = { name: '', isSet: false, within: '', isSeen: true };
    if (active === null || active === document.body) return { ...none, kind: 'nothing' };
    const label = active.id === '' ? null : document.querySelector(`label[for="${CSS.escape(active.id)}"]`);
    const name = active.getAttribute('aria-label') ?? label?.textContent ?? active.textContent ?? '';
    const style = getComputedStyle(active);
    const box = active.getBoundingClientRect();
    const isSeen =
      style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2 && box.bottom > 0 && box.top < innerHeight;
    const within =
      active.closest('.field')?.querySelector('.own')?.textContent ??
      active.closest('.what')?.querySelector('.figure')?.textContent ??
      '';
    const all = { ...none, name, within, isSeen };
    if (active instanceof HTMLInputElement && active.type === 'checkbox')
      return { ...all, kind: active.matches('main .line > input') ? 'tick' : 'part', isSet: active.checked };
    if (active instanceof HTMLInputElement)
      return { ...all, kind: active.inputMode === 'decimal' ? 'value' : 'text', isSet: active.value !== '' };
    if (active.matches('nav.bottom button.main')) return { ...all, kind: 'onward' };
    // Reading begins at the name of a step; nothing is done there.
    if (active.tagName === 'H1') return { ...all, kind: 'other', isSeen: true };
    if (active instanceof HTMLButtonElement) return { ...all, kind: 'button' };
    return { ...all, kind: 'other' };
  });
}

/** Presses Tab until something of a name has the focus. */
async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let presses = 0; presses < 120; presses += 1) {
    await page.keyboard.press('Tab');
    if (name.test((await focus(page)).name)) return;
  }
  throw new Error(`${name} is not reached by Tab`);
}

/** Does all that is on the step in hand, from top to bottom, and goes on. Gives false at the last. */
async function workStep(page: Page, seen: string[]): Promise<boolean> {
  for (let presses = 0; presses < 600; presses += 1) {
    await page.keyboard.press('Tab');
    const at = await focus(page);
    if (!at.isSeen) seen.push(at.name);
    if (at.kind === 'tick' && !at.isSet) await page.keyboard.press('Space');
    if (at.kind === 'text' && /^Looked at by/.test(at.name) && !at.isSet) await page.keyboard.type('AM');
    if (at.kind === 'button' && at.name === 'Confirm the hold point') await page.keyboard.press('Enter');
    if (at.kind === 'value' && !at.isSet) {
      const numbers = [...at.within.matchAll(/-?\d+(?:\.\d+)?/g)].map(([number]) => Number(number));
      const [low = 0, high = low] = at.within.includes(' to ') ? numbers : [numbers[0] ?? 0, numbers[0] ?? 0];
      await page.keyboard.type(((low + high) / 2).toFixed((/\.(\d+)/.exec(at.within)?.[1]?.length ?? 0) + 1));
    }
    if (at.kind === 'onward') {
      await page.keyboard.press('Enter');
      return at.name !== 'To the record';
    }
  }
  throw new Error('the way on is not reached by Tab');
}

describe.each([
  ['two-stroke-twin.fettle', 'top-overhaul'],
  ['launch-eight.fettle', 'raw-water-pump-change'],
])('%s, %s', (file, job) => {
  test('from the first step to the saved record', async () => {
    const place = folder();
    const html = join(place, 'page.html');
    expect(fettle('bench', join(samples, file), '--job', job, '--output', html)).toMatchObject({ status: 0 });
    const tablet = await openTablet(browser, html, join(place, 'profile'), { width: 1180, height: 820 });
    const { page } = tablet;
    await tabTo(page, /Engine number/);
    await page.keyboard.type('QL-8');
    await page.keyboard.press('Enter');
    await page.getByText('QL-8').first().waitFor();
    // The bounds of a place are there when the spec has been read.
    const unseen: string[] = [];
    while (await workStep(page, unseen));
    await page.getByRole('heading', { name: 'The record', exact: true }).waitFor();
    expect(unseen).toEqual([]);
    await tabTo(page, /Who answers for the work/);
    await page.keyboard.type('RT');
    await tabTo(page, /Sign the record/);
    await page.keyboard.press('Enter');
    await page.getByText(/^Signed by RT/).waitFor();
    await tabTo(page, /Save the record/);
    const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
    const text = readFileSync(await download.path(), 'utf8');
    expect(tablet.faults).toEqual([]);
    await tablet.close();
    const record = join(place, download.suggestedFilename());
    for (const name of [file, 'common-fasteners.fettle'])
      writeFileSync(join(place, name), readFileSync(join(samples, name)));
    writeFileSync(record, text);
    const told = JSON.parse(fettle('record', record, '--format', 'json').out).records[0];
    expect(told.engineNumber).toBe('QL-8');
    expect(told.steps.filter((step: { readonly state: string }) => step.state !== 'done')).toEqual([]);
  });
});
