// Cuts a text into its declarations by the rule for reserved words, without reading what is in them: one light pass. A
// section is the unit of work: it is read, checked and kept by its own text. Steps are sections inside their sequence, changes of a
// base inside their spec.
import { apart, HIDDEN, isBlank, isLineEnd, isOpeningQuote, lineEndFrom, opensComment, wordEnd } from './characters.ts';
import { atOnce, type InPieces, PIECE } from './give-way.ts';
import { findingUnclosed, stretchAt } from './texts.ts';
import { CHANGE_WORDS, CHANGEABLE, RESERVED } from './vocabulary.ts';

/** Stands in a section's own text where one of its children was. */
export const HOLE = '\ufffc';

export interface Section {
  /** The reserved word in its usual form, or that of a change; undefined for text before the first declaration. */
  readonly word: string | undefined;
  /** Offsets in the file. */
  readonly start: number;
  readonly end: number;
  /** The section's own text, with one HOLE for each child. */
  readonly text: string;
  readonly children: readonly Section[];
  /** Own offsets of the holes. */
  readonly holes: readonly number[];
  /** Own offsets of opening braces that nothing closed. */
  readonly unclosedBraces: readonly number[];
  /** Own offsets of the quotes of texts that nothing closed. */
  readonly unclosedTexts: readonly number[];
  /** A text in it, and not in one of its children, runs over a line end. */
  readonly runsOver: boolean;
}

/** The offset in the file of an offset in the section's own text. */
export function toFile(section: Section, own: number): number {
  let at = section.start + own;
  for (let i = 0; i < section.holes.length; i += 1) {
    const hole = section.holes[i];
    const child = section.children[i];
    if (hole === undefined || child === undefined || hole >= own) break;
    at += child.end - child.start - 1;
  }
  return at;
}

interface Draft {
  word: string | undefined;
  start: number;
  end: number;
  parent: Draft | undefined;
  children: Draft[];
  braces: number[];
  runsOver: boolean;
}

interface Brace {
  readonly owner: Draft;
  readonly when: boolean;
  readonly at: number;
}

const HEAD_WORDS = new Set(['of', 'on', 'by', 'each', 'measured', 'within', 'at-least', 'at-most']);
/** Deeper than any engine needs; beyond it nothing begins, and the reader says that it is too deep. */
const DEEPEST = 60;
const initialsOf = (words: ReadonlySet<string>): ReadonlySet<number> =>
  new Set([...words].flatMap((word) => [word.charCodeAt(0), word.toUpperCase().charCodeAt(0)]));
const INITIALS = initialsOf(RESERVED);
const CHANGE_INITIALS = initialsOf(CHANGE_WORDS);

/** Whether a line ends between two offsets. */
function runsOverLine(text: string, from: number, to: number): boolean {
  for (let at = from; at < to; at += 1) if (isLineEnd(text.charCodeAt(at))) return true;
  return false;
}

function skipBlanksAndComments(text: string, from: number): number {
  let at = from;
  for (;;) {
    while (at < text.length && isBlank(text.charCodeAt(at))) at += 1;
    if (!opensComment(text, at)) return at;
    at = lineEndFrom(text, at);
  }
}

/** A word in small letters, without the characters of no width that may hide in it. */
function plainWord(text: string, start: number, end: number): string {
  return text.slice(start, end).replace(HIDDEN, '').toLowerCase();
}

const SMALL_LETTERS = /^[a-z0-9_-]+$/;

/** Whether a word is one of some, which are in small letters, as it is written most often. */
function isOneOf(words: ReadonlySet<string>, text: string, start: number, end: number): boolean {
  const written = text.slice(start, end);
  return words.has(written) || (!SMALL_LETTERS.test(written) && words.has(plainWord(written, 0, written.length)));
}

function isReserved(text: string, start: number, end: number): boolean {
  return end - start <= 24 && INITIALS.has(text.charCodeAt(start)) && isOneOf(RESERVED, text, start, end);
}

/** Whether what follows a reserved word inside an open brace is the head of a declaration. */
function headFollows(text: string, word: string, after: number): boolean {
  let at = skipBlanksAndComments(text, after);
  const first = text.charCodeAt(at);
  if (first === 123) return true;
  if (word === 'engine') return false;
  if (isOpeningQuote(first)) return true;
  const nameEnd = wordEnd(text, at);
  if (nameEnd === at || isReserved(text, at, nameEnd)) return false;
  at = skipBlanksAndComments(text, nameEnd);
  if (at >= text.length) return true;
  const next = text.charCodeAt(at);
  if (next === 123 || next === 61 || isOpeningQuote(next)) return true;
  if (next === 0xd7) return true;
  const end = wordEnd(text, at);
  if (end === at) return false;
  const following = plainWord(text, at, end);
  return /^x\d+$/.test(following) || HEAD_WORDS.has(following) || RESERVED.has(following);
}

/** Where the reserved word ends that follows `change`, `drop` or `insert`; undefined for any other word, and before any other. */
function changedEnd(text: string, start: number, end: number): number | undefined {
  if (end - start > 12 || text.charCodeAt(start - 1) === 46) return undefined;
  if (!isOneOf(CHANGE_WORDS, text, start, end)) return undefined;
  const from = skipBlanksAndComments(text, end);
  const to = wordEnd(text, from);
  return isReserved(text, from, to) && CHANGEABLE.has(plainWord(text, from, to)) ? to : undefined;
}

/** Where the name ends of what is dropped; the engine has none. */
function droppedEnd(text: string, after: number): number {
  if (/engine$/i.test(text.slice(after - 6, after))) return after;
  const from = skipBlanksAndComments(text, after);
  const to = wordEnd(text, from);
  return to === from || isReserved(text, from, to) ? after : to;
}

/**
 * Cuts a text into sections. Any text can be cut; the cut depends on the text alone.
 */
export function cutSections(text: string): readonly Section[] {
  return atOnce(cutting(text));
}

/** The same in pieces. */
export function* cutting(text: string): InPieces<readonly Section[]> {
  const unclosed = yield* findingUnclosed(text);
  const draft = (word: string | undefined, start: number, parent: Draft | undefined): Draft => ({
    word,
    start,
    end: text.length,
    parent,
    children: [],
    braces: [],
    runsOver: false,
  });
  const root = draft(undefined, 0, undefined);
  const preamble = draft(undefined, 0, root);
  let current = preamble;
  let preambleHasText = false;
  let stack: Brace[] = [];
  let pendingWhen = false;
  /** Whether the last word was `run`, with nothing but blanks and comments since. */
  let afterRun = false;
  let at = 0;

  const endUpTo = (parent: Draft, end: number): void => {
    for (let draft: Draft | undefined = current; draft !== undefined && draft !== parent; draft = draft.parent)
      draft.end = end;
  };
  const begin = (word: string, start: number): void => {
    let keep = 0;
    while (isOuterWhen(stack[keep])) keep += 1;
    if (word === 'step') {
      const sequence = stack.findIndex((brace) => brace.owner.word === 'sequence' && !brace.when);
      if (sequence >= 0) {
        keep = sequence + 1;
        while (stack[keep]?.when === true) keep += 1;
      }
    }
    for (const brace of stack.slice(keep)) brace.owner.braces.push(brace.at);
    stack = stack.slice(0, keep);
    const parent = stack[keep - 1]?.owner ?? root;
    endUpTo(parent, start);
    current = draft(word, start, parent);
    parent.children.push(current);
    pendingWhen = false;
  };

  /** The spec at hand, where its braces are not there. */
  const specAtHand = (): Draft | undefined => {
    const at = CHANGE_WORDS.has(current.word ?? '') ? current.parent : current;
    return at?.word === 'spec' ? at : undefined;
  };
  /** How many braces stay open where a change begins: those of its spec, and a `when` in it. Undefined outside a spec. */
  const bracesOfSpec = (): number | undefined => {
    const spec = stack.findIndex((brace) => brace.owner.word === 'spec' && !brace.when);
    if (spec < 0) return specAtHand() !== undefined && stack.every(isOuterWhen) ? stack.length : undefined;
    let keep = spec + 1;
    while (stack[keep]?.owner === stack[spec]?.owner) keep += 1;
    return keep;
  };
  const beginChange = (word: string, start: number, keep: number): void => {
    for (const brace of stack.slice(keep)) brace.owner.braces.push(brace.at);
    stack = stack.slice(0, keep);
    const top = stack[keep - 1]?.owner;
    const parent = top === undefined || top.word === 'when' ? (specAtHand() ?? current) : top;
    endUpTo(parent, start);
    current = draft(word, start, parent);
    parent.children.push(current);
    pendingWhen = false;
  };
  /** A change without braces ends where a `when` of its spec begins. */
  const endChange = (end: number): void => {
    if (!CHANGE_WORDS.has(current.word ?? '') || stack.some((brace) => brace.owner === current)) return;
    const { parent } = current;
    if (parent === undefined) return;
    current.end = end;
    current = parent;
  };

  let pause = PIECE;
  while (at < text.length) {
    if (at >= pause) {
      pause = at + PIECE;
      yield;
    }
    const code = text.charCodeAt(at);
    if (isBlank(code)) {
      at += 1;
      continue;
    }
    const stretch = stretchAt(text, at, unclosed);
    if (stretch !== undefined) {
      // What is no usual comment is said, and so belongs to a section.
      if (current === preamble && code !== 35) preambleHasText = true;
      if (stretch.kind === 'text') {
        afterRun = false;
        current.runsOver ||= runsOverLine(text, at, stretch.end);
      }
      at = stretch.end;
      continue;
    }
    const end = wordEnd(text, at);
    if (end > at) {
      const changed = CHANGE_INITIALS.has(code) ? changedEnd(text, at, end) : undefined;
      const keep = changed === undefined || stack.length >= DEEPEST ? undefined : bracesOfSpec();
      if (keep !== undefined && changed !== undefined) {
        const word = plainWord(text, at, end);
        beginChange(word, at, keep);
        afterRun = false;
        at = changed;
        if (word !== 'drop') continue;
        at = droppedEnd(text, changed);
        endChange(at);
        continue;
      }
      if (
        stack.length < DEEPEST &&
        isReserved(text, at, end) &&
        text.charCodeAt(at - 1) !== 46 &&
        text.charCodeAt(end) !== 47
      ) {
        const word = plainWord(text, at, end);
        const outside = stack.every(isOuterWhen);
        if (word === 'when' && !outside) {
          endChange(at);
          pendingWhen = true;
        } else if (outside ? !(word === 'engine' && engineAsPart(text, end, afterRun)) : headFollows(text, word, end))
          begin(word, at);
      }
      if (current === preamble) preambleHasText = true;
      afterRun = (code === 114 || code === 82) && end - at < 12 && plainWord(text, at, end) === 'run';
      at = end;
      continue;
    }
    afterRun = false;
    if (current === preamble) preambleHasText = true;
    if (code === 123) {
      stack.push({ owner: current, when: pendingWhen, at });
    } else if (code === 125) {
      const top = stack.pop();
      if (top !== undefined && top.owner !== current) {
        endUpTo(top.owner, at);
        current = top.owner;
      }
      const outer = current.parent;
      if (
        outer !== undefined &&
        outer !== root &&
        !stack.some((brace) => brace.owner === current) &&
        top !== undefined
      ) {
        // What follows the braces of a step, of a change, or of a declaration inside a `when`, belongs to what is round it.
        current.end = at + 1;
        current = outer;
      }
    }
    if (code !== 44) pendingWhen = false;
    at += 1;
  }
  for (const brace of stack) brace.owner.braces.push(brace.at);
  const drafts = preambleHasText ? [preamble, ...root.children] : root.children;
  const rising = [...unclosed].sort((a, b) => a - b);
  const sections: Section[] = [];
  for (const draft of drafts) {
    sections.push(yield* finishing(text, draft, rising));
    yield;
  }
  return sections;
}

function isOuterWhen(brace: Brace | undefined): boolean {
  return brace !== undefined && brace.owner.word === 'when' && !brace.when;
}

/** `engine.squish` and `run engine at …` name the engine; they don't declare it. */
function engineAsPart(text: string, end: number, afterRun: boolean): boolean {
  if (text.charCodeAt(end) === 46) return true;
  const next = skipBlanksAndComments(text, end);
  const following = text.slice(next, wordEnd(text, next)).toLowerCase();
  return following === 'at' || following === 'for' || afterRun;
}

/** How many of rising offsets are below one. */
function countBelow(rising: readonly number[], offset: number): number {
  let low = 0;
  let high = rising.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((rising[middle] ?? 0) < offset) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The section of a draft, and those in it. `unclosed` are the quotes of the whole text whose text is not closed, in order. */
function* finishing(text: string, draft: Draft, unclosed: readonly number[]): InPieces<Section> {
  const children: Section[] = [];
  for (const child of draft.children) {
    children.push(yield* finishing(text, child, unclosed));
    yield;
  }
  const holes: number[] = [];
  const own: string[] = [];
  /** Where each child ends, and by how much what is behind it stands nearer to the start in the own text. */
  const ends: number[] = [];
  const shifts: number[] = [];
  const unclosedHere: number[] = [];
  let shift = draft.start;
  let from = draft.start;
  const takeUpTo = (to: number): void => {
    own.push(text.slice(from, to));
    const first = countBelow(unclosed, from);
    for (let i = first; i < unclosed.length && (unclosed[i] ?? 0) < to; i += 1)
      unclosedHere.push((unclosed[i] ?? 0) - shift);
  };
  for (const child of children) {
    takeUpTo(child.start);
    holes.push(child.start - shift);
    own.push(HOLE);
    shift += child.end - child.start - 1;
    from = child.end;
    ends.push(child.end);
    shifts.push(shift);
  }
  takeUpTo(draft.end);
  const toOwn = (at: number): number => at - (shifts[countBelow(ends, at + 1) - 1] ?? draft.start);
  return {
    word: draft.word,
    start: draft.start,
    end: draft.end,
    text: apart(own.join('')),
    children,
    holes,
    unclosedBraces: draft.braces.map(toOwn),
    unclosedTexts: unclosedHere,
    runsOver: draft.runsOver,
  };
}
