// A count that no engine has: pieces, places, teeth, links, cylinders.
import { told } from '../../../grammar/told.ts';
import type { Span, Statement } from '../../../grammar/tree.ts';
import { placesOfLimit } from '../../model/limit-places.ts';
import { MOST_COUNTED, MOST_CYLINDERS, MOST_LIMIT_PLACES } from '../../model/most.ts';
import type { Placed } from '../../model/placed.ts';
import type { View } from '../../model/view.ts';
import type { DeclarationCheck, Report } from '../check.ts';
import page from './too-many.md';

interface Counted extends Span {
  readonly what: string;
  readonly count: number;
  readonly most: number;
}

function countsIn(statements: readonly Statement[]): readonly Counted[] {
  return statements.flatMap((each): readonly Counted[] => {
    if (each.kind === 'when' || each.kind === 'size') return countsIn(each.body?.statements ?? []);
    if (each.kind === 'dimension' && each.count !== undefined)
      return [{ ...each.count, what: each.name.text, count: each.count.value, most: MOST_COUNTED }];
    if (each.kind === 'number' && (each.word === 'teeth' || each.word === 'links')) {
      const { text, start, end } = each.number;
      return [{ start, end, what: each.word, count: /^\d+$/.test(text) ? Number(text) : 0, most: MOST_COUNTED }];
    }
    if (each.kind === 'cylinders')
      return [{ ...each.count, what: 'cylinders', count: each.count.value, most: MOST_CYLINDERS }];
    if (each.kind === 'places')
      return each.places.map(({ from, to, start, end }) => ({
        ...{ start, end, what: 'places', most: MOST_COUNTED },
        count: from === undefined ? 0 : (to ?? from) - from + 1,
      }));
    return [];
  });
}

/** A limit that is worked out at the first of its places alone. */
function sayPlaces(placed: Placed, view: View, report: Report): void {
  const { word, name } = placed.declaration;
  const limit = word === 'limit' && name !== undefined ? view.things.get(name.text) : undefined;
  if (limit?.kind !== 'limit' || limit.placed !== placed || limit.expression === undefined || limit.each === undefined)
    return;
  const places = placesOfLimit(limit, view).length;
  if (places > MOST_LIMIT_PLACES)
    report(
      placed,
      limit.each,
      told`${told.thing(limit)} has ${places} places, and is worked out at the first ${MOST_LIMIT_PLACES} of them. Is there a digit too many?`,
      { severity: 'information' },
    );
}

export const tooMany: DeclarationCheck = {
  code: 'unit/too-many',
  severity: 'error',
  scope: 'declaration',
  page,
  run(placed, view, report) {
    const { word, name, count, body } = placed.declaration;
    const ofItself: readonly Counted[] =
      count === undefined ? [] : [{ ...count, what: name?.text ?? word, count: count.value, most: MOST_COUNTED }];
    for (const counted of [...ofItself, ...countsIn(body?.statements ?? [])]) {
      if (counted.count <= counted.most) continue;
      const written = placed.section.text.slice(counted.start, counted.end);
      report(
        placed,
        counted,
        told`No engine has so many: ${counted.what} ${written}. ${counted.most} is the most that is counted here. Is there a digit too many?`,
      );
    }
    sayPlaces(placed, view, report);
  },
};
