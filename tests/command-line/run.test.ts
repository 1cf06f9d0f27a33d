// The fettle command, run in process with streams of the test's own and a folder made for it.
import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { stripVTControlCharacters } from 'node:util';
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

interface Given {
  readonly stdin?: string;
  readonly ask?: string;
  readonly terminal?: boolean;
  readonly progress?: boolean;
}

async function fettle(args: readonly string[], given: Given = {}): Promise<Result> {
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
      terminal: given.terminal ?? false,
      progress: given.progress ?? false,
      folder,
      stdin: () => Promise.resolve(given.stdin ?? ''),
      ...(given.ask === undefined ? {} : { ask: () => Promise.resolve(given.ask ?? '') }),
    },
    () => Promise.resolve(0),
    () => '1.2.3',
  );
  return { status, out, err };
}

const write = (name: string, text: string): void => writeFileSync(join(folder, name), text);
const GOOD = 'fastener cover-bolt x6 {\n  thread M6\n  torque 9 N.m\n}\n';
const BAD = 'fastener cover-bolt x6 {\n  thread M6\n  torque 9\n}\n';

describe('check', () => {
  test('--unsaid lists what is left unsaid, and is no fault', async () => {
    writeFileSync(join(folder, 'oil.fettle'), 'supply oil {\n  kind oil\n}\n');
    const { status, out } = await fettle(['check', 'oil.fettle', '--unsaid']);
    expect(out).toContain('supply oil\n  amount  would tell: that as much goes in as must');
    expect(status).toBe((await fettle(['check', 'oil.fettle'])).status);
    expect((await fettle(['check', 'oil.fettle'])).out).not.toContain('would tell');
    const json = await fettle(['check', 'oil.fettle', '--unsaid', '--format', 'json']);
    expect(JSON.parse(json.out).files[0].unsaid).toEqual([
      expect.objectContaining({ thing: 'supply oil', unsaid: 'amount', start: { line: 1, column: 8 } }),
    ]);
  });

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

describe('check, more of it', () => {
  test('what can be read is checked, and what can not is said: 2', async () => {
    write('bad.fettle', BAD);
    writeFileSync(join(folder, 'binary.fettle'), Buffer.from([0x70, 0, 0x72]));
    const { status, out, err } = await fettle(['check', '.', 'none.fettle', '--format', 'json']);
    expect(status).toBe(2);
    expect(JSON.parse(out).files.map((file: { file: string }) => file.file)).toEqual(['bad.fettle']);
    expect(err).toBe(
      'fettle: There is no file or folder none.fettle. Check how it is written.\nfettle: binary.fettle is not a text file.\n',
    );
  });

  test('each file once, in the order named, folders by name', async () => {
    mkdirSync(join(folder, 'sub'));
    for (const name of ['z.fettle', 'a.fettle', 'sub/m.fettle', 'sub/b.fettle']) write(name, GOOD);
    const { out } = await fettle(['check', 'z.fettle', '.', 'sub', '--format', 'json']);
    expect(JSON.parse(out).files.map((file: { file: string }) => file.file)).toEqual([
      'z.fettle',
      'a.fettle',
      join('sub', 'b.fettle'),
      join('sub', 'm.fettle'),
    ]);
  });

  test('of a long line, the part round the finding; a control character moves no cursor', async () => {
    write('long.fettle', `part a {\n  note "${'x'.repeat(400)}" tooth 3\n}\n`);
    const long = (await fettle(['check', 'long.fettle'])).out.split('\n');
    expect(long[0]).toMatch(/^long\.fettle:2:411: error: /);
    expect(long[1]).toMatch(/^ {2}2 \| …x+" tooth 3$/);
    expect(long[2]?.indexOf('^')).toBe(long[1]?.indexOf('tooth'));
    write('bell.fettle', 'part a {\n  tooth\u0007\u001b[31m 3\n}\n');
    const bell = (await fettle(['check', 'bell.fettle'])).out;
    expect(bell).not.toContain('\u001b');
    expect(bell).not.toContain('\u0007');
  });

  test('colour on a terminal alone, and the words stay', async () => {
    write('bad.fettle', BAD);
    const plain = (await fettle(['check', 'bad.fettle'])).out;
    const colour = (await fettle(['check', 'bad.fettle'], { terminal: true })).out;
    expect(plain).not.toContain('\u001b');
    expect(colour).toContain('\u001b[31merror\u001b[39m');
    expect(stripVTControlCharacters(colour)).toBe(plain);
  });

  test('progress on a terminal, for many files, and nothing of it stays', async () => {
    for (let i = 0; i < 25; i += 1) write(`s${i}.fettle`, GOOD);
    expect((await fettle(['check', '.'])).err).toBe('');
    const { err } = await fettle(['check', '.'], { progress: true });
    expect(err).toContain('of 25 files checked');
    expect(err.endsWith('\r\u001b[K')).toBe(true);
  });

  test('findings of one variant', async () => {
    write(
      'two.fettle',
      'spec a "A" {\n  draft\n  variants road, track\n}\n\npart sump\n\nwhen track {\n  fastener sump-bolt x4 {\n    clamps sump\n    thread M6\n    torque 9\n  }\n}\n',
    );
    const of = async (...more: string[]): Promise<{ readonly code: string; readonly variants?: readonly string[] }[]> =>
      JSON.parse((await fettle(['check', 'two.fettle', '--format', 'json', ...more])).out).files[0].findings;
    const missing = (each: { readonly code: string }): boolean => each.code === 'unit/missing';
    expect((await of()).find(missing)?.variants).toEqual(['track']);
    expect((await of('--variant', 'track')).some(missing)).toBe(true);
    expect((await of('--variant', 'road')).some(missing)).toBe(false);
  });

  test('findings of one job', async () => {
    const { out: made } = await fettle(['new', 'jobs', '--layout', 'inline']);
    const spec = readFileSync(join(folder, made.trim()), 'utf8').replace('  draft\n', '');
    // One job turns the crankshaft and never proves the timing; the other is the whole build.
    const job = (name: string, sequence: string): string =>
      `\njob ${name} {\n  begins whole\n  sequences ${sequence}\n}\n`;
    const strip =
      '\nsequence strip {\n  phase teardown\n  step off {\n    loosen cam-sprocket-bolt\n    remove crank-sprocket, cam-sprocket, timing-chain together\n  }\n}\n\nsequence refit {\n  phase assemble\n  step on {\n    renew timing-chain\n    fit crank-sprocket, cam-sprocket, timing-chain together\n    tighten cam-sprocket-bolt\n  }\n}\n';
    const whole = '\njob build {\n  begins bare\n  sequences long-block\n}\n';
    write('jobs.fettle', spec + strip + job('chain', 'strip, refit') + whole);
    const codes = async (...more: string[]): Promise<string[]> =>
      JSON.parse((await fettle(['check', 'jobs.fettle', '--format', 'json', ...more])).out).files[0].findings.map(
        (each: { code: string }) => each.code,
      );
    expect(await codes()).toContain('sequence/timing-not-proved');
    expect(await codes('--job', 'chain')).toContain('sequence/timing-not-proved');
    expect(await codes('--job', 'build')).not.toContain('sequence/timing-not-proved');
  });

  test('a job that there is not is 2', async () => {
    write('good.fettle', GOOD);
    expect(await fettle(['check', 'good.fettle', '--job', 'rebuild'])).toMatchObject({
      status: 2,
      err: 'fettle: There is no job rebuild here: there are none.\n',
    });
  });

  test('outside git, the folder that was named is the workspace folder', async () => {
    mkdirSync(join(folder, 'engines'));
    write('common.fettle', 'part shared\n');
    write(
      'engines/a.fettle',
      'use "../common.fettle"\n\nfastener b x2 {\n  clamps shared\n  thread M6\n  torque 9 N.m\n}\n',
    );
    expect((await fettle(['check', '.'])).status).toBe(0);
    expect((await fettle(['check', 'engines/a.fettle'])).out).toContain('[name/import-outside]');
  });
});

interface Region {
  readonly startLine: number;
  readonly startColumn: number;
  readonly endLine: number;
  readonly endColumn: number;
}
interface Place {
  readonly physicalLocation: { readonly artifactLocation: { readonly uri: string }; readonly region: Region };
}
interface Rule {
  readonly id: string;
  readonly shortDescription: { readonly text: string };
  readonly help: { readonly text: string };
  readonly defaultConfiguration: { readonly level: string };
}
interface Fix {
  readonly artifactChanges: readonly {
    readonly replacements: readonly {
      readonly deletedRegion: Region;
      readonly insertedContent: { readonly text: string };
    }[];
  }[];
}
interface Log {
  readonly version: string;
  readonly runs: readonly {
    readonly columnKind: string;
    readonly tool: {
      readonly driver: { readonly name: string; readonly version?: string; readonly rules: readonly Rule[] };
    };
    readonly results: readonly {
      readonly ruleId: string;
      readonly ruleIndex: number;
      readonly level: string;
      readonly message: { readonly text: string };
      readonly partialFingerprints?: Readonly<Record<string, string>>;
      readonly locations: readonly Place[];
      readonly relatedLocations?: readonly Place[];
      readonly fixes?: readonly Fix[];
    }[];
  }[];
}

/** Holds a SARIF log against what the 2.1.0 specification asks of the parts that are used here. */
function sarifFaults(log: unknown): readonly string[] {
  const faults: string[] = [];
  const must = (holds: boolean, what: string): void => {
    if (!holds) faults.push(what);
  };
  const { version, runs } = log as Log;
  must(version === '2.1.0', 'version');
  must(Array.isArray(runs) && runs.length === 1, 'one run');
  const [first] = runs;
  if (first === undefined) return ['no run'];
  const { tool, results, columnKind } = first;
  must(columnKind === 'utf16CodeUnits', 'columnKind');
  must(typeof tool.driver.name === 'string' && typeof tool.driver.version === 'string', 'driver');
  const known = results.map((result) => result.partialFingerprints?.['findingInLine/v1']);
  must(
    known.every((each) => /^[0-9a-f]{32}$/.test(each ?? '')),
    'fingerprints',
  );
  must(new Set(known).size === known.length, 'a fingerprint is of one finding');
  const ids = tool.driver.rules.map((rule) => rule.id);
  must(new Set(ids).size === ids.length, 'rule ids are unique');
  for (const rule of tool.driver.rules) {
    must(/^[a-z-]+\/[a-z-]+$/.test(rule.id), `rule id ${rule.id}`);
    must(rule.shortDescription.text.length > 10 && rule.help.text.length > 40, `help of ${rule.id}`);
    must(['none', 'note', 'warning', 'error'].includes(rule.defaultConfiguration.level), `level of ${rule.id}`);
  }
  for (const result of results) {
    must(ids[result.ruleIndex] === result.ruleId, `ruleIndex of ${result.ruleId}`);
    must(typeof result.message.text === 'string', 'message.text');
    must(['none', 'note', 'warning', 'error'].includes(result.level), 'level');
    for (const place of [...result.locations, ...(result.relatedLocations ?? [])]) {
      const { artifactLocation, region } = place.physicalLocation;
      must(/^[\w.~%!$&'()*+,;=:@/-]+$/.test(artifactLocation.uri), `uri ${artifactLocation.uri}`);
      must(region.startLine >= 1 && region.startColumn >= 1, 'start');
      must(
        region.endLine > region.startLine ||
          (region.endLine === region.startLine && region.endColumn >= region.startColumn),
        'end not before start',
      );
    }
    for (const fix of result.fixes ?? [])
      for (const change of fix.artifactChanges)
        for (const replacement of change.replacements)
          must(replacement.deletedRegion.startLine >= 1 && typeof replacement.insertedContent.text === 'string', 'fix');
  }
  return faults;
}

test('SARIF of every kind of finding has the agreed form', async () => {
  const samples = join(import.meta.dirname, '../../samples');
  const log = JSON.parse((await fettle(['check', samples, '--format', 'sarif'])).out);
  expect(log.runs[0].results.length).toBeGreaterThan(20);
  expect(log.runs[0].results.some((result: { fixes?: unknown }) => result.fixes !== undefined)).toBe(true);
  expect(sarifFaults(log)).toEqual([]);
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
    expect((await fettle(['new', 'asked'], { ask: 'flat' })).status).toBe(0);
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
    // Nobody says how the cylinders lie, and nobody can be asked: the commonest.
    const unsaid = await fettle(['new', 'unsaid']);
    expect(unsaid).toMatchObject({ status: 0, out: 'unsaid.fettle\n' });
    expect(unsaid.err).toContain('For 4 cylinders in line');
    expect(readFileSync(join(folder, 'unsaid.fettle'), 'utf8')).toContain('  cylinders 4 inline\n');
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
    expect(await fettle(['format', '--stdin'], { stdin: 'part a { teeth 18 }' })).toMatchObject({
      status: 0,
      out: 'part a {\n  teeth 18\n}\n',
    });
  });

  test('from standard input, only to look', async () => {
    expect(await fettle(['format', '--stdin', '--check'], { stdin: 'part a { teeth 18 }' })).toMatchObject({
      status: 1,
      out: '',
    });
    expect((await fettle(['format', '--stdin', '--check'], { stdin: 'part a\n' })).status).toBe(0);
    expect((await fettle(['format', '--stdin', 'a.fettle'], { stdin: 'part a\n' })).status).toBe(2);
  });

  test('a link stays a link, and nothing is left beside the file', async () => {
    write('real.txt', 'part a { teeth 18 }');
    symlinkSync('real.txt', join(folder, 'link.fettle'));
    expect((await fettle(['format', 'link.fettle'])).status).toBe(0);
    expect(lstatSync(join(folder, 'link.fettle')).isSymbolicLink()).toBe(true);
    expect(readFileSync(join(folder, 'real.txt'), 'utf8')).toBe('part a {\n  teeth 18\n}\n');
    expect(readdirSync(folder).sort()).toEqual(['link.fettle', 'real.txt']);
  });

  test('a file that may not be written is left whole, and said', async () => {
    if (process.getuid?.() === 0) {
      // Nothing is closed to root: a folder in the place of the file stands for it.
      write('s.fettle', GOOD);
      mkdirSync(join(folder, 'taken.html'));
      const { status, err } = await fettle(['sheet', 's.fettle', '--output', 'taken.html']);
      expect([status, err]).toEqual([2, expect.stringContaining('it is a folder: name a file')]);
    } else {
      mkdirSync(join(folder, 'closed'));
      write('closed/a.fettle', 'part a { teeth 18 }');
      chmodSync(join(folder, 'closed'), 0o555);
      const { status, err } = await fettle(['format', 'closed/a.fettle']);
      chmodSync(join(folder, 'closed'), 0o755);
      expect([status, err]).toEqual([2, expect.stringContaining('you may not write there')]);
      expect(readFileSync(join(folder, 'closed/a.fettle'), 'utf8')).toBe('part a { teeth 18 }');
    }
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
    expect((await fettle(['values', 'v.fettle'])).out).toContain('play: 0.01 to 0.04 mm');
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

  test('rehearse tells the job step by step: 1 with a fault in it, 0 without', async () => {
    const faults = join(import.meta.dirname, '../../samples/faults');
    const bad = await fettle(['rehearse', join(faults, 'stage-left.fettle')]);
    expect(bad.status).toBe(1);
    expect(bad.out).toContain('[sequence/stage-left]');
    await fettle(['new', 'good', '--layout', 'inline']);
    const good = await fettle(['rehearse', 'good.fettle']);
    expect(good.status).toBe(0);
    expect(good.out).toContain('     tighten head-bolt\n');
    expect(good.out).not.toContain('-> head-bolt: tight');
    expect(good.out).toContain(
      '     Caution: Ring edges cut. Keep fingers out of the bore.\n     Tool: ring compressor\n',
    );
    expect(good.out).toContain('     [to be proved: cam-drive]\n');
    const { jobs, left } = JSON.parse((await fettle(['rehearse', 'good.fettle', '--format', 'json'])).out);
    expect(left).toEqual([]);
    expect(jobs[0]).toMatchObject({ begins: 'bare' });
    expect(jobs[0].steps[0]).toMatchObject({ sequence: 'long-block', step: 'lay-crankshaft', times: 1 });
    expect(jobs[0].steps[0].actions[0]).toMatchObject({
      text: 'fit main-shell upper into block',
      file: 'good.fettle',
      start: { column: 5 },
      changes: ['main-shell upper 1 to 5: on'],
      findings: [],
    });
    write('none.fettle', 'part a\n');
    expect(await fettle(['rehearse', 'none.fettle'])).toMatchObject({ status: 2, out: '' });
    expect((await fettle(['rehearse', 'good.fettle', '--job', 'none'])).status).toBe(2);
  });

  test('reach says what comes off; a name that is no part has the nearest', async () => {
    write(
      'r.fettle',
      'part pump\n\npart cover {\n  covers pump\n}\n\nfastener cover-bolt x4 {\n  clamps cover to pump\n}\n',
    );
    const { status, out } = await fettle(['reach', 'r.fettle', 'pump']);
    expect(status).toBe(0);
    expect(out).toContain(' 1. cover: covers pump; undo cover-bolt');
    const { out: json } = await fettle(['reach', 'r.fettle', 'pump', '--format', 'json']);
    expect(JSON.parse(json)).toMatchObject({
      part: 'pump',
      comesOff: [
        { part: 'cover', why: 'covers pump', surety: 'said', undo: ['cover-bolt'] },
        { part: 'pump', why: '' },
      ],
    });
    expect((await fettle(['reach', 'r.fettle', 'pump', '--format', 'csv'])).status).toBe(2);
    expect(await fettle(['reach', 'r.fettle', 'pmp'])).toMatchObject({
      status: 2,
      err: 'fettle: There is no part pmp here. Did you mean pump?\n',
    });
    expect((await fettle(['reach', 'r.fettle', 'cover-bolt'])).status).toBe(2);
  });

  test('reach as a job: a file beside the spec that checks clean', async () => {
    write('r.fettle', 'part pump\n\npart cover {\n  covers pump\n}\n');
    const { status, out } = await fettle(['reach', 'r.fettle', 'pump', '--as-job']);
    expect(status).toBe(0);
    expect(out).toContain('use "r.fettle"');
    write('get-at-pump.fettle', out);
    expect((await fettle(['check', 'get-at-pump.fettle', '--strict'])).status).toBe(0);
  });

  test('reach at single places; a place that is not there is said', async () => {
    write('r.fettle', 'part head {\n  places left, right\n}\n\npart cover {\n  places left, right\n  covers head\n}\n');
    expect((await fettle(['reach', 'r.fettle', 'head', 'left'])).out).toContain(' 1. cover left: covers head\n');
    expect((await fettle(['reach', 'r.fettle', 'head', 'left', '--as-job'])).out).toContain('remove cover left\n');
    expect(await fettle(['reach', 'r.fettle', 'head', '3'])).toMatchObject({
      status: 2,
      err: 'fettle: head has no place 3: its places are left, right.\n',
    });
  });

  test('a job that would not hold is not written, and what could not be worked out is said', async () => {
    write(
      'r.fettle',
      "part crankshaft\n\npart gear {\n  teeth 20\n  fixed-to crankshaft\n  mark dot at 12 o'clock\n}\n\npart wheel {\n  teeth 40\n}\n\npart case {\n  covers gear\n}\n\nlimit lash of gear\n  kind backlash\n  measured\n  within 0.05..0.10 mm\n\nsequence build {\n  phase assemble\n  step try-it {\n    trial\n    fit gear\n    measure lash\n  }\n  step put {\n    fit gear, wheel, case\n  }\n}\n",
    );
    const { status, out, err } = await fettle(['reach', 'r.fettle', 'gear', '--as-job']);
    expect([status, out]).toEqual([2, '']);
    expect(err).toContain('No job is written for gear, since it would not hold. What could not be worked out: ');
    expect((await fettle(['reach', 'r.fettle', 'gear'])).status).toBe(0);
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

  test.each([
    [['chekc']],
    [['check']],
    [['check', '--fromat', 'json', '.']],
    [['serve']],
    [['sheet', 'a.fettle']],
    [[]],
  ])('wrong use is 2, with one line: %j', async (args) => {
    const { status, err } = await fettle(args);
    expect(status).toBe(2);
    expect(err).toMatch(/^fettle: .*\n$/);
  });

  test.each([
    [['chekc', 'a.fettle'], 'There is no command chekc. Did you mean check?'],
    [['nonsense'], 'There is no command nonsense.'],
    [['check', '--fromat', 'json', '.'], 'There is no option --fromat. Did you mean --format?'],
    [['sheet', 'a.fettle'], '--output <file> is missing.'],
    [['new'], 'name is missing.'],
  ])('wrong use is told in plain words: %j', async (args, said) => {
    expect((await fettle(args)).err).toBe(`fettle: ${said} fettle --help says how it is used.\n`);
  });

  test('serve starts the server', async () => {
    expect((await fettle(['serve', '--stdio'])).status).toBe(0);
  });

  test('version and help are 0', async () => {
    expect(await fettle(['--version'])).toMatchObject({ status: 0, out: '1.2.3\n', err: '' });
    const help = await fettle(['--help']);
    expect(help.status).toBe(0);
    expect(help.out).toContain("maker's manual");
  });
});
