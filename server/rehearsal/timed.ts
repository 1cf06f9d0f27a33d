// What is timed when it goes in: where the crankshaft has to stand, and what drives it.
import { type Told, told } from '../../grammar/told.ts';
import type { SetShaft, Statement } from '../../grammar/tree.ts';
import { absolute, compare, minus, ONE, toNumber } from '../mechanics/exact.ts';
import { isA } from '../model/trade-names.ts';
import type { Limit, Sequence, Step } from '../model/view.ts';
import type { Act } from './act.ts';
import {
  angleOfPosition,
  angleText,
  type CrankAngle,
  cycleOf,
  firingAngles,
  pastInCycle,
  pastInTurn,
  TURN,
  within,
} from './crank-angle.ts';
import { stepsFitting } from './foresight.ts';
import type { PartState } from './part-state.ts';
import { anyOn, type State, say } from './state.ts';
import { isOf } from './to-come.ts';

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
    // A flywheel magneto stands by its key.
    if (act.statement.kind === 'action' && act.statement.mate?.reference.owner.text === state.crankshaft) return;
    if (!sayIfSetWrong(state, part.name, act, told`goes in`) && !sayIfMistimed(state, part.name, act))
      if (!sayIfSetAfter(state, part.name, act)) sayIfSetElsewhere(state, part.name, act);
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
  if (past === undefined || compare(past, ONE) <= 0 || compare(absolute(minus(round, past)), ONE) <= 0) {
    sayIfSetAfter(state, part.name, act);
    return;
  }
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
/** Degrees past a dead centre: no engine is sparked so late, and further on another purpose is likelier. */
const LATE = 15;
const LATEST = 60;
const HALF_TURN = 180;

/**
 * Without a word about its timing, a distributor or magneto goes in on compression of the cylinder that it is set by, not between two
 * cylinders, and not past the dead centre. True where that is said. Common practice, no source.
 */
function sayIfMistimed(state: State, name: string, act: Act): boolean {
  const { crank } = state.running;
  const { engine } = state.view;
  if (!isA(name, 'distributor') || crank === undefined) return false;
  const isTwoStroke = engine?.cycle === 'two-stroke';
  const past = toNumber(within(crank.degrees, cycleOf(state.view)));
  const isTurnOut = !isTwoStroke && crank.ofCycle && Math.abs(past - 360) <= 60;
  const isLate = !isTurnOut && isPastTop(state, crank);
  const isOut = isTurnOut || isLate || (!isTwoStroke && isBetween(past, engine?.cylinders ?? 0));
  if (!isOut || state.unsure) return false;
  say(
    state,
    'sequence/not-timed',
    act,
    isTurnOut
      ? told`${told.named(name)} goes in with the crankshaft ${angleText(crank, state.tdcOf)}: it would fire a turn out. Set the crankshaft on compression, or say timed at in ${told.named(name)} where this is meant.`
      : isLate
        ? told`${told.named(name)} goes in with the crankshaft ${angleText(crank, state.tdcOf)}: no engine is sparked so far past its dead centre. Set the crankshaft before it, or say timed at in ${told.named(name)} where this is meant.`
        : told`${told.named(name)} goes in with the crankshaft ${angleText(crank, state.tdcOf)}, between two cylinders: none is near its dead centre there. Set the crankshaft on compression, or say timed at in ${told.named(name)} where this is meant.`,
  );
  return true;
}

/** Whether no cylinder of an engine that fires evenly is near a dead centre: four cylinders and more in pairs, so that each has its turn. */
function isBetween(past: number, cylinders: number): boolean {
  if (cylinders < 4 || cylinders % 2 === 1) return false;
  const interval = 720 / cylinders;
  const off = ((past % interval) + interval) % interval;
  return Math.min(off, interval - off) > ADVANCE;
}

/** Whether the crankshaft stands well past the dead centre of a cylinder, with none near before it. */
function isPastTop({ view, tdcOf }: State, crank: CrankAngle, latest = LATEST): boolean {
  const round = crank.ofCycle ? toNumber(cycleOf(view)) : 360;
  const angles = firingAngles(view);
  const origin = angles.get(tdcOf);
  const tops = origin === undefined ? [0] : [...angles.values()].map((angle) => toNumber(minus(angle, origin)));
  const stands = tops.map((top) => (((toNumber(crank.degrees) - top) % round) + round) % round);
  const least = Math.min(...stands);
  return least > LATE && least <= latest && Math.min(...stands.map((past) => round - past)) > ADVANCE;
}

/** Nobody sparks or injects there. */
const BOTTOM = new Set<string>(['bdc', 'bbdc', 'abdc']);

const isSetting = (statement: Statement, { crankshaft }: State): statement is SetShaft =>
  statement.kind === 'set' && statement.mark === undefined && statement.shaft.text === crankshaft;

/** What is said of a timing that is found with the part in: by turning its body, by a lamp at the points. */
const FOUND_IN_PLACE = /open|turn|rotat|lamp|light|bulb|adjust|points?\b|swing|body/i;
/** After these the crankshaft was set for them, or the timing is found with the part in. */
const SET_FOR = new Set<string>(['adjust', 'measure', 'align', 'remove', 'pin', 'inspect']);

/** Whether what is left of a step says that the crankshaft is set for something else, or the timing is found in place. */
const isSetForOther = (statement: Statement): boolean =>
  statement.kind === 'rotate' ||
  statement.kind === 'confirm' ||
  (statement.kind === 'action' && SET_FOR.has(statement.word)) ||
  (statement.kind === 'text' && FOUND_IN_PLACE.test(statement.text?.value ?? ''));

/** Says that the crankshaft is set for a distributor or magneto only when that is in. Where it may have stood right before, that is information. */
function sayIfSetAfter(state: State, name: string, act: Act): boolean {
  const isPump = isA(name, 'injection-pump') && state.drivesOn.get(name).length === 0;
  if (!isPump && !isA(name, 'distributor')) return false;
  const { statements } = act.step;
  const before = statements.slice(0, act.at);
  const rest = statements.slice(act.at + 1);
  const set = rest.find((each) => isSetting(each, state));
  if (set === undefined || before.some((each) => isSetting(each, state)) || statements.some(isSetForOther))
    return false;
  if (state.unsure) return false;
  say(
    state,
    'sequence/not-timed',
    act,
    told`${told.named(name)} goes in here, and the crankshaft is set only after it. Set the crankshaft before ${told.named(name)} goes in.`,
    {
      related: [{ placed: act.step.placed, span: set, message: told`set here` }],
      severity: state.running.crank === undefined && !isPump ? 'warning' : 'information',
    },
  );
  return true;
}

/** Whether the statements before one set the crankshaft, in that step or the one before it. */
function isSetBefore(state: State, { steps }: Sequence, step: Step, at: number): boolean {
  const before = steps[steps.indexOf(step) - 1];
  return [...(before?.statements ?? []), ...step.statements.slice(0, at)].some((each) => isSetting(each, state));
}

/** Says of a distributor that the crankshaft is not set for it here, where other work of the spec sets it. Common practice, no source. */
function sayIfSetElsewhere(state: State, name: string, act: Act): void {
  if (!isA(name, 'distributor')) return;
  const own = state.plan.sequences.find(({ steps }) => steps.includes(act.step));
  if (own === undefined || isSetBefore(state, own, act.step, act.at) || act.step.statements.some(isSetForOther)) return;
  const other = stepsFitting(state.view, name).find(({ sequence, step }) => {
    const at = step.statements.findIndex((each) => each.kind === 'action' && each.word === 'fit' && isOf(each, name));
    return step !== act.step && isSetBefore(state, sequence, step, at);
  });
  if (other === undefined || state.unsure) return;
  say(
    state,
    'sequence/not-timed',
    act,
    told`${told.named(name)} goes in here, and the crankshaft is not set for it; step ${told.thing(other.step)} sets it first. Set the crankshaft before ${told.named(name)} goes in.`,
    { missing: true, severity: 'information' },
  );
}

/** Where the crankshaft was set in this step before an action, if it was not turned on since. */
function setBefore(state: State, { step, at }: Act): SetShaft | undefined {
  const last = step.statements.slice(0, at).findLast((each) => each.kind === 'rotate' || isSetting(each, state));
  return last?.kind === 'set' ? last : undefined;
}

function isOnOverlap({ tdc, stroke: ofAngle }: SetShaft): boolean {
  const stroke = tdc?.stroke ?? ofAngle;
  return stroke?.known === true && stroke.word === 'overlap';
}

/** Says that an injection pump is timed, or goes in, with the crankshaft set on overlap or well past the dead centre. True where it is said. */
function sayIfSetWrong(state: State, name: string, act: Act, doing: Told, latest = LATEST): boolean {
  if (!isA(name, 'injection-pump', 'distributor') || act.step.trial) return false;
  const set = setBefore(state, act);
  const key = `${name} set wrong`;
  if (set === undefined || state.saidSteps.has(key)) return false;
  const { crank } = state.running;
  const isOver = isOnOverlap(set) && state.view.engine?.cycle !== 'two-stroke';
  const from = set.from?.word ?? '';
  const isLate = crank !== undefined && (BOTTOM.has(from) || (from === 'atdc' && isPastTop(state, crank, latest)));
  // What a drive is put in line with says that itself.
  const isAligned = act.step.statements.some((each) => each.kind === 'action' && each.word === 'align');
  const isMeant = state.drivesOn.get(name).some(({ drive }) => drive.marksAgree?.stroke === 'overlap');
  if ((!isOver && !isLate) || isAligned || isMeant || state.unsure) return false;
  state.saidSteps.add(key);
  say(
    state,
    'sequence/not-timed',
    act,
    isOver
      ? told`${told.named(name)} ${doing} with the crankshaft set on overlap: it is timed on compression, and would be a turn out. Set the crankshaft on compression.`
      : told`${told.named(name)} ${doing} with the crankshaft ${angleText(crank, state.tdcOf)}: no engine is sparked or injected so far past its dead centre. Set the crankshaft before it.`,
    { related: [{ placed: act.step.placed, span: set, message: told`set here` }] },
  );
  return true;
}

/** What is measured or set of a pump, magneto or distributor to time it. */
const OF_TIMING = /timing|lift|plunger|spill|static|advance|start|begin|delivery|injection|spark/i;

/** Says that a limit by which a pump, magneto or distributor is timed is measured or adjusted with the crankshaft set wrong. */
export function sayIfLimitMistimed(state: State, limit: Limit, act: Act): void {
  const of = (limit.of ?? limit.each)?.owner.text;
  if (of !== undefined && OF_TIMING.test(limit.name)) sayIfSetWrong(state, of, act, told`is timed`, HALF_TURN);
}
