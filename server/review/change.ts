// What a review says: one change between two specs, what it weighs at the bench, and where it stands in both. No comparing here.
import type { FilePlace } from '../model/finding.ts';

/** Critical: an engine can be lost by it. Matters: the work is otherwise. Wording: nothing is done otherwise. */
export type Weight = 'critical' | 'matters' | 'wording';

export type ChangeKind = 'changed' | 'added' | 'removed' | 'moved';

export interface Change {
  /** The thing and what of it: `fastener.head-bolt.torque`, `part.piston.orient.arrow`, `sequence.long-block.step.fit-head`. */
  readonly what: string;
  readonly kind: ChangeKind;
  readonly weight: Weight;
  /** As it is written in the old spec; absent where it is new. */
  readonly old?: string;
  readonly new?: string;
  readonly message: string;
  readonly oldPlace?: FilePlace;
  readonly newPlace?: FilePlace;
  /** The variants that it holds for; absent where all agree. */
  readonly variants?: readonly string[];
}

export const WEIGHTS: readonly Weight[] = ['critical', 'matters', 'wording'];

/** The heavier of two weights. */
export function heavier(one: Weight, other: Weight): Weight {
  return WEIGHTS.indexOf(one) <= WEIGHTS.indexOf(other) ? one : other;
}

const LONGEST = 240;

/** A text short enough for a line of a list. */
export function clipped(text: string): string {
  return text.length <= LONGEST ? text : `${text.slice(0, LONGEST - 1).trimEnd()}…`;
}
