// Writes files whole or not at all: beside the target first, then put in its place. What is written is decided elsewhere.
import { linkSync, realpathSync, renameSync, statSync, unlinkSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { CannotDo } from './streams.ts';

const WHY: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such folder: make it first',
  ENOTDIR: 'there is no such folder: make it first',
  EISDIR: 'it is a folder: name a file',
  EACCES: 'you may not write there',
  EPERM: 'you may not write there',
  EROFS: 'nothing can be written there',
  ENOSPC: 'the disk is full',
  EEXIST: 'it is there already and was left as it is',
};

function reason(error: unknown): string {
  const code = (error as { readonly code?: string }).code ?? 'unknown reason';
  return WHY[code] ?? code;
}

/** The file itself, where the path is a link to it. */
function target(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return path;
  }
}

function modeOf(path: string): number | undefined {
  try {
    const about = statSync(path);
    if (about.isDirectory()) throw Object.assign(new Error('a folder'), { code: 'EISDIR' });
    return about.mode;
  } catch (error) {
    if ((error as { readonly code?: string }).code === 'EISDIR') throw error;
    return undefined;
  }
}

function put(path: string, text: string, place: (beside: string, at: string) => void): void {
  const at = target(path);
  const beside = join(dirname(at), `.${basename(at)}.${process.pid}.new`);
  try {
    const mode = modeOf(at);
    writeFileSync(beside, text, { flush: true, ...(mode === undefined ? {} : { mode }) });
    place(beside, at);
  } catch (error) {
    try {
      unlinkSync(beside);
    } catch {
      // It was not written at all.
    }
    throw new CannotDo(`${path} can't be written: ${reason(error)}.`);
  }
}

/** Writes a file, over one that is there. It holds all of the text or is as it was. Throws CannotDo. */
export function writeWhole(path: string, text: string): void {
  put(path, text, renameSync);
}

/** Writes a file that is not there yet; one that is there is left alone. Throws CannotDo. */
export function writeNew(path: string, text: string): void {
  put(path, text, (beside, at) => {
    linkSync(beside, at);
    unlinkSync(beside);
  });
}
