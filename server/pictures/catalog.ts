// Which pictures can be made of a spec, and each by its name: for the command, the sheet, the bench page and the hover.
import type { Step, View } from '../model/view.ts';
import type { StepStands } from '../rehearsal/stands.ts';
import type { Picture } from './drawing.tsx';
import { engineMap } from './engine-map.tsx';
import { pistonAndValve } from './piston-and-valve.tsx';
import { gapSets, ringGapsPicture } from './ring-gaps.tsx';
import { stackPicture } from './stack.tsx';
import { tighteningOrder } from './tightening-order.tsx';
import { timingFace } from './timing-face.tsx';
import { type ShownTiming, valveEvents } from './valve-events.tsx';
import { wayRound } from './way-round.tsx';
import { whatIsOnPicture } from './what-is-on.tsx';
import { calledIn } from './words.ts';

export const PICTURES = [
  'timing-face',
  'tightening-order',
  'ring-gaps',
  'engine-map',
  'valve-events',
  'piston-and-valve',
  'way-round',
  'stack',
  'what-is-on',
] as const;
export type PictureName = (typeof PICTURES)[number];

/** What a picture may be asked about: a name of the spec, a step as it stands, the views of all variants. */
export interface PictureQuestion {
  readonly view: View;
  readonly views?: readonly View[];
  /** A drive, fastener, part, limit or valve timing; a cylinder for the ring gaps. */
  readonly of?: string;
  readonly stands?: StepStands;
}

/** The names that a picture can be made of; empty for one that needs none. */
export function namesFor(what: PictureName, view: View): readonly string[] {
  switch (what) {
    case 'timing-face':
      return view.drives.filter((each) => timingFace(each, view) !== undefined).map((each) => each.name);
    case 'tightening-order':
      return view.fasteners.filter((each) => tighteningOrder(each, view) !== undefined).map((each) => each.name);
    case 'ring-gaps':
      return gapSets(view).length > 1 ? gapSets(view).map((set) => String(set.cylinders[0] ?? 1)) : [];
    case 'valve-events':
    case 'piston-and-valve':
      return view.valveTimings.map((each) => each.name);
    case 'way-round':
      return view.parts.filter((each) => wayRound(each, view) !== undefined).map((each) => each.name);
    case 'stack':
      return view.limits.filter((each) => stackPicture(each, view) !== undefined).map((each) => each.name);
    default:
      return [];
  }
}

/** The timings of all variants, each once; those of one name by their variant. */
function shownTimings(question: PictureQuestion): readonly ShownTiming[] {
  const views = question.views ?? [question.view];
  const found = views.flatMap((view) =>
    view.valveTimings
      .filter((timing) => question.of === undefined || timing.name === question.of)
      .map((timing) => ({ timing, view })),
  );
  const once = found.filter(
    ({ timing }, i) => found.findIndex((other) => other.timing.placed.section === timing.placed.section) === i,
  );
  const inAll = (name: string): boolean =>
    views.every((view) => view.valveTimings.some((timing) => timing.name === name));
  return once.map(({ timing, view }) => ({
    timing,
    label: `${calledIn(view, timing.name)}${inAll(timing.name) || view.variant === undefined ? '' : `, ${view.variant}`}`,
  }));
}

function first<thing>(things: readonly thing[], make: (thing: thing) => Picture | undefined): Picture | undefined {
  for (const thing of things) {
    const picture = make(thing);
    if (picture !== undefined) return picture;
  }
  return undefined;
}

/** One picture; undefined where the spec does not have what it takes. Without a name, the first that can be made. */
export function pictureOf(what: PictureName, question: PictureQuestion): Picture | undefined {
  const { view, of, stands } = question;
  const named = <thing extends { readonly name: string }>(things: readonly thing[]): readonly thing[] =>
    of === undefined ? things : things.filter((each) => each.name === of);
  switch (what) {
    case 'timing-face':
      return first(named(view.drives), (drive) => timingFace(drive, view, stands?.after));
    case 'tightening-order':
      return first(named(view.fasteners), (fastener) => tighteningOrder(fastener, view));
    case 'ring-gaps':
      return ringGapsPicture(view, of === undefined ? 1 : Number(of));
    case 'engine-map':
      return engineMap(view);
    case 'valve-events':
      return valveEvents(shownTimings(question), view);
    case 'piston-and-valve':
      return pistonAndValve(
        of === undefined && view.valveTimings.length > 2 ? view.valveTimings.slice(0, 2) : named(view.valveTimings),
        view,
      );
    case 'way-round':
      return first(named(view.parts), (part) => wayRound(part, view));
    case 'stack':
      return first(named(view.limits), (limit) => stackPicture(limit, view));
    case 'what-is-on':
      return stands === undefined ? undefined : whatIsOnPicture(view, stands.after, changedParts(stands));
  }
}

/** The parts that a step put on or took off. */
function changedParts({ before, after }: StepStands): ReadonlySet<string> {
  return new Set([...after.on].filter(([name, on]) => before.on.get(name) !== on).map(([name]) => name));
}

/** The drives that a step is about: it aligns, proves or turns them, or puts on what belongs to them. */
export function drivesOfStep(step: Step, view: View): readonly string[] {
  const names = new Set(
    step.statements.flatMap((each) => {
      if (each.kind === 'action') return each.targets.map((target) => target.owner.text);
      if (each.kind === 'confirm') return [each.target.owner.text];
      return each.kind === 'rotate' || each.kind === 'set' ? [each.shaft.text] : [];
    }),
  );
  return view.drives
    .filter((drive) => {
      const wheels = [
        ...drive.wraps.flatMap((wrap) => [wrap.part, ...wrap.wheels.map((wheel) => wheel.part)]),
        ...drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
        ...drive.tensioners,
      ];
      return names.has(drive.name) || wheels.some((name) => names.has(name));
    })
    .map((drive) => drive.name);
}
