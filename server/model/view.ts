// A spec as one variant sees it: every name with its declaration, and the parts, fasteners, drives, limits and sequences
// as plain data. Built by build-view.ts; read by the rehearsal, the checks and the features. No files, no editor.
import type {
  BroughtSize,
  Declaration,
  Expression,
  FollowOn,
  ForEach,
  Name,
  Phaser,
  Place,
  PlainValue,
  Reference,
  Span,
  Statement,
  Text,
  TighteningOrder,
  Timed,
  Value,
} from '../../grammar/tree.ts';
import type { StageWord } from '../../grammar/vocabulary.ts';
import type { Placed } from './placed.ts';

/** What everything with a declaration has. Spans are in the declaration's own text: see placeOf. */
export interface Declared {
  readonly name: string;
  readonly title: string | undefined;
  readonly placed: Placed;
  readonly declaration: Declaration;
  /** The statements that hold for this variant. */
  readonly statements: readonly Statement[];
  /** True when something in it could not be read, so that what is missing may only be unreadable. */
  readonly broken: boolean;
}

/** The places of a part: `upper 1..5`, `left`, or plain numbers 1..count. */
export interface PlaceGroup {
  /** Undefined for a part whose places are only numbered. */
  readonly name: string | undefined;
  readonly count: number;
  /** The part that these places go into, where it is said. */
  readonly into?: string;
}

export interface PartDimension {
  readonly name: string;
  readonly count: number;
  readonly value: Value | undefined;
  readonly wearLimit: Value | undefined;
  readonly statement: Statement;
}

export interface PartMark {
  readonly name: string;
  readonly at: Value | undefined;
  readonly against: Reference | undefined;
  readonly statement: Statement;
}

export interface Part extends Declared {
  readonly kind: 'part';
  /** How many of it: its count, or all its places. */
  readonly count: number;
  readonly places: readonly PlaceGroup[];
  readonly dimensions: ReadonlyMap<string, PartDimension>;
  /** `feature` names, for rules to point at. */
  readonly features: ReadonlyMap<string, Span>;
  /** `figure` values. */
  readonly figures: ReadonlyMap<string, PartDimension>;
  readonly marks: ReadonlyMap<string, PartMark>;
  /** Every name that may follow a dot: dimensions, features, figures, marks, oriented features, `wall`, `mass`, `pitch`, `teeth`, `links`. */
  readonly featureNames: ReadonlySet<string>;
  readonly sizes: ReadonlyMap<string, Statement>;
  readonly wall: Value | undefined;
  readonly wallWear: Value | undefined;
  readonly teeth: number | undefined;
  readonly links: number | undefined;
  readonly pitch: Value | undefined;
  readonly fixedTo: string | undefined;
  readonly heldBack: boolean;
  readonly singleUse: boolean;
  readonly matched: boolean;
  readonly securedBy: string | undefined;
  readonly onOrder: boolean;
  /** As written: a part, a fastener or a drive, and a mark or an opening of a part. What a drive stands for: covered.ts. */
  readonly covers: readonly {
    readonly part: string;
    readonly mark: string | undefined;
    readonly reference: Reference;
  }[];
  /** Parts and drives that it need not come off for. */
  readonly clearOf: readonly Name[];
  /** The part, and perhaps the opening of it, that it comes out through. */
  readonly outThrough: Reference | undefined;
  /** What must be on it when it goes in: `oiled`, `sealant` … */
  readonly fitted: string | undefined;
  /** It holds a fluid, and has to be bled. */
  readonly bled: boolean;
  /** Where the crankshaft stands when it goes in. */
  readonly timed: Timed | undefined;
  readonly drivenBy: Name | undefined;
}

export interface FastenerStage {
  readonly kind: 'torque' | 'angle' | StageWord | 'unreadable';
  readonly value: Value | undefined;
  readonly span: Span;
}

export interface Fastener extends Declared {
  readonly kind: 'fastener';
  readonly count: number;
  /** Another fastener, which it takes thread, class and finish from where it does not say its own. */
  readonly like: string | undefined;
  /** `each PART`: the count is for each of these. */
  readonly each: string | undefined;
  /** All that the count is for, where there are several: `each camshaft, pump-shaft`. */
  readonly eachOf: readonly Reference[];
  readonly thread: string | undefined;
  readonly strengthClass: string | undefined;
  readonly joint: string | undefined;
  readonly fitted: string | undefined;
  readonly surface: string | undefined;
  /** The material that it is screwed into. */
  readonly into: string | undefined;
  /** The part that it is screwed into, where it is said. */
  readonly intoPart: string | undefined;
  readonly clamps: readonly {
    readonly part: string;
    readonly places: readonly Place[];
    readonly reference: Reference;
    /** What it is clamped to. */
    readonly to: Reference | undefined;
  }[];
  readonly to: { readonly part: string; readonly reference: Reference } | undefined;
  readonly stages: readonly FastenerStage[];
  /** Pulled up to this first, with this bolt, and slackened. */
  readonly drawUp: { readonly value: Value; readonly with: string | undefined } | undefined;
  /** The drawn orders: the first that has no stage is for all stages that have none of their own. */
  readonly orders: readonly TighteningOrder[];
  readonly singleUse: boolean;
  readonly securedBy: string | undefined;
  readonly onOrder: boolean;
}

export interface Supply extends Declared {
  readonly kind: 'supply';
  readonly sort: string | undefined;
  readonly cure: Value | undefined;
}
export interface Grades extends Declared {
  readonly kind: 'grades';
  readonly by: Reference | undefined;
  readonly rows: readonly {
    readonly name: Name;
    readonly value: Value;
    /** The sizes that the grade brings: its thickness. */
    readonly brings: readonly BroughtSize[];
  }[];
}

export interface Drive extends Declared {
  readonly kind: 'drive';
  /** The chain or belt and its wheels, in order. */
  readonly wraps: readonly {
    readonly sort: 'chain' | 'belt';
    readonly part: string;
    readonly wheels: readonly { readonly part: string; readonly onBack: boolean; readonly span: Span }[];
    readonly statement: Statement;
  }[];
  readonly meshes: readonly { readonly first: string; readonly second: string; readonly statement: Statement }[];
  readonly ratios: readonly {
    readonly first: string;
    readonly second: string;
    readonly over: readonly [string, string];
    readonly statement: Statement;
  }[];
  readonly marksAgree: { readonly cylinder: number; readonly stroke: string | undefined } | undefined;
  readonly markedLinks: readonly {
    readonly links: readonly number[];
    readonly part: string;
    readonly mark: string | undefined;
    readonly eitherSide: boolean;
    readonly statement: Statement;
  }[];
  readonly tensioners: readonly string[];
}

export interface ValveTiming extends Declared {
  readonly kind: 'valve-timing';
  readonly shaft: string | undefined;
  readonly phaser: Phaser | undefined;
}

export interface Limit extends Declared {
  readonly kind: 'limit';
  readonly sort: string | undefined;
  readonly each: Reference | undefined;
  readonly of: Reference | undefined;
  readonly expression: Expression | undefined;
  readonly measured: boolean;
  readonly within: Value | undefined;
  readonly wearLimit: Value | undefined;
  /** How many readings are taken at each place; 1 where nothing is said. */
  readonly readings: number;
  /** The length that the bounds are for. */
  readonly over: Value | undefined;
  /** The speed or the temperature that they hold at. */
  readonly at: Value | undefined;
  /** The bounds are so much for each of this size of it. */
  readonly forEach: ForEach | undefined;
  /** What to do when it is outside, one after the other. */
  readonly otherwise: readonly Text[];
}

export interface Step extends Declared {
  readonly kind: 'step';
  readonly each: Reference | undefined;
  readonly trial: boolean;
  readonly after: readonly Name[];
}

export interface Sequence extends Declared {
  readonly kind: 'sequence';
  readonly phase: string | undefined;
  readonly startsWith: readonly Name[];
  readonly after: readonly Name[];
  /** The steps that hold for this variant, in the order written. */
  readonly steps: readonly Step[];
}

export interface Job extends Declared {
  readonly kind: 'job';
  readonly begins: { readonly how: 'whole' | 'bare' | 'after'; readonly sequence: string | undefined } | undefined;
  readonly sequences: readonly Name[];
  readonly variants: readonly string[];
  /** What must be so before it is begun. */
  readonly conditions: readonly Text[];
  /** What is to be done afterwards: jobs and sequences by name, or in words. */
  readonly followOn: readonly FollowOn[];
}

export interface Engine {
  readonly placed: Placed;
  readonly declaration: Declaration;
  readonly statements: readonly Statement[];
  readonly broken: boolean;
  readonly cylinders: number | undefined;
  readonly layout: string | undefined;
  readonly cycle: 'four-stroke' | 'two-stroke' | undefined;
  readonly rotation: 'clockwise' | 'anticlockwise' | undefined;
  /** Which end is called the front. */
  readonly front: 'free-end' | 'flywheel-end' | undefined;
  readonly interference: boolean;
}

/** All things that share one set of names. */
export type Thing = Part | Fastener | Supply | Grades | Drive | ValveTiming | Limit | Sequence | Step | Job;

/** A declaration that shares its name with an earlier one of the same variant. */
export interface Duplicate {
  readonly first: Placed;
  readonly second: Placed;
}

export interface View {
  /** Undefined for a spec without variants. */
  readonly variant: string | undefined;
  readonly things: ReadonlyMap<string, Thing>;
  readonly specs: readonly Placed[];
  readonly engine: Engine | undefined;
  readonly parts: readonly Part[];
  readonly fasteners: readonly Fastener[];
  readonly supplies: readonly Supply[];
  readonly grades: readonly Grades[];
  readonly drives: readonly Drive[];
  readonly valveTimings: readonly ValveTiming[];
  readonly limits: readonly Limit[];
  readonly sequences: readonly Sequence[];
  readonly jobs: readonly Job[];
  /** Names of the same set that are declared twice for this variant, those that differ in capitals alone too. */
  readonly duplicates: readonly Duplicate[];
  readonly draft: boolean;
  /** What a record says was measured, by limit, where the view is seen with it; the later of two stands first. */
  readonly measured?: ReadonlyMap<string, readonly MeasuredAt[]>;
  /** What a record says was fitted, by repair size or grade, where the view is seen with it. */
  readonly fitted?: readonly FittedAs[];
}

/** A repair size or a grade, at some places of its part; at all without any. */
export interface FittedAs {
  readonly part: string;
  readonly name: string;
  readonly places: readonly Place[];
}

/** A value of a limit at some of its places; without places at all. */
export interface MeasuredAt {
  readonly places: readonly Place[];
  readonly value: PlainValue;
}

/** The list of a view that things of each kind are in; steps are in that of a view as it is built. */
export const LIST_OF = {
  part: 'parts',
  fastener: 'fasteners',
  supply: 'supplies',
  grades: 'grades',
  drive: 'drives',
  'valve-timing': 'valveTimings',
  limit: 'limits',
  sequence: 'sequences',
  step: 'steps',
  job: 'jobs',
} as const satisfies Readonly<Record<Thing['kind'], string>>;
