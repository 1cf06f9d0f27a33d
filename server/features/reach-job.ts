// The work to get at a part, written as a job with its two sequences: off, and back on with every torque and proof. What comes off
// is worked out in reach.ts; the statements that put it back are taken from put-back.ts as the spec has them.
import { formatText } from '../../grammar/printer.ts';
import type { Drive, Part, View } from '../model/view.ts';
import { turningParts } from './drive-parts.ts';
import { type BackStep, putBack, stepText } from './put-back.ts';
import { type ComesOff, type Reached, reach } from './reach.ts';

export interface ReachJobOptions {
  /** The name of the spec that the job is of. */
  readonly spec?: string;
  /** The file to use, as it is written in a `use`; without it the job belongs into the spec's own file. */
  readonly use?: string;
}

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

/** The crankshaft brought to where the marks of the drives agree, while they are still whole. */
function crankLines(drives: readonly Drive[], view: View): readonly string[] {
  const shaft = view.things.get('crankshaft')?.kind === 'part' ? 'crankshaft' : undefined;
  const agree = drives.find((drive) => drive.marksAgree !== undefined)?.marksAgree;
  if (shaft === undefined || agree === undefined) return [];
  return [`set ${shaft} at tdc ${agree.cylinder}${agree.stroke === undefined ? '' : ` on ${agree.stroke}`}`];
}

/** Parts that come off in one action: the part itself, or all that go on and off together. */
function groupWith(each: ComesOff, reached: Reached, together: readonly (readonly string[])[]): readonly ComesOff[] {
  const group = together.find((names) => names.includes(each.part.name));
  return group === undefined ? [each] : reached.off.filter(({ part }) => group.includes(part.name));
}

function offSteps(reached: Reached, view: View, back: ReturnType<typeof putBack>, names: Names): readonly BackStep[] {
  const steps: BackStep[] = [];
  const first = [
    ...reached.drain.map((part) => `drain ${part.name}`),
    ...crankLines(reached.drives, view),
    ...(back.pinned.length === 0 ? [] : [`pin ${back.pinned.join(', ')}`]),
  ];
  if (first.length > 0) steps.push({ name: names.fresh('before-it-comes-off'), head: '', lines: first });
  const done = new Set<Part>();
  const held = new Set<Part>();
  for (const each of reached.off) {
    if (done.has(each.part)) continue;
    const group = groupWith(each, reached, back.together);
    const holding = reached.holdBack.filter(
      (part) => !held.has(part) && back.released.has(part.name) && needsHolding(part, group, reached.drives),
    );
    for (const part of holding) held.add(part);
    for (const { part } of group) done.add(part);
    const list = group.map(({ part }) => part.name).join(', ');
    steps.push({
      name: names.fresh(`take-off-${each.part.name}`),
      head: '',
      lines: [
        ...holding.map((part) => `hold-back ${part.name}`),
        ...group.flatMap(({ undo }) => undo.map((fastener) => `loosen ${fastener.name}`)),
        `remove ${list}${group.length > 1 ? ' together' : ''}`,
      ],
    });
  }
  return steps;
}

/** A tensioner is held back before it, or anything that it presses on, comes off. */
function needsHolding(part: Part, group: readonly ComesOff[], drives: readonly Drive[]): boolean {
  const pressedOn = drives.filter((drive) => drive.tensioners.includes(part.name)).flatMap(turningParts);
  return group.some((each) => each.part === part || pressedOn.includes(each.part.name));
}

function comments(reached: Reached): string {
  const lines = [
    'Worked out backwards from how the spec puts the engine together: a check, not an instruction.',
    "The maker's manual comes first.",
    ...(reached.look.length === 0
      ? []
      : [`Look whether one of these is in the way: ${reached.look.map((part) => part.name).join(', ')}.`]),
    ...reached.mayLeak.map((part) => `See whether what is in ${part.name} has to be drained.`),
  ];
  return lines.map((line) => `# ${line}\n`).join('');
}

/** The job as a text in the canonical layout, for the variant of the view. */
export function reachJob(part: Part, view: View, file: string, options: ReachJobOptions = {}): string {
  const reached = reach(part, view, file);
  const names = namesOf(view);
  const back = putBack(reached, view, file);
  const [job, off, on] = [`get-at-${part.name}`, `off-for-${part.name}`, `back-for-${part.name}`].map(names.fresh);
  const offText = offSteps(reached, view, back, names).map(stepText).join('');
  const backText = back.steps.map((step) => stepText({ ...step, name: names.fresh(`again-${step.name}`) })).join('');
  const called = part.title ?? part.name;
  const declarations = [
    `job ${job} "To get at ${called.replaceAll('"', '\\"')}"${options.spec === undefined ? '' : ` of ${options.spec}`} {\nbegins whole\nsequences ${off}, ${on}\n}\n`,
    `sequence ${off} {\nphase teardown\n${offText}}\n`,
    `sequence ${on} {\nphase assemble\nafter ${off}\n${backText}}\n`,
  ];
  const wrapped =
    view.variant === undefined ? declarations : declarations.map((each) => `when ${view.variant} {\n${each}}\n`);
  const use = options.use === undefined ? '' : `use "${options.use}"\n\n`;
  const text = `${comments(reached)}${use}${wrapped.join('\n')}`;
  const laidOut = formatText(text);
  return laidOut.kind === 'unchanged' ? text : laidOut.text;
}
