// The questions and answers that Fettle's client and server exchange beyond the Language Server Protocol.
// Types alone live here, so that the client can name them without pulling any server code into its bundle.

/** Asked by the server of the client, which alone can read a folder that is not on this disk. */
export interface ClientAnswers {
  /** The text of one file as it stands in the folder (not as it is being edited), or null if it is not there. */
  readonly 'fettle/readFile': {
    readonly params: { readonly uri: string };
    readonly result: { readonly text: string } | null;
  };
  /** Every `.fettle` file of the open folders, in a steady order. */
  readonly 'fettle/listFiles': {
    readonly params: Record<string, never>;
    readonly result: { readonly uris: readonly string[] };
  };
}

/** Asked by the client of the server. Each answer is null where there is nothing to show. */
export interface ServerAnswers {
  /** The help page of a finding, by its code. */
  readonly 'fettle/explain': {
    readonly params: { readonly code: string };
    readonly result: { readonly markdown: string } | null;
  };
  /** A library that ships with Fettle, by its address, to be read. */
  readonly 'fettle/library': {
    readonly params: { readonly uri: string };
    readonly result: { readonly text: string } | null;
  };
  /** A first spec to change, for the command "New engine spec". The layout is written as in `cylinders`: `4 inline`. */
  readonly 'fettle/newSpec': {
    readonly params: { readonly name: string; readonly layout?: string };
    readonly result: { readonly text: string } | null;
  };
  /** What an open spec leaves unsaid, and what saying it would make checkable, as text. */
  readonly 'fettle/unsaid': {
    readonly params: { readonly uri: string };
    readonly result: { readonly text: string } | null;
  };
  /**
   * The sheet of an open file as one self-contained page: of a spec that of one job, for the variant and the job asked for or else the
   * first; of a record its own.
   */
  readonly 'fettle/sheet': {
    readonly params: {
      readonly uri: string;
      readonly variant?: string;
      readonly job?: string;
      /** Of a record: without the inner notes. */
      readonly forCustomer?: boolean;
    };
    readonly result: {
      readonly html: string;
      readonly variants: readonly string[];
      readonly jobs: readonly string[];
      readonly isOfRecord: boolean;
    } | null;
  };
  /**
   * A job of an open spec as its bench page shows it, for the variant and the job asked for or else the first. The page itself where the
   * program that runs in it is given.
   */
  readonly 'fettle/bench': {
    readonly params: {
      readonly uri: string;
      readonly variant?: string;
      readonly job?: string;
      readonly program?: { readonly command: string; readonly page: string };
    };
    readonly result: {
      readonly spec: string;
      readonly variants: readonly string[];
      readonly jobs: readonly string[];
      readonly job: string;
      readonly html?: string;
    } | null;
  };
  /**
   * What may be tried in a spec, and what a try would change: another text for a figure of the engine, a repair size. Nothing is written.
   * An outcome without `before` is new; one that is named `error` or `warning` would be found wrong.
   */
  readonly 'fettle/whatIf': {
    readonly params: { readonly uri: string; readonly name?: string; readonly text?: string };
    readonly result: {
      readonly choices: readonly { readonly name: string; readonly title: string; readonly text: string | null }[];
      readonly outcomes: readonly { readonly name: string; readonly before: string; readonly after: string }[];
    } | null;
  };
  /** A table that was copied from a manual, as declarations: `unread` cells stand in comments. */
  readonly 'fettle/table': {
    readonly params: { readonly uri: string; readonly text: string };
    readonly result: { readonly text: string; readonly rows: number; readonly unread: number } | null;
  };
  /** The edit that raises the revision, where what is critical changed since an old text and it is still the same. */
  readonly 'fettle/raiseRevision': {
    readonly params: ServerAnswers['fettle/review']['params'];
    readonly result: {
      readonly from: number;
      readonly to: number;
      readonly critical: readonly string[];
      readonly edit: object;
    } | null;
  };
  /** The jobs of a spec in each variant, and whether they hold; `fault` is what keeps them from being rehearsed. */
  readonly 'fettle/jobs': {
    readonly params: { readonly uri: string };
    readonly result: { readonly jobs: readonly JobTold[]; readonly fault?: JobTold['found'][number] } | null;
  };
  /**
   * How the engine stands at the cursor in an open spec, or one action of the job on or back from there, with where that action is written.
   * `html` is the inside of a page, made of elements; it is null where the cursor is at no step.
   */
  readonly 'fettle/standing': {
    readonly params: {
      readonly uri: string;
      readonly position: { readonly line: number; readonly character: number };
      readonly go: 'here' | 'next' | 'back';
      readonly variant?: string;
      readonly job?: string;
    };
    readonly result: {
      readonly html: string | null;
      readonly place: ReviewedPlace['range'] | null;
      readonly variants: readonly string[];
      readonly variant: string | null;
      readonly jobs: readonly string[];
      readonly job: string | null;
    } | null;
  };
  /**
   * What changed in an open spec since an old text of it, the weightiest first. `files` are texts of what the old one used, by
   * address; what is not among them is read as it stands now. `uses` are the addresses that the old one asked for.
   */
  readonly 'fettle/review': {
    readonly params: {
      readonly uri: string;
      readonly old: {
        readonly uri: string;
        readonly text: string;
        readonly files?: Readonly<Record<string, string>>;
      };
    };
    readonly result: { readonly changes: readonly ReviewedChange[]; readonly uses: readonly string[] } | null;
  };
}

/** A job of a spec in one variant, and what was found in it. */
export interface JobTold {
  /** Null for the sequences of a file without a job. */
  readonly job: string | null;
  readonly title: string | null;
  readonly variant: string | null;
  readonly range: ReviewedPlace['range'];
  readonly holds: boolean;
  readonly found: readonly (ReviewedPlace & {
    readonly message: string;
    readonly code: string;
    readonly severity: 'error' | 'warning' | 'information';
  })[];
}

/** A stretch of a file; lines and characters count from 0. */
export interface ReviewedPlace {
  readonly uri: string;
  readonly range: {
    readonly start: { readonly line: number; readonly character: number };
    readonly end: { readonly line: number; readonly character: number };
  };
}

/** One change between two specs. */
export interface ReviewedChange {
  readonly what: string;
  readonly kind: 'changed' | 'added' | 'removed' | 'moved';
  readonly weight: 'critical' | 'matters' | 'wording';
  readonly old?: string;
  readonly new?: string;
  readonly message: string;
  readonly variants?: readonly string[];
  readonly oldPlace?: ReviewedPlace;
  readonly newPlace?: ReviewedPlace;
}

/** Told by the server to the client: `checking` while a whole folder is read, `ready` once every finding is out. */
export interface ServerNews {
  readonly 'fettle/status': { readonly state: 'checking' | 'ready' };
}

/** Sent once, when the server starts. Other editors send nothing, and the server then reads the disk itself. */
export interface StartOptions {
  readonly clientReadsFiles?: boolean;
  /** The words of the editor's language, where the server has no disk to read them from; see grammar/languages.ts. */
  readonly words?: Readonly<Record<string, string>>;
}

/** What goes with each finding that has ways out, by file what each would change. */
export interface FindingData {
  readonly fixes: readonly {
    readonly title: string;
    readonly changes: Readonly<Record<string, readonly { readonly range: object; readonly newText: string }[]>>;
  }[];
}

/** What the client's command "Enter a measurement" is given of each limit that may be measured. */
export interface MeasurementAsked {
  readonly name: string;
  readonly title: string;
  /** The places that have no value yet; none for a limit of one place. */
  readonly places: readonly string[];
  /** Its bounds as they are written; empty where it has none. */
  readonly within: string;
}
