// Drives are put in line by their marks, and have to be proved.
import { told } from '../../../grammar/told.ts';
import { compare } from '../../mechanics/exact.ts';
import type { ActionRule } from '../action-rule.ts';
import { align as alignAll } from '../confirm.ts';
import { cycleOf } from '../crank-angle.ts';
import type { DriveState } from '../drive-state.ts';
import { sayOf } from '../left.ts';
import { sayIfProofIsVoid } from '../proof.ts';
import { isComplete, type State, sayAt } from '../state.ts';

export const align: ActionRule = { carryOut: alignAll, atEnd: drivesLeft };

/** Gears whose idler comes back only after many turns, turned as far as a proof goes and not looked at: the crankshaft and camshaft can be judged. */
function sayIfNotLookedAt(state: State, { drive, provedBy, looked, aligned, turned, disturbedBy }: DriveState): void {
  if (provedBy !== undefined || looked || !aligned || disturbedBy === undefined || state.running.hasRun) return;
  if (drive.marksAgree === undefined || compare(turned, cycleOf(state.view)) < 0 || state.unsure) return;
  const turns = state.view.engine?.cycle === 'two-stroke' ? told`one turn` : told`two turns`;
  sayAt(
    state,
    'sequence/timing-not-proved',
    disturbedBy.step.placed,
    disturbedBy.span,
    told`${told.thing(drive)} is worked on here and turned after it, and no step looks at its marks: those of the crankshaft and the camshaft agree again after ${turns}. Say confirm ${told.thing(drive)} by marks.`,
    { missing: true, severity: 'information' },
  );
}

function drivesLeft(state: State): void {
  for (const each of state.drives.values()) {
    // Of a drive that this job has nothing to do with nothing of the spec is read.
    if ((!each.proved && each.disturbedBy === undefined) || each.saidNotWhole) continue;
    if (each.drive.broken || !isComplete(state, each)) continue;
    if (each.proved) {
      sayIfProofIsVoid(state, each);
      sayIfNotLookedAt(state, each);
      continue;
    }
    // A tensioner that is still held back is the finding; the proof comes after it.
    if (each.drive.tensioners.some((name) => state.parts.get(name)?.heldBack !== undefined)) continue;
    const turns = state.view.engine?.cycle === 'two-stroke' ? told`one turn` : told`two turns`;
    sayOf(
      state,
      'sequence/timing-not-proved',
      each.drive,
      each.disturbedBy,
      told`The timing is never proved after the last work on ${told.thing(each.drive)}. Turn the crankshaft ${turns} by hand, then confirm ${told.thing(each.drive)} by marks.`,
    );
  }
}
