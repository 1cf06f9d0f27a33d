// The work to get at a part, written as a job: off, back on with every torque and proof, and run. What comes off is worked out in
// reach.ts; the statements that put it back are taken from put-back.ts and what-is-left.ts as the spec has them.

import { formatText } from '../../grammar/printer.ts';
import { textOf as inWords } from '../../grammar/told.ts';
import type { Part, View } from '../model/view.ts';
import { partsAndShafts } from './drive-parts.ts';
import { type BackStep, type PutBack, putBack, setFor, stepText } from './put-back.ts';
import { type ComesOff, type Reached, reach } from './reach.ts';
import { broughtUpLast, turnBackStep, turnsBack } from './reach-clear-of-pistons.ts';
import { nameWith, type Places } from './reach-places.ts';
import { afterIt, againAfter, whatIsLeft } from './what-is-left.ts';

export interface ReachJobOptions {
  /** The name of the spec that the job is of. */
  readonly spec?: string;
  /** The file to use, as it is written in a `use`; without it the job belongs into the spec's own file. */
  readonly use?: string;
  /** The places that are asked for; all of them where none is said. */
  readonly places?: Places;
}

const CRANKSHAFT = 'crankshaft';

interface Names {
  /** A name that the spec does not have yet. */
  fresh(wanted: string): string;
}

function namesOf(view: View): Names {
  const taken = new Set(view.things.keys());
  return {
    fresh(wanted) {
      let name = wanted;
      for (let i = 2; taken.has(name); i += 1) name = `${wanted}-${i}`;
      taken.add(name);
      return name;
    },
  };
}

/** The crankshaft brought to where the marks of the drives agree, the marks looked at, and the shafts pinned as the spec pins them. */
function toTheMarks(reached: Reached, view: View, back: PutBack): readonly string[] {
  const shaft = view.things.get(CRANKSHAFT)?.kind === 'part' ? CRANKSHAFT : undefined;
  const agree = reached.drives.find((drive) => drive.marksAgree !== undefined)?.marksAgree;
  const set =
    shaft === undefined || agree === undefined
      ? []
      : [`set ${shaft} at tdc ${agree.cylinder}${agree.stroke === undefined ? '' : ` on ${agree.stroke}`}`];
  return [
    ...set,
    ...(set.length === 0 ? [] : reached.marked.map(({ name }) => `confirm ${name} by marks`)),
    ...back.pins.map(({ text }) => text),
  ];
}

/** Parts that come off in one action: the part itself, all that go on and off together, and what comes off with it. */
function groupWith(each: ComesOff, reached: Reached, together: PutBack['together']): readonly ComesOff[] {
  const group = together.find((names) => names.includes(each.part.name)) ?? [each.part.name];
  const names = new Set(group);
  for (const { part, along } of reached.off) if (along !== undefined && names.has(along)) names.add(part.name);
  return names.size === 1 ? [each] : reached.off.filter(({ part }) => names.has(part.name));
}

/** A drive is opened when its chain or belt, a wheel, a tensioner or a shaft of it comes off. */
function opens(group: readonly ComesOff[], reached: Reached, view: View): boolean {
  const parts = partsAndShafts(reached.drives, view);
  const tensioners = reached.drives.flatMap((drive) => drive.tensioners);
  return group.some(({ part }) => parts.has(part.name) || tensioners.includes(part.name));
}

function offSteps(reached: Reached, view: View, back: PutBack, names: Names): readonly BackStep[] {
  const steps: BackStep[] = [];
  const degrees = turnsBack(reached, view);
  const first = [
    ...reached.disconnect.map(({ name }) => `disconnect ${name}`),
    ...reached.drain.map(({ part }) => `drain ${part.name}`),
    ...(reached.drain.length === 0 ? [] : ['caution "Let it cool first: hot oil and coolant under pressure scald."']),
  ];
  if (first.length > 0) steps.push({ name: names.fresh('before-it-comes-off'), head: '', lines: first });
  const done = new Set<Part>();
  const hasCrankshaft = view.things.get(CRANKSHAFT)?.kind === 'part';
  let isSet = false;
  let isTurned = false;
  const loops = new Set(reached.drives.flatMap((drive) => drive.wraps.map(({ part }) => part)));
  for (const each of reached.off) {
    if (done.has(each.part)) continue;
    const group = groupWith(each, reached, back.together);
    for (const { part } of group) done.add(part);
    if (!isSet && opens(group, reached, view)) {
      isSet = true;
      const lines = [...toTheMarks(reached, view, back), ...reached.holdBack.map(({ name }) => `hold-back ${name}`)];
      if (lines.length > 0) steps.push({ name: names.fresh('set-to-the-marks'), head: '', lines });
    }
    const list = group.map(({ part, places }) => nameWith(part, places)).join(', ');
    steps.push({
      name: names.fresh(`take-off-${each.part.name}`),
      head: '',
      lines: [
        // Brought to where it goes in, so that nobody has to look for the mark when it does.
        ...(isSet || !hasCrankshaft ? [] : group.flatMap(({ part }) => setFor(part, CRANKSHAFT))),
        ...group.flatMap(({ undo }) => undo.map(({ words }) => `loosen ${words}`)),
        ...group.flatMap(({ part }) => back.lifts.get(part.name) ?? []),
        `remove ${list}${group.length > 1 ? ' together' : ''}`,
      ],
    });
    const isLoop = group.some(({ part }) => loops.has(part.name));
    if (degrees !== undefined && isLoop && !isTurned) {
      isTurned = true;
      const isPinned = back.pins.some((pin) => pin.names.includes(CRANKSHAFT));
      steps.push(turnBackStep(degrees, CRANKSHAFT, isPinned, view, names.fresh('turn-back')));
    }
  }
  return steps;
}

function comments(reached: Reached): string {
  const guessed = reached.off.filter(({ surety }) => surety === 'guess').map(({ part }) => part.name);
  const lines = [
    'Worked out backwards from how the spec puts the engine together: a check, not an instruction.',
    "The maker's manual comes first.",
    ...(guessed.length === 0
      ? []
      : [`Taken off only because they went on later: ${guessed.join(', ')}. Say clear-of in them, or covers.`]),
    ...(reached.look.length === 0
      ? []
      : [`Look whether one of these is in the way: ${reached.look.map((part) => part.name).join(', ')}.`]),
    ...reached.notes.map((each) => each.text),
    ...reached.mayLeak.map((part) => `See whether what is in ${part.name} has to be drained.`),
  ];
  return lines.map((line) => `# ${line}\n`).join('');
}

/** Bolts that may go back up to a length are looked at. */
function lengths(reached: Reached): readonly string[] {
  return reached.off.flatMap(({ undo }) =>
    undo.flatMap(({ fastener }) => {
      const reuse = fastener.statements.find((each) => each.kind === 'reuse');
      if (reuse?.kind !== 'reuse') return [];
      const length = fastener.placed.section.text.slice(reuse.length.start, reuse.length.end);
      return [`inspect ${fastener.name} for "length: not over ${length}"`];
    }),
  );
}

/** How the crankshaft is pinned before the drive is opened, where it is. */
const crankPin = ({ pins }: PutBack): string | undefined => pins.find(({ names }) => names.includes(CRANKSHAFT))?.text;

/** The job as a text in the canonical layout, for the variant of the view. */
export function reachJob(part: Part, view: View, file: string, options: ReachJobOptions = {}): string {
  const reached = reach(part, view, file, options.places);
  const names = namesOf(view);
  const back = putBack(reached, view, file);
  const [job, off, on, after] = [
    `get-at-${part.name}`,
    `off-for-${part.name}`,
    `back-for-${part.name}`,
    `run-after-${part.name}`,
  ].map(names.fresh);
  const offText = offSteps(reached, view, back, names).map(stepText).join('');
  const inspected = lengths(reached);
  const backSteps = [
    ...(inspected.length === 0 ? [] : [{ name: 'before-it-goes-back', head: '', lines: inspected }]),
    ...(turnsBack(reached, view) === undefined
      ? back.steps
      : broughtUpLast(back.steps, reached, CRANKSHAFT, crankPin(back))),
    ...whatIsLeft(reached, view, back),
  ];
  const again = (step: BackStep): string => stepText({ ...step, name: names.fresh(`again-${step.name}`) });
  const backText = backSteps.map(again).join('');
  const run = afterIt(reached, view, file, back);
  const runText = run.map(again).join('');
  const later = run.length > 0 ? [] : reached.retorque;
  const called = nameWith(part, reached.places);
  const title = (part.title === undefined ? called : `${part.title}${called.slice(part.name.length)}`)
    .replaceAll('\\', '\\\\')
    .replaceAll('"', '\\"');
  const follow = later.map(
    (fastener) =>
      `follow-on "Tighten ${fastener.name} again after: ${inWords(againAfter(fastener)).replaceAll('\\', '\\\\').replaceAll('"', '\\"')}."\n`,
  );
  const declarations = [
    `job ${job} "To get at ${title}"${options.spec === undefined ? '' : ` of ${options.spec}`} {\nbegins whole\nsequences ${off}, ${on}${run.length === 0 ? '' : `, ${after}`}\n${follow.join('')}}\n`,
    `sequence ${off} {\nphase teardown\n${offText}}\n`,
    `sequence ${on} {\nphase assemble\nafter ${off}\n${backText}}\n`,
    ...(run.length === 0 ? [] : [`sequence ${after} {\nphase run-in\n${runText}}\n`]),
  ];
  const wrapped =
    view.variant === undefined ? declarations : declarations.map((each) => `when ${view.variant} {\n${each}}\n`);
  const use = options.use === undefined ? '' : `use "${options.use}"\n\n`;
  const text = `${comments(reached)}${use}${wrapped.join('\n')}`;
  const laidOut = formatText(text);
  return laidOut.kind === 'unchanged' ? text : laidOut.text;
}
