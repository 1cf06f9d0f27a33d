// What comes off to get at a part, as text for a terminal. What that is, is worked out in reach.ts.
import { workOutDrive } from '../model/drive-sums.ts';
import type { View } from '../model/view.ts';
import { type ComesOff, placesOfLimit, type Reached } from './reach.ts';
import { nameWith, placeWords } from './reach-places.ts';
import { againAfter } from './what-is-left.ts';

function named(thing: { readonly name: string; readonly title: string | undefined }): string {
  return thing.title === undefined ? thing.name : `${thing.name} (${thing.title})`;
}

function list(title: string, lines: readonly string[]): string {
  return lines.length === 0 ? '' : `\n${title}\n${lines.map((line) => `  ${line}\n`).join('')}`;
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

function offLine(each: ComesOff, i: number): string {
  const { why, undo, surety, of } = each;
  const reason = why === '' ? '' : `: ${surety === 'guess' ? 'perhaps, ' : ''}${why}`;
  const bolts = undo.length === 0 ? '' : `; undo ${undo.map(({ words }) => words).join(', ')}`;
  const settle =
    surety === 'guess' && of !== undefined ? `. A guess: say clear-of ${of.name} in it, or covers ${of.name}` : '';
  return `${String(i + 1).padStart(2)}. ${withPlaces(each)}${reason}${bolts}${settle}`;
}

function fluidLine({ part, fluid }: Reached['drain'][number]): string {
  return `drain ${part.name} (${fluid}); it is filled again at the end`;
}

function provedLines(reached: Reached, view: View): readonly string[] {
  return [
    ...reached.drives.map((drive) => {
      const { linksReturn, marksReturn } = workOutDrive(drive, view);
      const links =
        drive.markedLinks.length === 0
          ? ''
          : `; the marked links serve only to put it on${linksReturn === undefined ? '' : ` (back after ${linksReturn} turns)`}`;
      const late =
        marksReturn !== undefined && marksReturn > 2
          ? `; all its marks agree after ${marksReturn} turns, not before`
          : '';
      return `${named(drive)}: by its marks, after whole cycles turned by hand${links}${late}`;
    }),
    ...reached.limits.flatMap((limit) => {
      const own = placesOfLimit(limit, reached, view);
      if (own?.places.size === 0) return [];
      const at = own === undefined ? '' : ` at ${placeWords(own.part, own.places)}`;
      return [`${named(limit)}: measure${at}`];
    }),
  ];
}

/** The whole answer, in the order of the work: what to do first, what comes off, what must be new, what is proved again. */
export function reachText(reached: Reached, view: View): string {
  const { part, places, off, look, holdBack, fresh, drain, mayLeak, again, disconnect, marked, retorque } = reached;
  const variant = view.variant === undefined ? '' : ` (${view.variant})`;
  return [
    `To get at ${withPlaces({ part, places })}${variant}\n`,
    list('First', [
      ...disconnect.map((each) => `disconnect ${each.name}`),
      ...drain.map(fluidLine),
      ...mayLeak.map((each) => `see whether what is in ${each.name} has to be drained`),
      ...marked.map((drive) => `set the engine to the marks of ${drive.name} before it is opened`),
      ...holdBack.map((each) => `hold back ${each.name}; it is let go again at the end`),
      ...reached.notes,
    ]),
    list('Comes off, in this order', off.map(offLine)),
    list('Fitted after it: look whether one of these is in the way', wrapped(look.map((each) => each.name))),
    list(
      'Must be new when it goes back',
      fresh.map((each) => named(each)),
    ),
    list('Must be proved again', provedLines(reached, view)),
    list(
      'Tightened again later',
      retorque.map((each) => `${each.name}: after ${againAfter(each)}`),
    ),
    list(
      'Goes back in these steps',
      again.map(({ sequence, step }) => `${sequence.name}: ${step.title ?? step.name}`),
    ),
    "\nWorked out backwards from how the spec puts the engine together: a check, not an instruction. The maker's manual comes first.\n",
  ].join('');
}
