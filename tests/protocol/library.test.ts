// The library that ships with Fettle, as an editor meets it: definitions lead into it, it can be read, nothing in it is renamed.
import { afterAll, afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Location } from 'vscode-languageserver';
import { type Editor, forgetBundle, inMemory, inWorker, URI } from './editor.ts';

const SPEC = `use "fettle:metric-bolts"

part head
part block

fastener head-bolt x4 {
  like m8-8-8
  fitted oiled
  clamps head to block
  torque 22 N.m
}
`;

afterAll(forgetBundle);

describe.each([
  ['in memory', inMemory],
  ['as a worker', inWorker],
] as const)('%s', (_where, launch) => {
  let editor: Editor;
  beforeEach(async () => {
    editor = await launch();
    await editor.start();
    await editor.open(SPEC);
  }, 30_000);
  afterEach(() => editor.end());

  test('a definition leads into a text that can be read', async () => {
    const place = { textDocument: { uri: URI }, position: { line: 6, character: 9 } };
    const [found] = await editor.ask<Location[]>('textDocument/definition', place);
    expect(found?.uri).toBe('fettle-library:/metric-bolts.fettle');
    const answer = await editor.ask<{ text: string }>('fettle/library', { uri: found?.uri });
    const line = answer.text.split('\n')[found?.range.start.line ?? 0];
    expect(line).toMatch(/^fastener m8-8-8 /);
  });

  test('a name of it is not renamed', async () => {
    const place = { textDocument: { uri: URI }, position: { line: 6, character: 9 }, newName: 'mine' };
    await expect(editor.ask('textDocument/rename', place)).rejects.toThrow(/ships with Fettle/);
  });

  test('the line of the use is a link to it', async () => {
    const links = await editor.ask<{ target: string }[]>('textDocument/documentLink', { textDocument: { uri: URI } });
    expect(links.map((each) => each.target)).toEqual(['fettle-library:/metric-bolts.fettle']);
  });
});
