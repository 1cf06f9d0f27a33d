// Which way round a part goes, said nowhere: a matched part without mark or rule, and a rule that no job comes to show. What contradicts
// itself is in rules.ts.
import { told } from '../../../grammar/told.ts';
import type { OrientRule } from '../../../grammar/tree.ts';
import { eachPartOfKind } from '../../model/by-kind.ts';
import { type Entry, keyed } from '../../model/keyed.ts';
import { thoseThat } from '../../model/those-that.ts';
import { isA, type TradeKind } from '../../model/trade-names.ts';
import type { Part, Sequence, View } from '../../model/view.ts';
import { question } from '../../model/view-questions.ts';
import { plansIn } from '../../rehearsal/plan.ts';
import { stepsIn, workOf } from '../../rehearsal/step-work.ts';
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

/** The parts that are matched, and nothing says which way round they go. */
const unmarked = thoseThat(
  (view) => view.parts,
  (part, view) =>
    part.matched && !part.broken && !isA(part, ...ROUND) && part.marks.size === 0 && rulesOf(view, part).length === 0,
);

/** Bored or broken together with what they sit on, or run in on it: each goes back to its place. Common practice, no source. */
const TO_ITS_PLACE: readonly TradeKind[] = ['main-cap', 'rod-cap', 'cam-cap', 'rod'];

/** Whether the spec says it of another of these: then it is written down which they are. */
const saysOfOthers = (view: View): boolean =>
  TO_ITS_PLACE.some((kind) => eachPartOfKind(view, kind).some((part) => part.matched));

/** The parts that go back to their places, and of which nothing says so, though it does of others. */
const notMatched = thoseThat(
  (view) => view.parts,
  (part) => part.count > 1 && !part.matched && !part.broken && isA(part, ...TO_ITS_PLACE),
);

/** The parts of which something says which way round they go. */
const ruled = thoseThat(
  (view) => view.parts,
  (part, view) => !part.broken && rulesOf(view, part).length > 0,
);

/** By name: the steps that work on it, in the order written. */
const stepsNaming = keyed(stepsIn, (view, { sequence, step }) =>
  workOf(view, step).named.map(({ name }): Entry<Sequence> => [name, sequence]),
);

/** By name: the sequences that begin with it. */
const sequencesFrom = keyed(
  (view) => view.sequences,
  (_view, sequence: Sequence) => sequence.startsWith.map(({ text }): Entry<Sequence> => [text, sequence]),
);

/** The sequences that the jobs of a file do, where one of them builds the engine from bare; undefined where none does. */
function doneIn(view: View, file: string): ReadonlySet<Sequence> | undefined {
  const plans = plansIn(view, file).filter((plan) => plan.job !== undefined);
  if (plans.some((plan) => plan.unsure) || !plans.some((plan) => plan.begins === 'bare' && plan.assembles))
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
  for (const part of ruled(view)) {
    const [rule] = rulesOf(view, part);
    if (part.placed.file !== file.file || rule === undefined) continue;
    const naming = [...stepsNaming(view, part.name), ...sequencesFrom(view, part.name)];
    const other = naming.some((each) => done.has(each)) ? undefined : others.findLast((each) => naming.includes(each));
    if (other === undefined) continue;
    report(
      part.placed,
      rule.feature,
      told`No job comes to show which way round ${told.thing(part)} goes: only sequence ${other.name} works on it, and no job has ${other.name}.`,
      { severity: 'information', missing: true },
    );
  }
}

export const missing: SpecCheck = {
  code: 'orientation/missing',
  severity: 'warning',
  scope: 'spec',
  page,
  run({ view, file, report }) {
    for (const part of unmarked(view)) {
      if (part.placed.file !== file.file) continue;
      report(
        part.placed,
        nameSpan(part.placed),
        told`${told.thing(part)} is matched, and nothing says which way round it goes or how it is marked. Give it an orient line or a mark.`,
        { missing: true },
      );
    }
    for (const part of notMatched(view)) {
      if (part.placed.file !== file.file || !saysOfOthers(view)) continue;
      report(
        part.placed,
        nameSpan(part.placed),
        told`${told.thing(part)} was made together with what it sits on, and goes back to its own place; nothing says so, though it does of other parts. Say matched.`,
        { missing: true, severity: 'information' },
      );
    }
    unshown(view, file, report);
  },
};
