// A thread that is in no table: worked out from its diameter and pitch, but perhaps a slip.
import { told } from '../../../grammar/told.ts';
import { parseThread } from '../../mechanics/threads.ts';
import type { ThingCheck } from '../check.ts';
import page from './unlisted-thread.md';

export const unlistedThread: ThingCheck = {
  code: 'torque/unlisted-thread',
  severity: 'information',
  scope: 'thing',
  page,
  run(thing, _view, report) {
    if (thing.kind !== 'fastener') return;
    const statement = thing.statements.find((each) => each.kind === 'thread');
    const thread = statement?.kind === 'thread' ? parseThread(statement.designation) : undefined;
    if (statement?.kind !== 'thread' || thread === undefined || thread.listed) return;
    const coarse = thread.family === 'metric' ? parseThread(`M${thread.diameter}`) : undefined;
    const usual = coarse === undefined ? told.nothing : told` The usual one is ${coarse.designation}.`;
    report(
      thing.placed,
      statement.designationSpan,
      told`${thread.designation} is in no table of threads. Its stress area is worked out from diameter and pitch: ${thread.stressArea.toFixed(1)} mm².${usual}`,
    );
  },
};
