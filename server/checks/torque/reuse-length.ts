// A bolt that may go back up to a length that even a new one has passed.
import { told } from '../../../grammar/told.ts';
import { toNumber } from '../../mechanics/exact.ts';
import { kindOf } from '../../mechanics/units.ts';
import { fastenerLength } from '../../model/fastener-sums.ts';
import { measureOf } from '../../model/measure.ts';
import type { ThingCheck } from '../check.ts';
import { figure } from '../figures.ts';
import page from './reuse-length.md';

export const reuseLength: ThingCheck<'fastener'> = {
  code: 'torque/reuse-length',
  severity: 'error',
  scope: 'thing',
  of: ['fastener'],
  page,
  run(thing, _view, report) {
    if (thing.broken) return;
    const reuse = thing.statements.find((each) => each.kind === 'reuse');
    const length = fastenerLength(thing, 'length');
    if (reuse?.kind !== 'reuse' || length === undefined || reuse.length.kind === 'by-place') return;
    const most = measureOf(reuse.length);
    if (most === undefined || kindOf(most.unit) !== 'length') return;
    const longest = toNumber(most.interval.high);
    if (longest >= length.low) return;
    const mm = (value: number) => figure(String(Number(value.toFixed(2))), 'mm');
    report(
      thing.placed,
      reuse.length,
      told`${told.thing(thing)} may go back while it is no longer than ${mm(longest)}, and a new one is ${mm(length.low)} long: none could. See which of the two figures is wrong.`,
    );
  },
};
