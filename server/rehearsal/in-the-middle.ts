// Somebody stands in the middle of a job that was carried out for its findings: the engine stands as a step found it, the step is done again
// and looked at, and what it did is let go. So it costs a step, and not the job.
import { untracked } from '../model/questions.ts';
import type { Job, Step, View } from '../model/view.ts';
import { doneJob } from './rehearse.ts';
import type { State } from './state.ts';

/** How a moment of a job is looked at: the engine as the step finds it, to do the step on. */
type Look<result> = (state: State, step: Step) => result;

/** Looks at the job each time that it does a step that is wanted, in turn, as often as `most` says; what `before` it is done counts too. */
export function atSteps<result>(
  view: View,
  job: Job | string,
  wanted: (step: object) => boolean,
  look: Look<result>,
  most = Number.POSITIVE_INFINITY,
): readonly result[] {
  const done = doneJob(view, job);
  if (done === undefined) return [];
  const { state, pieces } = done;
  const { trail } = pieces;
  const { ledger, findings, muted } = state;
  const said = [...findings];
  state.muted = true;
  try {
    return trail
      .filter(({ of }) => typeof of === 'object' && wanted(of))
      .slice(0, most)
      .map((piece) => {
        ledger.standBefore(piece);
        const found = untracked(() => look(state, piece.of as Step));
        ledger.leave();
        return found;
      });
  } finally {
    ledger.leave();
    state.turn = undefined;
    state.muted = muted;
    findings.splice(0, findings.length, ...said);
  }
}

/** Looks at the first time that the job does a step; undefined where it does not. */
export function atStep<result>(view: View, of: Job | string, step: Step, look: Look<result>): result | undefined {
  return atSteps(view, of, (each) => each === step, look, 1)[0];
}
