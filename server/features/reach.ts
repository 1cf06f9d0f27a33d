// What comes off to get at a part: worked out backwards from how the engine goes together. How it is told is in reach-text.ts.
import type { Drive, Fastener, Limit, Part, Sequence, Step, View } from '../model/view.ts';
import { byPhase, plansOf } from '../rehearsal/plan.ts';
import { turningParts } from './drive-parts.ts';
import { actionsOf, allOff, coversOf, type Fit, fitsOf, lastFit } from './what-comes-off.ts';

export interface ComesOff {
  readonly part: Part;
  /** Why, in words; for the part that was asked for, empty. */
  readonly why: string;
  /** The fasteners to undo for it. */
  readonly undo: readonly Fastener[];
}

export interface Reached {
  readonly part: Part;
  /** In the order of the work. The part asked for is the last, but for what lies under it and goes with it. */
  readonly off: readonly ComesOff[];
  /** Fitted after the part, and nothing says whether they are in the way. */
  readonly look: readonly Part[];
  /** Held back before they, or what runs over them, come off. */
  readonly holdBack: readonly Part[];
  readonly fresh: readonly (Part | Fastener)[];
  readonly drives: readonly Drive[];
  /** Measured or adjusted in the steps that are done again. */
  readonly limits: readonly Limit[];
  /** Parts that hold something and come off: drained before, filled again after. */
  readonly drain: readonly Part[];
  /** Parts that hold something and stay, under a part that comes off. */
  readonly mayLeak: readonly Part[];
  /** The steps that put all of it back, in order. */
  readonly again: readonly { readonly sequence: Sequence; readonly step: Step }[];
}

/** Phases in which an engine is not put together. */
const NOT_BUILDING = ['teardown', 'run-in', 'store'];

/** The sequences that put the engine together: those of a job on a bare engine, else all. */
export function buildingSequences(view: View, file: string): readonly Sequence[] {
  const plans = plansOf(view, file);
  const plan = plans.find((each) => each.begins === 'bare' && each.sequences.length > 0);
  const builds = (each: Sequence): boolean => !NOT_BUILDING.includes(each.phase ?? '');
  if (plan !== undefined) return plan.sequences.filter(builds);
  // What a job on a whole engine puts back says nothing of how the engine was built, where anything else does.
  const refits = new Set(plans.filter((each) => each.job !== undefined).flatMap((each) => each.sequences));
  const all = byPhase(view.sequences).filter(builds);
  const building = all.filter((each) => !refits.has(each));
  return building.length > 0 ? building : all;
}

/** In the order of the work: what went on last comes off first, and what lies under a part, and goes with it, after it. */
function inOrder(part: Part, names: ReadonlyMap<string, string>, view: View, fits: readonly Fit[]): readonly Part[] {
  const others = [...names.keys()].flatMap((name) => {
    const thing = view.things.get(name);
    return thing?.kind === 'part' && thing !== part ? [thing] : [];
  });
  others.sort((a, b) => lastFit(fits, b.name) - lastFit(fits, a.name));
  const isUnder = (other: Part): boolean =>
    names.get(other.name) === `lies under ${part.name}` && lastFit(fits, other.name) < lastFit(fits, part.name);
  return [...others.filter((other) => !isUnder(other)), part, ...others.filter(isUnder)];
}

/** What is measured or adjusted again, and all that comes off for it too. */
function offAndLimits(
  part: Part,
  view: View,
  fits: readonly Fit[],
  actions: ReturnType<typeof actionsOf>,
): { readonly names: ReadonlyMap<string, string>; readonly limits: readonly Limit[] } {
  const forLimits = new Map<string, string>();
  for (;;) {
    const names = allOff(part, view, fits, forLimits);
    const moves = (name: string): boolean =>
      names.has(name) || fits.some((fit) => fit.name === name && fit.mate !== undefined && names.has(fit.mate));
    const undone = undoneBy(names, view);
    const steps = new Set(againIn(actions, names, undone).map(({ step }) => step));
    const limits = limitsIn(actions, steps, moves, view);
    const before = forLimits.size;
    for (const limit of limits) {
      const of = (limit.of ?? limit.each)?.owner.text;
      for (const cover of of === undefined ? [] : coversOf(of, view))
        if (!names.has(cover) && lastFit(fits, cover) >= 0) forLimits.set(cover, `covers ${of}, for ${limit.name}`);
    }
    if (forLimits.size === before) return { names, limits };
  }
}

function undoneBy(names: ReadonlyMap<string, string>, view: View): ReadonlySet<string> {
  return new Set(
    view.fasteners.filter((each) => each.clamps.some((clamp) => names.has(clamp.part))).map((each) => each.name),
  );
}

/** The actions that put back and tighten what has come off and been undone. */
function againIn(
  actions: ReturnType<typeof actionsOf>,
  names: ReadonlyMap<string, string>,
  undone: ReadonlySet<string>,
): ReturnType<typeof actionsOf> {
  return actions.filter(({ action }) =>
    action.targets.some((target) =>
      action.word === 'fit' ? names.has(target.owner.text) : action.word === 'tighten' && undone.has(target.owner.text),
    ),
  );
}

/** Works out what a part needs to be got at, from the sequences that build the engine. */
export function reach(part: Part, view: View, file: string): Reached {
  const sequences = buildingSequences(view, file);
  const fits = fitsOf(sequences);
  const actions = actionsOf(sequences);
  const { names, limits } = offAndLimits(part, view, fits, actions);
  const isOff = (name: string): boolean => names.has(name);
  const parts = inOrder(part, names, view, fits);
  const undone = new Set<Fastener>();
  const off = parts.map((each) => {
    const undo = view.fasteners.filter(
      (fastener) => !undone.has(fastener) && fastener.clamps.some((clamp) => clamp.part === each.name),
    );
    for (const fastener of undo) undone.add(fastener);
    return { part: each, why: names.get(each.name) ?? '', undo };
  });
  const drives = view.drives.filter((drive) => turningParts(drive).some(isOff));
  const again = againIn(actions, names, new Set([...undone].map((each) => each.name)));
  const holding = filledIn(actions, view);
  const steps = new Map(again.map(({ step, sequence }) => [step, { step, sequence }]));
  return {
    part,
    off,
    look: lookAt(part, view, fits, isOff),
    holdBack: view.parts.filter(
      (each) => each.heldBack && (isOff(each.name) || drives.some((drive) => drive.tensioners.includes(each.name))),
    ),
    fresh: [...parts, ...undone].filter((thing) => thing.singleUse),
    drives,
    limits,
    drain: holding.filter((each) => isOff(each.name)),
    mayLeak: holding.filter(
      (each) => !isOff(each.name) && fits.some((fit) => isOff(fit.name) && fit.mate === each.name),
    ),
    again: [...steps.values()],
  };
}

/** What went on after a part in the same step, or onto the same part in the same sequence. */
function lookAt(part: Part, view: View, fits: readonly Fit[], isOff: (name: string) => boolean): readonly Part[] {
  const own = fits.filter((fit) => fit.name === part.name);
  const names = fits.flatMap((fit) => {
    const after = own.filter((each) => each.order < fit.order);
    const near = after.some(
      (each) =>
        each.step === fit.step || (each.sequence === fit.sequence && each.mate !== undefined && each.mate === fit.mate),
    );
    return near && !isOff(fit.name) ? [fit.name] : [];
  });
  return [...new Set(names)].flatMap((name) => {
    const thing = view.things.get(name);
    return thing?.kind === 'part' ? [thing] : [];
  });
}

/** Limits that the steps to be done again measure or adjust, and those of parts that come off, by themselves or on what carries them. */
function limitsIn(
  actions: ReturnType<typeof actionsOf>,
  steps: ReadonlySet<Step>,
  moves: (name: string) => boolean,
  view: View,
): readonly Limit[] {
  const found = actions.flatMap(({ action, step }) => {
    if (action.word !== 'measure' && action.word !== 'adjust') return [];
    return action.targets.flatMap((target) => {
      const limit = view.things.get(target.owner.text);
      if (limit?.kind !== 'limit') return [];
      const of = (limit.of ?? limit.each)?.owner.text;
      return steps.has(step) || (of !== undefined && moves(of)) ? [limit] : [];
    });
  });
  return [...new Set(found)];
}

/** The parts that something is filled into. */
function filledIn(actions: ReturnType<typeof actionsOf>, view: View): readonly Part[] {
  const names = actions.flatMap(({ action }) =>
    action.word === 'fill' ? action.targets.map((target) => target.owner.text) : [],
  );
  return [...new Set(names)].flatMap((name) => {
    const thing = view.things.get(name);
    return thing?.kind === 'part' ? [thing] : [];
  });
}
