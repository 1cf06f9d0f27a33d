// The picture in a hover, for the editor that shows them: of the thing, and of a step as the engine stands after it.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { hover } from '../../server/features/hover.ts';
import { analyseText } from '../annotated.ts';

const sample = (name: string): string => readFileSync(join(import.meta.dirname, '../../samples', name), 'utf8');
const text = sample('inline-four.fettle');
const analysis = analyseText(text, { 'common-fasteners.fettle': sample('common-fasteners.fettle') });

function pictureAt(written: string): string | undefined {
  const offset = text.indexOf(written) + written.length - 2;
  const found = hover(analysis, offset, true)?.markdown ?? '';
  const [, address] = /!\[[^\]]*\]\(data:image\/svg\+xml;base64,([^|)]*)\|width=\d+\)/.exec(found) ?? [];
  return address === undefined ? undefined : Buffer.from(address, 'base64').toString('utf8');
}

test.each([
  ['drive cam-drive', 'Timing face: Camshaft drive'],
  ['step prove-timing', 'link 31 away from its mark'],
  ['fastener head-bolt', 'Tightening order: Cylinder head bolt'],
  ['part top-ring', 'Ring gaps'],
  ['part piston', 'Which way round: piston'],
  ['valve-timing tourer-grind', 'Valve events'],
  ['limit main-oil-clearance', 'Limit: main oil clearance'],
])('%s: %s', (written, said) => {
  expect(pictureAt(written)).toContain(said);
});

test('none for another editor, and none where there is nothing to draw', () => {
  expect(hover(analysis, text.indexOf('drive cam-drive') + 8)?.markdown).not.toContain('data:image');
  expect(pictureAt('step wash-block')).toBeUndefined();
  expect(pictureAt('part sump-gasket')).toBeUndefined();
});
