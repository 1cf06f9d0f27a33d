// The picture that README and walkthrough show is the one that the sample gives today. Where it is not: npm run pictures.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { pictureOf } from '../../server/pictures/catalog.ts';
import { pictureFile } from '../../server/pictures/picture-file.tsx';
import { analyseText } from '../annotated.ts';

const root = join(import.meta.dirname, '../..');
const read = (path: string): string => readFileSync(join(root, path), 'utf8');

test('the timing face of the walkthrough', () => {
  const common = { 'common-fasteners.fettle': read('samples/common-fasteners.fettle') };
  const { views } = analyseText(read('samples/inline-four.fettle'), common);
  const [view] = views;
  const made = view === undefined ? undefined : pictureOf('timing-face', { view, views });
  expect(made === undefined ? '' : pictureFile(made)).toBe(read('client/walkthrough/timing-face.svg'));
});

test('both pictures are shown, with words for those who cannot see them, and are small', () => {
  for (const name of ['timing-face.svg', 'bench-page.png']) {
    expect(read('README.md')).toMatch(new RegExp(`!\\[[^\\]]{20,}\\]\\(client/walkthrough/${name}\\)`));
    expect(read('client/walkthrough/6-bench.md')).toMatch(new RegExp(`!\\[[^\\]]{20,}\\]\\(${name}\\)`));
    expect(readFileSync(join(root, 'client/walkthrough', name)).length).toBeLessThan(80_000);
  }
});
