// Which parts come off before a part can: what covers it, sits on it, goes with it. What else belongs to the work is in reach.ts.
import type { Action } from '../../grammar/tree.ts';
import type { Part, Sequence, Step, View } from '../model/view.ts';
import { turningParts } from './drive-parts.ts';

/** A part that goes on, when and onto what. */
export interface Fit {
  readonly order: number;
  readonly name: string;
  readonly mate: string | undefined;
  readonly step: Step;
  readonly sequence: Sequence;
  readonly together: readonly string[];
}

/** The actions of some sequences, in the order of the work. */
export function actionsOf(
  sequences: readonly Sequence[],
): readonly { readonly action: Action; readonly step: Step; readonly sequence: Sequence }[] {
  return sequences.flatMap((sequence) =>
    sequence.steps.flatMap((step) =>
      step.statements.flatMap((action) => (action.kind === 'action' ? [{ action, step, sequence }] : [])),
    ),
  );
}

/** Every time that a part is fitted. */
export function fitsOf(sequences: readonly Sequence[]): readonly Fit[] {
  return actionsOf(sequences).flatMap(({ action, step, sequence }, order) => {
    if (action.word !== 'fit') return [];
    const names = action.targets.map((target) => target.owner.text);
    return names.map((name) => ({
      order,
      name,
      mate: action.mate?.reference.owner.text,
      step,
      sequence,
      together: action.together ? names : [],
    }));
  });
}

/** The last time that a part went on; -1 for one that no step fits, as what stands on the stand. */
export function lastFit(fits: readonly Fit[], name: string): number {
  return fits.reduce((last, fit) => (fit.name === name ? Math.max(last, fit.order) : last), -1);
}

/** The parts that come off before a part can, each with why: what covers it, what sits on it since, what goes on with it. */
function blockersOf(name: string, view: View, fits: readonly Fit[]): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  const add = (other: string, why: string): void => {
    if (other !== name && !found.has(other)) found.set(other, why);
  };
  const own = lastFit(fits, name);
  const mates = fits.filter((fit) => fit.name === name).map((fit) => fit.mate);
  for (const part of view.parts)
    if (part.covers.some((cover) => cover.part === name && cover.mark === undefined)) add(part.name, `covers ${name}`);
  for (const fastener of view.fasteners) {
    if (!fastener.clamps.some((clamp) => clamp.part === name)) continue;
    for (const clamp of fastener.clamps)
      if (lastFit(fits, clamp.part) > own) add(clamp.part, `lies over ${name}, under the same ${fastener.name}`);
  }
  for (const fit of fits) {
    if (fit.together.includes(name)) add(fit.name, `goes on and off together with ${name}`);
    if (fit.order <= own) continue;
    if (fit.mate === name) add(fit.name, `sits on ${name}`);
    const sameStep = fits.some((each) => each.name === name && each.order < fit.order && each.step === fit.step);
    if (sameStep && fit.mate !== undefined && mates.includes(fit.mate))
      add(fit.name, `goes on over ${name} in step ${fit.step.name}`);
  }
  // What was built up on the bench comes off as one, and is taken apart on the bench.
  for (const mate of mates) if (mate !== undefined && lastFit(fits, mate) > own) add(mate, `carries ${name}`);
  for (const part of view.parts)
    if (part.fixedTo === name && lastFit(fits, part.name) > own) add(part.name, `turns with ${name}`);
  return found;
}

/** What lies under a part and the same bolts, and is new each time: its gasket. */
function gasketsOf(name: string, view: View): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  for (const fastener of view.fasteners) {
    if (!fastener.clamps.some((clamp) => clamp.part === name)) continue;
    for (const { part } of fastener.clamps) {
      const other = view.things.get(part);
      if (part !== name && other?.kind === 'part' && other.singleUse) found.set(part, `lies under ${name}`);
    }
  }
  return found;
}

/** What hides the marks by which a drive of this part is proved when it goes back. */
function hidingOf(name: string, view: View, fits: readonly Fit[]): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  for (const drive of view.drives) {
    const parts = turningParts(drive);
    if (!parts.includes(name)) continue;
    for (const cover of view.parts)
      for (const { part, mark } of cover.covers) {
        const wheel = view.things.get(part);
        if (!parts.includes(part) || parts.includes(cover.name) || lastFit(fits, cover.name) < 0) continue;
        if (wheel?.kind === 'part' && (mark === undefined ? wheel.marks.size > 0 : wheel.marks.has(mark)))
          found.set(cover.name, `hides a mark of ${drive.name}`);
      }
  }
  return found;
}

/** What covers a part that has to be got at for a measurement. */
export function coversOf(name: string, view: View): readonly string[] {
  return view.parts
    .filter((part) => part.covers.some((cover) => cover.part === name && cover.mark === undefined))
    .map((part) => part.name);
}

/** All that comes off, the part itself and the others that are named included, each with its reason. */
export function allOff(
  part: Part,
  view: View,
  fits: readonly Fit[],
  others: ReadonlyMap<string, string> = new Map(),
): ReadonlyMap<string, string> {
  const off = new Map([[part.name, ''], ...others]);
  for (const [name] of off)
    for (const [other, why] of [
      ...blockersOf(name, view, fits),
      ...hidingOf(name, view, fits),
      ...gasketsOf(name, view),
    ])
      if (!off.has(other) && view.things.get(other)?.kind === 'part') off.set(other, why);
  return off;
}
