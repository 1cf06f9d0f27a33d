// Camshafts that come out of a head that stays on, where valves reach the pistons: the crankshaft is turned back before, so that no piston
// stands near the top while valves open and close, and comes up again when the camshafts stand at their marks. Common practice, no source.
import { isA } from '../model/trade-names.ts';
import type { View } from '../model/view.ts';
import { turnBackFromMarks } from '../rehearsal/valve-contact.ts';
import type { BackStep } from './put-back.ts';
import type { Reached } from './reach.ts';

/** Degrees that the crankshaft is turned back from where the marks of the drives agree; undefined where it need not be, or can't. */
export function turnsBack(reached: Reached, view: View): number | undefined {
  if (view.engine?.interference !== true) return undefined;
  const off = reached.off.map(({ part }) => part);
  const drive = reached.drives.find((each) => each.marksAgree !== undefined);
  if (
    drive === undefined ||
    !off.some((part) => isA(part, 'camshaft')) ||
    off.some((part) => isA(part, 'head', 'piston'))
  )
    return undefined;
  // With pushrods the valve gear is off by then, and no camshaft moves a valve.
  if (off.some((part) => isA(part, 'pushrod', 'rocker', 'rocker-support'))) return undefined;
  return turnBackFromMarks(view, drive);
}

/** The step that turns it back, for behind the one that opens the drive. */
export function turnBackStep(degrees: number, shaft: string, isPinned: boolean, view: View, name: string): BackStep {
  const way = view.engine?.rotation === 'anticlockwise' ? 'clockwise' : 'anticlockwise';
  return {
    name,
    head: '',
    lines: [
      ...(isPinned ? [`unpin ${shaft}`] : []),
      `rotate ${shaft} ${Math.round(degrees)} deg ${way}`,
      'note "No piston near the top while the camshafts are out."',
    ],
  };
}

/** The steps that put it back, with the crankshaft brought up only when the last camshaft is set. */
export function broughtUpLast(
  steps: readonly BackStep[],
  reached: Reached,
  shaft: string,
  pin: string | undefined,
): readonly BackStep[] {
  const shafts = reached.off.filter(({ part }) => isA(part, 'camshaft')).map(({ part }) => part.name);
  const sets = (line: string): boolean => shafts.some((name) => line.startsWith(`set ${name} `));
  const pins = (line: string): boolean => line.startsWith('pin ') && shafts.some((name) => line.includes(name));
  const at = steps.findLastIndex(({ lines }) => lines.some(sets));
  const step = steps[at];
  if (step === undefined) return steps;
  const isCrank = (line: string): boolean => line.startsWith(`set ${shaft} `) || line.startsWith(`confirm ${shaft}.`);
  const upTo = [...steps.slice(0, at), step];
  const moved = [...new Set(upTo.flatMap(({ lines }) => lines.filter(isCrank)))];
  const without = upTo.map((each) => ({ ...each, lines: each.lines.filter((line) => !isCrank(line)) }));
  const own = without[at]?.lines ?? [];
  const behind = own.findLastIndex((line) => sets(line) || pins(line)) + 1;
  const repin = pin === undefined || moved.length === 0 ? [] : [pin];
  const lines = [...own.slice(0, behind), ...moved, ...repin, ...own.slice(behind)];
  return [...without.slice(0, at).filter((each) => each.lines.length > 0), { ...step, lines }, ...steps.slice(at + 1)];
}
