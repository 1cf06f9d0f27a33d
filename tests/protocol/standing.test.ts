// Where the engine stands, as the view beside a spec asks for it: at the cursor, one action on, one back.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { ServerAnswers } from '../../server/protocol/messages.ts';
import { type Editor, inMemory, URI } from './editor.ts';

type Standing = NonNullable<ServerAnswers['fettle/standing']['result']>;
type Go = ServerAnswers['fettle/standing']['params']['go'];

// The face of timing in the samples of faults: tensioner, chain, marks.
const TEXT = readFileSync(join(import.meta.dirname, '../../samples/faults/still-held-back.fettle'), 'utf8');
const lineOf = (piece: string): number => TEXT.split('\n').findIndex((line) => line.includes(piece));

let editor: Editor;
beforeAll(async () => {
  editor = await inMemory();
  await editor.start();
  await editor.open(TEXT);
});
afterAll(() => editor.end());

const stands = (line: number, go: Go = 'here', more: object = {}): Promise<Standing | null> =>
  editor.ask<Standing | null>('fettle/standing', { uri: URI, position: { line, character: 6 }, go, ...more });
const words = (html: string | null | undefined): string =>
  (html ?? '')
    .replace(/<svg[\s\S]*?<\/svg>/g, '')
    .replace(/<[^>]+>/g, ' ')
    .replace(/\s+/g, ' ');

test('at an action: what it changed, what is held, what is still to prove', async () => {
  const now = await stands(lineOf('    align cam-drive'));
  expect(words(now?.html)).toContain('align cam-drive');
  expect(words(now?.html)).toMatch(/Held back chain tensioner/);
  expect(words(now?.html)).toMatch(/Still to prove the timing of cam drive/);
  expect(now?.html).toContain('<svg');
});

test('before the tensioner is held back nothing is held', async () => {
  const now = await stands(lineOf('    fit chain-tensioner onto block'));
  expect(words(now?.html)).not.toContain('Held back');
  expect(words(now?.html)).toMatch(/Just now chain tensioner|Just now chain-tensioner/);
});

test('the job is played action by action, forth and back, and ends at its ends', async () => {
  const first = await stands(lineOf('    set crankshaft at'), 'here');
  expect(words(first?.html)).toContain('1 of 6');
  const places: number[] = [];
  let line = lineOf('    set crankshaft at');
  for (let i = 0; i < 7; i += 1) {
    const next = await stands(line, 'next');
    line = next?.place?.start.line ?? -1;
    places.push(line);
  }
  const wanted = ['    set camshaft', '    fit chain-tens', '    hold-back', '    fit crank-spr', '    align cam'].map(
    lineOf,
  );
  expect(places).toEqual([...wanted, wanted[4], wanted[4]]);
  expect((await stands(line, 'back'))?.place?.start.line).toBe(wanted[3]);
});

test('outside all steps nothing is shown, and the first action is where it begins', async () => {
  const away = await stands(0);
  expect(away?.html).toBeNull();
  expect((await stands(0, 'next'))?.place?.start.line).toBe(lineOf('    set crankshaft at'));
});

test('text of a spec is text in it', async () => {
  const uri = 'file:///shop/evil.fettle';
  const evil = '<img src=x onerror=alert(1)>';
  await editor.open(
    `part lid "${evil}"\n\nsequence s {\n  step one "${evil}" {\n    fit lid\n    measure "${evil}"\n  }\n}\n`,
    uri,
  );
  const now = await editor.ask<Standing>('fettle/standing', {
    uri,
    position: { line: 4, character: 6 },
    go: 'here',
  });
  expect(now.html).not.toContain('<img');
  expect(now.html).toContain('&lt;img');
});

test('what is covered is named, and bolts at a stage by their numbers', async () => {
  const uri = 'file:///shop/covered.fettle';
  await editor.open(
    'part block\n\npart wheel\n\npart cover {\n  covers wheel\n}\n\nfastener bolt x4 {\n  thread M8\n  class 8.8\n  clamps cover to block\n  torque 10 N.m, 20 N.m\n}\n\nsequence s {\n  starts-with block\n  step one {\n    fit wheel onto block\n    fit cover onto block\n    snug bolt\n    tighten bolt 1..2 stage 1\n  }\n}\n',
    uri,
  );
  const now = await editor.ask<Standing>('fettle/standing', {
    uri,
    position: { line: 21, character: 6 },
    go: 'here',
  });
  expect(words(now.html)).toContain('under cover: wheel');
  expect(words(now.html)).toContain('In and not tight bolt: 1 and 2 at stage 1 of 2, 3 and 4 snug');
});

test('a job and a variant that are asked for are taken', async () => {
  const uri = 'file:///shop/two.fettle';
  await editor.open(
    'spec s {\n  variants car, van\n}\n\npart lid\n\nsequence off {\n  phase teardown\n  step a {\n    remove lid\n  }\n}\n\nsequence on {\n  step b {\n    fit lid\n  }\n}\n\njob one of s {\n  begins whole\n  sequences off, on\n}\n\njob two of s {\n  begins bare\n  sequences on\n}\n',
    uri,
  );
  const at = (more: object): Promise<Standing> =>
    editor.ask<Standing>('fettle/standing', { uri, position: { line: 15, character: 6 }, go: 'here', ...more });
  const plain = await at({});
  expect([plain.jobs, plain.job, plain.variants]).toEqual([['one', 'two'], 'one', ['car', 'van']]);
  expect(words(plain.html)).toContain('2 of 2');
  const other = await at({ job: 'two', variant: 'van' });
  expect([other.job, other.variant]).toEqual(['two', 'van']);
  expect(words(other.html)).toContain('1 of 1');
});
