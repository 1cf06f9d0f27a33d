// What a record leaves unanswered besides steps and measurements: a hold point for which nobody is named, a part found scrap with no new
// one fitted, a grade that is not said. Nothing is reported here.
import type { Place, Statement } from '../../../grammar/tree.ts';
import type { Placed } from '../../model/placed.ts';
import type { Step, View } from '../../model/view.ts';
import { doneIn, leftToDo } from './left-to-do.ts';
import { recordStatements } from './measurements.ts';

export interface Unanswered {
  readonly what: 'hold-point' | 'replacement' | 'grade';
  /** The step, part or table of grades. */
  readonly name: string;
  /** As it is said, without a stop. */
  readonly text: string;
}

function fits(step: Step, name: string): boolean {
  return step.statements.some(
    (each) =>
      each.kind === 'action' && each.word === 'fit' && each.targets.some((target) => target.owner.text === name),
  );
}

/** Whether all of a place lies in another. */
function isIn(place: Place, other: Place): boolean {
  if (other.name !== undefined && other.name.text !== place.name?.text) return false;
  if (other.from === undefined) return true;
  return place.from !== undefined && place.from >= other.from && (place.to ?? place.from) <= (other.to ?? other.from);
}

function holdPoints(steps: readonly Step[], statements: readonly Statement[]): readonly Unanswered[] {
  const [done, deviations] = [doneIn(statements, 'done'), doneIn(statements, 'deviation')];
  return steps.flatMap((step): readonly Unanswered[] => {
    const own = done.filter((each) => each.step.owner.text === step.name);
    const holds = step.statements.some((each) => each.word === 'hold-point');
    if (!holds || own.length === 0 || own.some((each) => each.by !== undefined)) return [];
    if (deviations.some((each) => each.step.owner.text === step.name)) return [];
    return [{ what: 'hold-point', name: step.name, text: `nobody is named for the hold point of ${step.name}` }];
  });
}

function replacements(steps: readonly Step[], statements: readonly Statement[], placed: Placed): readonly Unanswered[] {
  return statements.flatMap((found): readonly Unanswered[] => {
    if (found.kind !== 'found' || found.verdict?.word !== 'scrap') return [];
    const { part } = found;
    const name = part.owner.text;
    // Work that only takes the engine apart puts nothing new in.
    if (!steps.some((step) => fits(step, name))) return [];
    const isReplaced = (place: Place | undefined): boolean =>
      statements.some(
        (each) =>
          each.kind === 'record-fitted' &&
          each.part.owner.text === name &&
          (each.part.places.length === 0 ||
            (place !== undefined && each.part.places.some((there) => isIn(place, there)))),
      );
    const places = part.places.length === 0 ? [undefined] : part.places;
    if (places.every(isReplaced)) return [];
    const text = placed.section.text.slice(part.start, part.end).replace(/\s+/g, ' ');
    return [
      { what: 'replacement', name, text: `${text} was found scrap, and what is fitted in its place is not said` },
    ];
  });
}

function grades(steps: readonly Step[], statements: readonly Statement[], view: View): readonly Unanswered[] {
  const measured = new Set(statements.flatMap((each) => (each.kind === 'measured' ? [each.limit.owner.text] : [])));
  return view.grades.flatMap((table): readonly Unanswered[] => {
    const rows = table.rows.map((row) => row.name.text);
    const isFitted = steps.some((step) => fits(step, table.name) || rows.some((row) => fits(step, row)));
    if (!isFitted || table.by === undefined || !measured.has(table.by.owner.text)) return [];
    const isSaid = statements.some(
      (each) =>
        each.kind === 'record-fitted' &&
        (rows.includes(each.part.owner.text) || (each.part.owner.text === table.name && each.grade !== undefined)),
    );
    return isSaid
      ? []
      : [{ what: 'grade', name: table.name, text: `which grade of ${table.name} went in is not said` }];
  });
}

/** What a record leaves unanswered of the work that it has as done, in the view of its variant. */
export function unanswered(placed: Placed, view: View): readonly Unanswered[] {
  const statements = recordStatements(placed, view.variant);
  const names = new Set(doneIn(statements, 'done').map((each) => each.step.owner.text));
  const steps = leftToDo(placed, view).work.flatMap(({ step }) => (names.has(step.name) ? [step] : []));
  return [
    ...holdPoints(steps, statements),
    ...replacements(steps, statements, placed),
    ...grades(steps, statements, view),
  ];
}
