// Where a `use` leads. A path in a spec never leaves the workspace folder, whatever is written in it. Files are addressed by URI.

import { libraryAddress } from './library.ts';

/** An address that has no letter in its path that may be spelled in two ways. */
const PLAIN = /^[A-Za-z][A-Za-z0-9+.-]*:\/\/[^/?#]*\/[A-Za-z0-9/._-]*$/;

/**
 * The one spelling of an address. Editors write the same file in several ways (`(` or `%28`, `C:` or `c%3A`); what a `use` leads to
 * must meet what the editor has open. An address without a path of folders (`untitled:…`) stays as it is.
 */
export function canonical(uri: string): string {
  if (PLAIN.test(uri)) return uri;
  const match = /^([A-Za-z][A-Za-z0-9+.-]*:\/\/[^/?#]*)(\/[^?#]*)(.*)$/s.exec(uri);
  if (match === null) return uri;
  const [, front = '', path = '', back = ''] = match;
  // What is asked for behind a path changes nothing in how that is spelled.
  if (/^[A-Za-z0-9/._-]*$/.test(path)) return uri;
  const segments = path.split('/').map((segment) => {
    try {
      const plain = decodeURIComponent(segment);
      return encodeURIComponent(/^[A-Za-z]:$/.test(plain) ? plain.toLowerCase() : plain);
    } catch {
      return segment;
    }
  });
  return front + segments.join('/') + back;
}

/** The folder part of an address, with its slash. */
function folderOf(uri: string): string {
  return uri.slice(0, uri.lastIndexOf('/') + 1);
}

/** The root that a file belongs to: the innermost open folder round it, else its own folder. Ends with a slash. */
export function rootOf(file: string, roots: readonly string[]): string {
  const round = roots.map((root) => (root.endsWith('/') ? root : `${root}/`)).filter((root) => file.startsWith(root));
  return round.sort((a, b) => b.length - a.length)[0] ?? folderOf(file);
}

/** Whether a text is made of whole letters: half of one (a lone surrogate) has no place in an address. */
function isWellFormed(text: string): boolean {
  return !/\p{Cs}/u.test(text);
}

/**
 * The address that a path leads to from a file; undefined where it has half a letter in it, is absolute, has a scheme, a drive, a backslash or a control
 * character, or leaves the root.
 */
export function resolveUse(from: string, path: string, roots: readonly string[]): string | undefined {
  const library = libraryAddress(path);
  if (library !== undefined) return library;
  if (
    path === '' ||
    path.length > 400 ||
    path.includes('\\') ||
    !isWellFormed(path) ||
    [...path].some((letter) => letter < ' ' || letter === '\u007f') ||
    path.startsWith('/') ||
    /^[A-Za-z][A-Za-z0-9+.-]*:/.test(path)
  )
    return undefined;
  const root = rootOf(from, roots);
  const own = folderOf(from);
  if (!own.startsWith(root)) return undefined;
  const segments = own
    .slice(root.length)
    .split('/')
    .filter((segment) => segment !== '');
  for (const segment of path.split('/')) {
    if (segment === '' || segment === '.') continue;
    if (segment === '..') {
      if (segments.length === 0) return undefined;
      segments.pop();
    } else segments.push(encodeURIComponent(segment).replace(/%2E/gi, '.'));
  }
  return segments.length === 0 ? undefined : root + segments.join('/');
}

/** The last part of an address, as a person reads it. */
export function fileName(uri: string): string {
  const last = uri.slice(uri.lastIndexOf('/') + 1);
  try {
    return decodeURIComponent(last);
  } catch {
    return last;
  }
}
