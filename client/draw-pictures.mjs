// Draws what README and walkthrough show of the samples into client/walkthrough: the timing face of the inline four, and its bench page with values
// entered. Run by hand after a change of either ("npm run pictures"); needs Chromium for the page. The picture alone is held against the
// samples by tests/pictures/kept.test.ts.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { env, execPath } from 'node:process';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const target = join(root, 'client', 'walkthrough');
const sample = join(root, 'samples', 'inline-four.fettle');
const fettle = (...args) => execFileSync(execPath, [join(root, 'dist', 'fettle.js'), ...args], { stdio: 'ignore' });

fettle('picture', sample, 'timing-face', '--output', join(target, 'timing-face.svg'));

const scratch = mkdtempSync(join(tmpdir(), 'fettle-pictures-'));
const file = join(scratch, 'page.html');
fettle('bench', sample, '--job', 'full-rebuild', '--output', file);
const browser = await chromium.launch({
  executablePath: env['CHROMIUM'] ?? '/usr/bin/chromium',
  args: ['--no-sandbox'],
});
const page = await browser.newPage({ viewport: { width: 820, height: 900 }, hasTouch: true });
await page.goto(pathToFileURL(file).href);
await page.getByLabel('Engine number').fill('QL-0417');
await page.getByRole('button', { name: 'Begin the work' }).tap();
await page.getByRole('button', { name: 'All steps' }).tap();
await page
  .getByRole('main')
  .getByRole('button', { name: /Gap the rings/ })
  .tap();
for (const [place, value] of [
  [1, '0.41'],
  [2, '0,44'],
  [3, '0.62'],
  [4, '4.1'],
])
  await page.getByRole('textbox', { name: `Top ring gap, ${place}` }).fill(value);
await page.getByText('Take 0.41 mm').waitFor();
await page.evaluate(() => {
  document.activeElement?.blur();
  globalThis.scrollTo(0, 0);
});
const shown = join(target, 'bench-page.png');
await page.screenshot({ path: shown });
// With few colours, and rows as they are, it takes a third of the room in the pack.
const small = ['png:compression-level=9', 'png:compression-filter=0'].flatMap((each) => ['-define', each]);
execFileSync('convert', [shown, '+dither', '-colors', '32', '-strip', ...small, shown]);
await browser.close();
rmSync(scratch, { recursive: true });
