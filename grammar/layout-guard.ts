// Whether a layout says what was written: the same texts and comments to the letter, all other words and figures in the same order,
// and declarations that begin where they began. Nothing is parsed for that: what is read of the same words is the same.
import { HIDDEN } from './characters.ts';
import type { LayoutPiece } from './layout-pieces.ts';
import { lex } from './lexer.ts';
import { cutSections, type Section } from './sections.ts';
import { doubtsOf, unclosedTexts } from './texts.ts';
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

/** Pieces that were held against what they are made of, and whether they say it. */
const held = new WeakMap<LayoutPiece, boolean>();

function saysIt(piece: LayoutPiece): boolean {
  let says = held.get(piece);
  if (says === undefined) {
    says = same(saidByItems(piece), saidIn(piece.text));
    held.set(piece, says);
  }
  return says;
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

/** The lines from where it is in doubt what a text is. */
const doubtful = (text: string): readonly string[] =>
  doubtsOf(text).map(({ start, end }) => (/^.*/.exec(text.slice(start, end))?.[0] ?? '').trimEnd());

/** Whether a layout, whole and in its pieces, says what a text says that is cut into `sections`. */
export function saysTheSame(
  text: string,
  sections: readonly Section[],
  laidOut: string,
  pieces: readonly LayoutPiece[],
): boolean {
  return pieces.every(saysIt) && cutAlike(sections, cutSections(laidOut)) && same(doubtful(text), doubtful(laidOut));
}
