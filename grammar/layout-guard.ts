// Whether a layout says what was written: the same texts and comments to the letter, all other words and figures in the same order,
// and declarations that begin where they began. Nothing is parsed for that: what is read of the same words is the same.
import { HIDDEN } from './characters.ts';
import type { Layout, LayoutPiece } from './layout-pieces.ts';
import { lex } from './lexer.ts';
import { isSeam } from './recut.ts';
import type { Section } from './section.ts';
import { cutSections } from './sections.ts';
import { type Doubt, doubtsOf, unclosedTexts } from './texts.ts';
import type { Token } from './tokens.ts';
import * as t from './tokens.ts';
import { usualForm } from './vocabulary.ts';

const plainWord = (token: Token): string => token.image.replace(HIDDEN, '').normalize('NFC');

/** What a token says; several pieces where layout may draw figures apart or together, as in an order. */
function saidBy(token: Token): readonly string[] {
  const { tokenType, payload } = token;
  if (tokenType === t.Word || t.KEYWORD_KINDS.get(payload) === tokenType) return [plainWord(token)];
  if (tokenType === t.TextToken) return [`"${payload}`];
  if (tokenType === t.CountToken) return [`x${Number(payload)}`];
  if (tokenType === t.NumberToken || tokenType === t.OrderToken)
    return payload.split(/(?=[-/ ])|(?<=[-/ ])/).filter((piece) => piece !== ' ');
  return [payload];
}

/** What a stretch of text says, in its order. Comments begin with #. */
function saidIn(text: string): readonly string[] {
  const { tokens, comments } = lex(text, { unclosedTexts: [...unclosedTexts(text)], holes: [] });
  const said: string[] = [];
  let comment = 0;
  const addComments = (before: number): void => {
    for (; (comments[comment]?.start ?? before) < before; comment += 1) said.push(comments[comment]?.text ?? '');
  };
  for (const token of tokens) {
    addComments(token.startOffset);
    said.push(...saidBy(token));
  }
  addComments(text.length);
  return said;
}

/** What a piece of a layout was made of says. A word may take its usual form. */
function saidByItems({ items }: LayoutPiece): readonly string[] {
  return items.flatMap((item): readonly string[] => {
    if (item.kind === 'comment') return [item.text];
    if (item.kind === 'verbatim') return saidIn(item.text);
    const said = saidBy(item.token);
    const [word] = said;
    return said.length === 1 && word !== undefined && usualForm(word) === item.text ? [item.text] : said;
  });
}

const same = (one: readonly unknown[], other: readonly unknown[]): boolean =>
  one.length === other.length && one.every((each, i) => each === other[i]);

/** What was found of a piece that was held against what it is made of. */
interface Held {
  readonly saysIt: boolean;
  /** Whether it is in doubt what in it is a text. */
  readonly isDoubtful: boolean;
}

const held = new WeakMap<LayoutPiece, Held>();

function heldAgainst(piece: LayoutPiece): Held {
  let found = held.get(piece);
  if (found === undefined) {
    found = {
      saysIt: same(saidByItems(piece), saidIn(piece.text)),
      isDoubtful: doubtsOf(piece.text).length > 0,
    };
    held.set(piece, found);
  }
  return found;
}

const flat = (sections: readonly Section[]): readonly Section[] =>
  sections.flatMap((section) => [section, ...flat(section.children)]);

/** Whether two texts are cut into the same declarations, the same things left open in each. */
function cutAlike(before: readonly Section[], after: readonly Section[]): boolean {
  const [one, other] = [flat(before), flat(after)];
  return (
    one.length === other.length &&
    one.every((section, i) => {
      const now = other[i];
      return (
        now !== undefined &&
        section.word === now.word &&
        section.children.length === now.children.length &&
        section.unclosedBraces.length === now.unclosedBraces.length &&
        section.unclosedTexts.length === now.unclosedTexts.length
      );
    })
  );
}

/** A place where both texts can be cut in two, by the numbers of the section and the piece that begin there. */
interface Seam {
  readonly section: number;
  readonly piece: number;
  readonly at: number;
  readonly there: number;
}

/** Where a text and its layout can both be cut in two, and what is before and behind is cut as it is in the whole. */
function seamsOf(text: string, sections: readonly Section[], laidOut: string, { pieces, starts }: Layout): Seam[] {
  const seams: Seam[] = [{ section: 0, piece: 0, at: 0, there: 0 }];
  let section = 0;
  let written = 0;
  for (const [i, piece] of pieces.entries()) {
    const at = starts[i] ?? 0;
    while (section < sections.length && (sections[section]?.start ?? 0) < at) section += 1;
    const begins = sections[section];
    const there = written + (piece.text.startsWith('\n') ? 1 : 0);
    const before = sections[section - 1];
    if (
      begins?.start === at &&
      section > 0 &&
      isSeam(text, at, before, begins) &&
      isSeam(laidOut, there, before, begins)
    )
      seams.push({ section, piece: i, at, there });
    written += piece.text.length;
  }
  seams.push({ section: sections.length, piece: pieces.length, at: text.length, there: laidOut.length });
  return seams;
}

/** Pieces that stood between two seams, and were cut as what they are made of; by the first of them. */
const alike = new WeakMap<LayoutPiece, readonly LayoutPiece[]>();

/** Whether a layout is cut as its text is. Between two seams where nothing but blanks at the ends differs, it is. */
function isCutAlike(text: string, sections: readonly Section[], laidOut: string, layout: Layout): boolean {
  const seams = seamsOf(text, sections, laidOut, layout);
  const isAlike = (seam: Seam, i: number): boolean => {
    const next = seams[i + 1];
    if (next === undefined) return true;
    const now = laidOut.slice(seam.there, next.there);
    if (text.slice(seam.at, next.at).trim() === now.trim()) return true;
    const between = layout.pieces.slice(seam.piece, next.piece);
    const [first] = between;
    if (first !== undefined && same(alike.get(first) ?? [], between)) return true;
    const cut = cutSections(now);
    if (i > 0 && cut[0]?.word === undefined) return false;
    if (!cutAlike(sections.slice(seam.section, next.section), cut)) return false;
    if (first !== undefined) alike.set(first, between);
    return true;
  };
  return seams.every(isAlike) || cutAlike(sections, cutSections(laidOut));
}

/** The lines from where it is in doubt what a text is. */
const doubtful = (text: string, doubts: readonly Doubt[]): readonly string[] =>
  doubts.map(({ start, end }) => (/^.*/.exec(text.slice(start, end))?.[0] ?? '').trimEnd());

/**
 * Whether a layout, whole and in its pieces, says what a text says that is cut into `sections`. A piece that stands as it was written
 * does.
 */
export function saysTheSame(text: string, sections: readonly Section[], laidOut: string, layout: Layout): boolean {
  const { pieces, starts, doubts } = layout;
  const isAsWritten = (piece: LayoutPiece, i: number): boolean =>
    text.slice(starts[i] ?? 0, starts[i + 1] ?? text.length).trim() === piece.text.trim();
  const others = pieces.filter((piece, i) => !isAsWritten(piece, i));
  if (!others.every((piece) => heldAgainst(piece).saysIt)) return false;
  const isCertain = doubts.length === 0 && !others.some((piece) => heldAgainst(piece).isDoubtful);
  if (!isCertain && !same(doubtful(text, doubts), doubtful(laidOut, doubtsOf(laidOut)))) return false;
  return isCutAlike(text, sections, laidOut, layout);
}
