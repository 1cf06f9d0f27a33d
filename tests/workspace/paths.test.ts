// Where a `use` may lead, on disk and in a virtual folder; and the one spelling of an address.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { canonical, resolveUse, rootOf } from '../../server/workspace/paths.ts';

const ROOTS = ['file:///shop/engines', 'memory://folder/specs'];

describe('a path', () => {
  test.each([
    ['file:///shop/engines/a.fettle', 'b.fettle', 'file:///shop/engines/b.fettle'],
    ['file:///shop/engines/a.fettle', './four/b.fettle', 'file:///shop/engines/four/b.fettle'],
    ['file:///shop/engines/four/a.fettle', '../b.fettle', 'file:///shop/engines/b.fettle'],
    ['memory://folder/specs/a.fettle', 'jobs/b c.fettle', 'memory://folder/specs/jobs/b%20c.fettle'],
    ['file:///shop/engines/a.fettle', '%2e%2e/b.fettle', 'file:///shop/engines/%252e%252e/b.fettle'],
    ['file:///alone/a.fettle', 'b.fettle', 'file:///alone/b.fettle'],
  ])('%s: %s leads to %s', (from, path, to) => {
    expect(resolveUse(from, path, ROOTS)).toBe(to);
  });

  test.each([
    '',
    '.',
    '..',
    '../b.fettle',
    'four/../../b.fettle',
    '/etc/b.fettle',
    '//host/b.fettle',
    'C:/b.fettle',
    'file:///shop/engines/b.fettle',
    'https://example.invalid/b.fettle',
    'four\\b.fettle',
    'b\u0000.fettle',
    'b\n.fettle',
    'x'.repeat(401),
    'half\ud800.fettle',
    '\udc00/../b.fettle',
  ])('%j leads nowhere', (path) => {
    for (const from of ['file:///shop/engines/a.fettle', 'memory://folder/specs/a.fettle', 'file:///alone/a.fettle'])
      expect(resolveUse(from, path, ROOTS)).toBeUndefined();
  });

  test('whatever it is, it stays in its folder', () => {
    const piece = fc.constantFrom('..', '.', 'a', '%2e%2e', '%2F', '..%2f', '', 'b.fettle', '…', '~', '?', '#');
    fc.assert(
      fc.property(fc.array(piece, { minLength: 1, maxLength: 8 }), fc.constantFrom(...ROOTS), (pieces, root) => {
        const to = resolveUse(`${root}/one/two/a.fettle`, pieces.join('/'), ROOTS);
        if (to === undefined) return;
        const { href } = new URL(to);
        expect(href.startsWith(`${root}/`)).toBe(true);
        expect(href).not.toMatch(/[?#]/);
      }),
      { numRuns: 2000, seed: 4 },
    );
  });
});

test('the root of a file is the innermost open folder round it, else its own', () => {
  expect(rootOf('file:///shop/engines/four/a.fettle', ['file:///shop', 'file:///shop/engines'])).toBe(
    'file:///shop/engines/',
  );
  expect(rootOf('file:///shopping/a.fettle', ['file:///shop'])).toBe('file:///shopping/');
});

describe('the one spelling of an address', () => {
  test.each([
    ['file:///shop/head%20%28new%29.fettle', 'file:///shop/head%20(new).fettle'],
    ['file:///C:/shop/a.fettle', 'file:///c%3A/shop/a.fettle'],
    ['file:///c%3A/shop/a.fettle', 'file:///c%3A/shop/a.fettle'],
    ['file:///shop/kölbchen.fettle', 'file:///shop/k%C3%B6lbchen.fettle'],
    ['memory://folder/a b.fettle?x=(1)', 'memory://folder/a%20b.fettle?x=(1)'],
    ['untitled:Untitled-1', 'untitled:Untitled-1'],
    ['file:///shop/%E0%A4%A.fettle', 'file:///shop/%E0%A4%A.fettle'],
    ['nonsense', 'nonsense'],
  ])('%s is %s', (uri, address) => {
    expect(canonical(uri)).toBe(address);
    expect(canonical(address)).toBe(address);
  });
});
