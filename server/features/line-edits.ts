// The lines that differ between two texts, as edits: each stretch by itself, so that cursors, folds and marks elsewhere stay.
import type { LineSeam } from '../../grammar/layout-pieces.ts';
import { changedString } from '../../grammar/written.ts';

export interface LineEdit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

interface Lines {
  readonly lines: readonly string[];
  readonly from: number;
  readonly to: number;
}

/** Where a line stands that is not there, or more than once. */
const NOWHERE = -1;
const SEVERAL = -2;

/** Pairs of lines, one of each stretch. */
type Pairs = readonly (readonly [number, number])[];

/** The lines that stand once in both stretches, in the order of the first. */
function onceInBoth(before: Lines, after: Lines): Pairs {
  const numbers = new Map<string, number>();
  const own: number[] = [];
  const other: number[] = [];
  for (let i = before.from; i < before.to; i += 1) {
    const line = before.lines[i] ?? '';
    const number = numbers.get(line);
    if (number === undefined) {
      numbers.set(line, own.length);
      own.push(i);
      other.push(NOWHERE);
    } else own[number] = SEVERAL;
  }
  for (let i = after.from; i < after.to; i += 1) {
    const number = numbers.get(after.lines[i] ?? '');
    if (number !== undefined) other[number] = other[number] === NOWHERE ? i : SEVERAL;
  }
  const pairs: (readonly [number, number])[] = [];
  for (const [number, i] of own.entries()) {
    const there = other[number] ?? NOWHERE;
    if (i >= 0 && there >= 0) pairs.push([i, there]);
  }
  return pairs;
}

/** Those lines, paired in an order that rises in both. */
function anchors(before: Lines, after: Lines): Pairs {
  const pairs = onceInBoth(before, after);
  // The longest rising run (patience sorting).
  const tops: number[] = [];
  const back: number[] = [];
  for (const [i, [, other]] of pairs.entries()) {
    let low = 0;
    let high = tops.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((pairs[tops[middle] ?? 0]?.[1] ?? 0) < other) low = middle + 1;
      else high = middle;
    }
    back[i] = low > 0 ? (tops[low - 1] ?? -1) : -1;
    tops[low] = i;
  }
  const run: (readonly [number, number])[] = [];
  for (let i = tops[tops.length - 1] ?? -1; i >= 0; i = back[i] ?? -1) {
    const pair = pairs[i];
    if (pair !== undefined) run.push(pair);
  }
  return run.reverse();
}

function walk(before: Lines, after: Lines, out: (readonly [Lines, Lines])[]): void {
  let { from: a, to: aEnd } = before;
  let { from: b, to: bEnd } = after;
  while (a < aEnd && b < bEnd && before.lines[a] === after.lines[b]) {
    a += 1;
    b += 1;
  }
  while (a < aEnd && b < bEnd && before.lines[aEnd - 1] === after.lines[bEnd - 1]) {
    aEnd -= 1;
    bEnd -= 1;
  }
  if (a === aEnd && b === bEnd) return;
  const left = { ...before, from: a, to: aEnd };
  const right = { ...after, from: b, to: bEnd };
  const fixed = anchors(left, right);
  if (fixed.length === 0) {
    if (aEnd - a === bEnd - b)
      for (let i = 0; i < aEnd - a; i += 1) {
        if (before.lines[a + i] !== after.lines[b + i])
          out.push([
            { ...before, from: a + i, to: a + i + 1 },
            { ...after, from: b + i, to: b + i + 1 },
          ]);
      }
    else out.push([left, right]);
    return;
  }
  let [fromA, fromB] = [a, b];
  for (const [i, j] of [...fixed, [aEnd, bEnd] as const]) {
    if (fromA < i || fromB < j) walk({ ...before, from: fromA, to: i }, { ...after, from: fromB, to: j }, out);
    [fromA, fromB] = [i + 1, j + 1];
  }
}

function linesOf(text: string): readonly string[] {
  const lines: string[] = [];
  for (let at = 0; at < text.length; ) {
    const end = text.indexOf('\n', at) + 1 || text.length;
    lines.push(text.slice(at, end));
    at = end;
  }
  return lines;
}

/** Edits of `before`, which stands at an offset, that make it `after`. */
function editsBetween(before: string, after: string, offset: number): readonly LineEdit[] {
  if (before === after) return [];
  // The lines before the first that differs and behind the last are left out.
  const changed = changedString(before, after);
  const from = changed.start === 0 ? 0 : before.lastIndexOf('\n', changed.start - 1) + 1;
  const to = before.indexOf('\n', changed.end) + 1 || before.length;
  const old = linesOf(before.slice(from, to));
  const now = linesOf(after.slice(from, to + changed.by));
  const starts = [offset + from];
  for (const line of old) starts.push((starts[starts.length - 1] ?? 0) + line.length);
  const out: (readonly [Lines, Lines])[] = [];
  walk({ lines: old, from: 0, to: old.length }, { lines: now, from: 0, to: now.length }, out);
  return out.map(([left, right]) => ({
    start: starts[left.from] ?? offset + to,
    end: starts[left.to] ?? offset + to,
    text: right.lines.slice(right.from, right.to).join(''),
  }));
}

/**
 * Edits of `before`, by place, that make it `after`. Where lines begin in both that belong together (`seams`), the two are held against
 * each other from one such place to the next.
 */
export function lineEdits(before: string, after: string, seams: readonly LineSeam[] = []): readonly LineEdit[] {
  const edits: LineEdit[] = [];
  let [from, fromAfter] = [0, 0];
  for (const [to, toAfter] of [...seams, [before.length, after.length] as const]) {
    for (const edit of editsBetween(before.slice(from, to), after.slice(fromAfter, toAfter), from)) {
      const last = edits[edits.length - 1];
      // What is put in where the next edit begins is part of that one: of two at one place it is not plain which comes first.
      if (last?.start === edit.start) edits[edits.length - 1] = { ...edit, text: last.text + edit.text };
      else edits.push(edit);
    }
    [from, fromAfter] = [to, toAfter];
  }
  return edits;
}
