// Drives an editor's page in a real browser: opens files, types, reads squiggles, hovers and problems. It knows the
// editor's page and nothing about Fettle.
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { chromium, type FrameLocator, type Locator, type Page } from 'playwright-core';

/** A window of the editor. */
export interface Workbench {
  readonly page: Page;
  /** Requests that went anywhere but to this machine. There should be none. */
  readonly outside: readonly string[];
  /** Opens a file by its name, from the folder view. */
  openFile(name: string): Promise<void>;
  /** Closes the tab whose label holds this text. */
  closeTab(label: string): Promise<void>;
  /** Runs a command of the palette by its title. */
  command(title: string): Promise<void>;
  /** Puts the cursor at a line and column, counted from 1. */
  goTo(line: number, column: number): Promise<void>;
  /** The lines in view of the active file. */
  text(): Promise<string>;
  /** Waits until the active file has a wavy line of this kind under it, and gives it back. */
  squiggle(kind: 'error' | 'warning' | 'info'): Promise<Locator>;
  /** What the hover says at a wavy line. */
  hover(at: Locator): Promise<string>;
  /** Waits until the language status of the active file says this. */
  untilStatus(text: string): Promise<void>;
  /** The inside of the panel that shows a page. */
  webview(): FrameLocator;
  /** Opens the Problems panel and reads its rows. */
  problems(): Promise<readonly string[]>;
  /** Takes the quick fix whose title holds this text, at the cursor. */
  quickFix(title: string): Promise<void>;
  /** Types into the box that a command opened, and waits for a row with this text before it confirms. */
  answer(text: string, row?: string): Promise<void>;
  shot(name: string): Promise<void>;
  close(): Promise<void>;
}

const local =
  /^(?:https?|wss?):\/\/(?:127\.0\.0\.1|localhost|\[::1\]|[\w.-]+\.localhost)(?::|\/)|^(?:data|blob|vscode-[\w-]+|about):/;

/** Without these, the browser itself asks the outside for updates and lists. */
const quiet = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-dev-shm-usage',
  // No name but this machine's is found, so that a request to another one fails and is seen.
  '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE localhost, EXCLUDE *.localhost, EXCLUDE 127.0.0.1',
];

/** Opens an editor's page and waits until it stands. Pictures go into `shots`. */
export async function openWorkbench(url: string, program: string, shots: string): Promise<Workbench> {
  mkdirSync(shots, { recursive: true });
  const browser = await chromium.launch({ executablePath: program, headless: true, args: quiet });
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  page.setDefaultTimeout(30_000);
  const outside: string[] = [];
  // Panels ask for their files under a made-up address, which the editor's own service worker answers.
  page.on('response', (response) => {
    if (!local.test(response.url()) && !response.fromServiceWorker()) outside.push(response.url());
  });
  page.on('requestfailed', (request) => {
    if (!local.test(request.url())) outside.push(request.url());
  });
  await page.goto(url, { timeout: 90_000 });
  await page.locator('.monaco-workbench').waitFor({ timeout: 90_000 });

  const input = page.locator('.quick-input-widget .quick-input-box input');
  const rows = page.locator('.quick-input-list .monaco-list-row');

  /** Keys typed before the editor listens are lost, so they are pressed until the box opens. */
  const openBox = async (key: string) => {
    for (let attempt = 1; ; attempt++) {
      await page.keyboard.press(key);
      try {
        return await input.waitFor({ state: 'visible', timeout: 3_000 });
      } catch (reason) {
        if (attempt === 10) throw reason;
      }
    }
  };
  const answer = async (text: string, row?: string) => {
    await input.waitFor();
    await input.fill(text);
    if (row !== undefined) await rows.filter({ hasText: row }).first().waitFor();
    await page.keyboard.press('Enter');
  };

  return {
    page,
    outside,
    answer,
    async openFile(name) {
      const row = page.locator('.explorer-folders-view .monaco-list-row', { hasText: name });
      await row.first().dblclick();
      await page.locator(`.tab.active[data-resource-name="${name}"]`).waitFor();
      await page.locator('.editor-group-container.active .monaco-editor .view-line').first().waitFor();
    },
    async closeTab(label) {
      const tab = page.locator('.tab', { hasText: label });
      await tab.hover();
      await tab.locator('.codicon-close').click();
      await tab.waitFor({ state: 'detached' });
    },
    async command(title) {
      await openBox('F1');
      await answer(`>${title}`, title);
    },
    async goTo(line, column) {
      await openBox('Control+G');
      await answer(`:${line}:${column}`);
      await input.waitFor({ state: 'hidden' });
    },
    async text() {
      // In one go: lines are drawn anew at any time.
      const lines = await page
        .locator('.editor-group-container.active .monaco-editor .view-line')
        .evaluateAll((elements) =>
          elements.map((element) => ({
            top: Number.parseFloat((element as unknown as { style: { top: string } }).style.top),
            text: (element as unknown as { textContent: string | null }).textContent ?? '',
          })),
        );
      return lines
        .sort((first, second) => first.top - second.top)
        .map((line) => line.text.replaceAll('\u00a0', ' '))
        .join('\n');
    },
    async squiggle(kind) {
      const line = page.locator(`.editor-group-container.active .squiggly-${kind}`).first();
      await line.waitFor({ state: 'attached' });
      return line;
    },
    async hover(at) {
      const shown = page.locator('.monaco-hover:not(.hidden)', { has: page.locator('.marker.hover-contents') }).first();
      // Lines move while the editor still puts something between them: then the pointer goes after.
      for (let attempt = 0; ; attempt += 1) {
        const box = await boxOf(at);
        await page.mouse.move(box.x + box.width / 2 - 2, box.y + box.height / 2);
        await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
        try {
          await shown.waitFor({ timeout: attempt < 4 ? 4000 : 15_000 });
          break;
        } catch (reason) {
          if (attempt === 4) throw reason;
          await page.mouse.move(2, 2);
        }
      }
      await page.waitForTimeout(400); // it fades in
      return (await shown.innerText()).replaceAll('\u00a0', ' ');
    },
    async untilStatus(text) {
      // The status of the language hides in a hover of the status bar; its words are in the label for screen readers.
      const item = page.locator('#status\\.languageStatus');
      await item.waitFor({ timeout: 120_000 });
      for (let attempt = 0; attempt < 240; attempt++) {
        if ((await statusText(page)).includes(text)) return;
        await page.waitForTimeout(250);
      }
      throw new Error(`the status of the language never said "${text}", but "${await statusText(page)}"`);
    },
    webview() {
      return page.frameLocator('iframe.webview.ready').frameLocator('iframe#active-frame');
    },
    async problems() {
      await page.keyboard.press('Control+Shift+M');
      const found = page.locator('.markers-panel .monaco-list-row');
      await found.first().waitFor();
      return (await found.allInnerTexts()).map((row) => row.replaceAll('\u00a0', ' '));
    },
    async quickFix(title) {
      await page.keyboard.press('Control+.');
      const offers = page.locator('.action-widget .monaco-list-row.action');
      await offers.filter({ hasText: title }).first().waitFor();
      const focused = page.locator('.action-widget .monaco-list-row.action.focused');
      const many = await offers.count();
      // The rows swallow clicks, so the arrow keys choose.
      for (let step = 0; step < many && !(await focused.textContent())?.includes(title); step++) {
        await page.keyboard.press('ArrowDown');
      }
      await page.keyboard.press('Enter');
      await offers.first().waitFor({ state: 'hidden' });
    },
    async shot(name) {
      await page.screenshot({ path: join(shots, `${name}.png`) });
    },
    async close() {
      await browser.close();
    },
  };
}

async function statusText(page: Page): Promise<string> {
  return (await page.locator('#status\\.languageStatus').getAttribute('aria-label')) ?? '';
}

/** Where a wavy line is on the page. It is drawn anew whenever the editor changes its width. */
async function boxOf(line: Locator): Promise<{ x: number; y: number; width: number; height: number }> {
  for (let attempt = 0; attempt < 30; attempt++) {
    const box = await line.boundingBox();
    if (box !== null) return box;
    await line.page().waitForTimeout(100);
  }
  throw new Error('the wavy line is out of sight');
}
