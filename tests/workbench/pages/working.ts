// What a rebuilder does on the bench page, by touch: each step from top to bottom, to the end of the job, and the record out.
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';

/** Does what is on the step in hand, as a rebuilder would: from top to bottom. */
async function workStep(page: Page): Promise<void> {
  // A value in the middle of each range, in each box where several readings are asked for; a limit on one side is met at its figure.
  for (const field of await page.locator('main .field .entry input').all()) {
    if ((await field.inputValue()) !== '') continue;
    // What holds at the place itself, where the places differ; else what is read from a distance.
    const within = await field.evaluate(
      (input) =>
        input.closest('.field')?.querySelector('.own')?.textContent ??
        input.closest('.what')?.querySelector('.figure')?.textContent ??
        '',
    );
    const numbers = [...within.matchAll(/-?\d+(?:\.\d+)?/g)].map(([number]) => Number(number));
    const [low = 0, high = low] = within.includes(' to ') ? numbers : [numbers[0] ?? 0, numbers[0] ?? 0];
    const places = (/\.(\d+)/.exec(within)?.[1]?.length ?? 0) + 1;
    await field.tap();
    // As half of the world writes it.
    await field.fill(((low + high) / 2).toFixed(places).replace('.', ','));
  }
  for (const box of await page.locator('main .line > input[type=checkbox]').all())
    if (!(await box.isChecked())) await box.tap();
  for (const by of await page.getByLabel('Looked at by').all()) {
    await by.fill('AM');
    await page.getByRole('button', { name: 'Confirm the hold point' }).first().tap();
  }
}

/** Says of each part that is chosen by measurement which went in: the one that the page says is to be used. */
export async function sayGrades(page: Page): Promise<void> {
  for (const select of await page.locator('select[id^="grade."]').all()) {
    const said = await select.evaluate((each) => each.closest('.field')?.querySelector('.use')?.textContent ?? '');
    const row = /: ([^\s,]+)/.exec(said)?.[1];
    if (row === undefined) await select.selectOption({ index: 1 });
    else await select.selectOption(row);
  }
}

export const next = (page: Page) => page.locator('nav.bottom button.main');

/** Taps and reads the record as it is saved. */
export async function saved(page: Page): Promise<{ readonly name: string; readonly text: string }> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the record' }).tap(),
  ]);
  return { name: download.suggestedFilename(), text: readFileSync(await download.path(), 'utf8') };
}

export async function workUntil(page: Page, isEnough: (steps: number) => boolean): Promise<number> {
  for (let taps = 0; ; taps += 1) {
    if (isEnough(taps)) return taps;
    await workStep(page);
    const isLast = (await next(page).textContent()) === 'To the record';
    await next(page).tap();
    if (isLast) return taps + 1;
  }
}
