// Faults of Fettle itself, put in: each is told once, as a finding, and everything else is found as ever, in the command, in the
// server and in a check of a folder.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, expect, test, vi } from 'vitest';
import { run } from '../../server/command-line/run.ts';
import { analyseText } from '../annotated.ts';
import { type Editor, inMemory } from '../protocol/editor.ts';

/** Which checks fail at the moment, by code. */
const failing = vi.hoisted(() => new Set<string>());

vi.mock(import('../../server/checks/catalog.ts'), async (original) => {
  const catalog = await original();
  const failingCheck = <check extends (typeof catalog.CHECKS)[number]>(check: check): check =>
    'run' in check
      ? {
          ...check,
          run(...given: unknown[]) {
            if (failing.has(check.code)) throw new Error('a fault put in\nby the test');
            (check.run as (...all: unknown[]) => void)(...given);
          },
        }
      : check;
  return { ...catalog, CHECKS: catalog.CHECKS.map(failingCheck) };
});

vi.mock(import('../../server/workspace/imports.ts'), async (original) => {
  const imports = await original();
  return {
    ...imports,
    findingImports: function* (read, host) {
      if (failing.has('imports')) throw new Error('a fault put in');
      return yield* imports.findingImports(read, host);
    },
  };
});

afterEach(() => failing.clear());

let texts = 0;

/** A text with something for many checks; each declaration says something else each time, since what was found in the same one is kept. */
function faultyText(): string {
  texts += 1;
  const k = `k${String(texts).padStart(3, '0')}`;
  return `spec s {
  variants road, race
  note "${k}"
}
engine { bore 80.${k.slice(1)} } # ${k}
part a-${k} { mass 3 }
part b-${k} { mass 3 kg }
limit l-${k} = a-${k}.nothing within 1..2 mm
fastener f-${k} x4 { thread M8x1.25 }
sequence q-${k} { step one-${k} { fit nobody } }
`;
}

const plain = (text: string): string => text.replace(/k\d{3}/g, 'k').replace(/80\.\d{3}/g, '80.000');

/** What is found, in words that do not tell one of those texts from another. */
const found = (text: string): readonly string[] =>
  analyseText(text).findings.map((finding) => plain(`${finding.code} ${finding.start} ${finding.message}`));

/** One check of each scope (of a declaration, of a thing, of the engine, of the whole spec), and the first thing that it looks at. */
test.each([
  ['unit/missing', 's {'],
  ['torque/missing', 'f-'],
  ['engine/impossible', 'engine'],
  ['name/unused', 'spec'],
])('a fault in %s is told once, and nothing else is lost', (code, at) => {
  const before = found(faultyText());
  failing.add(code);
  const text = faultyText();
  const analysis = analyseText(text);
  const faults = analysis.findings.filter((finding) => finding.code === 'fettle/fault');
  expect(faults.map(({ severity, variants }) => [severity, variants])).toEqual([['error', undefined]]);
  expect(faults[0]?.start).toBe(code === 'name/unused' ? 0 : text.indexOf(at));
  expect(faults[0]?.message).toMatch(
    new RegExp(`inside Fettle itself, not in your spec: the check ${code} failed \\(a fault put in by the test\\)`),
  );
  expect(faults[0]?.message).toMatch(/All else was looked at.*report/);
  const others = analysis.findings.filter((finding) => finding.code !== 'fettle/fault');
  expect(others.map((each) => plain(`${each.code} ${each.start} ${each.message}`))).toEqual(
    before.filter((each) => !each.startsWith(`${code} `)),
  );
  failing.clear();
  expect(found(faultyText())).toEqual(before);
});

test('a fault in the rehearsal is one fault, not one for each of its findings', () => {
  const codes = [...['never-fitted', 'covered', 'stage-left', 'order', 'not-measured', 'left-open', 'valve-contact']];
  for (const code of codes) failing.add(`sequence/${code}`);
  // A file that was not looked at before: what is known of one is not worked out again.
  const { findings } = analyseText(faultyText(), {}, 'another-file.fettle');
  const faults = findings.filter((finding) => finding.code === 'fettle/fault');
  expect(faults).toHaveLength(1);
  expect(faults[0]?.message).toContain('the rehearsal of the work (sequence/…) failed');
});

test('no allow silences it, and an allow of it silences nothing', () => {
  failing.add('unit/missing');
  const codes = analyseText(`allow fettle/fault "all is well"\n${faultyText()}`).findings.map(
    (finding) => finding.code,
  );
  expect(codes).toContain('fettle/fault');
});

test('a fault in the work on the whole file is told, and what is wrong with the writing too', () => {
  failing.add('imports');
  const findings = analyseText('part a {\n  mass 3 kg\n  dimension\n}\n').findings;
  expect(findings.map(({ code, start }) => [code, start])).toEqual([
    ['fettle/fault', 0],
    ['syntax/unexpected', expect.any(Number)],
  ]);
  expect(findings[0]?.message).toMatch(/while it looked at this file \(a fault put in\).*other files.*report/);
});

async function check(files: Readonly<Record<string, string>>, ...args: readonly string[]) {
  const folder = mkdtempSync(join(tmpdir(), 'fettle-test-'));
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  let [out, err] = ['', ''];
  const streams = {
    out: (text: string) => {
      out += text;
    },
    err: (text: string) => {
      err += text;
    },
    terminal: false,
    folder,
    stdin: () => Promise.resolve(''),
  };
  const status = await run(['check', '.', ...args], streams, () => Promise.resolve(0));
  rmSync(folder, { recursive: true });
  return { status, out, err };
}

test('a check of a folder tells it, ends with 2, and prints everything else', async () => {
  const files = {
    'a.fettle': 'engine { bore 80 }\n',
    'b.fettle': 'part b { mass 3 }\n',
    'c.fettle': 'part b\npart b\n',
  };
  failing.add('engine/impossible');
  const { status, out } = await check(files);
  expect(status).toBe(2);
  expect(out).toMatch(/a\.fettle:1:1: error: Something went wrong inside Fettle itself.*\[fettle\/fault\]/);
  for (const code of ['unit/missing', 'name/duplicate']) expect(out).toContain(`[${code}]`);
  expect(JSON.parse((await check(files, '--format', 'sarif')).out).runs[0].invocations).toEqual([
    { executionSuccessful: false },
  ]);
  failing.clear();
  expect((await check(files)).status).toBe(1);
});

test('the server tells it, writes it down, and the other findings come', async () => {
  const editor: Editor = await inMemory();
  await editor.start();
  failing.add('engine/impossible');
  const told = await editor.open(faultyText());
  expect(told.map((each) => each.code)).toEqual(expect.arrayContaining(['fettle/fault', 'unit/missing']));
  expect(editor.output.find((line) => line.includes('a fault put in'))).toMatch(
    /fault inside Fettle.*Your spec is safe/s,
  );
  const pulled = await editor.ask<{ items: { code: string }[] }>('textDocument/diagnostic', {
    textDocument: { uri: 'file:///shop/a.fettle' },
  });
  expect(pulled.items.map((each) => each.code)).toEqual(told.map((each) => each.code));
  expect(
    await editor.ask('textDocument/hover', {
      textDocument: { uri: 'file:///shop/a.fettle' },
      position: { line: 5, character: 5 },
    }),
  ).not.toBeNull();
  await editor.end();
});
