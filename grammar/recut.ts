// Cuts a text into sections again after an edit: only round the edit, where what stands before and after is cut as it was. The
// result is that of cutSections for the whole text.
import { atOnce, type InPieces } from './give-way.ts';
import type { Section } from './section.ts';
import { cutting } from './sections.ts';
import { type Changed, stretchOf, type Written, wholeText } from './written.ts';

/** The sections of a text, wherever they are held. */
export interface CutText {
  readonly length: number;
  readonly count: number;
  section(number: number): Section | undefined;
}

/** The stretch that was cut anew, and how much of what was there before stays round it. */
export interface Cut {
  /** In file offsets. */
  readonly middle: readonly Section[];
  /** How many sections at the front are those of before. */
  readonly front: number;
  /** How many sections at the back are those of before, moved by `by`. */
  readonly back: number;
  readonly by: number;
}

/** How often more of the text is taken in before the whole is cut anew. */
const TRIES = 3;

/** Whether the line before an offset is empty, so that no text in quotes runs over it. */
function afterEmptyLine(text: Written | string, at: number): boolean {
  const before = typeof text === 'string' ? text.slice(Math.max(0, at - 80), at) : stretchOf(text, at - 80, at);
  return /\n[ \t]*\r?\n[ \t]*$/.test(before);
}

function isWhole(section: Section | undefined): boolean {
  return section === undefined || (section.unclosedBraces.length === 0 && section.children.every(isWhole));
}

/**
 * Whether the text can be cut in two before a section: what is before it closes its braces and its texts, and the section is
 * begun by its own word whatever stands before. (`run engine` is why an engine is left out.)
 */
export function isSeam(text: Written | string, at: number, before: Section | undefined, section: Section): boolean {
  return section.word !== undefined && section.word !== 'engine' && isWhole(before) && afterEmptyLine(text, at);
}

/** Whether a section stands at the beginning of a line. */
function beginsLine(text: Written, at: number): boolean {
  const before = stretchOf(text, Math.max(0, at - 80), at).trimEnd();
  return /[\r\n]/.test(stretchOf(text, Math.max(0, at - 80) + before.length, at)) || (before === '' && at <= 80);
}

/** Whether each text in a section is closed in its own line: none of them reaches over where the next section begins, whatever is typed there. */
function isPlain(section: Section | undefined): boolean {
  return (
    section === undefined ||
    (!section.runsOver && section.unclosedTexts.length === 0 && section.children.every(isPlain))
  );
}

/** The number of the last section that begins before an offset, or 0. */
export function lastBefore({ count, section }: Pick<CutText, 'count' | 'section'>, offset: number): number {
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((section(middle)?.start ?? 0) < offset) low = middle;
    else high = middle - 1;
  }
  return Math.max(0, low);
}

/** A section at another place, perhaps with other sections in it. Each field by its name: see the rule for spreads in DEVELOPERS.md. */
export function sectionAt(section: Section, start: number, end: number, children = section.children): Section {
  return {
    word: section.word,
    start,
    end,
    text: section.text,
    children,
    holes: section.holes,
    unclosedBraces: section.unclosedBraces,
    unclosedTexts: section.unclosedTexts,
    runsOver: section.runsOver,
  };
}

/** A section with all in it, so much further on. */
export function moved(section: Section, by: number): Section {
  if (by === 0) return section;
  const children = section.children.length === 0 ? section.children : section.children.map((child) => moved(child, by));
  return sectionAt(section, section.start + by, section.end + by, children);
}

/** Cuts anew only what an edit can have changed. `old` is the earlier text; outside of the stretch `text` is the same. */
export function cutAgain(old: CutText, text: Written, changed: Changed): Cut {
  return atOnce(cuttingAgain(old, text, changed));
}

/** The same in pieces. */
export function* cuttingAgain(old: CutText, text: Written, { start, end, by }: Changed): InPieces<Cut> {
  const whole = function* (): InPieces<Cut> {
    return { middle: yield* cutting(wholeText(text)), front: 0, back: 0, by: 0 };
  };

  /** The last section that was found to keep those behind it, up to another, from being apart from what is before them. */
  let [barredBy, barredTo] = [-1, -1];
  /**
   * Whether a section of the earlier text stands whatever is typed before it though no empty line is: all texts before it in its paragraph
   * are closed in their lines.
   */
  const isApart = (number: number): boolean => {
    if (number > barredBy && number <= barredTo) return false;
    for (let at = number - 1; at >= 0; at -= 1) {
      const section = old.section(at);
      if (!isPlain(section)) {
        [barredBy, barredTo] = [at, number];
        return false;
      }
      if (section !== undefined && section.start < start && afterEmptyLine(text, section.start)) return true;
    }
    return true;
  };
  /** The same of one that stands so much further on now, whose line begins with it. */
  const isApartAt = (section: Section, number: number, shift: number): boolean =>
    section.word !== undefined &&
    section.word !== 'engine' &&
    beginsLine(text, section.start + shift) &&
    isApart(number);

  /** The number of the nearest section at or before one that stands whatever comes before it; 0 where there is none. */
  const seamBefore = (number: number): number => {
    for (let at = number; at > 0; at -= 1) {
      const section = old.section(at);
      if (section === undefined || section.start >= start) continue;
      const before = old.section(at - 1);
      if (isSeam(text, section.start, before, section) || (isWhole(before) && isApartAt(section, at, 0))) return at;
    }
    return 0;
  };
  /** Whether nothing that was cut anew reaches over its end. */
  const endsPlain = (middle: readonly Section[], from: number): boolean => {
    for (let at = middle.length - 1; at >= 0; at -= 1) {
      const section = middle[at] as Section;
      if (!isPlain(section)) return false;
      if (afterEmptyLine(text, from + section.start)) return true;
    }
    return true;
  };

  let front = seamBefore(lastBefore(old, start));
  let next = Math.max(front, lastBefore(old, end)) + (front === 0 ? 0 : 1);
  if (next <= front) next = front + 1;
  /** A text that is left open reaches as far as the next empty line. */
  let isOpen = false;
  for (let tries = 0; tries < TRIES; tries += 1) {
    let needsPlain = false;
    while (next < old.count) {
      const section = old.section(next);
      if (section !== undefined && section.start >= end) {
        if (isSeam(text, section.start + by, undefined, section)) break;
        needsPlain = !isOpen && isApartAt(section, next, by);
        if (needsPlain) break;
      }
      next += 1;
    }
    const from = front === 0 ? 0 : (old.section(front)?.start ?? 0);
    const to = (old.section(next)?.start ?? old.length) + by;
    const middle = yield* cutting(stretchOf(text, from, to));
    // What is cut anew must begin and end as the seams want it. A word that begins a declaration no more has it go on with the one before.
    if (front > 0 && middle[0]?.word === undefined) {
      front = seamBefore(front - 1);
      continue;
    }
    if (needsPlain && !endsPlain(middle, from)) {
      isOpen = true;
      continue;
    }
    if (next >= old.count || (middle.length > 0 && isWhole(middle[middle.length - 1])))
      return {
        middle: middle.map((section) => moved(section, from)),
        front,
        back: old.count - Math.min(next, old.count),
        by,
      };
    // A brace that is still open, as while a declaration is typed: the next declaration closes it by its mere beginning.
    next += 1;
  }
  return yield* whole();
}
