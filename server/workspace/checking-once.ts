// What is found in a file that is looked at once: the checks are given the views as they are built, since nobody will ask again after an
// edit. What is cached from edit to edit is found in checking.ts; the same text gives the same findings both ways.
import { atOnce, type InPieces } from '../../grammar/give-way.ts';
import type { Told } from '../../grammar/told.ts';
import { type BuiltView, buildingView } from '../model/build-view.ts';
import { allIn } from '../model/changed-declarations.ts';
import { type DeclarationIndex, newIndex } from '../model/declaration-index.ts';
import { isSeen, type Placed, type ReadFile } from '../model/placed.ts';
import { differsIn, tracking } from '../model/questions.ts';
import { type SharedViews, sharedViews } from '../model/shared-views.ts';
import { LIST_OF, type Thing } from '../model/view.ts';
import { cacheAnswers, cacheAnswersTogether } from '../model/view-questions.ts';
import { type Checking, type Found, newChecking } from './checking.ts';
import {
  checkDeclarationForOne,
  checkSpec,
  type FoundByCheck,
  type OfSpec,
  type Raw,
  SPEC_CHECKS,
  type SpecCheck,
} from './run-checks.ts';

/** The things of a view by where they are declared. */
function thingsByPlace(view: BuiltView): ReadonlyMap<Placed, Thing> {
  const things = new Map<Placed, Thing>();
  for (const list of Object.values(LIST_OF)) for (const thing of view[list]) things.set(thing.placed, thing);
  return things;
}

/** What was found so far for all variants. */
interface FoundForAll {
  readonly inDeclarations: Map<Placed, readonly FoundByCheck[]>;
  readonly ofSpec: Map<SpecCheck, OfSpec>;
}

/** Adds what the checks of a declaration found; most found nothing. */
function addAll(raws: Raw[], found: readonly FoundByCheck[]): void {
  for (let i = 0; i < found.length; i += 1) {
    const own = found[i]?.raws;
    if (own !== undefined && own.length > 0) raws.push(...own);
  }
}

function* foundIn(
  { views, lookAt }: SharedViews,
  at: number,
  own: ReadFile,
  index: DeclarationIndex,
  forAll: FoundForAll,
): InPieces<Found> {
  const view = views[at] as BuiltView;
  const things = thingsByPlace(view);
  const raws: Raw[] = [];
  const failed: Told[] = [];
  for (const section of own.sections)
    for (const placed of allIn(section)) {
      if (isSeen(placed, view.variant)) {
        const known = forAll.inDeclarations.get(placed);
        const found = lookAt(at, () => checkDeclarationForOne(view, placed, things.get(placed), known));
        if (known === undefined) forAll.inDeclarations.set(placed, found);
        addAll(raws, found);
      }
      yield;
    }
  for (const check of SPEC_CHECKS) {
    const ofSpec =
      forAll.ofSpec.get(check) ??
      lookAt(at, () => {
        let made: OfSpec = { raws: [] };
        const differs = differsIn(() => {
          made = checkSpec(check, { view, file: own, index });
        });
        if (!differs) forAll.ofSpec.set(check, made);
        return made;
      });
    raws.push(...ofSpec.raws);
    if (ofSpec.failed !== undefined) failed.push(ofSpec.failed);
    yield;
  }
  return { variant: view.variant, draft: view.draft, raws, failed };
}

/** The findings of one reading of a file. */
export function checkingOnce(): Checking {
  let looked: { readonly files: readonly ReadFile[]; readonly views: readonly BuiltView[] } | undefined;
  /** The same once more with tracking; made where somebody wants to know what was looked up, which is for few specs. */
  let noted: Checking | undefined;
  const lookAgain = (files: readonly ReadFile[], variants: readonly (string | undefined)[]): Checking => {
    const checking = newChecking();
    tracking(() => atOnce(checking.check(files, variants, looked?.views[0]?.incomplete === true)));
    return checking;
  };
  return {
    *refresh() {},
    viewsOf: (files) => (looked?.files === files ? looked.views : undefined),
    *check(files, variants, incomplete) {
      const own = files[0];
      if (own === undefined) return [];
      const index = newIndex();
      index.update(own);
      const views: BuiltView[] = [];
      for (const variant of variants) views.push(yield* buildingView(files, variant, incomplete));
      const shared = sharedViews(views);
      cacheAnswersTogether(shared.views, shared.lookAt);
      const found: Found[] = [];
      const forAll: FoundForAll = { inDeclarations: new Map(), ofSpec: new Map() };
      for (const at of views.keys()) found.push(yield* foundIn(shared, at, own, index.index, forAll));
      for (const view of views) cacheAnswers(view);
      looked = { files, views };
      return found;
    },
    lookedUp(placed, variant) {
      if (looked === undefined) return [];
      const { files, views } = looked;
      noted ??= lookAgain(
        files,
        views.map((view) => view.variant),
      );
      return noted.lookedUp(placed, variant);
    },
  };
}
