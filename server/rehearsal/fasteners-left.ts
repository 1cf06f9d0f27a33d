// Fasteners that are not tight when a job ends or the engine is run, and those that are to be tightened again after a run.

import { told } from '../../grammar/told.ts';
import { type Entry, keyed } from '../model/keyed.ts';
import { thoseThat } from '../model/those-that.ts';
import type { Sequence, View } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import type { Act } from './act.ts';
import { retorqueOf, stageCount } from './at-the-bench.ts';
import { sayIfPlugDry, sayIfThreadDry } from './dressed.ts';
import { type FastenerState, FINAL, OUT, SNUG, tightenedAgain, wasRunSince } from './fastener-state.ts';
import { nameOf, sayLeft, sayOf } from './left.ts';
import { filled, OFF } from './part-state.ts';
import { afterOf, whenAgain } from './retorque.ts';
import { eachOf, isOne, screwsName } from './screws.ts';
import { anyOn, clampsOn, type State } from './state.ts';
import { workOf } from './step-work.ts';
import { inOrder } from './things.ts';

/** Whether all that it clamps is on. */
function isThere(state: State, each: FastenerState): boolean {
  return each.fastener.clamps.every((clamp) => {
    const part = state.parts.get(clamp.part);
    return part !== undefined && anyOn(part);
  });
}

/** The screws (from 0) whose part is on; all of them where they are not so many each of a part. */
function screwsThere(state: State, each: FastenerState): readonly number[] {
  const part = eachOf(state, each);
  const all = [...each.stages.keys()];
  return part === undefined ? all : all.filter((i) => part.on[Math.floor(i / each.perPlace)] !== OFF);
}

/** Screws that are tight, and have no pin, tab or wire in them; of those that this job tightened. */
function sayNotSecured(state: State, each: FastenerState, screws: readonly number[]): void {
  const { fastener, last } = each;
  const open = screws.filter((i) => each.secured[i] !== true);
  if (fastener.securedBy === undefined || last === undefined || open.length === 0) return;
  const named = screwsName(state, each, open);
  const how = told.term(fastener.securedBy.replace('-', ' '));
  sayLeft(
    state,
    'sequence/not-secured',
    last.step.placed,
    last.span,
    isOne(state, each, open)
      ? told`${named} is tightened here and never secured: it has a ${how}. Say secure ${named} after it.`
      : told`${named} are tightened here and never secured: they have a ${how}. Say secure ${named} after it.`,
  );
}

function fastenerLeft(state: State, each: FastenerState): void {
  const { fastener } = each;
  if (fastener.broken || !isThere(state, each)) return;
  const screws = screwsThere(state, each);
  const stageOf = (i: number): number => each.stages[i] ?? FINAL;
  const lowest = screws.reduce((low, i) => Math.min(low, stageOf(i)), FINAL);
  if (lowest === FINAL) {
    sayNotSecured(state, each, screws);
    return;
  }
  const left = screws.filter((i) => stageOf(i) <= Math.max(lowest, SNUG));
  const named = screwsName(state, each, left.length === screws.length ? [...each.stages.keys()] : left);
  const isAll = isOne(state, each, left) || left.length === screws.length;
  if (lowest > SNUG && each.last !== undefined) {
    sayLeft(
      state,
      'sequence/stage-left',
      each.last.step.placed,
      each.last.span,
      isAll
        ? told`${named} stops at stage ${lowest - SNUG} of ${stageCount(state.view, fastener)}. Tighten it to the last stage.`
        : told`${named} stop at stage ${lowest - SNUG} of ${stageCount(state.view, fastener)}. Tighten it to the last stage.`,
    );
    return;
  }
  if (!each.mentioned && fastener.clamps.length === 0) {
    sayIfForgotten(state, each);
    return;
  }
  if (stageCount(state.view, fastener) === 0 && fastener.joint === 'stud') return;
  if (each.loosenedBy !== undefined) {
    if (state.saidEarly.has(fastener.name)) return;
    const { step, span } = each.loosenedBy;
    sayLeft(
      state,
      'sequence/never-tightened',
      step.placed,
      span,
      each.loosenedBy.statement.word === 'loosen'
        ? isAll
          ? told`${named} is loosened here and never tightened again.`
          : told`${named} are loosened here and never tightened again.`
        : isAll
          ? told`${named} comes out here and never tightened again.`
          : told`${named} come out here and never tightened again.`,
    );
    return;
  }
  const fitted = fastener.clamps
    .map((clamp) => state.parts.get(clamp.part)?.fittedBy.find((act) => act !== undefined))
    .find((act) => act !== undefined);
  if (!each.mentioned && fitted === undefined) return;
  const isPart = left.length < screws.length;
  const message =
    lowest === OUT
      ? isAll
        ? told`${named} is never tightened. Tighten it in a step, to the last stage.`
        : told`${named} are never tightened. Tighten them in a step, to the last stage.`
      : isAll
        ? told`${named} is snug only and never tightened. Tighten it in a step, to the last stage.`
        : told`${named} are snug only and never tightened. Tighten them in a step, to the last stage.`;
  // Where some are tight the line that leaves the others out is the place.
  if (isPart && each.last !== undefined)
    sayLeft(state, 'sequence/never-tightened', each.last.step.placed, each.last.span, message);
  else sayOf(state, 'sequence/never-tightened', fastener, each.last ?? fitted, message);
}

/** Whether the work of the job speaks of what a plug is named after: of galleries, where there is a gallery plug. */
function isSpokenOf({ plan }: State, name: string): boolean {
  const stem = (name.split(/[-_]/)[0] ?? name).toLowerCase().replace(/y$/, '');
  return plan.sequences.some(({ steps }) =>
    steps.some(({ placed }) => placed.section.text.toLowerCase().includes(stem)),
  );
}

/** The fasteners that are like one, by its name. */
const fastenersLike = keyed(
  (view) => view.fasteners,
  (_view, { name, like }): readonly Entry<string>[] => (like === undefined ? [] : [[like, name]]),
);

/** Plugs, and other things that clamp nothing that is told: no sequence of the spec puts one in, and a first build needs it. */
function sayIfForgotten(state: State, { fastener }: FastenerState): void {
  const { name, joint, placed } = fastener;
  if (
    state.plan.begins !== 'bare' ||
    !state.plan.assembles ||
    joint !== 'plug' ||
    placed.file.startsWith('fettle-library:')
  )
    return;
  if (state.ahead.everTightened.has(name) || fastenersLike(state.view, name).length > 0) return;
  const [last] = state.plan.sequences.flatMap(({ steps }) => steps).slice(-1);
  if (placed.file === state.file)
    sayLeft(
      state,
      'sequence/never-tightened',
      placed,
      nameOf(fastener),
      told`No step puts ${told.named(name)} in. Tighten it in a step, before what it closes is filled.`,
    );
  // Of a file that others use too it may be a plug that this engine has not.
  else if (last !== undefined && isSpokenOf(state, name))
    sayLeft(
      state,
      'sequence/never-tightened',
      last.placed,
      last.declaration.name ?? last.declaration.wordSpan,
      told`${told.named(name)} of a file that this one uses is put in by no step. If this engine has it, tighten it before what it closes is filled.`,
      [{ placed, span: nameOf(fastener), message: told`it is declared here` }],
      'information',
    );
}

/** All that the steps of a sequence name, and what stands there. */
const namedIn = question((view, { steps, startsWith }: Sequence): readonly string[] => {
  const names = new Set(startsWith.map(({ text }) => text));
  for (const step of steps) {
    const { named, mated } = workOf(view, step);
    for (const { name } of named) names.add(name);
    for (const { mate } of mated) names.add(mate);
  }
  return [...names];
});

/** The fasteners among that, and those that clamp something of it. */
const workedOnIn = question((view, sequence: Sequence): readonly string[] => {
  const names = namedIn(view, sequence);
  const own = names.filter((name) => view.things.get(name)?.kind === 'fastener');
  return [...new Set([...own, ...names.flatMap((name) => clampsOn(view, name))])];
});

/** The fasteners that may be loose when the job runs the engine, each once: any other is as it was, and neither holds what went on nor closes anything. */
function workedOn({ view, plan, fasteners }: State): readonly FastenerState[] {
  const names = [...plan.before, ...plan.sequences].flatMap((sequence) => workedOnIn(view, sequence));
  return fasteners.among(new Set([...names, ...plugsIn(view)]));
}

/** Tight, or but for its last stage, which may come after a warm-up. */
function isReadyToRun({ view }: State, { fastener, stages }: FastenerState): boolean {
  return stages.every((stage) => stage > SNUG && (stage === FINAL || stage - SNUG >= stageCount(view, fastener) - 1));
}

/** A fastener that was not tightened when the engine is run, said once and then taken as tight. */
export function looseAtRun(state: State, act: Act): void {
  if (state.muted || act.step.trial) return;
  const loose = workedOn(state).filter((each) => !each.saidLeft && !isReadyToRun(state, each));
  if (loose.length === 0 || state.unsure) return;
  const names = loose.map(({ fastener }) => fastener.name);
  for (const fastener of state.fasteners.among(inOrder(state.view, 'fasteners', names))) {
    fastenerLeft(state, fastener);
    if (!isThere(state, fastener)) continue;
    fastener.stages = filled(fastener.stages.length, FINAL);
    fastener.secured = filled(fastener.secured.length, true);
  }
}

/** A fastener that is to be tightened again after a run that this job has, and is not. */
function retorqueLeft(state: State, each: FastenerState): void {
  const { fastener, last, ranBefore } = each;
  if (last === undefined || !wasRunSince(each, state.running) || last.statement.word !== 'tighten') return;
  const again = retorqueOf(state.view, fastener);
  const after = afterOf(state.view, each);
  const when = whenAgain(after);
  if (again === undefined || when === undefined || (state.running.ran - ranBefore) / 60 < when.ran) return;
  const tight = tightenedAgain(each, state.running);
  const left = [...each.stages.keys()].filter((i) => !tight.has(i));
  const named = screwsName(state, each, left);
  sayLeft(
    state,
    'sequence/not-retorqued',
    last.step.placed,
    last.span,
    tight.size === 0
      ? told`${told.thing(fastener)} is tightened here and has to be tightened again after ${after ?? ''}. The engine is run, and no step does it: say tighten ${told.thing(fastener)} after the run.`
      : left.length === 1
        ? told`Only some of ${told.thing(fastener)} are tightened again here, as they have to be after ${after ?? ''}: ${named} is left. Tighten all of them.`
        : told`Only some of ${told.thing(fastener)} are tightened again here, as they have to be after ${after ?? ''}: ${named} are left. Tighten all of them.`,
    [{ placed: fastener.placed, span: again, message: told`to be tightened again` }],
  );
}

/** What is not tight, not secured or not tightened again when a job ends. */
export function sayIfFastenerLeft(state: State, fastener: FastenerState): void {
  fastenerLeft(state, fastener);
  retorqueLeft(state, fastener);
  sayIfPlugDry(state, fastener);
  sayIfThreadDry(state, fastener);
}

/** Plugs that clamp nothing: of those it is said where no step puts one in. */
const loosePlugs = thoseThat(
  (view) => view.fasteners,
  ({ joint, clamps }) => joint === 'plug' && clamps.length === 0,
);
export const plugsIn = (view: View): readonly string[] => loosePlugs(view).map(({ name }) => name);
