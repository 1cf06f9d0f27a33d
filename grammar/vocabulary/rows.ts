// What a row of the table of words says: the shapes of its rows, and what they may name. The rows stand in the files beside it.

/** Where a statement may stand: in the braces of which declaration. */
export type Block =
  | 'spec'
  | 'engine'
  | 'part'
  | 'size'
  | 'fastener'
  | 'supply'
  | 'grades'
  | 'drive'
  | 'valve-timing'
  | 'limit'
  | 'sequence'
  | 'step'
  | 'job'
  | 'record';

/** What follows the word of a statement; words of one shape are read by one rule. */
export type Shape =
  | 'flag'
  | 'choice'
  | 'value'
  | 'number'
  | 'text'
  | 'names'
  | 'per'
  | 'allow'
  | 'when'
  | 'source'
  | 'cylinders'
  | 'bank'
  | 'crankpin'
  | 'firing-order'
  | 'places'
  | 'dimension'
  | 'figure'
  | 'size'
  | 'mark'
  | 'orient'
  | 'covers'
  | 'thread'
  | 'class'
  | 'clamps'
  | 'each'
  | 'reuse'
  | 'torque'
  | 'retorque'
  | 'tightening-order'
  | 'wrap'
  | 'mesh'
  | 'ratio-of'
  | 'centre-distance'
  | 'marks-agree'
  | 'marked-link'
  | 'events'
  | 'stated'
  | 'action'
  | 'set'
  | 'rotate'
  | 'confirm'
  | 'run'
  | 'wait'
  | 'begins'
  | 'record-fitted'
  | 'found'
  | 'measured'
  | 'done'
  | 'log'
  | 'photo'
  | 'signed'
  | 'drop'
  | 'reference'
  | 'timed'
  | 'into'
  | 'draw-up'
  | 'crank'
  | 'follow-on'
  | 'wall'
  | 'lift-at'
  | 'rocker-ratio'
  | 'phaser'
  | 'see'
  | 'agreed'
  | 'witnessed';

/** What kind of thing a name refers to. */
export type NameKind =
  | 'part'
  | 'fastener'
  | 'supply'
  | 'grades'
  | 'drive'
  | 'valve-timing'
  | 'limit'
  | 'sequence'
  | 'step'
  | 'job'
  | 'spec'
  | 'record'
  | 'source'
  | 'variant';

/** Kinds of unit that a value may be asked to have. `any` takes all, `ratio` takes none. */
export type ValueKind =
  | 'length'
  | 'angle'
  | 'torque'
  | 'force'
  | 'pressure'
  | 'volume'
  | 'area'
  | 'mass'
  | 'temperature'
  | 'time'
  | 'speed'
  | 'distance'
  | 'spring-rate'
  | 'unbalance'
  | 'power'
  | 'share'
  | 'ratio'
  | 'any';

export interface DeclarationRow {
  readonly word: string;
  readonly help: string;
  readonly example: string;
}

export interface StatementRow {
  readonly word: string;
  readonly in: readonly Block[];
  readonly shape: Shape;
  readonly help: string;
  readonly example: string;
  /** The fixed choices after the word, each with a line of help. */
  readonly choices?: Readonly<Record<string, string>>;
  /** The kinds of unit that its value may have. */
  readonly unit?: readonly ValueKind[];
  /** What its names refer to; absent where it declares names. */
  readonly refers?: readonly NameKind[];
  /** The word of the action that it takes back. */
  readonly undoes?: string;
  /** True when it may stand more than once in one body. */
  readonly repeats?: boolean;
  /** True for a word that stands only where a spec changes its base. */
  readonly inChange?: boolean;
  /** True for a word that came when specs may have had it as a name: where a name can be meant, it is one. */
  readonly yields?: boolean;
}

/** One of a few fixed words, with a line of help. */
export interface ChoiceRow {
  readonly word: string;
  readonly help: string;
}

export interface ClauseRow {
  readonly word: string;
  readonly help: string;
  readonly choices?: Readonly<Record<string, string>>;
  /** True for a word that came when specs may have had it as a place: where a place can be meant, it is one. */
  readonly yields?: boolean;
}
