// A left-hand thread, said at each step that turns it, so that nobody leans the wrong way.
import { told } from '../../../grammar/told.ts';
import { parseThread } from '../../mechanics/threads.ts';
import type { Fastener, Step } from '../../model/view.ts';
import type { Report, ThingCheck } from '../check.ts';
import { inWords } from '../support.ts';
import page from './left-hand.md';

const TIGHTENS = ['tighten', 'snug'];

const LEFT_HAND = /\bleft[- ]hand(?:ed)?(?: thread)?\b|\blinksgewinde\b/i;

const isLeftHand = ({ thread }: Fastener): boolean => thread !== undefined && parseThread(thread)?.leftHand === true;

/** A note that speaks of a left-hand thread in a step none of whose fasteners has one. */
function sayNote(step: Step, turned: readonly Fastener[], report: Report): void {
  if (turned.length === 0 || turned.some((each) => each.thread === undefined || isLeftHand(each))) return;
  const note = step.statements.find(
    (each) =>
      each.kind === 'text' && (each.word === 'note' || each.word === 'caution') && LEFT_HAND.test(each.text.value),
  );
  if (note?.kind !== 'text') return;
  report(
    step.placed,
    note.text,
    told`A left-hand thread is spoken of here, and ${inWords(turned.map((each) => told.thing(each)))} ${turned.length === 1 ? told`has none` : told`have none`} as the spec tells. Say left-hand behind the thread that is meant.`,
  );
}

export const leftHand: ThingCheck<'step'> = {
  code: 'torque/left-hand',
  severity: 'information',
  scope: 'thing',
  of: ['step'],
  page,
  run(thing, view, report) {
    const said = new Set<string>();
    const turned = new Set<Fastener>();
    for (const action of thing.statements) {
      if (action.kind !== 'action' || !(TIGHTENS.includes(action.word) || action.word === 'loosen')) continue;
      for (const target of action.targets) {
        const fastener = view.things.get(target.owner.text);
        if (fastener?.kind === 'fastener') turned.add(fastener);
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
    sayNote(thing, [...turned], report);
  },
};
