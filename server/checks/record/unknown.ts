// A record that names what its spec does not have: a part, a limit, a step, a size, a grade, a place.

import { told } from '../../../grammar/told.ts';
import type { BuiltView } from '../../model/build-view.ts';
import { lookedThrough } from '../../model/feature-places.ts';
import { placesOfLimit } from '../../model/limit-places.ts';
import type { Placed } from '../../model/placed.ts';
import { usesOf } from '../../model/references.ts';
import type { Grades } from '../../model/view.ts';
import type { DeclarationCheck, Report } from '../check.ts';
import { concerns, sayUnknown, useHolds } from '../name/unknown.ts';
import { isKnownPlace, placeNames } from '../name/value-places.ts';
import { sayWrongKind } from '../name/wrong-kind.ts';
import { didYouMean, inWords } from '../support.ts';
import page from './unknown.md';

/** The rows that a fitted part can be chosen from. */
function tablesOf(part: string, view: BuiltView): readonly Grades[] {
  return view.grades.filter((table) => table.name === part);
}

function sayGrades(placed: Placed, view: BuiltView, report: Report): void {
  for (const each of placed.declaration.body?.statements ?? []) {
    if (each.kind !== 'record-fitted' || each.grade === undefined) continue;
    const part = each.part.owner.text;
    if (!view.things.has(part)) continue;
    const rows = tablesOf(part, view).flatMap((table) => table.rows.map((row) => row.name.text));
    if (rows.includes(each.grade.text)) continue;
    const near = didYouMean(each.grade, rows, placed);
    const has =
      rows.length === 0 ? told`${part} has no table of grades` : told`the grades of ${part} are ${inWords(rows)}`;
    report(placed, each.grade, told`There is no grade ${told.named(each.grade.text)}: ${has}.${near.sentence}`, {
      fixes: near.fixes,
    });
  }
}

/** Places of a grade that what its table goes by does not have. */
function sayGradePlaces(placed: Placed, view: BuiltView, report: Report): void {
  for (const each of placed.declaration.body?.statements ?? []) {
    if (each.kind !== 'record-fitted' || each.grade === undefined || each.part.places.length === 0) continue;
    const table = view.things.get(each.part.owner.text);
    const limit = table?.kind === 'grades' ? view.things.get(table.by?.owner.text ?? '') : undefined;
    if (limit?.kind !== 'limit' || limit.broken || limit.each === undefined) continue;
    const known = placesOfLimit(limit, view).map((asked) => ({
      name: asked.name,
      number: asked.number ?? asked.index,
    }));
    const find = lookedThrough(known);
    for (const place of each.part.places) {
      if (known.length === 0 || isKnownPlace(place, find)) continue;
      const written = placed.section.text.slice(place.start, place.end).replace(/\s+/g, ' ');
      report(
        placed,
        place,
        told`${told.named(each.part.owner.text)} has no place ${written}: ${told.thing(limit)}, which it goes by, is measured at ${placeNames(known)}.`,
      );
    }
  }
}

/** Places of a measured value that its limit does not have. */
function sayPlaces(placed: Placed, view: BuiltView, report: Report): void {
  for (const each of placed.declaration.body?.statements ?? []) {
    if (each.kind !== 'measured' || each.value?.kind !== 'by-place') continue;
    const limit = view.things.get(each.limit.owner.text);
    if (limit?.kind !== 'limit' || limit.broken || limit.each === undefined) continue;
    const thing = view.things.get(limit.each.owner.text);
    if ((thing?.kind !== 'part' && thing?.kind !== 'fastener') || thing.broken) continue;
    const known = placesOfLimit(limit, view).map((asked) => ({
      name: asked.name,
      number: asked.number ?? asked.index,
    }));
    const find = lookedThrough(known);
    let all: ReturnType<typeof placeNames> | undefined;
    for (const entry of each.value.entries)
      for (const place of entry.places) {
        if (isKnownPlace(place, find)) continue;
        const written = placed.section.text.slice(place.start, place.end).replace(/\s+/g, ' ');
        all ??= placeNames(known);
        report(placed, place, told`${told.thing(limit)} has no place ${written}: it is measured at ${all}.`);
      }
  }
}

export const recordUnknown: DeclarationCheck = {
  code: 'record/unknown',
  severity: 'error',
  scope: 'declaration',
  words: ['record'],
  page,
  run(placed, view, report) {
    if (!concerns(placed, view)) return;
    for (const use of usesOf(placed).uses) {
      if (!useHolds(use, view)) continue;
      sayUnknown(placed, use, view, report);
      sayWrongKind(placed, use, view, report);
    }
    sayGrades(placed, view, report);
    sayGradePlaces(placed, view, report);
    sayPlaces(placed, view, report);
  },
};
