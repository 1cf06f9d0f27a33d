// Declarations and things as questions see them: each look at a field is noted, so that who looked is asked again when that field says
// something else, and only then. They stay the same objects from edit to edit. Where a declaration stands is no field: a shift of the
// text changes nothing.
import type { Declaration } from '../../grammar/tree.ts';
import type { Placed } from './placed.ts';
import { type Cell, changed, isNoted, newCell, noteRead } from './questions.ts';
import { sameValue } from './same-value.ts';
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

/** Every field of a kind of thing but what makes it this one. The compiler tells which is missing. */
type FieldsOf<thing> = Readonly<Record<Exclude<keyof thing, 'kind' | 'name' | 'placed' | 'declaration'>, true>>;

const DECLARED: Pick<FieldsOf<Declared>, 'title' | 'statements' | 'broken'> = {
  title: true,
  statements: true,
  broken: true,
};

const PART: FieldsOf<Part> = {
  ...DECLARED,
  count: true,
  places: true,
  dimensions: true,
  features: true,
  figures: true,
  marks: true,
  featureNames: true,
  sizes: true,
  wall: true,
  wallWear: true,
  teeth: true,
  links: true,
  pitch: true,
  fixedTo: true,
  heldBack: true,
  singleUse: true,
  matched: true,
  securedBy: true,
  onOrder: true,
  covers: true,
  timed: true,
  fitted: true,
  bled: true,
  clearOf: true,
  outThrough: true,
  drivenBy: true,
};

const FASTENER: FieldsOf<Fastener> = {
  ...DECLARED,
  count: true,
  like: true,
  each: true,
  thread: true,
  strengthClass: true,
  joint: true,
  fitted: true,
  surface: true,
  into: true,
  clamps: true,
  to: true,
  stages: true,
  singleUse: true,
  securedBy: true,
  onOrder: true,
  drawUp: true,
  eachOf: true,
  intoPart: true,
  orders: true,
};

const SUPPLY: FieldsOf<Supply> = { ...DECLARED, sort: true, cure: true };
const GRADES: FieldsOf<Grades> = { ...DECLARED, by: true, rows: true };
const DRIVE: FieldsOf<Drive> = {
  ...DECLARED,
  wraps: true,
  meshes: true,
  ratios: true,
  marksAgree: true,
  markedLinks: true,
  tensioners: true,
};
const VALVE_TIMING: FieldsOf<ValveTiming> = { ...DECLARED, shaft: true, phaser: true };
const LIMIT: FieldsOf<Limit> = {
  ...DECLARED,
  sort: true,
  each: true,
  of: true,
  expression: true,
  measured: true,
  within: true,
  wearLimit: true,
  readings: true,
  over: true,
  at: true,
  forEach: true,
  otherwise: true,
};
const STEP: FieldsOf<Step> = { ...DECLARED, each: true, trial: true, after: true };
const SEQUENCE: FieldsOf<Sequence> = { ...DECLARED, phase: true, startsWith: true, after: true, steps: true };
const JOB: FieldsOf<Job> = {
  ...DECLARED,
  begins: true,
  sequences: true,
  variants: true,
  followOn: true,
  conditions: true,
};

const ENGINE: Readonly<Record<Exclude<keyof Engine, 'placed' | 'declaration'>, true>> = {
  statements: true,
  broken: true,
  cylinders: true,
  layout: true,
  cycle: true,
  rotation: true,
  front: true,
  interference: true,
};

const DECLARATION: Readonly<Record<Exclude<keyof Declaration, 'word'>, true>> = {
  start: true,
  end: true,
  wordSpan: true,
  name: true,
  title: true,
  count: true,
  of: true,
  on: true,
  by: true,
  each: true,
  revision: true,
  path: true,
  extends: true,
  changed: true,
  beside: true,
  variants: true,
  limit: true,
  per: true,
  body: true,
  broken: true,
};

/** A declaration of a view, over all edits that leave it in its place under its name. */
export interface Standing {
  /** Where it stands and what it says now. */
  placed: Placed;
  thing: Thing | undefined;
  engine: Engine | undefined;
  /** As questions see it. */
  readonly asPlaced: Placed;
  readonly asDeclaration: Declaration;
  readonly asThing: Thing | undefined;
  readonly asEngine: Engine | undefined;
  /** The fields that somebody looked at. */
  cells: FieldCell[];
  /** The things of its steps, as questions see them. */
  steps: { readonly of: readonly Step[]; readonly seen: readonly Step[] } | undefined;
  readonly seenOf: (placed: Placed) => Standing | undefined;
}

type Area = 'placed' | 'declaration' | 'thing' | 'engine';

interface FieldCell extends Cell {
  readonly area: Area;
  readonly field: string;
}

interface Seen {
  readonly standing: Standing;
}

function note(standing: Standing, area: Area, field: string): void {
  if (!isNoted(standing)) return;
  let cell = standing.cells.find((each) => each.field === field && each.area === area);
  if (cell === undefined) {
    const made: FieldCell = Object.assign(
      newCell(() => {
        standing.cells = standing.cells.filter((each) => each !== made);
      }),
      { area, field },
    );
    cell = made;
    standing.cells.push(cell);
  }
  noteRead(cell);
}

/** Fields that are asked for through what stands there now. */
function getters(
  area: Area,
  fields: Readonly<Record<string, true>>,
  of: (standing: Standing) => object | undefined,
): PropertyDescriptorMap {
  return Object.fromEntries(
    Object.keys(fields).map((field) => [
      field,
      {
        enumerable: true,
        get(this: Seen): unknown {
          note(this.standing, area, field);
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

function thingForm(fields: Readonly<Record<string, true>>): object {
  return Object.create(Object.prototype, {
    ...OF_A_THING,
    ...getters('thing', fields, ({ thing }) => thing),
  }) as object;
}

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
        note(this.standing, 'thing', 'steps');
        return stepsOf(this.standing);
      },
    },
  }) as object,
  step: thingForm(STEP),
  job: thingForm(JOB),
};

const ENGINE_FORM = Object.create(Object.prototype, {
  placed: constant(({ asPlaced }) => asPlaced),
  declaration: constant(({ asDeclaration }) => asDeclaration),
  ...getters('engine', ENGINE, ({ engine }) => engine),
}) as object;

const DECLARATION_FORM = Object.create(Object.prototype, {
  word: constant(({ placed }) => placed.declaration.word),
  ...getters('declaration', DECLARATION, ({ placed }) => placed.declaration),
}) as object;

const PLACED_FORM = Object.create(Object.prototype, {
  file: constant(({ placed }) => placed.file),
  declaration: constant(({ asDeclaration }) => asDeclaration),
  steps: {
    enumerable: true,
    get(this: Seen): readonly (Placed | undefined)[] {
      note(this.standing, 'placed', 'steps');
      const { placed, seenOf } = this.standing;
      return placed.steps.map((step) => (step === undefined ? step : seenOf(step)?.asPlaced));
    },
  },
  ...getters('placed', { section: true, parsed: true, when: true, origin: true }, ({ placed }) => placed),
}) as object;

function stepsOf(standing: Standing): readonly Step[] {
  const { thing, steps: known } = standing;
  if (thing?.kind !== 'sequence') return [];
  if (known?.of === thing.steps) return known.seen;
  const seen = thing.steps.flatMap((step) => {
    const there = standing.seenOf(step.placed)?.asThing;
    return there?.kind === 'step' ? [there] : [];
  });
  standing.steps = { of: thing.steps, seen };
  return seen;
}

/** Whether a field says what it said. */
function isAsItWas(before: Standing | Values, now: Standing, { area, field }: FieldCell): boolean {
  if (area === 'placed') {
    const [one, other] = [before.placed, now.placed];
    if (field === 'section') return one.section.text === other.section.text;
    if (field === 'parsed') return one.parsed === other.parsed;
    if (field === 'origin') return one.origin === other.origin;
    // Steps are told apart by their things; who goes through these looks at each.
    if (field === 'steps')
      return one.steps.length === other.steps.length && one.steps.every((step, i) => step === other.steps[i]);
    return sameValue(one.when, other.when);
  }
  const of = (each: Values): object | undefined =>
    area === 'declaration' ? each.placed.declaration : area === 'engine' ? each.engine : each.thing;
  const [one, other] = [of(before), of(now)];
  return one !== undefined && other !== undefined && sameValue(Reflect.get(one, field), Reflect.get(other, field));
}

interface Values {
  readonly placed: Placed;
  readonly thing: Thing | undefined;
  readonly engine: Engine | undefined;
}

/** A declaration that comes to stand in a view. `seenOf` finds the others. */
export function newStanding(
  placed: Placed,
  thing: Thing | undefined,
  engine: Engine | undefined,
  seenOf: Standing['seenOf'],
): Standing {
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
    cells: [],
    steps: undefined,
    seenOf,
  };
  for (const each of [asPlaced, asDeclaration, asThing, asEngine])
    if (each !== undefined) (each as unknown as { standing: Standing }).standing = standing;
  return standing;
}

/** What was read of a declaration and its thing is read of others now: tells who looked at a field that says something else. */
export function becomes(
  standing: Standing,
  placed: Placed,
  thing: Thing | undefined,
  engine: Engine | undefined,
): void {
  const before: Values = { placed: standing.placed, thing: standing.thing, engine: standing.engine };
  const steps = stepsOf(standing);
  standing.placed = placed;
  standing.thing = thing;
  standing.engine = engine;
  for (const cell of [...standing.cells]) {
    const isSame =
      cell.area === 'thing' && cell.field === 'steps' && thing?.kind === 'sequence'
        ? sameItems(steps, stepsOf(standing))
        : isAsItWas(before, standing, cell);
    if (!isSame) changed(cell);
  }
}

function sameItems(some: readonly unknown[], others: readonly unknown[]): boolean {
  return some.length === others.length && some.every((each, i) => each === others[i]);
}

/** The declaration behind what questions see of it; undefined for one as it is read. */
export function standingBehind(seen: Placed): Standing | undefined {
  return 'standing' in seen ? (seen as unknown as Seen).standing : undefined;
}
