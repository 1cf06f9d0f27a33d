// How tight each fastener is when a step of a job comes to it: which stages it has had, and whether it is tightened again later. Followed
// from step to step of the job alone; what is wrong with it is the rehearsal's to say.
import type { Action, Statement } from '../../grammar/tree.ts';
import type { Fastener, Sequence, View } from '../model/view.ts';
import type { Tightened } from './tightening-said.ts';

/** By statement that tightens and the fastener that it names. */
export type TightenedBefore = ReadonlyMap<Statement, ReadonlyMap<string, Tightened>>;

const UNDOES: ReadonlySet<string> = new Set(['loosen', 'remove', 'renew']);

function fastenersOf(action: Action, view: View): readonly Fastener[] {
  return action.targets.flatMap((target) => {
    const thing = view.things.get(target.owner.text);
    return thing?.kind === 'fastener' ? [thing] : [];
  });
}

/** Follows the fasteners through the sequences of a job. */
export function tightenedBefore(sequences: readonly Sequence[], view: View): TightenedBefore {
  const stage = new Map<string, number>();
  const found = new Map<Statement, ReadonlyMap<string, Tightened>>();
  for (const step of sequences.flatMap((sequence) => sequence.steps))
    for (const each of step.statements) {
      if (each.kind !== 'action') continue;
      if (UNDOES.has(each.word)) for (const target of each.targets) stage.delete(target.owner.text);
      if (each.word !== 'tighten') continue;
      const here = new Map<string, Tightened>();
      for (const fastener of fastenersOf(each, view)) {
        const last = Math.max(1, fastener.stages.length);
        const before = stage.get(fastener.name) ?? 0;
        here.set(fastener.name, {
          before: before >= last ? 0 : before,
          isAgain: each.again === true || before >= last,
        });
        stage.set(fastener.name, Math.max(before, each.stage?.value ?? last));
      }
      found.set(each, here);
    }
  return found;
}
