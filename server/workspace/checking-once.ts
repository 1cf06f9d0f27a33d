// What is found in a file that is looked at once: the checks are given the views as they are built, since nobody will ask again after an
// edit. What is kept from edit to edit is found in checking.ts; the same text gives the same findings both ways.
import { atOnce, type InPieces } from '../../grammar/give-way.ts';
import type { Told } from '../../grammar/told.ts';
import { type BuiltView, buildingView } from '../model/build-view.ts';
import { allIn } from '../model/changed-declarations.ts';
import { type DeclarationIndex, newIndex } from '../model/declaration-index.ts';
import { isSeen, type Placed, type ReadFile } from '../model/placed.ts';
import { noting } from '../model/questions.ts';
import { LIST_OF, type Thing } from '../model/view.ts';
import { keepAnswers } from '../model/view-questions.ts';
import { type Checking, type Found, newChecking } from './checking.ts';
import { checkDeclaration, checkSpec, type Raw, SPEC_CHECKS } from './run-checks.ts';

/** The things of a view by where they are declared. */
function thingsByPlace(view: BuiltView): ReadonlyMap<Placed, Thing> {
  const things = new Map<Placed, Thing>();
  for (const list of Object.values(LIST_OF)) for (const thing of view[list]) things.set(thing.placed, thing);
  return things;
}

function* foundIn(view: BuiltView, own: ReadFile, index: DeclarationIndex): InPieces<Found> {
  const things = thingsByPlace(view);
  const raws: Raw[] = [];
  const failed: Told[] = [];
  for (const section of own.sections)
    for (const placed of allIn(section)) {
      if (isSeen(placed, view.variant)) raws.push(...checkDeclaration(view, placed, things.get(placed)));
      yield;
    }
  for (const check of SPEC_CHECKS) {
    const ofSpec = checkSpec(check, { view, file: own, index });
    raws.push(...ofSpec.raws);
    if (ofSpec.failed !== undefined) failed.push(ofSpec.failed);
    yield;
  }
  return { variant: view.variant, draft: view.draft, raws, failed };
}

/** The findings of one reading of a file. */
export function checkingOnce(): Checking {
  let looked: { readonly files: readonly ReadFile[]; readonly views: readonly BuiltView[] } | undefined;
  /** The same once more with notes; made where somebody wants to know what was looked up, which is for few specs. */
  let noted: Checking | undefined;
  const lookAgain = (files: readonly ReadFile[], variants: readonly (string | undefined)[]): Checking => {
    const checking = newChecking();
    noting(() => atOnce(checking.check(files, variants, looked?.views[0]?.incomplete === true)));
    return checking;
  };
  return {
    *bringUp() {},
    viewsOf: (files) => (looked?.files === files ? looked.views : undefined),
    *check(files, variants, incomplete) {
      const own = files[0];
      if (own === undefined) return [];
      const index = newIndex();
      index.update(own);
      const views: BuiltView[] = [];
      const found: Found[] = [];
      for (const variant of variants) {
        const view = yield* buildingView(files, variant, incomplete);
        keepAnswers(view);
        views.push(view);
        found.push(yield* foundIn(view, own, index.index));
      }
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
