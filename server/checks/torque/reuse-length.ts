// A bolt that may go back up to a length that even a new one has passed.
import { told } from '../../../grammar/told.ts';
import type { Span } from '../../../grammar/tree.ts';
import { toNumber } from '../../mechanics/exact.ts';
import { kindOf } from '../../mechanics/units.ts';
import { fastenerLength } from '../../model/fastener-sums.ts';
import { measureOf } from '../../model/measure.ts';
import type { Fastener } from '../../model/view.ts';
import type { Report, ThingCheck } from '../check.ts';
import { figure } from '../figures.ts';
import page from './reuse-length.md';

/** No bolt that is so many times as long as a new one may go back: it necks and breaks before. Judgement; makers allow one part in a hundred or so. */
const MOST_GROWN = 1.05;

function sayGrown(fastener: Fastener, span: Span, longest: number, length: number, report: Report): void {
  report(
    fastener.placed,
    span,
    told`${told.thing(fastener)} may go back up to ${figure(String(Number(longest.toFixed(2))), 'mm')}, and a new one is ${figure(String(Number(length.toFixed(2))), 'mm')}: a bolt that is ${((longest / length - 1) * 100).toFixed(0)} % longer has necked. See whether a digit slipped.`,
    { severity: 'warning' },
  );
}

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
    if (longest > length.high * MOST_GROWN) sayGrown(thing, reuse.length, longest, length.high, report);
    if (longest >= length.low) return;
    const mm = (value: number) => figure(String(Number(value.toFixed(2))), 'mm');
    report(
      thing.placed,
      reuse.length,
      told`${told.thing(thing)} may go back while it is no longer than ${mm(longest)}, and a new one is ${mm(length.low)} long: none could. See which of the two figures is wrong.`,
    );
  },
};
