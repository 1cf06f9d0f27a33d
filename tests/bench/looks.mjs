// Every kind of place at which somebody looks something up while working on a spec: what is pointed at, and what is written where completion
// is wanted. Each is asked at many places of the text, from its front to its end, and each time after an edit.
import { performance } from 'node:perf_hooks';

/**
 * @typedef {object} Look
 * @property {string} name
 * @property {'hover' | 'completion' | 'standing' | 'itself'} asks What an editor asks by itself after an edit has its `method`.
 * @property {string} [method]
 * @property {RegExp} at The place behind the first group.
 * @property {string} [types] What is written there, to the last letter, for a completion.
 */

/** @type {readonly Look[]} */
export const LOOKS = [
  { name: 'hover: a part', asks: 'hover', at: /(^part [a-z])/ },
  { name: 'hover: a ring', asks: 'hover', at: /(^part top-r)ing/ },
  { name: 'hover: a fastener', asks: 'hover', at: /(^fastener [a-z])/ },
  { name: 'hover: a limit', asks: 'hover', at: /(^limit [a-z])/ },
  { name: 'hover: a drive', asks: 'hover', at: /(^drive [a-z])/ },
  { name: 'hover: a wheel of a drive', asks: 'hover', at: /(^ {2}chain [a-z][-a-z0-9]* over [a-z])/ },
  { name: 'hover: valve timing', asks: 'hover', at: /(^ *valve-timing [a-z])/ },
  { name: 'hover: a sequence', asks: 'hover', at: /(^sequence [a-z])/ },
  { name: 'hover: a step', asks: 'hover', at: /(^ {2}step [a-z])/ },
  { name: 'hover: an action', asks: 'hover', at: /(^ {4}(?:fi|tigh|rot|se|rem|lubr|snu|rel|dra))[a-z]+ / },
  { name: 'hover: what an action is done to', asks: 'hover', at: /(^ {4}(?:fit|tighten|remove|measure) [a-z])/ },
  { name: 'hover: a job', asks: 'hover', at: /(^job [a-z])/ },
  { name: 'hover: a sequence of a job', asks: 'hover', at: /(^ {2}sequences [a-z])/ },
  { name: 'hover: a record', asks: 'hover', at: /(^record [a-z])/ },
  { name: 'hover: what was measured', asks: 'hover', at: /(^ {2}measured [a-z])/ },
  { name: 'hover: a measured figure', asks: 'hover', at: /(^ {2}measured [a-z][-a-z0-9]* \d)/ },
  { name: 'hover: a step that was done', asks: 'hover', at: /(^ {2}done [a-z])/ },
  { name: 'hover: a variant', asks: 'hover', at: /(^ *(?:when|variant|variants) [a-z])/ },
  { name: 'hover: a source', asks: 'hover', at: /(^ *per [a-z])/ },
  { name: 'hover: a size', asks: 'hover', at: /(^ {2}dimension [a-z])/ },
  { name: 'hover: a size in a sum', asks: 'hover', at: /(^ {2}= [a-z][-a-z0-9]*\.[a-z])/ },
  { name: 'hover: a figure', asks: 'hover', at: /(^ {2}dimension [a-z][-a-z0-9]* (?:x\d+ )?\d)/ },
  { name: 'hover: an engine figure', asks: 'hover', at: /(\bengine\.[a-z])/ },
  { name: 'hover: the engine', asks: 'hover', at: /(^engi)/ },
  { name: 'hover: a word of the language', asks: 'hover', at: /(^ {2}(?:within|clamps|covers|matched|joi))/ },
  { name: 'hover: torque', asks: 'hover', at: /(^ {2}torq)/ },
  { name: 'hover: a class', asks: 'hover', at: /(^ {2}class \d)/ },
  { name: 'hover: a used file', asks: 'hover', at: /(^use "[a-z])/ },
  { name: 'hover: the spec', asks: 'hover', at: /(^spec [a-z])/ },
  { name: 'hover: a finding', asks: 'hover', at: /(finding)/ },
  { name: 'standing: an action', asks: 'standing', at: /(^ {4}(?:fi|tigh|rot|se|rem|lubr|snu|rel|dra))[a-z]+ / },
  { name: 'itself: lines above', asks: 'itself', method: 'textDocument/codeLens', at: /(^part [a-z])/ },
  { name: 'itself: hints', asks: 'itself', method: 'textDocument/inlayHint', at: /(^part [a-z])/ },
  { name: 'itself: folds', asks: 'itself', method: 'textDocument/foldingRange', at: /(^part [a-z])/ },
  { name: 'itself: outline', asks: 'itself', method: 'textDocument/documentSymbol', at: /(^part [a-z])/ },
  { name: 'itself: colours', asks: 'itself', method: 'textDocument/semanticTokens/range', at: /(^part [a-z])/ },
  { name: 'completion: at the top', asks: 'completion', at: /()^(?:part|fastener|limit|sequence) /, types: 'pa' },
  { name: 'completion: in a part', asks: 'completion', at: /(^part .*\{)$/, types: '\n  di' },
  { name: 'completion: in a step', asks: 'completion', at: /(^ {2}step .*\{)$/, types: '\n    ti' },
  { name: 'completion: fit', asks: 'completion', at: /(^ {2}step .*\{)$/, types: '\n    fit ' },
  { name: 'completion: fit c', asks: 'completion', at: /(^ {2}step .*\{)$/, types: '\n    fit c' },
  { name: 'completion: fit … into', asks: 'completion', at: /(^ {2}step .*\{)$/, types: '\n    fit camshaft into ' },
  { name: 'completion: tighten', asks: 'completion', at: /(^ {2}step .*\{)$/, types: '\n    tighten ' },
  { name: 'completion: measure', asks: 'completion', at: /(^ {2}step .*\{)$/, types: '\n    measure ' },
  { name: 'completion: class', asks: 'completion', at: /(^fastener .*\{)$/, types: '\n  class ' },
  { name: 'completion: torque', asks: 'completion', at: /(^fastener .*\{)$/, types: '\n  torque ' },
  { name: 'completion: clamps', asks: 'completion', at: /(^fastener .*\{)$/, types: '\n  clamps ' },
  { name: 'completion: covers', asks: 'completion', at: /(^part .*\{)$/, types: '\n  covers ' },
  { name: 'completion: limit of', asks: 'completion', at: /(^limit [a-z][-a-z0-9]*) of /, types: ' of ' },
  { name: 'completion: in a sum', asks: 'completion', at: /(^ {2}= .*)$/, types: ' - ' },
  { name: 'completion: a size in a sum', asks: 'completion', at: /(^ {2}= .*)$/, types: ' - block.' },
  { name: 'completion: within', asks: 'completion', at: /(^ {2}within) /, types: ' ' },
  { name: 'completion: kind', asks: 'completion', at: /(^ {2}kind) /, types: ' ' },
  { name: 'completion: chain over', asks: 'completion', at: /(^ {2}chain [a-z][-a-z0-9]* over) /, types: ' ' },
  {
    name: 'completion: a unit',
    asks: 'completion',
    at: /(^ {2}dimension [a-z][-a-z0-9]* (?:x\d+ )?[\d.]+) /,
    types: ' ',
  },
  { name: 'completion: per', asks: 'completion', at: /(^part .*\{)$/, types: '\n  per ' },
  { name: 'completion: when', asks: 'completion', at: /(^part .*\{)$/, types: '\n  when ' },
  { name: 'completion: a figure of the engine', asks: 'completion', at: /(^engine \{)/, types: '\n  bore ' },
  { name: 'completion: sequences', asks: 'completion', at: /(^job .*\{)$/, types: '\n  sequences ' },
  { name: 'completion: in a record', asks: 'completion', at: /(^record .*\{)$/, types: '\n  me' },
  { name: 'completion: measured', asks: 'completion', at: /(^record .*\{)$/, types: '\n  measured ' },
  { name: 'completion: done', asks: 'completion', at: /(^record .*\{)$/, types: '\n  done ' },
  { name: 'completion: fitted', asks: 'completion', at: /(^record .*\{)$/, types: '\n  fitted ' },
];

/** An edit goes before each question of what is pointed at, one of these in turn: at the front of the text, in its middle, at its end. */
const EDITS = [
  { at: /(^ {2}dimension [a-z][-a-z0-9]* (?:x\d+ )?\d+\.\d+)/, types: '1' },
  { at: /(^ {4}tighten [a-z][-a-z0-9]*)/, types: 'x' },
  { at: /(^ {2}within \d+\.\d+)/, types: '1' },
  { at: /(^ {2}torque \d+)/, types: '1' },
];

/** So many places of each kind, spread over the text. */
const PLACES = 12;

/** The places of a kind, spread evenly over those that the text has, by line and character. */
function placesIn(text, at, most) {
  const all = [...text.matchAll(new RegExp(at.source, 'gm'))].map(
    (match) => match.index + match[0].indexOf(match[1]) + match[1].length,
  );
  const chosen =
    all.length <= most
      ? all
      : Array.from({ length: most }, (_, i) => all[Math.floor((i * (all.length - 1)) / (most - 1))]);
  return chosen.map((offset) => {
    const before = text.slice(0, offset);
    const line = before.split('\n').length - 1;
    return { line, character: offset - (before.lastIndexOf('\n') + 1) };
  });
}

/** Where the cursor is when a text has been written from a place on. */
function behind({ line, character }, written) {
  const lines = written.split('\n');
  return lines.length === 1
    ? { line, character: character + written.length }
    : { line: line + lines.length - 1, character: lines.at(-1).length };
}

/** Takes out what was written from a place on. */
function takeOut(client, uri, place, written) {
  for (let rest = written; rest !== ''; rest = rest.slice(0, -1)) {
    const at = behind(place, rest.slice(0, -1));
    if (rest.endsWith('\n')) client.join(uri, at);
    else client.change(uri, at, 1, '');
  }
}

/**
 * Milliseconds from the question to the answer of one kind of look, each after an edit; `settled`: what is found after the edit was asked
 * for first, as an editor has when somebody moves the mouse. `now` is the clock.
 */
export async function looked(client, uri, text, look, settled, now = () => performance.now()) {
  const textDocument = { uri };
  const times = [];
  const ask = async (method, params) => {
    const from = now();
    const answer = await client.ask(method, params);
    times.push(now() - from);
    return answer;
  };
  let answered = 0;
  const report = await client.findings(uri);
  const places = look.name.endsWith('a finding')
    ? spread(report?.items ?? [], PLACES).map(({ range }) => range.start)
    : placesIn(text, look.at, PLACES);
  for (const [i, place] of places.entries()) {
    if (look.types !== undefined) {
      const { types } = look;
      client.change(uri, place, 0, types.slice(0, -1));
      await client.findings(uri);
      client.change(uri, behind(place, types.slice(0, -1)), 0, types.at(-1));
      if (settled) await client.findings(uri);
      const answer = await ask('textDocument/completion', { textDocument, position: behind(place, types) });
      if ((answer?.items ?? answer ?? []).length > 0) answered += 1;
      takeOut(client, uri, place, types);
      await client.findings(uri);
      continue;
    }
    const edit = EDITS[i % EDITS.length];
    const sites = placesIn(text, edit.at, 3);
    const site = sites[i % sites.length];
    // An edit in the line that is pointed at would move what is pointed at.
    const position = site.line === place.line && site.character <= place.character ? behind(place, edit.types) : place;
    client.change(uri, site, 0, edit.types);
    if (settled) await client.findings(uri);
    // What can be seen in a window.
    const range = { start: { line: Math.max(0, position.line - 30), character: 0 }, end: position };
    const answer =
      look.asks === 'itself'
        ? await ask(look.method, { textDocument, range })
        : look.asks === 'hover'
          ? await ask('textDocument/hover', { textDocument, position })
          : await ask('fettle/standing', { uri, position, go: 'here' });
    if (answer !== null) answered += 1;
    takeOut(client, uri, site, edit.types);
    await client.findings(uri);
  }
  return { times, answered };
}

const spread = (all, most) =>
  all.length <= most
    ? all
    : Array.from({ length: most }, (_, i) => all[Math.floor((i * (all.length - 1)) / (most - 1))]);
