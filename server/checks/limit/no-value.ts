// A limit that is neither worked out nor measured: nothing could ever be held against it.
import { nameSpan, type ThingCheck } from '../check.ts';
import page from './no-value.md';
import { measuredInSteps } from './select.ts';

export const noValue: ThingCheck = {
  code: 'limit/no-value',
  severity: 'error',
  scope: 'thing',
  page,
  run(thing, view, report) {
    if (
      thing.kind !== 'limit' ||
      thing.broken ||
      thing.expression !== undefined ||
      thing.measured ||
      measuredInSteps(thing, view)
    )
      return;
    report(
      thing.placed,
      nameSpan(thing.placed),
      `Nothing says where ${thing.name} comes from. Write = and the sum that gives it, or measured.`,
      { missing: true },
    );
  },
};
