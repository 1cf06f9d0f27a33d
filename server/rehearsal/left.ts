// How what is left undone at the end of a job is said.
import { type Argument, type Told, told } from '../../grammar/told.ts';
import type { Span } from '../../grammar/tree.ts';
import type { Placed } from '../model/placed.ts';
import type { Declared } from '../model/view.ts';
import { type Act, pointAt } from './act.ts';
import type { RehearsalFinding, Shared } from './rehearsal-finding.ts';
import { type State, sayAt } from './state.ts';

/** The span of the name of a thing, or of its keyword. */
export function nameOf(thing: Declared): Span {
  return thing.declaration.name ?? thing.declaration.wordSpan;
}

/** Something is missing at a place in a declaration. */
export function sayLeft(
  state: State,
  code: string,
  placed: Placed,
  span: Span,
  message: Told,
  related: ReturnType<typeof pointAt> = [],
  severity?: RehearsalFinding['severity'],
): void {
  sayAt(state, code, placed, span, message, {
    missing: true,
    related,
    ...(severity === undefined ? {} : { severity }),
  });
}

/** Says of one of the things that share an act what `tell` says of all of them. */
export function sayShared(
  state: State,
  code: string,
  act: Act,
  name: Argument,
  by: Shared,
  tell: (names: readonly Argument[]) => Told,
): void {
  const { placed } = act.step;
  state.findings.push({
    code,
    placed,
    span: act.span,
    message: tell([name]),
    related: [],
    missing: true,
    share: { by, name, tell },
  });
}

/** At the declaration where that is in the file, else where it was last worked on. */
export function sayOf(state: State, code: string, thing: Declared, act: Act | undefined, message: Told): void {
  if (thing.placed.file === state.file)
    sayLeft(state, code, thing.placed, nameOf(thing), message, pointAt(act, told`last worked on here`));
  else if (act !== undefined) sayLeft(state, code, act.step.placed, act.span, message);
}
