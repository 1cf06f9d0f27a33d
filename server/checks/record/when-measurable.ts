// Between which days of a record something can have been measured: not before what it is measured at was together, and not after the day on
// which what shuts it in went on. Only days count. Nothing is reported here.
import type { Action, DateText, Done, Measured } from '../../../grammar/tree.ts';
import { isA, type TradeKind } from '../../model/trade-names.ts';
import type { Limit, Part, Step, View } from '../../model/view.ts';
import { coversOf } from '../../rehearsal/at-the-bench.ts';
import { isShutInBy } from '../../rehearsal/out-of-reach.ts';
import type { WorkStep } from './left-to-do.ts';

type DoneOn = Done & { readonly on: DateText };

/** By step, the days on which it was done. */
export type DaysDone = ReadonlyMap<string, readonly DoneOn[]>;

/** What was done on a day, that a measurement has to be before or after. */
export interface Bound {
  readonly done: DoneOn;
  readonly part: Part;
}

interface Doing {
  readonly step: Step;
  readonly action: Action;
}

const actionsOf = (work: readonly WorkStep[]): readonly Doing[] =>
  work.flatMap(({ step }) => step.statements.flatMap((action) => (action.kind === 'action' ? [{ step, action }] : [])));

const CLOSING: readonly TradeKind[] = ['head', 'rocker-cover', 'crankshaft', 'rod', 'piston'];

const byDay = (days: readonly DoneOn[]): readonly DoneOn[] =>
  [...days].sort((one, other) => (one.on.text < other.on.text ? -1 : 1));

/** The work of a record, as far as it tells when something could be measured. */
export interface Days {
  readonly view: View;
  readonly actions: readonly Doing[];
  /** By what is done to what (`fit crankshaft`): the places of the actions that do it, in order. */
  readonly doing: ReadonlyMap<string, readonly number[]>;
  /** By part: where what covers it goes on. */
  readonly covering: ReadonlyMap<string, readonly number[]>;
  /** Where heads, covers, shafts, rods and pistons go on, which shut others in that nobody names. */
  readonly closing: readonly number[];
  /** The first step that is not recorded as done, or perhaps not in its order: what is behind it is not known. */
  readonly known: number;
  /** Something comes off that nothing of the work put on: the engine was together when it began. */
  readonly isTakenApart: boolean;
  readonly done: DaysDone;
  /** Steps that may have been done in another order than written. */
  readonly outOfOrder: ReadonlySet<string>;
}

/** No engine has more of them by name. */
const MOST_CLOSING = 40;

export function daysOf(view: View, work: readonly WorkStep[], done: DaysDone, outOfOrder: ReadonlySet<string>): Days {
  const actions = actionsOf(work);
  const doing = new Map<string, number[]>();
  const covering = new Map<string, number[]>();
  const closing: number[] = [];
  const add = (map: Map<string, number[]>, name: string, place: number): void => {
    const own = map.get(name);
    if (own === undefined) map.set(name, [place]);
    else own.push(place);
  };
  let isTakenApart = false;
  for (const [place, { action }] of actions.entries())
    for (const { owner } of action.targets) {
      if (action.word === 'remove' && !doing.has(`fit ${owner.text}`)) isTakenApart = true;
      add(doing, `${action.word} ${owner.text}`, place);
      const part = action.word === 'fit' ? partCalled(view, owner.text) : undefined;
      if (part === undefined) continue;
      for (const { name } of coversOf(view, part)) add(covering, name, place);
      if (closing.length < MOST_CLOSING && isA(part, ...CLOSING)) closing.push(place);
    }
  const unknown = actions.findIndex(({ step }) => !done.has(step.name) || outOfOrder.has(step.name));
  const known = unknown < 0 ? actions.length : unknown;
  return { view, actions, doing, covering, closing, known, isTakenApart, done, outOfOrder };
}

function partCalled(view: View, name: string): Part | undefined {
  const part = view.things.get(name);
  return part?.kind === 'part' ? part : undefined;
}

/** What shut in the place of a measurement, where it is dated after the last day of that. */
export function shutInBefore(
  { view, actions, doing, covering, closing, done, outOfOrder }: Days,
  limit: Limit,
  { on, with: tool }: Measured & { readonly on: DateText },
): Bound | undefined {
  const last = doing.get(`measure ${limit.name}`)?.at(-1);
  if (last === undefined) return undefined;
  const measuredOn = byDay(done.get(actions[last]?.step.name ?? '') ?? []).at(-1)?.on.text ?? '';
  const tools = [tool, actions[last]?.action.withText].map((each) => each?.value ?? '').join(' ');
  const name = (limit.of ?? limit.each)?.owner.text ?? '';
  for (const place of [...(covering.get(name) ?? []), ...(doing.get(`fit ${name}`) ?? []), ...closing]) {
    const { step, action } = actions[place] as Doing;
    const days = done.get(step.name);
    if (place < last || step.trial || days === undefined || outOfOrder.has(step.name)) continue;
    for (const { owner } of action.targets) {
      const part = partCalled(view, owner.text);
      if (part === undefined || !isShutInBy(view, limit, tools, part, action.mate?.reference.owner.text)) continue;
      // What comes off again in the work can be measured then.
      if (doing.has(`remove ${part.name}`)) continue;
      const by = byDay(days).at(-1);
      // A step that is dated before the one that measures is told as that.
      if (by !== undefined && by.on.text < on.text && by.on.text >= measuredOn) return { done: by, part };
    }
  }
  return undefined;
}

/** These mean something only with the part in its place. */
const TOGETHER: ReadonlySet<string> = new Set(['end-play', 'backlash', 'valve-lash', 'protrusion']);
const OF_A_TEST = /(?:pressure|leak|water|vacuum)-test/i;

/** The part that a limit is about; of a test for leaks the one that its name begins with. */
function partOf(view: View, limit: Limit): Part | undefined {
  const of = (limit.of ?? limit.each)?.owner.text;
  if (of !== undefined) return TOGETHER.has(limit.sort ?? '') ? partCalled(view, of) : undefined;
  const at = OF_A_TEST.exec(limit.name)?.index ?? 0;
  return at < 2 ? undefined : partCalled(view, limit.name.slice(0, at - 1));
}

/** What went together only after a measurement of it is dated. */
export function togetherAfter(
  { view, actions, doing, known, isTakenApart, done }: Days,
  limit: Limit,
  { on }: Measured & { readonly on: DateText },
): Bound | undefined {
  const part = partOf(view, limit);
  const measured = doing.get(`measure ${limit.name}`)?.[0];
  // Who took over an engine that was together may have measured it as it came in.
  if (part === undefined || measured === undefined || known < measured || isTakenApart) return undefined;
  const isTest = limit.of === undefined && limit.each === undefined;
  const measuredOn = byDay(done.get(actions[measured]?.step.name ?? '') ?? [])[0]?.on.text;
  let late: Bound | undefined;
  const names = [part.name];
  for (const name of names) {
    const place = (doing.get(`fit ${name}`) ?? []).find(
      (each) => each < measured && !(isTest && actions[each]?.step.trial),
    );
    const fitted = place === undefined ? undefined : actions[place];
    const by = byDay(done.get(fitted?.step.name ?? '') ?? [])[0];
    if (place === undefined || fitted === undefined || by === undefined) continue;
    if (measuredOn !== undefined && by.on.text > measuredOn) return undefined;
    // A step that is dated after one behind it is told as that.
    const behind = new Set(actions.slice(place + 1).map(({ step }) => step.name));
    if ([...behind].some((step) => done.get(step)?.some(({ on: day }) => day.text < by.on.text))) return undefined;
    const own = partCalled(view, name);
    if (own !== undefined && by.on.text > (late?.done.on.text ?? on.text)) late = { done: by, part: own };
    const mate = fitted.action.mate?.reference.owner.text;
    if (mate !== undefined && !names.includes(mate) && names.length < MOST_CLOSING) names.push(mate);
  }
  return late;
}
