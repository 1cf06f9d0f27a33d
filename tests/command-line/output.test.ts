// What a hostile spec says never moves a terminal: every command, with texts, names of files and arguments that hold what a terminal obeys.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { data, joined, lines, shown, textOf } from '../../server/command-line/output.ts';
import { run } from '../../server/command-line/run.ts';
import { firstSpec } from '../../server/features/first-spec.ts';

/** A screen cleared, a title set, a colour that is none of ours, a control of one byte, letters turned round, a line that is none. */
const HOSTILE = '\u001b[2J\u001b]0;owned\u0007\u001b[35m\u009b2J\u0085\u202egnp.\u2066\u061c\u200f\u2028x\u007f\u0008';
/** What no terminal may be given; ends of lines and tabs, and our own colours, are taken out before. */
const OBEYED = /[\p{Cc}\p{Bidi_Control}\u2028\u2029]/u;
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the sequences to take out.
const OWN = /\u001b\[(?:0|1|2|22|31|33|36|39)m|^\r\u001b\[K/g;

function obeyed(text: string, terminal: boolean): string | undefined {
  const left = terminal ? text.replace(OWN, '') : text;
  return OBEYED.exec(left.replace(/[\t\n]/g, ''))?.[0];
}

let folder = '';
const NAME = 'hostile\u001b[35m\u202e.fettle';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'fettle-output-'));
  mkdirSync(join(folder, '.git'));
  const spec = firstSpec('first', { cylinders: 4, layout: 'inline' });
  const hostile = spec.replace(/"([^"\n]+)"/g, (_, text: string) => `"${text}${HOSTILE}"`);
  expect(hostile.split(HOSTILE).length).toBeGreaterThan(10);
  writeFileSync(join(folder, NAME), hostile);
  writeFileSync(join(folder, 'plain.fettle'), spec);
  // Findings whose messages and lines hold it.
  writeFileSync(
    join(folder, 'wrong.fettle'),
    `${hostile}\npart odd${HOSTILE} "${HOSTILE}" {\n  tooth${HOSTILE} 9\n  note "${HOSTILE}" tooth 3\n}\nuse "../${HOSTILE}"\n`,
  );
  writeFileSync(
    join(folder, 'record.fettle'),
    `use "${NAME}"\n\nrecord of first "${HOSTILE}" {\n  on 2026-01-02\n  by "${HOSTILE}"\n  note "${HOSTILE}"\n}\n`,
  );
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function fettle(
  args: readonly string[],
  terminal: boolean,
): Promise<{ status: number; out: string; err: string }> {
  let [out, err] = ['', ''];
  const status = await run(
    args,
    {
      out: (text) => {
        out += text;
      },
      err: (text) => {
        err += text;
      },
      ...{ terminal, progress: terminal, folder, stdin: () => Promise.resolve(`part a "${HOSTILE}"\n`) },
    },
    () => Promise.resolve(0),
    () => HOSTILE,
  );
  return { status, out, err };
}

const told: readonly (readonly string[])[] = [
  ['check', NAME],
  ['check', 'wrong.fettle'],
  ['check', '.', '--format', 'json'],
  ['check', '.', '--format', 'sarif'],
  ['check', NAME, '--variant', HOSTILE],
  ['check', NAME, '--job', HOSTILE],
  ['check', NAME, '--format', HOSTILE],
  ['values', NAME],
  ['values', NAME, '--format', 'json'],
  ['rehearse', NAME],
  ['rehearse', NAME, '--format', 'json'],
  ['reach', NAME, 'crankshaft'],
  ['reach', NAME, `crankshaft${HOSTILE}`],
  ['record', 'record.fettle'],
  ['record', 'record.fettle', '--format', 'json'],
  ['review', 'plain.fettle', NAME],
  ['review', 'plain.fettle', NAME, '--format', 'json'],
  ['review', NAME, `none${HOSTILE}`],
  ['review', NAME, '--git', HOSTILE],
  ['sheet', NAME, '--output', 'page.html'],
  ['sheet', NAME, '--output', `none${HOSTILE}/page.html`],
  ['picture', NAME],
  ['picture', NAME, `face${HOSTILE}`],
  ['format', '--check', '.'],
  ['format', `none${HOSTILE}`],
  ['new', `name${HOSTILE}`, '--layout', 'inline'],
  ['new', 'name', '--layout', HOSTILE],
  ['explain', `unit/missing${HOSTILE}`],
  ['explain', 'unit/missing'],
  ['bundle', `none${HOSTILE}`],
  ['--version'],
  ['--help'],
  [`command${HOSTILE}`],
  ['check', `--option${HOSTILE}`, '.'],
];

test.each(
  told.map(
    (args) =>
      [
        args
          .join(' ')
          .replace(/[^ -~]+/g, '?')
          .slice(0, 70),
        args,
      ] as const,
  ),
)('%s', async (_line, args) => {
  const { out, err } = await fettle(args, true);
  expect(out + err).not.toBe('');
  expect([obeyed(out, true), obeyed(err, true)]).toEqual([undefined, undefined]);
});

test.each([
  ['check', 'wrong.fettle'],
  ['reach', NAME, 'crankshaft'],
  ['values', NAME],
  ['record', 'record.fettle'],
])('into a pipe too: %s', async (...args) => {
  const { out, err } = await fettle(args, false);
  expect([out !== '', obeyed(out + err, false)]).toEqual([true, undefined]);
});

/** Files that go to standard output: to the letter where a pipe takes them, shown where a terminal does. */
const files: readonly (readonly string[])[] = [
  ['format', '--stdin'],
  ['format', '--print', NAME],
  ['bundle', NAME],
  ['review', 'plain.fettle', NAME, '--format', 'html'],
  ['review', 'plain.fettle', NAME, '--format', 'markdown'],
  ['reach', NAME, 'crankshaft', '--as-job'],
];

test.each(files.map((args) => [args.join(' ').replace(/[^ -~]+/g, '?'), args] as const))(
  'a file on a terminal is shown: %s',
  async (_line, args) => {
    const { out, err } = await fettle(args, true);
    // A job that does not hold is not written; then the reasons are told.
    expect([out + err !== '', obeyed(out + err, true)]).toEqual([true, undefined]);
  },
);

test('a file that is laid out into a pipe keeps every letter of its texts', async () => {
  expect((await fettle(['format', '--stdin'], false)).out).toContain(HOSTILE);
});

test('JSON gives back the very letters, though none stands in it', async () => {
  const { out } = await fettle(['review', 'plain.fettle', NAME, '--format', 'json'], false);
  const { changes } = JSON.parse(out) as { readonly changes: readonly { readonly message: string }[] };
  expect(out).toContain('\\u009b2J');
  expect(changes.some((each) => each.message.includes('\u009b2J'))).toBe(true);
});

describe('what is made fit', () => {
  test('pieces stay on their line, texts of lines keep theirs, tabs and ordinary letters stay', () => {
    expect(textOf(shown`${'a\nb\tc'}: ${'é–µ±' as string}\n`)).toBe('a?b\tc: é–µ±\n');
    expect(textOf(lines('a\r\nb\u001b\n'))).toBe('a?\nb?\n');
    expect(textOf(joined([shown`${'a\u009b'}`, shown`b`], '\n'))).toBe('a?\nb');
  });

  test('every control character and every mark of direction, wherever it stands', () => {
    for (let code = 0; code < 0x11_0000; code += 1) {
      const letter = String.fromCodePoint(code);
      const isObeyed = code === 9 || code === 10 ? false : /\p{Cc}|\p{Bidi_Control}/u.test(letter);
      if (!isObeyed) continue;
      expect([code, textOf(lines(letter))]).toEqual([code, '?']);
      expect(textOf(data(letter))).toMatch(/^"\\(?:u[0-9a-f]{4}|[bfr])"\n$/);
    }
    expect(textOf(lines('\ud800'))).toBe('?');
    expect(JSON.parse(textOf(data('\u{e0041}\ud800\u2028')))).toBe('\u{e0041}\ud800\u2028');
  });
});
