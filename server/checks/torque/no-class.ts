// Bolts whose strength is not said, so that their preload is not held against anything. Said once a file.
import { told } from '../../../grammar/told.ts';
import { strengthOf } from '../../mechanics/strength.ts';
import { parseThread } from '../../mechanics/threads.ts';
import { thoseThat } from '../../model/those-that.ts';
import type { Fastener } from '../../model/view.ts';
import { nameSpan, type SpecCheck } from '../check.ts';
import { inWords } from '../support.ts';
import page from './no-class.md';
import { isUnknownClass } from './unknown-class.ts';

/** A size in mm that every table has. */
const MIDDLE = 10;

/** Most names that are listed; the rest are counted. */
const LISTED = 4;

function hasNoStrength(fastener: Fastener): boolean {
  if (fastener.broken || fastener.joint === 'plug' || fastener.statements.some((each) => each.word === 'tensile'))
    return false;
  if (!fastener.stages.some((stage) => stage.kind === 'torque')) return false;
  if (fastener.strengthClass === undefined) return true;
  // What no table has is said for itself.
  if (isUnknownClass(fastener)) return false;
  const thread = fastener.thread === undefined ? undefined : parseThread(fastener.thread);
  return thread !== undefined && strengthOf(fastener.strengthClass, thread.diameter) === undefined;
}

const withoutStrength = thoseThat((view) => view.fasteners, hasNoStrength);

export const noClass: SpecCheck = {
  code: 'torque/no-class',
  severity: 'information',
  scope: 'spec',
  page,
  run({ view, file, report }) {
    const without = withoutStrength(view).filter((fastener) => fastener.placed.file === file.file);
    const first = without[0];
    if (first === undefined) return;
    const names = without
      .slice(0, LISTED)
      .map((each) =>
        each.strengthClass === undefined
          ? told.thing(each)
          : strengthOf(each.strengthClass, MIDDLE) === undefined
            ? told`${told.thing(each)} (class ${each.strengthClass} is in no table here: say tensile)`
            : told`${told.thing(each)} (class ${each.strengthClass} is not known in its size)`,
      );
    const list =
      without.length > LISTED ? told`${told.list(names, ',')} and ${without.length - LISTED} more` : inWords(names);
    report(
      first.placed,
      nameSpan(first.placed),
      without.length === 1
        ? told`1 fastener has no class or tensile strength to go by, so what the torque does to it is not worked out: ${list}.`
        : told`${without.length} fasteners have no class or tensile strength to go by, so what the torque does to them is not worked out: ${list}.`,
    );
  },
};
