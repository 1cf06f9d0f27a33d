// Pins, tabs, wire and staking are put in, place by place.

import { type Told, told } from '../../../grammar/told.ts';
import { targetsOf } from '../../model/action-places.ts';
import { thoseThat } from '../../model/those-that.ts';
import { isA } from '../../model/trade-names.ts';
import type { Fastener, Limit, View } from '../../model/view.ts';
import { type Act, pointAt, targetAct } from '../act.ts';
import type { ActionRule } from '../action-rule.ts';
import { nameWith } from '../in-words.ts';
import { sayLeft } from '../left.ts';
import type { PartState } from '../part-state.ts';
import { OFF, withAt } from '../part-state.ts';
import { placesNow } from '../places.ts';
import { screwsIn } from '../screws.ts';
import { sayIfShutIn } from '../shut-in.ts';
import { type State, say, sayMissing } from '../state.ts';

export const secure: ActionRule = {
  carryOut(state, step, action) {
    for (const target of targetsOf(action, state.view)) {
      const fastener = state.fasteners.get(target.owner.text);
      if (fastener !== undefined) {
        fastener.secured = withAt(fastener.secured, screwsIn(state, fastener, target), true);
        sayIfByNothing(state, fastener.fastener, targetAct(step, action, target));
        continue;
      }
      const part = state.parts.get(target.owner.text);
      if (part === undefined) continue;
      const places = placesNow(state, part.part, target.places);
      if (places.length > 0 && places.every((i) => part.on[i] === OFF))
        sayMissing(
          state,
          'sequence/not-fitted-yet',
          part.part.name,
          targetAct(step, action, target),
          told`${told.thing(part.part)} is not on yet, so it can't be secured. Fit it first.`,
        );
      // Circlips go in while the pin can be got at.
      if (part.part.securedBy === 'circlip' && places.some((i) => part.secured[i] !== true))
        sayIfShutIn(
          { state, part, places, mate: part.mate, comesOff: false, withIt: action, isSecured: true },
          targetAct(step, action, target),
        );
      part.secured = withAt(part.secured, places, true);
    }
  },
  partAtEnd: sayNotSecured,
  facts: (state) =>
    state.parts
      .values()
      .flatMap(({ part, secured }) =>
        part.securedBy === undefined ? [] : [[`${part.name}  `, securedText(secured)] as const],
      ),
};

/** Says that a fastener is secured of which nothing tells what by: its pin or tab stands on no list then, and nobody misses it. */
function sayIfByNothing(state: State, fastener: Fastener, act: Act): void {
  if (fastener.broken || fastener.securedBy !== undefined || fastener.placed.file !== state.file) return;
  if (state.unsure) return;
  say(
    state,
    'sequence/not-secured',
    act,
    told`${told.thing(fastener)} is secured here, and nothing says what by. Say secured-by at ${told.thing(fastener)}: wire, a split pin, a tab washer.`,
    { severity: 'information' },
  );
}

/** What a locknut holds, of screws that set something. */
const withLocknut = thoseThat(
  (view) => view.parts,
  ({ securedBy }) => securedBy === 'locknut',
);

/** Says that the screws of the valve gear are locked already, and lash was not set yet. */
export function sayIfLocked(state: State, limit: Limit, act: Act): void {
  if (limit.sort !== 'valve-lash' || state.adjusted.has(limit.name)) return;
  const locked = withLocknut(state.view).map(({ name }) => name);
  for (const { part, mate, fittedBy, secured } of state.parts.among(locked)) {
    const by = fittedBy.find((each) => each !== undefined);
    if (by === undefined || mate === undefined || !isA(mate, 'rocker', 'lifter') || !secured.every((each) => each))
      continue;
    if (state.unsure) return;
    say(
      state,
      'sequence/held-fast',
      act,
      told`${told.thing(limit)} is adjusted here, and ${told.thing(part)} is secured by its locknut already. Adjust it first, then say secure ${told.thing(part)}.`,
      { related: pointAt(by, told`it went on here`) },
    );
    return;
  }
}

const SCREW = /adjust|screw|tappet|rocker|lash/i;

/** The screws of the valve gear with locknuts, by name: lash is set by them. */
export const lashScrewsOf = (view: View): readonly string[] =>
  withLocknut(view).flatMap((part) => (isA(part, 'rocker', 'lifter') || SCREW.test(part.name) ? [part.name] : []));

/** Those that were in as the job began: other ones are looked at as they go on. */
const lockedBefore = (state: State): readonly PartState[] =>
  state.parts
    .among(lashScrewsOf(state.view))
    .filter(({ on, fittedBy }) => on.some((each) => each !== OFF) && fittedBy.every((by) => by === undefined));

/** Lash is adjusted: the locknuts of the screws that were in are slack. */
export function unlock(state: State, limit: Limit): void {
  if (limit.sort !== 'valve-lash' || state.plan.begins !== 'whole') return;
  for (const each of lockedBefore(state)) each.secured = each.secured.map(() => false);
}

/** Says where lash was adjusted last, with locknuts that nobody has done up since. */
export function locknutsLeft(state: State): void {
  if (state.plan.begins !== 'whole') return;
  const by = state.adjusted
    .entries()
    .flatMap(([name, { by: last }]) => {
      const limit = state.view.things.get(name);
      return limit?.kind === 'limit' && limit.sort === 'valve-lash' ? [{ limit, last }] : [];
    })
    .at(-1);
  const slack = by === undefined ? undefined : lockedBefore(state).find(({ secured }) => secured.includes(false));
  if (by === undefined || slack === undefined) return;
  sayLeft(
    state,
    'sequence/not-secured',
    by.last.step.placed,
    by.last.span,
    told`${told.thing(by.limit)} is adjusted here, and ${told.thing(slack.part)} is not secured after it: it has a locknut. Say secure ${told.thing(slack.part)} when it is set.`,
  );
}

function securedText(secured: readonly boolean[]): Told {
  if (secured.every((each) => each)) return told`secured`;
  return secured.some((each) => each) ? told`secured in part` : told`not secured`;
}

/** What went on in this job, is on, and has no pin, tab or clip in it. */
function sayNotSecured(state: State, { part, on, secured, fittedBy }: PartState): void {
  if (part.securedBy === undefined) return;
  const open = [...on.keys()].filter((i) => on[i] !== OFF && fittedBy[i] !== undefined && secured[i] !== true);
  const fitted = open.map((i) => fittedBy[i]).find((by) => by !== undefined);
  if (fitted === undefined) return;
  const named = nameWith(part, open);
  const how = told.term(part.securedBy.replace('-', ' '));
  sayLeft(
    state,
    'sequence/not-secured',
    fitted.step.placed,
    fitted.span,
    open.length === 1 || open.length === on.length
      ? told`${named} goes on here and is never secured: it has a ${how}. Say secure ${named} after it.`
      : told`${named} go on here and are never secured: they have a ${how}. Say secure ${named} after it.`,
  );
}
