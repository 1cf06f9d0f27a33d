// Cuts a text into its declarations by the rule for reserved words, without reading what is in them: one light pass. A
// section is the unit of work: it is read, checked and kept by its own text. Steps are sections inside their sequence, changes of a
// base inside their spec.
import { isBlank, isLineEnd, isPlainLetter, wordEnd } from './characters.ts';
import { atOnce, type InPieces, PIECE } from './give-way.ts';
import type { Section } from './section.ts';
import {
  begin,
  beginChange,
  bracesOfSpec,
  closeBrace,
  type Drafting,
  drafting,
  endChange,
  finished,
  isOutside,
  noteText,
  openBrace,
} from './section-drafts.ts';
import {
  CHANGE_INITIALS,
  changedEnd,
  droppedEnd,
  engineAsPart,
  headFollows,
  isReserved,
  plainWord,
} from './section-heads.ts';
import { findingUnclosed, stretchAt } from './texts.ts';

/** Deeper than any engine needs; beyond it nothing begins, and the reader says that it is too deep. */
const DEEPEST = 60;

const HASH = 35;
const DOT = 46;
const SLASH = 47;
const COMMA = 44;
const OPENING = 123;
const CLOSING = 125;

/** Whether a line ends between two offsets. */
function runsOverLine(text: string, from: number, to: number): boolean {
  for (let at = from; at < to; at += 1) if (isLineEnd(text.charCodeAt(at))) return true;
  return false;
}

/**
 * Cuts a text into sections. Any text can be cut; the cut depends on the text alone.
 */
export function cutSections(text: string): readonly Section[] {
  return atOnce(cutting(text));
}

/** Where a change begins with the word that ends at `end`: gives how far it is cut then. Undefined for any other word. */
function changeAt(on: Drafting, at: number, end: number): number | undefined {
  const { text } = on;
  const changed = on.stack.length >= DEEPEST ? undefined : changedEnd(text, at, end);
  const keep = changed === undefined ? undefined : bracesOfSpec(on);
  if (changed === undefined || keep === undefined) return undefined;
  const word = plainWord(text, at, end);
  beginChange(on, word, at, keep);
  if (word !== 'drop') return changed;
  const dropped = droppedEnd(text, changed);
  endChange(on, dropped);
  return dropped;
}

/**
 * A declaration, or a `when` in one, begins with the reserved word that ends at `end`, where it may: not with `engine.squish`, nor with `part/missing`.
 */
function declarationAt(on: Drafting, at: number, end: number, afterRun: boolean): void {
  const { text, stack } = on;
  if (stack.length >= DEEPEST || text.charCodeAt(at - 1) === DOT || text.charCodeAt(end) === SLASH) return;
  const word = plainWord(text, at, end);
  const outside = isOutside(on);
  if (word === 'when' && !outside) {
    endChange(on, at);
    on.pendingWhen = true;
  } else if (outside ? !(word === 'engine' && engineAsPart(text, end, afterRun)) : headFollows(text, word, end))
    begin(on, word, at);
}

/** Both cases of r. */
const INITIALS_OF_RUN = new Set([82, 114]);
/** Whether a word is `run`. */
const isRun = (text: string, at: number, end: number): boolean => end - at < 12 && plainWord(text, at, end) === 'run';

/** The same in pieces. */
export function* cutting(text: string): InPieces<readonly Section[]> {
  const unclosed = yield* findingUnclosed(text);
  const on = drafting(text);
  /** Whether the last word was `run`, with nothing but blanks and comments since. */
  let afterRun = false;
  let at = 0;
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
    const stretch = isPlainLetter(code) ? undefined : stretchAt(text, at, unclosed);
    if (stretch !== undefined) {
      // What is no usual comment is said, and so belongs to a section.
      if (code !== HASH) noteText(on);
      if (stretch.kind === 'text') {
        afterRun = false;
        on.current.runsOver ||= runsOverLine(text, at, stretch.end);
      }
      at = stretch.end;
      continue;
    }
    const end = wordEnd(text, at);
    if (end > at) {
      const changed = CHANGE_INITIALS.has(code) ? changeAt(on, at, end) : undefined;
      if (changed !== undefined) {
        afterRun = false;
        at = changed;
        continue;
      }
      if (isReserved(text, at, end)) declarationAt(on, at, end, afterRun);
      noteText(on);
      afterRun = INITIALS_OF_RUN.has(code) && isRun(text, at, end);
      at = end;
      continue;
    }
    afterRun = false;
    noteText(on);
    if (code === OPENING) openBrace(on, at);
    else if (code === CLOSING) closeBrace(on, at);
    if (code !== COMMA) on.pendingWhen = false;
    at += 1;
  }
  return yield* finished(on, unclosed);
}
