// The longest run of two lists that keeps its order: what is not in it was moved, so that one move is one change.
// Of runs that are as long, the same one is taken whichever list is the old one.

export interface Likeness {
  /** 0 for two that are not alike, 1 for two that pair up though changed, 2 for the same. */
  readonly degree: 0 | 1 | 2;
  /** Decides between runs of one length; the same for the same two, whichever is old. */
  readonly key: string;
}

/** A number from 0 to 2^16 for a text, always the same one. */
function small(text: string): number {
  let mixed = 2166136261;
  for (let at = 0; at < text.length; at += 1) mixed = Math.imul(mixed ^ text.charCodeAt(at), 16777619);
  return ((mixed ^ (mixed >>> 16)) >>> 0) % 65536;
}

const STEP = 2 ** 32;
const UNLIKE: Likeness = { degree: 0, key: '' };

/** The places of both lists that pair up in order, as far as they are alike. */
export function inOrder<one, other>(
  old: readonly one[],
  now: readonly other[],
  like: (old: one, now: other) => Likeness,
): readonly (readonly [number, number])[] {
  const width = now.length + 1;
  const best = new Float64Array((old.length + 1) * width);
  const worth = new Float64Array(old.length * Math.max(1, now.length));
  for (let i = old.length - 1; i >= 0; i -= 1) {
    for (let j = now.length - 1; j >= 0; j -= 1) {
      const [before, after] = [old[i], now[j]];
      // A list may hold nothing at a place: that is like nothing, and what is behind it still counts.
      const { degree, key } = before === undefined || after === undefined ? UNLIKE : like(before, after);
      const gain = degree === 0 ? 0 : degree * STEP + small(key);
      worth[i * now.length + j] = gain;
      const skip = Math.max(best[(i + 1) * width + j] ?? 0, best[i * width + j + 1] ?? 0);
      best[i * width + j] = gain === 0 ? skip : Math.max(skip, gain + (best[(i + 1) * width + j + 1] ?? 0));
    }
  }
  const pairs: (readonly [number, number])[] = [];
  let [i, j] = [0, 0];
  while (i < old.length && j < now.length) {
    const here = best[i * width + j] ?? 0;
    const gain = worth[i * now.length + j] ?? 0;
    if (gain > 0 && here === gain + (best[(i + 1) * width + j + 1] ?? 0)) {
      pairs.push([i, j]);
      i += 1;
      j += 1;
    } else if (here === (best[(i + 1) * width + j] ?? 0)) i += 1;
    else j += 1;
  }
  return pairs;
}
