// Air is let out of what holds a fluid.

import { told } from '../../../grammar/told.ts';
import { isA } from '../../model/trade-names.ts';
import type { Act } from '../act.ts';
import { pointAt } from '../act.ts';
import { type ActionRule, onEach } from '../action-rule.ts';
import { fluidOf, isFilledWith } from '../fluids.ts';
import { stepsBleeding } from '../foresight.ts';
import { partsThat } from '../graded.ts';
import { sayLeft } from '../left.ts';
import type { PartState } from '../part-state.ts';
import { anyOn, type State, say } from '../state.ts';
import { actionsBeforeRun } from '../to-come.ts';

const WATER = /thermostat|radiator|cool|water|heater|exchanger/i;

const saidBled = partsThat(({ bled }) => bled);

/** What holds a fluid and is bled: nothing else has air in it. */
const bledParts = (state: State): readonly PartState[] => state.parts.among(saidBled(state.view));

/** What was drained lets air into what is bled of the same fluid: coolant into the cooling system, and so on. */
export function airIn(state: State, drained: string): void {
  const of = (['oil', 'coolant'] as const).filter((fluid) => isFilledWith(state, drained, fluid));
  for (const each of bledParts(state)) {
    const { name } = each.part;
    const own = WATER.test(name) ? 'coolant' : undefined;
    if (name === drained || (own !== undefined && of.includes(own))) each.hasAir = true;
  }
}

export const bleed: ActionRule = onEach(
  (state, { name, part, act }) => {
    const isEmpty = state.filled.size === 0 && (state.plan.begins === 'bare' || state.drained.size > 0);
    // What is filled in only after the run, or never, is said there.
    const isFilledLater = actionsBeforeRun(state, act).some(
      (each) => each.word === 'fill' && (!WATER.test(name) || fluidOf(state, each) === 'coolant'),
    );
    // What it is filled with itself comes only after: nothing is in it, whatever else was filled.
    const isFilledItself =
      part?.hasAir === true &&
      ![...state.filled.keys()].some((key) => key.startsWith(`${name} `)) &&
      actionsBeforeRun(state, act).some(
        (each) => each.word === 'fill' && each.targets.some(({ owner }) => owner.text === name),
      );
    if (((isEmpty && isFilledLater) || isFilledItself) && !state.unsure && state.plan.begins !== 'unknown') {
      const [drained] = state.drained.entries();
      say(
        state,
        'sequence/not-bled',
        act,
        told`${told.named(name)} is bled here before anything is filled in${drained === undefined ? '' : told`: ${drained[0]} was drained in step ${told.thing(drained[1].step)}`}. Fill it first, then bleed.`,
        { related: pointAt(drained?.[1], told`drained here`) },
      );
    }
    if (part !== undefined) part.hasAir = false;
    if (WATER.test(name) || isFilledWith(state, name, 'coolant')) state.running.bled = true;
  },
  {
    atEnd(state) {
      sayIfBledElsewhere(state);
      sayIfNeverBled(state);
      sayIfFuelOpened(state);
      if (state.running.hasRun) return;
      for (const { part, hasAir, fittedBy, removedBy } of unbled(state)) {
        const by = fittedBy.find((each) => each !== undefined) ?? removedBy;
        if (hasAir && by !== undefined)
          sayLeft(
            state,
            'sequence/not-bled',
            by.step.placed,
            by.span,
            told`${told.thing(part)} has to be bled, and no step after this does it. Say bleed ${told.thing(part)} when it is filled.`,
          );
      }
    },
  },
);

/** What other work of the spec bleeds when coolant goes in, where this job fills it and bleeds nothing of it. Common practice, no source. */
function sayIfBledElsewhere(state: State): void {
  const { plan, view } = state;
  const [, filled] =
    state.filled.entries().find(([key]) => isFilledWith(state, key.slice(0, key.indexOf(' ')), 'coolant')) ?? [];
  if (filled === undefined || plan.begins === 'unknown') return;
  for (const each of state.parts.ofKind('thermostat', 'radiator', 'water-pump', 'head', 'block')) {
    const { part } = each;
    const steps = part.bled || !anyOn(each) ? [] : stepsBleeding(view, part.name);
    const [first] = steps;
    if (first === undefined || steps.some(({ sequence }) => plan.sequences.includes(sequence)) || state.unsure)
      continue;
    sayLeft(
      state,
      'sequence/not-bled',
      filled.step.placed,
      filled.span,
      told`Coolant goes in here, and ${told.thing(part)} is not bled in this job; step ${told.thing(first.step)} of other work does it. Say bleed ${told.thing(part)} after this.`,
      [],
      'information',
    );
    return;
  }
}

/** Says of a first build that fills coolant in and runs that nothing of it is bled. Some engines let their air out by themselves. Common practice, no source. */
function sayIfNeverBled(state: State): void {
  const { plan, running } = state;
  if (plan.begins !== 'bare' || !running.hasRun || running.bled || bledParts(state).length > 0) return;
  const [, filled] =
    state.filled.entries().find(([key]) => isFilledWith(state, key.slice(0, key.indexOf(' ')), 'coolant')) ?? [];
  if (filled === undefined || state.unsure) return;
  sayLeft(
    state,
    'sequence/not-bled',
    filled.step.placed,
    filled.span,
    told`Coolant goes in here, and no step lets the air out of it before the engine is run. Say bleed where that is done, if it does not go out by itself.`,
    [],
    'information',
  );
}

/** What lets air into the fuel when it comes off: pipes to the injectors, the injectors, filters. */
const FUEL_LINE = /(?:delivery|injection|injector|fuel|feed)-(?:pipe|line|filter|rail)|^(?:injector|nozzle)$/i;

/** Says of a whole engine whose fuel side was opened that the pump which other work bleeds is not bled in this job. Common practice, no source. */
function sayIfFuelOpened(state: State): void {
  const { plan, view } = state;
  if (plan.begins !== 'whole') return;
  const pump = bledParts(state).find(({ part }) => isA(part, 'injection-pump'));
  if (pump === undefined || !anyOn(pump) || pump.hasAir) return;
  const bleeding = stepsBleeding(view, pump.part.name);
  if (bleeding.length === 0 || bleeding.some(({ sequence }) => plan.sequences.includes(sequence))) return;
  const opened = state.parts
    .among(state.parts.changed())
    .find(
      ({ part, removedBy, fittedBy }) =>
        FUEL_LINE.test(part.name) && removedBy !== undefined && fittedBy.some((by) => by !== undefined),
    );
  const by = opened?.fittedBy.find((each) => each !== undefined);
  if (opened === undefined || by === undefined || state.unsure) return;
  sayLeft(
    state,
    'sequence/not-bled',
    by.step.placed,
    by.span,
    told`${told.thing(opened.part)} was off in this job and goes back here, and ${told.thing(pump.part)} is not bled after it. Say bleed ${told.thing(pump.part)}.`,
    [],
    'information',
  );
}

function unbled(state: State): readonly PartState[] {
  return bledParts(state).filter((each) => each.hasAir && anyOn(each));
}

/** Says at a run what has air in it still. */
export function sayIfUnbled(state: State, act: Act): void {
  const left = unbled(state);
  if (left.length === 0 || state.unsure) return;
  for (const each of left) {
    each.hasAir = false;
    say(
      state,
      'sequence/not-bled',
      act,
      told`The engine is run, and ${told.thing(each.part)} was not bled since it was empty: air in it stops the flow. Say bleed ${told.thing(each.part)} after filling.`,
      {
        related: pointAt(
          each.fittedBy.find((by) => by !== undefined),
          told`it went on here`,
        ),
      },
    );
  }
}
