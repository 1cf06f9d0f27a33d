// Holds the few places that reach beyond Fettle: other programs are started in one file, files are written in one.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { importsOf, root, sourcesBelow } from './imports.ts';

const sources = ['grammar', 'server', 'client'].flatMap(sourcesBelow);

const imports = sources.flatMap((path) => importsOf(path));

/** The files whose text has some words in it. */
const saying = (words: RegExp): readonly string[] =>
  sources.filter((path) => words.test(readFileSync(join(root, path), 'utf8')));

/** The files that import one of some modules. */
const importing = (...modules: readonly string[]): readonly string[] => [
  ...new Set(imports.filter((each) => modules.includes(each.of)).map((each) => each.by)),
];

test('other programs are started in one place', () => {
  expect(importing('node:child_process', 'child_process', 'node:cluster')).toEqual([
    'server/command-line/git-barred.ts',
  ]);
});

test('nothing reaches a network, by any module of Node or any word of the browser', () => {
  expect(
    importing(
      ...['http', 'https', 'http2', 'net', 'tls', 'dgram', 'dns'].flatMap((name) => [name, `node:${name}`]),
      ...['node:dns/promises', 'undici'],
    ),
  ).toEqual([]);
  const words =
    /(?:\b(?:await|return|=) |globalThis\.)fetch\s*\(|\b(?:XMLHttpRequest|WebSocket|EventSource|sendBeacon|importScripts)\s*\(/;
  expect(saying(words)).toEqual([]);
});

test('nothing that is read is run, but Fettle itself', () => {
  expect(importing('vm', 'node:vm', 'node:inspector', 'node:repl')).toEqual(['server/entry/code-cache.ts']);
  // Its text comes from the way in alone, which names a file beside itself.
  expect(imports.filter((each) => each.of.endsWith('entry/code-cache.ts')).map((each) => each.by)).toEqual([
    'server/entry/way-in.ts',
  ]);
  const words = /\beval\s*\(|\bnew Function\b|\bFunction\s*\(/;
  expect(saying(words)).toEqual([]);
});

test('files of a user are written in one place', () => {
  const writing = /\b(?:write|append|copy|rename|symlink|link|unlink|rm|mkdir|open|truncate|chmod|cp)\w*/i;
  const writes = importing('fs', 'node:fs', 'fs/promises', 'node:fs/promises').filter((path) => {
    const text = readFileSync(join(root, path), 'utf8');
    const names = [...text.matchAll(/import (?:type )?\{([^}]*)\} from '(?:node:)?fs(?:\/promises)?'/g)].map(
      (found) => found[1] ?? '',
    );
    return names.length === 0 || names.some((each) => writing.test(each));
  });
  // What is kept for the next start goes into a folder of the user's own, and is none of a user's files.
  const forTheNextStart = ['server/entry/cache-folder.ts', 'server/entry/code-cache.ts'];
  expect(writes.filter((path) => !forTheNextStart.includes(path))).toEqual(['server/command-line/write.ts']);
});

test('what a command says leaves in one place, which takes only what was made fit for a terminal', () => {
  expect(importing('picocolors')).toEqual(['server/command-line/output.ts']);
  // The process's own ends; the word that is said when they take nothing more; the server, which speaks to an editor over them.
  const ends = ['command-line/process-ends', 'entry/command', 'entry/node-server'].map((name) => `server/${name}.ts`);
  const asked = 'server/command-line/git-barred.ts';
  expect(saying(/\b(?:stdout|stderr)\b/).filter((path) => path !== asked)).toEqual(ends);
  expect(saying(/(?<!connection\.)\bconsole\.\w+\(/)).toEqual([]);
  // Nobody else makes what the streams take: the word that they know it by is not given away.
  expect(saying(/\bexport\b.*\bmade\b/).filter((path) => path.includes('output'))).toEqual([]);
  // JSON is written where its letters are seen to.
  const json = saying(/\bJSON\.stringify\(/).filter((path) => path.startsWith('server/command-line'));
  expect(json).toEqual(['server/command-line/output.ts']);
});
