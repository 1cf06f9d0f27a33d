// The fettle command, run in process with streams of the test's own and a folder made for it.
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { run } from '../../server/command-line/run.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'fettle-test-'));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

interface Result {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

async function fettle(args: readonly string[], stdin = '', ask?: string): Promise<Result> {
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
      terminal: false,
      folder,
      stdin: () => Promise.resolve(stdin),
      ...(ask === undefined ? {} : { ask: () => Promise.resolve(ask) }),
    },
    () => Promise.resolve(0),
  );
  return { status, out, err };
}

const write = (name: string, text: string): void => writeFileSync(join(folder, name), text);
const GOOD = 'fastener cover-bolt x6 {\n  thread M6\n  torque 9 N.m\n}\n';
const BAD = 'fastener cover-bolt x6 {\n  thread M6\n  torque 9\n}\n';

describe('check', () => {
  test('nothing wrong is 0', async () => {
    write('good.fettle', GOOD);
    expect(await fettle(['check', 'good.fettle'])).toMatchObject({ status: 0, err: '' });
  });

  test('a finding is 1, with its line, carets, code and way out', async () => {
    write('bad.fettle', BAD);
    const { status, out } = await fettle(['check', 'bad.fettle']);
    expect(status).toBe(1);
    expect(out).toContain('bad.fettle:3:10: error: 9 has no unit.');
    expect(out).toContain('[unit/missing]\n  3 |   torque 9\n    |          ^\n  way out: Write 9 N.m');
  });

  test('a folder is checked with everything below it, in a steady order', async () => {
    mkdirSync(join(folder, 'deep'));
    write('b.fettle', BAD);
    write('deep/a.fettle', GOOD);
    write('not-a-spec.txt', 'nothing');
    const { out } = await fettle(['check', '.', '--format', 'json']);
    expect(JSON.parse(out).files.map((file: { file: string }) => file.file)).toEqual([
      'b.fettle',
      join('deep', 'a.fettle'),
    ]);
  });

  test('JSON has the agreed form', async () => {
    write('bad.fettle', BAD);
    const { status, out } = await fettle(['check', 'bad.fettle', '--format', 'json']);
    expect(status).toBe(1);
    const answer = JSON.parse(out);
    expect(answer).toMatchObject({ errors: 1, warnings: 0 });
    expect(answer.files[0].findings[0]).toMatchObject({
      code: 'unit/missing',
      severity: 'error',
      start: { line: 3, column: 10 },
      end: { line: 3, column: 11 },
      related: [],
      fixes: ['Write 9 N.m'],
    });
  });

  test('SARIF names its version, rules and places', async () => {
    write('bad.fettle', BAD);
    const log = JSON.parse((await fettle(['check', 'bad.fettle', '--format', 'sarif'])).out);
    expect(log.version).toBe('2.1.0');
    const [result] = log.runs[0].results;
    expect(result).toMatchObject({ ruleId: 'unit/missing', level: 'error' });
    expect(log.runs[0].tool.driver.rules[result.ruleIndex].id).toBe('unit/missing');
    expect(result.locations[0].physicalLocation).toEqual({
      artifactLocation: { uri: 'bad.fettle' },
      region: { startLine: 3, startColumn: 10, endLine: 3, endColumn: 11 },
    });
  });

  test('columns count in UTF-16 units', async () => {
    write('wide.fettle', 'part 🔧\n');
    write('note.fettle', 'part a {\n  note "🔧🔧" tooth 3\n}\n');
    const { out } = await fettle(['check', 'note.fettle', '--format', 'json']);
    expect(JSON.parse(out).files[0].findings[0].start).toEqual({ line: 2, column: 15 });
  });

  test('warnings count with --strict alone', async () => {
    write('w.fettle', 'spec a "A" {\n  source manual "M"\n}\n');
    expect((await fettle(['check', 'w.fettle'])).status).toBe(0);
    expect((await fettle(['check', 'w.fettle', '--strict'])).status).toBe(1);
  });

  test.each([
    ['a file that is not there', ['check', 'none.fettle'], 'There is no file or folder none.fettle'],
    ['an empty folder', ['check', '.'], 'There is no .fettle file'],
    ['a format that there is not', ['check', 'good.fettle', '--format', 'xml'], 'text, json or sarif'],
    ['a variant that there is not', ['check', 'good.fettle', '--variant', 'van'], 'There is no variant van'],
  ])('%s is 2, with one line that says what to do', async (_what, args, line) => {
    if (args[1] !== '.') write('good.fettle', GOOD);
    const { status, err } = await fettle(args);
    expect(status).toBe(2);
    expect(err).toContain(line);
    expect(err.trim().split('\n')).toHaveLength(1);
  });

  test('what is not UTF-8 text is said', async () => {
    writeFileSync(join(folder, 'latin.fettle'), Buffer.from([0x70, 0xe4, 0x72, 0x74]));
    writeFileSync(join(folder, 'binary.fettle'), Buffer.from([0x70, 0, 0x72]));
    expect((await fettle(['check', 'latin.fettle'])).err).toContain('is not UTF-8 text');
    expect((await fettle(['check', 'binary.fettle'])).err).toContain('is not a text file');
  });

  test('a use never leaves the folder, by path or by link', async () => {
    mkdirSync(join(folder, 'inside'));
    write('secret.fettle', 'part secret');
    write('inside/a.fettle', 'use "../secret.fettle"\npart a\n');
    write('inside/b.fettle', 'use "/etc/passwd"\nuse "link.fettle"\npart a\n');
    symlinkSync(join(folder, 'secret.fettle'), join(folder, 'inside', 'link.fettle'));
    const codes = async (name: string): Promise<string[]> =>
      JSON.parse((await fettle(['check', name, '--format', 'json'])).out).files[0].findings.map(
        (each: { code: string }) => each.code,
      );
    expect(await codes('inside/a.fettle')).toEqual(['name/import-outside']);
    expect(await codes('inside/b.fettle')).toEqual(['name/import-outside', 'name/import-not-found']);
  });
});

describe('new', () => {
  test.each(['inline', 'vee', 'flat'])('a %s engine: a draft without an error, in canonical layout', async (layout) => {
    const made = await fettle(['new', 'first', '--layout', layout]);
    expect(made).toMatchObject({ status: 0, out: 'first.fettle\n' });
    const answer = JSON.parse((await fettle(['check', 'first.fettle', '--format', 'json'])).out);
    expect(answer).toMatchObject({ errors: 0, warnings: 0 });
    expect((await fettle(['format', '--check', 'first.fettle'])).status).toBe(0);
  });

  test('asks a person, and takes other numbers of cylinders', async () => {
    expect((await fettle(['new', 'asked'], '', 'flat')).status).toBe(0);
    expect(readFileSync(join(folder, 'asked.fettle'), 'utf8')).toContain('cylinders 4 flat');
    expect((await fettle(['new', 'six', '--layout', 'inline', '--cylinders', '6'])).status).toBe(0);
    expect(readFileSync(join(folder, 'six.fettle'), 'utf8')).toContain('firing-order 1-5-3-6-2-4');
  });

  test('overwrites nothing and refuses what is no name', async () => {
    write('mine.fettle', 'part a\n');
    expect((await fettle(['new', 'mine', '--layout', 'inline'])).status).toBe(2);
    expect(readFileSync(join(folder, 'mine.fettle'), 'utf8')).toBe('part a\n');
    expect((await fettle(['new', '../out', '--layout', 'inline'])).status).toBe(2);
    expect((await fettle(['new', 'odd', '--layout', 'vee', '--cylinders', '5'])).status).toBe(2);
    expect((await fettle(['new', 'unsaid'])).status).toBe(2);
  });
});

describe('format', () => {
  test('lays files out, lists what would change, leaves the rest', async () => {
    write('wrapped.fettle', 'part a { teeth\n 18 }');
    expect(await fettle(['format', '--check', '.'])).toMatchObject({ status: 1, out: 'wrapped.fettle\n' });
    expect((await fettle(['format', '.'])).status).toBe(0);
    expect(readFileSync(join(folder, 'wrapped.fettle'), 'utf8')).toBe('part a {\n  teeth 18\n}\n');
    expect((await fettle(['format', '--check', '.'])).status).toBe(0);
  });

  test('from standard input', async () => {
    expect(await fettle(['format', '--stdin'], 'part a { teeth 18 }')).toMatchObject({
      status: 0,
      out: 'part a {\n  teeth 18\n}\n',
    });
  });

  test('without anything to format is 2', async () => {
    expect((await fettle(['format'])).status).toBe(2);
  });
});

describe('values, sheet, explain', () => {
  test('values as text and JSON', async () => {
    write(
      'v.fettle',
      'part a {\n  dimension bore 10.00..10.02 mm\n  dimension pin 9.98..9.99 mm\n}\n\nlimit play\n  = a.bore - a.pin\n  within 0.00..0.05 mm\n',
    );
    expect((await fettle(['values', 'v.fettle'])).out).toContain('limit.play  0.01 to 0.04 mm');
    const { values } = JSON.parse((await fettle(['values', 'v.fettle', '--format', 'json'])).out);
    expect(values[0]).toMatchObject({
      name: 'limit.play',
      kind: 'length',
      unit: 'mm',
      low: 0.01,
      high: 0.04,
      verdict: 'inside',
    });
  });

  test('the sheet is one page beside the spec', async () => {
    write('s.fettle', GOOD);
    expect((await fettle(['sheet', 's.fettle', '--output', 's.html'])).status).toBe(0);
    expect(readFileSync(join(folder, 's.html'), 'utf8')).toContain('<!DOCTYPE html>');
    expect((await fettle(['sheet', 's.fettle', '--output', 's.fettle'])).status).toBe(2);
    expect((await fettle(['sheet', 's.fettle', '--output', 'no/such/folder.html'])).status).toBe(2);
    expect(existsSync(join(folder, 'no'))).toBe(false);
  });

  test('explain shows the page; an unknown code has the nearest', async () => {
    expect((await fettle(['explain', 'unit/missing'])).out).toContain('A number stands without its unit.');
    expect(await fettle(['explain', 'unit/mising'])).toMatchObject({
      status: 2,
      err: 'fettle: There is no finding unit/mising. Did you mean unit/missing?\n',
    });
  });

  test('wrong use is 2, help is 0', async () => {
    expect((await fettle(['chekc'])).status).toBe(2);
    expect((await fettle(['check'])).status).toBe(2);
    const help = await fettle(['--help']);
    expect(help.status).toBe(0);
    expect(help.out).toContain("maker's manual");
  });
});
