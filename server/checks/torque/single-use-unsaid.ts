// A bolt that is tightened by an angle, and nothing says whether it may be used again. A plug is turned in, not stretched.
import { told } from '../../../grammar/told.ts';
import { nameSpan, type ThingCheck } from '../check.ts';
import { insert } from '../support.ts';
import page from './single-use-unsaid.md';

export const singleUseUnsaid: ThingCheck<'fastener'> = {
  code: 'torque/single-use-unsaid',
  severity: 'information',
  scope: 'thing',
  of: ['fastener'],
  page,
  run(thing, _view, report) {
    if (
      thing.broken ||
      thing.singleUse ||
      thing.joint === 'plug' ||
      !thing.stages.some((stage) => stage.kind === 'angle')
    )
      return;
    if (thing.statements.some((each) => each.word === 'reuse')) return;
    const body = thing.declaration.body;
    report(
      thing.placed,
      nameSpan(thing.placed),
      told`${told.thing(thing)} is tightened by an angle, which may stretch it for good. Say whether it may go back: single-use, or reuse to a length.`,
      {
        fixes:
          body === undefined
            ? []
            : [insert(thing.placed, body.start + 1, '\n  single-use', told`Say that it is single-use`)],
      },
    );
  },
};
