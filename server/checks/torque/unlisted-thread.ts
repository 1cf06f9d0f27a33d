// A thread that is in no table: worked out from its diameter and pitch, but perhaps a slip.
import { told } from '../../../grammar/told.ts';
import { parseThread } from '../../mechanics/threads.ts';
import type { ThingCheck } from '../check.ts';
import page from './unlisted-thread.md';

export const unlistedThread: ThingCheck<'fastener'> = {
  code: 'torque/unlisted-thread',
  severity: 'information',
  scope: 'thing',
  of: ['fastener'],
  page,
  run(thing, _view, report) {
    const statement = thing.statements.find((each) => each.kind === 'thread');
    const thread = statement?.kind === 'thread' ? parseThread(statement.designation) : undefined;
    if (statement?.kind !== 'thread' || thread === undefined || thread.listed) return;
    // Of an inch thread the usual one is that of its size and series: 3/8 BSF has 20 to the inch.
    const size = /^([^-]+)-\d+ (\w+)$/.exec(thread.designation);
    const named = size === null ? undefined : parseThread(`${size[1]} ${size[2]}`);
    const coarse = thread.family === 'metric' ? parseThread(`M${thread.diameter}`) : named?.listed ? named : undefined;
    const usual = coarse === undefined ? told.nothing : told` The usual one is ${coarse.designation}.`;
    report(
      thing.placed,
      statement.designationSpan,
      told`${thread.designation} is in no table of threads. Its stress area is worked out from diameter and pitch: ${thread.stressArea.toFixed(1)} mm².${usual}`,
    );
  },
};
