// Which characters count as what: blanks, quotes, dashes, characters that nobody sees. Shared by the cutting of a text
// into sections and by the lexer, so that both see the same words and texts.

/** Blanks of every kind, line ends included, and characters of no width that are read over. */
export function isBlank(code: number): boolean {
  return (
    code === 32 ||
    (code >= 9 && code <= 13) ||
    code === 0xa0 ||
    code === 0x85 ||
    code === 0x1680 ||
    (code >= 0x2000 && code <= 0x200b) ||
    code === 0x2028 ||
    code === 0x2029 ||
    code === 0x202f ||
    code === 0x205f ||
    code === 0x2060 ||
    code === 0x3000 ||
    code === 0xfeff
  );
}

/** A carriage return, line feed or one of the two Unicode line ends. */
export function isLineEnd(code: number): boolean {
  return code === 10 || code === 13 || code === 0x2028 || code === 0x2029;
}

export function isDigit(code: number): boolean {
  return code >= 48 && code <= 57;
}

/** A letter as most words begin with. A text, a comment, a figure or a sign never begins with one. */
export function isPlainLetter(code: number): boolean {
  return (code >= 97 && code <= 122) || (code >= 65 && code <= 90);
}

/** A quote that may open a text: straight, curly or low. */
export function isOpeningQuote(code: number): boolean {
  return code === 34 || code === 0x201c || code === 0x201d || code === 0x201e || code === 0x201f;
}

/** Whether `code` closes a text that `opening` opened. A straight quote is closed by a straight one alone. */
export function closesText(opening: number, code: number): boolean {
  if (code === 34) return true;
  if (opening === 34) return false;
  return code === 0x201d || (opening === 0x201e && code === 0x201c);
}

/** Offset of the end of the line that holds `from` (its line end, or the end of the text). */
export function lineEndFrom(text: string, from: number): number {
  let at = from;
  while (at < text.length && !isLineEnd(text.charCodeAt(at))) at += 1;
  return at;
}

/** Whether a comment begins at an offset: `#`, or `//`, which is one as well and is said to be written otherwise. */
export function opensComment(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  return code === 35 || (code === 47 && text.charCodeAt(at + 1) === 47);
}

/** Whether the line after the line end at `at` is empty (blanks alone, or the end of the text). */
export function isEmptyLineAfter(text: string, at: number): boolean {
  let next = at + 1;
  if (text.charCodeAt(at) === 13 && text.charCodeAt(next) === 10) next += 1;
  while (next < text.length) {
    const code = text.charCodeAt(next);
    if (isLineEnd(code)) return true;
    if (!isBlank(code)) return false;
    next += 1;
  }
  return true;
}

/** Characters of no width, soft hyphens and direction marks that may hide inside a word. */
export const HIDDEN = /[\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufeff]/gu;
/** Those of them that are worth a finding: they change what is seen. */
export const MISLEADING = /[\u00ad\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu;
/** Direction overrides, which have no place in a text or comment either. */
export const OVERRIDES = /[\u202a-\u202e\u2066-\u2069]/gu;

/** Control characters but tabs and line ends, marks that turn a line round, and what XML may not hold. */
const MOVING = /(?![\t\n\r])[\p{Cc}\p{Cs}\ufffe\uffff\u202a-\u202e\u2066-\u2069]/gu;

/**
 * A page or a picture with a mark in place of each character that would be obeyed and not seen: with one in a title, a torque of 25 is read
 * as 52. All that is rendered goes through here.
 */
export function nothingMoved(page: string): string {
  return page.replace(MOVING, '\ufffd');
}

const WORD =
  /[\p{L}\p{Nl}](?:[\p{L}\p{M}\p{N}\u00ad\u200b-\u200f\u2060-\u2064\ufeff]*)(?:[-_](?=[\p{L}\p{N}])[\p{L}\p{M}\p{N}\u00ad\u200b-\u200f\u2060-\u2064\ufeff]*)*/uy;

function isAsciiWord(code: number): boolean {
  return (code >= 97 && code <= 122) || (code >= 65 && code <= 90) || (code >= 48 && code <= 57);
}

/** End of the word that starts at `at`, or `at` when none does. */
export function wordEnd(text: string, at: number): number {
  const first = text.charCodeAt(at);
  if (first < 128 && !((first >= 97 && first <= 122) || (first >= 65 && first <= 90))) return at;
  let end = at;
  if (first < 128) {
    for (end = at + 1; end < text.length; end += 1) {
      const code = text.charCodeAt(end);
      if (isAsciiWord(code)) continue;
      if ((code === 45 || code === 95) && isAsciiWord(text.charCodeAt(end + 1))) continue;
      break;
    }
    const after = text.charCodeAt(end);
    const beyond = text.charCodeAt(end + 1);
    if (!(after >= 128) && !((after === 45 || after === 95) && beyond >= 128)) return end;
  }
  WORD.lastIndex = at;
  const match = WORD.exec(text);
  return match === null ? at : at + match[0].length;
}

const WORD_CHARACTER = /[\p{L}\p{M}\p{N}\u00ad\u200c-\u200f\u2061-\u2064]/u;

/** Whether the character before an offset can belong to a word: a letter, a figure, or one of no width that hides among them. */
function isWordBefore(text: string, at: number): boolean {
  const code = text.charCodeAt(at - 1);
  if (code < 128) return isAsciiWord(code);
  const isLow = code >= 0xdc00 && code <= 0xdfff;
  return WORD_CHARACTER.test(text.slice(at - (isLow ? 2 : 1), at));
}

/** Whether a vulgar fraction, ¼ to ¾ or ⅐ to ⅞. */
const isFraction = (code: number): boolean => (code >= 0xbc && code <= 0xbe) || (code >= 0x2150 && code <= 0x215e);

/** What may follow a figure with its unit: nothing, a blank, or a sign. With anything else straight after it a quote opens a text. */
function endsFigure(text: string, at: number): boolean {
  return at >= text.length || isBlank(text.charCodeAt(at)) || /[)},;.:/*×+\-−–±={#]/u.test(text[at] ?? '');
}

/**
 * True when a quote at `at` is an inch mark and opens no text: it stands straight after a figure that is no part of a name or a count
 * (`p2"`, `x4"`), and what follows is no beginning of a text. Looks at characters next to it alone, all of them on one side of whatever
 * a text is cut at, so that it is the same in the whole text and in a section's own.
 */
export function isInchMark(text: string, at: number): boolean {
  const isFigure = (code: number): boolean => isDigit(code) || isFraction(code);
  if (!isFigure(text.charCodeAt(at - 1)) || !endsFigure(text, at + 1)) return false;
  let start = at - 1;
  for (;;) {
    const before = text.charCodeAt(start - 1);
    const isHyphen = (before === 45 || before === 95) && isWordBefore(text, start - 1);
    if (!isFigure(before) && !isHyphen) return !(isWordBefore(text, start) || before === 0xd7);
    start -= 1;
  }
}

/**
 * The same text, held by itself. A stretch of a long text keeps all of that alive as long as it is kept: what outlives its text is
 * copied out of it.
 */
export function apart(text: string): string {
  return text.length < 2 ? text : [text.slice(0, 1), text.slice(1)].join('');
}
