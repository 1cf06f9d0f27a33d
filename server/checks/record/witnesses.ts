// Hold points of steps that a record says were done, and nobody is said to have looked at. Nothing is reported here.

import type { BuiltView } from '../../model/build-view.ts';
import type { Placed } from '../../model/placed.ts';
import { recordStatements } from './measurements.ts';

/** The names of those steps, in the order in which they were done. */
export function notWitnessed(placed: Placed, view: BuiltView): readonly string[] {
  const statements = recordStatements(placed, view);
  const seen = new Set(statements.flatMap((each) => (each.kind === 'witnessed' ? [each.step.owner.text] : [])));
  const done = statements.flatMap((each) =>
    each.kind === 'done' && each.word === 'done' ? [each.step.owner.text] : [],
  );
  return [...new Set(done)].filter((name) => {
    const step = view.things.get(name);
    return step?.kind === 'step' && !seen.has(name) && step.statements.some((each) => each.word === 'hold-point');
  });
}
