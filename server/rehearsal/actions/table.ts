// What the rehearsal knows of each action, by its word. A word that is in the vocabulary and not here does not compile.
import type { ActionWord, UndoneWord } from '../../../grammar/vocabulary.ts';
import { type ActionRule, onEach, type UndoneRule } from '../action-rule.ts';
import { bleed } from './bleed.ts';
import { clean, inspect, lubricate, machine, seal } from './by-hand.ts';
import { connect, disconnect } from './connect.ts';
import { align } from './drive.ts';
import { drain, fill, prime } from './fill.ts';
import { fit, pushHome } from './fit.ts';
import { holdBack, release } from './hold-back.ts';
import { loosen } from './loosen.ts';
import { mask, unmask } from './mask.ts';
import { adjust, measure } from './measure.ts';
import { pin, unpin } from './pin.ts';
import { plug, unplug } from './plug.ts';
import { remove } from './remove.ts';
import { renew } from './renew.ts';
import { secure } from './secure.ts';
import { tighten } from './tighten.ts';

/** It changes nothing that the rehearsal keeps. */
const nothing: ActionRule = onEach(() => undefined);

/** Actions whose work stands until another takes it back; what is drained is filled. */
export type StandingWord = UndoneWord | 'drain';

export const ACTION_RULES: Readonly<Record<ActionWord, ActionRule> & Record<StandingWord, UndoneRule>> = {
  fit,
  'push-home': pushHome,
  'line-up': nothing,
  remove,
  tighten,
  snug: tighten,
  loosen,
  renew,
  secure,
  lubricate,
  seal,
  clean,
  inspect,
  measure,
  adjust,
  machine,
  'hold-back': holdBack,
  release,
  pin,
  unpin,
  align,
  drain,
  fill,
  bleed,
  prime,
  connect,
  disconnect,
  plug,
  unplug,
  mask,
  unmask,
  support: nothing,
  lift: nothing,
};
