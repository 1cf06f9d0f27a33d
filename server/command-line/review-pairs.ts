// What `fettle review` compares: two files, two folders paired by their relative paths, or files at revisions of a git history.

import { existsSync, statSync } from 'node:fs';
import { relative, resolve } from 'node:path';
import { type Told, told } from '../../grammar/told.ts';
import { analyse } from '../workspace/analyse.ts';
import type { Analysis, Host } from '../workspace/api.ts';
import { addressOf, diskHost, fettleFilesBelow, readText } from '../workspace/disk.ts';
import { workspaceFolder } from '../workspace/workspace-folder.ts';
import { isFolderAt, type Revision, realPath, revisionHost, revisionsOf, specsAtRevision, textAt } from './git.ts';
import { shownPath } from './specs.ts';
import { CannotDo, type Streams } from './streams.ts';

/** One side of a pair: read and ready to be analysed. */
export interface Input {
  readonly shown: string;
  readonly path: string;
  readonly analyse: () => Analysis;
}

export interface InputPair {
  readonly old: Input | undefined;
  readonly new: Input | undefined;
}

export interface Inputs {
  readonly pairs: readonly InputPair[];
  /** Whole folders: each file is compared for itself, not for those that use it as well. */
  readonly folders: boolean;
  readonly unreadable: readonly Told[];
}

type Read = { readonly text: string } | { readonly why: Told };

function input(path: string, shown: string, read: Read, host: Host, unreadable: Told[]): Input | undefined {
  if ('why' in read) {
    unreadable.push(told`${shown} ${read.why}.`);
    return undefined;
  }
  return { shown, path, analyse: () => analyse(addressOf(path), read.text, host) };
}

function fromDisk(path: string, given: string | undefined, streams: Streams, unreadable: Told[]): Input | undefined {
  const shown = shownPath(path, streams.folder);
  const host = diskHost([addressOf(workspaceFolder(path, given))]);
  return input(path, shown, readText(path), host, unreadable);
}

function fromGit(path: string, revision: Revision, unreadable: Told[]): Input | undefined {
  const read = textAt(revision, path);
  const shown = `${revision.named}:${relative(revision.top, path).replaceAll('\\', '/')}`;
  return read === undefined ? undefined : input(path, shown, read, revisionHost(revision), unreadable);
}

function mustBe(path: string, streams: Streams): string {
  const full = resolve(streams.folder, path);
  if (!existsSync(full)) throw new CannotDo(told`There is no file or folder ${path}. Check how it is written.`);
  return full;
}

const isFolder = (path: string): boolean => existsSync(path) && statSync(path).isDirectory();

function closedFolder(streams: Streams, unreadable: Told[]): (folder: string) => void {
  return (folder) => unreadable.push(told`${shownPath(folder, streams.folder)} may not be read by you.`);
}

/** Two files, or two folders. Throws CannotDo. */
export function diskPairs(oldPath: string, newPath: string, streams: Streams): Inputs {
  const [old, now] = [mustBe(oldPath, streams), mustBe(newPath, streams)];
  const unreadable: Told[] = [];
  if (isFolder(old) !== isFolder(now))
    throw new CannotDo(told`${oldPath} and ${newPath} are a file and a folder. Name two files, or two folders.`);
  if (!isFolder(old)) {
    const pair = {
      old: fromDisk(old, undefined, streams, unreadable),
      new: fromDisk(now, undefined, streams, unreadable),
    };
    if (unreadable[0] !== undefined) throw new CannotDo(told`${unreadable[0]} Name a .fettle file.`);
    return { pairs: [pair], folders: false, unreadable };
  }
  const below = (folder: string): readonly string[] =>
    fettleFilesBelow(folder, closedFolder(streams, unreadable)).map((path) => relative(folder, path));
  const [before, after] = [new Set(below(old)), new Set(below(now))];
  if (before.size + after.size === 0)
    throw new CannotDo(told`There is no .fettle file in ${oldPath}, nor in ${newPath}. Name other folders.`);
  const side = (has: ReadonlySet<string>, folder: string, name: string): Input | undefined =>
    has.has(name) ? fromDisk(resolve(folder, name), folder, streams, unreadable) : undefined;
  const pairs = [...new Set([...before, ...after])]
    .sort()
    .map((name) => ({ old: side(before, old, name), new: side(after, now, name) }));
  return { pairs, folders: true, unreadable };
}

/** One file or folder at a revision against how it stands now, or at another. Throws CannotDo. */
export function gitPairs(named: string, path: string, streams: Streams): Inputs {
  const full = realPath(resolve(streams.folder, path));
  const [old, now] = revisionsOf(named, isFolder(full) ? resolve(full, 'spec') : full, path);
  const unreadable: Told[] = [];
  if (isFolder(full) || isFolderAt(old, full)) {
    const before = specsAtRevision(old, full);
    const found =
      now === undefined
        ? isFolder(full)
          ? fettleFilesBelow(full, closedFolder(streams, unreadable))
          : []
        : specsAtRevision(now, full);
    const pairs = [...new Set([...before, ...found])].sort().map((each) => ({
      old: before.includes(each) ? fromGit(each, old, unreadable) : undefined,
      new: found.includes(each)
        ? now === undefined
          ? fromDisk(each, full, streams, unreadable)
          : fromGit(each, now, unreadable)
        : undefined,
    }));
    if (pairs.length === 0) throw new CannotDo(told`There is no .fettle file in ${path}. Name another folder.`);
    return { pairs, folders: true, unreadable };
  }
  const before = fromGit(full, old, unreadable);
  const after =
    now !== undefined
      ? fromGit(full, now, unreadable)
      : existsSync(full)
        ? fromDisk(full, undefined, streams, unreadable)
        : undefined;
  if (unreadable[0] !== undefined) throw new CannotDo(told`${unreadable[0]} Name a .fettle file.`);
  if (before === undefined && after === undefined)
    throw new CannotDo(told`${path} is neither there now nor at ${old.named}. Check how it is written.`);
  return { pairs: [{ old: before, new: after }], folders: false, unreadable };
}
