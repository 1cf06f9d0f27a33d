// What comes off to get at a part, held against how a rebuilder would take the sample engines apart.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type Reached, reach } from '../../server/features/reach.ts';
import { reachText } from '../../server/features/reach-text.ts';
import { analyseText } from '../annotated.ts';

const root = join(import.meta.dirname, '../..');
const read = (path: string): string => readFileSync(join(root, path), 'utf8');

const viewOf = (text: string, files: Readonly<Record<string, string>> = {}, variant?: string) => {
  const analysis = analyseText(text, files);
  const view = analysis.views.find((each) => each.variant === variant || variant === undefined);
  if (view === undefined) throw new Error('no view');
  return { view, file: analysis.file.file };
};
const tallboy = viewOf(read('samples/inline-four.fettle'), {
  'common-fasteners.fettle': read('samples/common-fasteners.fettle'),
});

function at(name: string, { view, file } = tallboy): Reached {
  const part = view.things.get(name);
  if (part?.kind !== 'part') throw new Error(`no part ${name}`);
  return reach(part, view, file);
}
const names = (things: readonly { readonly name: string }[]): readonly string[] => things.map((thing) => thing.name);
const off = (reached: Reached): readonly string[] => names(reached.off.map((each) => each.part));

describe('a camshaft', () => {
  const camshaft = at('camshaft');

  test('cover, its gasket, what runs the camshaft, its plate, then the camshaft', () => {
    expect(off(camshaft)).toEqual([
      'timing-cover',
      'timing-cover-gasket',
      'cam-sprocket',
      'crank-sprocket',
      'timing-chain',
      'cam-plate',
      'camshaft',
    ]);
  });

  test('each has its reason and its bolts; the tensioner is held back first', () => {
    expect(camshaft.off[0]).toMatchObject({ why: 'covers cam-plate', undo: [{ name: 'timing-cover-bolt' }] });
    expect(names(camshaft.holdBack)).toEqual(['chain-tensioner']);
  });

  test('what must be new, and what is proved again', () => {
    expect(names(camshaft.fresh)).toEqual(expect.arrayContaining(['timing-chain', 'timing-cover-gasket']));
    expect(names(camshaft.drives)).toEqual(['cam-drive']);
    expect(names(camshaft.limits)).toEqual(['cam-end-play']);
    expect(names(camshaft.again.map(({ step }) => step))).toEqual([
      'fit-camshaft',
      'fit-timing-set',
      'let-tensioner-go',
      'fit-timing-cover',
    ]);
  });
});

test('a head gasket: all that sits on the head, the head, new bolts, and lash set again', () => {
  const gasket = at('head-gasket');
  expect(off(gasket).slice(-2)).toEqual(['cylinder-head', 'head-gasket']);
  expect(off(gasket)).toEqual(
    expect.arrayContaining(['rocker-cover', 'rocker-shaft', 'manifold', 'thermostat-housing']),
  );
  // Valves were built into the head on the bench: they come off with it.
  expect(off(gasket)).not.toContain('inlet-valve');
  expect(names(gasket.fresh)).toEqual(expect.arrayContaining(['head-gasket', 'head-bolt', 'rocker-cover-gasket']));
  expect(names(gasket.limits)).toEqual(['inlet-lash', 'exhaust-lash']);
  expect(names(gasket.mayLeak)).toContain('block');
});

test('a piston comes out on its rod: head, sump and rod cap come off first', () => {
  const piston = off(at('piston'));
  const place = (name: string): number => piston.indexOf(name);
  for (const name of ['cylinder-head', 'sump', 'rod-cap', 'connecting-rod']) {
    expect(place(name)).toBeGreaterThanOrEqual(0);
    expect(place(name)).toBeLessThan(place('piston'));
  }
  expect(names(at('piston').drain)).toEqual(['sump']);
});

test('an outer part needs nothing but its bolts', () => {
  expect(at('distributor')).toMatchObject({
    off: [{ why: '', undo: [{ name: 'distributor-bolt' }] }],
    drives: [],
    fresh: [],
  });
});

test('variants differ: on the van the sump is over the oil pump', () => {
  const text = read('tests/model/brindle-four.fettle');
  expect(off(at('oil-pump', viewOf(text, {}, 'van')))).toEqual(['sump', 'oil-pump']);
  expect(off(at('oil-pump', viewOf(text, {}, 'saloon')))).toEqual(['oil-pump']);
});

test('parts that cover each other come to an end', () => {
  const circle = viewOf('part a {\n  covers b\n}\n\npart b {\n  covers a\n}\n');
  expect(off(at('a', circle))).toEqual(['b', 'a']);
});

test('as text: first, off, new, proved, back, and the caution', () => {
  const text = reachText(at('camshaft'), tallboy.view);
  const heads = [
    'First',
    'Comes off, in this order',
    'Must be new',
    'Must be proved again',
    'Goes back in these steps',
  ];
  const places = heads.map((head) => text.indexOf(`\n${head}`));
  expect([...places].sort((a, b) => a - b)).toEqual(places);
  expect(places[0]).toBeGreaterThan(0);
  expect(text).toContain(' 1. timing-cover: covers cam-plate; undo timing-cover-bolt');
  expect(text).toContain('back after 20 turns');
  expect(text).toContain("The maker's manual comes first.");
});
