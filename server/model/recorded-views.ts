// The views of all variants of a spec, over all edits: what becomes of each is told for all of them before any of it is seen, so that a
// declaration that all see comes to stand in all of them as one. A single view is in recorded-view.ts.
import type { InPieces } from '../../grammar/give-way.ts';
import type { ReadFile } from './placed.ts';
import { type Planned, Together } from './recorded-together.ts';
import { type RecordedView, recording } from './recorded-view.ts';
import { type Plan, planning } from './view-plans.ts';
import { takePlan, type ViewUpdate } from './view-updates.ts';

/** The views of all variants. */
export interface RecordedViews {
  readonly views: readonly RecordedView[];
  /** Looks at one of the views; what things say meanwhile is what they say for its variant. */
  lookAt<result>(view: number, look: () => result): result;
  /**
   * Takes the files as they are read now; tells for each view which declarations of the first file say something else, which came and which went. It may
   * be left off: what is seen is another only when it is done.
   */
  updating(files: readonly ReadFile[], incomplete: boolean): InPieces<readonly ViewUpdate[]>;
}

/** The views of some files for some variants, cached for as long as the files are. */
export function* recordingViews(
  files: readonly ReadFile[],
  variants: readonly (string | undefined)[],
  incomplete: boolean,
): InPieces<RecordedViews> {
  const together = new Together(variants);
  const all = variants.map((variant, i) => recording(variant, i, together));
  /** How often they became others: what is planned is held against what they begin with. */
  let version = 0;
  const views: RecordedViews = {
    views: all.map(({ recorded }) => recorded),
    lookAt: (view, look) => together.lookAt(view, look),
    *updating(now, isIncomplete) {
      for (;;) {
        const from = version;
        const planned: Planned = new Map();
        const plans: Plan[] = [];
        for (const { state } of all) plans.push(yield* planning(state, now, planned));
        // Somebody else may have come to it in between.
        if (version !== from) continue;
        version += 1;
        together.reconciled.clear();
        return all.map(({ state }, i) => takePlan(state, now, isIncomplete, plans[i] as Plan));
      }
    },
  };
  yield* views.updating(files, incomplete);
  return views;
}
