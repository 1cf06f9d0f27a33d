// Names brought in from other files, the work on a thing, what covers what, and changes of how a spec is written: as any editor asks.
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { CodeAction, CompletionItem, Location, TextEdit, TypeHierarchyItem } from 'vscode-languageserver';
import { analyseText } from '../annotated.ts';
import { edited } from '../features/marked.ts';
import { type Editor, inMemory, URI } from './editor.ts';

let editor: Editor;
beforeEach(async () => {
  editor = await inMemory();
});
afterEach(() => editor.end());

const place = (text: string, piece: string, more = 0): { readonly line: number; readonly character: number } => {
  const before = text.slice(0, text.indexOf(piece) + more).split('\n');
  return { line: before.length - 1, character: (before[before.length - 1] ?? '').length };
};
const made = (text: string, edits: readonly TextEdit[]): string => {
  const starts = [0];
  for (const line of text.split('\n')) starts.push((starts[starts.length - 1] ?? 0) + line.length + 1);
  const at = ({ line, character }: TextEdit['range']['start']): number => (starts[line] ?? 0) + character;
  return edited(
    text,
    edits.map(({ range, newText }) => ({ start: at(range.start), end: at(range.end), text: newText })),
  );
};
async function actions(text: string, from: string, to: string, only?: string): Promise<readonly CodeAction[]> {
  return editor.ask<CodeAction[]>('textDocument/codeAction', {
    textDocument: { uri: URI },
    range: { start: place(text, from), end: place(text, to, to.length) },
    context: { diagnostics: [], ...(only === undefined ? {} : { only: [only] }) },
  });
}
const after = (text: string, action: CodeAction | undefined): string => made(text, action?.edit?.changes?.[URI] ?? []);
/** Errors and warnings, by code and how often. */
const codes = (text: string): readonly string[] =>
  analyseText(text)
    .findings.filter((each) => each.severity !== 'information')
    .map((each) => each.code)
    .sort();

describe('a name that another file declares', () => {
  const SHARED = 'part lid\n\nfastener lid-bolt x4 {\n  thread M6\n  class 8.8\n  clamps lid\n  torque 9 N.m\n}\n';
  const TEXT = 'spec s {\n  revision 1\n}\n\nsequence a {\n  step one {\n    tighten lid-bo\n  }\n}\n';
  beforeEach(async () => {
    await editor.start();
    await editor.open(SHARED, 'file:///shop/shared.fettle');
  });

  test('is offered, and brings its use line', async () => {
    await editor.open(TEXT);
    const found = await editor.ask<CompletionItem[]>('textDocument/completion', {
      textDocument: { uri: URI },
      position: place(TEXT, 'lid-bo', 6),
    });
    const own = found.find((each) => each.label === 'lid-bolt');
    expect(own?.detail).toBe('fastener of shared.fettle');
    expect(made(TEXT, own?.additionalTextEdits ?? [])).toBe(`use "shared.fettle"\n\n${TEXT}`);
    expect(found.some((each) => each.label === 'lid')).toBe(false);
    const bolts = TEXT.replace('lid-bo', 'm6-8');
    await editor.open(bolts, 'file:///shop/bolts.fettle');
    const more = await editor.ask<CompletionItem[]>('textDocument/completion', {
      textDocument: { uri: 'file:///shop/bolts.fettle' },
      position: place(bolts, 'm6-8', 4),
    });
    expect(more.find((each) => each.label === 'm6-8-8')?.detail).toBe('fastener of fettle:metric-bolts');
  });

  test('is brought in as a way out, where nothing else goes wrong by it', async () => {
    const text = TEXT.replace('tighten lid-bo', 'clean lid');
    await editor.open(text);
    const found = await actions(text, 'lid', 'lid', 'quickfix');
    expect(found[0]?.title).toBe('Use "shared.fettle", which has lid');
    expect(after(text, found[0])).toContain('use "shared.fettle"');
  });
});

const ENGINE = `part block

part wheel

part cover {
  covers wheel
}

fastener wheel-bolt x4 {
  thread M8x1.25
  class 8.8
  fitted oiled
  clamps wheel to block
  torque 20 N.m
}

fastener cover-bolt x6 {
  thread M8x1.25
  class 8.8
  fitted dry
  clamps cover to block
  torque 18 N.m
}

sequence build {
  phase assemble
  starts-with block

  step one {
    fit wheel onto block
    tighten wheel-bolt
    tool "a bar"
    fit cover onto block
    tighten cover-bolt
  }

  step two {
    clean cover
  }
}
`;

describe('from a part', () => {
  beforeEach(async () => {
    await editor.start();
    await editor.open(ENGINE);
  });

  test('to the work on it, on its bolts and on what covers it', async () => {
    const found = await editor.ask<Location[]>('textDocument/implementation', {
      textDocument: { uri: URI },
      position: place(ENGINE, 'part wheel', 6),
    });
    const lines = ENGINE.split('\n');
    expect(found.map((each) => lines[each.range.start.line]?.trim())).toEqual([
      'fit wheel onto block',
      'tighten wheel-bolt',
      'fit cover onto block',
    ]);
  });

  test('to what lies over it, and back', async () => {
    const [wheel] = await editor.ask<TypeHierarchyItem[]>('textDocument/prepareTypeHierarchy', {
      textDocument: { uri: URI },
      position: place(ENGINE, 'part wheel', 6),
    });
    const over = await editor.ask<TypeHierarchyItem[]>('typeHierarchy/supertypes', { item: wheel });
    expect(over.map((each) => each.name)).toEqual(['cover']);
    const under = await editor.ask<TypeHierarchyItem[]>('typeHierarchy/subtypes', { item: over[0] });
    expect(under.map((each) => each.name)).toEqual(['wheel']);
  });
});

describe('what is written otherwise says the same', () => {
  const job = `${ENGINE}\nspec s {\n  revision 1\n}\n\njob all of s {\n  begins bare\n  sequences build\n}\n`;
  test.each([
    [
      'the last lines of a step',
      ENGINE,
      'fit cover onto block',
      'tighten cover-bolt',
      'behind one',
      /step after-one \{\n {4}fit cover onto block\n {4}tighten cover-bolt\n {2}\}/,
    ],
    [
      'the first lines of a step',
      ENGINE,
      'fit wheel onto block',
      'tighten wheel-bolt',
      'before one',
      /step before-one \{\n {4}fit wheel onto block\n {4}tighten wheel-bolt\n {2}\}\n\n {2}step one/,
    ],
    [
      'the last step of a sequence',
      job,
      'two',
      'two',
      'sequence of its own',
      /sequence two-work \{\n {2}phase assemble[\s\S]*step two[\s\S]*sequences build, two-work/,
    ],
    [
      'bolts of one kind',
      ENGINE,
      'wheel-bolt x4',
      'wheel-bolt',
      'Let cover-bolt be like wheel-bolt',
      /fastener cover-bolt x6 \{\n {2}like wheel-bolt\n {2}fitted dry/,
    ],
  ])('%s', async (_what, text, from, to, title, wanted) => {
    await editor.start();
    await editor.open(text);
    const found = await actions(text, from, to, 'refactor');
    const own = found.find((each) => each.title.includes(title));
    const changed = after(text, own);
    expect(changed).toMatch(wanted);
    expect(codes(changed)).toEqual(codes(text));
  });

  test('a run of the middle is left, since the rest would be done before it', async () => {
    await editor.start();
    await editor.open(ENGINE);
    const found = await actions(ENGINE, 'tighten wheel-bolt', 'fit cover onto block', 'refactor.extract');
    expect(found.filter((each) => each.title.includes('marked lines'))).toEqual([]);
  });

  test('every figure in the other unit, behind it or in its place', async () => {
    await editor.start();
    const text = `spec s {\n  revision 1\n}\n\n${ENGINE}`;
    await editor.open(text);
    const found = await actions(text, 'spec', 'spec', 'refactor.rewrite');
    const both = after(
      text,
      found.find((each) => each.title.includes('both units')),
    );
    expect(both).toContain('torque 20 N.m (15 lbf.ft)');
    expect(codes(both)).toEqual(codes(text));
    const other = after(
      text,
      found.find((each) => each.title.includes('to the other unit')),
    );
    expect(other).toContain('torque 15 lbf.ft');
    expect(codes(other)).toEqual(codes(text));
  });

  test('the kind of bolts goes into a file that other specs use too, where the editor can make one', async () => {
    await editor.start({ workspace: { workspaceEdit: { documentChanges: true, resourceOperations: ['create'] } } });
    await editor.open(ENGINE);
    const [own] = (await actions(ENGINE, 'wheel-bolt x4', 'wheel-bolt', 'refactor.extract')).filter((each) =>
      each.title.includes('for other specs to use too'),
    );
    expect(own?.title).toBe(
      'Into common-fasteners.fettle, for other specs to use too: thread and class of wheel-bolt, cover-bolt',
    );
    const [create, shared, here] = (own?.edit?.documentChanges ?? []) as readonly {
      readonly kind?: string;
      readonly uri?: string;
      readonly edits?: readonly TextEdit[];
    }[];
    expect(create).toEqual({ kind: 'create', uri: 'file:///shop/common-fasteners.fettle' });
    const text = shared?.edits?.[0]?.newText ?? '';
    expect(text).toMatch(/fastener m8x1-25-8-8 "M8x1\.25, class 8\.8" \{\n {2}thread M8x1\.25\n {2}class 8\.8\n/);
    expect(codes(text)).toEqual([]);
    const changed = made(ENGINE, here?.edits ?? []);
    expect(changed).toMatch(/^use "common-fasteners\.fettle"/m);
    expect(changed.match(/like m8x1-25-8-8/g)).toHaveLength(2);
    expect(changed).not.toContain('class 8.8');
    await editor.open(text, 'file:///shop/common-fasteners.fettle');
    await editor.open(changed, 'file:///shop/b.fettle');
    const report = await editor.ask<{
      readonly items: readonly { readonly code: string; readonly severity: number }[];
    }>('textDocument/diagnostic', { textDocument: { uri: 'file:///shop/b.fettle' } });
    expect(
      report.items
        .filter((each) => each.severity < 3)
        .map((each) => each.code)
        .sort(),
    ).toEqual(codes(ENGINE));
  });

  test('no file is made in an editor that can not', async () => {
    await editor.start();
    await editor.open(ENGINE);
    const found = await actions(ENGINE, 'wheel-bolt x4', 'wheel-bolt', 'refactor.extract');
    expect(found.filter((each) => each.title.includes('other specs'))).toEqual([]);
  });
});
