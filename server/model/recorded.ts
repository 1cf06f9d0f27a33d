// Declarations and things as questions see them: each look at a field is tracked, so that who looked is asked again when that field says
// something else, and only then. They stay the same objects from edit to edit. Where a declaration stands is no field: a shift of the
// text changes nothing.
import type { Declaration } from '../../grammar/tree.ts';
import { deepEqual } from './deep-equal.ts';
import type { Placed } from './placed.ts';
import { type Cell, invalidate, isTracking, newCell, noteDiffering, track } from './questions.ts';
import type {
  Declared,
  Drive,
  Engine,
  Fastener,
  Grades,
  Job,
  Limit,
  Part,
  Sequence,
  Step,
  Supply,
  Thing,
  ValveTiming,
} from './view.ts';

/**
 * What a field is tracked as: itself, or one of the few words that say what a thing is and how it sits, which are tracked as one. A link costs
 * time and room; a figure is typed often, and few look at it, while those words change seldom and many look at all of them.
 */
type NotedAs = 'itself' | 'frame';

/** Every field of a kind of thing but what makes it this one. The compiler tells which is missing. */
type FieldsOf<thing> = Readonly<Record<Exclude<keyof thing, 'kind' | 'name' | 'placed' | 'declaration'>, NotedAs>>;

const DECLARED: Pick<FieldsOf<Declared>, 'title' | 'statements' | 'broken'> = {
  title: 'itself',
  statements: 'itself',
  broken: 'itself',
};

const PART: FieldsOf<Part> = {
  ...DECLARED,
  count: 'frame',
  places: 'frame',
  dimensions: 'itself',
  features: 'itself',
  figures: 'itself',
  marks: 'itself',
  featureNames: 'itself',
  sizes: 'itself',
  wall: 'itself',
  wallWear: 'itself',
  teeth: 'frame',
  links: 'frame',
  pitch: 'frame',
  fixedTo: 'frame',
  heldBack: 'frame',
  singleUse: 'frame',
  matched: 'frame',
  securedBy: 'frame',
  onOrder: 'frame',
  covers: 'frame',
  timed: 'frame',
  fitted: 'frame',
  bled: 'frame',
  clearOf: 'frame',
  outThrough: 'frame',
  drivenBy: 'frame',
};

const FASTENER: FieldsOf<Fastener> = {
  ...DECLARED,
  count: 'frame',
  like: 'frame',
  each: 'frame',
  thread: 'frame',
  strengthClass: 'frame',
  joint: 'frame',
  fitted: 'frame',
  surface: 'frame',
  into: 'frame',
  clamps: 'frame',
  to: 'frame',
  stages: 'itself',
  singleUse: 'frame',
  securedBy: 'frame',
  onOrder: 'frame',
  drawUp: 'frame',
  eachOf: 'frame',
  intoPart: 'frame',
  orders: 'itself',
};

const SUPPLY: FieldsOf<Supply> = { ...DECLARED, sort: 'itself', cure: 'itself' };
const GRADES: FieldsOf<Grades> = { ...DECLARED, by: 'itself', rows: 'itself' };
const DRIVE: FieldsOf<Drive> = {
  ...DECLARED,
  wraps: 'itself',
  meshes: 'itself',
  ratios: 'itself',
  marksAgree: 'itself',
  markedLinks: 'itself',
  tensioners: 'itself',
};
const VALVE_TIMING: FieldsOf<ValveTiming> = { ...DECLARED, shaft: 'itself', phaser: 'itself' };
const LIMIT: FieldsOf<Limit> = {
  ...DECLARED,
  sort: 'itself',
  each: 'itself',
  of: 'itself',
  expression: 'itself',
  measured: 'itself',
  within: 'itself',
  wearLimit: 'itself',
  readings: 'itself',
  over: 'itself',
  at: 'itself',
  forEach: 'itself',
  otherwise: 'itself',
};
const STEP: FieldsOf<Step> = { ...DECLARED, each: 'itself', trial: 'itself', after: 'itself' };
const SEQUENCE: FieldsOf<Sequence> = {
  ...DECLARED,
  phase: 'itself',
  startsWith: 'itself',
  after: 'itself',
  steps: 'itself',
};
const JOB: FieldsOf<Job> = {
  ...DECLARED,
  begins: 'itself',
  sequences: 'itself',
  variants: 'itself',
  followOn: 'itself',
  conditions: 'itself',
};

const ENGINE: Readonly<Record<Exclude<keyof Engine, 'placed' | 'declaration'>, NotedAs>> = {
  statements: 'itself',
  broken: 'itself',
  cylinders: 'itself',
  layout: 'itself',
  cycle: 'itself',
  rotation: 'itself',
  front: 'itself',
  interference: 'itself',
};

const DECLARATION: Readonly<Record<Exclude<keyof Declaration, 'word'>, NotedAs>> = {
  start: 'itself',
  end: 'itself',
  wordSpan: 'frame',
  name: 'frame',
  title: 'itself',
  count: 'frame',
  of: 'frame',
  on: 'frame',
  by: 'frame',
  each: 'frame',
  revision: 'frame',
  path: 'frame',
  extends: 'frame',
  changed: 'frame',
  beside: 'frame',
  variants: 'frame',
  limit: 'frame',
  per: 'frame',
  body: 'itself',
  broken: 'itself',
};

/** What a declaration declares. */
export interface Declares {
  readonly thing: Thing | undefined;
  readonly engine: Engine | undefined;
}

/** A declaration of a view, over all edits that leave it in its place under its name; of the views of all variants that see it, one. */
export interface Standing {
  /** Where it stands and what it declares now; for the first variant, where it is not the same for all. */
  placed: Placed;
  thing: Thing | undefined;
  engine: Engine | undefined;
  /** What it declares for each variant, where that is not the same. */
  byVariant: readonly Declares[] | undefined;
  /** As questions see it. */
  readonly asPlaced: Placed;
  readonly asDeclaration: Declaration;
  readonly asThing: Thing | undefined;
  readonly asEngine: Engine | undefined;
  /** The fields that somebody looked at. */
  readonly cells: (FieldCell | undefined)[];
  /** Whether those are other from variant to variant, as far as it was looked up. */
  differs: (boolean | undefined)[];
  /** The things of its steps, as questions see them, by what has the steps. */
  steps: Map<Thing, readonly Step[]>;
  readonly among: Among;
}

/** Where a declaration stands: the view of one variant, or those of all that see it. */
export interface Among {
  readonly seenOf: (placed: Placed) => Standing | undefined;
  /** It is seen by some of several variants alone, so that whatever is read of it is other for the rest. */
  readonly isOfSome: boolean;
  /** The variant that is looked at, by its number. */
  at: number;
}

/** What a declaration declares for the variant that is looked at. */
const nowOf = (standing: Standing): Declares => standing.byVariant?.[standing.among.at] ?? standing;

type Area = 'placed' | 'declaration' | 'thing' | 'engine';

/** What is tracked as one: a field, or the frame of a declaration or a thing. `slot` is where its cell stands among those of a declaration. */
interface Noted {
  readonly area: Area;
  readonly fields: string[];
  readonly slot: number;
}

interface FieldCell extends Cell {
  readonly of: Noted;
  readonly by: Standing;
}

interface Seen {
  readonly standing: Standing;
}

/** Slots of an area of a kind of thing: fields tracked as themselves have one each, all others the first. */
function slotsOf(area: Area, fields: Readonly<Record<string, NotedAs>>, first: number): ReadonlyMap<string, Noted> {
  const frame: Noted = { area, fields: [], slot: first };
  let next = first + 1;
  return new Map(
    Object.entries(fields).map(([field, as]) => {
      if (as === 'frame') {
        frame.fields.push(field);
        return [field, frame];
      }
      next += 1;
      return [field, { area, fields: [field], slot: next - 1 }];
    }),
  );
}

function fieldUnread(cell: Cell): void {
  const { of: noted, by: standing } = cell as FieldCell;
  standing.cells[noted.slot] = undefined;
}

function note(standing: Standing, noted: Noted): void {
  if (!isTracking(undefined)) return;
  if (standing.among.isOfSome || (standing.byVariant !== undefined && isOther(standing, noted))) noteDiffering();
  // What is read of its own text is not tracked, but differs all the same.
  if (!isTracking(standing)) return;
  let cell = standing.cells[noted.slot];
  if (cell === undefined) {
    cell = newCell(fieldUnread, noted, standing) as FieldCell;
    standing.cells[noted.slot] = cell;
  }
  track(cell);
}

/** Whether what is tracked as one says something else from variant to variant. */
function isOther(standing: Standing, noted: Noted): boolean {
  let isOther = standing.differs[noted.slot];
  if (isOther === undefined) {
    const { placed } = standing;
    const [first, ...others] = standing.byVariant ?? [];
    isOther =
      first !== undefined &&
      others.some((other) => !isAsItWas(standing, { placed, ...first }, { placed, ...other }, noted));
    standing.differs[noted.slot] = isOther;
  }
  return isOther;
}

/** Fields that are asked for through what stands there now. */
function getters(
  slots: ReadonlyMap<string, Noted>,
  of: (standing: Standing) => object | undefined,
): PropertyDescriptorMap {
  return Object.fromEntries(
    [...slots].map(([field, noted]) => [
      field,
      {
        enumerable: true,
        get(this: Seen): unknown {
          note(this.standing, noted);
          const there = of(this.standing);
          return there === undefined ? undefined : Reflect.get(there, field);
        },
      },
    ]),
  );
}

const constant = (of: (standing: Standing) => unknown): PropertyDescriptor => ({
  enumerable: true,
  get(this: Seen): unknown {
    return of(this.standing);
  },
});

const OF_A_THING: PropertyDescriptorMap = {
  kind: constant(({ thing }) => thing?.kind),
  name: constant(({ thing }) => thing?.name),
  placed: constant(({ asPlaced }) => asPlaced),
  declaration: constant(({ asDeclaration }) => asDeclaration),
};

const PLACED_SLOTS = slotsOf(
  'placed',
  { section: 'itself', parsed: 'itself', when: 'itself', origin: 'itself', steps: 'itself' },
  0,
);
const DECLARATION_SLOTS = slotsOf('declaration', DECLARATION, 10);
/** A declaration is of an engine or of a thing, never both. */
const FIRST_OF_ITS_OWN = 40;

const slotOf = (slots: ReadonlyMap<string, Noted>, field: string): Noted => slots.get(field) as Noted;

function thingForm(fields: Readonly<Record<string, NotedAs>>): object {
  return Object.create(Object.prototype, {
    ...OF_A_THING,
    ...getters(slotsOf('thing', fields, FIRST_OF_ITS_OWN), (standing) => nowOf(standing).thing),
  }) as object;
}

const STEPS_OF_A_SEQUENCE = slotOf(slotsOf('thing', SEQUENCE, FIRST_OF_ITS_OWN), 'steps');
const STEPS_PLACED = slotOf(PLACED_SLOTS, 'steps');

const THINGS: Readonly<Record<Thing['kind'], object>> = {
  part: thingForm(PART),
  fastener: thingForm(FASTENER),
  supply: thingForm(SUPPLY),
  grades: thingForm(GRADES),
  drive: thingForm(DRIVE),
  'valve-timing': thingForm(VALVE_TIMING),
  limit: thingForm(LIMIT),
  sequence: Object.create(thingForm(SEQUENCE), {
    steps: {
      enumerable: true,
      get(this: Seen): readonly Step[] {
        note(this.standing, STEPS_OF_A_SEQUENCE);
        return stepsOf(this.standing, nowOf(this.standing).thing);
      },
    },
  }) as object,
  // A step may come to be called otherwise, and is the same one.
  step: thingForm({ ...STEP, name: 'itself' }),
  job: thingForm(JOB),
};

const ENGINE_FORM = Object.create(Object.prototype, {
  placed: constant(({ asPlaced }) => asPlaced),
  declaration: constant(({ asDeclaration }) => asDeclaration),
  ...getters(slotsOf('engine', ENGINE, FIRST_OF_ITS_OWN), (standing) => nowOf(standing).engine),
}) as object;

const DECLARATION_FORM = Object.create(Object.prototype, {
  word: constant(({ placed }) => placed.declaration.word),
  ...getters(DECLARATION_SLOTS, ({ placed }) => placed.declaration),
}) as object;

const PLACED_FORM = Object.create(Object.prototype, {
  ...getters(PLACED_SLOTS, ({ placed }) => placed),
  file: constant(({ placed }) => placed.file),
  declaration: constant(({ asDeclaration }) => asDeclaration),
  steps: {
    enumerable: true,
    get(this: Seen): readonly (Placed | undefined)[] {
      note(this.standing, STEPS_PLACED);
      const { placed, among } = this.standing;
      return placed.steps.map((step) => (step === undefined ? step : among.seenOf(step)?.asPlaced));
    },
  },
}) as object;

function stepsOf(standing: Standing, thing: Thing | undefined): readonly Step[] {
  if (thing?.kind !== 'sequence') return [];
  let seen = standing.steps.get(thing);
  if (seen === undefined) {
    seen = thing.steps.flatMap((step) => {
      const there = standing.among.seenOf(step.placed)?.asThing;
      return there?.kind === 'step' ? [there] : [];
    });
    standing.steps.set(thing, seen);
  }
  return seen;
}

/** Whether what is tracked as one says what it said. */
function isAsItWas(standing: Standing, before: Values, now: Values, { area, fields }: Noted): boolean {
  if (area === 'placed') return fields.every((field) => isPlacedAsItWas(before.placed, now.placed, field));
  if (area === 'thing' && fields.includes('steps') && now.thing?.kind === 'sequence')
    return sameItems(stepsOf(standing, before.thing), stepsOf(standing, now.thing));
  const of = (each: Values): object | undefined =>
    area === 'declaration' ? each.placed.declaration : area === 'engine' ? each.engine : each.thing;
  const [one, other] = [of(before), of(now)];
  if (one === undefined || other === undefined) return false;
  return fields.every((field) => deepEqual(Reflect.get(one, field), Reflect.get(other, field)));
}

function isPlacedAsItWas(one: Placed, other: Placed, field: string): boolean {
  if (field === 'section') return one.section.text === other.section.text;
  if (field === 'parsed') return one.parsed === other.parsed;
  if (field === 'origin') return one.origin === other.origin;
  // Steps are told apart by their things; who goes through these looks at each.
  if (field === 'steps')
    return one.steps.length === other.steps.length && one.steps.every((step, i) => step === other.steps[i]);
  return deepEqual(one.when, other.when);
}

interface Values extends Declares {
  readonly placed: Placed;
}

/** A declaration that comes to stand among others; `declares` tells what it declares for each variant of those, or once what it does for all. */
export function newStanding(placed: Placed, declares: readonly Declares[], among: Among): Standing {
  const [{ thing, engine } = NOTHING] = declares;
  const see = <form>(form: object | undefined): form =>
    (form === undefined ? undefined : Object.create(form, { standing: { value: undefined, writable: true } })) as form;
  const asPlaced = see<Placed>(PLACED_FORM);
  const asDeclaration = see<Declaration>(DECLARATION_FORM);
  const asThing = see<Thing | undefined>(thing === undefined ? undefined : THINGS[thing.kind]);
  const asEngine = see<Engine | undefined>(engine === undefined ? undefined : ENGINE_FORM);
  const standing: Standing = {
    placed,
    thing,
    engine,
    asPlaced,
    asDeclaration,
    asThing,
    asEngine,
    byVariant: declares.length > 1 ? declares : undefined,
    cells: [],
    differs: [],
    steps: new Map(),
    among,
  };
  for (const each of [asPlaced, asDeclaration, asThing, asEngine])
    if (each !== undefined) (each as unknown as { standing: Standing }).standing = standing;
  return standing;
}

const NOTHING: Declares = { thing: undefined, engine: undefined };

/** What was read of a declaration and its thing is read of others now: tells who looked at a field that says something else for any variant. */
export function becomes(standing: Standing, placed: Placed, declares: readonly Declares[]): void {
  const before = { placed: standing.placed, all: allOf(standing) };
  // What its steps were is known by them.
  for (const { thing } of before.all) stepsOf(standing, thing);
  const were = standing.steps;
  const [{ thing, engine } = NOTHING] = declares;
  standing.placed = placed;
  standing.thing = thing;
  standing.engine = engine;
  standing.byVariant = declares.length > 1 ? declares : undefined;
  standing.differs = [];
  standing.steps = new Map();
  const now = allOf(standing);
  const most = Math.max(before.all.length, now.length);
  for (const cell of [...standing.cells]) {
    if (cell === undefined) continue;
    const { of: noted } = cell;
    for (let i = 0; i < most; i += 1) {
      const [one, other] = [before.all[i] ?? before.all[0] ?? NOTHING, now[i] ?? now[0] ?? NOTHING];
      const isSame =
        noted.area === 'thing' && noted.fields.includes('steps') && other.thing?.kind === 'sequence'
          ? sameItems(were.get(one.thing as Thing) ?? [], stepsOf(standing, other.thing))
          : isAsItWas(standing, { placed: before.placed, ...one }, { placed, ...other }, noted);
      if (isSame) continue;
      invalidate(cell);
      break;
    }
  }
}

const allOf = ({ byVariant, thing, engine }: Standing): readonly Declares[] => byVariant ?? [{ thing, engine }];

function sameItems(some: readonly unknown[], others: readonly unknown[]): boolean {
  return some.length === others.length && some.every((each, i) => each === others[i]);
}

/** The declaration behind what questions see of it; undefined for one as it is read. */
export function standingBehind(seen: Placed): Standing | undefined {
  return 'standing' in seen ? (seen as unknown as Seen).standing : undefined;
}
