// What a record leaves unanswered besides steps and measurements: a hold point for which nobody is named, a part found scrap with no new
// one fitted, a grade that is not said, fewer readings than a limit asks for. Nothing is reported here.
import { type Told, told } from '../../../grammar/told.ts';
import type { Done, Place, RecordFitted, Statement } from '../../../grammar/tree.ts';
import { placesOfLimit } from '../../model/limit-places.ts';
import { placeText } from '../../model/limit-sums.ts';
import { takesIn } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import type { Grades, Step, View } from '../../model/view.ts';
import { question } from '../../model/view-questions.ts';
import { doneIn, leftToDo } from './left-to-do.ts';
import { entryText, measurementsIn, recordStatements } from './measurements.ts';

export interface Unanswered {
  readonly what: 'hold-point' | 'replacement' | 'grade' | 'readings';
  /** The step, part, table of grades or limit. */
  readonly name: string;
  /** As it is said, without a stop. */
  readonly text: Told;
}

/** The names of all that a step fits. */
const fittedInStep = question((_view, step: Step): readonly string[] =>
  step.statements.flatMap((each) =>
    each.kind === 'action' && each.word === 'fit' ? each.targets.map((target) => target.owner.text) : [],
  ),
);

/** The names of all that some steps fit. */
function fittedIn(steps: readonly Step[], view: View): ReadonlySet<string> {
  return new Set(steps.flatMap((step) => fittedInStep(view, step)));
}

const isHoldPoint = question((_view, step: Step): boolean =>
  step.statements.some((each) => each.word === 'hold-point'),
);

/** What a record says was fitted, by part. */
function saidFitted(statements: readonly Statement[]): ReadonlyMap<string, readonly RecordFitted[]> {
  const all = new Map<string, RecordFitted[]>();
  for (const each of statements) {
    if (each.kind !== 'record-fitted') continue;
    const own = all.get(each.part.owner.text);
    if (own === undefined) all.set(each.part.owner.text, [each]);
    else own.push(each);
  }
  return all;
}

/** Whether all of a place lies in another. */
function isIn(place: Place, other: Place): boolean {
  if (other.name !== undefined && other.name.text !== place.name?.text) return false;
  if (other.from === undefined) return true;
  return place.from !== undefined && place.from >= other.from && (place.to ?? place.from) <= (other.to ?? other.from);
}

/** Whether the words of a hold point ask for somebody besides who does the step. */
const asksForTwo = question((_view, step: Step): boolean =>
  step.statements.some(
    (each) =>
      each.kind === 'text' &&
      each.word === 'hold-point' &&
      /\b(?:second (?:pair|person|man|look)|another (?:pair|person)|(?:somebody|someone) else|(?:seen|by) two)\b/i.test(
        each.text.value,
      ),
  ),
);

/** The steps whose hold point was looked at by nobody but who did them, and who that is. */
function ownWitnesses(statements: readonly Statement[], done: readonly Done[]): ReadonlyMap<string, string> {
  const lookedBy = new Map<string, Set<string>>();
  for (const each of statements) {
    if (each.kind !== 'witnessed' || each.by === undefined) continue;
    const names = lookedBy.get(each.step.owner.text) ?? new Set();
    names.add(each.by.value.trim().toLowerCase());
    lookedBy.set(each.step.owner.text, names);
  }
  const found = new Map<string, string>();
  for (const { step, by } of done) {
    const names = lookedBy.get(step.owner.text);
    const own = by?.value.trim() ?? '';
    if (own !== '' && names?.size === 1 && names.has(own.toLowerCase())) found.set(step.owner.text, own);
  }
  return found;
}

function holdPoints(steps: readonly Step[], statements: readonly Statement[], view: View): readonly Unanswered[] {
  const done = doneIn(statements, 'done');
  const names = (of: readonly Done[]): ReadonlySet<string> => new Set(of.map((each) => each.step.owner.text));
  const [isDone, isSigned] = [names(done), names(done.filter((each) => each.by !== undefined))];
  const deviates = names(doneIn(statements, 'deviation'));
  const looked = new Set(
    statements.flatMap((each) => (each.kind === 'witnessed' && each.by !== undefined ? [each.step.owner.text] : [])),
  );
  const own = ownWitnesses(statements, done);
  return steps.flatMap((step): readonly Unanswered[] => {
    if (isDone.has(step.name) && !deviates.has(step.name) && asksForTwo(view, step)) {
      const by = own.get(step.name);
      if (by !== undefined)
        return [
          {
            what: 'hold-point',
            name: step.name,
            text: told`${by} did ${told.thing(step)} and is named for its hold point too, where somebody else looks`,
          },
        ];
      if (looked.size > 0 && !looked.has(step.name))
        return [
          {
            what: 'hold-point',
            name: step.name,
            text: told`the hold point of ${told.thing(step)} asks for a second person, and none is named`,
          },
        ];
    }
    if (!isDone.has(step.name) || isSigned.has(step.name) || looked.has(step.name) || deviates.has(step.name))
      return [];
    if (!isHoldPoint(view, step)) return [];
    return [
      { what: 'hold-point', name: step.name, text: told`nobody is named for the hold point of ${told.thing(step)}` },
    ];
  });
}

function replacements(
  steps: readonly Step[],
  statements: readonly Statement[],
  placed: Placed,
  view: View,
): readonly Unanswered[] {
  const [fitted, said] = [fittedIn(steps, view), saidFitted(statements)];
  return statements.flatMap((found): readonly Unanswered[] => {
    if (found.kind !== 'found' || found.verdict?.word !== 'scrap') return [];
    const { part } = found;
    const name = part.owner.text;
    // Work that only takes the engine apart puts nothing new in.
    if (!fitted.has(name)) return [];
    const own = said.get(name) ?? [];
    const isReplaced = (place: Place | undefined): boolean =>
      own.some(
        (each) =>
          each.part.places.length === 0 ||
          (place !== undefined && each.part.places.some((there) => isIn(place, there))),
      );
    const places = part.places.length === 0 ? [undefined] : part.places;
    if (places.every(isReplaced)) return [];
    const text = placed.section.text.slice(part.start, part.end).replace(/\s+/g, ' ');
    return [
      { what: 'replacement', name, text: told`${text} was found scrap, and what is fitted in its place is not said` },
    ];
  });
}

/** Of a table that goes on by place, the places for which no grade is said, where some are. */
function placesWithoutGrade(table: Grades, fitted: readonly RecordFitted[], view: View): readonly string[] {
  const limit = view.things.get(table.by?.owner.text ?? '');
  const own = fitted.filter((each) => each.grade !== undefined);
  if (view.things.get(table.name) !== table || limit?.kind !== 'limit' || limit.each === undefined) return [];
  if (own.length === 0 || own.some((each) => each.part.places.length === 0)) return [];
  return placesOfLimit(limit, view)
    .filter(
      (asked) =>
        !own.some((each) =>
          each.part.places.some((place) => takesIn(place, { name: asked.name, number: asked.number ?? asked.index })),
        ),
    )
    .map(placeText);
}

function grades(steps: readonly Step[], statements: readonly Statement[], view: View): readonly Unanswered[] {
  const measured = new Set(statements.flatMap((each) => (each.kind === 'measured' ? [each.limit.owner.text] : [])));
  const [fitted, said] = [fittedIn(steps, view), saidFitted(statements)];
  return view.grades.flatMap((table): readonly Unanswered[] => {
    const rows = table.rows.map((row) => row.name.text);
    const isFitted = [table.name, ...rows].some((name) => fitted.has(name));
    if (!isFitted || table.by === undefined || !measured.has(table.by.owner.text)) return [];
    const isSaid =
      rows.some((row) => said.has(row)) || (said.get(table.name) ?? []).some((each) => each.grade !== undefined);
    const left = isSaid ? placesWithoutGrade(table, said.get(table.name) ?? [], view) : [];
    if (left.length > 0)
      return [
        {
          what: 'grade',
          name: table.name,
          text: told`which grade of ${told.thing(table)} went in at ${told.list(left.map((place) => told.place(place)))} is not said`,
        },
      ];
    return isSaid
      ? []
      : [{ what: 'grade', name: table.name, text: told`which grade of ${told.thing(table)} went in is not said` }];
  });
}

/** Limits that ask for several readings at each place, and have fewer at one. */
function tooFewReadings(placed: Placed, view: View): readonly Unanswered[] {
  const said = new Set<string>();
  return measurementsIn(placed, view).flatMap((judged): readonly Unanswered[] => {
    const { limit, value, entry, again } = judged;
    const read = value.kind === 'range' ? (value.readings?.length ?? 1) : 1;
    // A range from the least to the greatest tells all of them.
    const isRange = value.kind === 'range' && value.readings === undefined;
    if (again || isRange || read >= limit.readings || said.has(limit.name)) return [];
    said.add(limit.name);
    const place = entryText(placed, entry);
    const text =
      place === ''
        ? told`${told.thing(limit)} asks for ${limit.readings} readings and has ${read}`
        : told`${told.thing(limit)} asks for ${limit.readings} readings at each place and has ${read} at ${told.place(place)}`;
    return [{ what: 'readings', name: limit.name, text }];
  });
}

/** What a record leaves unanswered of the work that it has as done, in the view of its variant. */
export function unanswered(placed: Placed, view: View): readonly Unanswered[] {
  const statements = recordStatements(placed, view);
  const names = new Set(doneIn(statements, 'done').map((each) => each.step.owner.text));
  const steps = leftToDo(placed, view).work.flatMap(({ step }) => (names.has(step.name) ? [step] : []));
  return [
    ...holdPoints(steps, statements, view),
    ...replacements(steps, statements, placed, view),
    ...grades(steps, statements, view),
    ...tooFewReadings(placed, view),
  ];
}
