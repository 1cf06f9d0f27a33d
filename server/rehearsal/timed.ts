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
    sayIfOnOverlap(state, part.name, act);
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

/** Without a word about its timing, a distributor or magneto goes in on compression of the cylinder that it is set by. Common practice, no source. */
function sayIfOnOverlap(state: State, name: string, act: Act): void {
  const { crank } = state.running;
  if (!isA(name, 'distributor') || crank === undefined || !crank.ofCycle) return;
  if (state.view.engine?.cycle === 'two-stroke') return;
  const past = toNumber(within(crank.degrees, cycleOf(state.view)));
  if (Math.abs(past - 360) > 60 || state.unsure) return;
  say(
    state,
    'sequence/not-timed',
    act,
    told`${told.named(name)} goes in with the crankshaft ${angleText(crank, state.tdcOf)}: it would fire a turn out. Set the crankshaft on compression, or say timed at in ${told.named(name)} where this is meant.`,
  );
}
