// A class or grade that no table has: most likely a slip of the pen, since classes are few.
import { nearest } from '../../../grammar/nearest.ts';
import { told } from '../../../grammar/told.ts';
import { strengthNames, strengthOf } from '../../mechanics/strength.ts';
import type { Fastener } from '../../model/view.ts';
import type { ThingCheck } from '../check.ts';
import { change, inWords } from '../support.ts';
import page from './unknown-class.md';

/** How the classes of the tables are written: 8.8, grade-5, A2-70, 10 of a nut. Others (a letter of an old standard) are not judged. */
const OF_A_TABLE = /^(?:\d{1,3}(?:\.\d{1,2})?|(?:sae-?)?(?:grade|gr)-?\d{1,2}(?:\.\d)?|a\d-?\d\d)$/i;

/** A size in mm that every table has. */
const MIDDLE = 10;

const digitsOf = (name: string): string => [...name.replace(/\D/g, '')].sort().join('');

/** Whether a class is written like one of a table and stands in none, whatever the size. */
export function isUnknownClass({ strengthClass }: Pick<Fastener, 'strengthClass'>): boolean {
  return (
    strengthClass !== undefined && OF_A_TABLE.test(strengthClass) && strengthOf(strengthClass, MIDDLE) === undefined
  );
}

/** The classes that may be meant: the same digits in another order, and a usual one a letter off; else any that is a letter off. */
function meantBy(written: string, usual: readonly string[]): readonly string[] {
  const kind = (name: string): string => name.replace(/[\d.]+.*$/, '').toLowerCase();
  const like = strengthNames().filter((name) => kind(name) === kind(written));
  const swapped = like.find((name) => digitsOf(name) === digitsOf(written));
  const near = [swapped, nearest(written, usual)].filter((each) => each !== undefined);
  const meant = near.length > 0 ? near : [nearest(written, like)].filter((each) => each !== undefined);
  return [...new Set(meant)];
}

export const unknownClass: ThingCheck<'fastener'> = {
  code: 'torque/unknown-class',
  severity: 'warning',
  scope: 'thing',
  of: ['fastener'],
  page,
  run(thing, _view, report) {
    if (thing.strengthClass === undefined || !isUnknownClass(thing)) return;
    const statement = thing.statements.find((each) => each.kind === 'class');
    // What it has from another bolt is said there.
    if (statement?.kind !== 'class') return;
    const written = thing.strengthClass;
    const usual = /^(?:grade|gr|sae)/i.test(written)
      ? ['grade-5', 'grade-8']
      : /^a/i.test(written)
        ? ['A2-70', 'A4-80']
        : ['8.8', '10.9', '12.9'];
    const meant = meantBy(written, usual);
    report(
      thing.placed,
      statement.class,
      meant.length === 0
        ? told`No table has a class ${written}. Usual ones are ${inWords(usual)}: look at the head again.`
        : told`No table has a class ${written}. Did you mean ${inWords(meant, 'or')}?`,
      { fixes: meant.map((each) => change(thing.placed, statement.class, each)) },
    );
  },
};
