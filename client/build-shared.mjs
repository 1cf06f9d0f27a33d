// The command and the bench page hold the same reader, sums, pictures and sheet. In dist/ these are there once: what both need stands at the
// head of fettle-all.js as functions between two marks, and the page's program is that stretch with bench-page.js behind it
// (server/bench/program.ts). The bundler finds out what both need; each chunk of it becomes a function that is called when it is first asked for.
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { build, transform } from 'esbuild';

/**
 * Begin of what the page has of the command, of that which it needs only when it stands, and the end; the same as in server/bench/program.ts
 * and client/bench-page.ts.
 */
const MARKS = ['/*:shared:*/', '/*:later:*/', '/*:own:*/'];

/** What the command and the bench page are made from, and how. */
export function sharedOf(root) {
  return {
    wayIn: 'server/entry/way-in.ts',
    command: 'server/entry/fettle.ts',
    page: 'server/bench-page/main.tsx',
    how: {
      absWorkingDir: root,
      alias: Object.fromEntries(
        ['vscode-languageserver', 'vscode-languageserver-protocol', 'vscode-jsonrpc'].map((name) => [
          `${name}/browser`,
          join(root, 'node_modules', name, 'lib', 'browser', 'main.js'),
        ]),
      ),
      loader: { '.md': 'text', '.fettle': 'text' },
      logLevel: 'warning',
    },
  };
}

const small = { minify: true, legalComments: 'none', target: 'es2022' };

/** `a as b,c` as pairs. */
function pairs(list) {
  return list.split(',').map((each) => {
    const [first, second = first] = each.trim().split(' as ');
    return [first, second];
  });
}

/** Takes a chunk apart, as the bundler writes it small: what it takes from others, its own text, what it gives. Pairs are theirs and ours. */
function partsOf(text) {
  const taken = [];
  let rest = text.trimEnd();
  for (;;) {
    const found = /^import(?:\{([^}]*)\}from)?"\.\/([^"]+)";/.exec(rest);
    if (found === null) break;
    if (found[1] !== undefined) taken.push({ file: found[2], names: pairs(found[1]) });
    rest = rest.slice(found[0].length);
  }
  const given = /;?export\{([^}]*)\};$/.exec(rest);
  if (given === null || /^import\b/.test(rest)) throw new Error('a chunk is not written as expected');
  return { taken, body: rest.slice(0, given.index), given: pairs(given[1]).map(([ours, theirs]) => [theirs, ours]) };
}

const functionOf = (file) => `shared${basename(file, '.js')}`;

/** A chunk as a function that is carried out once and gives a list. `places`: where in the list each name of each chunk stands. */
async function asFunction(file, text, places) {
  const { taken, body, given } = partsOf((await transform(text, { ...small, format: 'esm' })).code);
  const needs = taken.map(({ file: other, names }) => {
    const wanted = names.map(([theirs, ours]) => `${places.get(other).get(theirs)}:${ours}`);
    return `const{${wanted.join(',')}}=${functionOf(other)}();`;
  });
  const list = [];
  for (const [theirs, ours] of given) list[places.get(file).get(theirs)] = ours;
  const name = functionOf(file);
  // Functions in brackets: they are read once, in earnest; an arrow would be skimmed first, and read when it is called.
  return `var ${name}=(made=>(function(){return made??=(function(){"use strict";${needs.join('')}${body};return[${list.join(',')}]})()}))();`;
}

/** Gives a chunk to the bundler: its text, or of a shared one what its function gives. */
function fromChunks(texts, places) {
  return {
    name: 'chunks',
    setup({ onResolve, onLoad }) {
      onResolve({ filter: /\.js$/ }, ({ path }) =>
        texts.has(basename(path)) && !path.includes('node_modules')
          ? { path: basename(path), namespace: 'chunk' }
          : undefined,
      );
      onLoad({ filter: /./, namespace: 'chunk' }, ({ path }) => {
        const gives = places.get(path);
        if (gives === undefined) return { contents: texts.get(path) };
        const each = [...gives].map(([name, at]) => `${name}=made[${at}]`);
        return { contents: `const made=${functionOf(path)}();export const ${each.join(',')};` };
      });
    },
  };
}

/** What an output of the bundler needs, itself among it; `atOnce`: without what it asks for later. */
function neededBy(output, outputs, atOnce = false, found = new Set()) {
  if (!found.has(output)) {
    found.add(output);
    for (const { path, kind, external } of outputs[output].imports)
      if (!external && !(atOnce && kind === 'dynamic-import')) neededBy(path, outputs, atOnce, found);
  }
  return found;
}

/** What is given out is taken once, when it is first asked for: it must not become another later. */
function mustStay(file) {
  if (/^export (?:let|var) /m.test(readFileSync(file, 'utf8')))
    throw new Error(`${file} gives out a name whose value can change: it has to be a const`);
}

/**
 * The program as one function, in brackets of its own: so it is read once, in earnest. In Node the way in (server/entry/way-in.ts) takes it and
 * calls it; the worker of a browser has it called.
 */
function asProgram(text) {
  const given = 'require,__dirname,__filename,fettleBegun';
  const isWorker = '"importScripts"in globalThis&&!("process"in globalThis)';
  return `(program=>${isWorker}?program():program)((function(${given}){"use strict";${text}\n}))`;
}

/**
 * A text in ASCII alone, what is left of other letters, in patterns, too: with one such letter in it, a bundle takes two bytes for each of
 * its million letters as long as it runs.
 */
export function onlyAscii(text) {
  const code = (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`;
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are ASCII
  return text.replace(/[^\x00-\x7f]/g, code);
}

/** The file that is started, for a program of this text. */
export async function buildWayIn(entry, program, how) {
  const name = createHash('sha256').update(program).digest('hex').slice(0, 16);
  const { outputFiles } = await build({
    ...how,
    ...small,
    ...{ entryPoints: [entry], bundle: true, write: false, platform: 'node', format: 'cjs', target: 'node20' },
    ...{ define: { FETTLE_BUILD: JSON.stringify(name) }, banner: { js: '#!/usr/bin/env node' } },
  });
  return onlyAscii(outputFiles[0].text);
}

/**
 * Bundles the command and the page, with what both need once. `how`: settings of both for the bundler. Gives the texts of the program, of
 * the file that starts it and of the page, and the account of what went in.
 */
export async function buildShared({ wayIn, command, page, how }) {
  const { metafile, outputFiles } = await build({
    ...how,
    ...{ bundle: true, splitting: true, format: 'esm', platform: 'node', target: 'es2022', outdir: 'none' },
    ...{ entryPoints: { fettle: command, 'bench-page': page }, chunkNames: '[hash]', metafile: true, write: false },
  });
  const { outputs } = metafile;
  const texts = new Map(outputFiles.map((each) => [basename(each.path), each.text]));
  const entry = (name) => Object.keys(outputs).find((each) => basename(each) === name);
  const ofCommand = neededBy(entry('fettle.js'), outputs);
  const both = [...neededBy(entry('bench-page.js'), outputs)].filter((each) => ofCommand.has(each));
  for (const file of both.flatMap((each) => Object.keys(outputs[each].inputs)))
    if (!file.includes('node_modules/')) mustStay(join(how.absWorkingDir, file));
  const places = new Map(
    both.map((each) => [basename(each), new Map(outputs[each].exports.map((name, at) => [name, at]))]),
  );
  const soon = new Set([...neededBy(entry('bench-page.js'), outputs, true)].map((each) => basename(each)));
  const functions = async (isSoon) => {
    const files = [...places.keys()].filter((file) => soon.has(file) === isSoon);
    return (await Promise.all(files.map((file) => asFunction(file, texts.get(file), places)))).join('\n');
  };
  const own = async (name, settings) => {
    const plugins = [fromChunks(texts, places)];
    const made = await build({
      ...how,
      ...small,
      ...settings,
      entryPoints: [name],
      plugins,
      bundle: true,
      write: false,
    });
    return made.outputFiles[0].text;
  };
  const [fettle, benchPage] = await Promise.all([
    own('fettle.js', { platform: 'node', format: 'cjs', target: 'node20' }),
    own('bench-page.js', { platform: 'browser', format: 'iife' }),
  ]);
  const shared = `${MARKS[0]}${await functions(true)}\n${MARKS[1]}${await functions(false)}\n${MARKS[2]}`;
  const program = onlyAscii(asProgram(`${shared}${fettle}`));
  return { metafile, program, wayIn: await buildWayIn(wayIn, program, how), benchPage: onlyAscii(benchPage) };
}
