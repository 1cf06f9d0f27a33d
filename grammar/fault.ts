// What is wrong with the form of a text, in the section's own offsets. The lexer, the sections and the parser make faults;
// the checker makes findings of them.
import type { Told } from './told.ts';

/** One change of text: the stretch is replaced by `text`. */
export interface Edit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** A way out of a fault, as the user reads it. */
export interface Fix {
  readonly title: Told;
  readonly edits: readonly Edit[];
}

/** Codes that reading itself can give. */
export type FaultCode =
  | 'syntax/unexpected'
  | 'syntax/unclosed'
  | 'syntax/decimal-comma'
  | 'syntax/stray-character'
  | 'unit/missing'
  | 'unit/unknown';

export interface Fault {
  readonly code: FaultCode;
  readonly start: number;
  readonly end: number;
  readonly message: Told;
  readonly fixes: readonly Fix[];
}
