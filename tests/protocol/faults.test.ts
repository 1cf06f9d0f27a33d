// A fault inside Fettle: it is written down with what to do about it, the editor gets an empty answer, and the server goes on.
import { afterAll, afterEach, expect, test } from 'vitest';
import { type Editor, type FaultyEditor, forgetBundle, inMemory, inProcess, inWorker, URI } from './editor.ts';

let editor: Editor;
afterEach(() => editor.end());
afterAll(forgetBundle);

/** A server that falls over whenever it reads a file called broken. */
async function faulty(): Promise<Editor> {
  editor = await inMemory({
    disk: () => ({
      resolve: (_from, path) => `file:///shop/${path}`,
      read(file) {
        if (file.endsWith('broken.fettle')) throw new Error('a fault put in by the test');
        return undefined;
      },
    }),
  });
  return editor;
}
const BROKEN = 'use "broken.fettle"\n\npart p\n';
const at = { textDocument: { uri: URI }, position: { line: 2, character: 6 } };

test('findings: that one for that file, those of others go on', async () => {
  await faulty();
  await editor.start();
  const told = await editor.open(BROKEN);
  expect(told.map(({ code, range }) => [code, range.start.line])).toEqual([['fettle/fault', 0]]);
  expect(told[0]?.message).toMatch(/inside Fettle itself, not in your spec.*a fault put in by the test.*report/s);
  const found = await editor.open('part q {\n  mass 3\n}\n', 'file:///shop/c.fettle');
  expect(found.map((each) => each.code)).toContain('unit/missing');
  const line = editor.output.find((each) => each.includes('a fault put in by the test'));
  expect(line).toMatch(/fault inside Fettle.*Your spec is safe.*report/s);
});

test('once the text is mended its findings are back', async () => {
  await faulty();
  await editor.start();
  await editor.open(BROKEN);
  const found = await editor.edit(0, 5, 11, 'absent');
  expect(found.map((each) => each.code)).toContain('name/import-not-found');
});

test.each([
  ['textDocument/hover', at, null],
  ['textDocument/completion', at, []],
  ['textDocument/definition', at, null],
  ['textDocument/rename', { ...at, newName: 'r' }, null],
  ['textDocument/documentSymbol', { textDocument: { uri: URI } }, []],
  [
    'textDocument/codeAction',
    { textDocument: { uri: URI }, range: { start: at.position, end: at.position }, context: { diagnostics: [] } },
    [],
  ],
  ['textDocument/semanticTokens/full', { textDocument: { uri: URI } }, { data: [] }],
  ['textDocument/signatureHelp', at, null],
  ['fettle/sheet', { uri: URI }, null],
  ['fettle/explain', null, null],
] as const)('%s', async (question, params, empty) => {
  await faulty();
  await editor.start();
  await editor.open(BROKEN);
  const answer = await editor.ask<object | null>(question, params ?? undefined).catch((error: unknown) => error);
  if (empty === null) expect(answer).toBeNull();
  else expect(answer).toMatchObject(empty);
  expect(await editor.ask('fettle/explain', { code: 'unit/missing' })).toMatchObject({ markdown: expect.any(String) });
});

test('a client that answers nothing, or wrongly, stops nothing', async () => {
  editor = await inMemory();
  editor.connection.onRequest('fettle/listFiles', () => ({ uris: ['file:///shop/b.fettle', 'nonsense', ''] }));
  editor.connection.onRequest('fettle/readFile', () => {
    throw new Error('may not be read');
  });
  const all = {
    workspace: {
      didChangeWatchedFiles: { dynamicRegistration: true },
      didChangeConfiguration: { dynamicRegistration: true },
      configuration: true,
      diagnostics: { refreshSupport: true },
      inlayHint: { refreshSupport: true },
      codeLens: { refreshSupport: true },
    },
  };
  await editor.start(all, { rootUri: 'file:///shop', initializationOptions: { clientReadsFiles: true } });
  await editor.tell('workspace/didChangeWatchedFiles', { changes: [{ uri: 'file:///shop/b.fettle', type: 1 }] });
  await editor.tell('workspace/didChangeConfiguration', { settings: {} });
  expect(await editor.ask('textDocument/codeLens', { textDocument: { uri: URI } })).toEqual([]);
  expect((await editor.open('part q {\n  mass 3\n}\n')).map((each) => each.code)).toContain('unit/missing');
});

test('a question that is taken back is answered so, and the next one as ever', async () => {
  editor = await inMemory();
  await editor.start();
  await editor.open('part q\n');
  const { CancellationTokenSource } = await import('vscode-jsonrpc/node');
  const source = new CancellationTokenSource();
  const asked = editor.connection
    .sendRequest('workspace/symbol', { query: '' }, source.token)
    .catch((error: unknown) => error);
  source.cancel();
  await asked;
  expect(await editor.ask('workspace/symbol', { query: 'q' })).toHaveLength(1);
});

/** Puts faults that nothing catches into a server that runs by itself: each is told, and findings go on. */
async function survives(server: FaultyEditor): Promise<void> {
  for (const [how, said] of [
    ['throw', 'thrown by the test'],
    ['reject', 'rejected by the test'],
  ] as const) {
    server.fault(how);
    const told = (): string | undefined => server.output.find((line) => line.includes(said));
    while (told() === undefined) await server.ask('fettle/explain', { code: '' });
    expect(told()).toMatch(/fault inside Fettle.*Your spec is safe.*report/s);
    expect((await server.open(`part ${how} {\n  mass 3\n}\n`, `file:///shop/${how}.fettle`)).length).toBeGreaterThan(0);
  }
}

test('a fault outside of any answer is written down too, and the server goes on; it ends when the editor hangs up', {
  timeout: 60_000,
}, async () => {
  const server = await inProcess();
  editor = server;
  await editor.start();
  await survives(server);
  expect(await server.hangUp()).not.toBeNull();
});

test('in a worker of the browser too', { timeout: 60_000 }, async () => {
  const server = await inWorker();
  editor = server;
  await editor.start();
  await survives(server);
});

test('a question of a whole folder that is taken back half-way is answered so; keys are heard, and findings come', async () => {
  editor = await inMemory();
  await editor.start();
  const long = Array.from({ length: 400 }, (_, i) => `part p${i} {\n  mass 3 kg\n}\n`).join('\n');
  const opened = Array.from({ length: 12 }, (_, i) => editor.open(long, `file:///shop/long-${i}.fettle`));
  await Promise.all(opened);
  const { CancellationTokenSource } = await import('vscode-jsonrpc/node');
  const source = new CancellationTokenSource();
  // Each text is another now, so that all of them have to be read again for the answer.
  for (let i = 0; i < 12; i += 1)
    await editor.tell('textDocument/didChange', {
      textDocument: { uri: `file:///shop/long-${i}.fettle`, version: 2 },
      contentChanges: [{ text: long.replaceAll('mass 3', 'mass 4') }],
    });
  const asked = editor.connection
    .sendRequest('workspace/symbol', { query: 'p1' }, source.token)
    .then(() => undefined)
    .catch((error: { readonly code?: number }) => error.code);
  source.cancel();
  const found = await editor.open('part q {\n  mass 3\n}\n', 'file:///shop/q.fettle');
  expect(found.map(({ code }) => code)).toContain('unit/missing');
  // RequestCancelled.
  expect(await asked).toBe(-32800);
});
