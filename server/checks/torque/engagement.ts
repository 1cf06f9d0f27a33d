// A bolt that meets the bottom of its hole, or that has too little thread in what it goes into.

import { type QuantityArgument, told } from '../../../grammar/told.ts';
import { engagement } from '../../mechanics/engagement.ts';
import { toNumber } from '../../mechanics/exact.ts';
import { parseThread } from '../../mechanics/threads.ts';
import { kindOf } from '../../mechanics/units.ts';
import { fastenerLength } from '../../model/fastener-sums.ts';
import { measureOf } from '../../model/measure.ts';
import type { Fastener, View } from '../../model/view.ts';
import type { ThingCheck } from '../check.ts';
import { figure } from '../figures.ts';
import page from './engagement.md';

/** The thickness of all that is clamped, mm, where each part of it says its `thickness`; nothing for a plug that clamps nothing. */
function clampedThickness(fastener: Fastener, view: View): { readonly low: number; readonly high: number } | undefined {
  if (fastener.clamps.length === 0 && fastener.joint !== 'plug') return undefined;
  let [low, high] = [0, 0];
  for (const { part } of fastener.clamps) {
    const thing = view.things.get(part);
    const value =
      thing?.kind === 'part' ? (thing.dimensions.get('thickness') ?? thing.figures.get('thickness'))?.value : undefined;
    const measure = value === undefined || value.kind === 'by-place' ? undefined : measureOf(value);
    if (measure === undefined || kindOf(measure.unit) !== 'length') return undefined;
    low += toNumber(measure.interval.low);
    high += toNumber(measure.interval.high);
  }
  return { low, high };
}

const mm = (value: number): QuantityArgument => figure(String(Number(value.toFixed(1))), 'mm');

/** A bolt that reaches into less of its hole, from the face under its head, hardly holds anything. Judgement; no source. */
const LEAST_REACH = 0.4;

export const engagementCheck: ThingCheck<'fastener'> = {
  code: 'torque/engagement',
  severity: 'warning',
  scope: 'thing',
  of: ['fastener'],
  page,
  run(thing, view, report) {
    if (thing.broken || thing.thread === undefined) return;
    const thread = parseThread(thing.thread);
    const [length, depth] = [fastenerLength(thing, 'length'), fastenerLength(thing, 'hole-depth')];
    const statement = thing.statements.find((each) => each.word === 'hole-depth');
    if (thread === undefined || length === undefined || depth === undefined || statement?.kind !== 'value') return;
    const into = thing.into === 'steel' || thing.into === 'iron' || thing.into === 'aluminium' ? thing.into : undefined;
    // A stud stands out of its hole by what it holds, so how far it goes in is not known.
    const clamped = thing.joint === 'stud' ? undefined : clampedThickness(thing, view);
    const deepest = engagement({ thread, length: length.high, holeDepth: depth.low, clamped: clamped?.low, into });
    const shallowest = engagement({ thread, length: length.high, holeDepth: depth.high, clamped: clamped?.low, into });
    if (deepest?.bottoms === true && deepest.spare !== undefined) {
      const between = thing.clamps.length === 0 ? told.nothing : told` through ${mm(clamped?.low ?? 0)} of parts`;
      report(
        thing.placed,
        statement.value,
        told`A ${mm(length.high)} bolt${between} meets the bottom of a ${mm(depth.low)} hole, ${mm(-deepest.spare)} too soon: it is tight and clamps nothing. It takes a bolt of ${mm(length.high + deepest.spare)} at most.`,
      );
    } else if (
      shallowest?.tooLittle !== true &&
      clamped === undefined &&
      thing.joint !== 'stud' &&
      thing.clamps.length > 0 &&
      length.low > depth.high
    ) {
      report(
        thing.placed,
        statement.value,
        told`A ${mm(length.low)} bolt is longer than this hole is deep, ${mm(depth.high)} from the face under its head. If the depth is counted from another face, say the thickness of what is clamped between.`,
        { severity: 'information' },
      );
    } else if (
      clamped === undefined &&
      thing.joint !== 'stud' &&
      thing.clamps.length > 0 &&
      length.high < depth.low * LEAST_REACH
    ) {
      report(
        thing.placed,
        statement.value,
        told`A ${mm(length.high)} bolt reaches hardly into this hole, which ends ${mm(depth.low)} from the face under its head. See whether a digit or a point slipped in one of the two.`,
        { severity: 'information' },
      );
    } else if (shallowest?.tooLittle === true && shallowest.usual !== undefined) {
      report(
        thing.placed,
        statement.value,
        told`At most ${mm(shallowest.held)} of thread takes hold, ${(shallowest.held / thread.diameter).toFixed(1)} diameters of ${thread.designation}. Into ${told.term(into ?? '')} about ${mm(shallowest.usual)} is usual (${shallowest.usual / thread.diameter} diameters): the thread may strip.`,
      );
    }
  },
};
