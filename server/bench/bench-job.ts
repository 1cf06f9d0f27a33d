// A job as the bench page shows it: plain data, made once from the spec, so that the page stands at once and needs to read nothing first.
// What is judged on the page is judged by the spec itself, which goes with it (see judge.ts).

/** Which spec, in which view, and the job of it. */
export interface BenchJob {
  readonly spec: string;
  readonly title: string;
  readonly revision: number | undefined;
  readonly variant: string | undefined;
  /** Undefined for the sequences of a file without a job. */
  readonly job: { readonly name: string; readonly title: string } | undefined;
  /** `Begins on a whole engine.` */
  readonly begins: string;
  /** What must be so before it is begun, and what is to be done when it is done. */
  readonly conditions: readonly string[];
  readonly followOn: readonly string[];
  /** A path from a record beside the spec to the file of the job. */
  readonly use: string;
  readonly isDraft: boolean;
  /** How many contradictions the checker still finds. */
  readonly errors: number;
  readonly engine: string;
  readonly layOut: readonly { readonly title: string; readonly items: readonly string[] }[];
  readonly chapters: readonly BenchChapter[];
  readonly limits: readonly BenchLimit[];
  /** Parts of which repair sizes are said. */
  readonly sizes: readonly { readonly part: string; readonly title: string; readonly sizes: readonly string[] }[];
  readonly grades: readonly {
    readonly name: string;
    readonly title: string;
    readonly by: string | undefined;
    readonly rows: readonly string[];
  }[];
  /** The spec and what it uses, as their files have them; read where something is to be judged or drawn. The job's file is the first. */
  readonly texts: readonly { readonly file: string; readonly text: string }[];
  /** How the engine stands before the first step and after each, by what is otherwise than at the one before. */
  readonly stands: readonly StandsChange[];
}

export interface BenchChapter {
  readonly name: string;
  readonly title: string;
  readonly phase: string | undefined;
  readonly startsWith: readonly string[];
  readonly steps: readonly BenchStep[];
}

export interface BenchStep {
  readonly name: string;
  /** `3.2` */
  readonly number: string;
  readonly title: string;
  /** The places that it is done for one by one, as they are written and as they are called; empty for a step that is done once. */
  readonly places: readonly string[];
  /** `connecting rod`: what the places are of. */
  readonly each: string | undefined;
  readonly isTrial: boolean;
  readonly cautions: readonly { readonly text: string; readonly isUsual: boolean }[];
  readonly tools: readonly string[];
  readonly lines: readonly BenchLine[];
  readonly pictures: readonly BenchPicture[];
}

export interface BenchPicture {
  readonly what: string;
  readonly of?: string;
}

export type BenchLine = DoLine | MeasureLine | HoldLine | NoteLine;

/** Something that is done and ticked. */
export interface DoLine {
  readonly kind: 'do';
  /** Its number among the lines of the step, from 1. */
  readonly key: string;
  readonly text: string;
  /** Which way round, what is new, what it is proved by. */
  readonly minds: readonly string[];
  /** Figures that are read from a distance. */
  readonly stages: readonly {
    readonly number: number;
    readonly text: string;
    /** The end of the text that is no figure. */
    readonly behind?: string;
    readonly when: 'now' | 'had' | 'later';
  }[];
  /** Tables of grades of which one goes in here: by what was measured. */
  readonly grades: readonly string[];
  /** Its places, where each is ticked for itself. */
  readonly places: readonly string[];
  /** The fastener whose bolts are ticked one by one, as they lie. */
  readonly bolts: BenchBolts | undefined;
  /** A clock: seconds to wait or run, or in which sealant cures. */
  readonly clock:
    | { readonly what: 'wait' | 'run' | 'cure' | 'close'; readonly seconds: number; readonly of: string }
    | undefined;
}

export interface BenchBolts {
  readonly sort: 'rows' | 'circle';
  readonly width: number;
  readonly height: number;
  readonly places: readonly { readonly number: number; readonly x: number; readonly y: number }[];
}

/** Something that is measured here and written down. */
export interface MeasureLine {
  readonly kind: 'measure';
  readonly key: string;
  readonly text: string;
  readonly limit: string;
  readonly tool: string | undefined;
  /** What to do when it is outside, and what when that does not help. */
  readonly otherwise: readonly string[];
}

/** Work stops until someone has looked. */
export interface HoldLine {
  readonly kind: 'hold';
  readonly key: string;
  readonly text: string;
}

export interface NoteLine {
  readonly kind: 'note';
  readonly key: string;
  readonly text: string;
}

export interface BenchLimit {
  readonly name: string;
  readonly title: string;
  /** What is read from a distance. */
  readonly within: string;
  /** What that was worked out from, where it was. */
  readonly rule: string;
  /** The bounds at each of the places, where they are not the same at all. */
  readonly byPlace: readonly string[];
  readonly wear: string;
  readonly source: string;
  /** As they are written in a record: `3`, `inlet 2`. Empty for one that is measured once. */
  readonly places: readonly string[];
  /** The unit that is offered first, and the other. */
  readonly units: readonly string[];
  /** How many are taken at each place. */
  readonly readings: number;
  readonly isMeasured: boolean;
  /** It follows from others. */
  readonly working: string | undefined;
}

/** What is otherwise after a step. */
export interface StandsChange {
  readonly crank: string | undefined;
  readonly drives: readonly {
    readonly name: string;
    readonly whole: boolean;
    readonly turned: readonly (readonly [string, number])[];
    readonly links: number | undefined;
  }[];
  readonly on: readonly (readonly [string, number])[];
  /** An empty cover is none any more. */
  readonly coveredBy: readonly (readonly [string, string])[];
  readonly heldBack: readonly string[];
  readonly pinned: readonly string[];
}
