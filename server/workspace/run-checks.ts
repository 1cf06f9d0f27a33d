// Has the checks look at a declaration or at a whole spec, and gathers what they report. What of it is kept, and when it is asked again, is
// in checking.ts.
import type { Told } from '../../grammar/told.ts';
import type { Span } from '../../grammar/tree.ts';
import { CHECKS } from '../checks/catalog.ts';
import type { Check, Extra, Report, SpecContext } from '../checks/check.ts';
import type { BuiltView } from '../model/build-view.ts';
import type { Severity } from '../model/finding.ts';
import type { Placed } from '../model/placed.ts';
import { differsIn } from '../model/questions.ts';
import type { Thing } from '../model/view.ts';
import { checkFailed, contained, FAULT } from './contained.ts';

/** A finding before its place is worked out: it is told by declaration and own offsets, so that a shift costs nothing. */
export interface Raw {
  readonly code: string;
  readonly severity: Severity;
  readonly placed: Placed;
  readonly span: Span;
  readonly told: Told;
  readonly extra: Extra;
}

const THING_CHECKS = CHECKS.filter((check) => check.scope === 'thing');
const DECLARATION_CHECKS = CHECKS.filter((check) => check.scope === 'declaration');
const ENGINE_CHECKS = CHECKS.filter((check) => check.scope === 'engine');
export const SPEC_CHECKS = CHECKS.filter((check) => check.scope === 'spec');
export type SpecCheck = (typeof SPEC_CHECKS)[number];

/** Where what the checks report goes at the moment. */
let reported: Raw[] = [];

function reporterOf(check: Check): Report {
  return (placed, span, message, extra = {}) => {
    reported.push({ code: check.code, severity: extra.severity ?? check.severity, placed, span, told: message, extra });
  };
}

/** One for each check, made once: a declaration is looked at by a hundred checks, and most have nothing to say. */
const REPORTERS = new Map(CHECKS.map((check) => [check, reporterOf(check)]));

const reporter = (check: Check): Report => REPORTERS.get(check) ?? reporterOf(check);

/** What is reported meanwhile. */
function reportedBy(work: () => void): readonly Raw[] {
  const outer = reported;
  const own: Raw[] = [];
  reported = own;
  try {
    work();
    return own;
  } finally {
    reported = outer;
  }
}

/** Has a check look at a declaration; one that fails is told there. */
function attempt(check: Check, placed: Placed, work: () => void): void {
  contained(work, (why) => {
    const span = placed.declaration.name ?? placed.declaration.wordSpan;
    reported.push({ code: FAULT, severity: 'error', placed, span, told: checkFailed(check, why), extra: {} });
  });
}

/** A check of one declaration that waits to be run. */
type Due = readonly [Check, () => void];

/** What looks at one declaration; `thing` is what it declares, where it does not only change another. */
function checksOf(view: BuiltView, placed: Placed, thing: Thing | undefined): readonly Due[] {
  const ofThing =
    thing === undefined ? [] : THING_CHECKS.map((each): Due => [each, () => each.run(thing, view, reporter(each))]);
  return [
    ...DECLARATION_CHECKS.map((each): Due => [each, () => each.run(placed, view, reporter(each))]),
    ...ofThing,
    ...(placed.declaration.word === 'engine' ? ENGINE_CHECKS : []).map(
      (each): Due => [
        each,
        () => {
          const { engine } = view;
          if (engine?.placed === placed) each.run(engine, view, reporter(each));
        },
      ],
    ),
  ];
}

/** Checks one declaration. */
export function checkDeclaration(view: BuiltView, placed: Placed, thing: Thing | undefined): readonly Raw[] {
  return reportedBy(() => {
    for (const [check, run] of checksOf(view, placed, thing)) attempt(check, placed, run);
  });
}

/** The checks of one declaration, each by itself. */
export function checksOneByOne(
  view: BuiltView,
  placed: Placed,
  thing: Thing | undefined,
): readonly (() => readonly Raw[])[] {
  return checksOf(view, placed, thing).map(
    ([check, run]) =>
      () =>
        reportedBy(() => attempt(check, placed, run)),
  );
}

/** What a check finds in a declaration, and whether it read what differs from variant to variant. */
export interface FoundByCheck {
  readonly raws: readonly Raw[];
  readonly differs: boolean;
}

const SILENT: FoundByCheck = { raws: [], differs: false };

/** Checks one declaration, check by check; what another variant found and is the same for all (`known`) is taken from there. */
export function checkDeclarationForOne(
  view: BuiltView,
  placed: Placed,
  thing: Thing | undefined,
  known: readonly FoundByCheck[] | undefined,
): readonly FoundByCheck[] {
  const checks = checksOf(view, placed, thing);
  // What declares a thing in one variant alone is looked at by more checks there.
  const others = known?.length === checks.length ? known : undefined;
  return checks.map(([check, run], i) => {
    const before = others?.[i];
    if (before?.differs === false) return before;
    let differs = false;
    const raws = reportedBy(() => {
      differs = differsIn(() => attempt(check, placed, run));
    });
    return raws.length === 0 && !differs ? SILENT : { raws, differs };
  });
}

/** What a check of the whole spec found, and what is said where it failed. */
export interface OfSpec {
  readonly raws: readonly Raw[];
  readonly failed?: Told;
}

export function checkSpec(check: SpecCheck, context: Omit<SpecContext, 'report'>): OfSpec {
  let failed: Told | undefined;
  const raws = reportedBy(() =>
    contained(
      () => check.run({ ...context, report: reporter(check) }),
      (why) => {
        failed = checkFailed(check, why);
      },
    ),
  );
  return failed === undefined ? { raws } : { raws, failed };
}
