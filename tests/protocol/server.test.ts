// The language server over a pair of streams in memory, as any editor would talk to it.
import { PassThrough } from 'node:stream';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import {
  createMessageConnection,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-jsonrpc/node';
import type { Diagnostic, TextEdit } from 'vscode-languageserver';
import { createConnection } from 'vscode-languageserver/node';
import { startServer } from '../../server/protocol/server.ts';

let editor: MessageConnection;
const published: { readonly uri: string; readonly version?: number; readonly diagnostics: readonly Diagnostic[] }[] =
  [];
let told: (() => void)[] = [];

beforeEach(() => {
  published.length = 0;
  const [up, down] = [new PassThrough(), new PassThrough()];
  startServer(createConnection(new StreamMessageReader(up), new StreamMessageWriter(down)));
  editor = createMessageConnection(new StreamMessageReader(down), new StreamMessageWriter(up));
  editor.onNotification('textDocument/publishDiagnostics', (params) => {
    published.push(params);
    for (const tell of told) tell();
    told = [];
  });
  editor.onNotification(() => undefined);
  editor.listen();
});
afterEach(() => editor.dispose());

async function start(capabilities: object = {}): Promise<{ readonly capabilities: Readonly<Record<string, unknown>> }> {
  const answer = await editor.sendRequest<{ readonly capabilities: Readonly<Record<string, unknown>> }>('initialize', {
    processId: null,
    rootUri: 'file:///shop',
    capabilities,
  });
  await editor.sendNotification('initialized', {});
  return answer;
}

const URI = 'file:///shop/a.fettle';
const nextPublished = (): Promise<void> => new Promise((tell) => told.push(tell));

async function open(text: string, uri = URI): Promise<void> {
  const next = nextPublished();
  await editor.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId: 'fettle', version: 1, text },
  });
  await next;
}

const latest = (uri = URI): readonly Diagnostic[] => published.findLast((each) => each.uri === uri)?.diagnostics ?? [];
/** Errors and warnings. */
const faults = (): readonly Diagnostic[] => latest().filter((each) => (each.severity ?? 1) < 3);
const BOLT = 'fastener cover-bolt x6 {\n  thread M6\n  torque 9\n}\n';

describe('findings', () => {
  test('are pushed with version, code, source and place', async () => {
    await start();
    await open(BOLT);
    expect(published[0]).toMatchObject({ uri: URI, version: 1 });
    expect(latest()[0]).toMatchObject({
      code: 'unit/missing',
      source: 'fettle',
      severity: 1,
      range: { start: { line: 2, character: 9 }, end: { line: 2, character: 10 } },
    });
  });

  test('follow a change, and go when the file closes', async () => {
    await start();
    await open(BOLT);
    let next = nextPublished();
    await editor.sendNotification('textDocument/didChange', {
      textDocument: { uri: URI, version: 2 },
      contentChanges: [{ range: { start: { line: 2, character: 10 }, end: { line: 2, character: 10 } }, text: ' N.m' }],
    });
    await next;
    expect(published.at(-1)).toMatchObject({ version: 2 });
    expect(faults()).toEqual([]);
    next = nextPublished();
    await editor.sendNotification('textDocument/didClose', { textDocument: { uri: URI } });
    await next;
    expect(published.at(-1)).toEqual({ uri: URI, diagnostics: [] });
  });

  test('are given on asking, and not pushed as well, where the editor asks', async () => {
    const { capabilities } = await start({ textDocument: { diagnostic: {} } });
    expect(capabilities['diagnosticProvider']).toBeDefined();
    await editor.sendNotification('textDocument/didOpen', {
      textDocument: { uri: URI, languageId: 'fettle', version: 1, text: BOLT },
    });
    const report = await editor.sendRequest<{ readonly items: readonly Diagnostic[] }>('textDocument/diagnostic', {
      textDocument: { uri: URI },
    });
    expect(report.items.map((item) => item.code)).toEqual(['unit/missing']);
    expect(published).toEqual([]);
  });

  test('in a file that is used reach the file that uses it', async () => {
    await start();
    await open('use "b.fettle"\n\nfastener bolt {\n  thread M8\n  clamps lid to box\n  torque 20 N.m\n}\n');
    expect(latest().map((each) => each.code)).toContain('name/import-not-found');
    await open('part lid\n\npart box\n', 'file:///shop/b.fettle');
    const next = nextPublished();
    await editor.sendNotification('textDocument/didChange', {
      textDocument: { uri: URI, version: 2 },
      contentChanges: [
        { range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }, text: '# used\n' },
      ],
    });
    await next;
    expect(faults()).toEqual([]);
  });
});

describe('questions', () => {
  const SPEC =
    'part sump\n\npart block\n\nfastener sump-bolt x6 {\n  thread M6\n  clamps sump to block\n  torque 9 N.m\n}\n';
  const at = (line: number, character: number): object => ({
    textDocument: { uri: URI },
    position: { line, character },
  });

  test('hover, definition, references, highlights, rename', async () => {
    await start();
    await open(SPEC);
    const hover = await editor.sendRequest<{ readonly contents: { readonly value: string } }>(
      'textDocument/hover',
      at(6, 10),
    );
    expect(hover.contents.value).toContain('sump');
    expect(await editor.sendRequest('textDocument/definition', at(6, 10))).toEqual([
      { uri: URI, range: { start: { line: 0, character: 5 }, end: { line: 0, character: 9 } } },
    ]);
    expect(
      await editor.sendRequest('textDocument/references', { ...at(0, 6), context: { includeDeclaration: true } }),
    ).toHaveLength(2);
    const rename = await editor.sendRequest<{ readonly changes: Readonly<Record<string, readonly TextEdit[]>> }>(
      'textDocument/rename',
      { ...at(0, 6), newName: 'pan' },
    );
    expect(rename.changes[URI]?.map((edit) => edit.newText)).toEqual(['pan', 'pan']);
    await expect(editor.sendRequest('textDocument/rename', { ...at(0, 6), newName: 'block' })).rejects.toThrow(
      /name of something else/,
    );
    await expect(editor.sendRequest('textDocument/rename', { ...at(0, 6), newName: 'part' })).rejects.toThrow(
      /can't be a name/,
    );
  });

  test('completion knows parts, units and words', async () => {
    await start();
    await open(`${SPEC}\nsequence s {\n  phase assemble\n  step one {\n    fit \n  }\n}\n`);
    const labels = async (line: number, character: number): Promise<string[]> =>
      (
        await editor.sendRequest<readonly { readonly label: string }[]>('textDocument/completion', at(line, character))
      ).map((each) => each.label);
    expect(await labels(13, 8)).toEqual(expect.arrayContaining(['sump', 'block']));
    expect(await labels(7, 11)).toContain('N.m');
    expect(await labels(5, 2)).toContain('torque');
  });

  test('ways out, outline, folding, layout, semantic tokens', async () => {
    await start();
    await open(BOLT);
    const actions = await editor.sendRequest<
      readonly {
        readonly title: string;
        readonly edit: { readonly changes: Readonly<Record<string, readonly TextEdit[]>> };
      }[]
    >('textDocument/codeAction', {
      textDocument: { uri: URI },
      range: { start: { line: 2, character: 9 }, end: { line: 2, character: 10 } },
      context: { diagnostics: [] },
    });
    expect(actions[0]).toMatchObject({ title: 'Write 9 N.m' });
    expect(actions[0]?.edit.changes[URI]).toEqual([
      { range: { start: { line: 2, character: 10 }, end: { line: 2, character: 10 } }, newText: ' N.m' },
    ]);
    expect(await editor.sendRequest('textDocument/documentSymbol', { textDocument: { uri: URI } })).toMatchObject([
      { name: 'cover-bolt' },
    ]);
    expect(await editor.sendRequest('textDocument/foldingRange', { textDocument: { uri: URI } })).toMatchObject([
      { startLine: 0, endLine: 3 },
    ]);
    const tokens = await editor.sendRequest<{ readonly data: readonly number[] }>('textDocument/semanticTokens/full', {
      textDocument: { uri: URI },
    });
    expect(tokens.data.slice(0, 5)).toEqual([0, 0, 8, 0, 0]);
  });

  test('layout gives small edits, and none for a text that is laid out', async () => {
    await start();
    await open('part a { teeth 18 }\n');
    const edits = await editor.sendRequest<readonly TextEdit[]>('textDocument/formatting', {
      textDocument: { uri: URI },
      options: { tabSize: 2, insertSpaces: true },
    });
    expect(edits).toHaveLength(1);
    await open('part b\n', 'file:///shop/b.fettle');
    expect(
      await editor.sendRequest('textDocument/formatting', {
        textDocument: { uri: 'file:///shop/b.fettle' },
        options: { tabSize: 2, insertSpaces: true },
      }),
    ).toEqual([]);
  });

  test('help, a first spec and the bench sheet', async () => {
    await start();
    await open(SPEC);
    expect(await editor.sendRequest('fettle/explain', { code: 'unit/missing' })).toMatchObject({
      markdown: expect.stringContaining('# unit/missing'),
    });
    expect(await editor.sendRequest('fettle/explain', { code: 'no/such' })).toBeNull();
    expect(await editor.sendRequest('fettle/newSpec', { name: 'first', layout: '4 inline' })).toMatchObject({
      text: expect.stringContaining('spec first'),
    });
    expect(await editor.sendRequest('fettle/sheet', { uri: URI })).toMatchObject({
      html: expect.stringContaining('<!DOCTYPE html>'),
    });
  });

  test('a question about a file that is not there has an empty answer, and the server goes on', async () => {
    await start();
    expect(
      await editor.sendRequest('textDocument/hover', {
        textDocument: { uri: 'file:///shop/none.fettle' },
        position: { line: 0, character: 0 },
      }),
    ).toBeNull();
    expect(
      await editor.sendRequest('textDocument/hover', {
        textDocument: { uri: 'nonsense' },
        position: { line: 9e9, character: -4 },
      }),
    ).toBeNull();
    await open(BOLT);
    expect(latest()).toHaveLength(1);
  });
});
