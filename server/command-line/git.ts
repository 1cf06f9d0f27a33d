// Reads files as they were at a revision, through the git that is installed. Arguments are always a list, and what a user gives is
// never an option. Nothing is written.
import { execFileSync } from 'node:child_process';
import { existsSync, realpathSync } from 'node:fs';
import { basename, dirname, join, relative, sep } from 'node:path';
import type { Host } from '../workspace/api.ts';
import { addressOf, LARGEST, pathOf } from '../workspace/disk.ts';
import { resolveUse } from '../workspace/paths.ts';
import { CannotDo } from './streams.ts';

/** Kept out of git's sight: only the folder decides which history is read. */
const NOT_FOR_GIT = ['GIT_DIR', 'GIT_WORK_TREE', 'GIT_INDEX_FILE', 'GIT_PREFIX'];

/** What git answers; undefined where it says no. Throws CannotDo where there is no git. */
function git(folder: string, args: readonly string[]): Buffer | undefined {
  const env = Object.fromEntries(Object.entries(process.env).filter(([name]) => !NOT_FOR_GIT.includes(name)));
  try {
    return execFileSync('git', ['-C', folder, '--no-pager', ...args], {
      ...{ maxBuffer: 4 * LARGEST, windowsHide: true, env: { ...env, GIT_TERMINAL_PROMPT: '0' } },
      stdio: ['ignore', 'pipe', 'ignore'],
    });
  } catch (error) {
    if ((error as { readonly code?: string }).code === 'ENOENT' && existsSync(folder))
      throw new CannotDo('git was not found. Install git, or compare two files without --git.');
    return undefined;
  }
}

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

/** The top of the work tree that a path (links followed) lies in. Throws CannotDo. */
function topOf(path: string, shown: string): string {
  const answer = git(nearestFolder(path), ['rev-parse', '--show-toplevel']);
  if (answer === undefined) throw new CannotDo(`${shown} lies in no git folder. Compare two files without --git.`);
  return realpathSync(answer.toString('utf8').replace(/\r?\n$/, ''));
}

function commitOf(top: string, named: string): string {
  const isName = named !== '' && !named.startsWith('-');
  const args = ['rev-parse', '--verify', '--quiet', '--end-of-options', `${named}^{commit}`];
  const commit = isName ? git(top, args)?.toString('utf8').trim() : undefined;
  if (commit === undefined || !/^[0-9a-f]{40,64}$/.test(commit))
    throw new CannotDo(
      `git knows no revision "${named}" here. Name one as git does, such as HEAD, main or main..HEAD.`,
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
  const common = git(top, ['merge-base', old.commit, now.commit])?.toString('utf8').trim();
  if (common === undefined) throw new CannotDo(`${first} and ${second} have no revision in common. Use two dots.`);
  return [{ named: common.slice(0, 10), top, commit: common }, now];
}

function nameIn({ top }: Revision, path: string): string {
  return relative(top, path).split(sep).join('/');
}

/** A file at a revision: its text, or why it can't be read; undefined where it is not in it. */
export function textAt(
  revision: Revision,
  path: string,
): { readonly text: string } | { readonly why: string } | undefined {
  const name = nameIn(revision, path);
  if (name === '' || name.startsWith('../')) return undefined;
  const bytes = git(revision.top, ['cat-file', 'blob', `${revision.commit}:${name}`]);
  if (bytes === undefined) return undefined;
  if (bytes.length > LARGEST) return { why: 'is larger than any spec' };
  if (bytes.includes(0)) return { why: 'is not a text file' };
  try {
    return { text: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes) };
  } catch {
    return { why: 'is not UTF-8 text' };
  }
}

/** Whether a path is a folder at a revision. */
export function isFolderAt(revision: Revision, path: string): boolean {
  const name = nameIn(revision, path);
  if (name === '') return true;
  const sort = git(revision.top, ['cat-file', '-t', `${revision.commit}:${name}`]);
  return sort?.toString('utf8').trim() === 'tree';
}

/** Every `.fettle` file below a folder at a revision, as paths of the work tree; hidden folders and node_modules are left out. */
export function specsAtRevision(revision: Revision, folder: string): readonly string[] {
  const name = nameIn(revision, folder);
  const below = name === '' ? [] : [`${name}/`];
  const answer = git(revision.top, [
    '--literal-pathspecs',
    'ls-tree',
    '-r',
    '-z',
    '--name-only',
    '--full-tree',
    revision.commit,
    '--',
    ...below,
  ]);
  const names = (answer?.toString('utf8') ?? '').split('\0');
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
