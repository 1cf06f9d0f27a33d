// What a name of the trade names: the longest ending counts. Common practice, no source.
import { describe, expect, test } from 'vitest';
import { isA, isOrSeals, kindsOf, sealedBy, type TradeKind } from '../../server/model/trade-names.ts';

const kinds = (name: string): readonly string[] => [...kindsOf(name)].sort();

describe('a name is read from its end', () => {
  test.each<[name: string, kind: TradeKind]>([
    ['crankshaft', 'crankshaft'],
    ['left-inlet-camshaft', 'camshaft'],
    ['camshaft-left', 'camshaft'],
    ['connecting-rod', 'rod'],
    ['con-rod', 'rod'],
    ['conrod', 'rod'],
    ['push-rods', 'pushrod'],
    ['main-bearing-3', 'shell'],
    ['rings', 'ring'],
    ['ring-pack', 'ring'],
    ['case-left', 'case-half'],
    ['left-case', 'case-half'],
    ['cylinder_head', 'head'],
    ['bushes', 'bush'],
    ['oil-pan', 'sump'],
    ['oilpan', 'sump'],
    ['flex-plate', 'flywheel'],
    ['Camshaft-Seal', 'camshaft-seal'],
  ])('%s is a %s', (name, kind) => {
    expect(isA(name, kind)).toBe(true);
  });
});

test('the longest ending counts: what ends like another is none of it', () => {
  expect(kinds('valve-cap')).toEqual([]);
  expect(isA('pushrod', 'rod')).toBe(false);
  expect(isA('dip-rod', 'rod')).toBe(false);
  expect(isA('tappet-block', 'block')).toBe(false);
  expect(isA('starter-ring', 'ring')).toBe(false);
  expect(isA('raw-water-pump', 'water-pump')).toBe(false);
  expect(kinds('head-bolt')).toEqual([]);
  expect(kinds('constructor')).toEqual([]);
  expect(kinds('left')).toEqual([]);
});

test('a name that counts only as a whole: the seal in a gearbox is not that of the crankshaft', () => {
  expect(isA('front-seal', 'front-seal')).toBe(true);
  expect(isA('gearbox-front-seal', 'front-seal')).toBe(false);
  expect(isA('gearbox-front-seal', 'seal')).toBe(true);
});

test('what a gasket is for', () => {
  expect(sealedBy('sump-gasket')).toBe('sump');
  expect(sealedBy('barrel-base-gasket')).toBe('barrel');
  expect(sealedBy('gasket')).toBeUndefined();
  expect(isOrSeals('sump-cork', 'sump')).toBe(true);
  expect(isOrSeals('head-gasket', 'sump')).toBe(false);
});
