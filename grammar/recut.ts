// Cuts a text into sections again after an edit: only round the edit, where what stands before and after is cut as it was. The
// result is that of cutSections for the whole text.
import { cutSections, type Section } from './sections.ts';

export interface CutText {
  readonly text: string;
  readonly sections: readonly Section[];
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

export interface Recut {
  readonly sections: readonly Section[];
  /** How many sections at the front are those of before, the same objects. */
  readonly front: number;
  /** How many sections at the back are those of before, moved by the difference in length. */
  readonly back: number;
}

const STRIDE = 4096;

function commonStart(one: string, other: string): number {
  const most = Math.min(one.length, other.length);
  let at = 0;
  while (at + STRIDE <= most && one.slice(at, at + STRIDE) === other.slice(at, at + STRIDE)) at += STRIDE;
  while (at < most && one.charCodeAt(at) === other.charCodeAt(at)) at += 1;
  return at;
}

function commonEnd(one: string, other: string, most: number): number {
  const [a, b] = [one.length, other.length];
  let length = 0;
  while (
    length + STRIDE <= most &&
    one.slice(a - length - STRIDE, a - length) === other.slice(b - length - STRIDE, b - length)
  )
    length += STRIDE;
  while (length < most && one.charCodeAt(a - length - 1) === other.charCodeAt(b - length - 1)) length += 1;
  return length;
}

/** The stretch of an earlier text that gave way to another, which is longer by `by`. */
export interface Changed {
  readonly start: number;
  readonly end: number;
  readonly by: number;
}

export function changedStretch(before: string, text: string): Changed {
  const start = commonStart(before, text);
  const end = before.length - commonEnd(before, text, Math.min(before.length, text.length) - start);
  return { start, end, by: text.length - before.length };
}

/** Whether the line before an offset is empty, so that no text in quotes runs over it. */
function afterEmptyLine(text: string, at: number): boolean {
  return /\n[ \t]*\r?\n[ \t]*$/.test(text.slice(Math.max(0, at - 80), at));
}

function isWhole(section: Section | undefined): boolean {
  return section === undefined || (section.unclosedBraces.length === 0 && section.children.every(isWhole));
}

/**
 * Whether the text can be cut in two before a section: what is before it closes its braces and its texts, and the section is
 * begun by its own word whatever stands before. (`run engine` is why an engine is left out.)
 */
function isSeam(text: string, at: number, before: Section | undefined, section: Section): boolean {
  return section.word !== undefined && section.word !== 'engine' && isWhole(before) && afterEmptyLine(text, at);
}

/** The number of the last section that begins before an offset, or 0. */
export function lastBefore(sections: readonly Section[], offset: number): number {
  let low = 0;
  let high = sections.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((sections[middle]?.start ?? 0) < offset) low = middle;
    else high = middle - 1;
  }
  return Math.max(0, low);
}

/** A section with all in it, so much further on. */
export function moved(section: Section, by: number): Section {
  if (by === 0) return section;
  const children = section.children.length === 0 ? section.children : section.children.map((child) => moved(child, by));
  return { ...section, start: section.start + by, end: section.end + by, children };
}

/** The sections of a text, with those of an earlier text to go by. */
export function recut(before: CutText, text: string): Recut {
  const { middle, front, back, by } = cutAgain(before, text);
  const old = before.sections;
  return {
    sections: [...old.slice(0, front), ...middle, ...old.slice(old.length - back).map((section) => moved(section, by))],
    front,
    back,
  };
}

/** Cuts anew only what an edit can have changed. */
export function cutAgain(before: CutText, text: string): Cut {
  const old = before.sections;
  const whole = (): Cut => ({ middle: cutSections(text), front: 0, back: 0, by: 0 });
  const { start, end, by } = changedStretch(before.text, text);

  let front = lastBefore(old, start);
  while (front > 0) {
    const section = old[front];
    if (section !== undefined && section.start < start && isSeam(text, section.start, old[front - 1], section)) break;
    front -= 1;
  }
  const first = old[front];
  if (front <= 0 || first === undefined) front = 0;
  const from = front === 0 ? 0 : (first?.start ?? 0);

  let next = Math.max(front, lastBefore(old, end)) + (front === 0 ? 0 : 1);
  if (next <= front) next = front + 1;
  while (next < old.length) {
    const section = old[next];
    if (section !== undefined && section.start >= end && isSeam(text, section.start + by, undefined, section)) break;
    next += 1;
  }
  const to = (old[next]?.start ?? before.text.length) + by;
  const middle = cutSections(text.slice(from, to));
  // What is cut anew must begin and end as the seams want it.
  if (front > 0 && middle[0]?.word === undefined) return whole();
  if (next < old.length && (middle.length === 0 || !isWhole(middle[middle.length - 1]))) return whole();
  return {
    middle: middle.map((section) => moved(section, from)),
    front,
    back: old.length - Math.min(next, old.length),
    by,
  };
}
