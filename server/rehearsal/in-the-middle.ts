// Somebody stands in the middle of a job that was carried out for its findings: all is put back to where a step begins, the step is done
// again and looked at, and all is put as it was. So it costs a step, and not the job.
import { unnoted } from '../model/questions.ts';
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
  const places = trail.flatMap(([of], i) => (typeof of === 'object' && wanted(of) ? [i] : [])).slice(0, most);
  const [first] = places;
  if (first === undefined) return [];
  const { ledger, findings, muted } = state;
  const said = findings.length;
  for (const [, done] of trail.slice(first).reverse()) ledger.back(done);
  const found: result[] = [];
  let at = first;
  const onTo = (place: number): void => {
    for (; at < place; at += 1) {
      const piece = trail[at];
      if (piece !== undefined) ledger.again(piece[1]);
    }
  };
  state.muted = true;
  try {
    for (const place of places) {
      onTo(place);
      ledger.open();
      const step = trail[place]?.[0] as Step;
      found.push(unnoted(() => look(state, step)));
      ledger.leave();
    }
    return found;
  } finally {
    ledger.leave();
    onTo(trail.length);
    state.turn = undefined;
    state.muted = muted;
    findings.length = said;
  }
}

/** Looks at the first time that the job does a step; undefined where it does not. */
export function atStep<result>(view: View, of: Job | string, step: Step, look: Look<result>): result | undefined {
  return atSteps(view, of, (each) => each === step, look, 1)[0];
}
