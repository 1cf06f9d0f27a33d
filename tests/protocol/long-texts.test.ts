// A long text is read, looked at and checked in pieces, none of which is much of the work; what is asked meanwhile is answered from what
// stands round its place. Counted, not timed.
import fc from 'fast-check';
import { afterEach, describe, expect, test } from 'vitest';
import type { CompletionList, Hover } from 'vscode-languageserver';
import { told } from '../../grammar/told.ts';
import { writtenAs } from '../../grammar/written.ts';
import { type Finding, type Severity, said } from '../../server/model/finding.ts';
import type { Editor } from './editor.ts';

const { stepsOfEach } = await import('../growth/work.ts');
const { BOMBS } = await import('../growth/bombs.ts');
const { createDocuments } = await import('../../server/workspace/documents.ts');
const { foremost } = await import('../../server/protocol/foremost.ts');
const { nearby } = await import('../../server/workspace/near.ts');
const { inMemory, URI } = await import('./editor.ts');

/** The first pieces are counted one by one: cutting takes some thousand lines in each. */
const ONE_BY_ONE = 40;
/** So many of all others are counted as one: counting takes longer than a piece. */
const TOGETHER = 60;

/** The largest part of all work that some pieces in a row have. */
function largestShare(work: Generator<void, unknown>): number {
  let isDone = false;
  const goes = function* (): Generator<() => void> {
    for (let go = 0; !isDone; go += 1)
      yield () => {
        for (let i = go < ONE_BY_ONE ? 1 : TOGETHER; i > 0 && !isDone; i -= 1) isDone = work.next().done === true;
      };
  };
  const shares = stepsOfEach(goes());
  const all = shares.reduce((sum, each) => sum + each, 0);
  return Math.max(...shares) / all;
}

const bomb = (name: string, n: number): string => {
  const found = BOMBS.find((each) => each.name === name);
  if (found === undefined) throw new Error(`There is no text ${name}.`);
  return found.make(n);
};

describe('no few pieces are much of the work', () => {
  test.each(['parts', 'steps'])(
    '%s',
    (name) => {
      const documents = createDocuments();
      // What is made once and for all is no part of it.
      documents.open('file:///shop/short.fettle', 1, bomb(name, 2));
      expect(documents.analysis('file:///shop/short.fettle')?.findings).toBeDefined();
      documents.open(URI, 1, bomb(name, 1500));
      expect(largestShare(documents.analysing(URI))).toBeLessThan(0.12);
      const analysis = documents.analysis(URI);
      if (analysis === undefined) throw new Error('not analysed');
      // A sequence is made of its steps in one go.
      expect(largestShare(analysis.look())).toBeLessThan(0.35);
      // The work of a job is rehearsed in one go.
      expect(largestShare(analysis.check())).toBeLessThan(0.45);
    },
    60_000,
  );
});

const PARTS = Array.from({ length: 120 }, (_, i) => `part p-${i} {\n  dimension d 10.0${i % 10} mm\n}\n\n`);
const STEPS = PARTS.map((_, i) => `  step s-${i} {\n    fit p-${i} onto block\n  }\n`);
const TEXT = `part block\n\n${PARTS.join('')}sequence build {\n${STEPS.join('')}}\n`;

describe('left off anywhere', () => {
  interface Act {
    readonly pieces: number;
    readonly at: number;
    readonly cut: number;
    readonly put: string;
    readonly is: 'reading' | 'looking' | 'bringing up' | 'checking';
  }
  const act = fc.record<Act>({
    pieces: fc.nat({ max: 900 }),
    at: fc.nat({ max: TEXT.length }),
    cut: fc.constantFrom(0, 1, 5, 400),
    put: fc.constantFrom('', '"', '{', '}', 'part x {\n', '\n\n', ' mass 3', 'step z {\n  fit p-1\n}\n'),
    is: fc.constantFrom('reading', 'looking', 'bringing up', 'checking'),
  });

  test('and edited there, it comes to what a fresh reading finds', () => {
    const told = (documents: ReturnType<typeof createDocuments>): unknown =>
      documents.analysis(URI)?.findings.map(({ code, start, end, message }) => [code, start, end, message]);
    fc.assert(
      fc.property(fc.array(act, { maxLength: 6 }), (acts) => {
        const documents = createDocuments();
        let text = TEXT;
        documents.open(URI, 1, text);
        for (const [i, { pieces, at, cut, put, is }] of acts.entries()) {
          const reading = documents.analysing(URI);
          const others = is === 'reading' ? undefined : documents.made(URI);
          const ways = {
            reading,
            looking: others?.look(),
            'bringing up': others?.refresh(),
            checking: others?.check(),
          };
          const work = ways[is];
          for (let n = 0; n < pieces; n += 1) if ((work ?? reading).next().done === true) break;
          const from = Math.min(at, text.length);
          text = text.slice(0, from) + put + text.slice(from + cut);
          documents.change(URI, i + 2, [{ text }]);
        }
        const fresh = createDocuments();
        fresh.open(URI, 1, `${text} `);
        documents.change(URI, 99, [{ text: `${text} ` }]);
        const found = told(documents);
        documents.close(URI);
        expect(found).toEqual(told(fresh));
        fresh.close(URI);
      }),
      { numRuns: 40, seed: 11 },
    );
  }, 120_000);
});

describe('what stands round a place', () => {
  test('has the offsets of the text, and the head of the declaration round it', () => {
    const place = TEXT.indexOf('fit p-100');
    const near = nearby(writtenAs(TEXT.repeat(4)), place);
    expect(near.slice(place, place + 9)).toBe('fit p-100');
    const head = TEXT.indexOf('sequence build');
    expect(near.slice(head, head + 16)).toBe('sequence build {');
    expect(near.slice(0, head).trim()).toBe('');
    expect(near.length).toBeLessThan(place + 5000);
  });

  test('of a short text is all of it', () => {
    expect(nearby(writtenAs('part a\npart b\n'), 8)).toBe('part a\npart b\n');
    expect(nearby(writtenAs(''), 8)).toBe('');
  });
});

describe('the server, while it reads a long text', () => {
  let editor: Editor | undefined;
  afterEach(() => editor?.end());
  const LONG = Array.from({ length: 12_000 }, (_, i) => `part p-${i} {\n  mass 3 kg\n}\n`).join('');

  test('answers what is asked from what is near', async () => {
    editor = await inMemory();
    await editor.start();
    const order: string[] = [];
    void editor.tell('textDocument/didOpen', {
      textDocument: { uri: URI, languageId: 'fettle', version: 1, text: LONG },
    });
    const textDocument = { uri: URI };
    const colours = editor.ask('textDocument/semanticTokens/full', { textDocument }).then(() => order.push('colours'));
    const hovered = editor.ask<Hover>('textDocument/hover', { textDocument, position: { line: 24_001, character: 3 } });
    const completed = editor.ask<CompletionList>('textDocument/completion', {
      textDocument,
      position: { line: 24_001, character: 2 },
    });
    const hover = await hovered.finally(() => order.push('hover'));
    const { items, isIncomplete } = await completed.finally(() => order.push('completion'));
    await colours;
    expect(order).toEqual(['hover', 'completion', 'colours']);
    expect(JSON.stringify(hover.contents)).toContain('mass');
    expect(hover.range?.start).toEqual({ line: 24_001, character: 2 });
    expect(items.map(({ label }) => label)).toContain('dimension');
    expect(isIncomplete).toBe(true);
  }, 120_000);
});

describe('of very many findings', () => {
  const finding = (start: number, severity: Severity): Finding => ({
    code: 'unit/missing',
    severity,
    file: URI,
    start,
    end: start + 1,
    ...said(told`a finding`),
    related: [],
    fixes: [],
  });
  const many = Array.from({ length: 30 }, (_, i) => finding(i, i % 3 === 0 ? 'error' : 'warning'));

  test('the weightiest are shown, by place, and it is said how many there are', () => {
    const shown = foremost(many, URI, 12);
    expect(shown[0]).toMatchObject({ code: 'fettle/more', start: 0, message: expect.stringContaining('30 findings') });
    expect(shown.slice(1).map(({ start }) => start)).toEqual([0, 1, 2, 3, 6, 9, 12, 15, 18, 21, 24, 27]);
  });

  test('where there are no more, nothing is said', () => {
    expect(foremost(many, URI, 30)).toBe(many);
  });
});
