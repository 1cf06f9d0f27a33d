// What if, the revision, and the lines of a record, over the protocol.
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { CodeLens, WorkspaceEdit } from 'vscode-languageserver';
import type { ServerAnswers } from '../../server/protocol/messages.ts';
import { analyseText } from '../annotated.ts';
import { type Editor, inMemory, URI } from './editor.ts';

type WhatIf = NonNullable<ServerAnswers['fettle/whatIf']['result']>;

const SPEC = `spec four "Four" {
  revision 3
}

engine {
  cylinders 4 inline
  bore block.bore
  stroke 80.00 mm
  rod-length 138.00 mm
  block-height 216.40 mm
  compression-height 38.00 mm
  chamber 41.0 cc
  gasket-bore 80.0 mm
  gasket-thickness 1.20 mm
}

part block {
  dimension bore x4 78.400..78.420 mm
  size over-50 oversize 0.50 mm {
    dimension bore 78.900..78.920 mm
  }
}

part piston x4 {
  dimension skirt 78.350..78.360 mm
  size over-50 oversize 0.50 mm {
    dimension skirt 78.850..78.860 mm
  }
}

part lid

fastener lid-bolt x4 {
  thread M8x1.25
  class 8.8
  fitted oiled
  joint cover
  clamps lid to block
  torque 20 N.m
}

limit piston-clearance each piston
  = block.bore - piston.skirt
  within 0.03..0.08 mm

limit end-play of block
  kind end-play
  measured
  within 0.05..0.20 mm

sequence build {
  phase assemble
  starts-with block

  step one "The pistons" {
    fit piston into block
    measure end-play
  }

  step two "The lid" {
    fit lid onto block
    tighten lid-bolt
  }
}
`;

let editor: Editor;
let edits: WorkspaceEdit[];
beforeEach(async () => {
  editor = await inMemory();
  edits = [];
  editor.connection.onRequest('workspace/applyEdit', ({ edit }: { readonly edit: WorkspaceEdit }) => {
    edits.push(edit);
    return { applied: true };
  });
});
afterEach(() => editor.end());

describe('what if', () => {
  test('another figure of the engine, and a repair size, without a change of the spec', async () => {
    await editor.start();
    await editor.open(SPEC);
    const ask = (more: object): Promise<WhatIf> => editor.ask<WhatIf>('fettle/whatIf', { uri: URI, ...more });
    const all = await ask({});
    expect(all.choices.map((each) => each.name)).toEqual(
      expect.arrayContaining(['stroke', 'chamber', 'gasket-thickness', 'over-50']),
    );
    expect(all.outcomes).toEqual([]);
    const chamber = await ask({ name: 'chamber', text: '36.0 cc' });
    const ratio = chamber.outcomes.find((each) => each.name === 'compression ratio');
    expect(Number.parseFloat(ratio?.after ?? '')).toBeGreaterThan(Number.parseFloat(ratio?.before ?? ''));
    const gasket = await ask({ name: 'gasket-thickness', text: '0.20 mm' });
    expect(gasket.outcomes.map((each) => each.name)).toContain('squish');
    const bored = await ask({ name: 'over-50' });
    expect(bored.outcomes.map((each) => each.name)).toEqual(expect.arrayContaining(['displacement', 'swept volume']));
    // Its own figures are not held against themselves.
    expect(bored.outcomes.filter((each) => each.name === 'error' || each.name === 'warning')).toEqual([]);
    // Bore and piston go together, so that the clearance stays.
    expect(bored.outcomes.map((each) => each.name)).not.toContain('piston-clearance');
    const wrong = await ask({ name: 'stroke', text: '80,00' });
    expect(wrong.outcomes.some((each) => each.name === 'error')).toBe(true);
    // The spec and what is found in it are as they were.
    const again = await ask({ name: 'chamber', text: '41.0 cc' });
    expect(again.outcomes).toEqual([]);
  });

  test('a lens leads to it in the own client alone', async () => {
    await editor.start({}, { rootUri: 'file:///shop', initializationOptions: { clientReadsFiles: true } });
    editor.connection.onRequest('fettle/listFiles', () => ({ uris: [] }));
    editor.connection.onRequest('fettle/readFile', () => null);
    await editor.open(SPEC);
    const lenses = await editor.ask<CodeLens[]>('textDocument/codeLens', { textDocument: { uri: URI } });
    const titles = lenses
      .filter((each) => each.command?.command === 'fettle.whatIf')
      .map((each) => each.command?.title);
    expect(titles).toEqual(['What if…', 'What if over-50 is fitted', 'What if over-50 is fitted']);
  });
});

describe('the revision', () => {
  type Raise = ServerAnswers['fettle/raiseRevision']['result'];
  const raise = (text: string, old: string): Promise<Raise> =>
    editor
      .open(text)
      .then(() =>
        editor.ask<Raise>('fettle/raiseRevision', { uri: URI, old: { uri: 'git:/shop/a.fettle', text: old } }),
      );

  test('is raised where a torque changed, with a line for the log', async () => {
    await editor.start();
    const text = SPEC.replace('torque 20 N.m', 'torque 22 N.m');
    const told = await raise(text, SPEC);
    expect([told?.from, told?.to]).toEqual([3, 4]);
    expect(told?.critical.join()).toContain('22 N.m');
    const changes = (told?.edit as WorkspaceEdit | undefined)?.changes?.[URI] ?? [];
    expect(changes.map((each) => each.newText)).toEqual([
      '4',
      expect.stringMatching(/^\n {2}note "Revision 4: .*22 N\.m.*\."$/),
    ]);
    const lines = text.split('\n');
    lines[1] = `  revision 4${changes[1]?.newText ?? ''}`;
    expect(analyseText(lines.join('\n')).findings.map((each) => each.code)).toEqual(
      analyseText(text).findings.map((each) => each.code),
    );
  });

  test('is left where only words changed, and where it was raised already', async () => {
    await editor.start();
    expect(await raise(SPEC.replace('"The lid"', '"The front lid"'), SPEC)).toBeNull();
    const raised = SPEC.replace('revision 3', 'revision 4').replace('torque 20 N.m', 'torque 22 N.m');
    await editor.tell('textDocument/didClose', { textDocument: { uri: URI } });
    expect(await raise(raised, SPEC)).toBeNull();
  });
});

describe('a record', () => {
  const RECORD = 'use "a.fettle"\n\nrecord build-1 of four revision 3 {\n  engine-number "QL-1"\n}\n';
  const record = 'file:///shop/build-1.fettle';
  const lensesOf = (uri: string): Promise<CodeLens[]> =>
    editor.ask<CodeLens[]>('textDocument/codeLens', { textDocument: { uri } });

  test('its next step is done by a lens, there and at the step of the spec', async () => {
    await editor.start();
    await editor.open(SPEC);
    await editor.open(RECORD, record);
    const own = (await lensesOf(record)).find((each) => each.command?.title.startsWith('Done'));
    expect(own?.command?.title).toBe('Done: The pistons');
    await editor.ask('workspace/executeCommand', own?.command);
    const [change] = edits[0]?.changes?.[record] ?? [];
    expect(change?.newText).toMatch(/^\n {2}done one on \d{4}-\d\d-\d\d$/);
    expect(change?.range.start.line).toBe(3);
    const inSpec = (await lensesOf(URI)).filter((each) => each.command?.title === 'Done, in build-1');
    const lines = SPEC.split('\n');
    expect(inSpec.map((each) => lines[each.range.start.line]?.trim())).toEqual([
      'step one "The pistons" {',
      'step two "The lid" {',
    ]);
  });

  test('a measured value goes in as it was typed, and nothing else does', async () => {
    await editor.start();
    await editor.open(SPEC);
    await editor.open(RECORD, record);
    const write = (value: string): Promise<unknown> =>
      editor.ask('workspace/executeCommand', {
        command: 'fettle.recordMeasured',
        arguments: [record, 'build-1', 'end-play', value],
      });
    await write('0,11 mm');
    expect(edits[0]?.changes?.[record]?.[0]?.newText).toMatch(/^\n {2}measured end-play 0\.11 mm on \d{4}/);
    for (const wrong of ['0.1 mm }\npart x', '"', '', '0.11 mm # note']) await write(wrong);
    expect(edits).toHaveLength(1);
  });

  test('a lens knows the limits that are open, with their places and bounds', async () => {
    const gaps = 'limit ring-gap "Ring gap" each piston\n  measured\n  within 0.20..0.40 mm\n\nsequence build {';
    await editor.start({}, { rootUri: 'file:///shop', initializationOptions: { clientReadsFiles: true } });
    editor.connection.onRequest('fettle/listFiles', () => ({ uris: [] }));
    editor.connection.onRequest('fettle/readFile', () => null);
    await editor.open(SPEC.replace('sequence build {', gaps).replace('measure end-play', 'measure end-play, ring-gap'));
    await editor.open(RECORD.replace('\n}', '\n  measured ring-gap 2: 0.25 mm\n}'), record);
    const lens = (await lensesOf(record)).find((each) => each.command?.title === 'Enter a measurement');
    expect(lens?.command?.arguments?.[2]).toEqual([
      { name: 'end-play', title: 'end play', places: [], within: '0.05..0.20 mm' },
      { name: 'ring-gap', title: 'Ring gap', places: ['1', '3', '4'], within: '0.20..0.40 mm' },
    ]);
  });

  test('of a spec with several jobs begins with the first step of one of them', async () => {
    const jobs =
      '\njob whole "All of it" of four {\n  begins bare\n  sequences build\n}\n\nsequence lid-on {\n  phase assemble\n\n  step lid-only "The lid alone" {\n    fit lid onto block\n  }\n}\n\njob lid-job "Lid" of four {\n  begins bare\n  sequences lid-on\n}\n';
    await editor.start();
    await editor.open(SPEC + jobs);
    await editor.open(RECORD, record);
    const titles = (await lensesOf(record)).map((each) => each.command?.title);
    expect(titles).toEqual(['Done: The pistons (All of it)', 'Done: The lid alone (Lid)']);
    const done = (await lensesOf(record)).find((each) => each.command?.title.includes('lid alone'));
    await editor.ask('workspace/executeCommand', done?.command);
    expect(edits[0]?.changes?.[record]?.[0]?.newText).toMatch(/done lid-only on/);
  });

  test('one that is signed has none', async () => {
    await editor.start();
    await editor.open(SPEC);
    await editor.open(RECORD.replace('\n}', '\n  signed "RT" on 2026-03-10\n}'), record);
    expect((await lensesOf(record)).filter((each) => each.command?.title.startsWith('Done'))).toEqual([]);
    expect((await lensesOf(URI)).filter((each) => each.command?.title.startsWith('Done'))).toEqual([]);
  });
});
