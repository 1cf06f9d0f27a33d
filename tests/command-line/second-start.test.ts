// The program as it is installed, started again and again: from the second start on it begins from what was compiled before, and whatever
// stands in the folder where that is kept, what it finds is the same.
import { spawn, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  appendFileSync,
  chmodSync,
  chownSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { getuid } from 'node:process';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { createMessageConnection, StreamMessageReader, StreamMessageWriter } from 'vscode-languageserver-protocol/node';
import { cacheFolder, isUsable, madeUsable } from '../../server/entry/cache-folder.ts';
import { writeInstalled } from '../installed.ts';

const root = join(import.meta.dirname, '../..');
const sample = join(root, 'samples', 'faults', readdirSync(join(root, 'samples', 'faults'))[0] ?? '');

/** Tells of each program that is made ready whether it was from what was kept: `kept`, `anew`, or `refused` where the engine would not have it. */
const TELLS = `
const vm = require('node:vm');
const { Script } = vm;
vm.Script = class extends Script {
  constructor(text, options) {
    super(text, options);
    const how = options.cachedData === undefined ? 'anew' : this.cachedDataRejected ? 'refused' : 'kept';
    require('node:fs').appendFileSync(process.env.TOLD, how + ' ');
  }
};
`;

let home = '';
let command = '';
let cache = '';
const told = (): string => join(home, 'told');
const files = (): string[] => readdirSync(cache).sort();
const only = (): string => {
  const [file = '', ...more] = files();
  expect(more).toEqual([]);
  return join(cache, file);
};
const kindsIn = (file: string): string => readFileSync(file).toString('latin1', 64, 512).trim();

const environment = (more: Readonly<Record<string, string>> = {}): NodeJS.ProcessEnv => ({
  ...process.env,
  ...{ FETTLE_CACHE: cache, TOLD: told(), LC_ALL: 'C', ...more },
});

/** What a start of the command gives, and how its program was made ready. */
interface Start {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
  readonly how: string;
}

function starts(args: readonly string[], env: Readonly<Record<string, string>> = {}): Start {
  writeFileSync(told(), '');
  const { status, stdout, stderr } = spawnSync(process.execPath, ['-r', join(home, 'tells.cjs'), command, ...args], {
    ...{ cwd: home, encoding: 'utf8', env: environment(env) },
  });
  return { status, out: stdout, err: stderr, how: readFileSync(told(), 'utf8').trim() };
}

const checks = (env: Readonly<Record<string, string>> = {}): Start => starts(['check', sample], env);

beforeAll(async () => {
  home = mkdtempSync(join(tmpdir(), 'fettle-second-'));
  command = await writeInstalled(home);
  writeFileSync(join(home, 'tells.cjs'), TELLS);
}, 120_000);
beforeEach(() => {
  cache = mkdtempSync(join(home, 'cache-'));
});
afterAll(() => rmSync(home, { recursive: true, force: true }));

describe('a command', () => {
  test('begins anew, then from what was kept, which is written once and is for nobody else', () => {
    rmSync(cache, { recursive: true });
    const first = checks();
    expect(first).toMatchObject({ status: 1, err: '', how: 'anew' });
    expect(statSync(cache).mode & 0o777).toBe(0o700);
    expect(statSync(only()).mode & 0o777).toBe(0o600);
    const before = statSync(only());
    expect(checks()).toEqual({ ...first, how: 'kept' });
    expect(checks()).toEqual({ ...first, how: 'kept' });
    expect(statSync(only())).toMatchObject({ ino: before.ino, mtimeMs: before.mtimeMs });
  });

  test('finds the same without', () => {
    const kept = [checks(), checks()][1];
    expect(checks({ FETTLE_CACHE: 'off' })).toEqual({ ...kept, how: 'anew' });
  });

  test('of another kind adds what it needs, once; one that could not do its work adds nothing', () => {
    checks();
    expect(kindsIn(only())).toBe('check');
    expect(starts(['explain', 'unit/missing']).how).toBe('kept');
    expect(kindsIn(only())).toBe('check explain');
    const before = statSync(only());
    expect(starts(['explain', 'unit/missing']).how).toBe('kept');
    expect(starts(['nonsense']).status).toBe(2);
    expect(starts(['--version']).status).toBe(0);
    expect(statSync(only())).toMatchObject({ ino: before.ino });
  });

  test('of many files has its threads begin from it too', () => {
    const shop = mkdtempSync(join(home, 'shop-'));
    for (let i = 0; i < 60; i += 1) copyFileSync(sample, join(shop, `${i}.fettle`));
    const first = starts(['check', shop]);
    const threads = availableParallelism() > 1 ? Math.min(availableParallelism(), 2) : 0;
    expect(first.how).toBe(
      Array(threads + 1)
        .fill('anew')
        .join(' '),
    );
    expect(kindsIn(only())).toBe(threads > 0 ? 'check-many' : 'check');
    expect(starts(['check', shop])).toEqual({ ...first, how: first.how.replaceAll('anew', 'kept') });
  });
});

describe('whatever stands in the folder, the same is found', () => {
  /** What the first start finds, and the file that it writes. */
  let first: Start;
  let kept = '';
  beforeAll(() => {
    cache = mkdtempSync(join(home, 'first-'));
    first = checks();
    kept = only();
  });
  // Each begins where that start left off.
  beforeEach(() => copyFileSync(kept, join(cache, basename(kept))));

  /** Bytes of a file with the sum at their head put right. */
  const summed = (bytes: Buffer): Buffer => {
    bytes.write(createHash('sha256').update(bytes.subarray(64)).digest('hex'), 0, 'latin1');
    return bytes;
  };
  const damages: readonly (readonly [what: string, damage: (file: string) => void])[] = [
    [
      'a letter in the middle is another',
      (file) => {
        const bytes = readFileSync(file);
        const at = bytes.length >> 1;
        bytes[at] = (bytes[at] ?? 0) ^ 0x55;
        writeFileSync(file, bytes);
      },
    ],
    ['half of it is there', (file) => writeFileSync(file, readFileSync(file).subarray(0, statSync(file).size >> 1))],
    ['something stands behind it', (file) => appendFileSync(file, 'more')],
    ['its place is there and nothing was written', (file) => writeFileSync(file, Buffer.alloc(statSync(file).size))],
    ['nothing is in it', (file) => writeFileSync(file, '')],
    ['others may write to it', (file) => chmodSync(file, 0o666)],
    [
      'it is a link',
      (file) => {
        renameSync(file, join(home, 'elsewhere'));
        symlinkSync(join(home, 'elsewhere'), file);
      },
    ],
  ];
  test('what is right is used', () => {
    expect(checks()).toEqual({ ...first, how: 'kept' });
  });

  test.each(damages)('%s: it is not used, and written anew', (_what, damage) => {
    damage(only());
    expect(checks()).toEqual(first);
    expect(checks()).toEqual({ ...first, how: 'kept' });
  });

  test('what another engine made is refused by this one, and left as it is', () => {
    const bytes = readFileSync(only());
    // The number by which an engine knows its own.
    bytes.writeUInt32LE((bytes.readUInt32LE(512 + 4) ^ 1) >>> 0, 512 + 4);
    writeFileSync(only(), summed(bytes));
    expect(checks()).toEqual({ ...first, how: 'refused' });
    expect(readFileSync(only()).equals(bytes)).toBe(true);
  });

  test('a folder stands in the place of the file', () => {
    const file = only();
    rmSync(file);
    mkdirSync(file);
    expect(checks()).toEqual(first);
    expect(checks()).toEqual(first);
    expect(files()).toEqual([file.slice(cache.length + 1)]);
  });

  test('others may write to the folder: nothing is read there and nothing written', () => {
    chmodSync(cache, 0o777);
    expect(checks()).toEqual(first);
    rmSync(only());
    expect(checks()).toEqual(first);
    expect(files()).toEqual([]);
  });

  test('the folder is another’s', () => {
    // Who may do everything gives it away; anybody else has the top of the disk, which is not theirs.
    const others = getuid?.() === 0 ? cache : '/';
    if (others === cache) chownSync(cache, 65_534, 65_534);
    expect(isUsable({ path: others, isNamed: true })).toBe(false);
    expect(madeUsable({ path: others, isNamed: true })).toBe(false);
    expect(checks({ FETTLE_CACHE: others })).toEqual(first);
  });

  test('nothing can be written there, or there is no such place', () => {
    for (const nowhere of [join(sample, 'below-a-file'), '/proc/fettle', '/dev/null'])
      expect(checks({ FETTLE_CACHE: nowhere })).toEqual(first);
    for (const none of ['off', 'relative', './relative']) expect(checks({ FETTLE_CACHE: none })).toEqual(first);
    expect(existsSync(join(home, 'relative'))).toBe(false);
    expect(checks({ FETTLE_CACHE: '', XDG_CACHE_HOME: '', HOME: join(home, 'nowhere') })).toEqual(first);
    expect(existsSync(join(home, 'nowhere'))).toBe(false);
  });

  test('what earlier builds left at the same place goes, and so does what is too much; nothing that is not ours', () => {
    const [place] = (files()[0] ?? '').split('-');
    rmSync(only());
    const ages = (name: string, days: number): string => {
      const file = join(cache, name);
      writeFileSync(file, '');
      utimesSync(file, new Date(), new Date(Date.now() - days * 86_400_000));
      return name;
    };
    const earlier = ages(`${place}-0123456789ab-0123456789ab.code`, 0);
    const others = Array.from({ length: 12 }, (_, i) =>
      ages(`${String(i).padStart(12, '0')}-0123456789ab-0123456789ab.code`, i + 1),
    );
    const leftOver = ages(`${others[0]}.new-0123`, 1);
    const notOurs = ages('notes.code', 900);
    checks();
    const left = files();
    expect(left).not.toContain(earlier);
    expect(left).not.toContain(leftOver);
    expect(left).toContain(notOurs);
    expect(left.filter((each) => others.includes(each))).toEqual(others.slice(0, 7));
    expect(left.filter((each) => each.startsWith(`${place}-`))).toHaveLength(1);
  });
});

/** Starts the server, has it tell the findings of the sample, and waits until it keeps something or for so many milliseconds. */
async function serves(wait: number): Promise<{ readonly findings: unknown; readonly how: string }> {
  writeFileSync(told(), '');
  const child = spawn(process.execPath, ['-r', join(home, 'tells.cjs'), command, 'serve', '--stdio'], {
    ...{ stdio: ['pipe', 'pipe', 'inherit'], env: environment() },
  });
  const { stdin, stdout } = child;
  if (stdin === null || stdout === null) throw new Error('the process has no streams');
  const editor = createMessageConnection(new StreamMessageReader(stdout), new StreamMessageWriter(stdin));
  editor.onRequest(() => null);
  editor.listen();
  await editor.sendRequest('initialize', {
    ...{ processId: null, rootUri: null, capabilities: { textDocument: { diagnostic: {} } } },
  });
  await editor.sendNotification('initialized', {});
  const uri = 'file:///spec.fettle';
  const text = readFileSync(sample, 'utf8');
  await editor.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId: 'fettle', version: 1, text },
  });
  const findings = await editor.sendRequest('textDocument/diagnostic', { textDocument: { uri } });
  for (const end = Date.now() + wait; Date.now() < end && !files().some((file) => file.endsWith('.code')); )
    await new Promise((done) => setTimeout(done, 50));
  editor.dispose();
  child.kill();
  await new Promise((done) => child.once('exit', done));
  return { findings, how: readFileSync(told(), 'utf8').trim() };
}

test('a server keeps it when nothing came for a while after its first findings, and begins from it the next time', async () => {
  const first = await serves(60_000);
  expect(first.how).toBe('anew');
  expect(JSON.stringify(first.findings)).toContain('"code"');
  expect(kindsIn(only())).toBe('serve');
  const before = statSync(only());
  expect(await serves(0)).toEqual({ ...first, how: 'kept' });
  expect(statSync(only())).toMatchObject({ ino: before.ino });
  // The engine of a command is set otherwise: it has a file of its own.
  checks();
  expect(files()).toHaveLength(2);
});

describe('the folder', () => {
  const home = (): string => '/home/me';
  test.each([
    ['linux', {}, '/home/me/.cache/fettle'],
    ['linux', { XDG_CACHE_HOME: '/disk/cache' }, '/disk/cache/fettle'],
    ['linux', { XDG_CACHE_HOME: 'cache' }, '/home/me/.cache/fettle'],
    ['freebsd', {}, '/home/me/.cache/fettle'],
    ['darwin', { XDG_CACHE_HOME: '/disk/cache' }, '/home/me/Library/Caches/fettle'],
    ['win32', { LOCALAPPDATA: '/Users/me/AppData/Local' }, '/Users/me/AppData/Local/fettle'],
    ['win32', {}, undefined],
    ['linux', { FETTLE_CACHE: '/elsewhere' }, '/elsewhere'],
    ['win32', { FETTLE_CACHE: '/elsewhere' }, '/elsewhere'],
    ['linux', { FETTLE_CACHE: 'off' }, undefined],
    ['linux', { FETTLE_CACHE: 'elsewhere' }, undefined],
    ['linux', { FETTLE_CACHE: '' }, '/home/me/.cache/fettle'],
  ])('on %s with %j is %s', (system, env, path) => {
    expect(cacheFolder(env, system, home)?.path).toBe(path);
  });

  test('is made below what is one’s own alone, unless it was named', () => {
    const others = getuid?.() === 0 ? mkdtempSync(join(cache, 'others-')) : '/usr';
    if (getuid?.() === 0) chownSync(others, 65_534, 65_534);
    const path = join(others, 'deep', 'fettle');
    expect(madeUsable({ path, isNamed: false })).toBe(false);
    expect(existsSync(join(others, 'deep'))).toBe(false);
    const own = join(cache, 'deep', 'fettle');
    expect(madeUsable({ path: own, isNamed: false })).toBe(true);
    expect(statSync(own).mode & 0o777).toBe(0o700);
    const deeper = join(cache, 'a', 'b', 'fettle');
    expect(() => madeUsable({ path: deeper, isNamed: false })).toThrow();
    expect(madeUsable({ path: deeper, isNamed: true })).toBe(true);
  });
});
