// A whole job worked through on the bench page by touch alone, from a file and without a network: closed half-way, opened again, saved out,
// checked by the command, gone on with on a second tablet, finished and printed.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, inject, test } from 'vitest';
import { fettle, folder, openTablet, type Size, samples, type Tablet } from './tablet.ts';
import { next, saved, workUntil } from './working.ts';

const browser = inject('browser');
const shots = process.env['SHOTS'];

async function shot(page: Page, name: string, fullPage = false): Promise<void> {
  if (shots !== undefined) await page.screenshot({ path: join(shots, `${name}.png`), fullPage });
}

const SIZES: readonly (readonly [string, Size])[] = [
  ['tablet upright', { width: 820, height: 1180 }],
  ['tablet across', { width: 1180, height: 820 }],
  ['phone', { width: 390, height: 844 }],
];

describe.each(SIZES)('%s', (called, size) => {
  test('a job from its first step to its signature, on two tablets', async () => {
    const place = folder();
    const file = join(place, 'page.html');
    const made = fettle(
      'bench',
      join(samples, 'inline-four.fettle'),
      '--job',
      'camshaft-change',
      '--variant',
      'delivery',
      '--output',
      file,
    );
    expect(made.status).toBe(0);

    let tablet: Tablet = await openTablet(browser, file, join(place, 'first'), size);
    let { page } = tablet;
    await shot(page, `${called} start`);
    await page.getByLabel('Engine number').fill('QL-0417');
    await page.getByLabel('Who works here').fill('RT');
    await page.getByRole('button', { name: 'Begin the work' }).tap();
    await page.getByRole('heading', { level: 1 }).waitFor();

    // Half of the work, the last step only begun; then the page is closed without a word.
    await workUntil(page, (taps) => taps === 8);
    const heading = await page.getByRole('heading', { level: 1 }).textContent();
    await page.locator('main .line > input[type=checkbox]').first().tap();
    await tablet.close();

    tablet = await openTablet(browser, file, join(place, 'first'), size);
    page = tablet.page;
    expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe(heading);
    expect(await page.locator('main .line > input[type=checkbox]').first().isChecked()).toBe(true);
    expect(await page.locator('header .which').textContent()).toContain('QL-0417');
    await shot(page, `${called} step`, true);

    await page.getByRole('button', { name: 'The record', exact: true }).tap();
    await page.getByRole('button', { name: 'Save the record' }).isEnabled();
    const half = await saved(page);
    expect(half.name).toBe('build-ql-0417.fettle');
    expect(half.text).toMatch(/^use "inline-four\.fettle"$/m);
    await shot(page, `${called} record`, true);
    expect(tablet.faults).toEqual([]);
    expect(tablet.asked).toEqual([]);
    await tablet.close();

    // The second tablet knows nothing of the first.
    const carried = join(place, 'half.fettle');
    writeFileSync(carried, half.text);
    tablet = await openTablet(browser, file, join(place, 'second'), size);
    page = tablet.page;
    const [chooser] = await Promise.all([
      page.waitForEvent('filechooser'),
      page.getByRole('button', { name: 'Open a record' }).tap(),
    ]);
    await chooser.setFiles(carried);
    await page
      .getByRole('heading', { level: 1 })
      .filter({ hasText: heading ?? '' })
      .waitFor();
    expect(await page.locator('main .line > input[type=checkbox]').first().isChecked()).toBe(true);
    await workUntil(page, () => false);
    await page.getByRole('heading', { name: 'The record', exact: true }).waitFor();
    await page.getByText('Nothing: all steps are done and all is measured.').waitFor();
    await page.getByLabel('Who answers for the work').fill('RT');
    await page.getByRole('button', { name: 'Sign the record' }).tap();
    const whole = await saved(page);

    const spec = join(place, 'inline-four.fettle');
    writeFileSync(spec, readFileSync(join(samples, 'inline-four.fettle')));
    writeFileSync(join(place, 'common-fasteners.fettle'), readFileSync(join(samples, 'common-fasteners.fettle')));
    const record = join(place, whole.name);
    writeFileSync(record, whole.text);
    expect(fettle('check', '--strict', record)).toMatchObject({ status: 0 });
    expect(fettle('format', '--check', record)).toMatchObject({ status: 0 });
    const told = JSON.parse(fettle('record', record, '--format', 'json').out);
    expect(told.records[0].steps.filter((step: { readonly state: string }) => step.state !== 'done')).toEqual([]);
    expect(told.records[0]).toMatchObject({
      engineNumber: 'QL-0417',
      variant: 'delivery',
      notMeasured: [],
      unanswered: [],
    });

    const paper = await page.pdf({ format: 'A4' });
    const pages = (paper.toString('latin1').match(/\/Type\s*\/Page\b/g) ?? []).length;
    expect(pages).toBeGreaterThan(1);
    if (shots !== undefined) writeFileSync(join(shots, `${called}.pdf`), paper);
    expect(tablet.faults).toEqual([]);
    expect(tablet.asked).toEqual([]);
    await tablet.close();
  });
});

test('measured inside, worn, outside and by a slip, in either unit, judged at once; what can be tapped is 12 mm large', async () => {
  const place = folder();
  const file = join(place, 'page.html');
  fettle('bench', join(samples, 'inline-four.fettle'), '--job', 'full-rebuild', '--output', file);
  const tablet = await openTablet(browser, file, join(place, 'profile'), { width: 390, height: 844 });
  const { page } = tablet;
  await page.getByRole('button', { name: 'Begin the work' }).tap();
  await page.getByRole('button', { name: 'All steps' }).tap();
  await page
    .getByRole('main')
    .getByRole('button', { name: /Gap the rings/ })
    .tap();
  const field = (place_: number) => page.getByRole('textbox', { name: `Top ring gap, ${place_}` });
  const verdict = (place_: number) => page.locator(`[id="measure.top-ring-gap.${place_}.verdict"]`);
  await field(1).fill('0,41');
  await field(2).fill('0.62');
  await field(3).fill('0.95');
  await field(4).fill('4,1');
  for (const [at, said] of [
    [1, 'Inside.'],
    [2, 'Worn'],
    [3, 'OUTSIDE'],
    [4, 'A slip of the pen? 0.41 mm would be inside'],
  ] as const)
    await verdict(at).filter({ hasText: said }).waitFor();
  await page.getByRole('button', { name: 'Take 0.41 mm' }).tap();
  await verdict(4).filter({ hasText: 'Inside.' }).waitFor();
  await page.getByLabel('Unit: top-ring-gap 3').selectOption('in');
  await field(3).fill('0.0161');
  await verdict(3).filter({ hasText: 'Inside.' }).waitFor();
  await field(3).fill('a bit');
  await verdict(3).filter({ hasText: 'This is not a number.' }).waitFor();

  // 12 mm are 45.4 px at 96 px to the inch.
  for (const name of ['All steps', 'The record'] as const) {
    await page.getByRole('button', { name, exact: true }).tap();
    await tooSmall(page);
  }
  await page.getByRole('button', { name: 'Back to the step' }).tap();
  await tooSmall(page);
  await page.getByRole('button', { name: 'All steps' }).tap();
  await page
    .getByRole('main')
    .getByRole('button', { name: /Lay the crankshaft/ })
    .tap();
  await tooSmall(page);
  expect(tablet.faults).toEqual([]);
  await tablet.close();
});

async function tooSmall(page: Page): Promise<void> {
  const small = await page.evaluate(() =>
    [...document.querySelectorAll('button, input, select, textarea, summary')]
      .filter((each) => each.checkVisibility() && !each.hasAttribute('hidden'))
      .map((each) => ({ box: each.getBoundingClientRect(), name: each.textContent?.slice(0, 30) ?? '' }))
      .filter(({ box }) => box.height < 45.4 || box.width < 45.4)
      .map(({ box, name }) => `${name} ${box.width} x ${box.height}`),
  );
  expect(small).toEqual([]);
  const isWide = await page.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth);
  expect(isWide).toBe(false);
}

test('the whole of a step by keyboard', async () => {
  const place = folder();
  const file = join(place, 'page.html');
  fettle('bench', join(samples, 'flat-twin.fettle'), '--output', file);
  const tablet = await openTablet(browser, file, join(place, 'profile'), { width: 1180, height: 820 });
  const { page } = tablet;
  const tabTo = async (name: RegExp): Promise<void> => {
    for (let presses = 0; presses < 80; presses += 1) {
      await page.keyboard.press('Tab');
      const label = await page.evaluate(() => {
        const active = document.activeElement;
        const named = active?.id === '' ? null : document.querySelector(`label[for="${CSS.escape(active?.id ?? '')}"]`);
        return `${active?.getAttribute('aria-label') ?? ''} ${named?.textContent ?? ''} ${active?.textContent ?? ''}`;
      });
      if (name.test(label)) return;
    }
    throw new Error(`${name} is not reached by Tab`);
  };
  await tabTo(/Engine number/);
  await page.keyboard.type('QL-5');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { level: 1 }).waitFor();
  const first = await page.getByRole('heading', { level: 1 }).textContent();
  const line = await page.locator('main .line label.name').first().textContent();
  await tabTo(new RegExp((line ?? '').replace(/[.*+?^${}()|[\]\\]/g, '\\$&')));
  await page.keyboard.press('Space');
  expect(await page.locator('main .line > input').first().isChecked()).toBe(true);
  await tabTo(/Next/);
  await page.keyboard.press('Enter');
  expect(await page.getByRole('heading', { level: 1 }).textContent()).not.toBe(first);
  // Reading goes on at the name of the new step.
  expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('H1');
  await tablet.close();
});

describe('hostile texts', () => {
  const HOSTILE = [
    '</script><script>globalThis.hit=1</script>',
    '<img src=x onerror="globalThis.hit=2">',
    '"><svg onload=globalThis.hit=3>',
    'javascript:globalThis.hit=4',
    '<!--<script>',
    '{{constructor.constructor("globalThis.hit=5")()}}',
    '\u202eesrever\u202c',
    '*/}</style><style>*{display:none}@import url(http://127.0.0.1:9/x)',
    '"} body { background: url(http://127.0.0.1:9/y) } .x { content: "',
    "';globalThis.hit=7;//",
    '`;globalThis.hit=8;`',
    '</title></textarea></p><a href="javascript:globalThis.hit=9">x</a>',
    '<math><mtext><style><img src=x onerror=globalThis.hit=10>',
    '<svg><use href="data:image/svg+xml,<svg onload=alert(1)>#x"/></svg>',
    '</script ><script type=module>globalThis.hit=11</script>',
    '--><iframe srcdoc="<script>parent.hit=12</script>">',
    '&lt;script&gt;globalThis.hit=13&lt;/script&gt;',
    '\u2028globalThis.hit=14\u2029',
    '__proto__',
    '<form id=rest><input id=job name=textContent>',
  ];

  test('in every text of a spec, and typed into every field: nothing runs, nothing is asked for', async () => {
    const place = folder();
    let at = 0;
    const hostile = readFileSync(join(samples, 'inline-four.fettle'), 'utf8').replace(
      /"(?:[^"\\]|\\.)*"/g,
      (text, offset, whole) => {
        const before = whole.slice(Math.max(0, offset - 12), offset);
        if (/(?:use|orient) $/.test(before)) return text;
        at += 1;
        return `"${(HOSTILE[at % HOSTILE.length] ?? '').replace(/[\\"]/g, '\\$&')}"`;
      },
    );
    writeFileSync(join(place, 'inline-four.fettle'), hostile);
    writeFileSync(join(place, 'common-fasteners.fettle'), readFileSync(join(samples, 'common-fasteners.fettle')));
    // A file name is shown too.
    const file = join(place, 'page <img src=x onerror=alert(1)>.html');
    expect(fettle('bench', join(place, 'inline-four.fettle'), '--job', 'full-rebuild', '--output', file).status).toBe(
      0,
    );
    const tablet = await openTablet(browser, file, join(place, 'profile'), { width: 820, height: 1180 });
    const { page } = tablet;
    await page.getByLabel('Engine number').fill(HOSTILE[0] ?? '');
    await page.getByLabel('Who works here').fill(HOSTILE[1] ?? '');
    await page.getByRole('button', { name: 'Begin the work' }).tap();
    for (let steps = 0; steps < HOSTILE.length + 4; steps += 1) {
      for (const field of await page.locator('main input[type=text]').all())
        await field.fill(HOSTILE[steps % HOSTILE.length] ?? '');
      for (const hold of await page.getByRole('button', { name: 'Confirm the hold point' }).all()) await hold.tap();
      await next(page).tap();
    }
    await page.getByText('Done otherwise than the spec says').tap();
    await page.locator('main textarea').fill(HOSTILE.join(' '));
    await page.getByRole('button', { name: 'Write it down' }).tap();
    await page.getByRole('button', { name: 'The record', exact: true }).tap();
    const { text, name } = await saved(page);
    expect(name).toMatch(/^build-[a-z0-9-]+\.fettle$/);
    // A record with a name like markup is opened, and what is no record is refused in words.
    for (const [called, written] of [
      ['<img src=x onerror=alert(2)>.fettle', text],
      ['"><script>.fettle', '<script>globalThis.hit=6</script>'],
    ] as const) {
      const carried = join(place, `carried${called.length}.fettle`);
      writeFileSync(carried, written);
      await page
        .locator('input[type=file]')
        .setInputFiles({ name: called, mimeType: 'text/plain', buffer: Buffer.from(written) });
      await page.waitForTimeout(200);
      if (await page.getByRole('button', { name: 'The record', exact: true }).isVisible())
        await page.getByRole('button', { name: 'The record', exact: true }).tap();
    }
    await page.pdf({ format: 'Letter' });
    expect(await page.evaluate(() => (globalThis as { readonly hit?: number }).hit)).toBeUndefined();
    expect(
      await page.evaluate(() => document.querySelectorAll('img, iframe, object, script[src], link[href]').length),
    ).toBe(0);
    expect(tablet.asked).toEqual([]);
    expect(tablet.faults).toEqual([]);
    writeFileSync(join(place, name), text);
    expect(fettle('check', join(place, name)).out).not.toContain('syntax/');
    await tablet.close();
  });
});

test('a record of another revision says so, one of another engine is refused', async () => {
  const place = folder();
  const file = join(place, 'page.html');
  fettle('bench', join(samples, 'flat-twin.fettle'), '--output', file);
  const tablet = await openTablet(browser, file, join(place, 'profile'), { width: 820, height: 1180 });
  const { page } = tablet;
  const open = async (text: string): Promise<void> => {
    await page.waitForTimeout(1500);
    await page
      .locator('input[type=file]')
      .setInputFiles({ name: 'r.fettle', mimeType: 'text/plain', buffer: Buffer.from(text) });
  };
  await open('record a of brindle-tallboy revision 2 {\n}\n');
  await page.getByText('is a record of brindle-tallboy, and this page is of brindle-wren').waitFor();
  await open('record a of brindle-wren revision 2 {\n  measured\n}\n');
  await page.getByText("has lines that can't be read").waitFor();
  await open('record a of brindle-wren revision 1 {\n  engine-number "QL-2"\n}\n');
  await page.getByText('worked to revision 1, and the spec is at revision 2').waitFor();
  await tablet.close();
});
