// What is found in a file, kept from edit to edit: the findings of each declaration and of each check of the whole spec are questions,
// and after an edit those are asked again that looked at something that says otherwise now. See model/questions.ts.
import type { InPieces } from '../../grammar/give-way.ts';
import type { Told } from '../../grammar/told.ts';
import type { BuiltView } from '../model/build-view.ts';
import { type DeclarationIndex, type KeptIndex, newIndex } from '../model/declaration-index.ts';
import type { Placed, ReadFile } from '../model/placed.ts';
import { ask, askAgain, letGo, newQuestion, type Question } from '../model/questions.ts';
import { type Standing, standingBehind } from '../model/recorded.ts';
import { type RecordedView, recordingView } from '../model/recorded-view.ts';
import type { Thing } from '../model/view.ts';
import { bringUp, keepAnswers } from '../model/view-questions.ts';
import { containedInPieces, FAULT } from './contained.ts';
import { checkDeclaration, checkSpec, checksOneByOne, type OfSpec, type Raw, SPEC_CHECKS } from './run-checks.ts';

type RawsQuestion = Question<readonly Raw[]>;

/** So many declarations are kept check by check from one edit to the next, and twice as many meanwhile. Own choice, no source. */
const MOST_ONE_BY_ONE = 100;

/** The checks of a declaration one by one: asked again, each has only what it looks at itself. */
interface OneByOne {
  readonly thing: Thing | undefined;
  readonly checks: readonly RawsQuestion[];
}

function oneByOne({ view }: RecordedView, { asPlaced }: Standing, thing: Thing | undefined): OneByOne {
  return { thing, checks: checksOneByOne(view, asPlaced, thing).map((check) => newQuestion(check, always)) };
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
  readonly ofSpec: readonly Question<OfSpec>[];
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
  /** Brings the views of the variants up to these files, where they are kept; what hangs on what is another now is asked again later. */
  bringUp(files: readonly ReadFile[], variants: readonly (string | undefined)[], incomplete: boolean): InPieces<void>;
  /**
   * The views of the variants as the checks see them, where they are brought up to these files and no others: what is worked out from them is
   * kept over edits. They change with the next edit.
   */
  viewsOf(files: readonly ReadFile[], variants: readonly (string | undefined)[]): readonly BuiltView[] | undefined;
  /** The names that were looked up to check a declaration for a variant, in the order met. */
  lookedUp(placed: Placed, variant: string | undefined): readonly string[];
}

const always = (): boolean => false;

function* variantFindings(
  files: readonly ReadFile[],
  variant: string | undefined,
  incomplete: boolean,
  index: DeclarationIndex,
): InPieces<VariantFindings> {
  const recorded = yield* recordingView(files, variant, incomplete);
  keepAnswers(recorded.view);
  const { view } = recorded;
  const file = { file: files[0]?.file ?? '' };
  const findings: VariantFindings = {
    variant,
    recorded,
    questions: new Map(),
    standingOf: new Map(),
    lately: new Map(),
    records: new Map(),
    due: new Set(),
    found: new Map(),
    ofSpec: SPEC_CHECKS.map((check) => newQuestion(() => checkSpec(check, { view, file, index }), always)),
    files,
  };
  for (const standing of recorded.own()) {
    enter(findings, standing);
    yield;
  }
  return findings;
}

function enter(findings: VariantFindings, standing: Standing): void {
  const { recorded, due, records, lately } = findings;
  // A record looks at many things: one check of it is asked again more often than all.
  const isRecord = standing.placed.declaration.word === 'record';
  let isAgain = isRecord;
  const work = (): readonly Raw[] => {
    const thing = recorded.thingOf(standing);
    const of = isRecord ? records : lately;
    const known = of.get(standing);
    if (!isAgain || (known === undefined && !isRecord && lately.size >= 2 * MOST_ONE_BY_ONE)) {
      isAgain = true;
      return checkDeclaration(recorded.view, standing.asPlaced, thing);
    }
    const now = known !== undefined && known.thing === thing ? known : oneByOne(recorded, standing, thing);
    of.delete(standing);
    of.set(standing, now);
    return now.checks.flatMap((each) => ask(each) ?? []);
  };
  const asked: RawsQuestion = newQuestion(work, always, { due: () => due.add(asked), own: standing });
  findings.questions.set(standing, asked);
  findings.standingOf.set(asked, standing);
  due.add(asked);
}

/** Declarations that were asked again the longest ago are kept as one again. */
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
  letGo(asked);
  findings.questions.delete(standing);
  findings.standingOf.delete(asked);
  findings.lately.delete(standing);
  findings.records.delete(standing);
  findings.due.delete(asked);
  findings.found.delete(standing);
}

/** Lets go of what is found for a variant that is no more. */
function dismiss(findings: VariantFindings): void {
  for (const asked of findings.questions.values()) letGo(asked);
  for (const asked of findings.ofSpec) letGo(asked);
}

/** Takes the files as they are read now. */
function* take(findings: VariantFindings, files: readonly ReadFile[], incomplete: boolean): InPieces<void> {
  askFailedAgain(findings);
  keepFew(findings);
  findings.files = undefined;
  const { differs, came, went } = yield* findings.recorded.updating(files, incomplete);
  bringUp(findings.recorded.view);
  for (const standing of went) leave(findings, standing);
  for (const standing of came) enter(findings, standing);
  for (const standing of differs) {
    const asked = findings.questions.get(standing);
    if (asked !== undefined) askAgain(asked);
  }
  findings.files = files;
}

/** A fault of Fettle itself hangs on more than what is noted, so that what failed is tried again each time. */
function askFailedAgain({ found, questions, lately, records, ofSpec }: VariantFindings): void {
  for (const [standing, raws] of found) {
    const asked = questions.get(standing);
    if (asked === undefined || !raws.some(({ code }) => code === FAULT)) continue;
    askAgain(asked);
    for (const each of (lately.get(standing) ?? records.get(standing))?.checks ?? []) askAgain(each);
  }
  for (const asked of ofSpec) if ((asked.answer as OfSpec | undefined)?.failed !== undefined) askAgain(asked);
}

function answer(findings: VariantFindings, asked: RawsQuestion): void {
  const standing = findings.standingOf.get(asked);
  if (standing !== undefined) {
    const raws = ask(asked) ?? [];
    if (raws.length > 0) findings.found.set(standing, raws);
    else findings.found.delete(standing);
  }
  findings.due.delete(asked);
}

/** The findings of one file. */
export function newChecking(): Checking {
  let all: readonly VariantFindings[] = [];
  let index: KeptIndex = newIndex();
  let home: string | undefined;
  /** Answers what may be another for one variant. */
  function* answerDue(findings: VariantFindings): Generator<void, void> {
    for (const asked of findings.due) {
      answer(findings, asked);
      yield;
    }
    for (const [i, asked] of findings.ofSpec.entries()) {
      // What fails in it fails again when the check is run, and is told then.
      const check = SPEC_CHECKS[i];
      const askAhead = asked.answer === undefined ? check?.ahead : check?.again;
      const ahead = askAhead?.(findings.recorded.view, findings.files?.[0]?.file ?? '', index.index);
      if (ahead !== undefined) yield* containedInPieces(undefined, ahead, () => undefined);
      ask(asked);
      yield;
    }
  }
  function* foundIn({ recorded, found, ofSpec, variant }: VariantFindings): InPieces<Found> {
    const inOrder = [...found].sort(([one], [other]) => recorded.placeOf(one) - recorded.placeOf(other));
    yield;
    const said = ofSpec.flatMap((asked) => ask(asked) ?? []);
    return {
      variant,
      draft: recorded.view.draft,
      raws: [...inOrder.flatMap(([, each]) => each), ...said.flatMap(({ raws }) => raws)],
      failed: said.flatMap(({ failed }) => failed ?? []),
    };
  }
  return {
    viewsOf(files, variants) {
      const found = variants.map((variant) => all.find((each) => each.variant === variant && each.files === files));
      return found.every((each) => each !== undefined) ? found.map(({ recorded }) => recorded.view) : undefined;
    },
    *bringUp(files, variants, incomplete) {
      if (files[0]?.file !== home || all.length !== variants.length) return;
      if (!variants.every((variant) => all.some((each) => each.variant === variant))) return;
      for (const findings of all) if (findings.files !== files) yield* take(findings, files, incomplete);
    },
    *check(files, variants, incomplete) {
      const own = files[0];
      if (own === undefined) return [];
      if (home !== own.file) {
        home = own.file;
        index = newIndex();
        all = [];
      }
      index.update(own);
      for (const findings of all) if (!variants.includes(findings.variant)) dismiss(findings);
      all = all.filter(({ variant }) => variants.includes(variant));
      const found: Found[] = [];
      for (const variant of variants) {
        let findings = all.find((each) => each.variant === variant);
        if (findings === undefined) {
          const made = yield* variantFindings(files, variant, incomplete, index.index);
          // Somebody else may have come to it in between.
          findings = all.find((each) => each.variant === variant);
          if (findings === undefined) {
            findings = made;
            all = [...all, made];
          } else {
            dismiss(made);
            yield* take(findings, files, incomplete);
          }
        } else yield* take(findings, files, incomplete);
        yield;
        yield* answerDue(findings);
        found.push(yield* foundIn(findings));
      }
      return found;
    },
    lookedUp(placed, variant) {
      const findings = all.find((each) => each.variant === variant);
      const standing = standingBehind(placed) ?? findings?.recorded.standingOf(placed);
      const asked = standing === undefined ? undefined : findings?.questions.get(standing);
      return asked === undefined ? [] : (findings?.recorded.namesRead(asked) ?? []);
    },
  };
}
