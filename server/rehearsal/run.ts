// One job carried out, from the first step to what is left undone at its end.
import type { Sequence, Step, View } from '../model/view.ts';
import { beginSequence } from './curing.ts';
import { doStep } from './each-place.ts';
import { sayWhatIsLeft } from './ending.ts';
import { foresee } from './foresight.ts';
import type { GoThrough, PieceOf } from './pieces.ts';
import type { Plan } from './plan.ts';
import { standsThere } from './starts-with.ts';
import { beginOf, type State } from './state.ts';

/** What a job is carried out on. `refits` are the sequences of jobs that begin with a whole engine. */
export interface Bench {
  readonly view: View;
  readonly file: string;
  readonly refits: ReadonlySet<string>;
}

/** The engine at the beginning of a job. */
export function beginJob({ view, file, refits }: Bench, plan: Plan): State {
  return beginOf(
    view,
    plan,
    file,
    foresee(view, plan, file, () => refits),
  );
}

/** A sequence begins: what it starts with stands there. */
export function begin(state: State, sequence: Sequence): void {
  beginSequence(state);
  if (state.plan.begins !== 'whole') for (const name of sequence.startsWith) standsThere(state, name.text);
}

/** The pieces of a sequence: its beginning, and its steps. */
const piecesOf = (sequence: Sequence): readonly (Sequence | Step)[] => [sequence, ...sequence.steps];

/**
 * Carries a job out, piece by piece: what goes wrong in it, each fault once, in the order in which it is met. Gives the names of the parts that stand
 * otherwise at its end. `looksAtAll`: see `sayWhatIsLeft`.
 */
export function carryOut(state: State, plan: Plan, goThrough: GoThrough, looksAtAll: boolean): readonly string[] {
  const work = (of: PieceOf): void => {
    const piece = of as Sequence | Step;
    if (piece.kind === 'sequence') begin(state, piece);
    else doStep(state, piece);
  };
  state.muted = true;
  goThrough(plan.before.flatMap(piecesOf), work);
  state.muted = false;
  goThrough(plan.sequences.flatMap(piecesOf), work);
  return sayWhatIsLeft(state, goThrough, looksAtAll);
}
