// Paste and grit: what is ground in, lapped, honed or blasted is washed before it goes on, or it wears what runs on it. Common practice, no source.
import { told } from '../../grammar/told.ts';
import type { Action } from '../../grammar/tree.ts';
import { isA, type TradeKind } from '../model/trade-names.ts';
import type { View } from '../model/view.ts';
import { type Act, pointAt } from './act.ts';
import type { PartState } from './part-state.ts';
import { type State, say } from './state.ts';

/** Work that leaves grit where it is done. */
const GRITTY =
  /\b(?:gr(?:ind|inds|ound|inding)[ -]in|lap(?:s|ped|ping)?|hon(?:e|es|ed|ing)|(?:sand|bead|grit|shot|glass)?[ -]?blast(?:s|ed|ing)?)\b/i;
/** Work that leaves chips. */
const CHIPS =
  /\b(?:bor(?:e|es|ed|ing)|re-?bor(?:e|ed|ing)|mill(?:s|ed|ing)?|cut(?:s|ter|ting)?|drill(?:s|ed|ing)?|ream(?:s|ed|ing|er)?|fac(?:e|es|ed|ing)|skim(?:s|med|ming)?|gr(?:ind|inds|ound|inding)|counterbor(?:e|ed|ing)|tap(?:s|ped|ping)?)\b/i;
/** What chips stay in: holes, galleries, jackets. A bearing or a valve is blown off. */
const HOLDS_CHIPS: readonly TradeKind[] = ['block', 'case', 'head', 'crankshaft', 'rod', 'liner', 'barrel', 'cylinder'];
/** What it is done with. */
const PASTE = /paste|abrasive|grit|grinding|lapping|emery|carborundum/i;

const leavesChips = ({ byText }: Action): boolean => CHIPS.test(byText?.value ?? '');

function leavesGrit({ byText, with: using }: Action, view: View): boolean {
  if (using === undefined) return GRITTY.test(byText?.value ?? '');
  const supply = view.things.get(using.owner.text);
  return GRITTY.test(byText?.value ?? '') || PASTE.test(`${using.owner.text} ${supply?.title ?? ''}`);
}

/** A part is machined: it has grit on it from here on, where that leaves any. */
export function makeGritty(state: State, part: PartState | undefined, action: Action, act: Act): void {
  if (part === undefined) return;
  if (leavesGrit(action, state.view) || (leavesChips(action) && isA(part.part, ...HOLDS_CHIPS))) part.gritFrom = act;
}

/** Says that a part goes on with grit on it, or onto a part that has some. */
export function sayIfGritty(state: State, part: PartState, mate: string | undefined, act: Act): void {
  if (act.step.trial) return;
  for (const each of [part, mate === undefined ? undefined : state.parts.get(mate)]) {
    const by = each?.gritFrom;
    if (each === undefined || by === undefined || state.unsure) continue;
    const isGrit = by.statement.kind === 'action' && leavesGrit(by.statement, state.view);
    say(
      state,
      'sequence/not-cleaned',
      act,
      !isGrit
        ? each === part
          ? told`${told.thing(part.part)} goes on as it was machined in step ${told.thing(by.step)}: chips are on it still. Say clean ${told.thing(part.part)} before this.`
          : told`${told.thing(part.part)} goes onto ${told.thing(each.part)} as it was machined in step ${told.thing(by.step)}: chips are on it still. Say clean ${told.thing(each.part)} before this.`
        : each === part
          ? told`${told.thing(part.part)} goes on as it was machined in step ${told.thing(by.step)}: paste and grit are on it still. Say clean ${told.thing(part.part)} before this.`
          : told`${told.thing(part.part)} goes onto ${told.thing(each.part)} as it was machined in step ${told.thing(by.step)}: paste and grit are on it still. Say clean ${told.thing(each.part)} before this.`,
      {
        related: pointAt(by, told`machined here`),
        missing: true,
        ...(isGrit ? {} : { severity: 'information' as const }),
      },
    );
    if (!state.muted) each.gritFrom = undefined;
  }
}
