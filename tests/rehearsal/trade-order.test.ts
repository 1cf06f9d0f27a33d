// What the trade knows without being told: faults put into the samples, each with the one finding that it must give. Common practice, no
// source.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { found } from './work.ts';

const root = join(import.meta.dirname, '../..');
const read = (name: string): string => readFileSync(join(root, `samples/${name}.fettle`), 'utf8');
const files = { 'common-fasteners.fettle': read('common-fasteners'), 'vee-six.fettle': read('vee-six') };

type Edit = (text: string) => string;

/** The line that begins so, with those that go on from it. */
function lineOf(text: string, begins: string, from = 0): string {
  const at = text.indexOf(`\n    ${begins}`, from);
  if (at < 0) throw new Error(`no line ${begins}`);
  return text.slice(at + 1, text.indexOf('\n', at + 1) + 1);
}

/** Takes the first such line out; `after`: puts it behind the first line after it that begins so. */
const moved =
  (begins: string, after?: string): Edit =>
  (text) => {
    const at = text.indexOf(`\n    ${begins}`) + 1;
    const line = lineOf(text, begins);
    const without = text.slice(0, at) + text.slice(at + line.length);
    if (after === undefined) return without;
    const behind = lineOf(without, after, at - 1);
    const place = without.indexOf(behind, at - 1) + behind.length;
    return without.slice(0, place) + line + without.slice(place);
  };

const wrong = (sample: string, edit: Edit): readonly string[] => found(edit(read(sample)), files);

describe('what shuts another part out', () => {
  test.each<[string, Edit, string]>([
    ['inline-four', moved('fit main-shell upper', 'fit crankshaft'), 'covered: fit main-shell upper into block'],
    ['inline-four', moved('fit crankshaft into', 'fit main-cap onto'), 'covered: fit crankshaft into block'],
    ['vee-six', moved('fit main-shell lower', 'fit main-cap onto'), 'covered: fit main-shell lower into main-cap'],
    ['inline-four', moved('fit connecting-rod', 'fit rod-cap'), 'covered: fit connecting-rod onto crankshaft'],
    ['inline-four', moved('fit piston onto', 'fit piston-pin'), 'covered: fit piston onto connecting-rod'],
    ['inline-four', moved('fit stem-seal', 'fit valve-spring'), 'covered: fit stem-seal onto cylinder-head'],
    ['flat-twin', moved('fit barrel-gasket', 'fit barrel onto'), 'covered: fit barrel-gasket onto right-case'],
    ['vee-six', moved('fit bucket', 'fit right-exhaust-camshaft'), 'covered: fit bucket into cylinder-head'],
  ])('%s: %#', (sample, edit, finding) => {
    expect(wrong(sample, edit)).toEqual([`sequence/${finding}`]);
  });
});

describe('measured before it is tight', () => {
  test.each<[string, Edit, string]>([
    ['inline-four', moved('tighten main-bolt', 'measure crank-end-play'), 'measure crank-end-play with "dial gauge"'],
    ['inline-four', moved('tighten cam-plate-bolt', 'measure cam-end-play'), 'measure cam-end-play with "dial gauge"'],
    ['flat-twin', moved('tighten rocker-bolt', 'measure valve-lash'), 'adjust valve-lash by "screw and locknut"'],
  ])('%s: %#', (sample, edit, finding) => {
    expect(wrong(sample, edit)).toEqual([`sequence/measured-early: ${finding}`]);
  });
});

describe('undone though never done, and what a run asks for', () => {
  test.each<[string, Edit, string]>([
    ['inline-four', moved('hold-back chain-tensioner'), 'not-held-back: release chain-tensioner'],
    ['vee-six', moved('pin crankshaft'), 'nothing-to-undo: unpin crankshaft'],
    ['vee-six-belt', moved('disconnect earth-strap'), 'nothing-to-undo: connect earth-strap'],
    ['vee-six-belt', moved('hold-back belt-tensioner'), 'not-held-back: remove timing-belt'],
    ['vee-six-belt', moved('loosen damper-bolt'), 'still-fastened: remove crank-damper'],
    ['vee-six', moved('drain sump'), 'filled-twice: fill sump with engine-oil 5.4 L'],
    ['vee-six', moved('fill block with coolant'), 'ran-dry: run engine at 1800 rpm for 15 min'],
    ['inline-four', moved('fit oil-filter'), 'never-fitted: lubricate oil-filter with engine-oil'],
    [
      'inline-four',
      moved('tighten rod-bolt', 'rotate crankshaft'),
      'loose-when-rotated: rotate crankshaft 180 deg clockwise',
    ],
  ])('%s: %#', (sample, edit, finding) => {
    expect(wrong(sample, edit)).toEqual([`sequence/${finding}`]);
  });
  test('nuts that want another turn after the first run', () => {
    const text = read('inline-four');
    const at = text.indexOf('wait 4 h\n    tighten manifold-nut\n');
    const without = text.slice(0, at) + text.slice(at).replace('    tighten manifold-nut\n', '');
    expect(found(without, files)).toEqual(['sequence/not-retorqued: tighten manifold-nut']);
  });
});
