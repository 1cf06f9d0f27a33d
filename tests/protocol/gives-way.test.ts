// A check goes on in pieces: what the editor asks meanwhile is answered in between, whatever the text, and a newer edit has it left off.
// Counted, not timed.
import { afterEach, describe, expect, test } from 'vitest';
import { completions } from '../../server/features/completion.ts';
import { hover } from '../../server/features/hover.ts';
import type { Analysis } from '../../server/model/analysis.ts';
import { inPieces } from '../../server/protocol/turns.ts';
import { createDocuments } from '../../server/workspace/documents.ts';
import { type Editor, inMemory, URI } from './editor.ts';

const VARIANTS = Array.from({ length: 300 }, (_, i) => `v-${i}`);
const partsOf = (length: number): readonly string[] =>
  Array.from({ length }, (_, i) => `part p-${i} {\n  dimension d 10.0${i % 10} mm\n}\n`);
const textOf = (parts: readonly string[]): string => `spec many {
  variants ${VARIANTS.join(', ')}
}

part block

${parts.join('\n')}
sequence build {
  phase assemble
  starts-with block
${parts.map((_, i) => `  step s-${i} {\n    fit p-${i} onto block\n  }\n`).join('')}}
`;
const PARTS = partsOf(60);
const TEXT = textOf(PARTS);
/** So long that its check takes many turns on any machine. */
const LONG = textOf(partsOf(500));

/** A clock that goes on by one with each look. */
function counting(): () => number {
  let looks = 0;
  return () => {
    looks += 1;
    return looks;
  };
}

describe('work in pieces', () => {
  test('is done to its end, with turns for others in between', async () => {
    let done = 0;
    let turns = 0;
    const work = (function* () {
      for (; done < 100; done += 1) yield;
    })();
    const others = setInterval(() => undefined, 1000);
    const isOver = await inPieces(
      work,
      () => {
        turns += 1;
        return false;
      },
      counting(),
    );
    clearInterval(others);
    expect([isOver, done]).toEqual([true, 100]);
    expect(turns).toBeGreaterThan(5);
  });

  test('is left off after the turn in which that is said', async () => {
    let done = 0;
    const work = (function* () {
      for (; done < 1000; done += 1) yield;
    })();
    expect(await inPieces(work, () => done > 50, counting())).toBe(false);
    expect(done).toBeLessThan(100);
  });
});

describe('a text with 300 variants', () => {
  test('is checked in many pieces, and again in few', () => {
    const documents = createDocuments();
    documents.open(URI, 1, TEXT);
    const pieces = [...(documents.analysis(URI)?.check() ?? [])].length;
    // Each declaration of each variant that is looked at is one.
    expect(pieces).toBeGreaterThan(24 * PARTS.length);
    documents.change(URI, 2, [
      { range: { start: { line: 8, character: 0 }, end: { line: 8, character: 0 } }, text: '# a note\n' },
    ]);
    expect([...(documents.analysis(URI)?.check() ?? [])].length).toBeLessThan(pieces / 2);
  });

  test.each([
    ['hover', (analysis: Analysis) => hover(analysis, TEXT.indexOf('part p-7') + 6)],
    ['completion', (analysis: Analysis) => completions(analysis, TEXT.indexOf('onto block') + 5)],
  ])('%s does not have it checked to its end first', (_name, answer) => {
    const documents = createDocuments();
    documents.open(URI, 1, TEXT);
    const analysis = documents.analysis(URI);
    const check = analysis?.check();
    for (let i = 0; i < 50; i += 1) check?.next();
    expect(analysis === undefined ? undefined : answer(analysis)).toBeDefined();
    expect([...(check ?? [])].length).toBeGreaterThan(24 * PARTS.length - 100);
  });

  test('one that is left off half-way is taken up by the next, and comes to the same', () => {
    const documents = createDocuments();
    documents.open(URI, 1, TEXT);
    const first = documents.analysis(URI)?.check();
    for (let i = 0; i < 500; i += 1) first?.next();
    documents.change(URI, 2, [{ text: TEXT.replace('fit p-7 onto', 'fit p-77 onto') }]);
    const second = documents.analysis(URI)?.check();
    for (let i = 0; i < 300; i += 1) second?.next();
    documents.change(URI, 3, [{ text: TEXT.replace('part p-9 ', 'part p-99 ') }]);
    const found = documents.analysis(URI)?.findings.map(({ code, message }) => [code, message]);
    const fresh = createDocuments();
    fresh.open('file:///shop/b.fettle', 1, TEXT.replace('part p-9 ', 'part p-99 '));
    expect(found?.length).toBeGreaterThan(0);
    expect(found).toEqual(
      fresh.analysis('file:///shop/b.fettle')?.findings.map(({ code, message }) => [code, message]),
    );
  });
});

describe('the server', () => {
  let editor: Editor | undefined;
  afterEach(() => editor?.end());

  test('answers what is asked while it checks', async () => {
    editor = await inMemory();
    await editor.start();
    const order: string[] = [];
    const opened = editor.open(LONG).then(() => order.push('findings'));
    // It is told of the text before it is asked.
    await new Promise((done) => setTimeout(done, 1));
    const position = { line: 6, character: 6 };
    const hovered = editor
      .ask('textDocument/hover', { textDocument: { uri: URI }, position })
      .then(() => order.push('hover'));
    await Promise.all([opened, hovered]);
    expect(order).toEqual(['hover', 'findings']);
  }, 60_000);
});
