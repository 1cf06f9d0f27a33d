// Shafts are pinned, and the pins come out again.
import { type Argument, type Told, told } from '../../../grammar/told.ts';
import type { Act } from '../act.ts';
import { type ActionRule, onEach, type UndoneRule } from '../action-rule.ts';
import { inWords } from '../in-words.ts';
import { sayShared } from '../left.ts';
import type { PartState } from '../part-state.ts';
import type { State } from '../state.ts';
import { isKnown, sayNothingToUndo } from '../undo.ts';

export const pin: UndoneRule = onEach(
  (_state, { part, act }) => {
    if (part === undefined) return;
    part.saidNotHeld = false;
    part.pinned = act;
    part.wasPinned = true;
  },
  {
    partAtEnd(state, part) {
      if (part.pinned !== undefined) sayPinned(state, part, part.pinned);
    },
    standing: (state) => state.parts.values().flatMap(({ part, pinned }) => (pinned === undefined ? [] : [part.name])),
    facts: (state) =>
      state.parts
        .values()
        .map(
          ({ part, pinned }) => [`${part.name} `, pinned === undefined ? told`free of its pin` : told`pinned`] as const,
        ),
  },
);

export const unpin: ActionRule = onEach((state, { name, part, act }) => {
  if (part === undefined) return;
  if (part.pinned === undefined && !part.saidNotHeld && isKnown(state))
    sayNothingToUndo(state, { word: 'unpin', stands: told`is not pinned`, does: 'pin' }, name, act);
  part.pinned = undefined;
});

/** A shaft that an action pins and none unpins; one finding for all that one action pins. */
function sayPinned(state: State, { part }: PartState, by: Act): void {
  const tell = (names: readonly Argument[]): Told =>
    names.length === 1
      ? told`${inWords(names)} is pinned here and the pin never comes out. Say unpin ${told.list(names, ',')} before the engine is turned.`
      : told`${inWords(names)} are pinned here and the pins never come out. Say unpin ${told.list(names, ',')} before the engine is turned.`;
  sayShared(state, 'sequence/still-pinned', by, told.thing(part), by, tell);
}
