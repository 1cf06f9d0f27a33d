// The heading of a bundle: comment lines that say what it is, what it was made of, and the SHA-256 of what follows. The hash is taken over
// the canonical layout, so that mail that wraps lines and other line ends change nothing. How a bundle is put together is not known here.
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { layOut } from '../../../grammar/layout.ts';
import { itemsOf } from '../../../grammar/print-items.ts';
import { formatText } from '../../../grammar/printer.ts';

const FIRST = '# Bundle: ';
const BEFORE_HASH = '# SHA-256 of all that follows, laid out by fettle format:';
const HASH = /^#[ \t]*([0-9a-f]{64})[ \t]*$/;

/** The text as its hash sees it: canonical layout, plain line ends. */
function canonical(text: string): string {
  return layOut(itemsOf(text.replace(/^\ufeff/, '').replace(/\r\n?/g, '\n'))).trim();
}

/** The SHA-256 of a text's canonical layout, as 64 hexadecimal digits. */
export function contentHash(text: string): string {
  return bytesToHex(sha256(utf8ToBytes(canonical(text))));
}

/** A bundle: the heading, and what it is about. `name` says what it is, `files` what it was made of. */
export function withHeading(name: string, files: readonly string[], content: string): string {
  const formatted = formatText(content.replace(/\r\n?/g, '\n'));
  const body = `${(formatted.kind === 'formatted' ? formatted.text : content).trim()}\n`;
  return [
    `${FIRST}${name}`,
    '# Made by fettle bundle of',
    ...files.map((file) => `#   ${file}`),
    BEFORE_HASH,
    `# ${contentHash(body)}`,
    '',
    body,
  ].join('\n');
}

/** The hash that the heading of a bundle says, and where it stands; undefined for a text that is no bundle. */
export interface Heading {
  readonly hash: string;
  readonly start: number;
  readonly end: number;
  /** Where the heading ends and what was hashed begins. */
  readonly contentAt: number;
}

/** Whether a text begins as a bundle does; a few dozen characters tell. */
export function beginsAsBundle(text: string): boolean {
  return text.startsWith(FIRST, text.startsWith('\ufeff') ? 1 : 0);
}

export function headingOf(text: string): Heading | undefined {
  if (!beginsAsBundle(text)) return undefined;
  const from = text.startsWith('\ufeff') ? 1 : 0;
  let at = from;
  while (at < text.length) {
    const lineEnd = /\r\n|\r|\n/g;
    lineEnd.lastIndex = at;
    const found = lineEnd.exec(text);
    const end = found?.index ?? text.length;
    const line = text.slice(at, end);
    if (line.trim() !== '' && !line.startsWith('#')) return undefined;
    const hash = HASH.exec(line)?.[1];
    const next = found === null ? text.length : found.index + found[0].length;
    if (hash !== undefined) {
      const start = at + line.indexOf(hash);
      return { hash, start, end: start + hash.length, contentAt: next };
    }
    at = next;
  }
  return undefined;
}

let last: { readonly text: string; readonly altered: Heading | undefined } | undefined;

/** The heading of a bundle whose content is no longer what it was made of; undefined for any other text. Kept for the last text. */
export function alteredHeading(text: string): Heading | undefined {
  const heading = headingOf(text);
  if (heading === undefined) return undefined;
  if (last?.text !== text)
    last = { text, altered: contentHash(text.slice(heading.contentAt)) === heading.hash ? undefined : heading };
  return last.altered;
}
