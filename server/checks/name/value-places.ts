// Places behind `for`, or before a colon, in the values of a part or a limit that the part does not have: whatever is held there is held
// nowhere. Told by name/unknown.
import { among } from '../../../grammar/nearest.ts';
import { type Argument, type ListArgument, told } from '../../../grammar/told.ts';
import type { Place, Statement, Value } from '../../../grammar/tree.ts';
import { placesToMeasure } from '../../model/action-places.ts';
import { isBySize } from '../../model/bounds-by-size.ts';
import { allPlaces, lookedThrough, type NamedPlace, type Places } from '../../model/feature-places.ts';
import type { Placed } from '../../model/placed.ts';
import type { Part, View } from '../../model/view.ts';
import type { Report } from '../check.ts';
import { didYouMeanAmong, inWords } from '../support.ts';

/** `1 to 5`, or `inlet 1 to 6 and exhaust 1 to 6`. */
export function placeNames(known: readonly NamedPlace[]): ListArgument {
  const counts = new Map<string | undefined, number>();
  for (const { name } of known) counts.set(name, (counts.get(name) ?? 0) + 1);
  return inWords(
    [...counts].map(([name, many]) => {
      if (many === 1) return told.place(name ?? '1');
      return name === undefined ? told`1 to ${many}` : told`${told.place(name)} 1 to ${many}`;
    }),
  );
}

/** Whether all that a place takes in is there. */
export function isKnownPlace(place: Place, known: Places<NamedPlace>): boolean {
  if (place.from === undefined && place.name === undefined) return true;
  const hit = known.count(place);
  const wanted = place.from === undefined ? 1 : (place.to ?? place.from) - place.from + 1;
  return hit >= wanted;
}

/** Says which of the places that are written are not there, and what there is. */
export function sayUnknownPlaces(
  placed: Placed,
  owner: Argument,
  places: readonly Place[],
  known: readonly NamedPlace[],
  report: Report,
): void {
  if (places.length === 0) return;
  const find = lookedThrough(known);
  const unknown = places.filter((place) => !isKnownPlace(place, find));
  if (unknown.length === 0) return;
  const names = [...new Set(known.flatMap((each) => each.name ?? []))];
  const nameables = among(names);
  const all = placeNames(known);
  for (const place of unknown) {
    const written = placed.section.text.slice(place.start, place.end).replace(/\s+/g, ' ');
    const near =
      place.name === undefined || names.includes(place.name.text)
        ? { sentence: told.nothing, fixes: [] }
        : didYouMeanAmong(place.name, nameables, placed);
    const has = known.length === 1 && names.length === 0 ? told`it has one place alone` : told`its places are ${all}`;
    report(placed, place, told`${owner} has no place ${told.place(written)}: ${has}.${near.sentence}`, {
      fixes: near.fixes,
    });
  }
}

function placesIn(value: Value | undefined): readonly Place[] {
  return value?.kind === 'by-place' ? value.entries.flatMap((entry) => entry.places) : [];
}

function inPart(part: Part, statements: readonly Statement[], report: Report): void {
  // Of many places a list is made only where some are written, and once for all that is told of one feature.
  const sayOf = (owner: Argument, places: readonly Place[], feature: string | undefined): void => {
    if (places.length > 0) sayUnknownPlaces(part.placed, owner, places, allPlaces(part, feature), report);
  };
  const turned = new Map<string, Place[]>();
  const say = (owner: string, value: Value | undefined, feature: string | undefined): void =>
    sayOf(owner, placesIn(value), feature);
  for (const each of statements) {
    switch (each.kind) {
      case 'dimension':
      case 'figure':
        for (const value of [each.value, each.wearLimit]) say(`${part.name}.${each.name.text}`, value, each.name.text);
        break;
      case 'value':
        say(`${part.name}.${each.word}`, each.value, each.word);
        break;
      case 'orient':
        for (const rule of each.rules) {
          const places = turned.get(rule.feature.text) ?? [];
          for (const place of rule.places) places.push(place);
          turned.set(rule.feature.text, places);
        }
        break;
      case 'size':
        inPart(part, each.body?.statements ?? [], report);
        break;
      default:
        break;
    }
  }
  for (const [feature, places] of turned) sayOf(told.thing(part), places, feature);
}

/** Says the places of a part's or a limit's values that are not there. */
export function sayValuePlaces(placed: Placed, view: View, report: Report): void {
  const { word, name } = placed.declaration;
  const thing = name === undefined ? undefined : view.things.get(name.text);
  if (thing === undefined || thing.placed !== placed || thing.broken) return;
  if (word === 'part' && thing.kind === 'part') inPart(thing, thing.statements, report);
  if (word !== 'limit' || thing.kind !== 'limit') return;
  if (placesIn(thing.within).length + placesIn(thing.wearLimit).length === 0) return;
  const known = placesToMeasure(thing, view);
  if (known.length === 0) return;
  for (const value of [thing.within, thing.wearLimit]) {
    const entries = value?.kind === 'by-place' ? value.entries.filter((entry) => !isBySize(entry, thing, view)) : [];
    sayUnknownPlaces(
      placed,
      told.thing(thing),
      entries.flatMap((entry) => entry.places),
      known,
      report,
    );
  }
}
