// The heading of a bundle: comment lines that say what it is, what it was made of, and the SHA-256 of what follows. The hash is taken over
// the canonical layout, so that mail that wraps lines and other line ends change nothing. How a bundle is put together is not known here.
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { type LayoutPiece, layoutPieces } from '../../../grammar/layout-pieces.ts';
import { formatText } from '../../../grammar/printer.ts';
import type { Section } from '../../../grammar/section.ts';
import { cutSections } from '../../../grammar/sections.ts';
import type { ReadSection } from '../../model/placed.ts';

const FIRST = '# Bundle: ';
const BEFORE_HASH = '# SHA-256 of all that follows, laid out by fettle format:';
const HASH = /^#[ \t]*([0-9a-f]{64})[ \t]*$/;

const plain = (text: string): string => text.replace(/\r\n?/g, '\n');

const bytesOf = new WeakMap<LayoutPiece, Uint8Array>();

/** The bytes of a piece: worked out once, since most pieces are those of before. */
function bytes(piece: LayoutPiece): Uint8Array {
  let known = bytesOf.get(piece);
  if (known === undefined) {
    known = utf8ToBytes(plain(piece.text));
    bytesOf.set(piece, known);
  }
  return known;
}

/** What stands at an end of the text, without the blanks there. */
function outer(text: string, isFirst: boolean, isLast: boolean): string {
  const begun = isFirst ? text.trimStart() : text;
  return isLast ? begun.trimEnd() : begun;
}

/** How much is hashed between two places from which the hash can be taken up again. Bytes. */
const STRIDE = 4096;

interface Hashing {
  readonly pieces: readonly LayoutPiece[];
  /** The hash of so many of the pieces, in order. */
  readonly marks: readonly { readonly pieces: number; readonly hash: Hash }[];
}

type Hash = ReturnType<typeof sha256.create>;

let lastHashing: Hashing | undefined;

/** The SHA-256 of pieces without the blanks round all of them; what comes before the first new piece is not hashed again. */
function hashOf(pieces: readonly LayoutPiece[]): string {
  const before = lastHashing?.pieces ?? [];
  // The last piece is hashed without its line end.
  const most = Math.min(before.length, pieces.length) - 1;
  let same = 0;
  while (same < most && before[same] === pieces[same]) same += 1;
  const marks = (lastHashing?.marks ?? []).filter((mark) => mark.pieces <= same);
  const mark = marks.at(-1);
  const hash = mark?.hash.clone() ?? sha256.create();
  let since = 0;
  for (let i = mark?.pieces ?? 0; i < pieces.length; i += 1) {
    const piece = pieces[i];
    if (piece === undefined) continue;
    const isLast = i === pieces.length - 1;
    const own = isLast || i === 0 ? utf8ToBytes(outer(plain(piece.text), i === 0, isLast)) : bytes(piece);
    hash.update(own);
    since += own.length;
    if (since < STRIDE || isLast) continue;
    since = 0;
    marks.push({ pieces: i + 1, hash: hash.clone() });
  }
  lastHashing = { pieces, marks };
  return bytesToHex(hash.digest());
}

/** The SHA-256 of the canonical layout of a text from an offset on, with plain line ends, as 64 hexadecimal digits. */
function hashFrom(text: string, sections: readonly Section[], from: number): string {
  return hashOf(layoutPieces(text, sections, from).filter((piece) => piece.text !== ''));
}

/** The SHA-256 of a text's canonical layout, as 64 hexadecimal digits. */
export function contentHash(text: string): string {
  return hashFrom(text, cutSections(text), 0);
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

/** The heading of a bundle whose content is no longer what it was made of; undefined for any other text. */
export function alteredHeading(text: string, sections: readonly ReadSection[]): Heading | undefined {
  const heading = headingOf(text);
  if (heading === undefined) return undefined;
  const own = sections.map(({ section }) => section);
  return hashFrom(text, own, heading.contentAt) === heading.hash ? undefined : heading;
}
