// How the engine stands from step to step, each by what is otherwise than at the one before: what a page needs to show any moment.
import type { Stands } from '../rehearsal/stands.ts';
import type { StandsChange } from './bench-job.ts';

/** What is otherwise than at the step before. */
export function standsChanges(all: readonly Stands[]): readonly StandsChange[] {
  let last: Stands | undefined;
  return all.map((stands) => {
    const before = last;
    last = stands;
    const gone = [...(before?.coveredBy.keys() ?? [])].filter((name) => !stands.coveredBy.has(name));
    return {
      crank: stands.crank,
      drives: [...stands.drives].map(([name, each]) => ({
        name,
        whole: each.whole,
        turned: [...each.turned],
        links: each.links,
      })),
      on: [...stands.on].filter(([name, on]) => before?.on.get(name) !== on),
      coveredBy: [
        ...[...stands.coveredBy].filter(([name, cover]) => before?.coveredBy.get(name) !== cover),
        ...gone.map((name) => [name, ''] as const),
      ],
      heldBack: [...stands.heldBack],
      pinned: [...stands.pinned],
    };
  });
}
