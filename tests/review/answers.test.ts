// The review in the editor: the server is asked with an old text, and follows what is written.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { ServerAnswers } from '../../server/protocol/messages.ts';
import { type Editor, inMemory, URI } from '../protocol/editor.ts';

type Answer = ServerAnswers['fettle/review']['result'];

const four = readFileSync(join(import.meta.dirname, '../model/brindle-four.fettle'), 'utf8');
const GIT = 'git:/shop/a.fettle?%7B%22ref%22%3A%22HEAD%22%7D';

let editor: Editor;
beforeEach(async () => {
  editor = await inMemory();
  await editor.start();
});
afterEach(() => editor.end());

const review = (old: ServerAnswers['fettle/review']['params']['old'], uri = URI): Promise<Answer> =>
  editor.ask<Answer>('fettle/review', { uri, old });

describe('fettle/review', () => {
  test('places each side where it stands, counted from 0, and follows an edit', async () => {
    await editor.open(four);
    const old = { uri: GIT, text: four };
    expect((await review(old))?.changes).toEqual([]);
    const line = four.split('\n').findIndex((each) => each.includes('torque 9 N.m'));
    await editor.edit(line, 9, 10, '10');
    const changes = (await review(old))?.changes ?? [];
    expect(changes.map((each) => [each.what, each.kind, each.weight])).toEqual([
      ['fastener.sump-bolt.torque', 'changed', 'critical'],
    ]);
    expect(changes[0]?.oldPlace).toEqual({
      uri: GIT,
      range: { start: { line, character: 2 }, end: { line, character: 14 } },
    });
    expect(changes[0]?.newPlace).toEqual({
      uri: URI,
      range: { start: { line, character: 2 }, end: { line, character: 15 } },
    });
    await editor.edit(line, 9, 11, '9');
    expect((await review(old))?.changes).toEqual([]);
  });

  test('says what the old spec used, and takes that as it was then', async () => {
    const bolts = 'fastener lid-bolt x4 {\n  thread M8\n  torque 20 N.m\n}\n';
    await editor.open(bolts.replace('20 N.m', '25 N.m'), 'file:///shop/bolts.fettle');
    const text = 'use "bolts.fettle"\n\npart lid\n';
    await editor.open(text);
    const first = await review({ uri: GIT, text });
    expect(first).toEqual({ changes: [], uses: ['file:///shop/bolts.fettle'] });
    const then = await review({ uri: GIT, text, files: { 'file:///shop/bolts.fettle': bolts } });
    expect(then?.changes.map((each) => [each.what, each.newPlace?.uri])).toEqual([
      ['fastener.lid-bolt.torque', 'file:///shop/bolts.fettle'],
    ]);
  });

  test('findings of the open spec are as before, however often it is compared', async () => {
    await editor.open(four);
    const line = four.split('\n').findIndex((each) => each.includes('release chain-tensioner'));
    for (let i = 0; i < 3; i += 1) {
      expect(await editor.edit(line, 4, 27, '')).not.toEqual([]);
      expect((await review({ uri: GIT, text: four }))?.changes.length).toBeGreaterThan(0);
      expect(await editor.edit(line, 4, 4, 'release chain-tensioner')).toEqual([]);
      expect((await review({ uri: GIT, text: four }))?.changes).toEqual([]);
    }
  });

  test('there is nothing for a file that is not there', async () => {
    expect(await review({ uri: GIT, text: four }, 'file:///shop/none.fettle')).toBeNull();
  });
});
