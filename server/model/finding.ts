// What the checker says: one finding, where it stands, what else it points at, and the ways out. Offsets are UTF-16
// offsets in the file; lines and columns are made at the edge, and so is the text in another language than English.
import type { Told } from '../../grammar/told.ts';

export type Severity = 'error' | 'warning' | 'information';

/** A stretch of a file. */
export interface FilePlace {
  readonly file: string;
  readonly start: number;
  readonly end: number;
}

export interface Related extends FilePlace {
  readonly message: string;
  readonly told: Told;
}

export interface FixEdit extends FilePlace {
  readonly text: string;
}

export interface QuickFix {
  readonly title: string;
  readonly told: Told;
  readonly edits: readonly FixEdit[];
}

export interface Finding extends FilePlace {
  /** `area/what-is-wrong`, one of the catalog. */
  readonly code: string;
  readonly severity: Severity;
  /** In English. */
  readonly message: string;
  /** What is said, with what is put into it. */
  readonly told: Told;
  /** The variants that it holds for; absent where all agree. */
  readonly variants?: readonly string[];
  readonly related: readonly Related[];
  readonly fixes: readonly QuickFix[];
}

/** What is said, as a finding keeps it. */
export function said(told: Told): Pick<Finding, 'message' | 'told'> {
  return { message: told.text, told };
}

/** What a way out is called. */
export function titled(told: Told): Pick<QuickFix, 'title' | 'told'> {
  return { title: told.text, told };
}
