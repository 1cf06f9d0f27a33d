// Reads files as they were at a revision, through the git that is installed. What a user gives is never an option. Nothing is written,
// and nothing of what the repository names is run: git-barred.ts.

import { existsSync, readFileSync, realpathSync, statSync } from 'node:fs';
import { basename, dirname, join, relative, resolve, sep } from 'node:path';
import { type Told, told } from '../../grammar/told.ts';
import type { Host } from '../workspace/api.ts';
import { addressOf, LARGEST, pathOf } from '../workspace/disk.ts';
import { resolveUse } from '../workspace/paths.ts';
import { gitTop } from '../workspace/workspace-folder.ts';
import { git } from './git-barred.ts';
import { CannotDo } from './streams.ts';

/** The tree of files at one revision. */
export interface Revision {
  /** As it is shown: what the user named. */
  readonly named: string;
  /** The top of the work tree that the history belongs to. */
  readonly top: string;
  readonly commit: string;
}

/** A path with its links followed as far as it is there. */
export function realPath(path: string): string {
  if (existsSync(path) || dirname(path) === path) return realpathSync(path);
  return join(realPath(dirname(path)), basename(path));
}

function nearestFolder(path: string): string {
  const folder = dirname(path);
  return existsSync(folder) || folder === path ? folder : nearestFolder(folder);
}

/** Where the history of a work tree lies: the folder `.git` at its top, or the one that a file of that name leads to. */
function historyOf(top: string): string | undefined {
  try {
    const at = join(top, '.git');
    const about = statSync(at);
    if (about.isDirectory()) return realpathSync(at);
    if (!about.isFile()) return undefined;
    const led = /^gitdir: (.+?)\r?\n*$/.exec(readFileSync(at, 'utf8'))?.[1];
    return led === undefined ? undefined : realpathSync(resolve(top, led));
  } catch {
    return undefined;
  }
}

/**
 * The top of the work tree that a path (links followed) lies in: the nearest folder with a `.git` in it, whose history git takes for its
 * own. Any other that git would find, such as a folder that only looks like a history, is none. Throws CannotDo.
 */
function topOf(path: string, shown: string): string {
  const top = gitTop(nearestFolder(path));
  const history = top === undefined ? undefined : historyOf(top);
  if (top === undefined || history === undefined)
    throw new CannotDo(told`${shown} lies in no git folder. Compare two files without --git.`);
  const taken =
    git(top, 'rev-parse', '--absolute-git-dir')
      ?.toString('utf8')
      .replace(/\r?\n$/, '') ?? '';
  if (!existsSync(taken) || realpathSync(taken) !== history)
    throw new CannotDo(
      told`git does not open the history of ${top}: git status there says why. Or compare two files without --git.`,
    );
  return realpathSync(top);
}

function commitOf(top: string, named: string): string {
  const isName = named !== '' && !named.startsWith('-');
  const args = ['--verify', '--quiet', '--end-of-options', `${named}^{commit}`];
  const commit = isName
    ? git(top, 'rev-parse', ...args)
        ?.toString('utf8')
        .trim()
    : undefined;
  if (commit === undefined || !/^[0-9a-f]{40,64}$/.test(commit))
    throw new CannotDo(
      told`git knows no revision "${named}" here. Name one as git does, such as HEAD, main or main..HEAD.`,
    );
  return commit;
}

/**
 * The revisions that `REV`, `REV1..REV2` or `REV1...REV2` name; the second is undefined where the files as they stand now are meant.
 * With three dots, the first is the last one that both have in common. Throws CannotDo.
 */
export function revisionsOf(named: string, path: string, shown: string): readonly [Revision, Revision | undefined] {
  const top = topOf(path, shown);
  const parts = /^(.*?)(\.{2,3})(.*)$/.exec(named);
  if (parts === null) return [{ named, top, commit: commitOf(top, named) }, undefined];
  const [first, second] = [parts[1] === '' ? 'HEAD' : (parts[1] ?? ''), parts[3] === '' ? 'HEAD' : (parts[3] ?? '')];
  const now = { named: second, top, commit: commitOf(top, second) };
  const old = { named: first, top, commit: commitOf(top, first) };
  if (parts[2] === '..') return [old, now];
  const common = git(top, 'merge-base', old.commit, now.commit)?.toString('utf8').trim();
  if (common === undefined) throw new CannotDo(told`${first} and ${second} have no revision in common. Use two dots.`);
  return [{ named: common.slice(0, 10), top, commit: common }, now];
}

function nameIn({ top }: Revision, path: string): string {
  return relative(top, path).split(sep).join('/');
}

/** A file at a revision: its text, or why it can't be read; undefined where it is not in it. */
export function textAt(
  revision: Revision,
  path: string,
): { readonly text: string } | { readonly why: Told } | undefined {
  const name = nameIn(revision, path);
  if (name === '' || name.startsWith('../')) return undefined;
  const bytes = git(revision.top, 'cat-file', 'blob', `${revision.commit}:${name}`);
  if (bytes === undefined) {
    const isThere = git(
      revision.top,
      'rev-parse',
      '--verify',
      '--quiet',
      '--end-of-options',
      `${revision.commit}:${name}`,
    );
    return isThere === undefined
      ? undefined
      : { why: told`is not on this disk as it was then: fetch all of the history first` };
  }
  if (bytes.length > LARGEST) return { why: told`is larger than any spec` };
  if (bytes.includes(0)) return { why: told`is not a text file` };
  try {
    return { text: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes) };
  } catch {
    return { why: told`is not UTF-8 text` };
  }
}

/** Whether a path is a folder at a revision. */
export function isFolderAt(revision: Revision, path: string): boolean {
  const name = nameIn(revision, path);
  if (name === '') return true;
  const sort = git(revision.top, 'cat-file', '-t', `${revision.commit}:${name}`);
  return sort?.toString('utf8').trim() === 'tree';
}

/** Every `.fettle` file below a folder at a revision, as paths of the work tree; hidden folders and node_modules are left out. */
export function specsAtRevision(revision: Revision, folder: string): readonly string[] {
  const name = nameIn(revision, folder);
  const below = name === '' ? [] : [`${name}/`];
  const options = ['-r', '-z', '--name-only', '--full-tree'];
  const answer = git(revision.top, 'ls-tree', ...options, revision.commit, '--', ...below);
  if (answer === undefined)
    throw new CannotDo(
      told`What was there at ${revision.named} is not all on this disk. Fetch all of the history first.`,
    );
  const names = answer.toString('utf8').split('\0');
  return names
    .filter((each) => each.endsWith('.fettle') && !/(^|\/)(\.|node_modules\/)/.test(each))
    .map((each) => join(revision.top, ...each.split('/')))
    .sort();
}

/** Reads what a spec uses from the same revision; nothing outside the work tree. */
export function revisionHost(revision: Revision): Host {
  return {
    resolve: (from, path) => resolveUse(from, path, [addressOf(revision.top)]),
    read(file) {
      const path = pathOf(file);
      const read = path === undefined ? undefined : textAt(revision, path);
      return read !== undefined && 'text' in read ? read.text : undefined;
    },
  };
}
