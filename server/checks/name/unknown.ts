// A name that nothing declares, a feature that its part does not have, a place that is not there.

import { directionFor } from '../../../grammar/hints.ts';
import { type Among, among, nearestAmong, nearestName } from '../../../grammar/nearest.ts';
import { type Told, told } from '../../../grammar/told.ts';
import type { Name, Place } from '../../../grammar/tree.ts';
import { statementRow } from '../../../grammar/vocabulary.ts';
import { asPlaces, isPlaceOf, namedPlacesOf } from '../../model/action-places.ts';
import { broughtNames, tableOf } from '../../model/brought-sizes.ts';
import type { BuiltView } from '../../model/build-view.ts';
import { deepEqual } from '../../model/deep-equal.ts';
import { ENGINE_FIGURES, ENGINE_MEASURES } from '../../model/engine-figures.ts';
import { kindWord, oneOfKind } from '../../model/kind-words.ts';
import type { Placed } from '../../model/placed.ts';
import { usesOf } from '../../model/references.ts';
import type { Use } from '../../model/uses.ts';
import { TIMING_LIFTS, TIMING_VALUES } from '../../model/valve-sums.ts';
import type { Part, Thing, View } from '../../model/view.ts';
import { type Memo, question } from '../../model/view-questions.ts';
import { gradesAlone } from '../../rehearsal/graded.ts';
import { namesIn } from '../../rehearsal/things.ts';
import type { DeclarationCheck, Extra, Report } from '../check.ts';
import { didYouMean, didYouMeanAmong, inWords, meaning } from '../support.ts';
import { sayCylinders } from './cylinders.ts';
import page from './unknown.md';
import { sayUnknownPlaces, sayValuePlaces } from './value-places.ts';

const ENGINE_NAMES: readonly string[] = [...Object.keys(ENGINE_FIGURES), ...ENGINE_MEASURES];

/** Whether a job or a record is about a variant: one that names its variants is about those alone. */
export function concerns(placed: Placed, view: View): boolean {
  const named = (placed.declaration.body?.statements ?? []).flatMap((each) =>
    each.kind === 'names' && each.word === 'variant' ? each.names.map((name) => name.text) : [],
  );
  return named.length === 0 || view.variant === undefined || named.includes(view.variant);
}

/** Whether a use holds for a variant. */
export function useHolds({ when }: Use, view: View): boolean {
  if (when === undefined) return true;
  const { variant } = view;
  return variant === undefined || when.every((names) => names.includes(variant));
}

const sequencesBySteps = question(
  (view, _subject: 'steps'): ReadonlyMap<Placed, Placed> =>
    new Map(
      view.sequences.flatMap((sequence) => sequence.steps.map((step) => [step.placed, sequence.placed] as const)),
    ),
);

/** Before the declaration; a step's own place is inside its sequence, where nothing can be declared. */
function placeToDeclare(placed: Placed, view: View): Placed {
  if (placed.declaration.word !== 'step') return placed;
  return sequencesBySteps(view, 'steps').get(placed) ?? placed;
}

function declareFix(placed: Placed, use: Use, view: View): NonNullable<Extra['fixes']>[number] | undefined {
  const kind = use.kinds[0];
  // Nothing is made up: what such a thing still lacks is said once it is declared.
  const text = kind === 'part' || kind === 'supply' || kind === 'fastener' ? `${kind} ${use.name.text}` : undefined;
  if (text === undefined || kind === undefined) return undefined;
  const at = { start: 0, end: 0 };
  return {
    title: told`Declare ${told.named(use.name.text, kind)} as ${oneOfKind(kind)}`,
    edits: [{ placed: placeToDeclare(placed, view), span: at, text: `${text}\n\n` }],
  };
}

const sameWords = (before: Among, now: Among): boolean => deepEqual(before.words, now.words);
const marksOf = question((_view, part: Part) => among(part.marks.keys()), sameWords);
const sizesOf = question((_view, part: Part) => among(part.sizes.keys()), sameWords);
const featuresOf = question((_view, part: Part) => among(part.featureNames), sameWords);

/** Names that may follow the dot of a part. */
function featureNames(part: Part, wants: Use['wants'], view: View): Among {
  if (wants === 'mark') return marksOf(view, part);
  if (wants === 'size') return sizesOf(view, part);
  return featuresOf(view, part);
}

/** The named places of a part, and how many each name has. */
const placesOf = question(
  (_view, part: Part): ReadonlyMap<string, number> =>
    new Map(
      [...part.places].reverse().flatMap(({ name, count }) => (name === undefined ? [] : [[name, count] as const])),
    ),
);

/** The highest number that a place of a part may have: of the part, or of a dimension with lines of its own. */
const highestPlace = question((_view, part: Part): number => {
  let most = 0;
  for (const dimension of part.dimensions.values()) most = Math.max(most, dimension.count * Math.max(1, part.count));
  return most;
});

function hasFeature(part: Part, feature: Name, wants: Use['wants']): boolean {
  if (wants === 'size') return part.sizes.has(feature.text);
  return part.featureNames.has(feature.text);
}

function sayPlaces(placed: Placed, part: Part, places: readonly Place[], view: View, report: Report): void {
  if (places.length === 0) return;
  const said = new Set<Name>();
  const named = placesOf(view, part);
  for (const place of places) {
    if (place.name !== undefined && said.has(place.name)) continue;
    if (place.name !== undefined && !named.has(place.name.text)) {
      said.add(place.name);
      const names = part.places.flatMap((group) => (group.name === undefined ? [] : [group.name]));
      const near = didYouMean(place.name, names, placed);
      const has =
        names.length === 0
          ? told`${told.thing(part)} has no named places`
          : told`${told.thing(part)} has the places ${inWords(names)}`;
      report(
        placed,
        place.name,
        told`${told.thing(part)} has no place ${told.place(place.name.text)}: ${has}.${near.sentence}`,
        {
          fixes: near.fixes,
        },
      );
      continue;
    }
    const count = place.name === undefined ? part.count : (named.get(place.name.text) ?? 0);
    const highest = place.to ?? place.from;
    if (highest === undefined) continue;
    const perFeature = Math.max(count, highestPlace(view, part));
    if (highest > perFeature || (place.from ?? 1) < 1)
      report(placed, place, told`There is no ${told.thing(part)} ${highest}: there are ${perFeature}.`);
  }
}

/** Places of a fastener or a limit that a step names, as far as those are known. */
function sayActionPlaces(placed: Placed, thing: Thing, places: readonly Place[], view: View, report: Report): void {
  if (places.length === 0) return;
  const known = namedPlacesOf(thing, view);
  // What a limit is measured within reach of need not say how often it is measured.
  if (known.length === 0 || (thing.kind === 'limit' && thing.each === undefined && known.length === 1)) return;
  sayUnknownPlaces(placed, told.thing(thing), places, known, report);
}

const DIRECTIONS: readonly string[] = Object.keys(statementRow('part', 'orient')?.choices ?? {});

/** What stands behind `toward` without a dot: a direction, or a part that is pointed at. */
function isDirection({ word, feature, ownFeature }: Use): boolean {
  return word === 'orient' && feature === undefined && ownFeature === undefined;
}

/** A direction that is none, and no part either. */
function sayDirection(placed: Placed, use: Use, view: BuiltView, report: Report): void {
  const { name } = use;
  const near =
    directionFor(name.text) ??
    nearestName(name.text, DIRECTIONS) ??
    nearestOfKinds(view, `${use.kinds.join(' ')}:${name.text}`);
  const meant = meaning(name, near, placed);
  const declare = near === undefined ? declareFix(placed, use, view) : undefined;
  report(
    placed,
    name,
    near === undefined
      ? told`${told.named(name.text)} is no direction, and no part is called so. A direction is one of: ${told.list(DIRECTIONS, ',')}.`
      : told`${told.named(name.text)} is no direction, and no part is called so.${meant.sentence}`,
    { fixes: [...meant.fixes, ...(declare === undefined ? [] : [declare])], missing: true },
  );
}

/** A name that is written as two words, the second of which is read as a place: `oil pump` of the part oil-pump. */
function joinedName({ name, places }: Use, view: View): Name | undefined {
  const second = places[0]?.name;
  if (second === undefined) return undefined;
  const text = `${name.text}-${second.text}`;
  return view.things.has(text) ? { ...name, text, end: second.end } : undefined;
}

/** Says what is unknown of one use of a name: the thing, its feature, its place. */
export function sayUnknown(placed: Placed, use: Use, view: BuiltView, report: Report): void {
  if (use.kinds[0] === 'spec') {
    saySpec(placed, use, view, report);
    return;
  }
  if (use.name.text === 'engine') {
    if (use.feature !== undefined && !ENGINE_NAMES.includes(use.feature.text)) {
      const near = didYouMean(use.feature, ENGINE_NAMES, placed);
      report(placed, use.feature, told`The engine has no value ${told.named(use.feature.text)}.${near.sentence}`, {
        fixes: near.fixes,
        missing: true,
      });
    }
    return;
  }
  const thing = view.things.get(use.name.text);
  if (thing === undefined && use.isPi === true) return;
  if (thing === undefined && use.isFree === true) {
    sayNearLimit(placed, use, view, report);
    return;
  }
  if (thing === undefined) {
    const before = use.follows === undefined ? undefined : view.things.get(use.follows.text);
    if (before !== undefined && isPlaceOf(view, before.name, use.name.text)) {
      const places = asPlaces(use.name, use.places);
      if (before.kind === 'part') sayPlaces(placed, before, places, view, report);
      else sayActionPlaces(placed, before, places, view, report);
      return;
    }
    // A file that is used and can't be found may declare it, or a line that can't be read: that is what is wrong.
    if (view.incomplete || view.perhaps.has(use.name.text)) return;
    if (isDirection(use)) {
      sayDirection(placed, use, view, report);
      return;
    }
    const joined = joinedName(use, view);
    const near = meaning(
      joined ?? use.name,
      joined?.text ?? nearestOfKinds(view, `${use.kinds.join(' ')}:${use.name.text}`),
      placed,
    );
    const declare =
      placed.declaration.word === 'record' || joined !== undefined ? undefined : declareFix(placed, use, view);
    report(
      placed,
      joined ?? use.name,
      told`There is no ${inWords(plainKinds(use.kinds), 'or')} called ${told.named(use.name.text)}.${near.sentence}`,
      { fixes: [...near.fixes, ...(declare === undefined ? [] : [declare])], missing: true },
    );
    return;
  }
  if (thing.broken) return;
  if (thing.kind === 'valve-timing' || thing.kind === 'grades') sayFigures(placed, use, thing, view, report);
  if (thing.kind !== 'part') {
    if (placed.declaration.word === 'step') sayActionPlaces(placed, thing, use.places, view, report);
    return;
  }
  if (
    use.feature !== undefined &&
    !hasFeature(thing, use.feature, use.wants) &&
    !broughtNames(tableOf(thing.name, view)).has(use.feature.text)
  ) {
    const what =
      use.wants === 'mark' ? told`mark` : use.wants === 'size' ? told`repair size` : told`feature, dimension or mark`;
    const near = didYouMeanAmong(use.feature, featureNames(thing, use.wants, view), placed);
    report(
      placed,
      use.feature,
      told`${told.thing(thing)} has no ${what} ${told.named(use.feature.text)}.${near.sentence}`,
      {
        fixes: near.fixes,
        missing: true,
        related: [
          {
            placed: thing.placed,
            span: thing.declaration.name ?? thing.declaration.wordSpan,
            message: told`${told.thing(thing)} is declared here`,
          },
        ],
      },
    );
  }
  sayPlaces(placed, thing, use.places, view, report);
}

/** What is logged may be called anything; a name that is nearly that of a limit is held against nothing. */
function sayNearLimit(placed: Placed, { name }: Use, view: BuiltView, report: Report): void {
  const near = nearestOfKinds(view, `limit:${name.text}`);
  if (near === undefined || view.incomplete) return;
  report(
    placed,
    name,
    told`${told.named(name.text)} is held against no limit. Is ${told.named(near, 'limit')} meant?`,
    {
      severity: 'warning',
      fixes: [{ title: told`Write ${told.named(near, 'limit')}`, edits: [{ placed, span: name, text: near }] }],
    },
  );
}

/** A figure of a valve timing, a size that a table of grades brings. */
function sayFigures(
  placed: Placed,
  { feature, wants }: Use,
  thing: Thing & { readonly kind: 'valve-timing' | 'grades' },
  view: View,
  report: Report,
): void {
  if (feature === undefined || wants !== 'value') return;
  const names =
    thing.kind === 'grades'
      ? [...broughtNames(tableOf(thing.name, view))]
      : [...Object.keys(TIMING_VALUES), ...TIMING_LIFTS];
  if (names.includes(feature.text)) return;
  const near = didYouMean(feature, names, placed);
  const has = names.length === 0 ? told.nothing : told`: there is ${inWords(names)}`;
  report(placed, feature, told`${told.thing(thing)} has no figure ${told.named(feature.text)}${has}.${near.sentence}`, {
    fixes: near.fixes,
    missing: true,
  });
}

/** Kinds in words; a table of grades counts as the part that it chooses. */
function plainKinds(kinds: Use['kinds']): readonly Told[] {
  return kinds.filter((kind) => kind !== 'grades' || !kinds.includes('part')).map(kindWord);
}

/** Kinds whose names are in a list: to tell them nothing else has to be gone through. */
const LISTED: ReadonlyMap<string, (view: View) => readonly string[]> = new Map([
  ['part grades', (view) => namesIn(view, 'parts')],
  // The tables that go on as parts come last.
  ['part', (view) => namesIn(view, 'parts').slice(0, namesIn(view, 'parts').length - gradesAlone(view).length)],
  ['fastener', (view) => namesIn(view, 'fasteners')],
  ['drive', (view) => namesIn(view, 'drives')],
]);

function namesOf(view: View, kinds: ReadonlySet<string>): readonly string[] {
  const names: string[] = [];
  for (const thing of view.things.values()) if (kinds.has(thing.kind)) names.push(thing.name);
  return names;
}

/** The names of all things of some kinds, told as their words with blanks between. */
const namesOfKinds = question(
  (view, words: string, memo: Memo<Among> = { of: undefined }): Among => {
    memo.of = among(LISTED.get(words)?.(view) ?? namesOf(view, new Set(words.split(' '))), memo.of);
    return memo.of;
  },
  (before, now) => deepEqual(before.words, now.words),
);

/** The name of a thing of some kinds that is nearest to another name: `part limit:camshft`. */
const nearestOfKinds = question((view, kindsAndName: string): string | undefined => {
  const [kinds = '', name = ''] = kindsAndName.split(':');
  return nearestAmong(name, namesOfKinds(view, kinds));
});

const specNames = question(
  (view, _subject: 'specs') => {
    const names = view.specs.flatMap((each) => each.declaration.name?.text ?? []);
    return { set: new Set(names), among: among(names) };
  },
  (before, now) => sameWords(before.among, now.among),
);

function saySpec(placed: Placed, use: Use, view: BuiltView, report: Report): void {
  const specs = specNames(view, 'specs');
  if (specs.set.has(use.name.text) || view.incomplete) return;
  const near = didYouMeanAmong(use.name, specs.among, placed);
  report(
    placed,
    use.name,
    told`There is no spec called ${told.named(use.name.text)} here. Name its file in a use line.${near.sentence}`,
    { fixes: near.fixes },
  );
}

export const unknown: DeclarationCheck = {
  code: 'name/unknown',
  severity: 'error',
  scope: 'declaration',
  page,
  run(placed, view, report) {
    if (placed.declaration.word === 'record' || !concerns(placed, view)) return;
    for (const use of usesOf(placed).uses) if (useHolds(use, view)) sayUnknown(placed, use, view, report);
    sayValuePlaces(placed, view, report);
    sayCylinders(placed, view, report);
  },
};
