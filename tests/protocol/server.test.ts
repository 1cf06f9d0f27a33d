// The language server as any editor would talk to it: over a pair of streams in memory, and as the worker that a browser runs.
import { afterAll, afterEach, beforeEach, describe, expect, test } from 'vitest';
import type {
  CallHierarchyItem,
  CodeAction,
  CompletionItem,
  Diagnostic,
  Hover,
  Location,
  SemanticTokens,
  SignatureHelp,
  TextEdit,
  WorkspaceEdit,
} from 'vscode-languageserver';
import { timingSide } from '../rehearsal/work.ts';
import { type Editor, forgetBundle, inMemory, inWorker, URI } from './editor.ts';

const faults = (found: readonly Diagnostic[]): readonly Diagnostic[] =>
  found.filter((each) => (each.severity ?? 1) < 3);
const BOLT = 'fastener cover-bolt x6 {\n  thread M6\n  torque 9\n}\n';
const SPEC =
  'part sump\n\npart block\n\nfastener sump-bolt x6 {\n  thread M6\n  clamps sump to block\n  torque 9 N.m\n}\n';
const at = (line: number, character: number, uri = URI): object => ({
  textDocument: { uri },
  position: { line, character },
});
const range = (line: number, from: number, to: number): object => ({
  start: { line, character: from },
  end: { line, character: to },
});

afterAll(forgetBundle);

describe.each([
  ['in memory', inMemory],
  ['as a worker', inWorker],
] as const)('%s', (_where, launch) => {
  let editor: Editor;
  beforeEach(async () => {
    editor = await launch();
  }, 30_000);
  afterEach(() => editor.end());

  describe('findings', () => {
    test('are pushed with version, code, source, place and ways out', async () => {
      await editor.start();
      const [found] = await editor.open(BOLT);
      expect(editor.pushed[0]).toMatchObject({ uri: URI, version: 1 });
      expect(found).toMatchObject({
        code: 'unit/missing',
        source: 'fettle',
        severity: 1,
        range: range(2, 9, 10),
        data: { fixes: [{ title: 'Write 9 N.m', changes: { [URI]: [{ newText: ' N.m' }] } }] },
      });
    });

    test('follow a change, and go when the file closes', async () => {
      await editor.start();
      await editor.open(BOLT);
      expect(faults(await editor.edit(2, 10, 10, ' N.m'))).toEqual([]);
      expect(editor.pushed.at(-1)).toMatchObject({ version: 2 });
      const next = editor.nextPushed();
      await editor.tell('textDocument/didClose', { textDocument: { uri: URI } });
      await next;
      expect(editor.pushed.at(-1)).toEqual({ uri: URI, diagnostics: [] });
    });

    test('of a burst of keys come once, for the last version', async () => {
      await editor.start();
      await editor.open(BOLT);
      const before = editor.pushed.length;
      const next = editor.nextPushed();
      for (let key = 0; key < 20; key += 1)
        void editor.tell('textDocument/didChange', {
          textDocument: { uri: URI, version: 2 + key },
          contentChanges: [{ range: range(2, 10, 10), text: '1' }],
        });
      await next;
      await editor.ask('textDocument/hover', at(0, 0));
      expect(editor.pushed.at(-1)).toMatchObject({ version: 21 });
      expect(editor.pushed.length - before).toBeLessThan(5);
    });

    test('are given on asking, and not pushed as well, where the editor asks', async () => {
      const capabilities = await editor.start({ textDocument: { diagnostic: {} } });
      expect(capabilities.diagnosticProvider).toBeDefined();
      await editor.tell('textDocument/didOpen', {
        textDocument: { uri: URI, languageId: 'fettle', version: 1, text: BOLT },
      });
      const report = await editor.ask<{ readonly items: readonly Diagnostic[]; readonly resultId: string }>(
        'textDocument/diagnostic',
        { textDocument: { uri: URI } },
      );
      expect(report.items.map((item) => item.code)).toEqual(['unit/missing']);
      expect(
        await editor.ask('textDocument/diagnostic', { textDocument: { uri: URI }, previousResultId: report.resultId }),
      ).toEqual({ kind: 'unchanged', resultId: report.resultId });
      expect(editor.pushed).toEqual([]);
    });

    test('are not given again after an edit that leaves them and their lines as they are', async () => {
      await editor.start({ textDocument: { diagnostic: {} } });
      await editor.tell('textDocument/didOpen', {
        textDocument: { uri: URI, languageId: 'fettle', version: 1, text: `# A cover.\n${BOLT}` },
      });
      let previousResultId: string | undefined;
      const ask = async (): Promise<{ readonly kind: string; readonly items?: readonly Diagnostic[] }> => {
        const report = await editor.ask<{ kind: string; resultId: string; items?: readonly Diagnostic[] }>(
          'textDocument/diagnostic',
          { textDocument: { uri: URI }, previousResultId },
        );
        previousResultId = report.resultId;
        return report;
      };
      let version = 1;
      const type = async (line: number, character: number, text: string): Promise<void> => {
        version += 1;
        await editor.tell('textDocument/didChange', {
          textDocument: { uri: URI, version },
          contentChanges: [{ range: range(line, character, character), text }],
        });
      };
      expect((await ask()).items?.map(({ range: { start } }) => start.line)).toEqual([3]);
      await type(0, 10, ' Of tin.');
      expect((await ask()).kind).toBe('unchanged');
      await type(0, 0, '\n');
      expect((await ask()).items?.map(({ range: { start } }) => start.line)).toEqual([4]);
      await type(4, 10, ' N.m');
      expect((await ask()).items?.map(({ code }) => code)).not.toContain('unit/missing');
    });

    test('in a file that uses another follow it: opened, changed, closed', async () => {
      await editor.start();
      const user = await editor.open(
        'use "b.fettle"\n\nfastener bolt {\n  thread M8\n  clamps lid to box\n  torque 20 N.m\n}\n',
      );
      expect(user.map((each) => each.code)).toContain('name/import-not-found');
      const used = 'file:///shop/b.fettle';
      let next = editor.nextPushed();
      await editor.open('part lid\n\npart box\n', used);
      expect(faults(await next)).toEqual([]);
      next = editor.nextPushed();
      await editor.edit(0, 7, 8, 'p', used);
      expect((await next).map((each) => each.code)).toContain('name/unknown');
      next = editor.nextPushed();
      await editor.tell('textDocument/didClose', { textDocument: { uri: used } });
      expect((await next).map((each) => each.code)).toContain('name/import-not-found');
    });

    test('stand where they must after an emoji, and in a text with \\r\\n', async () => {
      await editor.start();
      const [found] = await editor.open('part p "😀" {\r\n  mass 9\r\n}\r\n');
      expect(found).toMatchObject({ code: 'unit/missing', range: range(1, 7, 8) });
      const [same] = await editor.edit(0, 8, 10, '😀😀');
      expect(same).toMatchObject({ range: range(1, 7, 8) });
      const [moved] = await editor.edit(1, 0, 0, '\r\n');
      expect(moved).toMatchObject({ range: range(2, 7, 8) });
    });
  });

  describe('questions', () => {
    test('hover, definition, references, highlights, rename', async () => {
      await editor.start();
      await editor.open(SPEC);
      const hover = await editor.ask<Hover>('textDocument/hover', at(6, 10));
      expect(hover.contents).toMatchObject({ value: expect.stringContaining('sump') });
      expect(await editor.ask('textDocument/definition', at(6, 10))).toEqual([{ uri: URI, range: range(0, 5, 9) }]);
      const references = { ...at(0, 6), context: { includeDeclaration: true } };
      expect(await editor.ask<Location[]>('textDocument/references', references)).toHaveLength(2);
      expect(await editor.ask<unknown[]>('textDocument/documentHighlight', at(0, 6))).toHaveLength(2);
      expect(await editor.ask('textDocument/prepareRename', at(0, 6))).toMatchObject({ placeholder: 'sump' });
      const rename = await editor.ask<WorkspaceEdit>('textDocument/rename', { ...at(0, 6), newName: 'pan' });
      expect(rename.changes?.[URI]?.map((edit) => edit.newText)).toEqual(['pan', 'pan']);
      await expect(editor.ask('textDocument/rename', { ...at(0, 6), newName: 'block' })).rejects.toThrow(
        /name of something else/,
      );
      await expect(editor.ask('textDocument/rename', { ...at(0, 6), newName: 'part' })).rejects.toThrow(
        /can't be a name/,
      );
    });

    test('what a step needs, and what needs it', async () => {
      const steps =
        'sequence s {\n  starts-with block\n  step one {\n    fit sump onto block\n  }\n  step two {\n    tighten sump-bolt\n  }\n}\n';
      await editor.start();
      await editor.open(`${SPEC}\n${steps}`);
      const [item] = await editor.ask<CallHierarchyItem[]>('textDocument/prepareCallHierarchy', at(15, 8));
      expect(item).toMatchObject({ name: 'two', uri: URI, selectionRange: range(15, 7, 10) });
      expect(await editor.ask('callHierarchy/outgoingCalls', { item })).toMatchObject([
        { to: { name: 'one', detail: expect.stringContaining('fits sump') }, fromRanges: [range(16, 12, 21)] },
      ]);
      const [one] = await editor.ask<CallHierarchyItem[]>('textDocument/prepareCallHierarchy', at(12, 7));
      expect(await editor.ask('callHierarchy/incomingCalls', { item: one })).toMatchObject([{ from: { name: 'two' } }]);
      expect(await editor.ask('textDocument/prepareCallHierarchy', at(0, 6))).toBeNull();
    });

    test('edits name the version that they are for, where the editor heeds it', async () => {
      await editor.start({ workspace: { workspaceEdit: { documentChanges: true } } });
      await editor.open(SPEC);
      expect(await editor.ask('textDocument/rename', { ...at(0, 6), newName: 'pan' })).toMatchObject({
        documentChanges: [{ textDocument: { uri: URI, version: 1 } }],
      });
    });

    test('completion, and more of one that is looked at', async () => {
      await editor.start();
      await editor.open(`${SPEC}\nsequence s {\n  phase assemble\n  step one {\n    fit \n  }\n}\n`);
      const items = async (line: number, character: number): Promise<readonly CompletionItem[]> =>
        editor.ask('textDocument/completion', at(line, character));
      const parts = await items(13, 8);
      expect(parts.map((each) => each.label)).toEqual(expect.arrayContaining(['sump', 'block']));
      const sump = parts.find((each) => each.label === 'sump');
      expect(await editor.ask('completionItem/resolve', sump)).toMatchObject({
        documentation: { value: expect.stringContaining('part sump') },
      });
      const words = await items(5, 2);
      const torque = words.find((each) => each.label === 'torque');
      expect(torque).toMatchObject({ textEdit: { newText: 'torque' } });
      expect(await editor.ask('completionItem/resolve', torque)).toMatchObject({
        documentation: { value: expect.stringContaining('torque 30 N.m') },
      });
    });

    test('the form of a statement', async () => {
      await editor.start();
      await editor.open('part p {\n  dimension bore x4 \n}\n');
      const help = await editor.ask<SignatureHelp>('textDocument/signatureHelp', at(1, 20));
      expect(help).toMatchObject({
        activeParameter: 2,
        signatures: [{ label: expect.stringMatching(/^dimension NAME/) }],
      });
    });

    test('ways out, and the help page of what is found in an editor that shows it', async () => {
      await editor.start({}, { rootUri: null, initializationOptions: { clientReadsFiles: true } });
      await editor.open(BOLT);
      const actions = await editor.ask<CodeAction[]>('textDocument/codeAction', {
        textDocument: { uri: URI },
        range: range(2, 9, 10),
        context: { diagnostics: [] },
      });
      expect(actions[0]).toMatchObject({ title: 'Write 9 N.m', isPreferred: true });
      expect(actions[0]?.edit?.changes?.[URI]).toEqual([{ range: range(2, 10, 10), newText: ' N.m' }]);
      expect(actions.at(-1)).toMatchObject({ command: { command: 'fettle.explain', arguments: ['unit/missing'] } });
    });

    test('outline, search of the folder, folds, links', async () => {
      await editor.start();
      await editor.open('part lid\n', 'file:///shop/b.fettle');
      await editor.open(`use "b.fettle"\n\n${SPEC}`);
      expect(await editor.ask('textDocument/documentSymbol', { textDocument: { uri: URI } })).toMatchObject([
        { name: 'b.fettle' },
        { name: 'sump' },
        { name: 'block' },
        { name: 'sump-bolt', range: { start: { line: 6 }, end: { line: 10 } } },
      ]);
      expect(await editor.ask('workspace/symbol', { query: 'LID' })).toMatchObject([
        { name: 'lid', location: { uri: 'file:///shop/b.fettle' } },
      ]);
      expect(await editor.ask('textDocument/foldingRange', { textDocument: { uri: URI } })).toMatchObject([
        { startLine: 6, endLine: 10 },
      ]);
      expect(await editor.ask('textDocument/documentLink', { textDocument: { uri: URI } })).toMatchObject([
        { target: 'file:///shop/b.fettle', range: range(0, 4, 14) },
      ]);
    });

    test('colours: all, what changed since, and a stretch', async () => {
      await editor.start();
      await editor.open(SPEC);
      const all = await editor.ask<SemanticTokens>('textDocument/semanticTokens/full', { textDocument: { uri: URI } });
      expect(all.data.slice(0, 5)).toEqual([0, 0, 4, 0, 0]);
      await editor.edit(0, 5, 9, 'pan');
      const delta = await editor.ask<{
        readonly edits: readonly { readonly start: number; readonly data: number[] }[];
      }>('textDocument/semanticTokens/full/delta', { textDocument: { uri: URI }, previousResultId: all.resultId });
      expect(delta.edits).toHaveLength(1);
      expect(delta.edits[0]?.data?.length ?? 99).toBeLessThan(10);
      const some = await editor.ask<SemanticTokens>('textDocument/semanticTokens/range', {
        textDocument: { uri: URI },
        range: range(2, 0, 10),
      });
      expect(some.data).toEqual([2, 0, 4, 0, 0, 0, 5, 5, 1, 1]);
    });

    test('layout gives edits of single lines, and none for a text that is laid out', async () => {
      await editor.start();
      await editor.open('part a\n\npart b { teeth 18 }\n');
      const options = { tabSize: 2, insertSpaces: true };
      const edits = await editor.ask<TextEdit[]>('textDocument/formatting', { textDocument: { uri: URI }, options });
      expect(edits).toEqual([
        {
          range: { start: { line: 2, character: 0 }, end: { line: 3, character: 0 } },
          newText: 'part b {\n  teeth 18\n}\n',
        },
      ]);
      const clean = 'file:///shop/b.fettle';
      await editor.open('part b\n', clean);
      expect(await editor.ask('textDocument/formatting', { textDocument: { uri: clean }, options })).toEqual([]);
      await editor.open('part  c {\n matched\n}\n\npart   d\n', 'file:///shop/c.fettle');
      expect(
        await editor.ask<TextEdit[]>('textDocument/onTypeFormatting', {
          ...at(2, 1, 'file:///shop/c.fettle'),
          ch: '}',
          options,
        }),
      ).toHaveLength(2);
    });

    test('help, a first spec and the bench sheet', async () => {
      await editor.start();
      await editor.open(SPEC);
      expect(await editor.ask('fettle/explain', { code: 'unit/missing' })).toMatchObject({
        markdown: expect.stringContaining('# unit/missing'),
      });
      expect(await editor.ask('fettle/explain', { code: 'no/such' })).toBeNull();
      expect(await editor.ask('fettle/newSpec', { name: 'first', layout: '4 inline' })).toMatchObject({
        text: expect.stringContaining('spec first'),
      });
      expect(await editor.ask('fettle/sheet', { uri: URI })).toMatchObject({
        html: expect.stringContaining('<!DOCTYPE html>'),
      });
      expect(await editor.ask('fettle/unsaid', { uri: URI })).toMatchObject({
        text: expect.stringContaining('would tell'),
      });
      expect(await editor.ask('fettle/unsaid', { uri: 'file:///nowhere/else.fettle' })).toBeNull();
    });

    test('hints heed the settings, and their change', async () => {
      let otherUnits = false;
      editor.connection.onRequest('workspace/configuration', () => [{ otherUnits, results: true }]);
      await editor.start({ workspace: { configuration: true } });
      await editor.open(SPEC);
      const hints = (): Promise<readonly { readonly label: string }[]> =>
        editor.ask('textDocument/inlayHint', {
          textDocument: { uri: URI },
          range: { start: { line: 0, character: 0 }, end: { line: 9, character: 0 } },
        });
      expect(await hints()).toEqual([]);
      otherUnits = true;
      await editor.tell('workspace/didChangeConfiguration', { settings: null });
      expect((await hints()).map((each) => each.label)).toEqual(['= 6.6 lbf.ft']);
    });

    test('where marks and links stand after a rotate is shown behind it, unless the setting says no', async () => {
      let marks = true;
      editor.connection.onRequest('workspace/configuration', () => [{ marks }]);
      await editor.start({ workspace: { configuration: true } });
      await editor.open(
        timingSide({ crank: 18, cam: 36, links: 56 }, 'rotate crankshaft 2 turns\nconfirm cam-drive by marks'),
      );
      const hints = (): Promise<readonly { readonly label: string }[]> =>
        editor.ask('textDocument/inlayHint', {
          textDocument: { uri: URI },
          range: { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } },
        });
      expect((await hints()).map((each) => each.label)).toEqual([
        'marks agree; marked links 36 links past their marks, of 56',
      ]);
      marks = false;
      await editor.tell('workspace/didChangeConfiguration', { settings: null });
      expect(await hints()).toEqual([]);
    });

    test('about a file that is not there, or a place that is not, has an empty answer', async () => {
      await editor.start();
      expect(await editor.ask('textDocument/hover', at(0, 0, 'file:///shop/none.fettle'))).toBeNull();
      expect(await editor.ask('textDocument/hover', at(9e9, -4, 'nonsense'))).toBeNull();
      expect(await editor.open(BOLT)).toHaveLength(1);
      expect(await editor.ask('textDocument/hover', at(9e9, 9e9))).toBeNull();
    });
  });
});

test('the code of a finding leads to its help, where the editor opens links and has no page of ours', async () => {
  const editor = await inMemory({ help: 'file:///fettle/help.html' });
  await editor.start({ textDocument: { publishDiagnostics: { codeDescriptionSupport: true } } });
  const [found] = await editor.open('part p {\n  mass 3\n}\n');
  expect(found?.codeDescription).toEqual({ href: 'file:///fettle/help.html#unit/missing' });
  await editor.end();
  const plain = await inMemory({ help: 'file:///fettle/help.html' });
  await plain.start();
  expect((await plain.open('part p {\n  mass 3\n}\n'))[0]).not.toHaveProperty('codeDescription');
  await plain.end();
});
