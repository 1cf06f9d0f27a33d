// A server process and a plain client for it, over standard input and output as an editor has it.
import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';

/** Starts a server with the arguments of Node; it is asked for findings, as the editors do that have most users. */
export function start(args) {
  const child = spawn(process.execPath, args, { stdio: ['pipe', 'pipe', 'inherit'] });
  const waiting = new Map();
  let pieces = [];
  let held = 0;
  let wanted;
  let id = 0;
  const send = (message) => {
    const text = JSON.stringify({ jsonrpc: '2.0', ...message });
    child.stdin.write(`Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`);
  };
  const take = (message) => {
    if (message.method === undefined) {
      waiting.get(message.id)?.(message.result);
      waiting.delete(message.id);
    } else if (message.id !== undefined)
      send({ id: message.id, result: message.method === 'fettle/listFiles' ? { uris: [] } : null });
  };
  child.stdout.on('data', (data) => {
    pieces.push(data);
    held += data.length;
    // A long answer comes in many pieces: they are put together once, when all are there.
    if (wanted !== undefined && held < wanted) return;
    let buffer = Buffer.concat(pieces);
    for (;;) {
      const head = buffer.indexOf('\r\n\r\n');
      const length = head < 0 ? NaN : Number(/Content-Length: (\d+)/.exec(buffer.subarray(0, head).toString())?.[1]);
      wanted = head < 0 ? undefined : head + 4 + length;
      if (wanted === undefined || buffer.length < wanted) break;
      const text = buffer.subarray(head + 4, wanted).toString();
      buffer = buffer.subarray(wanted);
      take(JSON.parse(text));
    }
    pieces = [buffer];
    held = buffer.length;
  });
  const versions = new Map();
  const reports = new Map();
  const client = {
    notify: (method, params) => send({ method, params }),
    ask: (method, params) =>
      new Promise((done) => {
        id += 1;
        waiting.set(id, done);
        send({ id, method, params });
      }),
    async begin({ rootUri = null, initializationOptions } = {}) {
      const completion = {
        completionItem: { snippetSupport: true, insertReplaceSupport: true },
        completionList: {
          itemDefaults: ['commitCharacters', 'editRange', 'insertTextFormat', 'insertTextMode', 'data'],
        },
      };
      const capabilities = { textDocument: { diagnostic: {}, completion } };
      await client.ask('initialize', { processId: null, rootUri, capabilities, initializationOptions });
      client.notify('initialized', {});
    },
    open(uri, text) {
      versions.set(uri, 1);
      client.notify('textDocument/didOpen', { textDocument: { uri, languageId: 'fettle', version: 1, text } });
    },
    /** Puts a text in the place of so many letters of one line. */
    change(uri, { line, character }, length, text) {
      const version = (versions.get(uri) ?? 1) + 1;
      versions.set(uri, version);
      const range = { start: { line, character }, end: { line, character: character + length } };
      client.notify('textDocument/didChange', { textDocument: { uri, version }, contentChanges: [{ range, text }] });
    },
    /** Takes out the end of a line. */
    join(uri, { line, character }) {
      const version = (versions.get(uri) ?? 1) + 1;
      versions.set(uri, version);
      const range = { start: { line, character }, end: { line: line + 1, character: 0 } };
      client.notify('textDocument/didChange', {
        textDocument: { uri, version },
        contentChanges: [{ range, text: '' }],
      });
    },
    /** The findings; as editors do, it says which it has, and is told in a word where they are the same. */
    async findings(uri) {
      const report = await client.ask('textDocument/diagnostic', {
        textDocument: { uri },
        previousResultId: reports.get(uri)?.resultId,
      });
      if (report?.kind === 'unchanged') return reports.get(uri);
      reports.set(uri, report);
      return report;
    },
    /** The most memory that the process has had, in MB. */
    memory() {
      if (process.platform !== 'linux') return undefined;
      return Number(/VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${child.pid}/status`, 'utf8'))?.[1]) / 1024;
    },
    /** Milliseconds of work of the process so far, on all cores: on a machine that others work on, it tells more than the clock. */
    work() {
      if (process.platform !== 'linux') return undefined;
      const [, fields] = readFileSync(`/proc/${child.pid}/stat`, 'utf8').split(') ');
      const [user, system] = fields.split(' ').slice(11, 13);
      return (Number(user) + Number(system)) * 10;
    },
    end: () => child.kill(),
    pid: child.pid,
  };
  return client;
}
