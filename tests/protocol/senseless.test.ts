// Questions that make no sense: each is answered, and the next as ever.
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Editor, forgetBundle, inMemory, inWorker } from './editor.ts';

afterAll(forgetBundle);

describe.each([
  ['in this process', inMemory],
  ['in a worker', inWorker],
] as const)('%s', (_name, begin) => {
  // One server for all of them: each question comes behind those before it that made no sense.
  let server: Editor;
  beforeAll(async () => {
    server = await begin();
    await server.start();
  }, 60_000);
  afterAll(() => server.end());

  test.each([
    ...['hover', 'completion', 'definition', 'references', 'documentHighlight', 'signatureHelp', 'prepareRename'],
    ...['rename', 'documentSymbol', 'foldingRange', 'selectionRange', 'semanticTokens/full', 'semanticTokens/range'],
    ...['inlayHint', 'codeLens', 'documentLink', 'codeAction', 'formatting', 'rangeFormatting', 'onTypeFormatting'],
    ...['prepareCallHierarchy', 'diagnostic'],
  ])('a question about %s that makes no sense is answered, and the next as ever', { timeout: 60_000 }, async (what) => {
    const uri = `file:///shop/${what}.fettle`;
    const text = 'part q {\n  mass 3\n}\n';
    await server.open(text, uri);
    for (const params of [undefined, {}, { textDocument: { uri: 5 }, position: null }, { textDocument: { uri } }])
      await server.ask(`textDocument/${what}`, params).catch((error: unknown) => {
        expect(error).toMatchObject({ code: expect.any(Number) });
      });
    const name = { textDocument: { uri }, position: { line: 0, character: 5 } };
    expect(await server.ask('textDocument/hover', name)).not.toBeNull();
    expect((await server.edit(1, 8, 8, ' kg', uri)).map(({ code }) => code)).not.toContain('unit/missing');
  });
});
