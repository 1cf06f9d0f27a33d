// Where a sum begins to be worked out, with all that it may name.
import { engineFigure } from './engine-sums.ts';
import { type Evaluation, evaluationWith } from './expression.ts';
import type { Asked } from './feature-places.ts';
import type { View } from './view.ts';

/** Starts working out in a view, at a place where one is asked for. */
export function evaluation(view: View, asked?: Asked): Evaluation {
  return evaluationWith(view, engineFigure, asked);
}
