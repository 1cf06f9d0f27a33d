// One job carried out, from the first step to what is left undone at its end.
import type { Sequence, View } from '../model/view.ts';
import { beginSequence } from './curing.ts';
import { doStep } from './each-place.ts';
import { sayWhatIsLeft } from './ending.ts';
import { foresee } from './foresight.ts';
import type { InPieces } from './pieces.ts';
import type { Plan } from './plan.ts';
import { joined, type RehearsalFinding } from './rehearsal-finding.ts';
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

/** Carries a job out, piece by piece: what goes wrong in it, each fault once, in the order in which it is met. */
export function carryOut(state: State, plan: Plan, inPieces: InPieces): readonly RehearsalFinding[] {
  const inSequence = (sequence: Sequence): void => {
    inPieces(sequence, () => begin(state, sequence));
    for (const step of sequence.steps) inPieces(step, () => doStep(state, step));
  };
  state.findings.length = 0;
  state.muted = true;
  for (const sequence of plan.before) inSequence(sequence);
  state.muted = false;
  state.findings.length = 0;
  for (const sequence of plan.sequences) inSequence(sequence);
  sayWhatIsLeft(state, inPieces);
  return joined(state.findings);
}
