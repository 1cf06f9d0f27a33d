// What the checker says: one finding, where it stands, what else it points at, and the ways out. Offsets are UTF-16
// offsets in the file; lines and columns are made at the edge.

export type Severity = 'error' | 'warning' | 'information';

/** A stretch of a file. */
export interface FilePlace {
  readonly file: string;
  readonly start: number;
  readonly end: number;
}

export interface Related extends FilePlace {
  readonly message: string;
}

export interface FixEdit extends FilePlace {
  readonly text: string;
}

export interface QuickFix {
  readonly title: string;
  readonly edits: readonly FixEdit[];
}

export interface Finding extends FilePlace {
  /** `area/what-is-wrong`, one of the catalog. */
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  /** The variants that it holds for; absent where all agree. */
  readonly variants?: readonly string[];
  readonly related: readonly Related[];
  readonly fixes: readonly QuickFix[];
}
