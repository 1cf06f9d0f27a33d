// Holds which layer may import which. The compiler holds the rest: no Node and no browser types below the
// workspace (grammar/tsconfig.json, server/tsconfig.json).
import { builtinModules } from 'node:module';
import { describe, expect, test } from 'vitest';
import { type Import, importsOf, sourcesBelow } from './imports.ts';

/** Each layer with those that it may import besides itself. Arrows run downward only. */
const allowed: Readonly<Record<string, readonly string[]>> = {
  grammar: [],
  'server/mechanics': [],
  // Specs alone, read as text.
  'server/library': [],
  'server/model': ['server/mechanics', 'grammar'],
  'server/rehearsal': ['server/model', 'server/mechanics', 'grammar'],
  'server/checks': ['server/rehearsal', 'server/model', 'server/mechanics', 'grammar'],
  'server/features': [
    ...['server/pictures', 'server/checks', 'server/rehearsal', 'server/model', 'server/mechanics', 'grammar'],
  ],
  'server/pictures': ['server/rehearsal', 'server/model', 'server/mechanics', 'grammar'],
  'server/bench': [
    ...['server/sheet', 'server/pictures', 'server/checks', 'server/rehearsal', 'server/model', 'server/mechanics'],
    'grammar',
  ],
  // What runs in the page itself.
  'server/bench-page': ['server/bench', 'server/pictures', 'server/model', 'grammar'],
  'server/sheet': [
    ...['server/pictures', 'server/checks', 'server/rehearsal', 'server/model', 'server/mechanics', 'grammar'],
  ],
  'server/review': ['server/checks', 'server/rehearsal', 'server/model', 'server/mechanics', 'grammar'],
  'server/workspace': [
    ...['server/features', 'server/sheet', 'server/pictures', 'server/review', 'server/checks', 'server/rehearsal'],
    ...['server/model', 'server/mechanics', 'server/library', 'grammar'],
  ],
  'server/protocol': [
    ...['server/workspace', 'server/features', 'server/sheet', 'server/review', 'server/checks', 'server/rehearsal'],
    ...['server/bench', 'server/pictures', 'server/model', 'server/mechanics', 'grammar'],
  ],
  'server/command-line': [
    ...['server/workspace', 'server/features', 'server/sheet', 'server/review', 'server/checks', 'server/rehearsal'],
    ...['server/bench', 'server/pictures', 'server/model', 'server/mechanics', 'grammar'],
  ],
  'server/entry': ['server/protocol', 'server/command-line', 'server/workspace', 'server/bench'],
  client: [],
};

const aboveTheLine = ['server/workspace', 'server/protocol', 'server/command-line', 'server/entry', 'client'];
const layers = Object.keys(allowed);

/** The layer of a file; a file beside the layers has none. */
function layerOf(path: string): string | undefined {
  return layers.find((layer) => path.startsWith(`${layer}/`));
}

/** Why an import may not be, or undefined if it may. */
function objection(each: Import): string | undefined {
  const by = layerOf(each.by);
  if (by === undefined) return `${each.by} stands in no layer`;
  if (!each.ours) {
    const builtin = each.of.startsWith('node:') || builtinModules.includes(each.of);
    if (builtin && !aboveTheLine.includes(by)) return `${each.by} imports ${each.of}, which only Node has`;
    if (by === 'grammar' && each.of !== 'chevrotain')
      return `${each.by} imports ${each.of}: the grammar needs chevrotain alone`;
    return undefined;
  }
  const of = layerOf(each.of);
  if (of === by) return undefined;
  if (by === 'client') {
    if (of === 'server/protocol' && each.typesAlone) return undefined;
    return `${each.by} imports ${each.of}: the client takes types alone, from server/protocol`;
  }
  if (of !== undefined && allowed[by]?.includes(of)) return undefined;
  return `${each.by} imports ${each.of}, which ${by} may not`;
}

test('every source file stands in a layer, and imports downward only', () => {
  const files = ['grammar', 'server', 'client'].flatMap(sourcesBelow);
  expect(files.length).toBeGreaterThan(20);
  expect(files.filter((file) => layerOf(file) === undefined)).toEqual([]);
  expect(files.flatMap((file) => importsOf(file)).flatMap((each) => objection(each) ?? [])).toEqual([]);
});

describe('what is objected to', () => {
  const cases: readonly (readonly [string, string])[] = [
    ['grammar/lexer.ts', "import { add } from '../server/mechanics/exact.ts';"],
    ['grammar/lexer.ts', "import { readFileSync } from 'node:fs';"],
    ['grammar/lexer.ts', "import Fraction from 'fraction.js';"],
    ['server/mechanics/exact.ts', "import type { Span } from '../../grammar/tree.ts';"],
    ['server/checks/torque/over-proof.ts', "export { hover } from '../../features/hover.ts';"],
    ['server/model/expressions.ts', "const path = await import('path');"],
    ['server/protocol/server.ts', "import { run } from '../command-line/run.ts';"],
    ['server/loose.ts', "import { run } from './command-line/run.ts';"],
    ['client/status.ts', "import { startServer } from '../server/protocol/server.ts';"],
    ['client/status.ts', "import type { Finding } from '../server/checks/finding.ts';"],
  ];
  test.each(cases)('%s: %s', (path, text) => {
    expect(importsOf(path, text).map(objection)).toEqual([expect.stringContaining(path)]);
  });

  test('and what is not', () => {
    const text = `import type { A } from '../server/protocol/messages.ts'; import { type B } from '../server/protocol/messages.ts';`;
    expect(importsOf('client/status.ts', text).map(objection)).toEqual([undefined, undefined]);
    expect(
      importsOf('server/model/names.ts', "import { read } from '../../grammar/parser.ts';").map(objection),
    ).toEqual([undefined]);
  });
});
