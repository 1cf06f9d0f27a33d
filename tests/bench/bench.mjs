// Measures the language server as an editor sees it, over standard input and output: from a keystroke to findings (in a figure,
// and in an action of the job, which is rehearsed again as far as it matters), completion
// after an edit, hover, cold start, memory; beside a server that does nothing, in the same run. The server is started as
// the README tells users of other editors to, with no option of Node's: what it sets, it sets itself. Prints a table and
// writes dist/bench.json. Asserts nothing.
import { spawn } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { builtOnLong, longSpec } from './long-spec.mjs';

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const servers = [
  { name: 'does nothing', args: [join(root, 'tests', 'bench', 'idle-server.mjs')] },
  { name: 'fettle', args: [join(root, 'dist', 'fettle.js'), 'serve', '--stdio'] },
];
const sizes = [200, 2000, 10_000, 50_000];
const edits = 120;
/** How often a server is started for a cold start, of which the median counts. */
const starts = 9;

/** A server process and a plain client for it. */
function start({ args }) {
  const child = spawn(process.execPath, args, { stdio: ['pipe', 'pipe', 'inherit'] });
  const waiting = new Map();
  let onNote = () => undefined;
  let buffer = Buffer.alloc(0);
  let id = 0;
  child.stdout.on('data', (data) => {
    buffer = Buffer.concat([buffer, data]);
    for (;;) {
      const head = buffer.indexOf('\r\n\r\n');
      if (head < 0) return;
      const length = Number(/Content-Length: (\d+)/.exec(buffer.subarray(0, head).toString())?.[1]);
      if (buffer.length < head + 4 + length) return;
      const message = JSON.parse(buffer.subarray(head + 4, head + 4 + length).toString());
      buffer = buffer.subarray(head + 4 + length);
      if (message.method === undefined) waiting.get(message.id)?.(message.result);
      else if (message.id === undefined) onNote(message);
      else send({ id: message.id, result: null });
    }
  });
  const send = (message) => {
    const text = JSON.stringify({ jsonrpc: '2.0', ...message });
    child.stdin.write(`Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`);
  };
  return {
    child,
    notify: (method, params) => send({ method, params }),
    ask: (method, params) =>
      new Promise((done) => {
        id += 1;
        waiting.set(id, done);
        send({ id, method, params });
      }),
    findings: (uri) =>
      new Promise((done) => {
        onNote = ({ method, params }) => {
          if (method === 'textDocument/publishDiagnostics' && params.uri === uri) done(params.diagnostics);
        };
      }),
    memory: () => {
      const status = readFileSync(`/proc/${child.pid}/status`, 'utf8');
      return Number(/VmHWM:\s+(\d+)/.exec(status)?.[1]) / 1024;
    },
  };
}

const share = (times, part) =>
  [...times].sort((a, b) => a - b)[Math.min(times.length - 1, Math.floor(times.length * part))];
const shown = (number) => (number === undefined ? '' : number.toFixed(1));

/** With `built` the edits are in a short spec that is built on the long one. */
/** Milliseconds from the start of a process to the findings of a spec. */
async function coldStart(server, lines) {
  const uri = 'file:///bench/long.fettle';
  const began = performance.now();
  const client = start(server);
  await client.ask('initialize', { processId: null, rootUri: null, capabilities: {} });
  client.notify('initialized', {});
  const next = client.findings(uri);
  client.notify('textDocument/didOpen', {
    textDocument: { uri, languageId: 'fettle', version: 1, text: longSpec(lines) },
  });
  await next;
  client.child.kill();
  return performance.now() - began;
}

async function measure(server, lines, built = false) {
  const text = built ? builtOnLong() : longSpec(lines);
  const uri = `file:///bench/${built ? 'built' : 'long'}.fettle`;
  const began = performance.now();
  const client = start(server);
  await client.ask('initialize', { processId: null, rootUri: null, capabilities: {} });
  client.notify('initialized', {});
  let next = client.findings(uri);
  const base = { uri: 'file:///bench/long.fettle', languageId: 'fettle', version: 1, text: longSpec(lines) };
  if (built) client.notify('textDocument/didOpen', { textDocument: base });
  client.notify('textDocument/didOpen', { textDocument: { uri, languageId: 'fettle', version: 1, text } });
  await next;
  const first = performance.now() - began;
  const all = text.split('\n');
  const middle = (wanted) => all.findIndex((each, i) => i > (built ? 0 : all.length / 2) && wanted.test(each));
  let version = 1;
  /** Puts one text after the other in a place; gives the times from the key to the findings. */
  const type = async (line, character, length, puts, after = async () => undefined) => {
    const times = [];
    for (let i = 0; i < edits; i += 1) {
      version += 1;
      next = client.findings(uri);
      const from = performance.now();
      client.notify('textDocument/didChange', {
        textDocument: { uri, version },
        contentChanges: [
          { range: { start: { line, character }, end: { line, character: character + length } }, text: puts(i) },
        ],
      });
      await next;
      times.push(performance.now() - from);
      await after();
    }
    return times;
  };
  const timed = async (times, question, line, character) => {
    const from = performance.now();
    await client.ask(`textDocument/${question}`, { textDocument: { uri }, position: { line, character } });
    times.push(performance.now() - from);
  };
  const line = middle(/24 N\.m/);
  const figure = all[line].indexOf('24 N.m') + 1;
  const completions = [];
  const hovers = [];
  const times = await type(
    line,
    figure,
    1,
    (i) => String(1 + (i % 8)),
    async () => {
      await timed(completions, 'completion', line, 2);
      await timed(hovers, 'hover', line, 4);
    },
  );
  const fit = middle(/fit housing-\d+ onto block/);
  const job = await type(fit, all[fit].indexOf('onto'), 4, (i) => (i % 2 === 0 ? 'into' : 'onto'));
  const memory = process.platform === 'linux' ? client.memory() : undefined;
  client.child.kill();
  const row = {
    server: server.name,
    lines: all.length,
    editMedian: share(times, 0.5),
    edit95: share(times, 0.95),
    jobMedian: share(job, 0.5),
    job95: share(job, 0.95),
    completion: share(completions, 0.5),
    hover: share(hovers, 0.5),
    firstFindings: first,
    peakMB: memory,
  };
  return row;
}

const rows = [];
for (const lines of sizes) for (const server of servers) rows.push(await measure(server, lines));
rows.push({ ...(await measure(servers[1], 10_000, true)), server: 'fettle, built on', lines: 10_000 });
const cold = [];
for (let i = 0; i < starts; i += 1) cold.push(await coldStart(servers[1], 300));
rows.push({ ...(await measure(servers[1], 300)), server: 'fettle, cold start', firstFindings: share(cold, 0.5) });
const both = (median, most) => `${shown(median)} / ${shown(most)}`;
const columns = [
  ['server', 18, (row) => row.server],
  ['lines', 7, (row) => String(row.lines)],
  ['figure, ms', 14, (row) => both(row.editMedian, row.edit95)],
  ['action, ms', 14, (row) => both(row.jobMedian, row.job95)],
  ['completion', 12, (row) => shown(row.completion)],
  ['hover', 7, (row) => shown(row.hover)],
  ['first findings', 16, (row) => shown(row.firstFindings)],
  ['peak MB', 9, (row) => shown(row.peakMB)],
];
const printed = (cells) =>
  console.log(cells.map((cell, i) => (i === 0 ? cell.padEnd(columns[i][1]) : cell.padStart(columns[i][1]))).join(''));
console.log('Times in milliseconds; of edits the median and the 95th percentile, from the key to the findings.');
printed(columns.map(([head]) => head));
for (const row of rows) printed(columns.map(([, , cell]) => cell(row)));
writeFileSync(join(root, 'dist', 'bench.json'), `${JSON.stringify({ node: process.version, rows }, null, 2)}\n`);
