// The typed tree of one declaration: what the reader of a spec wrote, nothing made up. Positions are offsets into the
// section's own text (see sections.ts). What is missing or unreadable is `undefined`. No meaning lives here.
import type { ActionWord, DeclarationWord, StageWord, StatementWord } from './vocabulary.ts';

/** A stretch of a section's own text, in UTF-16 units. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** A name as written, in NFC. */
export interface Name extends Span {
  readonly text: string;
}

/** A title, note or other quoted text: escapes read, every run of blanks and line ends read as one blank. */
export interface Text extends Span {
  readonly value: string;
}

/** A bare whole number: a count, a cylinder, a tooth, a stage. `value` is NaN-free and at most 2^31. */
export interface Whole extends Span {
  readonly value: number;
}

/** One word out of a fixed choice (`four-stroke`, `oiled`), in its usual form; `known` is false when it is none of them. */
export interface Choice extends Span {
  readonly word: string;
  readonly known: boolean;
}

/** A number as written, in plain form: `53.970`, `-0.0010`, `3/8`, `1 1/2`. */
export interface NumberText extends Span {
  readonly text: string;
}

/** A unit as written; `parts` is its reading, absent when it is not known. */
export interface UnitText extends Span {
  readonly text: string;
  readonly parts?: readonly UnitPart[];
}

/** One simple unit of a compound one, with its power: `N/mm` is N to 1 and mm to -1. */
export interface UnitPart {
  readonly unit: string;
  readonly power: number;
}

/** `24 N.m`, or a bare number; `32°30'` has minutes. */
export interface Quantity extends Span {
  readonly kind: 'quantity';
  readonly number: NumberText;
  readonly unit?: UnitText;
  readonly minutes?: NumberText;
  readonly restated?: PlainValue;
}

/** `53.970..53.990 mm`. */
export interface Range extends Span {
  readonly kind: 'range';
  /** Several readings of one place, `81.01, 81.03, 81.02 mm`, as they were written; the range is from the least to the greatest. */
  readonly readings?: readonly NumberText[];
  readonly low: NumberText;
  readonly high: NumberText;
  readonly unit?: UnitText;
  readonly restated?: PlainValue;
}

/** `81.00 ±0.01 mm` or `81.00 +0.02 -0.00 mm`; `plus` and `minus` are the written deviations (minus is signed as written). */
export interface Tolerance extends Span {
  readonly kind: 'tolerance';
  readonly nominal: NumberText;
  readonly plus: NumberText;
  readonly minus: NumberText;
  /** The stroke in `+0.02/-0.01`. */
  readonly slash?: Span;
  readonly unit?: UnitText;
  readonly restated?: PlainValue;
}

/** `at-least 0.20 mm`; the value may be an expression. */
export interface OpenLimit extends Span {
  readonly kind: 'open';
  readonly side: 'at-least' | 'at-most';
  readonly value: Expression;
  readonly restated?: PlainValue;
}

/** `6 o'clock`, `1:30 o'clock`: hour 0..12 with minutes. */
export interface Clock extends Span {
  readonly kind: 'clock';
  readonly hour: number;
  readonly minute: number;
}

/** `2:1`. */
export interface Ratio extends Span {
  readonly kind: 'ratio';
  readonly first: NumberText;
  readonly second: NumberText;
}

/** A worked-out value: a reference or a sum of them. */
export interface ExpressionValue extends Span {
  readonly kind: 'expression';
  readonly expression: Expression;
}

export type PlainValue = Quantity | Range | Tolerance | OpenLimit | Clock | Ratio | ExpressionValue;

/** Values that differ from place to place: `1: 56.80 mm, 2: 56.30 mm` or `0.15 mm for inlet, 0.25 mm for exhaust`. */
export interface ByPlace extends Span {
  readonly kind: 'by-place';
  readonly entries: readonly PlaceEntry[];
}

export interface PlaceEntry extends Span {
  readonly places: readonly Place[];
  readonly value: PlainValue;
}

export type Value = PlainValue | ByPlace;

/** Places of a part: `upper`, `upper 1..5`, `3`, `1..4`. A missing `from` means all of that name. */
export interface Place extends Span {
  readonly name?: Name;
  readonly from?: number;
  readonly to?: number;
}

/** `crankshaft.main-journal`, `engine.squish`, `main-shell upper`. */
export interface Reference extends Span {
  readonly owner: Name;
  readonly feature?: Name;
  readonly places: readonly Place[];
}

export type Expression = Binary | Negated | Call | ReferenceTerm | Quantity;

export interface Binary extends Span {
  readonly kind: 'binary';
  readonly operator: '+' | '-' | '*' | '/';
  readonly left: Expression;
  readonly right: Expression;
}

export interface Negated extends Span {
  readonly kind: 'negated';
  readonly operand: Expression;
}

/** `min`, `max`, `mean` or `spread` of a list, or of all places of one reference. */
export interface Call extends Span {
  readonly kind: 'call';
  readonly name: Name;
  readonly operands: readonly Expression[];
}

export interface ReferenceTerm extends Span {
  readonly kind: 'reference';
  readonly reference: Reference;
}

/** `per manual "2-15"`. */
export interface Per extends Span {
  readonly source: Name;
  readonly place?: Text;
}

interface StatementBase extends Span {
  /** The keyword in its usual form; a row of a table of grades has none of its own, and is `grade`. */
  readonly word: StatementWord | 'grade' | '';
  readonly wordSpan: Span;
  readonly per?: Per;
}

/** A statement that could not be read whole. Checks that ask whether it is there must count it as there. */
export interface Broken extends StatementBase {
  readonly kind: 'broken';
}
/** `matched`, `single-use`, `draft`, `interference`, `trial`. */
export interface Flag extends StatementBase {
  readonly kind: 'flag';
}
/** `cycle four-stroke`, `joint structural`, `phase assemble`, `secured-by wire`. */
export interface ChoiceStatement extends StatementBase {
  readonly kind: 'choice';
  readonly choice: Choice;
}
/** `stroke 83.20 mm`, `mass 412 g`, `wall 1.991..1.995 mm`, `lift 10.2 mm for inlet, 9.8 mm for exhaust`. */
export interface ValueStatement extends StatementBase {
  readonly kind: 'value';
  readonly value: Value;
  /** Of a wall. */
  readonly wearLimit?: Value;
  /** Of a lift: at the valve or at the lobe. */
  readonly at?: Choice;
}
/** `revision 3`, `teeth 18`, `nut-factor 0.16`, `rocker-ratio 1.5`. */
export interface NumberStatement extends StatementBase {
  readonly kind: 'number';
  readonly number: NumberText;
  /** The second figure of `1.7:1`. */
  readonly to?: NumberText;
}
/** `note "…"`, `caution "…"`, `held-back "3 mm pin"`, `number "…"`, `on-order "…"`. */
export interface TextStatement extends StatementBase {
  readonly kind: 'text';
  readonly text: Text;
}
/** `variants a, b` (declares), `starts-with block`, `after prove-timing`, `fixed-to crankshaft`, `tensioner x`, `sequences a, b`, `feature f`. */
export interface NamesStatement extends StatementBase {
  readonly kind: 'names';
  readonly names: readonly Name[];
}
/** `per manual "2-14"` as a statement of its own; the source is in `per`. */
export interface PerStatement extends StatementBase {
  readonly kind: 'per';
}
/** `allow torque/over-proof because "…"`. */
export interface Allow extends StatementBase {
  readonly kind: 'allow';
  readonly code: Name;
  readonly because?: Text;
}
/** `when van { … }` round statements. */
export interface When extends StatementBase {
  readonly kind: 'when';
  readonly variants: readonly Name[];
  readonly body: Body;
}

/** `source manual "Brindle workshop manual"`. */
export interface Source extends StatementBase {
  readonly kind: 'source';
  readonly name: Name;
  readonly title?: Text;
}
/** `cylinders 4 inline`, `cylinders 6 vee 60 deg`. */
export interface Cylinders extends StatementBase {
  readonly kind: 'cylinders';
  readonly count: Whole;
  readonly layout?: Choice;
  readonly angle?: PlainValue;
}
/** `bank left 1, 3`. */
export interface Bank extends StatementBase {
  readonly kind: 'bank';
  readonly side: Choice;
  readonly cylinders: readonly Whole[];
}
/** `crankpin 1, 4 at 0 deg`. */
export interface Crankpin extends StatementBase {
  readonly kind: 'crankpin';
  readonly cylinders: readonly Whole[];
  readonly angle: PlainValue;
}
/** `firing-order 1-3-4-2`. */
export interface FiringOrder extends StatementBase {
  readonly kind: 'firing-order';
  readonly order: readonly Whole[];
}

/** `places upper 1..5 into block, lower 1..5 into main-cap`, `places left, right`. */
export interface Places extends StatementBase {
  readonly kind: 'places';
  readonly places: readonly PlacesOf[];
}
/** Places of a part as they are declared, with the part that they go into. */
export interface PlacesOf extends Place {
  readonly into?: Name;
}
/** `dimension main-journal x5 56.170..56.190 mm wear-limit 56.140 mm`. */
export interface Dimension extends StatementBase {
  readonly kind: 'dimension';
  readonly name: Name;
  readonly count?: Whole;
  readonly value?: Value;
  readonly wearLimit?: Value;
}
/** `figure spring-rate 32 N/mm`. */
export interface Figure extends StatementBase {
  readonly kind: 'figure';
  readonly name: Name;
  readonly value: Value;
  readonly wearLimit?: Value;
}
/** `size under-25 undersize 0.25 mm { wall 2.116..2.120 mm }`. */
export interface Size extends StatementBase {
  readonly kind: 'size';
  readonly name: Name;
  readonly direction?: 'undersize' | 'oversize';
  readonly step?: Value;
  readonly body?: Body;
}
/** `mark dot at 6 o'clock`, `mark line against block.face`. */
export interface Mark extends StatementBase {
  readonly kind: 'mark';
  readonly name: Name;
  readonly at?: PlainValue;
  readonly against?: Reference;
}
/** `orient tang toward block.tang-slot`, `orient top-gap at 45 deg, second-gap at 225 deg for 1..4`. */
export interface Orient extends StatementBase {
  readonly kind: 'orient';
  readonly rules: readonly OrientRule[];
}
export interface OrientRule extends Span {
  readonly feature: Name;
  readonly direction?: Choice;
  readonly target?: Reference;
  readonly at?: PlainValue;
  /** What the angle is counted from: another feature of the part, or one of another part. */
  readonly from?: Reference;
  readonly places: readonly Place[];
}
/** `covers PART, PART.mark`. */
export interface Covers extends StatementBase {
  readonly kind: 'covers';
  readonly covered: readonly Reference[];
}

/** `thread M8x1.25`: the designation in its usual form. */
export interface Thread extends StatementBase {
  readonly kind: 'thread';
  readonly designation: string;
  readonly designationSpan: Span;
}
/** `class 10.9`, `class grade-8`. */
export interface StrengthClass extends StatementBase {
  readonly kind: 'class';
  readonly class: Name;
}
/** `out-through block.bore`. */
export interface ReferenceStatement extends StatementBase {
  readonly kind: 'reference';
  readonly reference: Reference;
}
/** `timed at 10 deg btdc 1 on compression`. */
export interface Timed extends StatementBase, CrankPosition {
  readonly kind: 'timed';
}
/**
 * Where the crankshaft stands: `tdc 1 on compression`, `10 deg btdc 1 on compression`, `1.9 mm btdc 1`, `bdc 1`. With a dead centre alone
 * `angle` is missing: the top one is in `tdc`, the bottom one in `from`.
 */
export interface CrankPosition {
  readonly tdc?: DeadCentre;
  /** An angle, or how far the piston is from its dead centre. */
  readonly angle?: PlainValue;
  readonly from?: Choice;
  readonly cylinder?: Whole;
  /** Of an angle or a bottom dead centre: the stroke of the top dead centre that it leads to or comes from. */
  readonly stroke?: Choice;
}

/** `into iron`, `into block`, `into block iron`. */
export interface Into extends StatementBase {
  readonly kind: 'into';
  readonly part?: Reference;
  readonly material?: Choice;
}
/** `clamps cylinder-head, head-gasket to block`. */
export interface Clamps extends StatementBase {
  readonly kind: 'clamps';
  readonly clamped: readonly Reference[];
  readonly to?: Reference;
}
/** `each piston`, `each camshaft, pump-shaft` in a fastener. */
export interface EachStatement extends StatementBase {
  readonly kind: 'each';
  readonly of: Reference;
  /** The second and later ones. */
  readonly others?: readonly Reference[];
}
/** `reuse to 92.4 mm`. */
export interface Reuse extends StatementBase {
  readonly kind: 'reuse';
  readonly length: Value;
}
/** `torque 30 N.m, 60 N.m, 90 deg`. */
export interface Torque extends StatementBase {
  readonly kind: 'torque';
  readonly stages: readonly Stage[];
}
export interface Stage extends Span {
  readonly kind: StageWord | 'value';
  readonly value?: Value;
}
/** `draw-up 300 N.m with "old bolt"`. */
export interface DrawUp extends StatementBase {
  readonly kind: 'draw-up';
  readonly value: Value;
  readonly with?: Text;
}
/** `retorque 65 N.m after "first warm-up"`. */
export interface Retorque extends StatementBase {
  readonly kind: 'retorque';
  readonly stage: Stage;
  readonly after?: Text;
}
/** `tightening-order 9 5 1 4 8 / 10 6 2 3 7`: rows as the bolts lie. */
export interface TighteningOrder extends StatementBase {
  readonly kind: 'tightening-order';
  readonly each?: Reference;
  /** `stage 3`: from which stage this order holds. */
  readonly stage?: Whole;
  /** `over main-cap`: the figures are those of the caps, one after the other, not of single bolts. */
  readonly over?: Reference;
  /** `with head-bolt-short at 7, 8`: another kind of bolt in the same drawing, and which of its figures are that kind's. */
  readonly with?: readonly SharedOrder[];
  /** Drawn round a circle, clockwise, the first at the top. */
  readonly circle: boolean;
  readonly rows: readonly (readonly Whole[])[];
}

export interface SharedOrder extends Span {
  readonly fastener: Name;
  readonly turns: readonly Whole[];
}

/** One row of a table of grades: `one-hole 0.45..0.55 mm`, `one-notch 0.60..0.70 mm with thickness 1.25 mm`. */
export interface GradeRow extends StatementBase {
  readonly kind: 'grade';
  readonly name: Name;
  readonly value: Value;
  /** The sizes that it brings. */
  readonly brings?: readonly BroughtSize[];
}
export interface BroughtSize extends Span {
  readonly name: Name;
  readonly value: Value;
}

/** `chain timing-chain over crank-sprocket, cam-sprocket`, `belt b over w, idler on-back`. */
export interface Wrap extends StatementBase {
  readonly kind: 'wrap';
  readonly part: Name;
  readonly wheels: readonly Wheel[];
}
export interface Wheel extends Span {
  readonly name: Name;
  readonly onBack: boolean;
}
/** `mesh crank-gear with cam-gear`. */
export interface Mesh extends StatementBase {
  readonly kind: 'mesh';
  readonly first: Name;
  readonly second: Name;
}
/** `ratio crankshaft to camshaft 2:1`. */
export interface RatioStatement extends StatementBase {
  readonly kind: 'ratio-of';
  readonly first: Name;
  readonly second: Name;
  readonly ratio: Ratio;
}
/** `centre-distance a to b 135.4 ±0.3 mm at 12 o'clock`. */
export interface CentreDistance extends StatementBase {
  readonly kind: 'centre-distance';
  readonly from: Name;
  readonly to: Name;
  readonly value: Value;
  readonly at?: PlainValue;
}
/** `marks-agree at tdc 1 on compression`. */
export interface MarksAgree extends StatementBase {
  readonly kind: 'marks-agree';
  readonly tdc: DeadCentre;
}
export interface DeadCentre extends Span {
  readonly cylinder: Whole;
  readonly stroke?: Choice;
}
/** `marked-link 1 at crank-sprocket.dot`, `marked-link 5, 6 either-side-of cam-sprocket.dot`. */
export interface MarkedLink extends StatementBase {
  readonly kind: 'marked-link';
  readonly links: readonly Whole[];
  readonly mark: Reference;
  readonly eitherSide: boolean;
}

/** `inlet opens 12 deg btdc closes 48 deg abdc`. */
export interface Events extends StatementBase {
  readonly kind: 'events';
  readonly opens?: ValveEvent;
  readonly closes?: ValveEvent;
}
export interface ValveEvent extends Span {
  readonly angle: PlainValue;
  readonly from: Choice;
}
/** `phaser 50 deg parked retarded`. */
export interface Phaser extends StatementBase {
  readonly kind: 'phaser';
  readonly range: Value;
  readonly parked?: Choice;
}
/** `stated inlet-duration 240 deg`. */
export interface Stated extends StatementBase {
  readonly kind: 'stated';
  readonly what: Choice;
  readonly value: Value;
}

/** An action on parts, fasteners, supplies, limits: `fit a, b into c together`, `tighten x stage 2`, `measure l with "…"`. */
export interface Action extends StatementBase {
  readonly kind: 'action';
  readonly word: ActionWord;
  readonly targets: readonly Reference[];
  /** `into` or `onto` what, with the word used. */
  readonly mate?: { readonly word: 'into' | 'onto' | 'from'; readonly reference: Reference };
  readonly together: boolean;
  readonly method?: Choice;
  readonly stage?: Whole;
  readonly with?: Reference;
  readonly withText?: Text;
  readonly byText?: Text;
  readonly forText?: Text;
  /** `machine PART.feature to SIZE`. */
  readonly to?: Name;
  readonly amount?: Value;
  /** `otherwise "fit the next shim"`: what to do when it is outside, and what after that. */
  readonly otherwise?: readonly Text[];
  /** `tighten manifold-nut again`. */
  readonly again?: true;
  /** `fit gear onto shaft by heat at 150 degC`. */
  readonly at?: Value;
  /** `fit guide into head part-way 3 mm`: not home yet, by so much where it is said. */
  readonly partWay?: Span & { readonly short?: Value };
}
/** `set crankshaft at tdc 1 on compression`, `set crankshaft at 10 deg btdc 1`, `set camshaft with dowel at 3 o'clock`. */
export interface SetShaft extends StatementBase, CrankPosition {
  readonly kind: 'set';
  readonly shaft: Name;
  readonly mark?: Name;
  readonly at?: PlainValue;
}
/** `rotate crankshaft 2 turns`, `rotate crankshaft 90 deg anticlockwise`. */
export interface Rotate extends StatementBase {
  readonly kind: 'rotate';
  readonly shaft: Name;
  readonly amount: PlainValue;
  readonly direction?: Choice;
}
/** `confirm cam-drive by marks`, `confirm crankshaft.keyway at 45 deg`. */
export interface Confirm extends StatementBase {
  readonly kind: 'confirm';
  readonly target: Reference;
  readonly by?: Choice;
  readonly at?: PlainValue;
}
/** `run engine at 2000 rpm for 20 min`, `run engine until 82 degC`, `run engine under load for 30 min`. */
export interface Run extends StatementBase {
  readonly kind: 'run';
  readonly at?: Value;
  readonly for?: Value;
  readonly under?: Choice;
  readonly until?: Value;
  readonly untilText?: Text;
}
/** `crank engine for 20 s until "oil pressure shows"`. */
export interface Crank extends StatementBase {
  readonly kind: 'crank';
  readonly for?: Value;
  readonly until?: Value;
  readonly untilText?: Text;
}
/** `wait 15 min`. */
export interface Wait extends StatementBase {
  readonly kind: 'wait';
  readonly time: Value;
}

/** `follow-on "Check the level after a day."`, `follow-on run-in`. */
export interface FollowOn extends StatementBase {
  readonly kind: 'follow-on';
  readonly names: readonly Name[];
  readonly text?: Text;
}

/** `begins whole`, `begins after long-block`. */
export interface Begins extends StatementBase {
  readonly kind: 'begins';
  readonly how: 'whole' | 'bare' | 'after';
  readonly sequence?: Name;
}

/** `see manual "5-10, figure 3"`. */
export interface See extends StatementBase {
  readonly kind: 'see';
  readonly source: Name;
  readonly place?: Text;
}

/** `agreed "New liners." on 2026-03-01`. */
export interface Agreed extends StatementBase {
  readonly kind: 'agreed';
  readonly text: Text;
  readonly on?: DateText;
  readonly by?: Text;
}
/** `witnessed prove-timing by "QL" on 2026-03-04`. */
export interface Witnessed extends StatementBase {
  readonly kind: 'witnessed';
  readonly step: Reference;
  readonly on?: DateText;
  readonly by?: Text;
}
/** `fitted main-shell size under-25 "batch 7731"`. */
export interface RecordFitted extends StatementBase {
  readonly kind: 'record-fitted';
  readonly part: Reference;
  readonly size?: Name;
  readonly grade?: Name;
  readonly text?: Text;
}
/** `found piston 3 "skirt scuffed" scrap`. */
export interface Found extends StatementBase {
  readonly kind: 'found';
  readonly part: Reference;
  readonly text?: Text;
  readonly verdict?: Choice;
}
/** `measured main-oil-clearance 1: 0.041 mm, … with "bore gauge" on 2026-03-02`. */
export interface Measured extends StatementBase {
  readonly kind: 'measured';
  readonly limit: Reference;
  readonly value?: Value;
  readonly with?: Text;
  readonly on?: DateText;
  readonly by?: Text;
}
/** `done fit-camshaft on 2026-03-04 by "RT"`, `deviation fit-cam-plate "…"`. */
export interface Done extends StatementBase {
  readonly kind: 'done';
  readonly step: Reference;
  /** Done once more, with a text that says why. */
  readonly again?: true;
  readonly text?: Text;
  readonly on?: DateText;
  readonly by?: Text;
}
/** `log 2026-03-09 14:10 oil-pressure 4.1 bar, coolant 82 degC`. */
export interface Log extends StatementBase {
  readonly kind: 'log';
  readonly on?: DateText;
  readonly time?: { readonly hour: number; readonly minute: number };
  /** `at 2000 rpm`. */
  readonly at?: Value;
  readonly readings: readonly Reading[];
  readonly text?: Text;
}
export interface Reading extends Span {
  readonly name: Name;
  readonly value: Value;
}
/** `photo "photos/liner-4.jpg" of block`. */
export interface Photo extends StatementBase {
  readonly kind: 'photo';
  readonly path: Text;
  readonly of?: Reference;
}
/** `signed "RT" on 2026-03-10`. */
export interface Signed extends StatementBase {
  readonly kind: 'signed';
  readonly by: Text;
  readonly on?: DateText;
}
/** `2026-03-04`; `valid` is false for a day that no calendar has. */
export interface DateText extends Span {
  readonly text: string;
  readonly valid: boolean;
}

/** `drop dimension skirt`, `drop single-use` inside a change; in a table of grades `drop one-hole`. */
export interface Drop extends StatementBase {
  readonly kind: 'drop';
  /** The word of the statement or clause that is taken out. */
  readonly what: Span & { readonly word: string };
  readonly name?: Name;
}

/** `step NAME … { … }` inside a sequence, `change part NAME { … }` inside a spec: a section of its own. `hole` is its number among the section's children. */
export interface StepHole extends Span {
  readonly kind: 'hole';
  readonly word: 'hole';
  readonly wordSpan: Span;
  readonly hole: number;
  readonly per?: Per;
}

export type Statement =
  | Broken
  | Flag
  | ChoiceStatement
  | ValueStatement
  | NumberStatement
  | TextStatement
  | NamesStatement
  | PerStatement
  | Allow
  | When
  | Source
  | Cylinders
  | Bank
  | Crankpin
  | FiringOrder
  | Places
  | Dimension
  | Figure
  | Size
  | Mark
  | Orient
  | Covers
  | ReferenceStatement
  | Timed
  | Into
  | Thread
  | StrengthClass
  | Clamps
  | EachStatement
  | Reuse
  | Torque
  | DrawUp
  | Retorque
  | TighteningOrder
  | GradeRow
  | Wrap
  | Mesh
  | RatioStatement
  | CentreDistance
  | MarksAgree
  | MarkedLink
  | Events
  | Phaser
  | Stated
  | Action
  | SetShaft
  | Rotate
  | Confirm
  | Run
  | Crank
  | Wait
  | FollowOn
  | Begins
  | See
  | Agreed
  | Witnessed
  | RecordFitted
  | Found
  | Measured
  | Done
  | Log
  | Photo
  | Signed
  | Drop
  | StepHole;

export interface Body extends Span {
  readonly statements: readonly Statement[];
}

export type { DeclarationWord } from './vocabulary.ts';

/** One declaration; which head parts it may have depends on its word. */
export interface Declaration extends Span {
  readonly word: DeclarationWord;
  readonly wordSpan: Span;
  readonly name?: Name;
  readonly title?: Text;
  readonly count?: Whole;
  /** `of SPEC` of a job or record, `of PART` of a limit. */
  readonly of?: Reference;
  /** `on SHAFT` of a valve timing. */
  readonly on?: Name;
  /** `by LIMIT` of a grades table. */
  readonly by?: Reference;
  /** `each PLACE` of a limit or a step. */
  readonly each?: Reference;
  readonly revision?: Whole;
  readonly path?: Text;
  /** The spec that a spec is built on. */
  readonly extends?: Name;
  /** What a change changes, drops or inserts: `part` in `change part piston`. */
  readonly changed?: Span & { readonly word: DeclarationWord };
  /** Where an inserted step goes. */
  readonly beside?: Span & { readonly word: 'after' | 'before'; readonly step: Name };
  /** The variants of a `when` round declarations; the declarations inside are its section's children. */
  readonly variants?: readonly Name[];
  readonly limit?: LimitClauses;
  readonly per?: Per;
  readonly body?: Body;
  /** True when something in the head could not be read: what depends on the head stays silent. */
  readonly broken: boolean;
}

/** The clauses of a `limit`. */
export interface LimitClauses {
  readonly kind?: Choice;
  readonly expression?: Expression;
  readonly measured?: Span;
  /** `measured 4 readings`: how many at each place. */
  readonly readings?: Whole;
  readonly within?: Value;
  /** `within at-most 0.05 mm over 100 mm`: the length that the bounds are for. */
  readonly over?: Value;
  /** `within at-least 2.5 bar at 2000 rpm`: at which speed or temperature they hold. */
  readonly at?: Value;
  /** `within 0.00075..0.001 in for-each 1 in of crankshaft.main-journal`. */
  readonly forEach?: ForEach;
  readonly wearLimit?: Value;
  /** What to do when it is outside, and what after that. */
  readonly otherwise?: readonly Text[];
}
export interface ForEach extends Span {
  readonly size: PlainValue;
  readonly of: Reference;
}
