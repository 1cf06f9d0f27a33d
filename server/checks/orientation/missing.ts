// Which way round a part goes, said nowhere: a matched part without mark or rule, and a rule that no job comes to show. What contradicts
// itself is in rules.ts.
import { told } from '../../../grammar/told.ts';
import type { OrientRule } from '../../../grammar/tree.ts';
import { isA, type TradeKind } from '../../model/trade-names.ts';
import type { Part, Sequence, View } from '../../model/view.ts';
import { question } from '../../model/view-questions.ts';
import { assembles, plansOf } from '../../rehearsal/plan.ts';
import { workOf } from '../../rehearsal/step-work.ts';
import { nameSpan, type Report, type SpecCheck, type SpecContext } from '../check.ts';
import page from './missing.md';

/** The rules of a part. */
const rulesOf = question((_view, part: Part): readonly OrientRule[] =>
  part.statements.flatMap((each) => (each.kind === 'orient' ? each.rules : [])),
);

/** Round things: they go back to their own place, as the rack that they lay in tells, and have no way round. Common practice, no source. */
const ROUND: readonly TradeKind[] = [
  'valve',
  'valve-spring',
  'spring-retainer',
  'collet',
  'lifter',
  'pushrod',
  'piston-pin',
  'shim',
  'guide-or-seat',
];

/** Whether a part is matched, and nothing says which way round it goes. */
const isUnmarked = question(
  (view, part: Part) =>
    part.matched && !part.broken && !isA(part, ...ROUND) && part.marks.size === 0 && rulesOf(view, part).length === 0,
);

/** Every name that a sequence works on or begins with. */
function namesIn(view: View, sequence: Sequence): readonly string[] {
  return [
    ...sequence.startsWith.map((each) => each.text),
    ...sequence.steps.flatMap((step) => workOf(view, step).named.map((each) => each.name)),
  ];
}

/** The sequences that the jobs of a file do, where one of them builds the engine from bare; undefined where none does. */
function doneIn(view: View, file: string): ReadonlySet<Sequence> | undefined {
  const plans = plansOf(view, file).filter((plan) => plan.job !== undefined);
  if (plans.some((plan) => plan.unsure) || !plans.some((plan) => plan.begins === 'bare' && assembles(plan)))
    return undefined;
  return new Set(plans.flatMap((plan) => [...plan.before, ...plan.sequences]));
}

/**
 * A part with a rule that only sequences outside every job of the file work on. What no step of any sequence fits is said to be never
 * fitted, and its rule follows from that; an engine that begins whole shows its rules without a step. A job that stops half-way is good
 * work, so this is information.
 */
function unshown(view: View, file: SpecContext['file'], report: Report): void {
  const done = doneIn(view, file.file);
  const others = done === undefined ? [] : view.sequences.filter((each) => !done.has(each));
  if (done === undefined || others.length === 0) return;
  const shown = new Set([...done].flatMap((each) => namesIn(view, each)));
  const elsewhere = new Map(others.flatMap((each) => namesIn(view, each).map((name) => [name, each.name] as const)));
  for (const part of view.parts) {
    if (part.placed.file !== file.file || part.broken) continue;
    const [rule] = rulesOf(view, part);
    if (rule === undefined) continue;
    const other = shown.has(part.name) ? undefined : elsewhere.get(part.name);
    if (other === undefined) continue;
    report(
      part.placed,
      rule.feature,
      told`No job comes to show which way round ${told.thing(part)} goes: only sequence ${other} works on it, and no job has ${other}.`,
      { severity: 'information', missing: true },
    );
  }
}

export const missing: SpecCheck = {
  code: 'orientation/missing',
  severity: 'warning',
  scope: 'spec',
  page,
  *ahead(view) {
    for (const part of view.parts) {
      isUnmarked(view, part);
      yield;
    }
  },
  run({ view, file, report }) {
    for (const part of view.parts) {
      if (part.placed.file !== file.file || !isUnmarked(view, part)) continue;
      report(
        part.placed,
        nameSpan(part.placed),
        told`${told.thing(part)} is matched, and nothing says which way round it goes or how it is marked. Give it an orient line or a mark.`,
        { missing: true },
      );
    }
    unshown(view, file, report);
  },
};
