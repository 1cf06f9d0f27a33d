// A small editor for tests: it starts the language server in memory, as the worker that a
// browser runs, or in a process of its own, and keeps what it is told.
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PassThrough } from 'node:stream';
import { Worker } from 'node:worker_threads';
import {
  createMessageConnection,
  type Message,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-jsonrpc/node';
import type { Diagnostic, PublishDiagnosticsParams, ServerCapabilities } from 'vscode-languageserver';
import { createConnection } from 'vscode-languageserver/node';
import { type Surroundings, startServer } from '../../server/protocol/server.ts';
import { bundleForBrowserTo, bundleTo } from '../bundled.ts';

export interface Editor {
  readonly connection: MessageConnection;
  /** All that was pushed, in order. */
  readonly pushed: PublishDiagnosticsParams[];
  /** What the server wrote into the output, in order. */
  readonly output: string[];
  ask<result>(question: string, params?: object): Promise<result>;
  tell(news: string, params: object): Promise<void>;
  start(capabilities?: object, more?: object): Promise<ServerCapabilities>;
  /** Opens a text and waits for its findings. */
  open(text: string, uri?: string): Promise<readonly Diagnostic[]>;
  /** Replaces a stretch, given by line and columns, and waits for the findings. */
  edit(line: number, from: number, to: number, text: string, uri?: string): Promise<readonly Diagnostic[]>;
  nextPushed(uri?: string): Promise<readonly Diagnostic[]>;
  latest(uri?: string): readonly Diagnostic[];
  end(): Promise<void>;
}

export const URI = 'file:///shop/a.fettle';

function editorOver(connection: MessageConnection, end: () => Promise<void>): Editor {
  const pushed: PublishDiagnosticsParams[] = [];
  const output: string[] = [];
  const versions = new Map<string, number>();
  const last = new Map<string, readonly Diagnostic[]>();
  let waiting: { readonly uri: string; readonly tell: (found: readonly Diagnostic[]) => void }[] = [];
  connection.onNotification('textDocument/publishDiagnostics', (params: PublishDiagnosticsParams) => {
    pushed.push(params);
    last.set(params.uri, params.diagnostics);
    const [told, left] = [
      waiting.filter((each) => each.uri === params.uri),
      waiting.filter((each) => each.uri !== params.uri),
    ];
    waiting = left;
    for (const each of told) each.tell(params.diagnostics);
  });
  connection.onNotification('window/logMessage', ({ message }: { readonly message: string }) => {
    output.push(message);
  });
  connection.onNotification(() => undefined);
  connection.listen();
  const nextPushed = (uri = URI): Promise<readonly Diagnostic[]> =>
    new Promise((tell) => {
      waiting.push({ uri, tell });
    });
  const editor: Editor = {
    connection,
    pushed,
    output,
    ask: (question, params) => connection.sendRequest(question, params),
    tell: (news, params) => connection.sendNotification(news, params),
    async start(capabilities = {}, more = { rootUri: 'file:///shop' }) {
      const answer = await editor.ask<{ readonly capabilities: ServerCapabilities }>('initialize', {
        processId: null,
        rootUri: null,
        capabilities,
        ...more,
      });
      await editor.tell('initialized', {});
      return answer.capabilities;
    },
    async open(text, uri = URI) {
      const next = nextPushed(uri);
      versions.set(uri, 1);
      await editor.tell('textDocument/didOpen', { textDocument: { uri, languageId: 'fettle', version: 1, text } });
      return next;
    },
    async edit(line, from, to, text, uri = URI) {
      const next = nextPushed(uri);
      const version = (versions.get(uri) ?? 1) + 1;
      versions.set(uri, version);
      await editor.tell('textDocument/didChange', {
        textDocument: { uri, version },
        contentChanges: [{ range: { start: { line, character: from }, end: { line, character: to } }, text }],
      });
      return next;
    },
    nextPushed,
    latest: (uri = URI) => last.get(uri) ?? [],
    async end() {
      connection.dispose();
      await end();
    },
  };
  return editor;
}

/** The server in this process, over two streams. */
export async function inMemory(surroundings: Surroundings = {}): Promise<Editor> {
  const [up, down] = [new PassThrough(), new PassThrough()];
  startServer(createConnection(new StreamMessageReader(up), new StreamMessageWriter(down)), surroundings);
  return editorOver(
    createMessageConnection(new StreamMessageReader(down), new StreamMessageWriter(up)),
    async () => undefined,
  );
}

/** What whoever started the process may ask of it: its memory, when all that can be let go of has been; a fault that nothing catches. */
const LISTENS = `
process.on('message', (asked) => {
  if (asked === 'throw') setImmediate(() => { throw new Error('thrown by the test'); });
  else if (asked === 'reject') void Promise.reject(new Error('rejected by the test'));
  else {
    gc();
    process.send(process.memoryUsage().heapUsed);
  }
});
process.channel.unref();
`;

/** A server that runs by itself. */
export interface FaultyEditor extends Editor {
  /** A fault outside of any answer. */
  fault(how: 'throw' | 'reject'): void;
}

/** A server in a process of its own. */
export interface ProcessEditor extends FaultyEditor {
  /** The bytes that it holds. */
  memory(): Promise<number>;
  /** Shuts the pipe to it; gives the status with which it ends. */
  hangUp(): Promise<number | null>;
}

/** The server as it is bundled for Node, in a process of its own. */
export async function inProcess(): Promise<ProcessEditor> {
  const home = mkdtempSync(join(tmpdir(), 'fettle-process-'));
  const outfile = join(home, 'fettle.js');
  await bundleTo(outfile, 'server/entry/command.ts');
  const teller = join(home, 'listens.cjs');
  writeFileSync(teller, LISTENS);
  const child = spawn(process.execPath, ['--expose-gc', '--require', teller, outfile, 'serve', '--stdio'], {
    stdio: ['pipe', 'pipe', 'inherit', 'ipc'],
  });
  const { stdin, stdout } = child;
  if (stdin === null || stdout === null) throw new Error('the process has no streams');
  const connection = createMessageConnection(new StreamMessageReader(stdout), new StreamMessageWriter(stdin));
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  const editor = editorOver(connection, async () => {
    child.kill();
    await ended;
    rmSync(home, { recursive: true, force: true });
  });
  return {
    ...editor,
    memory: () =>
      new Promise((tell) => {
        child.once('message', (bytes) => tell(Number(bytes)));
        child.send('memory');
      }),
    fault: (how) => void child.send(how),
    hangUp() {
      stdin.end();
      return ended;
    },
  };
}

/** What a worker of a browser has, made of what a worker of Node has. */
const SCOPE = `
const { parentPort, workerData } = require('node:worker_threads');
globalThis.postMessage = (message) => parentPort.postMessage(message);
const listeners = {};
globalThis.addEventListener = (event, listener) => { listeners[event] = listener; };
process.on('uncaughtException', (error) => listeners.error?.({ error }));
process.on('unhandledRejection', (reason) => listeners.unhandledrejection?.({ reason }));
const later = setImmediate;
parentPort.on('message', (data) => {
  if (data === 'throw') later(() => { throw new Error('thrown by the test'); });
  else if (data === 'reject') void Promise.reject(new Error('rejected by the test'));
  else globalThis.onmessage?.({ data });
});
globalThis.setImmediate = undefined;
require('node:vm').runInThisContext(require('node:fs').readFileSync(workerData, 'utf8'));
`;

let bundle: Promise<string> | undefined;
let folder: string | undefined;

async function bundled(): Promise<string> {
  folder = mkdtempSync(join(tmpdir(), 'fettle-worker-'));
  const outfile = join(folder, 'server-worker.js');
  await bundleForBrowserTo(outfile, 'server/entry/worker-server.ts');
  return outfile;
}

/** The server as it is bundled for the browser, in a worker. */
export async function inWorker(): Promise<FaultyEditor> {
  bundle ??= bundled();
  const worker = new Worker(SCOPE, { eval: true, workerData: await bundle });
  const connection = createMessageConnection(
    {
      onError: () => ({ dispose: () => undefined }),
      onClose: () => ({ dispose: () => undefined }),
      onPartialMessage: () => ({ dispose: () => undefined }),
      listen(tell) {
        worker.on('message', (message: Message) => tell(message));
        return { dispose: () => undefined };
      },
      dispose: () => undefined,
    },
    {
      onError: () => ({ dispose: () => undefined }),
      onClose: () => ({ dispose: () => undefined }),
      write: async (message) => worker.postMessage(message),
      end: () => undefined,
      dispose: () => undefined,
    },
  );
  return {
    ...editorOver(connection, async () => void (await worker.terminate())),
    fault: (how) => worker.postMessage(how),
  };
}

/** Takes away what was bundled. */
export function forgetBundle(): void {
  if (folder !== undefined) rmSync(folder, { recursive: true, force: true });
  bundle = undefined;
}
