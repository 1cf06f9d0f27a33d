// What a step needs to have been done, and what needs it: by `after`, and by the parts and fasteners that it works on. Steps of the
// spec as it is built; whether the written order keeps to it is for the rehearsal.
import { lookUp } from '../../grammar/look-up.ts';
import { type Told, told } from '../../grammar/told.ts';
import type { Reference, Span } from '../../grammar/tree.ts';
import type { UndoingWord, UndoneWord } from '../../grammar/vocabulary.ts';
import type { Analysis } from '../model/analysis.ts';
import type { FilePlace } from '../model/finding.ts';
import { type Placed, placeOf } from '../model/placed.ts';
import type { Step, View } from '../model/view.ts';
import { byPhase } from '../rehearsal/plan.ts';
import { turningParts } from './drive-parts.ts';
import { nameAt, placedAt } from './place-in-tree.ts';

/** A step as it is shown. */
export interface StepItem {
  readonly name: string;
  readonly title: string;
  /** The sequence that it is in. */
  readonly sequence: string;
  readonly whole: FilePlace;
  readonly nameAt: FilePlace;
}

/** One step that another needs: why, in a few words, and where in the one that needs it that is said. */
export interface Need {
  readonly step: StepItem;
  readonly why: readonly Told[];
  readonly places: readonly FilePlace[];
}

interface Edge {
  readonly from: Step;
  readonly to: Step;
  readonly why: Told;
  readonly span: Span;
}

function itemOf(step: Step, view: View): StepItem {
  const { declaration, placed } = step;
  return {
    name: step.name,
    title: step.title ?? '',
    sequence: view.sequences.find((sequence) => sequence.steps.includes(step))?.name ?? '',
    whole: placeOf(placed, declaration),
    nameAt: placeOf(placed, declaration.name ?? declaration.wordSpan),
  };
}

/** What has been done so far: the last step for each kind of work on each thing. */
type Done = Map<string, Step>;

const FITTING = 'fit';
const UNDOING = ['remove', 'loosen', 'drain', 'disconnect'];

/** What an action takes back, and what is said of the step that does that. */
const BEFORE: Readonly<Record<UndoingWord, { readonly undone: UndoneWord; readonly why: (name: string) => Told }>> = {
  release: { undone: 'hold-back', why: (name) => told`holds back ${name}` },
  unpin: { undone: 'pin', why: (name) => told`pins ${name}` },
  unplug: { undone: 'plug', why: (name) => told`plugs ${name}` },
  unmask: { undone: 'mask', why: (name) => told`masks ${name}` },
  connect: { undone: 'disconnect', why: (name) => told`disconnects ${name}` },
};

/** The things that must be on before an action can be done on one. */
function underOf(name: string, view: View): readonly string[] {
  const thing = view.things.get(name);
  if (thing?.kind === 'fastener')
    return [...thing.clamps.map((clamp) => clamp.part), ...(thing.to === undefined ? [] : [thing.to.part])];
  if (thing?.kind === 'drive') return [...turningParts(thing), ...thing.tensioners];
  if (thing?.kind === 'limit') {
    const of = thing.of ?? thing.each;
    return of === undefined ? [] : [of.owner.text];
  }
  return thing?.kind === 'part' ? [name] : [];
}

/** What lies over a thing and comes away before it is undone. */
function overOf(name: string, view: View): readonly string[] {
  const thing = view.things.get(name);
  if (thing?.kind !== 'part') return [];
  return [
    ...view.parts.filter((part) => part.covers.some((cover) => cover.part === name)).map((part) => part.name),
    ...view.fasteners.filter((each) => each.clamps.some((clamp) => clamp.part === name)).map((each) => each.name),
  ];
}

function edgesOf(view: View): readonly Edge[] {
  const edges: Edge[] = [];
  const done: Done = new Map();
  const steps = byPhase(view.sequences).flatMap((sequence) => sequence.steps);
  const need = (from: Step, key: string, why: Told, span: Span): void => {
    const to = done.get(key);
    if (to !== undefined && to !== from) edges.push({ from, to, why, span });
  };
  const work = (step: Step, word: string, targets: readonly Reference[], mate: Reference | undefined): void => {
    for (const target of targets) {
      const name = target.owner.text;
      if (word === FITTING) {
        if (mate !== undefined) need(step, `fit ${mate.owner.text}`, told`fits ${mate.owner.text}`, mate);
        const part = view.things.get(name);
        for (const cover of part?.kind === 'part' ? part.covers : []) {
          need(step, `fit ${cover.part}`, told`fits ${cover.part}, which ${name} covers`, target);
          if (cover.mark !== undefined)
            need(step, `confirm ${cover.part}`, told`confirms a mark of ${cover.part}, which ${name} hides`, target);
        }
      } else if (UNDOING.includes(word)) {
        for (const over of overOf(name, view)) {
          need(step, `remove ${over}`, told`takes off ${over}`, target);
          need(step, `loosen ${over}`, told`loosens ${over}`, target);
        }
      } else {
        for (const under of underOf(name, view)) need(step, `fit ${under}`, told`fits ${under}`, target);
        const before = lookUp(BEFORE, word);
        if (before !== undefined) need(step, `${before.undone} ${name}`, before.why(name), target);
        if (word === 'secure') need(step, `tighten ${name}`, told`tightens ${name}`, target);
        if (word === 'tighten') need(step, `tighten ${name}`, told`tightens ${name} to an earlier stage`, target);
        if (word === 'confirm') need(step, `align ${name}`, told`aligns ${name}`, target);
      }
      done.set(`${word} ${name}`, step);
      if (word === 'remove') done.delete(`fit ${name}`);
      if (word === 'loosen') done.delete(`tighten ${name}`);
      if (word === FITTING) done.delete(`remove ${name}`);
      if (word === 'tighten') done.delete(`loosen ${name}`);
    }
  };
  for (const step of steps) {
    for (const name of step.after) {
      const to = view.things.get(name.text);
      if (to?.kind === 'step' && to !== step) edges.push({ from: step, to, why: told`said with after`, span: name });
      if (to?.kind === 'sequence')
        for (const each of to.steps.slice(-1))
          edges.push({ from: step, to: each, why: told`said with after`, span: name });
    }
    if (step.trial) continue;
    for (const each of step.statements) {
      if (each.kind === 'action') work(step, each.word, each.targets, each.mate?.reference);
      if (each.kind === 'confirm') work(step, 'confirm', [each.target], undefined);
    }
  }
  return edges;
}

function isAt(placed: Placed, item: FilePlace): boolean {
  const { file, start } = placeOf(placed, placed.declaration);
  return file === item.file && start === item.start;
}

/** The steps that an offset is about: those that the name there means, or the one round it. */
export function stepsAt(analysis: Analysis, offset: number): readonly StepItem[] {
  const name = nameAt(analysis, offset);
  const around = placedAt(analysis, offset);
  const found = new Map<string, StepItem>();
  for (const view of analysis.views) {
    const named = name === undefined ? undefined : view.things.get(name.thing);
    const step = named?.kind === 'step' ? named : view.steps.find((each) => each.placed === around);
    if (step === undefined) continue;
    const item = itemOf(step, view);
    found.set(`${item.whole.file} ${item.whole.start}`, item);
  }
  return [...found.values()];
}

function needs(
  analysis: Analysis,
  item: FilePlace,
  pick: (edge: Edge) => readonly [own: Step, other: Step],
): readonly Need[] {
  const found = new Map<string, { step: StepItem; why: Map<string, Told>; places: Map<string, FilePlace> }>();
  for (const view of analysis.views)
    for (const edge of edgesOf(view)) {
      const [own, other] = pick(edge);
      if (!isAt(own.placed, item)) continue;
      const step = itemOf(other, view);
      const key = `${step.whole.file} ${step.whole.start}`;
      const known = found.get(key) ?? { step, why: new Map(), places: new Map() };
      found.set(key, known);
      known.why.set(edge.why.text, edge.why);
      const place = placeOf(edge.from.placed, edge.span);
      known.places.set(`${place.start} ${place.end}`, place);
    }
  return [...found.values()].map(({ step, why, places }) => ({
    step,
    why: [...why.values()],
    places: [...places.values()],
  }));
}

/** The steps that a step needs; it is given by the place of its whole. */
export function neededBy(analysis: Analysis, item: FilePlace): readonly Need[] {
  return needs(analysis, item, ({ from, to }) => [from, to]);
}

/** The steps that need a step. */
export function needing(analysis: Analysis, item: FilePlace): readonly Need[] {
  return needs(analysis, item, ({ from, to }) => [to, from]);
}
