// Completion, hover, ways out and rename by place: each word of the vocabulary has a row in words.ts.
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type {
  CodeAction,
  CompletionItem,
  DocumentDiagnosticReport,
  Hover,
  Location,
  TextEdit,
  WorkspaceEdit,
} from 'vscode-languageserver';
import { ACTIONS, CHANGES, CLAUSES, DECLARATIONS, STAGES, STATEMENTS } from '../../grammar/vocabulary.ts';
import { type Editor, inMemory } from './editor.ts';
import { BASE, CLAUSE_ROWS, DECLARATION_ROWS, HEADS, STAGE_ROWS, STATEMENT_ROWS } from './words.ts';

let editor: Editor;
beforeAll(async () => {
  editor = await inMemory();
  await editor.start({ textDocument: { diagnostic: {} } });
});
afterAll(() => editor.end());

const URI = 'file:///shop/by-place.fettle';
const lineOf = (text: string, offset: number): { readonly line: number; readonly character: number } => {
  const before = text.slice(0, offset).split('\n');
  return { line: before.length - 1, character: (before[before.length - 1] ?? '').length };
};

/** Puts a text into the one document; all begin with the same spec, so that only what stands behind it is read anew. */
let written = '';
let version = 1;
async function put(text: string): Promise<void> {
  if (written === '')
    await editor.tell('textDocument/didOpen', { textDocument: { uri: URI, languageId: 'fettle', version, text } });
  else {
    version += 1;
    await editor.tell('textDocument/didChange', {
      textDocument: { uri: URI, version },
      contentChanges: [
        {
          range: { start: lineOf(written, BASE.length), end: lineOf(written, written.length) },
          text: text.slice(BASE.length),
        },
      ],
    });
  }
  written = text;
}

const ask = <answer>(question: string, offset: number, more: object = {}): Promise<answer> =>
  editor.ask<answer>(`textDocument/${question}`, {
    textDocument: { uri: URI },
    position: lineOf(written, offset),
    ...more,
  });

const offered = async (text: string, ...offsets: readonly number[]): Promise<readonly (readonly string[])[]> => {
  await put(text);
  const found = await Promise.all(offsets.map((offset) => ask<CompletionItem[]>('completion', offset)));
  return found.map((each) => each.map(({ label }) => label));
};

const hovered = async (text: string, offset: number): Promise<string> => {
  await put(text);
  const found = await ask<Hover | null>('hover', offset);
  const value = found === null ? '' : (found.contents as { readonly value: string }).value;
  return value.replaceAll('\\', '');
};

const titles = async (text: string, offset: number): Promise<readonly string[]> => {
  await put(text);
  const here = lineOf(text, offset);
  const found = await ask<CodeAction[]>('codeAction', offset, {
    range: { start: here, end: here },
    context: { diagnostics: [], only: ['quickfix'] },
  });
  return found.map((each) => each.title);
};

const codes = async (): Promise<readonly string[]> => {
  const report = await editor.ask<DocumentDiagnosticReport>('textDocument/diagnostic', { textDocument: { uri: URI } });
  return report.kind === 'full' ? report.items.map((each) => String(each.code)) : [];
};

/** Two letters of one, or a letter too few: as a hand slips. */
function misspelt(word: string): string {
  return word.length < 5 ? `${word}${word.slice(-1)}` : word.slice(0, 2) + word.slice(3);
}

/** Where the usual slip is another word of the language. */
const SLIPS: ReadonlyMap<string, string> = new Map([['bleed', 'bleeed']]);

describe('each word that begins a statement', () => {
  const rows = STATEMENT_ROWS.map(
    ([block, line, offers, renamed]) => [`${block}: ${line.split(' ')[0]}`, block, line, offers, renamed] as const,
  );
  test.each(rows)('%s', async (_title, block, line, offers, renamed) => {
    const [before, after] = HEADS[block];
    const word = line.split(' ')[0] ?? '';
    const head = BASE + before;
    const known = [...STATEMENTS, ...ACTIONS].find(
      (row) => row.word === word && (row.in as readonly string[]).includes(block),
    );
    const [begun, behind] = await offered(`${head}${word} ${after}`, head.length + 2, head.length + word.length + 1);
    expect(begun).toContain(word);
    expect(behind).toEqual(expect.arrayContaining([...offers]));
    expect(await hovered(head + line + after, head.length + 1)).toContain(known?.help);
    const wrong = SLIPS.get(word) ?? misspelt(word);
    // Among grades any other word is the name of a grade.
    if (block !== 'grades')
      expect(await titles(head + line.replace(word, wrong) + after, head.length + 1)).toContain(
        `Change ${wrong} to ${word}`,
      );
    if (renamed !== undefined) await renames(head + line + after, head.length + line.indexOf(renamed));
  });

  test('there is a row for each of them in each block, and none for what is no word', () => {
    const wanted = [...STATEMENTS, ...ACTIONS].flatMap((row) =>
      'inChange' in row && row.inChange === true
        ? []
        : row.in.length === Object.keys(HEADS).length
          ? [`part ${row.word}`]
          : row.in.map((block) => `${block} ${row.word}`),
    );
    const there = STATEMENT_ROWS.map(([block, line]) => `${block} ${line.split(' ')[0]}`);
    expect([...there].sort(), 'the rows are STATEMENT_ROWS in tests/protocol/words.ts').toEqual(
      [...new Set(wanted)].sort(),
    );
  });
});

/** A name takes a new one everywhere, and the spec says as much as before. */
async function renames(text: string, offset: number): Promise<void> {
  await put(text);
  const before = await codes();
  const places = await ask<Location[]>('references', offset, { context: { includeDeclaration: true } });
  const edit = await ask<WorkspaceEdit>('rename', offset, { newName: 'new-name' });
  const edits: readonly TextEdit[] = edit.changes?.[URI] ?? [];
  expect(edits.length).toBeGreaterThan(1);
  expect(edits.length).toBe(places.length);
  const starts = [0];
  for (const line of text.split('\n')) starts.push((starts[starts.length - 1] ?? 0) + line.length + 1);
  const at = ({ line, character }: { readonly line: number; readonly character: number }): number =>
    (starts[line] ?? 0) + character;
  const renamed = [...edits]
    .sort((a, b) => at(b.range.start) - at(a.range.start))
    .reduce((now, { range, newText }) => now.slice(0, at(range.start)) + newText + now.slice(at(range.end)), text);
  await editor.tell('textDocument/didClose', { textDocument: { uri: URI } });
  written = '';
  await put(renamed);
  expect(await codes()).toEqual(before);
  await editor.tell('textDocument/didClose', { textDocument: { uri: URI } });
  written = '';
}

describe('each word inside a statement', () => {
  const rows = CLAUSE_ROWS.map((row) => [row[0], ...row] as const);
  test.each(rows)('%s', async (_title, word, block, line, offers) => {
    const [before, after] =
      block === 'head' ? ['', '\n'] : block === 'limit-head' ? ['limit float\n  ', '\n'] : HEADS[block];
    const head = BASE + before;
    const [seen] = await offered(`${head}${line} ${after}`, head.length + line.length + 1);
    expect(seen).toEqual(expect.arrayContaining([...offers]));
    const said = await hovered(`${head}${line}${after}`, head.length + line.lastIndexOf(word) + 1);
    // Some stand for a statement as well, and are told as one.
    const helps = [...CLAUSES, ...STATEMENTS].filter((each) => each.word === word).map((each) => each.help);
    for (const clause of CLAUSES)
      for (const [choice, help] of Object.entries(('choices' in clause ? clause.choices : undefined) ?? {}))
        if (choice === word) helps.push(help);
    expect(helps.filter((help) => said.includes(help))).not.toEqual([]);
  });

  test('there is a row for each of them', () =>
    expect(CLAUSE_ROWS.map(([word]) => word).sort()).toEqual(CLAUSES.map((each) => each.word).sort()));
});

describe('each word that begins a declaration or a change', () => {
  const rows = DECLARATION_ROWS.map((row) => [row[0], ...row] as const);
  test.each(rows)('%s', async (_title, word, line, offers) => {
    const blank = line.endsWith('"') ? '' : ' ';
    const [seen] = await offered(`${BASE}${line}${blank}\n`, BASE.length + line.length + blank.length);
    expect(seen).toEqual(expect.arrayContaining([...offers]));
    const row = [...DECLARATIONS, ...CHANGES].find((each) => each.word === word);
    expect(await hovered(`${BASE}${line}\n`, BASE.length + line.indexOf(word) + 1)).toContain(
      word === 'engine' ? 'The engine' : row?.help.replace(/\.$/, ''),
    );
  });

  test('there is a row for each of them', () =>
    expect([...new Set(DECLARATION_ROWS.map(([word]) => word))].sort()).toEqual(
      [...new Set([...DECLARATIONS, ...CHANGES].map((each) => each.word))].sort(),
    ));
});

describe('each stage without a figure', () => {
  const [before, after] = HEADS.fastener;
  const head = `${BASE}${before}`;
  test.each(STAGE_ROWS)('%s', async (word) => {
    const [seen] = await offered(`${head}torque ${after}`, head.length + 7);
    expect(seen).toContain(word);
    expect(await hovered(`${head}torque ${word}${after}`, head.length + 8)).toContain(
      STAGES.find((each) => each.word === word)?.help,
    );
  });

  test('there is a row for each of them', () =>
    expect([...STAGE_ROWS].sort()).toEqual(STAGES.map((each) => each.word).sort()));
});
