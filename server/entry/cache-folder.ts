// Where Fettle keeps what makes the next start sooner: a folder of the user's own, which nobody else can write to. What is kept there is
// run, so a folder or a file that may be another's is not used.
import {
  closeSync,
  constants,
  fstatSync,
  lstatSync,
  mkdirSync,
  openSync,
  readSync,
  type Stats,
  statSync,
} from 'node:fs';
import { homedir } from 'node:os';
import { dirname, isAbsolute, join } from 'node:path';
import { getuid, platform } from 'node:process';

export interface CacheFolder {
  readonly path: string;
  /** The user named it: it is made wherever that is. */
  readonly isNamed: boolean;
}

type Environment = Readonly<Record<string, string | undefined>>;

/** A path from the environment; one that begins nowhere would lead into whatever folder one is in. */
function pathIn(value: string | undefined): string | undefined {
  return value !== undefined && isAbsolute(value) ? value : undefined;
}

/**
 * The folder that the environment names: FETTLE_CACHE, or by the rule of the platform. Undefined where that is `off` or where there is none.
 * A path in FETTLE_CACHE that is not absolute counts as `off`: nothing is kept in a place that was not meant.
 */
export function cacheFolder(
  env: Environment,
  system: string = platform,
  home: () => string = homedir,
): CacheFolder | undefined {
  const named = env['FETTLE_CACHE'] ?? '';
  if (named !== '') return isAbsolute(named) ? { path: named, isNamed: true } : undefined;
  const base = (): string | undefined => {
    if (system === 'win32') return pathIn(env['LOCALAPPDATA']);
    if (system === 'darwin') return join(home(), 'Library', 'Caches');
    return pathIn(env['XDG_CACHE_HOME']) ?? join(home(), '.cache');
  };
  const path = base();
  return path === undefined || !isAbsolute(path) ? undefined : { path: join(path, 'fettle'), isNamed: false };
}

/** Whether something belongs to who runs this. Windows keeps no such number; there, what lies below the user's own folder is theirs. */
function isOwn(stats: Stats): boolean {
  return getuid === undefined || stats.uid === getuid();
}

/** Whether it belongs to who runs this, and nobody else can write to it. */
function isOwnAlone(stats: Stats): boolean {
  return isOwn(stats) && (getuid === undefined || (stats.mode & 0o022) === 0);
}

/** The nearest folder above a path that is there. */
function above(path: string): Stats {
  const at = dirname(path);
  const stats = statSync(at, { throwIfNoEntry: false });
  return stats ?? above(at);
}

/** Whether a folder is there and can be used. */
export function isUsable({ path }: CacheFolder): boolean {
  const stats = lstatSync(path, { throwIfNoEntry: false });
  return stats?.isDirectory() === true && isOwnAlone(stats);
}

/**
 * Makes a folder, and as many above it, where they are not there; throws where that is not enough. Node's own way of making several never ends on
 * a disk that takes none.
 */
function make(path: string, more: number): void {
  if (more > 0 && statSync(dirname(path), { throwIfNoEntry: false }) === undefined) make(dirname(path), more - 1);
  mkdirSync(path, { mode: 0o700 });
}

/** Makes a folder where it is not there; gives whether it can be used. Nothing is made in another's home. May throw what the disk says. */
export function madeUsable(folder: CacheFolder): boolean {
  const { path, isNamed } = folder;
  if (lstatSync(path, { throwIfNoEntry: false }) === undefined) {
    if (!isNamed && !isOwn(above(path))) return false;
    // Of what is there by the rule of the platform only the last two may be missing: a home is not made.
    make(path, isNamed ? 16 : 1);
  }
  return isUsable(folder);
}

/** The bytes of a file in the folder, where it is an ordinary one that nobody else can write to. Throws where it is not there. */
export function readOwn(path: string, most: number): Buffer | undefined {
  const file = openSync(path, constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0));
  try {
    const stats = fstatSync(file);
    if (!stats.isFile() || !isOwnAlone(stats) || stats.size > most) return undefined;
    const bytes = Buffer.allocUnsafeSlow(stats.size);
    let length = 0;
    while (length < bytes.length) {
      const more = readSync(file, bytes, length, bytes.length - length, length);
      if (more === 0) return undefined;
      length += more;
    }
    return bytes;
  } finally {
    closeSync(file);
  }
}
