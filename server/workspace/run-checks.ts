// Has the checks look at a declaration or at a whole spec, and gathers what they report. What of it is kept, and when it is asked again, is
// in checking.ts.
import type { Told } from '../../grammar/told.ts';
import type { Span } from '../../grammar/tree.ts';
import { CHECKS } from '../checks/catalog.ts';
import type { Check, Extra, Report, SpecContext } from '../checks/check.ts';
import type { BuiltView } from '../model/build-view.ts';
import type { Finding, Severity } from '../model/finding.ts';
import type { Placed } from '../model/placed.ts';
import { differsIn } from '../model/questions.ts';
import type { Thing } from '../model/view.ts';
import { checkFailed, contained, FAULT } from './contained.ts';

/** Where a report keeps what was made of it: a mark, so that it is left out where two are compared. */
export const LAST = Symbol('last');

/** A finding before its place is worked out: it is told by declaration and own offsets, so that a shift costs nothing. */
export interface Raw {
  readonly code: string;
  readonly severity: Severity;
  readonly placed: Placed;
  readonly span: Span;
  readonly told: Told;
  readonly extra: Extra;
  /** The finding that was last made of it; see placed-findings.ts. It is no part of what is reported. */
  [LAST]: Finding | undefined;
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
    const severity = extra.severity ?? check.severity;
    reported.push({ code: check.code, severity, placed, span, told: message, extra, [LAST]: undefined });
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

/** Tells that a check failed, at the declaration that it looked at. */
function reportFailed(check: Check, placed: Placed, why: string): void {
  const span = placed.declaration.name ?? placed.declaration.wordSpan;
  reported.push({
    code: FAULT,
    severity: 'error',
    placed,
    span,
    told: checkFailed(check, why),
    extra: {},
    [LAST]: undefined,
  });
}

/** A check of one declaration, by what it looks at. */
type Due = Exclude<Check, { readonly scope: 'spec' | 'page' }>;

/** The checks of declarations by their word, of which there are few, and the kind of thing that they declare; each list is made once. */
const DUE = new Map<string, readonly Due[]>();

function dueFor(word: string, kind: Thing['kind'] | undefined): readonly Due[] {
  return [
    ...DECLARATION_CHECKS.filter(({ words }) => words === undefined || words.includes(word)),
    ...THING_CHECKS.filter((check) => kind !== undefined && check.of.includes(kind)),
    ...(word === 'engine' ? ENGINE_CHECKS : []),
  ];
}

/** What looks at one declaration; `thing` is what it declares, where it does not only change another. */
function checksOf(placed: Placed, thing: Thing | undefined): readonly Due[] {
  const { word } = placed.declaration;
  const key = `${word} ${thing?.kind ?? ''}`;
  let due = DUE.get(key);
  if (due === undefined) {
    due = dueFor(word, thing?.kind);
    DUE.set(key, due);
  }
  return due;
}

function run(check: Due, view: BuiltView, placed: Placed, thing: Thing | undefined): void {
  if (check.scope === 'declaration') check.run(placed, view, reporter(check));
  else if (check.scope === 'engine') {
    const { engine } = view;
    if (engine?.placed === placed) check.run(engine, view, reporter(check));
  } else if (thing !== undefined) check.run(thing, view, reporter(check));
}

/** Has a check look at a declaration; one that fails is told there. */
function attempt(check: Due, view: BuiltView, placed: Placed, thing: Thing | undefined): void {
  contained(
    () => run(check, view, placed, thing),
    (why) => reportFailed(check, placed, why),
  );
}

/** Checks one declaration. */
export function checkDeclaration(view: BuiltView, placed: Placed, thing: Thing | undefined): readonly Raw[] {
  return reportedBy(() => {
    for (const check of checksOf(placed, thing)) attempt(check, view, placed, thing);
  });
}

/** The checks of one declaration, each by itself. */
export function checksOneByOne(
  view: BuiltView,
  placed: Placed,
  thing: Thing | undefined,
): readonly (() => readonly Raw[])[] {
  return checksOf(placed, thing).map((check) => () => reportedBy(() => attempt(check, view, placed, thing)));
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
  const checks = checksOf(placed, thing);
  // What declares a thing in one variant alone is looked at by more checks there.
  const others = known?.length === checks.length ? known : undefined;
  const found: FoundByCheck[] = [];
  // A hundred checks look at each declaration, and most have nothing to say: nothing is made for one of them alone.
  let at = 0;
  let own: Raw[] = [];
  const runIt = (): void => run(checks[at] as Due, view, placed, thing);
  const failed = (why: string): void => reportFailed(checks[at] as Due, placed, why);
  const attemptIt = (): void => contained(runIt, failed);
  const outer = reported;
  reported = own;
  try {
    for (; at < checks.length; at += 1) {
      const before = others?.[at];
      if (before?.differs === false) {
        found.push(before);
        continue;
      }
      const differs = differsIn(attemptIt);
      if (own.length === 0 && !differs) {
        found.push(SILENT);
        continue;
      }
      found.push({ raws: own, differs });
      own = [];
      reported = own;
    }
    return found;
  } finally {
    reported = outer;
  }
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
