// What is found in a file, cached from edit to edit: the findings of each declaration and of each check of the whole spec are questions,
// and after an edit those are asked again that looked at something that says otherwise now. See model/questions.ts.
import type { InPieces } from '../../grammar/give-way.ts';
import type { Told } from '../../grammar/told.ts';
import type { BuiltView } from '../model/build-view.ts';
import { type CachedIndex, type DeclarationIndex, newIndex } from '../model/declaration-index.ts';
import { deepEqual } from '../model/deep-equal.ts';
import type { Placed, ReadFile } from '../model/placed.ts';
import { ask, dispose, isForAll, markStale, newQuestion, noteDiffering, type Question } from '../model/questions.ts';
import { type Standing, standingBehind } from '../model/recorded.ts';
import type { RecordedView } from '../model/recorded-view.ts';
import { type RecordedViews, recordingViews } from '../model/recorded-views.ts';
import type { Thing } from '../model/view.ts';
import { cacheAnswersTogether, lookIn, refresh } from '../model/view-questions.ts';
import type { ViewUpdate } from '../model/view-updates.ts';
import { containedInPieces, FAULT } from './contained.ts';
import {
  checkDeclaration,
  checkDeclarationForOne,
  checkSpec,
  checksOneByOne,
  type FoundByCheck,
  type OfSpec,
  type Raw,
  SPEC_CHECKS,
} from './run-checks.ts';

type RawsQuestion = Question<readonly Raw[]>;

/** So many declarations are cached check by check from one edit to the next, and twice as many meanwhile. Own choice, no source. */
const MOST_ONE_BY_ONE = 100;

/** So many declarations are put in their places one by one; for more all are gone through. Own choice, no source. */
const FEW_OTHERWISE = 8;

/** The checks of a declaration one by one: asked again, each has only what it looks at itself. */
interface OneByOne {
  readonly thing: Thing | undefined;
  readonly checks: readonly RawsQuestion[];
}

function oneByOne({ recorded, first }: VariantFindings, standing: Standing, thing: Thing | undefined): OneByOne {
  const { view } = recorded;
  const checks = checksOneByOne(view, standing.asPlaced, thing).map((check, i) => {
    const work = (): readonly Raw[] => {
      const known = first === undefined ? undefined : (first.lately.get(standing) ?? first.records.get(standing));
      const ofFirst = known?.thing === thing ? known?.checks[i] : undefined;
      return (ofFirst === undefined ? undefined : forAll(ofFirst)) ?? check();
    };
    return newQuestion(() => lookIn(view, first === undefined ? check : work), always);
  });
  return { thing, checks };
}

/** What is found for one variant. */
interface VariantFindings {
  readonly variant: string | undefined;
  readonly recorded: RecordedView;
  readonly questions: Map<Standing, RawsQuestion>;
  readonly standingOf: Map<RawsQuestion, Standing>;
  /** Declarations that were asked again lately, the last one last: what is typed now is most often what was typed just before. */
  readonly lately: Map<Standing, OneByOne>;
  /** All records, check by check. */
  readonly records: Map<Standing, OneByOne>;
  /** Those whose answer may be another. */
  readonly due: Set<RawsQuestion>;
  /** The declarations in which something is found. */
  readonly found: Map<Standing, readonly Raw[]>;
  /** What is found in all of these, in order. */
  inOrder: InOrder | undefined;
  /** The declarations in which something else is found since that was put in order. */
  readonly otherwise: Set<Standing>;
  /** Of the first of several variants: what each check finds in declarations of which some checks find what differs from variant to variant. */
  readonly byCheck: Map<Standing, readonly FoundByCheck[]>;
  readonly ofSpec: readonly Question<OfSpec>[];
  /** What is found for the first variant, where this is another: what is the same for all is taken from there. */
  readonly first: VariantFindings | undefined;
}

interface InOrder {
  readonly own: readonly Standing[];
  /** Those in which something is found. */
  readonly standings: readonly Standing[];
  readonly raws: readonly Raw[];
}

/** What is found for all variants. */
interface AllFindings {
  readonly recorded: RecordedViews;
  readonly byVariant: readonly VariantFindings[];
  /** The files that it is brought up to; undefined while it is half-way. */
  files: readonly ReadFile[] | undefined;
}

/** What is found for one variant; `failed` is what is said of checks of the whole that failed. */
export interface Found {
  readonly variant: string | undefined;
  readonly draft: boolean;
  readonly raws: readonly Raw[];
  readonly failed: readonly Told[];
}

export interface Checking {
  /**
   * Takes the files as they are read now, the first is the one whose findings are wanted, and asks again what has to be, a question a
   * turn. What is found, by variant: in single declarations by place, then what is said of the whole. It may be left off half-way.
   */
  check(
    files: readonly ReadFile[],
    variants: readonly (string | undefined)[],
    incomplete: boolean,
  ): Generator<void, readonly Found[]>;
  /** Brings the views of the variants up to these files, where there are any; what hangs on what is another now is asked again later. */
  refresh(files: readonly ReadFile[], variants: readonly (string | undefined)[], incomplete: boolean): InPieces<void>;
  /**
   * The views of the variants as the checks see them, where they are brought up to these files and no others: what is worked out from them is
   * cached over edits. They change with the next edit.
   */
  viewsOf(files: readonly ReadFile[], variants: readonly (string | undefined)[]): readonly BuiltView[] | undefined;
  /** The names that were looked up to check a declaration for a variant, in the order met. */
  lookedUp(placed: Placed, variant: string | undefined): readonly string[];
}

const always = (): boolean => false;

function* allFindings(
  files: readonly ReadFile[],
  variants: readonly (string | undefined)[],
  incomplete: boolean,
  index: DeclarationIndex,
): InPieces<AllFindings> {
  const recorded = yield* recordingViews(files, variants, incomplete);
  cacheAnswersTogether(
    recorded.views.map(({ view }) => view),
    recorded.lookAt,
  );
  const byVariant: VariantFindings[] = [];
  for (const each of recorded.views) {
    const findings = variantFindings(each, files[0]?.file ?? '', index, byVariant[0]);
    for (const standing of each.own()) {
      enter(findings, standing);
      yield;
    }
    byVariant.push(findings);
  }
  return { recorded, byVariant, files };
}

function variantFindings(
  recorded: RecordedView,
  file: string,
  index: DeclarationIndex,
  first: VariantFindings | undefined,
): VariantFindings {
  const { view } = recorded;
  const context = { view, file: { file }, index };
  const ofSpec = SPEC_CHECKS.map((check, i) => {
    const run = (): OfSpec => checkSpec(check, context);
    const known = first?.ofSpec[i];
    return newQuestion(() => lookIn(view, known === undefined ? run : () => forAll(known) ?? run()), always);
  });
  return {
    variant: view.variant,
    recorded,
    questions: new Map(),
    standingOf: new Map(),
    lately: new Map(),
    records: new Map(),
    due: new Set(),
    found: new Map(),
    inOrder: undefined,
    otherwise: new Set(),
    byCheck: new Map(),
    ofSpec,
    first,
  };
}

/** The answer to a question for the first variant, where it is that for all. */
function forAll<answer>(question: Question<answer>): answer | undefined {
  const answer = ask(question);
  return isForAll(question) ? answer : undefined;
}

/** The question of what the first variant finds in a declaration that all see alike. */
function askedForFirst({ first, recorded }: VariantFindings, standing: Standing): RawsQuestion | undefined {
  const asked = first?.questions.get(standing);
  return first?.recorded.thingOf(standing) === recorded.thingOf(standing) ? asked : undefined;
}

/** All checks of a declaration at once; those of which the first variant has found what is the same for all are not run again. */
function checkAll({ recorded, first, byCheck }: VariantFindings, standing: Standing): readonly Raw[] {
  const [{ view }, { asPlaced }, thing] = [recorded, standing, recorded.thingOf(standing)];
  if (first === undefined && recorded.isOne) return checkDeclaration(view, asPlaced, thing);
  const found = checkDeclarationForOne(view, asPlaced, thing, first?.byCheck.get(standing));
  if (found.some(({ differs }) => differs)) {
    noteDiffering();
    if (first === undefined) byCheck.set(standing, found);
  } else byCheck.delete(standing);
  return found.flatMap(({ raws }) => raws);
}

function enter(findings: VariantFindings, standing: Standing): void {
  const { recorded, due, records, lately } = findings;
  // A record looks at many things: one check of it is asked again more often than all.
  const isRecord = standing.placed.declaration.word === 'record';
  let isAgain = isRecord;
  const work = (): readonly Raw[] => {
    const forFirst = askedForFirst(findings, standing);
    const found = forFirst === undefined ? undefined : forAll(forFirst);
    if (found !== undefined) return found;
    const thing = recorded.thingOf(standing);
    const of = isRecord ? records : lately;
    const known = of.get(standing);
    if (!isAgain || (known === undefined && !isRecord && lately.size >= 2 * MOST_ONE_BY_ONE)) {
      isAgain = true;
      return checkAll(findings, standing);
    }
    const now = known !== undefined && known.thing === thing ? known : oneByOne(findings, standing, thing);
    of.delete(standing);
    of.set(standing, now);
    findings.byCheck.delete(standing);
    return now.checks.flatMap((each) => ask(each) ?? []);
  };
  const asked: RawsQuestion = newQuestion(() => lookIn(recorded.view, work), always, {
    onStale: () => due.add(asked),
    own: standing,
  });
  findings.questions.set(standing, asked);
  findings.standingOf.set(asked, standing);
  due.add(asked);
}

/** Declarations that were asked again the longest ago are cached as one again. */
function keepFew(findings: VariantFindings): void {
  const { lately } = findings;
  for (const standing of lately.keys()) {
    if (lately.size <= MOST_ONE_BY_ONE) return;
    leave(findings, standing);
    enter(findings, standing);
  }
}

function leave(findings: VariantFindings, standing: Standing): void {
  const asked = findings.questions.get(standing);
  if (asked === undefined) return;
  dispose(asked);
  findings.questions.delete(standing);
  findings.standingOf.delete(asked);
  findings.lately.delete(standing);
  findings.records.delete(standing);
  findings.byCheck.delete(standing);
  findings.due.delete(asked);
  finds(findings, standing, []);
}

/** Lets go of what is found for variants that are no more. */
function dismiss({ byVariant }: AllFindings): void {
  for (const { questions, ofSpec } of byVariant) {
    for (const asked of questions.values()) dispose(asked);
    for (const asked of ofSpec) dispose(asked);
  }
}

/** Takes the files as they are read now. */
function* take(all: AllFindings, files: readonly ReadFile[], incomplete: boolean): InPieces<void> {
  for (const findings of all.byVariant) {
    askFailedAgain(findings);
    keepFew(findings);
  }
  all.files = undefined;
  const updates = yield* all.recorded.updating(files, incomplete);
  refresh(all.byVariant.map(({ recorded }) => recorded.view));
  for (const [i, findings] of all.byVariant.entries()) takeUpdate(findings, updates[i]);
  all.files = files;
}

function takeUpdate(findings: VariantFindings, update: ViewUpdate | undefined): void {
  for (const standing of update?.went ?? []) leave(findings, standing);
  for (const standing of update?.came ?? []) enter(findings, standing);
  for (const standing of update?.differs ?? []) {
    const asked = findings.questions.get(standing);
    if (asked !== undefined) markStale(asked);
  }
}

/** A fault of Fettle itself hangs on more than what is tracked, so that what failed is tried again each time. */
function askFailedAgain({ found, questions, lately, records, ofSpec }: VariantFindings): void {
  for (const [standing, raws] of found) {
    const asked = questions.get(standing);
    if (asked === undefined || !raws.some(({ code }) => code === FAULT)) continue;
    markStale(asked);
    for (const each of (lately.get(standing) ?? records.get(standing))?.checks ?? []) markStale(each);
  }
  for (const asked of ofSpec) if ((asked.answer as OfSpec | undefined)?.failed !== undefined) markStale(asked);
}

function answer(findings: VariantFindings, asked: RawsQuestion): void {
  const standing = findings.standingOf.get(asked);
  if (standing !== undefined) finds(findings, standing, ask(asked) ?? []);
  findings.due.delete(asked);
}

/** This is found in a declaration now. */
function finds(findings: VariantFindings, standing: Standing, raws: readonly Raw[]): void {
  const { found } = findings;
  const before = found.get(standing);
  if (before === raws || (before === undefined && raws.length === 0)) return;
  if (raws.length > 0) found.set(standing, raws);
  else found.delete(standing);
  findings.otherwise.add(standing);
}

/** The place of a declaration in a part of a list, which are in the order of the list. */
function placeAmong(some: readonly Standing[], all: readonly Standing[], standing: Standing): number {
  const own = all.indexOf(standing);
  let [low, high] = [0, some.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (all.indexOf(some[middle] as Standing) < own) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** What is found in the declarations, by place. After most edits they are the same ones, and something else is found in a few of them. */
function byPlace(findings: VariantFindings): readonly Raw[] {
  const { found, inOrder, otherwise, recorded } = findings;
  const own = recorded.own();
  if (inOrder?.own === own && otherwise.size === 0) return inOrder.raws;
  let standings: Standing[];
  if (inOrder?.own === own && otherwise.size <= FEW_OTHERWISE) {
    standings = inOrder.standings.filter((standing) => !otherwise.has(standing));
    for (const standing of otherwise)
      if (found.has(standing)) standings.splice(placeAmong(standings, own, standing), 0, standing);
  } else standings = found.size === 0 ? [] : own.filter((standing) => found.has(standing));
  const raws = standings.flatMap((standing) => found.get(standing) ?? []);
  findings.inOrder = { own, standings, raws };
  otherwise.clear();
  return raws;
}

/** Work in pieces, between which somebody may look at another view. */
function* lookingIn<result>(view: BuiltView, work: InPieces<result>): InPieces<result> {
  for (;;) {
    const next = lookIn(view, () => work.next());
    if (next.done === true) return next.value;
    yield;
  }
}

/** The findings of one file. */
export function newChecking(): Checking {
  let all: AllFindings | undefined;
  let index: CachedIndex = newIndex();
  let home: string | undefined;
  const of = (variants: readonly (string | undefined)[]): AllFindings | undefined =>
    all !== undefined &&
    deepEqual(
      all.byVariant.map(({ variant }) => variant),
      variants,
    )
      ? all
      : undefined;
  /** Answers what may be another for one variant. */
  function* answerDue(findings: VariantFindings): Generator<void, void> {
    const { recorded, due, ofSpec } = findings;
    for (const asked of due) {
      answer(findings, asked);
      yield;
    }
    for (const [i, asked] of ofSpec.entries()) {
      // What fails in it fails again when the check is run, and is told then.
      const check = SPEC_CHECKS[i];
      const askAhead = asked.answer === undefined ? check?.ahead : check?.again;
      const ahead = askAhead?.(recorded.view, home ?? '', index.index);
      if (ahead !== undefined) yield* containedInPieces(undefined, lookingIn(recorded.view, ahead), () => undefined);
      ask(asked);
      yield;
    }
  }
  function* foundIn(findings: VariantFindings): InPieces<Found> {
    const { recorded, ofSpec, variant } = findings;
    const inDeclarations = byPlace(findings);
    yield;
    const said = ofSpec.flatMap((asked) => ask(asked) ?? []);
    return {
      variant,
      draft: recorded.view.draft,
      raws: inDeclarations.concat(said.flatMap(({ raws }) => raws)),
      failed: said.flatMap(({ failed }) => failed ?? []),
    };
  }
  /** What is found, brought up to the files. */
  function* brought(
    files: readonly ReadFile[],
    variants: readonly (string | undefined)[],
    incomplete: boolean,
  ): InPieces<AllFindings> {
    const known = of(variants);
    if (known !== undefined) {
      yield* take(known, files, incomplete);
      return known;
    }
    if (all !== undefined) dismiss(all);
    all = undefined;
    const made = yield* allFindings(files, variants, incomplete, index.index);
    // Somebody else may have come to it in between.
    const other = of(variants);
    if (other === undefined) {
      all = made;
      return made;
    }
    dismiss(made);
    yield* take(other, files, incomplete);
    return other;
  }
  return {
    viewsOf(files, variants) {
      const known = of(variants);
      return known?.files === files ? known.byVariant.map(({ recorded }) => recorded.view) : undefined;
    },
    *refresh(files, variants, incomplete) {
      const known = files[0]?.file === home ? of(variants) : undefined;
      if (known !== undefined && known.files !== files) yield* take(known, files, incomplete);
    },
    *check(files, variants, incomplete) {
      const own = files[0];
      if (own === undefined) return [];
      if (home !== own.file) {
        home = own.file;
        index = newIndex();
        all = undefined;
      }
      index.update(own);
      const { byVariant } = yield* brought(files, variants, incomplete);
      yield;
      const found: Found[] = [];
      for (const findings of byVariant) {
        yield* answerDue(findings);
        found.push(yield* foundIn(findings));
      }
      return found;
    },
    lookedUp(placed, variant) {
      const findings = all?.byVariant.find((each) => each.variant === variant);
      const standing = standingBehind(placed) ?? findings?.recorded.standingOf(placed);
      const asked = standing === undefined ? undefined : findings?.questions.get(standing);
      return asked === undefined ? [] : (findings?.recorded.namesRead(asked) ?? []);
    },
  };
}
