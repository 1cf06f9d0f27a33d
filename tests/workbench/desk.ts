// The editor with the extension running in Node, as on a desktop: installs the packed extension into a fresh
// code-server and starts it on a folder. Everything it writes lies in a scratch folder of its own.
import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { editorSettings } from './settings.ts';

/** A running editor. */
export interface Desk {
  readonly url: string;
  /** The folder that is open in it. */
  readonly folder: string;
  /** Ends the checker's own process, as a fault in it would. */
  fellChecker(): void;
  stop(): Promise<void>;
}

/** Starts the editor with a copy of the files given, and these settings of its user. */
export async function startDesk(
  editors: string,
  extension: string,
  files: Readonly<Record<string, string>>,
  settings = editorSettings,
): Promise<Desk> {
  const scratch = mkdtempSync(join(tmpdir(), 'fettle-desk-'));
  const folder = join(scratch, 'work');
  const user = join(scratch, 'user');
  mkdirSync(folder);
  mkdirSync(join(user, 'User'), { recursive: true });
  writeFileSync(join(user, 'User', 'settings.json'), JSON.stringify(settings));
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  const packed = join(scratch, 'fettle.vsix');
  cpSync(extension, packed);

  const program = join(editors, 'code-server-4.100.3', 'node_modules', '.bin', 'code-server');
  const places = [
    '--config',
    join(scratch, 'none.yaml'),
    '--user-data-dir',
    user,
    '--extensions-dir',
    join(scratch, 'extensions'),
  ];
  execFileSync(program, [...places, '--install-extension', packed], { stdio: ['ignore', 'ignore', 'pipe'] });
  const port = await freePort();
  const switches = [
    ...['--auth', 'none', '--bind-addr', `127.0.0.1:${port}`],
    ...[
      '--disable-telemetry',
      '--disable-update-check',
      '--disable-workspace-trust',
      '--disable-getting-started-override',
    ],
  ];
  const child = spawn(program, [...places, ...switches], { stdio: 'ignore', detached: true });
  const stop = async () => {
    await endGroup(child);
    rmSync(scratch, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  };
  try {
    await untilHealthy(`http://127.0.0.1:${port}/healthz`, child);
  } catch (reason) {
    await stop();
    throw reason;
  }
  return {
    url: `http://127.0.0.1:${port}/?folder=${encodeURIComponent(folder)}`,
    folder,
    fellChecker: () => fell(scratch),
    stop,
  };
}

/** Finds the checker among the processes of this editor by the folder it was started from. */
function fell(scratch: string): void {
  const found = readdirSync('/proc').filter((id) => {
    if (!/^\d+$/.test(id)) return false;
    try {
      const words = readFileSync(`/proc/${id}/cmdline`, 'utf8');
      return words.includes(scratch) && words.includes('fettle.js\0serve');
    } catch {
      return false; // it ended while the list was read
    }
  });
  if (found.length !== 1) throw new Error(`${found.length} checkers are running where there should be one`);
  process.kill(Number(found[0]), 'SIGKILL');
}

async function untilHealthy(url: string, child: ChildProcess): Promise<void> {
  for (let attempt = 0; attempt < 150; attempt++) {
    if (child.exitCode !== null) throw new Error(`code-server ended with status ${child.exitCode}`);
    const answer = await fetch(url).catch(() => undefined);
    if (answer?.ok) return;
    await pause(200);
  }
  throw new Error('code-server did not answer within 30 seconds');
}

/** Ends the editor with its extension hosts, which outlive their pages, and waits for it. */
async function endGroup(child: ChildProcess): Promise<void> {
  if (child.pid === undefined || child.exitCode !== null) return;
  const ended = new Promise((resolve) => child.once('exit', resolve));
  process.kill(-child.pid, 'SIGTERM');
  await Promise.race([ended, pause(10_000)]);
  if (child.exitCode === null && child.signalCode === null) process.kill(-child.pid, 'SIGKILL');
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const address = server.address();
      const port = typeof address === 'object' && address !== null ? address.port : 0;
      server.close(() => resolve(port));
    });
  });
}
