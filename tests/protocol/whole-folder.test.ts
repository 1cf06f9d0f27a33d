// What the whole folder is asked while its texts are still being read waits for them; severity by code in the settings; what the lines of
// figures do in an editor that is not Fettle's own; libraries as files.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, expect, test, vi } from 'vitest';
import { CancellationTokenSource } from 'vscode-jsonrpc/node';
import type {
  CodeLens,
  Diagnostic,
  DocumentLink,
  InlayHint,
  Location,
  PublishDiagnosticsParams,
  SymbolInformation,
} from 'vscode-languageserver';
import { semanticTokens } from '../../server/features/tokens.ts';
import { analyseText } from '../annotated.ts';
import { type Editor, inMemory, URI } from './editor.ts';

let editor: Editor;
afterEach(() => editor.end());

test('names of a folder that is still being read are all found', async () => {
  editor = await inMemory();
  const count = 40;
  const uris = Array.from({ length: count }, (_, i) => `file:///shop/spec-${i}.fettle`);
  editor.connection.onRequest('fettle/listFiles', () => ({ uris }));
  editor.connection.onRequest('fettle/readFile', async ({ uri }: { readonly uri: string }) => {
    await new Promise((done) => setTimeout(done, 5));
    const number = /(\d+)\.fettle$/.exec(uri)?.[1];
    return {
      text:
        number === '0'
          ? 'part shared-lid\n'
          : `use "spec-0.fettle"\n\npart cover-${number} {\n  covers shared-lid\n}\n`,
    };
  });
  await editor.start({}, { rootUri: 'file:///shop', initializationOptions: { clientReadsFiles: true } });
  const found = await editor.ask<SymbolInformation[]>('workspace/symbol', { query: 'cover' });
  expect(found).toHaveLength(count - 1);
  await editor.open('use "spec-0.fettle"\n\npart own {\n  covers shared-lid\n}\n');
  const places = await editor.ask<Location[]>('textDocument/references', {
    textDocument: { uri: URI },
    position: { line: 3, character: 10 },
    context: { includeDeclaration: true },
  });
  expect(places).toHaveLength(count + 1);
});

/** A folder of files as Fettle's own client reads them, and what is told of each. */
async function folderOf(texts: Map<string, string>): Promise<{
  readonly told: Map<string, readonly Diagnostic[]>;
  readonly list: { answer: () => Promise<{ readonly uris: readonly string[] }> };
}> {
  editor = await inMemory();
  const told = new Map<string, readonly Diagnostic[]>();
  const list = { answer: async () => ({ uris: [...texts.keys()] }) };
  editor.connection.onRequest('fettle/listFiles', () => list.answer());
  editor.connection.onRequest('fettle/readFile', ({ uri }: { readonly uri: string }) => ({ text: texts.get(uri) }));
  editor.connection.onNotification(
    'textDocument/publishDiagnostics',
    ({ uri, diagnostics }: PublishDiagnosticsParams) => void told.set(uri, diagnostics),
  );
  await editor.start(
    { workspace: { workspaceFolders: true } },
    { rootUri: 'file:///shop', initializationOptions: { clientReadsFiles: true } },
  );
  return { told, list };
}

const opened = (uri: string, text: string): Promise<void> =>
  editor.tell('textDocument/didOpen', { textDocument: { uri, languageId: 'fettle', version: 1, text } });

test('while somebody waits for the whole folder, open files alone are checked', async () => {
  const closed = 'file:///shop/closed.fettle';
  const texts = new Map([[closed, 'part p {\n  mass 2\n}\n']]);
  const { told, list } = await folderOf(texts);
  await vi.waitFor(() => expect(told.get(closed)).toHaveLength(1), 10_000);
  let release: () => void = () => undefined;
  list.answer = () =>
    new Promise((done) => {
      release = () => done({ uris: [...texts.keys()] });
    });
  await editor.tell('workspace/didChangeWorkspaceFolders', {
    event: { added: [{ uri: 'file:///more', name: 'more' }], removed: [] },
  });
  const asked = editor.ask<SymbolInformation[]>('workspace/symbol', { query: 'p' });
  texts.set(closed, 'part p {\n  mass 2\n  wall 3\n}\n');
  await editor.tell('workspace/didChangeWatchedFiles', { changes: [{ uri: closed, type: 2 }] });
  for (const name of ['one', 'two', 'three']) {
    const uri = `file:///shop/${name}.fettle`;
    await opened(uri, `part ${name} {\n  mass 2\n}\n`);
    await vi.waitFor(() => expect(told.get(uri)).toHaveLength(1), 10_000);
  }
  expect(told.get(closed)).toHaveLength(1);
  release();
  expect(await asked).not.toEqual([]);
  await vi.waitFor(() => expect(told.get(closed)).toHaveLength(2), 10_000);
});

test('what is found in a file that nobody edits is found in the same text when it is opened', async () => {
  const text = readFileSync(join(import.meta.dirname, '../../samples/review/brindle-pony-2.fettle'), 'utf8');
  const wrong = text.replace('torque 9 N.m', 'torque 900 N.m').replace('mass 2.4 kg', 'mass 2.4');
  const uri = 'file:///shop/pony.fettle';
  const { told } = await folderOf(new Map([[uri, wrong]]));
  await vi.waitFor(() => expect(told.get(uri)?.map(({ code }) => code)).toContain('unit/missing'), 10_000);
  const closed = told.get(uri);
  told.clear();
  await opened(uri, wrong);
  await vi.waitFor(() => expect(told.get(uri)).toEqual(closed), 10_000);
});

test('a question that is taken back while the folder is read ends', async () => {
  editor = await inMemory();
  editor.connection.onRequest('fettle/listFiles', () => new Promise(() => undefined));
  await editor.start({}, { rootUri: 'file:///shop', initializationOptions: { clientReadsFiles: true } });
  const asked = new Promise<string>((done) => {
    const source = new CancellationTokenSource();
    editor.connection.sendRequest('workspace/symbol', { query: 'x' }, source.token).then(
      () => done('answered'),
      () => done('taken back'),
    );
    setTimeout(() => source.cancel(), 30);
  });
  expect(await asked).toBe('taken back');
});

test('checks weigh in the editor as its settings say', async () => {
  editor = await inMemory();
  let checks: object = { 'unit/range-reversed': 'information', 'name/unused': 'off' };
  editor.connection.onRequest(
    'workspace/configuration',
    ({ items }: { readonly items: readonly { section: string }[] }) =>
      items.map(({ section }) => (section === 'fettle.checks' ? checks : null)),
  );
  await editor.start({ workspace: { configuration: true } });
  const text = 'part p {\n  dimension d 5..3 mm\n}\n';
  const settled = async (): Promise<readonly (readonly [unknown, unknown])[]> => {
    await new Promise((done) => setTimeout(done, 150));
    return editor.latest().map((each) => [each.code, each.severity]);
  };
  await editor.open(text);
  expect(await settled()).toEqual([['unit/range-reversed', 3]]);
  checks = { 'unit/range-reversed': 'off', 'name/unused': 'off', constructor: 'heavy' };
  await editor.tell('workspace/didChangeConfiguration', { settings: {} });
  expect(await settled()).toEqual([]);
  checks = {};
  await editor.tell('workspace/didChangeConfiguration', { settings: {} });
  expect((await settled()).map(([code]) => code)).toContain('unit/range-reversed');
});

test('a line of figures tells them in any editor, and grey text says what it is', async () => {
  editor = await inMemory();
  const told: string[] = [];
  editor.connection.onNotification(
    'window/showMessage',
    ({ message }: { readonly message: string }) => void told.push(message),
  );
  await editor.start();
  await editor.open(
    'fastener lid-bolt x4 {\n  thread M8x1.25\n  class 8.8\n  fitted oiled\n  joint structural\n  torque 20 N.m\n}\n\nsequence s {\n  step t {\n    rotate crankshaft 2 turns\n  }\n}\n',
  );
  const [lens] = await editor.ask<CodeLens[]>('textDocument/codeLens', { textDocument: { uri: URI } });
  expect(lens?.command?.title).toContain('of proof load');
  await editor.ask('workspace/executeCommand', {
    command: lens?.command?.command,
    arguments: lens?.command?.arguments,
  });
  await new Promise((done) => setTimeout(done, 30));
  expect(told.join('\n')).toMatch(/lid-bolt/);
  expect(told.join('\n')).toMatch(/proof/);
  const hints = await editor.ask<InlayHint[]>('textDocument/inlayHint', {
    textDocument: { uri: URI },
    range: { start: { line: 0, character: 0 }, end: { line: 13, character: 0 } },
  });
  expect(hints.every((hint) => typeof hint.tooltip === 'string')).toBe(true);
});

test('where the libraries lie on the disk they are opened there', async () => {
  editor = await inMemory({ libraries: 'file:///opt/fettle/server/library' });
  await editor.start();
  await editor.open('use "fettle:metric-bolts"\n');
  const links = await editor.ask<DocumentLink[]>('textDocument/documentLink', { textDocument: { uri: URI } });
  expect(links.map((link) => link.target)).toEqual(['file:///opt/fettle/server/library/metric-bolts.fettle']);
});

test('kinds of things have colours of their own', () => {
  const text =
    'part lid\n\nfastener bolt x2 {\n  clamps lid\n}\n\nsupply oil\n\nlimit play of lid\n  measured\n  within 1..2 mm\n\nsequence s {\n  step one {\n    fit lid\n    tighten bolt\n    lubricate lid, bolt with oil\n    measure play\n  }\n  step two {\n    after one\n  }\n}\n';
  const types = new Map<string, Set<string>>();
  for (const { start, length, type } of semanticTokens(analyseText(text))) {
    const word = text.slice(start, start + length);
    types.set(word, (types.get(word) ?? new Set()).add(type));
  }
  expect(
    Object.fromEntries(['lid', 'bolt', 'oil', 'play', 'one'].map((name) => [name, [...(types.get(name) ?? [])]])),
  ).toEqual({
    lid: ['class'],
    bolt: ['decorator'],
    oil: ['namespace'],
    play: ['parameter'],
    one: ['function'],
  });
});
