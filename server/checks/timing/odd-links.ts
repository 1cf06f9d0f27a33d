// A chain with an odd number of links.
import { told } from '../../../grammar/told.ts';
import { oddLinks } from '../../mechanics/chain.ts';
import type { ThingCheck } from '../check.ts';
import page from './odd-links.md';

export const oddLinksCheck: ThingCheck<'part'> = {
  code: 'timing/odd-links',
  severity: 'warning',
  scope: 'thing',
  of: ['part'],
  page,
  run(thing, _view, report) {
    if (thing.links === undefined || !oddLinks(thing.links)) return;
    const statement = thing.statements.find((each) => each.word === 'links');
    if (statement?.kind === 'number')
      report(
        thing.placed,
        statement.number,
        told`${told.thing(thing)} has ${thing.links} links. A chain has inner and outer links in turn, so their number is even unless it has a cranked link. Count them again.`,
      );
  },
};
