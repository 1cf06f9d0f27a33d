// Files on this machine's disk, by address. The only place below the entries and the command that knows of a disk.

import { type Dirent, readdirSync, readFileSync, realpathSync, statSync } from 'node:fs';
import { join, sep } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { type Told, told } from '../../grammar/told.ts';
import type { Host } from './api.ts';
import { resolveUse, rootOf } from './paths.ts';

/** Larger than any spec; a file beyond it is not read. */
export const LARGEST = 16 * 1024 * 1024;

export type ReadText = { readonly text: string } | { readonly why: Told };

/** Reads a file as UTF-8 text; says in plain words why it can't. */
export function readText(path: string): ReadText {
  let bytes: Buffer;
  try {
    const about = statSync(path);
    if (about.isDirectory()) return { why: told`is a folder` };
    if (!about.isFile()) return { why: told`is no ordinary file` };
    if (about.size > LARGEST) return { why: told`is larger than ${LARGEST / 1024 / 1024} MB, which no spec is` };
    bytes = readFileSync(path);
  } catch (error) {
    const code = (error as { code?: string }).code;
    return {
      why:
        code === 'ENOENT'
          ? told`is not there`
          : code === 'EACCES'
            ? told`may not be read by you`
            : told`can't be read (${code ?? told`unknown reason`})`,
    };
  }
  if (bytes.includes(0)) return { why: told`is not a text file` };
  try {
    return { text: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes) };
  } catch {
    return { why: told`is not UTF-8 text; save it as UTF-8` };
  }
}

/** The address of a path. */
export function addressOf(path: string): string {
  return pathToFileURL(path).href;
}

/** The path of an address; undefined when it is none of this disk. */
export function pathOf(uri: string): string | undefined {
  try {
    return uri.startsWith('file:') ? fileURLToPath(uri) : undefined;
  } catch {
    return undefined;
  }
}

/** Whether a path stays inside a folder when links are followed. */
export function staysInside(path: string, folder: string): boolean {
  try {
    const [real, root] = [realpathSync(path), realpathSync(folder)];
    return real === root || real.startsWith(root.endsWith(sep) ? root : root + sep);
  } catch {
    return false;
  }
}

/** Reads files of a `use` from disk; none outside the root of the file, links followed. */
export function diskHost(roots: readonly string[]): Host {
  return {
    resolve: (from, path) => resolveUse(from, path, roots),
    read(file) {
      const path = pathOf(file);
      const root = pathOf(rootOf(file, roots));
      if (path === undefined || root === undefined || !staysInside(path, root)) return undefined;
      const read = readText(path);
      return 'text' in read ? read.text : undefined;
    },
  };
}

/**
 * Every `.fettle` file below a folder, in a steady order; hidden folders, node_modules and links are left out. A folder that may
 * not be read is told to `closed`.
 */
export function fettleFilesBelow(
  folder: string,
  closed: (folder: string) => void = () => undefined,
  most = 20_000,
): readonly string[] {
  const found: string[] = [];
  const look = (at: string, depth: number): void => {
    if (depth > 40 || found.length >= most) return;
    let entries: Dirent[];
    try {
      entries = readdirSync(at, { withFileTypes: true });
    } catch {
      closed(at);
      return;
    }
    entries.sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
    for (const entry of entries) {
      if (entry.name.startsWith('.') || entry.name === 'node_modules') continue;
      const path = join(at, entry.name);
      if (entry.isDirectory()) look(path, depth + 1);
      else if (entry.isFile() && entry.name.endsWith('.fettle')) found.push(path);
    }
  };
  look(folder, 0);
  return found;
}
