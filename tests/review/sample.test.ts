// The worked example: two revisions of one engine by two shops, clean and laid out, and what a review says of them.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { formatText } from '../../grammar/printer.ts';
import { reviewSpecs } from '../../server/review/review.ts';
import { analyseText } from '../annotated.ts';

const folder = join(import.meta.dirname, '../../samples/review');
const read = (name: string): string => readFileSync(join(folder, name), 'utf8');

test.each(readdirSync(folder).filter((name) => name.endsWith('.fettle')))('%s is clean and laid out', (name) => {
  expect(analyseText(read(name)).findings).toEqual([]);
  expect(formatText(read(name))).toEqual({ kind: 'formatted', text: read(name) });
});

test('what changed from the first to the second, and nothing else', () => {
  const changes = reviewSpecs(analyseText(read('brindle-pony-1.fettle')), analyseText(read('brindle-pony-2.fettle')));
  const said = changes.map(({ weight, kind, what, variants }) =>
    [weight, kind, what.replace('sequence.long-block.', ''), ...(variants ?? [])].join(' '),
  );
  expect(said).toEqual([
    'critical changed fastener.head-bolt.torque',
    'critical changed limit.main-oil-clearance.within',
    'critical removed step.fit-timing-set.caution',
    'matters added part.front-cover.number marine',
    'matters changed fastener.cover-bolt.count',
    'matters changed limit.crank-end-play.within',
    'matters moved step.fit-camshaft',
    'matters added step.fit-timing-set.tool',
    'matters added step.prove-timing.hold-point',
    'wording changed spec.revision',
    'wording added spec.source.bulletin',
    'wording changed spec.source.shop',
    'wording changed part.thrust-plate.name',
    'wording changed fastener.head-bolt.torque.per',
    'wording changed step.fit-camshaft.note',
  ]);
});
