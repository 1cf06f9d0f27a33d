// Measures questions that a whole library answers, over the protocol: a folder of many short specs that all use one file with a fastener
// in it, and where that fastener stands in all of them. The editor has one of them open, and wants the findings of all.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { pathToFileURL } from 'node:url';
import { start } from './client.mjs';
import { longSpec, sample } from './long-spec.mjs';

/** The fastener that all of them are about, and what each of them says of it. */
const SHARED = 'drain-plug';
const USING = `
fastener sump-plug x1 {
  like ${SHARED}
  torque 30 N.m
}
`;

/** Writes a library of so many specs into a folder of its own. */
function libraryOf(count) {
  const folder = mkdtempSync(join(tmpdir(), 'fettle-library-'));
  writeFileSync(join(folder, 'common.fettle'), sample('common-fasteners.fettle'));
  for (let number = 1; number <= count; number += 1) {
    const text = longSpec(200).replaceAll('brindle-pony', `brindle-pony-${number}`);
    writeFileSync(join(folder, `${number}.fettle`), `use "common.fettle"\n\n${text}${USING}`);
  }
  return folder;
}

/**
 * Milliseconds from the start of the server to its first answer to where the fastener stands, of the second asking, of a symbol of the folder
 * and of a rename; how many places there are; and after how long all findings are there.
 */
export async function measureLibrary(args, count) {
  const folder = libraryOf(count);
  const uri = pathToFileURL(join(folder, 'common.fettle')).href;
  const text = sample('common-fasteners.fettle');
  const line = text.split('\n').findIndex((each) => each.startsWith(`fastener ${SHARED}`));
  const asked = { textDocument: { uri }, position: { line, character: 'fastener '.length + 1 } };
  const began = performance.now();
  const client = start(args);
  const timed = async (work) => {
    const [from, worked] = [performance.now(), client.work()];
    await work();
    return { time: performance.now() - from, work: client.work() - worked };
  };
  try {
    await client.begin({ rootUri: pathToFileURL(folder).href });
    client.open(uri, text);
    const findings = client.ask('workspace/diagnostic', { previousResultIds: [] });
    const references = () => client.ask('textDocument/references', { ...asked, context: { includeDeclaration: true } });
    const places = (await references())?.length ?? 0;
    const first = performance.now() - began;
    const firstWork = client.work();
    const second = await timed(references);
    const symbols = await timed(() => client.ask('workspace/symbol', { query: SHARED }));
    await findings;
    const all = { time: performance.now() - began, work: client.work() };
    const third = await timed(references);
    const rename = await timed(() => client.ask('textDocument/rename', { ...asked, newName: 'sump-drain' }));
    return {
      first: { time: first, work: firstWork },
      second,
      symbols,
      findings: all,
      afterwards: third,
      rename,
      places,
      peakMB: client.memory(),
    };
  } finally {
    client.end();
    rmSync(folder, { recursive: true });
  }
}
