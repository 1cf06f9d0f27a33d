// Pictures of an editor's window, each with how long it stands, and the moving picture that is made of them.
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { Page } from 'playwright-core';

export interface Camera {
  /** Takes a picture that stands so many seconds. */
  take(seconds: number): Promise<void>;
  /** Types a text, a picture a letter. */
  type(text: string): Promise<void>;
  /** How long it is by now, in seconds. */
  length(): number;
  /** Writes the moving picture, so many pixels wide, and forgets the single ones. */
  develop(file: string, width: number): void;
}

export function camera(page: Page): Camera {
  const folder = mkdtempSync(join(tmpdir(), 'fettle-film-'));
  const frames: { readonly file: string; readonly hundredths: number }[] = [];
  const take = async (seconds: number): Promise<void> => {
    const file = join(folder, `${String(frames.length).padStart(4, '0')}.png`);
    await page.screenshot({ path: file, caret: 'initial' });
    frames.push({ file, hundredths: Math.round(seconds * 100) });
  };
  return {
    take,
    async type(text) {
      for (const letter of text) {
        await page.keyboard.type(letter);
        await take(0.18);
      }
    },
    length: () => frames.reduce((sum, { hundredths }) => sum + hundredths, 0) / 100,
    develop(file, width) {
      mkdirSync(dirname(file), { recursive: true });
      const raw = join(folder, 'raw.gif');
      execFileSync('convert', [
        ...frames.flatMap((each) => ['-delay', String(each.hundredths), each.file]),
        ...['-resize', `${width}x`, '+dither', '-colors', '128', '-loop', '0', raw],
      ]);
      execFileSync('gifsicle', ['-O3', '--colors', '96', '--output', file, raw]);
      rmSync(folder, { recursive: true });
    },
  };
}
