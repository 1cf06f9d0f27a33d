// Parts that are off when a job ends, and what is on for a trial.

import { type Argument, type Told, told } from '../../grammar/told.ts';
import { eachPartOfKind } from '../model/by-kind.ts';
import { thoseThat } from '../model/those-that.ts';
import { isA, type TradeKind } from '../model/trade-names.ts';
import { question } from '../model/view-questions.ts';
import type { Act } from './act.ts';
import { isGrade, stepsFitting } from './foresight.ts';
import { gradesAlone } from './graded.ts';
import { inWords, nameWith } from './in-words.ts';
import { nameOf, sayLeft, sayShared } from './left.ts';
import { OFF, type PartState } from './part-state.ts';
import { anyOn, type State } from './state.ts';
import { workOf } from './step-work.ts';

/** The places of a part that are off when all is done; none of one that could not be read. */
function placesOff({ part, on }: PartState): readonly number[] {
  return part.broken || !on.includes(OFF) ? [] : [...on.keys()].filter((i) => on[i] === OFF);
}

/** A part that came off and is off still; one finding for all that one step took off. */
function sayGone(state: State, part: PartState, by: Act, off: readonly number[]): void {
  const tell = (names: readonly Argument[]): Told =>
    names.length === 1
      ? told`${inWords(names)} comes off here and is never put back. Fit it in a later step.`
      : told`${inWords(names)} come off here and are never put back. Fit them in a later step.`;
  sayShared(state, 'sequence/never-fitted', by, nameWith(part.part, off), { step: by.step }, tell);
}

/** What came off is off still. */
function partGone(state: State, part: PartState): void {
  // Of a table of grades another row may go in.
  if (part.isGraded && anyOn(part)) return;
  const off = placesOff(part);
  if (part.triedIn !== undefined && TRIED_WITH.test(part.part.name)) return;
  if (off.length > 0 && part.removedBy !== undefined) sayGone(state, part, part.removedBy, off);
}

/** What is put in for a trial alone. Common practice, no source. */
const TRIED_WITH = /(^|-)(strips?|gau?ge|clay|putty|solder|dummy|slave|trial|test|checking|light)(-|$)/i;

/** Bearings may stay in their saddles for good when the trial is taken apart. Common practice, no source. */
const STAYS: readonly TradeKind[] = ['shell', 'thrust', 'bush', 'dowel'];

/** Whether a part stays where it was tried, though the trial was taken apart. */
function staysFromTrial(state: State, { part, onTrial }: PartState): boolean {
  if (part.wall === undefined && !isA(part, ...STAYS)) return false;
  if (onTrial === undefined) return false;
  const tried = state.parts.among(workOf(state.view, onTrial.step).fitted);
  return tried.some((other) => other.part !== part && other.triedIn === onTrial.step);
}

/** Tables of grades that no step of any sequence fits anything of. */
const neverFitted = thoseThat(
  gradesAlone,
  (grades, view) =>
    !grades.broken &&
    stepsFitting(view, grades.name).length === 0 &&
    grades.rows.every((row) => stepsFitting(view, row.name.text).length === 0),
);

/** Whether a step fits a part whose name ends like this one's. */
const isOfOther = question((view, name: string): boolean => {
  const last = name.slice(name.lastIndexOf('-') + 1);
  return view.parts.some(
    (part) => part.name.slice(part.name.lastIndexOf('-') + 1) === last && stepsFitting(view, part.name).length > 0,
  );
});

/** What is chosen by a measurement and never goes on: the shim, the gasket of which one is taken. */
export function sayGradesLeft(state: State): void {
  if (state.plan.begins !== 'bare' || !state.plan.assembles) return;
  for (const grades of neverFitted(state.view)) {
    if (grades.placed.file !== state.file || grades.placed.origin !== undefined) continue;
    if (state.unsure) return;
    sayLeft(
      state,
      'sequence/never-fitted',
      grades.placed,
      nameOf(grades),
      told`${told.thing(grades)} is chosen by a measurement, and no step fits it. Say fit ${told.thing(grades)} where the one that was chosen goes on.`,
      [],
      // A part of that name's kind that does go on may be what the table chooses.
      isOfOther(state.view, grades.name) ? 'information' : 'warning',
    );
  }
}

/** Whether the work of the job speaks of a filter: of its port that was plugged, of what it seals on. */
const speaksOfFilter = ({ plan }: State): boolean =>
  plan.sequences.some(({ steps }) => steps.some(({ placed }) => /filter/i.test(placed.section.text)));

/** An oil filter of a file that this one uses, which no step fits, though the work speaks of a filter. Common practice, no source. */
export function sayFilterLeft(state: State): void {
  const { plan, view } = state;
  if (plan.begins !== 'bare' || !plan.assembles) return;
  const filters = eachPartOfKind(view, 'oil-filter');
  const [filter] = filters;
  const last = plan.sequences.flatMap(({ steps }) => steps).at(-1);
  if (filter === undefined || last === undefined || filters.some(({ name }) => stepsFitting(view, name).length > 0))
    return;
  if (filter.placed.file === state.file || filter.placed.file.startsWith('fettle-library:')) return;
  if (!speaksOfFilter(state) || state.unsure) return;
  sayLeft(
    state,
    'sequence/never-fitted',
    last.placed,
    nameOf(last),
    told`${told.thing(filter)} of a file that this one uses is fitted by no step. If this engine has it, fit it before oil goes in.`,
    [{ placed: filter.placed, span: nameOf(filter), message: told`it is declared here` }],
    'information',
  );
}

function partLeft(state: State, part: PartState): void {
  const { name } = part.part;
  const off = placesOff(part);
  partGone(state, part);
  if (off.length === 0 || part.removedBy !== undefined || state.plan.begins !== 'bare') return;
  if (part.isGraded || isGrade(state.view, name)) return;
  const all = off.length === part.on.length;
  if (part.part.placed.file !== state.file) {
    const { handledBy } = part;
    if (all && handledBy !== undefined && !state.ahead.fitted.has(name))
      sayLeft(
        state,
        'sequence/never-fitted',
        handledBy.step.placed,
        handledBy.span,
        told`${told.named(name)} is got ready or looked at here, and no step fits it. Fit it where it goes on.`,
      );
    return;
  }
  if (all && state.ahead.fitted.has(name)) return;
  // A shop that builds on another's spec may list what it buys besides: a filter for the first service is fitted by no step.
  const isBuiltOn =
    part.part.placed.origin === undefined && state.plan.sequences.some(({ placed }) => placed.origin !== undefined);
  sayLeft(
    state,
    'sequence/never-fitted',
    part.part.placed,
    nameOf(part.part),
    told`No step fits ${nameWith(part.part, off)}. Fit it where it goes on, or say starts-with if it is there from the beginning.`,
    [],
    isBuiltOn ? 'warning' : undefined,
  );
}

/** A part that this job takes off or never fits, or that went on for a trial and stays. */
export function sayIfPartLeft(state: State, part: PartState): void {
  if (state.plan.assembles) partLeft(state, part);
  else partGone(state, part);
  if (part.onTrial !== undefined && anyOn(part) && !staysFromTrial(state, part))
    sayLeft(
      state,
      'sequence/left-open',
      part.onTrial.step.placed,
      part.onTrial.span,
      told`${told.thing(part.part)} goes on for a trial here and never comes off again.`,
    );
}
