// What comes off to get at a part: worked out backwards from how the engine goes together. How it is told is in reach-text.ts.
import type { Drive, Fastener, Limit, Part, Sequence, Step, View } from '../model/view.ts';
import { byPhase, plansOf } from '../rehearsal/plan.ts';
import { actionsOf, allOff, type Fit, fitsOf, lastFit } from './what-comes-off.ts';

export interface ComesOff {
  readonly part: Part;
  /** Why, in words; for the part that was asked for, empty. */
  readonly why: string;
  /** The fasteners to undo for it. */
  readonly undo: readonly Fastener[];
}

export interface Reached {
  readonly part: Part;
  /** In the order of the work; the part asked for is the last. */
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
function buildingSequences(view: View, file: string): readonly Sequence[] {
  const plan = plansOf(view, file).find((each) => each.begins === 'bare' && each.sequences.length > 0);
  return (plan?.sequences ?? byPhase(view.sequences)).filter((each) => !NOT_BUILDING.includes(each.phase ?? ''));
}

function partsOfDrive(drive: Drive): readonly string[] {
  return [
    ...drive.wraps.flatMap((wrap) => [wrap.part, ...wrap.wheels.map((wheel) => wheel.part)]),
    ...drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
  ];
}

/** Works out what a part needs to be got at, from the sequences that build the engine. */
export function reach(part: Part, view: View, file: string): Reached {
  const sequences = buildingSequences(view, file);
  const fits = fitsOf(sequences);
  const names = allOff(part, view, fits);
  const isOff = (name: string): boolean => names.has(name);
  const parts = [...names.keys()].flatMap((name) => {
    const thing = view.things.get(name);
    return thing?.kind === 'part' ? [thing] : [];
  });
  const ordered = parts.filter((each) => each !== part).sort((a, b) => lastFit(fits, b.name) - lastFit(fits, a.name));
  const undone = new Set<Fastener>();
  const off = [...ordered, part].map((each) => {
    const undo = view.fasteners.filter(
      (fastener) => !undone.has(fastener) && fastener.clamps.some((clamp) => clamp.part === each.name),
    );
    for (const fastener of undo) undone.add(fastener);
    return { part: each, why: names.get(each.name) ?? '', undo };
  });
  const drives = view.drives.filter((drive) => partsOfDrive(drive).some(isOff));
  const actions = actionsOf(sequences);
  const again = actions.filter(({ action }) =>
    action.targets.some((target) =>
      action.word === 'fit'
        ? isOff(target.owner.text)
        : action.word === 'tighten' && [...undone].some((each) => each.name === target.owner.text),
    ),
  );
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
    limits: limitsIn(
      actions,
      new Set(steps.keys()),
      (name) => isOff(name) || fits.some((fit) => fit.name === name && fit.mate !== undefined && isOff(fit.mate)),
      view,
    ),
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
