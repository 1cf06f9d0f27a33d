// Fasteners that are not tight when a job ends or the engine is run, and those that are to be tightened again after a run.
import type { Act } from './act.ts';
import { type FastenerState, FINAL, OUT, SNUG } from './fastener-state.ts';
import { sayLeft, sayOf } from './left.ts';
import { anyOn, type State } from './state.ts';

/** Whether all that it clamps is on. */
function isThere(state: State, each: FastenerState): boolean {
  return each.fastener.clamps.every((clamp) => {
    const part = state.parts.get(clamp.part);
    return part !== undefined && anyOn(part);
  });
}

function fastenerLeft(state: State, each: FastenerState): void {
  const { fastener } = each;
  if (fastener.broken) return;
  const lowest = each.stages.reduce((low, stage) => Math.min(low, stage), FINAL);
  const clamped = fastener.clamps.map((clamp) => state.parts.get(clamp.part));
  if (!isThere(state, each)) return;
  if (lowest === FINAL) {
    if (fastener.securedBy !== undefined && !each.secured && each.last !== undefined)
      sayLeft(
        state,
        'sequence/not-secured',
        each.last.step.placed,
        each.last.span,
        `${fastener.name} is tightened here and never secured: it has a ${fastener.securedBy.replace('-', ' ')}. Say secure ${fastener.name} after it.`,
      );
    return;
  }
  if (lowest > SNUG && each.last !== undefined) {
    const done = lowest - SNUG;
    sayLeft(
      state,
      'sequence/stage-left',
      each.last.step.placed,
      each.last.span,
      `${fastener.name} stops at stage ${done} of ${fastener.stages.length}. Tighten it to the last stage.`,
    );
    return;
  }
  if (!each.mentioned && fastener.clamps.length === 0) return;
  if (fastener.stages.length === 0 && fastener.joint === 'stud') return;
  if (each.loosenedBy !== undefined) {
    if (state.saidEarly.has(fastener.name)) return;
    const { step, span } = each.loosenedBy;
    sayLeft(
      state,
      'sequence/never-tightened',
      step.placed,
      span,
      `${fastener.name} ${each.loosenedBy.statement.word === 'loosen' ? 'is loosened' : 'comes out'} here and never tightened again.`,
    );
    return;
  }
  const fitted = clamped
    .map((part) => part?.fittedBy.find((act) => act !== undefined))
    .find((act) => act !== undefined);
  if (!each.mentioned && fitted === undefined) return;
  const partly = each.stages.some((stage) => stage === FINAL)
    ? 'not all tightened'
    : lowest === OUT
      ? 'never tightened'
      : 'snug only and never tightened';
  sayOf(
    state,
    'sequence/never-tightened',
    fastener,
    each.last ?? fitted,
    `${fastener.name} is ${partly}. Tighten it in a step, to its last stage.`,
  );
}

/** A fastener that was never tightened when the engine is run, said once and then taken as tight. Later stages may come after a warm-up. */
export function looseAtRun(state: State, act: Act): void {
  if (state.muted || state.unsure || act.step.trial) return;
  for (const fastener of state.fasteners.values()) {
    if (fastener.stages.every((stage) => stage > SNUG)) continue;
    fastenerLeft(state, fastener);
    if (!isThere(state, fastener)) continue;
    fastener.stages.fill(FINAL);
    fastener.secured = true;
  }
}

/** Minutes of running after which a fastener is tightened again; undefined where that is no matter of this job. */
function minutesBefore(after: string | undefined): number | undefined {
  if (after === undefined || /\b(km|mi|miles?|kilomet\w+)\b/i.test(after)) return undefined;
  const told = /(\d+)?\s*(hours?|h|min|minutes?)\b/i.exec(after);
  if (told !== null) return Number(told[1] ?? 1) * (/^h/i.test(told[2] ?? '') ? 60 : 1);
  return /\b(run|start|warm|heat|hot)/i.test(after) ? 0 : undefined;
}

/** A fastener that is to be tightened again after a run that this job has, and is not. */
function retorqueLeft(state: State, { fastener, last, runs, ran }: FastenerState): void {
  if (last === undefined || runs === 0 || last.statement.word !== 'tighten') return;
  const again = fastener.statements.find((each) => each.kind === 'retorque');
  if (again?.kind !== 'retorque') return;
  const after = again.after?.value;
  const minutes = minutesBefore(after);
  if (minutes === undefined || ran < minutes) return;
  sayLeft(
    state,
    'sequence/not-retorqued',
    last.step.placed,
    last.span,
    `${fastener.name} is tightened here and has to be tightened again after ${after}. The engine is run, and no step does it: say tighten ${fastener.name} after the run.`,
    [{ placed: fastener.placed, span: again, message: 'to be tightened again' }],
  );
}

/** What is not tight, not secured or not tightened again when a job ends. */
export function fastenersLeft(state: State): void {
  for (const fastener of state.fasteners.values()) {
    fastenerLeft(state, fastener);
    retorqueLeft(state, fastener);
  }
}
