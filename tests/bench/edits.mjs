// Every kind of edit that is measured: where it is made, and what a person types there letter by letter, and takes back.

/**
 * @typedef {object} Kind
 * @property {string} name
 * @property {RegExp} at The place behind the first group, in the middle of the text or (first) at its front.
 * @property {string} [types] What is typed there.
 * @property {string} [takes] What is taken out there instead, and put back.
 * @property {boolean} [first] There is only one such place, at the front of the text.
 * @property {'used' | 'base' | 'built'} [in] The file that is edited, where it is not the one whose findings are wanted.
 */

/** @type {readonly Kind[]} */
export const KINDS = [
  { name: 'part: a figure', at: /(dimension main-journal x\d \d+\.\d+)/, types: '1' },
  { name: 'part: its name', at: /(^part cam-plate[-\d]*)/, types: 'x' },
  { name: 'part: flag', at: /(^part [a-z0-9-]*shell.*\{)/, types: '\n  matched' },
  { name: 'torque', at: /(torque 20 N\.m, 60)/, types: '1' },
  { name: 'fastener: its name', at: /(^fastener cam-sprocket-bolt[-\d]*)/, types: 'x' },
  { name: 'limit: bounds', at: /(within 0\.020\.\.0\.0\d+)/, types: '1' },
  { name: 'limit: sum', at: /(= block[-\d]*\.main-bore - 2)/, types: '1' },
  { name: 'limit: its name', at: /(^limit main-oil-clearance[-\d]*)/, types: 'x' },
  { name: 'drive: a wheel', at: /(chain timing-chain[-\d]* over crank-sprocket[-\d]*)/, types: 'x' },
  { name: 'drive: a figure', at: /(ratio crankshaft[-\d]* to camshaft[-\d]* 2)/, types: '1' },
  { name: 'valve event', at: /(inlet opens \d+)/, types: '1' },
  { name: 'engine: a figure', at: /(^ {2}stroke \d+\.\d+)/, types: '1', first: true },
  { name: 'engine: firing order', at: /(^ {2}firing-order [\d-]+)/, types: '-1', first: true },
  { name: 'spec: revision', at: /(^ {2}revision \d+)/, types: '1', first: true },
  { name: 'spec: a source', at: /(^ {2}source manual "[^"]*)/, types: 'x', first: true },
  { name: 'spec: its title', at: /(^spec [a-z-]+ "[^",]*)/, types: 'x', first: true },
  { name: 'a comment', at: /(^# (?:The top end|Brindle).*)/, types: 'x' },
  { name: 'action: a name', at: /(^ {4}tighten cam-plate-bolt[-\d]*)/, types: 'x' },
  { name: 'step: its name', at: /(^ {2}step lay-crankshaft[-\d]*)/, types: 'x' },
  {
    name: 'record: a date',
    at: /(^ {2}(?:done lay-crankshaft[-\d]* on 2026-02-1|fitted main-shell[-\d]* "batch 773))/,
    types: '1',
  },
  { name: 'new part', at: /()^part cam-plate/, types: 'part lug\n\n' },
  { name: 'new fastener', at: /()^fastener cam-plate-bolt/, types: 'fastener lug-bolt x2\n\n' },
  { name: 'new step', at: /()^ {2}step lay-crankshaft/, types: '  step look {\n  }\n' },
  { name: 'new action', at: /()^ {4}tighten cam-plate-bolt/, types: '    inspect block\n' },
  { name: 'new when', at: /()^ {4}tighten cam-plate-bolt/, types: '    when VARIANT { note "x" }\n' },
  { name: 'quote left open', at: /(^ {4}tighten cam-plate-bolt[-\d]*)/, types: ' "' },
  { name: 'brace left open', at: /(^part crank-sprocket[-\d]* )\{/, takes: '{' },
  { name: 'brace not closed', at: /(^ {2}marks-agree .*\n(?: {2}.*\n)*)\}/, takes: '}' },
  { name: 'figure in a used file', at: /(torque 30)/, types: '1', first: true, in: 'used' },
  { name: 'figure in its base', at: /(dimension main-journal x\d \d+\.\d+)/, types: '1', in: 'base' },
  { name: 'figure, built on', at: /(torque 30 N\.m, 70)/, types: '1', in: 'built' },
];

/** Where a kind of edit is made in a text: line, character, offset; undefined where the text has no such place. */
export function placeIn(text, { at, first }) {
  const find = (from) => {
    const all = new RegExp(at.source, 'gm');
    all.lastIndex = from;
    return all.exec(text);
  };
  const middle = text.indexOf('\n', Math.floor(text.length / 2)) + 1;
  const found = (first ? null : find(middle)) ?? find(0);
  if (found === null) return undefined;
  const offset = found.index + found[0].indexOf(found[1]) + found[1].length;
  const before = text.slice(0, offset);
  const line = before.split('\n').length - 1;
  return { line, character: offset - (before.lastIndexOf('\n') + 1), offset };
}
