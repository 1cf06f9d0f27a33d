// A fastener that nobody says how tight.
import { told } from '../../../grammar/told.ts';
import { nameSpan, type ThingCheck } from '../check.ts';
import { insert } from '../support.ts';
import page from './missing.md';

export const missing: ThingCheck<'fastener'> = {
  code: 'torque/missing',
  severity: 'error',
  scope: 'thing',
  of: ['fastener'],
  page,
  run(thing, _view, report) {
    const said = thing.statements.some((each) => ['torque', 'stretch'].includes(each.word));
    if (said || thing.placed.declaration.broken || thing.joint === 'stud') return;
    const body = thing.declaration.body;
    const fixes =
      body === undefined
        ? []
        : [insert(thing.placed, body.end - 1, '  torque tight\n', told`Write torque tight: the maker gives no figure`)];
    report(
      thing.placed,
      nameSpan(thing.placed),
      told`${told.thing(thing)} has no torque. Say how tight: torque with its stages, stretch, or torque hand-tight.`,
      { missing: true, fixes },
    );
  },
};
