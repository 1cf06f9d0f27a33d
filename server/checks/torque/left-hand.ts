// A left-hand thread, said at each step that turns it, so that nobody leans the wrong way.
import { told } from '../../../grammar/told.ts';
import { parseThread } from '../../mechanics/threads.ts';
import type { ThingCheck } from '../check.ts';
import page from './left-hand.md';

const TIGHTENS = ['tighten', 'snug'];

export const leftHand: ThingCheck<'step'> = {
  code: 'torque/left-hand',
  severity: 'information',
  scope: 'thing',
  of: ['step'],
  page,
  run(thing, view, report) {
    const said = new Set<string>();
    for (const action of thing.statements) {
      if (action.kind !== 'action' || !(TIGHTENS.includes(action.word) || action.word === 'loosen')) continue;
      for (const target of action.targets) {
        const fastener = view.things.get(target.owner.text);
        if (
          fastener?.kind !== 'fastener' ||
          fastener.thread === undefined ||
          said.has(fastener.name) ||
          parseThread(fastener.thread)?.leftHand !== true
        )
          continue;
        said.add(fastener.name);
        const tightens = TIGHTENS.includes(action.word);
        report(
          thing.placed,
          target.owner,
          told`${told.thing(fastener)} has a left-hand thread: it ${tightens ? told`tightens anticlockwise` : told`comes loose clockwise`}.`,
        );
      }
    }
  },
};
