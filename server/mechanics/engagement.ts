// How much thread of a screw takes hold in its hole, and whether it meets the bottom. Lengths in mm. Strength of threads is not worked out.

import type { Thread } from './threads.ts';

export type Into = 'steel' | 'iron' | 'aluminium';

/** Threads in diameters: what is usual, and the least that is not worth a warning. Common practice, no source. */
const ENGAGEMENT: Readonly<Record<Into, { readonly usual: number; readonly least: number }>> = {
  steel: { usual: 1, least: 0.8 },
  iron: { usual: 1.25, least: 1 },
  aluminium: { usual: 2, least: 1.5 },
};

/**
 * `held` is the thread that takes hold, at most; `spare` what is left under the screw's end, negative where it bottoms. Both are `undefined`
 * where they cannot be known: what lies between head and hole decides over the reach.
 */
export type Engagement = {
  readonly held: number;
  readonly spare: number | undefined;
  readonly bottoms: boolean;
  readonly usual: number | undefined;
  readonly tooLittle: boolean;
};

/**
 * `length` is under the head, `clamped` the thickness of all that is clamped (unknown: 0 for `held`, so that too little is said only where
 * nothing between could make it more, and bottoming only where it is known). `holeDepth` is the depth of usable thread.
 * `undefined` for a length or depth of nothing or less.
 */
export function engagement(asked: {
  readonly thread: Pick<Thread, 'diameter'>;
  readonly length: number;
  readonly holeDepth: number;
  readonly clamped?: number | undefined;
  readonly into?: Into | undefined;
}): Engagement | undefined {
  const { thread, length, holeDepth, clamped, into } = asked;
  if (!(length > 0) || !(holeDepth > 0) || (clamped !== undefined && !(clamped >= 0))) return undefined;
  const reach = length - (clamped ?? 0);
  const held = Math.max(0, Math.min(reach, holeDepth));
  const spare = clamped === undefined ? undefined : holeDepth - reach;
  const rule = into === undefined ? undefined : ENGAGEMENT[into];
  return {
    held,
    spare,
    bottoms: spare !== undefined && spare < 0,
    usual: rule === undefined ? undefined : rule.usual * thread.diameter,
    tooLittle: rule !== undefined && held < rule.least * thread.diameter - 1e-9,
  };
}
