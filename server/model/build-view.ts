// Builds what a variant sees of a spec from what its files declare: every name with its thing, and the things of each kind.
import { apart } from '../../grammar/characters.ts';
import { atOnce, type InPieces } from '../../grammar/give-way.ts';
import { engineOf, gathered, saysByVariant } from './declared-data.ts';
import { foldedName } from './folded-name.ts';
import { allLikened } from './likeness.ts';
import { holdsFor, type Placed, type ReadFile, statementsFor } from './placed.ts';
import { flagIn } from './statements.ts';
import type {
  Drive,
  Duplicate,
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
  View,
} from './view.ts';

export interface BuiltView extends View {
  readonly steps: readonly Step[];
  readonly engines: readonly Placed[];
  /** A file that is used could not be found, so that what is not declared here may be declared there. */
  readonly incomplete: boolean;
  /** Names that may be declared where something could not be read; the same set as long as they are the same names. */
  readonly perhaps: ReadonlySet<string>;
}

const cachedThings = new WeakMap<Placed, Map<string, Thing>>();

/** The thing that a placed declaration is for a variant; the same object as long as it stands where it stood. */
export function thingOf(placed: Placed, variant: string | undefined): Thing | undefined {
  // What says the same for every variant is one thing.
  const key = placed.steps.length > 0 || saysByVariant(placed) ? (variant ?? '') : '';
  const known = cachedThings.get(placed);
  const thing = known?.get(key);
  if (thing !== undefined) return thing;
  const data = gathered(placed, variant);
  if (data === undefined) return undefined;
  const made = (data.kind === 'sequence'
    ? { placed, steps: stepsOf(placed, variant), ...data }
    : { placed, ...data }) as unknown as Thing;
  if (known === undefined) cachedThings.set(placed, new Map([[key, made]]));
  else known.set(key, made);
  return made;
}

const cachedSets = new Map<string, ReadonlySet<string>>();

/** The names that may be declared where something in these files could not be read; the same set for the same names. */
export function perhapsIn(files: readonly ReadFile[]): ReadonlySet<string> {
  const names: string[] = [];
  for (const file of files) for (const section of file.notable) if (section.hasFaults) names.push(...section.perhaps);
  const key = [...new Set(names)].sort().join(' ');
  let set = cachedSets.get(key);
  if (set === undefined) {
    if (cachedSets.size > 1000) cachedSets.clear();
    set = new Set(names.map(apart));
    cachedSets.set(key, set);
  }
  return set;
}

/** All holding declarations of some files for a variant; the first file's own come first. */
export function buildView(files: readonly ReadFile[], variant: string | undefined, incomplete = false): BuiltView {
  return atOnce(buildingView(files, variant, incomplete));
}

/** The same in pieces. */
export function* buildingView(
  files: readonly ReadFile[],
  variant: string | undefined,
  incomplete = false,
): InPieces<BuiltView> {
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
      // The steps of a sequence are things of their own, made before it.
      for (const step of stepsIn(placed, variant)) {
        thingOf(step, variant);
        yield;
      }
      const thing = thingOf(placed, variant);
      if (thing === undefined) continue;
      if (thing.kind === 'grades') tables.push(thing);
      else enter(thing);
      yield;
      if (thing.kind !== 'sequence') continue;
      for (const step of thing.steps) {
        enter(step);
        yield;
      }
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
    fasteners: allLikened(lists.fastener as Fastener[], things),
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

/**
 * The steps that stand in a sequence for a variant, in the order written; a `when` round steps counts. One that a spec inserts inside a `when` stands
 * among those of its base, where no `when` is round it.
 */
function stepsIn(sequence: Placed, variant: string | undefined): readonly Placed[] {
  if (sequence.steps.length === 0) return [];
  return statementsFor(sequence.declaration.body?.statements, variant).flatMap((each) => {
    const step = each.kind === 'hole' ? sequence.steps[each.hole] : undefined;
    return step !== undefined && holdsFor(step, variant) ? [step] : [];
  });
}

function stepsOf(sequence: Placed, variant: string | undefined): readonly Step[] {
  return stepsIn(sequence, variant).flatMap((placed) => {
    const step = thingOf(placed, variant);
    return step?.kind === 'step' ? [step] : [];
  });
}
