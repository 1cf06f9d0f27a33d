// Which units a spec shows first: those of `units inch`, else the metric ones.
import type { Placed } from './placed.ts';
import type { View } from './view.ts';
import { question } from './view-questions.ts';

const isInInches = question((_view, spec: Placed): boolean =>
  (spec.declaration.body?.statements ?? []).some(
    (each) => each.kind === 'choice' && each.word === 'units' && each.choice?.word === 'inch',
  ),
);

const areSomeInInches = question((view, _subject: 'specs'): boolean =>
  view.specs.some((spec) => isInInches(view, spec)),
);

/** Whether a spec shows inches first. */
export const showsInches = (view: View): boolean => areSomeInInches(view, 'specs');
