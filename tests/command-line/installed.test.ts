// The fettle command as it is installed: bundled as for a release, run as a process of its own.
import { spawn, spawnSync } from 'node:child_process';
import { closeSync, existsSync, mkdirSync, mkdtempSync, openSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { bundleTo } from '../bundled.ts';

const root = join(import.meta.dirname, '../..');
const samples = join(root, 'samples');
let folder = '';
let command = '';

/** Messages whose length is not theirs. */
const LENGTHS: readonly (readonly [string, (length: number) => string])[] = [
  ['too short', (length) => `Content-Length: ${length - 5}`],
  ['longer than what comes', (length) => `Content-Length: ${length + 4000}`],
  ['no number', () => 'Content-Length: many'],
  ['below nothing', () => 'Content-Length: -7'],
  ['not said', () => 'Content-Type: text/plain'],
  ['no header at all', () => 'hello'],
];

/** With which status a server ends that is sent such a message and a right one, and what it says. */
async function endOfServer(header: (length: number) => string): Promise<readonly [status: unknown, err: string]> {
  const child = spawn(process.execPath, [command, 'serve', '--stdio']);
  let err = '';
  child.stderr.on('data', (piece) => {
    err += String(piece);
  });
  const ended = new Promise((done) => {
    child.on('exit', done);
  });
  const text = JSON.stringify({
    ...{ jsonrpc: '2.0', id: 1, method: 'initialize' },
    params: { processId: null, rootUri: null, capabilities: {} },
  });
  child.stdin.on('error', () => undefined);
  child.stdin.write(`${header(text.length)}\r\n\r\n${text}`);
  child.stdin.write(`Content-Length: ${text.length}\r\n\r\n${text}`);
  return [await ended, err];
}

let ends: ReadonlyMap<string, ReturnType<typeof endOfServer>>;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'fettle-installed-'));
  command = join(folder, 'dist', 'fettle.js');
  writeFileSync(join(folder, 'package.json'), '{ "version": "7.8.9" }');
  mkdirSync(join(folder, 'work'));
  await bundleTo(command, 'server/entry/command.ts');
  // A server waits for some seconds for the rest of a message: they wait while all else is tried.
  ends = new Map(LENGTHS.map(([name, header]) => [name, endOfServer(header)]));
}, 60_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

function fettle(
  args: readonly string[],
  input: string | Buffer = '',
): { status: number | null; out: string; err: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, [command, ...args], {
    cwd: join(folder, 'work'),
    input,
    env: { ...process.env, NO_COLOR: '' },
  });
  return { status, out: stdout.toString(), err: stderr.toString() };
}

test('0, 1 and 2', () => {
  writeFileSync(
    join(folder, 'work', 'good.fettle'),
    'part a\n\nfastener b x2 {\n  clamps a\n  thread M6\n  torque 9 N.m\n}\n',
  );
  writeFileSync(join(folder, 'work', 'bad.fettle'), 'part a {\n  tooth 3\n}\n');
  expect(fettle(['check', 'good.fettle']).status).toBe(0);
  expect(fettle(['check', 'bad.fettle'])).toMatchObject({ status: 1, err: '' });
  expect(fettle(['check', 'none.fettle'])).toMatchObject({ status: 2, out: '' });
});

test('the help pages are in the bundle, and the version is that of the package', () => {
  expect(fettle(['explain', 'unit/missing']).out).toContain('A number stands without its unit.');
  expect(fettle(['--version'])).toMatchObject({ status: 0, out: '7.8.9\n' });
});

test('no colour into a pipe', () => {
  expect(fettle(['check', join(samples, 'faults')]).out).not.toContain('\u001b');
});

test('standard input that is no UTF-8 is said, and nothing is printed', () => {
  const { status, out, err } = fettle(['format', '--stdin'], Buffer.from([0x70, 0xe4, 0x72]));
  expect([status, out]).toEqual([2, '']);
  expect(err).toBe('fettle: Standard input is not UTF-8 text. Save it as UTF-8 first.\n');
});

test('nobody at a terminal is asked nothing: the commonest layout is taken, and said', () => {
  const { status, out, err } = fettle(['new', 'first']);
  expect([status, out]).toEqual([0, 'first.fettle\n']);
  expect(err).toContain('4 cylinders in line');
});

test.each([
  ['a reader that has seen enough is no fault; what was found is still told by the exit status', 'faults', 1],
  ['and where nothing is wrong, it is 0', 'inline-four.fettle', 0],
])('%s', async (_name, path, wanted) => {
  const child = spawn(process.execPath, [command, 'check', join(samples, path), '--format', 'json']);
  let err = '';
  child.stderr.on('data', (piece) => {
    err += String(piece);
  });
  child.stdout.destroy();
  const status = await new Promise((done) => {
    child.on('close', done);
  });
  expect([status, err]).toEqual([wanted, '']);
});

test.runIf(existsSync('/dev/full'))('results that find no room are said in one line: 2', () => {
  const full = openSync('/dev/full', 'w');
  for (const args of [['check', 'bad.fettle'], ['explain', 'unit/missing'], ['--help']]) {
    const { status, stderr } = spawnSync(process.execPath, [command, ...args], {
      ...{ cwd: join(folder, 'work'), stdio: ['ignore', full, 'pipe'], encoding: 'utf8' },
    });
    expect([status, stderr]).toEqual([2, 'fettle: what was found could not be written: there is no room left.\n']);
  }
  const { status } = spawnSync(process.execPath, [command, 'check', 'none.fettle'], { stdio: ['ignore', full, full] });
  expect(status).toBe(2);
  closeSync(full);
});

test('serve --stdio answers an editor and ends when it is told to', async () => {
  const child = spawn(process.execPath, [command, 'serve', '--stdio']);
  const say = (message: object): void => {
    const text = JSON.stringify({ jsonrpc: '2.0', ...message });
    child.stdin.write(`Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`);
  };
  let out = '';
  const answered = new Promise<void>((done) => {
    child.stdout.on('data', (piece) => {
      out += String(piece);
      if (out.includes('"id":1')) done();
    });
  });
  const ended = new Promise((done) => {
    child.on('exit', done);
  });
  say({ id: 1, method: 'initialize', params: { processId: null, rootUri: null, capabilities: {} } });
  await answered;
  expect(out).toContain('"serverInfo":{"name":"fettle"}');
  say({ id: 2, method: 'shutdown' });
  say({ method: 'exit' });
  expect(await ended).toBe(0);
});

describe('a length of a message', () => {
  test.each(LENGTHS)(
    'that is %s ends the server, so that the editor starts it again',
    async (name) => {
      expect(await ends.get(name)).toEqual([1, expect.stringMatching(/^fettle: .*started again\.\n/)]);
    },
    30_000,
  );
});
