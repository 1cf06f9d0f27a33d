// Builds what a variant sees of a spec from the trees of its files. What a declaration says is gathered once for each text and kept.
import type { Parsed } from '../../grammar/parse.ts';
import type { Name, Statement, Value } from '../../grammar/tree.ts';
import { holdsFor, type Placed, type ReadFile, statementsFor } from './placed.ts';
import { angleUnitIn } from './stage-kind.ts';
import type {
  Declared,
  Drive,
  Engine,
  Fastener,
  FastenerStage,
  Grades,
  Job,
  Limit,
  Part,
  PartDimension,
  PartMark,
  PlaceGroup,
  Sequence,
  Step,
  Supply,
  Thing,
  ValveTiming,
  View,
} from './view.ts';

/** A declaration that shares its name with an earlier one of the same variant. */
export interface Duplicate {
  readonly first: Placed;
  readonly second: Placed;
}

export interface BuiltView extends View {
  /** Names of the same set that are declared twice for this variant, those that differ in capitals alone too. */
  readonly duplicates: readonly Duplicate[];
  readonly steps: readonly Step[];
  readonly specs: readonly Placed[];
  readonly engines: readonly Placed[];
  /** A file that is used could not be found, so that what is not declared here may be declared there. */
  readonly incomplete: boolean;
  /** Names that may be declared where something could not be read; the same set as long as they are the same names. */
  readonly perhaps: ReadonlySet<string>;
}

type Without<thing> = Omit<thing, 'placed' | 'steps'>;
type Gathered = Without<Thing>;

const kept = new WeakMap<Parsed, Map<string, Gathered | undefined>>();

function gathered(placed: Placed, variant: string | undefined): Gathered | undefined {
  let byVariant = kept.get(placed.parsed);
  if (byVariant === undefined) {
    byVariant = new Map();
    kept.set(placed.parsed, byVariant);
  }
  const key = variant ?? '';
  if (!byVariant.has(key)) byVariant.set(key, gather(placed, variant));
  return byVariant.get(key);
}

function isBroken(placed: Placed, statements: readonly Statement[]): boolean {
  return (
    placed.declaration.broken ||
    statements.some((statement) => statement.kind === 'broken') ||
    placed.section.unclosedBraces.length > 0
  );
}

function gather(placed: Placed, variant: string | undefined): Gathered | undefined {
  const { declaration } = placed;
  if (declaration.name === undefined) return undefined;
  const statements = statementsFor(declaration.body?.statements, variant);
  const common = {
    name: declaration.name.text,
    title: declaration.title?.value,
    declaration,
    statements,
    broken: isBroken(placed, statements),
  };
  switch (declaration.word) {
    case 'part':
      return partOf(common, statements);
    case 'fastener':
      return fastenerOf(common, statements);
    case 'supply':
      return supplyOf(common, statements);
    case 'grades':
      return {
        ...common,
        kind: 'grades',
        by: declaration.by,
        rows: statements.flatMap((each) => (each.kind === 'grade' ? [{ name: each.name, value: each.value }] : [])),
      } as Without<Grades>;
    case 'drive':
      return driveOf(common, statements);
    case 'valve-timing':
      return { ...common, kind: 'valve-timing', shaft: declaration.on?.text } as Without<ValveTiming>;
    case 'limit':
      return {
        ...common,
        kind: 'limit',
        sort: declaration.limit?.kind?.word,
        each: declaration.each,
        of: declaration.of,
        expression: declaration.limit?.expression,
        measured: declaration.limit?.measured !== undefined,
        within: declaration.limit?.within,
        wearLimit: declaration.limit?.wearLimit,
      } as Without<Limit>;
    case 'sequence':
      return {
        ...common,
        kind: 'sequence',
        phase: choiceIn(statements, 'phase'),
        startsWith: namesIn(statements, 'starts-with'),
        after: namesIn(statements, 'after'),
      } as Without<Sequence>;
    case 'step':
      return {
        ...common,
        kind: 'step',
        each: declaration.each,
        trial: flagIn(statements, 'trial'),
        after: namesIn(statements, 'after'),
      } as Without<Step>;
    case 'job':
      return jobOf(common, statements);
    default:
      return undefined;
  }
}

type Common = Omit<Declared, 'placed'>;

function flagIn(statements: readonly Statement[], word: string): boolean {
  return statements.some((each) => each.kind === 'flag' && each.word === word);
}

function choiceIn(statements: readonly Statement[], word: string): string | undefined {
  const found = statements.find((each) => each.word === word);
  return found?.kind === 'choice' && found.choice.known ? found.choice.word : undefined;
}

function namesIn(statements: readonly Statement[], word: string): readonly Name[] {
  return statements.flatMap((each) => (each.kind === 'names' && each.word === word ? each.names : []));
}

function valueIn(statements: readonly Statement[], word: string): Value | undefined {
  const found = statements.find((each) => each.word === word);
  return found?.kind === 'value' ? found.value : undefined;
}

function wholeIn(statements: readonly Statement[], word: string): number | undefined {
  const found = statements.find((each) => each.word === word);
  return found?.kind === 'number' && /^\d{1,6}$/.test(found.number.text) ? Number(found.number.text) : undefined;
}

function textIn(statements: readonly Statement[], word: string): boolean {
  return statements.some((each) => each.word === word);
}

/** `upper 1..5, lower 1..5`; a name without numbers is one place. */
function placeGroups(statements: readonly Statement[], count: number | undefined): readonly PlaceGroup[] {
  const groups = new Map<string | undefined, number>();
  for (const each of statements) {
    if (each.kind !== 'places') continue;
    for (const place of each.places) {
      const size = place.from === undefined ? 1 : (place.to ?? place.from) - place.from + 1;
      groups.set(place.name?.text, (groups.get(place.name?.text) ?? 0) + Math.max(1, Math.min(size, 1000)));
    }
  }
  if (groups.size === 0) return [{ name: undefined, count: Math.max(1, count ?? 1) }];
  const named = [...groups].map(([name, size]) => ({ name, count: size }));
  // `part valve x8` with `places inlet, exhaust` has four of each.
  const total = named.reduce((sum, group) => sum + group.count, 0);
  if (count !== undefined && count > total && named.every((group) => group.count === 1) && count % total === 0)
    return named.map((group) => ({ ...group, count: count / total }));
  return named;
}

function dimensionOf(each: Statement): PartDimension | undefined {
  if (each.kind === 'dimension')
    return {
      name: each.name.text,
      count: Math.max(1, each.count?.value ?? 1),
      value: each.value,
      wearLimit: each.wearLimit,
      statement: each,
    };
  if (each.kind === 'figure')
    return { name: each.name.text, count: 1, value: each.value, wearLimit: each.wearLimit, statement: each };
  return undefined;
}

function partOf(common: Common, statements: readonly Statement[]): Without<Part> {
  const places = placeGroups(statements, common.declaration.count?.value);
  const dimensions = new Map<string, PartDimension>();
  const figures = new Map<string, PartDimension>();
  const marks = new Map<string, PartMark>();
  const features = new Map<string, Name>();
  const names = new Set<string>();
  const sizes = new Map<string, Statement>();
  const covers: Part['covers'][number][] = [];
  for (const each of statements) {
    const dimension = dimensionOf(each);
    if (dimension !== undefined) (each.kind === 'dimension' ? dimensions : figures).set(dimension.name, dimension);
    if (each.kind === 'mark')
      marks.set(each.name.text, { name: each.name.text, at: each.at, against: each.against, statement: each });
    if (each.kind === 'names' && each.word === 'feature') for (const name of each.names) features.set(name.text, name);
    if (each.kind === 'size') sizes.set(each.name.text, each);
    if (each.kind === 'orient') for (const rule of each.rules) names.add(rule.feature.text);
    if (each.kind === 'value' || each.kind === 'number') names.add(each.word);
    if (each.kind === 'covers')
      for (const reference of each.covered)
        covers.push({ part: reference.owner.text, mark: reference.feature?.text, reference });
  }
  for (const key of [...dimensions.keys(), ...figures.keys(), ...marks.keys(), ...features.keys()]) names.add(key);
  return {
    ...common,
    kind: 'part',
    count: places.reduce((sum, group) => sum + group.count, 0),
    places,
    dimensions,
    figures,
    marks,
    features,
    featureNames: names,
    sizes,
    wall: valueIn(statements, 'wall'),
    teeth: wholeIn(statements, 'teeth'),
    links: wholeIn(statements, 'links'),
    pitch: valueIn(statements, 'pitch'),
    fixedTo: namesIn(statements, 'fixed-to')[0]?.text,
    heldBack: textIn(statements, 'held-back'),
    singleUse: flagIn(statements, 'single-use'),
    matched: flagIn(statements, 'matched'),
    securedBy: choiceIn(statements, 'secured-by'),
    onOrder: textIn(statements, 'on-order'),
    covers,
  };
}

function stageOf(stage: {
  readonly kind: string;
  readonly value?: Value;
  readonly start: number;
  readonly end: number;
}): FastenerStage {
  const span = { start: stage.start, end: stage.end };
  if (stage.kind === 'slacken' || stage.kind === 'hand-tight' || stage.kind === 'contact')
    return { kind: stage.kind, value: undefined, span };
  const unit = angleUnitIn(stage.value);
  return { kind: unit === 'angle' ? 'angle' : unit === 'torque' ? 'torque' : 'unreadable', value: stage.value, span };
}

function fastenerOf(common: Common, statements: readonly Statement[]): Without<Fastener> {
  const clamps: Fastener['clamps'][number][] = [];
  let to: Fastener['to'];
  let each: string | undefined;
  let thread: string | undefined;
  let strengthClass: string | undefined;
  const stages: FastenerStage[] = [];
  for (const statement of statements) {
    if (statement.kind === 'clamps') {
      for (const reference of statement.clamped)
        clamps.push({ part: reference.owner.text, places: reference.places, reference });
      if (statement.to !== undefined) to = { part: statement.to.owner.text, reference: statement.to };
    }
    if (statement.kind === 'each') each = statement.of.owner.text;
    if (statement.kind === 'thread') thread = statement.designation;
    if (statement.kind === 'class') strengthClass = statement.class.text;
    if (statement.kind === 'torque') stages.push(...statement.stages.map(stageOf));
  }
  return {
    ...common,
    kind: 'fastener',
    count: Math.max(1, common.declaration.count?.value ?? 1),
    each,
    thread,
    strengthClass,
    clamps,
    to,
    stages,
    joint: choiceIn(statements, 'joint'),
    fitted: choiceIn(statements, 'fitted'),
    surface: choiceIn(statements, 'surface'),
    into: choiceIn(statements, 'into'),
    singleUse: flagIn(statements, 'single-use'),
    securedBy: choiceIn(statements, 'secured-by'),
    onOrder: textIn(statements, 'on-order'),
  };
}

function supplyOf(common: Common, statements: readonly Statement[]): Without<Supply> {
  return { ...common, kind: 'supply', sort: choiceIn(statements, 'kind'), cure: valueIn(statements, 'cure') };
}

function driveOf(common: Common, statements: readonly Statement[]): Without<Drive> {
  const wraps: Drive['wraps'][number][] = [];
  const meshes: Drive['meshes'][number][] = [];
  const ratios: Drive['ratios'][number][] = [];
  const markedLinks: Drive['markedLinks'][number][] = [];
  let marksAgree: Drive['marksAgree'];
  for (const each of statements) {
    if (each.kind === 'wrap')
      wraps.push({
        sort: each.word === 'belt' ? 'belt' : 'chain',
        part: each.part.text,
        wheels: each.wheels.map((wheel) => ({ part: wheel.name.text, onBack: wheel.onBack, span: wheel })),
        statement: each,
      });
    if (each.kind === 'mesh') meshes.push({ first: each.first.text, second: each.second.text, statement: each });
    if (each.kind === 'ratio-of')
      ratios.push({
        first: each.first.text,
        second: each.second.text,
        over: [each.ratio.first.text, each.ratio.second.text],
        statement: each,
      });
    if (each.kind === 'marks-agree') marksAgree = { cylinder: each.tdc.cylinder.value, stroke: each.tdc.stroke?.word };
    if (each.kind === 'marked-link')
      markedLinks.push({
        links: each.links.map((link) => link.value),
        part: each.mark.owner.text,
        mark: each.mark.feature?.text,
        eitherSide: each.eitherSide,
        statement: each,
      });
  }
  return {
    ...common,
    kind: 'drive',
    wraps,
    meshes,
    ratios,
    marksAgree,
    markedLinks,
    tensioners: namesIn(statements, 'tensioner').map((name) => name.text),
  };
}

function jobOf(common: Common, statements: readonly Statement[]): Without<Job> {
  const begins = statements.find((each) => each.kind === 'begins');
  return {
    ...common,
    kind: 'job',
    begins: begins?.kind === 'begins' ? { how: begins.how, sequence: begins.sequence?.text } : undefined,
    sequences: namesIn(statements, 'sequences'),
    variants: namesIn(statements, 'variant').map((name) => name.text),
  };
}

function engineOf(placed: Placed, variant: string | undefined): Engine {
  const statements = statementsFor(placed.declaration.body?.statements, variant);
  const cylinders = statements.find((each) => each.kind === 'cylinders');
  const cycle = choiceIn(statements, 'cycle');
  const rotation = choiceIn(statements, 'rotation');
  return {
    placed,
    declaration: placed.declaration,
    statements,
    broken: isBroken(placed, statements),
    cylinders: cylinders?.kind === 'cylinders' ? cylinders.count.value : undefined,
    layout: cylinders?.kind === 'cylinders' && cylinders.layout?.known === true ? cylinders.layout.word : undefined,
    cycle: cycle === 'two-stroke' || cycle === 'four-stroke' ? cycle : undefined,
    rotation: rotation === 'clockwise' || rotation === 'anticlockwise' ? rotation : undefined,
    interference: flagIn(statements, 'interference'),
  };
}

const foldedNames = new Map<string, string>();

/** A name without capitals. Kept, since every name is asked for after every edit. */
function foldedName(name: string): string {
  let folded = foldedNames.get(name);
  if (folded === undefined) {
    folded = name.toLowerCase();
    if (foldedNames.size > 100_000) foldedNames.clear();
    foldedNames.set(name, folded);
  }
  return folded;
}

const keptThings = new WeakMap<Placed, Map<string, Thing>>();

/** The thing that a placed declaration is for a variant; the same object as long as it stands where it stood. */
function thingOf(placed: Placed, variant: string | undefined): Thing | undefined {
  const key = variant ?? '';
  const known = keptThings.get(placed);
  const thing = known?.get(key);
  if (thing !== undefined) return thing;
  const data = gathered(placed, variant);
  if (data === undefined) return undefined;
  const made = (data.kind === 'sequence'
    ? { ...data, placed, steps: stepsOf(placed, variant) }
    : { ...data, placed }) as unknown as Thing;
  if (known === undefined) keptThings.set(placed, new Map([[key, made]]));
  else known.set(key, made);
  return made;
}

const keptSets = new Map<string, ReadonlySet<string>>();

function perhapsIn(files: readonly ReadFile[]): ReadonlySet<string> {
  const names = files.flatMap((file) =>
    file.sections.filter((section) => section.hasFaults).flatMap((section) => section.perhaps),
  );
  const key = [...new Set(names)].sort().join(' ');
  let set = keptSets.get(key);
  if (set === undefined) {
    if (keptSets.size > 1000) keptSets.clear();
    set = new Set(names);
    keptSets.set(key, set);
  }
  return set;
}

/** All holding declarations of some files for a variant; the first file's own come first. */
export function buildView(files: readonly ReadFile[], variant: string | undefined, incomplete = false): BuiltView {
  const things = new Map<string, Thing>();
  const folded = new Map<string, Placed>();
  const duplicates: Duplicate[] = [];
  const lists: { [kind in Thing['kind']]: Thing[] } = {
    part: [],
    fastener: [],
    supply: [],
    grades: [],
    drive: [],
    'valve-timing': [],
    limit: [],
    sequence: [],
    step: [],
    job: [],
  };
  const specs: Placed[] = [];
  const engines: Placed[] = [];
  const tables: Grades[] = [];

  const enter = (thing: Thing): void => {
    lists[thing.kind].push(thing);
    const key = foldedName(thing.name);
    const first = folded.get(key);
    if (first !== undefined) duplicates.push({ first, second: thing.placed });
    else {
      folded.set(key, thing.placed);
      things.set(thing.name, thing);
    }
  };
  for (const file of files) {
    for (const placed of file.declarations) {
      if (!holdsFor(placed, variant)) continue;
      const { word } = placed.declaration;
      if (word === 'spec') specs.push(placed);
      else if (word === 'engine') engines.push(placed);
      const thing = thingOf(placed, variant);
      if (thing === undefined) continue;
      if (thing.kind === 'grades') tables.push(thing);
      else enter(thing);
      if (thing.kind === 'sequence') for (const step of thing.steps) enter(step);
    }
  }
  // A table of grades of a part that is declared is about that part; without one it stands for a thing of its own.
  for (const table of tables) {
    const known = things.get(table.name);
    if (known?.kind === 'part') lists.grades.push(table);
    else enter(table);
  }
  const engine = engines[0];
  const own = specs[0];
  return {
    variant,
    things,
    engine: engine === undefined ? undefined : engineOf(engine, variant),
    parts: lists.part as Part[],
    fasteners: lists.fastener as Fastener[],
    supplies: lists.supply as Supply[],
    grades: lists.grades as Grades[],
    drives: lists.drive as Drive[],
    valveTimings: lists['valve-timing'] as ValveTiming[],
    limits: lists.limit as Limit[],
    sequences: lists.sequence as Sequence[],
    jobs: lists.job as Job[],
    steps: lists.step as Step[],
    draft:
      own !== undefined &&
      own.file === files[0]?.file &&
      flagIn(statementsFor(own.declaration.body?.statements, variant), 'draft'),
    duplicates,
    specs,
    engines,
    incomplete,
    perhaps: perhapsIn(files),
  };
}

/** The steps of a sequence for a variant, in the order written; a `when` round steps counts. */
function stepsOf(sequence: Placed, variant: string | undefined): readonly Step[] {
  return statementsFor(sequence.declaration.body?.statements, variant).flatMap((each) => {
    if (each.kind !== 'hole') return [];
    const placed = sequence.steps[each.hole];
    const step = placed === undefined ? undefined : thingOf(placed, variant);
    return step?.kind === 'step' ? [step] : [];
  });
}
