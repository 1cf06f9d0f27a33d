// Writes files whole or not at all: beside the target first, then put in its place. Nothing is written through a link that leads out
// of the workspace folder. What is written is decided elsewhere.

import { randomBytes } from 'node:crypto';
import {
  closeSync,
  constants,
  fchmodSync,
  fsyncSync,
  linkSync,
  lstatSync,
  openSync,
  realpathSync,
  renameSync,
  type Stats,
  unlinkSync,
  writeSync,
} from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { type Told, told } from '../../grammar/told.ts';
import { staysInside } from '../workspace/disk.ts';
import { workspaceFolder } from '../workspace/workspace-folder.ts';
import { CannotDo } from './streams.ts';

const WHY: ReadonlyMap<string, Told> = new Map([
  ['ENOENT', told`there is no such folder: make it first`],
  ['ENOTDIR', told`there is no such folder: make it first`],
  ['EISDIR', told`it is a folder: name a file`],
  ['EACCES', told`you may not write there`],
  ['EPERM', told`you may not write there`],
  ['EROFS', told`nothing can be written there`],
  ['ENOSPC', told`the disk is full`],
  ['EDQUOT', told`the disk is full`],
  ['EEXIST', told`it is there already and was left as it is`],
  ['ENAMETOOLONG', told`the name is too long`],
  ['ELOOP', told`it is a link that leads nowhere`],
]);

/** Why a file can't be written, in plain words. */
class NotWritten extends Error {
  readonly told: Told;

  constructor(why: Told) {
    super(why.text);
    this.told = why;
  }
}

function reason(error: unknown): Told {
  if (error instanceof NotWritten) return error.told;
  const { code } = error as { readonly code?: string };
  return WHY.get(code ?? '') ?? (code === undefined ? told`unknown reason` : told.asIs(code));
}

/** What stands at a path, links not followed; undefined where nothing does. */
function standing(path: string): Stats | undefined {
  return lstatSync(path, { throwIfNoEntry: false });
}

/** The file that a path means: itself, or the one that it is a link to. Throws where that lies outside the workspace folder. */
function target(path: string, given: string | undefined): string {
  const folder = workspaceFolder(path, given);
  realpathSync(dirname(path));
  if (!staysInside(dirname(path), folder))
    throw new NotWritten(told`a link on the way leads out of the folder. Name the place that it leads to`);
  const at = standing(path);
  if (at?.isSymbolicLink() !== true) return path;
  let real: string;
  try {
    real = realpathSync(path);
  } catch {
    throw new NotWritten(told`it is a link that leads nowhere`);
  }
  if (!staysInside(real, folder))
    throw new NotWritten(told`it is a link to ${real}, outside the folder. Name that file itself`);
  return real;
}

/** Opens a file that is not there yet; what stands there already, a link too, is not touched. */
function openBeside(path: string): number {
  return openSync(path, constants.O_WRONLY | constants.O_CREAT | constants.O_EXCL | (constants.O_NOFOLLOW ?? 0), 0o666);
}

/** Writes a text into an open file, has it on the disk, and closes it. */
function fill(file: number, text: string, mode: number | undefined): void {
  try {
    if (mode !== undefined) fchmodSync(file, mode & 0o7777);
    const bytes = Buffer.from(text, 'utf8');
    for (let from = 0; from < bytes.length; ) from += writeSync(file, bytes, from);
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

/** Longest name of a file, in letters of the file itself; the name beside it is longer by what is added. */
const LONGEST = 60;

/** A name beside a file that nobody can have foreseen. */
function nameBeside(at: string): string {
  const name = [...basename(at)].slice(0, LONGEST).join('');
  return join(dirname(at), `.${name}.${randomBytes(9).toString('hex')}.new`);
}

function put(path: string, text: string, given: string | undefined, place: (beside: string, at: string) => void): void {
  try {
    const at = target(resolve(path), given);
    const there = standing(at);
    if (there?.isDirectory() === true) throw new NotWritten(told`it is a folder: name a file`);
    if (there !== undefined && !there.isFile()) throw new NotWritten(told`it is no ordinary file`);
    const beside = nameBeside(at);
    const file = openBeside(beside);
    try {
      fill(file, text, there?.mode);
      place(beside, at);
    } catch (error) {
      unlinkSync(beside);
      throw error;
    }
  } catch (error) {
    throw new CannotDo(told`${path} can't be written: ${reason(error)}.`);
  }
}

/**
 * Writes a file, over one that is there. It holds all of the text or is as it was. A link stays a link. `given` is the folder that the
 * user named to be worked through. Throws CannotDo.
 */
export function writeWhole(path: string, text: string, given?: string): void {
  put(path, text, given, renameSync);
}

/** Disks that know no second name for a file say so with one of these. */
const NO_SECOND_NAME: readonly string[] = ['EPERM', 'ENOSYS', 'ENOTSUP', 'EOPNOTSUPP', 'EMLINK'];

/** Writes a file that is not there yet; one that is there is left alone. Throws CannotDo. */
export function writeNew(path: string, text: string): void {
  put(path, text, undefined, (beside, at) => {
    try {
      linkSync(beside, at);
    } catch (error) {
      if (!NO_SECOND_NAME.includes((error as { readonly code?: string }).code ?? '')) throw error;
      // The name is taken first, so that nothing that comes meanwhile is overwritten.
      closeSync(openSync(at, 'wx'));
      renameSync(beside, at);
      return;
    }
    unlinkSync(beside);
  });
}
