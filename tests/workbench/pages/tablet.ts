// A tablet with the bench page on it: a browser profile with a size, touched and never clicked. Every request that leaves the page is noted.
import { execFileSync } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { execPath } from 'node:process';
import { pathToFileURL } from 'node:url';
import { type BrowserContext, chromium, type Page } from 'playwright-core';

const root = join(import.meta.dirname, '../../..');

/** Runs the command as it is installed. Gives what it prints, whatever its exit status. */
export function fettle(...args: readonly string[]): { readonly out: string; readonly status: number } {
  try {
    const out = execFileSync(execPath, [join(root, 'dist', 'fettle.js'), ...args], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    return { out, status: 0 };
  } catch (error) {
    const failed = error as { readonly stdout: string; readonly stderr: string; readonly status: number };
    return { out: `${failed.stdout}${failed.stderr}`, status: failed.status };
  }
}

export const samples = join(root, 'samples');

export function folder(): string {
  return mkdtempSync(join(tmpdir(), 'fettle-pages-'));
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

export interface Tablet {
  readonly context: BrowserContext;
  readonly page: Page;
  /** Requests for anything but the page itself. */
  readonly asked: readonly string[];
  /** What went wrong in the page, its policy's refusals among it. */
  readonly faults: readonly string[];
  close(): Promise<void>;
}

/** Opens a page from its file, with the storage of a profile that outlives it. */
export async function openTablet(
  browser: string,
  file: string,
  profile: string,
  size: Size,
  scheme: 'light' | 'dark' = 'light',
): Promise<Tablet> {
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: browser,
    headless: true,
    args: ['--no-sandbox'],
    viewport: size,
    hasTouch: true,
    colorScheme: scheme,
    acceptDownloads: true,
  });
  const address = pathToFileURL(file).href;
  const asked: string[] = [];
  const faults: string[] = [];
  context.on('request', (request) => {
    if (request.url() !== address && !request.url().startsWith('blob:')) asked.push(request.url());
  });
  const page = context.pages()[0] ?? (await context.newPage());
  page.on('pageerror', (error) => faults.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(message.text());
  });
  page.on('dialog', (dialog) => {
    faults.push(`dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  await context.setOffline(true);
  await page.goto(address);
  return { context, page, asked, faults, close: () => context.close() };
}
