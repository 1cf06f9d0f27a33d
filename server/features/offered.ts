// What completion offers at a place: one row of its list, and the list with the word that it takes the place of.

import type { Argument } from '../../grammar/told.ts';

/** One row of the list. */
export interface Completion {
  readonly label: string;
  readonly kind: 'word' | 'name' | 'feature' | 'unit' | 'choice' | 'code';
  readonly detail: Argument;
  readonly help?: Argument;
  /** A snippet with gaps, where it is more than the label. */
  readonly snippet?: string;
  /** It is written with a blank behind it, and what may stand there is offered next. */
  readonly goesOn?: true;
  /** The path of the `use` line that has to be written for it. */
  readonly uses?: string;
  /** Smaller comes first. */
  readonly rank: number;
  /** Among those of one rank smaller comes first; without it they go by their letters. */
  readonly order?: number;
}

/** The list. */
export interface Offered {
  /** Where the word begins that a completion takes the place of. */
  readonly start: number;
  /** Where that word ends, behind the cursor. */
  readonly end: number;
  readonly completions: readonly Completion[];
}
