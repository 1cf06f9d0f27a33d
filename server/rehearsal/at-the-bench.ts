// What the work looks at of parts and fasteners with many figures: a few words each, so that a figure that no job reads has none carried out
// again.

import type { Retorque, Reuse } from '../../grammar/tree.ts';
import type { Exact } from '../mechanics/exact.ts';
import { coveredBy } from '../model/covered.ts';
import { type Entry, keyed } from '../model/keyed.ts';
import type { Fastener, Limit, Part } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import { degreesOf } from './crank-angle.ts';

/** In how many stages a fastener is tightened. */
export const stageCount = question((_view, fastener: Fastener): number => fastener.stages.length);

/** Whether a fastener is stretched by an angle. */
export const goesByAngle = question((_view, fastener: Fastener): boolean =>
  fastener.stages.some(({ kind }) => kind === 'angle'),
);

/** The marks of a part, with the degrees at which they are said to stand. */
export const markAngles = question(
  (_view, part: Part): ReadonlyMap<string, Exact | undefined> =>
    new Map([...part.marks].map(([name, { at }]) => [name, degreesOf(at)])),
);

/** How many of each dimension a part has. */
export const dimensionCounts = question(
  (_view, part: Part): ReadonlyMap<string, number> =>
    new Map([...part.dimensions].map(([name, { count }]) => [name, count])),
);

/** What a part covers: other parts, or one mark of them. */
export const coversOf = question((view, part: Part) =>
  coveredBy(part, view).map(({ name, feature }) => ({ name, feature })),
);

/** What is said of tightening a fastener again. */
export const retorqueOf = question((_view, fastener: Fastener): Retorque | undefined =>
  fastener.statements.find((each): each is Retorque => each.kind === 'retorque'),
);

/** What is said of using a fastener again. */
export const reuseOf = question((_view, fastener: Fastener): Reuse | undefined =>
  fastener.statements.find((each): each is Reuse => each.kind === 'reuse'),
);

/** The limits of a part or a fastener, in the order written. */
export const limitsOf = keyed(
  (view) => view.limits,
  (_view, limit: Limit): readonly Entry<Limit>[] => {
    const of = (limit.of ?? limit.each)?.owner.text;
    return of === undefined ? [] : [[of, limit]];
  },
);

/** The fasteners that clamp a part, in the order written. */
export const clampedIn = keyed(
  (view) => view.fasteners,
  (_view, fastener: Fastener) => fastener.clamps.map(({ part }): Entry<Fastener> => [part, fastener]),
);
