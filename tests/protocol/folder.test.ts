// Files that are not open: read by the editor or from disk, in one folder, several or none; watched, renamed, taken away.
import { afterEach, describe, expect, test } from 'vitest';
import type { Diagnostic, WorkspaceDocumentDiagnosticReport } from 'vscode-languageserver';
import type { Host } from '../../server/workspace/api.ts';
import { resolveUse } from '../../server/workspace/paths.ts';
import { type Editor, inMemory, URI } from './editor.ts';

const USER = 'use "b.fettle"\n\nfastener bolt {\n  thread M8\n  clamps lid to box\n  torque 20 N.m\n}\n';
const faults = (found: readonly Diagnostic[]): readonly string[] =>
  found.filter((each) => (each.severity ?? 1) < 3).map((each) => String(each.code));
const OURS = { rootUri: 'file:///shop', initializationOptions: { clientReadsFiles: true } };

let editor: Editor;
afterEach(() => editor.end());

/** An editor whose folder holds these files. */
async function withFolder(files: Record<string, string>): Promise<Editor> {
  editor = await inMemory();
  editor.connection.onRequest('fettle/listFiles', () => ({ uris: Object.keys(files).sort() }));
  editor.connection.onRequest('fettle/readFile', ({ uri }: { readonly uri: string }) => {
    const text = files[uri];
    return text === undefined ? null : { text };
  });
  return editor;
}

/** A disk in memory. */
function disk(files: Readonly<Record<string, string>>): (roots: readonly string[]) => Host {
  return (roots) => ({ resolve: (from, path) => resolveUse(from, path, roots), read: (file) => files[file] });
}

describe('a folder that the editor reads', () => {
  test('is checked, file by file', async () => {
    await withFolder({ 'file:///shop/b.fettle': 'part lid {\n  mass 3\n}\n', 'file:///shop/c.fettle': 'part box\n' });
    const next = editor.nextPushed('file:///shop/b.fettle');
    await editor.start({}, OURS);
    expect(faults(await next)).toContain('unit/missing');
    expect(editor.pushed.map((each) => each.uri)).not.toContain('file:///shop/c.fettle');
  });

  test('gives what a spec uses', async () => {
    const files: Record<string, string> = { 'file:///shop/b.fettle': 'part lid\n\npart box\n' };
    await withFolder(files);
    await editor.start({}, OURS);
    await editor.open(USER);
    while (faults(editor.latest()).length > 0) await editor.nextPushed();
    files['file:///shop/b.fettle'] = 'part lid\n';
    let next = editor.nextPushed();
    await editor.tell('workspace/didChangeWatchedFiles', { changes: [{ uri: 'file:///shop/b.fettle', type: 2 }] });
    expect(faults(await next)).toContain('name/unknown');
    next = editor.nextPushed();
    delete files['file:///shop/b.fettle'];
    await editor.tell('workspace/didChangeWatchedFiles', { changes: [{ uri: 'file:///shop/b.fettle', type: 3 }] });
    expect(faults(await next)).toContain('name/import-not-found');
  });

  test('meets a use whatever way the editor spells its addresses', async () => {
    const uri = 'file:///shop/head%20%28new%29.fettle';
    await withFolder({ [uri]: 'part lid {\n  mass 3\n}\n\npart box\n' });
    const found = editor.nextPushed(uri);
    await editor.start({}, OURS);
    expect(faults(await found)).toContain('unit/missing');
    await editor.open(USER.replace('b.fettle', 'head (new).fettle'));
    while (faults(editor.latest()).length > 0) await editor.nextPushed();
    const link = await editor.ask('textDocument/documentLink', { textDocument: { uri: URI } });
    expect(link).toMatchObject([{ target: uri }]);
  });

  test('lets findings of a file that went go', async () => {
    const uri = 'file:///shop/b.fettle';
    await withFolder({ [uri]: 'part lid {\n  mass 3\n}\n' });
    let next = editor.nextPushed(uri);
    await editor.start({}, OURS);
    await next;
    next = editor.nextPushed(uri);
    await editor.tell('workspace/didChangeWatchedFiles', { changes: [{ uri, type: 3 }] });
    expect(await next).toEqual([]);
  });

  test('is told in a word what it has already, where the editor asks for findings', async () => {
    const uri = 'file:///shop/b.fettle';
    await withFolder({ [uri]: 'part lid {\n  mass 3\n}\n' });
    await editor.start({ textDocument: { diagnostic: {} } }, OURS);
    const ask = async (before: readonly object[]): Promise<readonly WorkspaceDocumentDiagnosticReport[]> => {
      const report = await editor.ask<{ readonly items: WorkspaceDocumentDiagnosticReport[] }>('workspace/diagnostic', {
        previousResultIds: before,
      });
      return report.items;
    };
    let items = await ask([]);
    while (items.length === 0) items = await ask([]);
    expect(items[0]).toMatchObject({ uri, kind: 'full', items: [{ code: 'unit/missing' }] });
    expect(await ask([{ uri, value: items[0]?.resultId }])).toMatchObject([{ uri, kind: 'unchanged' }]);
    expect(await ask([{ uri: 'file:///shop/gone.fettle', value: '9' }])).toMatchObject([
      { uri, kind: 'full' },
      { uri: 'file:///shop/gone.fettle', kind: 'full', items: [] },
    ]);
    expect(editor.pushed).toEqual([]);
  });

  test('may fail to be read: what is open is checked all the same', async () => {
    editor = await inMemory();
    editor.connection.onRequest('fettle/listFiles', () => {
      throw new Error('no such folder');
    });
    await editor.start({}, OURS);
    expect(faults(await editor.open('part p {\n  mass 3\n}\n'))).toContain('unit/missing');
    while (!editor.output.some((line) => line.includes('no such folder')))
      await editor.ask('fettle/explain', { code: '' });
  });
});

describe('a folder on disk', () => {
  const files = {
    'file:///shop/b.fettle': 'part lid\n\npart box\n',
    'file:///shop/deep/c.fettle': 'part p {\n  mass 3\n}\n',
    'file:///other/d.fettle': 'part q {\n  mass 4\n}\n',
    'file:///b.fettle': 'part lid\n\npart box\n',
  };
  const below = (root: string): readonly string[] => Object.keys(files).filter((uri) => uri.startsWith(`${root}/`));

  test('is read, and so is a second one', async () => {
    editor = await inMemory({ disk: disk(files), filesBelow: below });
    const both = [editor.nextPushed('file:///shop/deep/c.fettle'), editor.nextPushed('file:///other/d.fettle')];
    const workspaceFolders = [
      { uri: 'file:///shop', name: 'shop' },
      { uri: 'file:///other', name: 'other' },
    ];
    await editor.start({ workspace: { workspaceFolders: true } }, { workspaceFolders });
    expect((await Promise.all(both)).map(faults)).toEqual(
      [
        ['unit/missing', 'name/unused'],
        ['unit/missing', 'name/unused'],
      ].map((each) => expect.arrayContaining([each[0]])),
    );
    const gone = editor.nextPushed('file:///other/d.fettle');
    await editor.tell('workspace/didChangeWorkspaceFolders', {
      event: { added: [], removed: [{ uri: 'file:///other', name: 'other' }] },
    });
    expect(await gone).toEqual([]);
  });

  test('gives what a spec uses; a path out of it is not followed', async () => {
    editor = await inMemory({ disk: disk(files) });
    await editor.start();
    expect(faults(await editor.open(USER))).toEqual([]);
    const outside = USER.replace('b.fettle', '../b.fettle');
    expect(faults(await editor.open(outside, 'file:///shop/e.fettle'))).toContain('name/import-outside');
  });

  test('without a folder a spec and what lies beside it are checked', async () => {
    editor = await inMemory({ disk: disk(files) });
    await editor.start({}, {});
    expect(faults(await editor.open(USER))).toEqual([]);
    expect(faults(await editor.open('part p {\n  mass 3\n}\n', 'untitled:Untitled-1'))).toContain('unit/missing');
  });
});

test('renaming a part reaches the spec that uses its file, and not the one beside it', async () => {
  await withFolder({
    'file:///shop/b.fettle': 'part lid\n\npart box\n',
    'file:///shop/alone.fettle': 'part lid\n\npart box\n',
  });
  await editor.start({}, OURS);
  await editor.open(USER);
  while (faults(editor.latest()).length > 0) await editor.nextPushed();
  const edit = await editor.ask<{ readonly changes: object }>('textDocument/rename', {
    textDocument: { uri: URI },
    position: { line: 4, character: 10 },
    newName: 'cover',
  });
  expect(Object.keys(edit.changes).sort()).toEqual([URI, 'file:///shop/b.fettle']);
});

test('renaming a part that many specs use reaches all of them, and a name that one of them has is refused', async () => {
  const users = Array.from({ length: 30 }, (_, i) => `file:///shop/u${String(i).padStart(2, '0')}.fettle`);
  const last = 'file:///shop/z.fettle';
  await withFolder({
    'file:///shop/b.fettle': 'part lid\n\npart box\n',
    ...Object.fromEntries(users.map((uri) => [uri, USER])),
    [last]: 'use "b.fettle"\n\nsequence build {\n  phase assemble\n  step one {\n    fit lid onto box\n  }\n}\n',
  });
  await editor.start({}, OURS);
  await editor.open(USER);
  while (faults(editor.latest()).length > 0) await editor.nextPushed();
  const rename = (newName: string): Promise<{ readonly changes: Readonly<Record<string, readonly unknown[]>> }> =>
    editor.ask('textDocument/rename', { textDocument: { uri: URI }, position: { line: 4, character: 10 }, newName });
  const { changes } = await rename('cover-plate');
  expect(Object.keys(changes).sort()).toEqual([URI, 'file:///shop/b.fettle', last, ...users].sort());
  await expect(rename('build')).rejects.toThrow(/is the name of something else/);
});

test('a file that gets another name takes the use lines along', async () => {
  await withFolder({ 'file:///shop/b.fettle': 'part lid\n\npart box\n' });
  await editor.start({}, OURS);
  await editor.open(USER);
  const files = [{ oldUri: 'file:///shop/b.fettle', newUri: 'file:///shop/lids.fettle' }];
  expect(await editor.ask('workspace/willRenameFiles', { files })).toMatchObject({
    changes: { [URI]: [{ newText: '"lids.fettle"' }] },
  });
});

test('an editor that shows progress is told when a folder is being read, and when it has been', async () => {
  editor = await inMemory({
    disk: disk({ 'file:///shop/b.fettle': 'part lid\n' }),
    filesBelow: () => ['file:///shop/b.fettle'],
  });
  const told: { readonly value: { readonly kind: string; readonly message?: string } }[] = [];
  let end: () => void = () => undefined;
  const ended = new Promise<void>((resolve) => {
    end = resolve;
  });
  editor.connection.onRequest('window/workDoneProgress/create', () => null);
  editor.connection.onNotification('$/progress', (params: (typeof told)[number]) => {
    told.push(params);
    if (params.value.kind === 'end') end();
  });
  editor.connection.onUnhandledProgress((params) => {
    told.push(params as (typeof told)[number]);
    if (told.at(-1)?.value.kind === 'end') end();
  });
  await editor.start({ window: { workDoneProgress: true } });
  await ended;
  expect(told.map((each) => each.value.kind)).toEqual(['begin', 'end']);
  expect(told[0]?.value.message).toMatch(/folder/);
});

describe('files that come and go', () => {
  const B = 'file:///shop/b.fettle';
  const told = async (changes: readonly object[]): Promise<void> => {
    await editor.tell('workspace/didChangeWatchedFiles', { changes });
  };
  const settled = async (ends: (codes: readonly unknown[]) => boolean): Promise<void> => {
    while (!ends(faults(editor.latest()))) await editor.nextPushed(URI);
  };
  const cases = [
    ['through the editor', async (files: Record<string, string>) => withFolder(files), OURS],
    [
      'on disk',
      async (files: Record<string, string>) => {
        editor = await inMemory({
          disk: () => ({ ...disk({})([]), read: (file: string) => files[file] }),
          filesBelow: (root: string) => Object.keys(files).filter((uri) => uri.startsWith(`${root}/`)),
        });
      },
      {},
    ],
  ] as const;

  test.each(cases)('%s: made, deleted, made again', async (_how, withFiles, options) => {
    const files: Record<string, string> = {};
    await withFiles(files);
    await editor.start({}, options);
    await editor.open(USER);
    await settled((codes) => codes.includes('name/import-not-found'));
    for (let i = 0; i < 2; i += 1) {
      files[B] = 'part lid\n\npart box\n';
      await told([{ uri: B, type: 1 }]);
      await settled((codes) => codes.length === 0);
      delete files[B];
      await told([{ uri: B, type: 3 }]);
      await settled((codes) => codes.includes('name/import-not-found'));
    }
  });

  test.each(cases)('%s: a folder goes with its files, and comes back', async (_how, withFiles, options) => {
    const files: Record<string, string> = { 'file:///shop/common/b.fettle': 'part lid\n\npart box\n' };
    await withFiles(files);
    await editor.start({}, options);
    await editor.open(USER.replace('b.fettle', 'common/b.fettle'));
    await settled((codes) => codes.length === 0);
    delete files['file:///shop/common/b.fettle'];
    await told([{ uri: 'file:///shop/common', type: 3 }]);
    await settled((codes) => codes.includes('name/import-not-found'));
    files['file:///shop/common/b.fettle'] = 'part lid\n\npart box\n';
    await told([{ uri: 'file:///shop/common', type: 1 }]);
    await settled((codes) => codes.length === 0);
  });

  test.each(cases)('%s: a file that gets another name', async (_how, withFiles, options) => {
    const files: Record<string, string> = { [B]: 'part lid\n\npart box\n' };
    await withFiles(files);
    await editor.start({}, options);
    await editor.open(USER);
    await settled((codes) => codes.length === 0);
    delete files[B];
    files['file:///shop/c.fettle'] = 'part lid\n\npart box\n';
    await editor.tell('workspace/didRenameFiles', { files: [{ oldUri: B, newUri: 'file:///shop/c.fettle' }] });
    await settled((codes) => codes.includes('name/import-not-found'));
  });
});

test('a new name that would change what a spec says is refused with a sentence, and one that does not is made', async () => {
  editor = await inMemory();
  await editor.start();
  await editor.open(
    'spec s {\n  variants van, saloon\n}\n\nwhen van {\n  part lid {\n    dimension bore 3 mm\n  }\n}\n',
  );
  const rename = (line: number, character: number, newName: string): Promise<{ readonly changes: object }> =>
    editor.ask('textDocument/rename', { textDocument: { uri: URI }, position: { line, character }, newName });
  await expect(rename(6, 16, 'wall')).rejects.toThrow(/Thickness of a bearing shell/);
  expect(Object.values((await rename(4, 6, 'truck')).changes)[0]).toHaveLength(2);
});
