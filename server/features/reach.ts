// What it takes to get at a part: what comes off, in which order and why, what is drained, held back, set, new, proved, measured and
// filled again. Worked out backwards from how the engine goes together. How it is told is in reach-text.ts, as a job in reach-job.ts.

import { type Told, told } from '../../grammar/told.ts';
import { crankshaftOf, shaftOf, workOutDrive } from '../model/drive-sums.ts';
import { isA, type TradeKind } from '../model/trade-names.ts';
import type { Drive, Fastener, Limit, Part, Sequence, Step, View } from '../model/view.ts';
import { worksValves } from '../rehearsal/disturb.ts';
import { placesIn } from '../rehearsal/places.ts';
import { byPhase, plansOf } from '../rehearsal/plan.ts';
import { holdsCoolant, holdsOil, isGasket } from './comes-with.ts';
import { turningParts } from './drive-parts.ts';
import { type Build, type BuildAction, buildOf } from './how-it-went-on.ts';
import { boreOf, mayBeInTheWay, type Surety } from './in-the-way.ts';
import { allPlacesOf, areAll, type Places, placesAlong, screwWords } from './reach-places.ts';
import { coversOf, type Off, whatComesOff } from './what-comes-off.ts';

export interface Undo {
  readonly fastener: Fastener;
  /** As a spec names its screws: `rod-bolt 3`. */
  readonly words: string;
}

export interface ComesOff {
  readonly part: Part;
  readonly places: Places;
  /** Why, in words; for the part that was asked for, empty. */
  readonly why: Told | undefined;
  readonly surety: Surety;
  /** The part that it comes off for. */
  readonly of: Part | undefined;
  /** What it is taken off with in one piece. */
  readonly along?: string;
  /** The fasteners to undo for it. */
  readonly undo: readonly Undo[];
}

export interface Reached {
  readonly part: Part;
  readonly places: Places;
  /** In the order of the work. The part asked for is the last, but for what lies under it and goes with it. */
  readonly off: readonly ComesOff[];
  /** Fitted after the part, and nothing says whether they are in the way. */
  readonly look: readonly Part[];
  /** Held back before they, or what runs over them, come off. */
  readonly holdBack: readonly Part[];
  /** Disconnected first, connected last. */
  readonly disconnect: readonly Part[];
  readonly fresh: readonly (Part | Fastener)[];
  readonly drives: readonly Drive[];
  /** Drives that are set to their marks and looked at before they are opened: their marks agree once in every cycle. */
  readonly marked: readonly Drive[];
  /** Measured or adjusted again. */
  readonly limits: readonly Limit[];
  /** Parts that are drained before, and filled again after. */
  readonly drain: readonly { readonly part: Part; readonly fluid: string }[];
  /** Parts that hold something and stay, under a part that comes off. */
  readonly mayLeak: readonly Part[];
  /** Tightened again after the first run. */
  readonly retorque: readonly Fastener[];
  /** What is to be looked at besides, in words. */
  readonly notes: readonly Told[];
  /** The steps that put all of it back, in order. */
  readonly again: readonly { readonly sequence: Sequence; readonly step: Step }[];
}

/** Phases in which an engine is not put together. */
const NOT_BUILDING = ['teardown', 'run-in', 'store'];

/** The sequences of a job on a bare engine, else all that no job on a whole engine has. */
export function wholeBuild(view: View, file: string): readonly Sequence[] {
  const plans = plansOf(view, file);
  const plan = plans.find((each) => each.begins === 'bare' && each.sequences.length > 0);
  if (plan !== undefined) return plan.sequences;
  // What a job on a whole engine puts back says nothing of how the engine was built, where anything else does.
  const refits = new Set(plans.filter((each) => each.job !== undefined).flatMap((each) => each.sequences));
  const all = byPhase(view.sequences);
  const building = all.filter((each) => !refits.has(each));
  return building.some(isBuilding) ? building : all;
}

function isBuilding({ phase }: Sequence): boolean {
  return !NOT_BUILDING.includes(phase ?? '');
}

/** The sequences that put the engine together. */
export function buildingSequences(view: View, file: string): readonly Sequence[] {
  return wholeBuild(view, file).filter(isBuilding);
}

const named = (off: readonly Off[]): ReadonlySet<string> => new Set(off.map(({ part }) => part.name));

function undoneBy(names: ReadonlySet<string>, view: View): ReadonlySet<string> {
  return new Set(
    view.fasteners
      .filter((each) => each.joint !== 'stud' && each.clamps.some((clamp) => names.has(clamp.part)))
      .map((each) => each.name),
  );
}

/** The actions that put back and tighten what has come off and been undone. */
function againIn(
  actions: readonly BuildAction[],
  names: ReadonlySet<string>,
  undone: ReadonlySet<string>,
): readonly BuildAction[] {
  return actions.filter(
    ({ action, step }) =>
      !step.trial &&
      action.targets.some((target) =>
        action.word === 'fit'
          ? names.has(target.owner.text)
          : action.word === 'tighten' && undone.has(target.owner.text),
      ),
  );
}

/** Limits that the steps to be done again measure or adjust, and those of parts that come off. */
function limitsIn(
  actions: readonly BuildAction[],
  steps: ReadonlySet<Step>,
  moves: ReadonlySet<string>,
  view: View,
): readonly Limit[] {
  const found = actions.flatMap(({ action, step }) => {
    if ((action.word !== 'measure' && action.word !== 'adjust') || step.trial) return [];
    return action.targets.flatMap((target) => {
      const limit = view.things.get(target.owner.text);
      if (limit?.kind !== 'limit') return [];
      const of = (limit.of ?? limit.each)?.owner.text;
      const isOff =
        (of !== undefined && moves.has(of)) || (limit.sort === 'valve-lash' && [...moves].some(worksValves));
      // Rings that stay on their piston are not gapped again.
      return isOff || (steps.has(step) && limit.sort !== 'ring-gap') ? [limit] : [];
    });
  });
  return [...new Set(found)];
}

/** What comes off, with what has to come off to measure again what that disturbs. */
function offAndLimits(
  part: Part,
  places: Places,
  build: Build,
): { readonly off: readonly Off[]; readonly limits: readonly Limit[] } {
  const { view, actions } = build;
  const asked: Off[] = [{ part, places, why: undefined, surety: 'said', of: undefined }];
  for (;;) {
    const off = whatComesOff(asked, build);
    const names = named(off);
    const again = againIn(actions, names, undoneBy(names, view));
    const limits = limitsIn(actions, new Set(again.map(({ step }) => step)), names, view);
    const before = asked.length;
    for (const limit of limits) {
      const of = (limit.of ?? limit.each)?.owner.text;
      for (const name of of === undefined ? [] : coversOf(of, view)) {
        const cover = build.part(name);
        if (cover === undefined || names.has(name) || asked.some((each) => each.part === cover) || build.last(name) < 0)
          continue;
        asked.push({
          part: cover,
          places: allPlacesOf(cover),
          why: told`covers ${of ?? ''}, for ${limit.name}`,
          surety: 'said',
          of: build.part(of ?? ''),
        });
      }
    }
    if (asked.length === before) return { off, limits };
  }
}

/** The fasteners of each part, each told once, at the first part that it holds. */
function withUndo(off: readonly Off[], view: View): readonly ComesOff[] {
  const undone = new Set<Fastener>();
  return off.map((each) => {
    const undo = view.fasteners.filter(
      (fastener) =>
        !undone.has(fastener) &&
        fastener.joint !== 'stud' &&
        fastener.clamps.some((clamp) => clamp.part === each.part.name),
    );
    for (const fastener of undo) undone.add(fastener);
    return {
      ...each,
      undo: undo.map((fastener) => ({ fastener, words: screwWords(fastener, each.part, each.places, view) })),
    };
  });
}

/** Parts that something is filled into, with what it is. */
function filledIn(
  { view, part }: Build,
  sequences: readonly Sequence[],
): readonly { readonly part: Part; readonly fluid: string }[] {
  const found = new Map<string, string>();
  const actions = sequences.flatMap(({ steps }) => steps.flatMap(({ statements }) => statements));
  for (const action of actions) {
    if (action.kind !== 'action' || action.word !== 'fill') continue;
    const supply = view.things.get(action.with?.owner.text ?? '');
    const sort = supply?.kind === 'supply' ? supply.sort : undefined;
    const fluid = sort ?? (/cool|water/i.test(action.with?.owner.text ?? '') ? 'coolant' : 'oil');
    for (const { owner } of action.targets) if (!found.has(owner.text)) found.set(owner.text, fluid);
  }
  return [...found].flatMap(([name, fluid]) => {
    const each = part(name);
    return each === undefined ? [] : [{ part: each, fluid }];
  });
}

function shaftsMoved(names: ReadonlySet<string>, view: View, drive: Drive): boolean {
  return turningParts(drive).some((name) => names.has(name) || names.has(shaftOf(view, name)));
}

/** Once in every cycle the marks agree, so that they can be looked at before the drive is opened. */
function marksAgreeOften(drive: Drive, view: View): boolean {
  const { marksReturn } = workOutDrive(drive, view);
  return (
    drive.marksAgree !== undefined &&
    marksReturn !== undefined &&
    marksReturn <= (view.engine?.cycle === 'two-stroke' ? 1 : 2)
  );
}

function notesOf(part: Part, off: readonly Off[], build: Build): readonly Told[] {
  const bore = boreOf(build);
  const onTop =
    off.some(({ why }) => why?.text === 'closes the bore at the top') ||
    off.some(({ part: each }) => isA(each.name, 'head'));
  const out = off.some(({ part: each }) => isA(each.name, 'piston') || isA(each.name, 'rod'));
  const carries =
    out &&
    bore !== undefined &&
    onTop &&
    !off.some(({ part: each, why }) => each === bore && why?.text.startsWith('is over'));
  const isSaid =
    part.outThrough !== undefined ||
    off.some(({ part: each }) => isA(each.name, 'piston') && each.outThrough !== undefined);
  return carries
    ? [
        isSaid
          ? told`Rod and piston come out at the top of ${told.thing(bore)}: look for a ridge there first, and take it down, or the rings catch on it.`
          : told`Rod and piston come out at the top of ${told.thing(bore)} (told from how they went in: say out-through to settle it): look for a ridge there first, and take it down, or the rings catch on it.`,
      ]
    : [];
}

/** What no coolant stands behind, whatever it is bolted to. Common practice, no source. */
const NO_COOLANT: readonly TradeKind[] = [
  'seal',
  'rear-seal-carrier',
  'front-seal-carrier',
  'flywheel',
  'crank-pulley',
  'oil-pump',
  'pickup',
  'sump',
  'crankshaft',
  'cap',
  'shell',
  'thrust',
  'wheel',
];

/** What the spec's own teardown drains that ends with this part: who wrote it knows the engine. */
function drainedFor(part: Part, view: View): ReadonlySet<string> {
  return new Set(
    view.sequences
      .filter((sequence) => sequence.phase === 'teardown' && endsWith(sequence, part.name))
      .flatMap(({ steps }) =>
        steps.flatMap((step) =>
          step.statements.flatMap((each) =>
            each.kind === 'action' && each.word === 'drain' ? each.targets.map(({ owner }) => owner.text) : [],
          ),
        ),
      ),
  );
}

/** Whether a part is the last that a teardown takes off: all before it comes off for it. */
function endsWith({ steps }: Sequence, name: string): boolean {
  const removed = steps.flatMap(({ statements }) =>
    statements.flatMap((each) => (each.kind === 'action' && each.word === 'remove' ? [each.targets] : [])),
  );
  return removed.at(-1)?.some(({ owner }) => owner.text === name) ?? false;
}

/** Works out what a part needs to be got at, from the sequences that build the engine. */
export function reach(part: Part, view: View, file: string, places: Places = allPlacesOf(part)): Reached {
  const build = buildOf(buildingSequences(view, file), view);
  const found = offAndLimits(part, places, build);
  const off = withUndo(found.off, view);
  const names = named(off);
  const isOff = (name: string): boolean => names.has(name);
  const drives = view.drives.filter((drive) => shaftsMoved(names, view, drive) || drive.tensioners.some(isOff));
  const undone = new Set(off.flatMap(({ undo }) => undo.map(({ fastener }) => fastener)));
  const again = againIn(build.actions, names, new Set([...undone].map(({ name }) => name)));
  const holding = filledIn(build, wholeBuild(view, file));
  const isWet = ({ part: each, fluid }: { readonly part: Part; readonly fluid: string }): boolean =>
    isOff(each.name) ||
    off.some(({ part: other }) =>
      (fluid === 'coolant' ? holdsCoolant : fluid === 'oil' ? holdsOil : () => false)(other.name),
    );
  const byOwnJob = drainedFor(part, view);
  const drain = holding.filter((each) => isWet(each) || byOwnJob.has(each.part.name));
  const steps = new Map(again.map(({ step, sequence }) => [step, { step, sequence }]));
  const opensElectrics = off.some(({ part: each }) => isA(each.name, 'head'));
  return {
    part,
    places,
    off,
    look: mayBeInTheWay(part, build, isOff),
    holdBack: view.parts.filter(
      (each) => each.heldBack && (isOff(each.name) || drives.some((drive) => drive.tensioners.includes(each.name))),
    ),
    disconnect: view.parts.filter(
      ({ name }) =>
        !isOff(name) &&
        ((isA(name, 'battery-lead') && (drain.length > 0 || drives.length > 0)) ||
          (isA(name, 'plug-lead') && opensElectrics)),
    ),
    fresh: [...off.map((each) => each.part), ...undone].filter((thing) => thing.singleUse),
    drives,
    marked: crankshaftOf(view) === undefined ? [] : drives.filter((drive) => marksAgreeOften(drive, view)),
    limits: found.limits,
    drain,
    mayLeak: holding
      .filter(
        (each) =>
          !drain.includes(each) &&
          off.some(
            ({ part: other }) =>
              build.mates(other.name).includes(each.part.name) &&
              !isGasket(other.name) &&
              !(each.fluid === 'coolant' && isA(other.name, ...NO_COOLANT)),
          ),
      )
      .map((each) => each.part),
    retorque: [...undone].filter(({ statements }) => statements.some((each) => each.kind === 'retorque')),
    notes: notesOf(part, found.off, build),
    again: [...steps.values()],
  };
}

/** The places of a limit that are concerned, where not all are: of the part that it is each of. */
export function placesOfLimit(
  limit: Limit,
  reached: Reached,
  view: View,
): { readonly part: Part; readonly places: Places } | undefined {
  const of = limit.each?.owner.text;
  const part = of === undefined ? undefined : view.things.get(of);
  if (part?.kind !== 'part') return undefined;
  const own = reached.off.find((each) => each.part === part);
  const along = own?.places ?? placesAlong(reached.part, reached.places, part, view);
  if (areAll(part, along) || (own === undefined && areAll(reached.part, reached.places))) return undefined;
  // A limit may be each of the inlet rockers alone.
  const each = new Set(placesIn(part, limit.each?.places ?? []));
  return { part, places: new Set([...along].filter((i) => each.has(i))) };
}
