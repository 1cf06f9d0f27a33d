// What comes off to get at a part, as text for a terminal. What that is, is worked out in reach.ts.
import { workOutDrive } from '../model/drive-sums.ts';
import type { View } from '../model/view.ts';
import type { ComesOff, Reached } from './reach.ts';

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

function offLine({ part, why, undo }: ComesOff, i: number): string {
  const bolts = undo.length === 0 ? '' : `; undo ${undo.map((fastener) => fastener.name).join(', ')}`;
  return `${String(i + 1).padStart(2)}. ${named(part)}${why === '' ? '' : `: ${why}`}${bolts}`;
}

/** The whole answer, in the order of the work: what to do first, what comes off, what must be new, what is proved again. */
export function reachText(reached: Reached, view: View): string {
  const { part, off, look, holdBack, fresh, drives, limits, drain, mayLeak, again } = reached;
  const variant = view.variant === undefined ? '' : ` (${view.variant})`;
  return [
    `To get at ${named(part)}${variant}\n`,
    list('First', [
      ...drain.map((each) => `drain ${each.name}; it is filled again at the end`),
      ...mayLeak.map((each) => `see whether what is in ${each.name} has to be drained`),
      ...holdBack.map((each) => `hold back ${each.name}; it is let go again at the end`),
    ]),
    list('Comes off, in this order', off.map(offLine)),
    list('Fitted after it: look whether one of these is in the way', wrapped(look.map((each) => each.name))),
    list(
      'Must be new when it goes back',
      fresh.map((each) => named(each)),
    ),
    list('Must be proved again', [
      ...drives.map((drive) => {
        const back = workOutDrive(drive, view).linksReturn;
        const links =
          drive.markedLinks.length === 0
            ? ''
            : `; the marked links serve only to put it on${back === undefined ? '' : ` (back after ${back} turns)`}`;
        return `${named(drive)}: by its marks, after whole cycles turned by hand${links}`;
      }),
      ...limits.map((limit) => `${named(limit)}: measure`),
    ]),
    list(
      'Goes back in these steps',
      again.map(({ sequence, step }) => `${sequence.name}: ${step.title ?? step.name}`),
    ),
    "\nWorked out backwards from how the spec puts the engine together: a check, not an instruction. The maker's manual comes first.\n",
  ].join('');
}
