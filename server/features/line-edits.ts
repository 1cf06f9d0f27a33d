// The lines that differ between two texts, as edits: each stretch by itself, so that cursors, folds and marks elsewhere stay.
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

/** The lines that stand once in both stretches, paired in an order that rises in both. */
function anchors(before: Lines, after: Lines): readonly (readonly [number, number])[] {
  const once = ({ lines, from, to }: Lines): ReadonlyMap<string, number> => {
    const places = new Map<string, number>();
    for (let i = from; i < to; i += 1) places.set(lines[i] ?? '', places.has(lines[i] ?? '') ? -1 : i);
    return places;
  };
  const there = once(after);
  const pairs = [...once(before)].flatMap(([line, i]) => {
    const other = there.get(line) ?? -1;
    return i >= 0 && other >= 0 ? [[i, other] as const] : [];
  });
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
    walk({ ...before, from: fromA, to: i }, { ...after, from: fromB, to: j }, out);
    [fromA, fromB] = [i + 1, j + 1];
  }
}

/** Edits of `before`, by place, that make it `after`. */
export function lineEdits(before: string, after: string): readonly LineEdit[] {
  if (before === after) return [];
  const split = (text: string): readonly string[] => text.match(/[^\n]*\n|[^\n]+$/g) ?? [];
  const [old, now] = [split(before), split(after)];
  const starts = [0];
  for (const line of old) starts.push((starts[starts.length - 1] ?? 0) + line.length);
  const out: (readonly [Lines, Lines])[] = [];
  walk({ lines: old, from: 0, to: old.length }, { lines: now, from: 0, to: now.length }, out);
  return out.map(([left, right]) => ({
    start: starts[left.from] ?? before.length,
    end: starts[left.to] ?? before.length,
    text: right.lines.slice(right.from, right.to).join(''),
  }));
}
