// What comes off to get at a part, as text for a terminal. What that is, is worked out in reach.ts.
import { type Argument, type Told, told } from '../../grammar/told.ts';
import { workOutDrive } from '../model/drive-sums.ts';
import type { View } from '../model/view.ts';
import { type ComesOff, placesOfLimit, type Reached } from './reach.ts';
import { nameWith, placeWords } from './reach-places.ts';
import { againAfter } from './what-is-left.ts';

function named(thing: { readonly name: string; readonly title: string | undefined }): string {
  return thing.title === undefined ? thing.name : `${thing.name} (${thing.title})`;
}

function list(title: Told, lines: readonly Argument[]): readonly Argument[] {
  return lines.length === 0 ? [] : ['\n', title, '\n', ...lines.flatMap((line) => ['  ', line, '\n'])];
}

/** Names in lines that a terminal shows whole. */
function wrapped(names: readonly string[]): readonly string[] {
  const lines: string[] = [];
  for (const [i, name] of names.entries()) {
    const text = i < names.length - 1 ? `${name},` : name;
    const last = lines[lines.length - 1];
    if (last === undefined || last.length + text.length > 72) lines.push(text);
    else lines[lines.length - 1] = `${last} ${text}`;
  }
  return lines;
}

function withPlaces({ part, places }: Pick<ComesOff, 'part' | 'places'>): string {
  const name = nameWith(part, places);
  return part.title === undefined ? name : `${name} (${part.title})`;
}

function offLine(each: ComesOff, i: number): Told {
  const { why, undo, surety, of } = each;
  const head = `${String(i + 1).padStart(2)}. ${withPlaces(each)}`;
  const reason =
    why === undefined ? told`${head}` : surety === 'guess' ? told`${head}: perhaps, ${why}` : told`${head}: ${why}`;
  const bolts = undo.length === 0 ? reason : told`${reason}; undo ${undo.map(({ words }) => words).join(', ')}`;
  return surety === 'guess' && of !== undefined
    ? told`${bolts}. A guess: say clear-of ${told.thing(of)} in it, or covers ${told.thing(of)}`
    : bolts;
}

function provedLines(reached: Reached, view: View): readonly Told[] {
  return [
    ...reached.drives.map((drive) => {
      const { linksReturn, marksReturn } = workOutDrive(drive, view);
      const said = [
        told`${named(drive)}: by its marks, after whole cycles turned by hand`,
        ...(drive.markedLinks.length === 0
          ? []
          : [
              linksReturn === undefined
                ? told`the marked links serve only to put it on`
                : told`the marked links serve only to put it on (back after ${linksReturn} turns)`,
            ]),
        ...(marksReturn !== undefined && marksReturn > 2
          ? [told`all its marks agree after ${marksReturn} turns, not before`]
          : []),
      ];
      return told.row(said.flatMap((each, i) => (i === 0 ? [each] : ['; ', each])));
    }),
    ...reached.limits.flatMap((limit) => {
      const own = placesOfLimit(limit, reached, view);
      if (own?.places.size === 0) return [];
      return [
        own === undefined
          ? told`${named(limit)}: measure`
          : told`${named(limit)}: measure at ${placeWords(own.part, own.places)}`,
      ];
    }),
  ];
}

/** The whole answer, in the order of the work: what to do first, what comes off, what must be new, what is proved again. */
export function reachText(reached: Reached, view: View): Told {
  const { part, places, off, look, holdBack, fresh, drain, mayLeak, again, disconnect, marked, retorque } = reached;
  const asked = told`To get at ${withPlaces({ part, places })}`;
  return told.row([
    view.variant === undefined ? asked : told`${asked} (${view.variant})`,
    '\n',
    ...list(told`First`, [
      ...disconnect.map((each) => told`disconnect ${told.thing(each)}`),
      ...drain.map(
        ({ part: of, fluid }) => told`drain ${told.thing(of)} (${told.term(fluid)}); it is filled again at the end`,
      ),
      ...mayLeak.map((each) => told`see whether what is in ${told.thing(each)} has to be drained`),
      ...marked.map((drive) => told`set the engine to the marks of ${told.thing(drive)} before it is opened`),
      ...holdBack.map((each) => told`hold back ${told.thing(each)}; it is let go again at the end`),
      ...reached.notes,
    ]),
    ...list(told`Comes off, in this order`, off.map(offLine)),
    ...list(told`Fitted after it: look whether one of these is in the way`, wrapped(look.map((each) => each.name))),
    ...list(
      told`Must be new when it goes back`,
      fresh.map((each) => named(each)),
    ),
    ...list(told`Must be proved again`, provedLines(reached, view)),
    ...list(
      told`Tightened again later`,
      retorque.map((each) => told`${told.thing(each)}: after ${againAfter(each)}`),
    ),
    ...list(
      told`Goes back in these steps`,
      again.map(({ sequence, step }) => `${sequence.name}: ${step.title ?? step.name}`),
    ),
    '\n',
    told`Worked out backwards from how the spec puts the engine together: a check, not an instruction. The maker's manual comes first.`,
    '\n',
  ]);
}
