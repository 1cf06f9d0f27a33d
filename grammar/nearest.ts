// "Did you mean": the nearest of some words.

/** Number of single-letter changes and swaps between two words, cut off at `most`. */
function distance(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, i) => i);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    let least = i;
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1];
      let cost = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        cost = Math.min(cost, (before[j - 2] ?? 0) + 1);
      row.push(cost);
      least = Math.min(least, cost);
    }
    if (least > most) return most + 1;
    before = last;
    last = row;
  }
  return last[b.length] ?? most + 1;
}

/** The nearest of `words` to a word, if one is near enough to be meant: a third of its letters at most, three at most. */
export function nearest(word: string, words: Iterable<string>): string | undefined {
  if (word.length > 60) return undefined;
  const small = word.toLowerCase();
  let best: string | undefined;
  let bestDistance = Math.min(3, Math.max(1, Math.ceil(word.length / 3))) + 1;
  for (const candidate of words) {
    const folded = candidate.toLowerCase();
    if (folded === small && candidate !== word) return candidate;
    if (candidate === word) continue;
    const d = distance(small, folded, bestDistance - 1);
    if (d < bestDistance) {
      best = candidate;
      bestDistance = d;
    }
  }
  return best;
}
