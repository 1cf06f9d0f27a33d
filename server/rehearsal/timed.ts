// What is timed when it goes in: where the crankshaft has to stand, and what drives it.
import { told } from '../../grammar/told.ts';
import { absolute, compare, minus, ONE, toNumber } from '../mechanics/exact.ts';
import { isA } from '../model/trade-names.ts';
import type { Act } from './act.ts';
import { angleOfPosition, angleText, cycleOf, pastInCycle, pastInTurn, TURN, within } from './crank-angle.ts';
import type { PartState } from './part-state.ts';
import { anyOn, type State, say } from './state.ts';

/** Says that a part goes in with the crankshaft elsewhere than its `timed at`, or before what drives it. */
export function sayIfUntimed(state: State, { part }: PartState, act: Act): void {
  if (act.step.trial) return;
  const driver = part.drivenBy === undefined ? undefined : state.parts.get(part.drivenBy.text);
  if (part.timed !== undefined && driver !== undefined && !anyOn(driver)) {
    if (state.unsure) return;
    say(
      state,
      'sequence/not-fitted-yet',
      act,
      told`${told.thing(part)} goes on before ${told.thing(driver.part)}, which drives it: nothing holds its timing. Fit ${told.thing(driver.part)} first.`,
    );
    return;
  }
  if (part.timed === undefined) {
    sayIfMistimed(state, part.name, act);
    return;
  }
  const wanted = angleOfPosition(state.view, part.timed, state.tdcOf);
  if (wanted === undefined) return;
  const { crank } = state.running;
  const where = told`${told.thing(part)} is timed with the crankshaft ${angleText(wanted, state.tdcOf)}`;
  if (crank === undefined) {
    if (state.unsure) return;
    say(
      state,
      'sequence/not-timed',
      act,
      told`${where}, and nothing says where it stands here. Set the crankshaft before this.`,
      { missing: true },
    );
    return;
  }
  const inCycle = pastInCycle(crank, wanted, state.view);
  const past = inCycle ?? pastInTurn(crank, wanted);
  const round = inCycle === undefined ? TURN : cycleOf(state.view);
  // Angles are read to the nearest degree.
  if (past === undefined || compare(past, ONE) <= 0 || compare(absolute(minus(round, past)), ONE) <= 0) return;
  if (state.unsure) return;
  say(
    state,
    'sequence/not-timed',
    act,
    told`${where}, and it stands ${angleText(crank, state.tdcOf)} here${toNumber(past) === 360 ? told`: a whole turn out` : ''}. Set the crankshaft first.`,
  );
}

/** Degrees of crankshaft from a dead centre within which a distributor is set: more advance than any has while it turns slowly. */
const ADVANCE = 35;

/**
 * Without a word about its timing, a distributor or magneto goes in on compression of the cylinder that it is set by, and not between two
 * cylinders. Common practice, no source.
 */
function sayIfMistimed(state: State, name: string, act: Act): void {
  const { crank } = state.running;
  const { engine } = state.view;
  if (!isA(name, 'distributor') || crank === undefined || engine?.cycle === 'two-stroke') return;
  const past = toNumber(within(crank.degrees, cycleOf(state.view)));
  const isTurnOut = crank.ofCycle && Math.abs(past - 360) <= 60;
  if ((!isTurnOut && !isBetween(past, engine?.cylinders ?? 0)) || state.unsure) return;
  say(
    state,
    'sequence/not-timed',
    act,
    isTurnOut
      ? told`${told.named(name)} goes in with the crankshaft ${angleText(crank, state.tdcOf)}: it would fire a turn out. Set the crankshaft on compression, or say timed at in ${told.named(name)} where this is meant.`
      : told`${told.named(name)} goes in with the crankshaft ${angleText(crank, state.tdcOf)}, between two cylinders: none is near its dead centre there. Set the crankshaft on compression, or say timed at in ${told.named(name)} where this is meant.`,
  );
}

/** Whether no cylinder of an engine that fires evenly is near a dead centre: four cylinders and more in pairs, so that each has its turn. */
function isBetween(past: number, cylinders: number): boolean {
  if (cylinders < 4 || cylinders % 2 === 1) return false;
  const interval = 720 / cylinders;
  const off = ((past % interval) + interval) % interval;
  return Math.min(off, interval - off) > ADVANCE;
}
