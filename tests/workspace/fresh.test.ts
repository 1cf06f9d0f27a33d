// Whatever is done to a text, what is found in it is what a process finds that has seen nothing before: one text in the place of another,
// as a whole or as the smallest stretch, closed and opened, in bursts of which nobody looks at the middle; of the samples, of what they
// use, and of specs that are built on them. The texts are made from the samples by changing what a builder would change: steps and
// actions in another order, what is left out, said twice, misspelt, or holds for one variant only.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { once } from '../../server/model/questions.ts';
import { analyse } from '../../server/workspace/analyse.ts';
import type { Analysis, Host } from '../../server/workspace/api.ts';
import { createDocuments, type Documents } from '../../server/workspace/documents.ts';
import { libraryText } from '../../server/workspace/library.ts';
import { positionAt } from '../../server/workspace/lines.ts';
import { resolveUse } from '../../server/workspace/paths.ts';
import { dice, type Roll } from '../dice.ts';

const folder = join(import.meta.dirname, '../../samples');
const SHOP = 'file:///shop';
const read = (name: string): string => readFileSync(join(folder, name), 'utf8');
const samples = readdirSync(folder).filter((name) => name.endsWith('.fettle'));
const small = ['review/brindle-pony-1.fettle', 'two-shops/brindle-wren.fettle'];

const pick = <item>(items: readonly item[], roll: Roll): item | undefined => items[roll(items.length)];

/** The blocks of a text that begin in a column, by the lines that they stand on. */
function blocks(lines: readonly string[], begins: RegExp): readonly (readonly [number, number])[] {
  const found: (readonly [number, number])[] = [];
  for (const [at, line] of lines.entries()) {
    if (!begins.test(line)) continue;
    const indent = /^ */.exec(line)?.[0] ?? '';
    let end = at + 1;
    if (line.endsWith('{')) {
      while (end < lines.length && lines[end] !== `${indent}}`) end += 1;
      end += 1;
    } else while (end < lines.length && lines[end]?.startsWith(`${indent}  `) === true) end += 1;
    found.push([at, end]);
  }
  return found;
}

const DECLARATION =
  /^(part|fastener|supply|drive|limit|sequence|job|record|grades|engine|spec|use|valve-timing|when)\b/;
const STEP = /^ {2}step /;
const ACTION = /^ {4}[a-z]/;
const STATEMENT = /^ {2}[a-z]/;

/** What may be done to the lines of a text. */
const CHANGES: readonly ((lines: string[], roll: Roll) => void)[] = [
  (lines, roll) => {
    // Two neighbours change places: declarations, steps, actions, statements.
    const all = blocks(lines, pick([DECLARATION, STEP, STEP, ACTION, ACTION, STATEMENT], roll) ?? STEP);
    const at = roll(Math.max(1, all.length - 1));
    const [one, other] = [all[at], all[at + 1]];
    if (one === undefined || other === undefined) return;
    const [first, second] = [lines.slice(...one), lines.slice(...other)];
    lines.splice(other[0], second.length, ...first);
    lines.splice(one[0], first.length, ...second);
  },
  (lines, roll) => {
    // One goes elsewhere.
    const sort = pick([DECLARATION, STEP, ACTION], roll) ?? STEP;
    const one = pick(blocks(lines, sort), roll);
    if (one === undefined) return;
    const moved = lines.splice(one[0], one[1] - one[0]);
    const there = pick(blocks(lines, sort), roll);
    lines.splice(there?.[0] ?? lines.length, 0, ...moved);
  },
  (lines, roll) => {
    // One is left out, or said twice.
    const one = pick(blocks(lines, pick([DECLARATION, STEP, ACTION, STATEMENT], roll) ?? STEP), roll);
    if (one === undefined) return;
    if (roll(2) === 0) lines.splice(one[0], one[1] - one[0]);
    else lines.splice(one[1], 0, ...lines.slice(...one));
  },
  (lines, roll) => {
    // A name is misspelt where it is declared or used.
    const at = roll(lines.length);
    lines[at] = (lines[at] ?? '').replace(/\b([a-z]+)-([a-z]+)\b/, '$1-$2x');
  },
  (lines, roll) => {
    // A word is another throughout.
    const word = /[a-z]+(?:-[a-z]+)*/.exec((lines[roll(lines.length)] ?? '').slice(roll(20)))?.[0];
    if (word === undefined) return;
    for (const [at, line] of lines.entries()) lines[at] = line.replaceAll(word, `${word}-q`);
  },
  (lines, roll) => {
    // A figure is another, or has lost its unit.
    const at = roll(lines.length);
    lines[at] = (lines[at] ?? '').replace(/\d(?=[^\d]*$)/, String(roll(10))).replace(roll(6) === 0 ? / mm$/ : /$^/, '');
  },
  (lines, roll) => {
    // It holds for one variant only.
    const variants = /^ {2}variants (.*)$/m.exec(lines.join('\n'))?.[1]?.split(/, */) ?? ['one'];
    const one = pick(blocks(lines, pick([DECLARATION, STEP, ACTION, STATEMENT], roll) ?? STEP), roll);
    if (one === undefined) return;
    const indent = /^ */.exec(lines[one[0]] ?? '')?.[0] ?? '';
    // Now and then what it holds for is left open.
    if (roll(5) > 0) lines.splice(one[1], 0, `${indent}}`);
    lines.splice(one[0], 0, `${indent}when ${pick(variants, roll) ?? 'one'} {`);
  },
  (lines, roll) => {
    // A brace or a quote is left open.
    const at = roll(lines.length);
    lines[at] = roll(2) === 0 ? (lines[at] ?? '').replace(/[{}]/, '') : (lines[at] ?? '').replace('"', '');
  },
  (lines, roll) => {
    // The spec says more, or less: variants, sources, units, draft.
    const at = lines.findIndex((line) => line.startsWith('spec '));
    const said = pick(['  draft', '  variants one, two', '  units inch', '  source more "More"', '  revision 9'], roll);
    if (at >= 0 && roll(2) === 0) lines.splice(at + 1, 0, said ?? '');
    else if (at >= 0 && lines[at + 1]?.startsWith('  ') === true) lines.splice(at + 1, 1);
  },
  (lines, roll) => {
    // Other files are used, or none.
    const at = lines.findIndex((line) => line.startsWith('use '));
    if (at >= 0 && roll(2) === 0) lines.splice(at, 1);
    else
      lines.unshift(
        pick(['use "common-fasteners.fettle"', 'use "fettle:metric-bolts"', 'use "none.fettle"'], roll) ?? '',
      );
  },
];

/** A text that has been changed in a few places. */
function changed(text: string, roll: Roll): string {
  const lines = text.split('\n');
  for (let times = 1 + roll(3); times > 0; times -= 1) pick(CHANGES, roll)?.(lines, roll);
  return lines.join('\n');
}

let fresh = 0;

/** All that is told of a file; of two files that are told alike all that an editor shows is the same. */
function told(analysis: Analysis | undefined, address: string): string {
  return JSON.stringify([analysis?.variants, analysis?.findings]).replaceAll(address, '');
}

/** What a file is found to have under a name that nothing is known of, looked at once: nothing is kept, nor noted for later. */
function foundAnew(text: string, others: Readonly<Record<string, string>>): string {
  fresh += 1;
  const root = `file:///fresh-${fresh}`;
  const address = `${root}/this.fettle`;
  const host: Host = {
    resolve: (from, path) => resolveUse(from, path, [root]),
    read: (file) => others[file.slice(root.length + 1)] ?? libraryText(file),
    supersedes: true,
  };
  return once(() => told(analyse(address, text, host), address)).replaceAll(root, SHOP);
}

interface Desk {
  readonly documents: Documents;
  readonly address: string;
  readonly others: Record<string, string>;
  text: string;
}

/** Puts a text in the place of the one that is open, in one of the ways in which that happens. */
function put(desk: Desk, text: string, way: number): void {
  const { documents, address } = desk;
  const version = (documents.get(address)?.version ?? 0) + 1;
  if (way === 0) documents.change(address, version, [{ text }]);
  else if (way === 1) {
    documents.close(address);
    documents.open(address, 1, text);
  } else {
    let start = 0;
    while (start < text.length && text[start] === desk.text[start]) start += 1;
    let back = 0;
    const most = Math.min(text.length, desk.text.length) - start;
    while (back < most && text[text.length - 1 - back] === desk.text[desk.text.length - 1 - back]) back += 1;
    const lines = documents.lines(address);
    const range = { start: positionAt(lines, start), end: positionAt(lines, desk.text.length - back) };
    documents.change(address, version, [{ range, text: text.slice(start, text.length - back) }]);
  }
  desk.text = text;
}

function desk(name: string, text: string, others: Record<string, string>): Desk {
  const documents = createDocuments();
  documents.setRoots([SHOP]);
  for (const [file, content] of Object.entries(others)) documents.told(`${SHOP}/${file}`, content);
  const address = `${SHOP}/${name}`;
  documents.open(address, 1, text);
  return { documents, address, others, text };
}

function holds(at: Desk, what: string): void {
  const { documents, address, others, text } = at;
  const now = told(documents.analysis(address), address);
  const anew = foundAnew(text, others);
  if (now !== anew) expect(`${what}\n${now}`).toBe(`${what}\n${anew}`);
}

const shared = Object.fromEntries(samples.map((name) => [name, read(name)]));

describe('a text in the place of another', () => {
  test.each([...samples, ...small])(
    '%s',
    (name) => {
      const roll = dice(name.length * 104_729);
      const text = read(name);
      const others = { ...shared };
      delete others[name];
      const at = desk('this-one.fettle', text, others);
      const texts = [text, ...Array.from({ length: 5 }, () => changed(text, roll))];
      const turns = text.length > 10_000 ? 16 : 60;
      for (let turn = 0; turn < turns; turn += 1) {
        // Now and then the next one is made of the one that stands there, as by hand; else one of those that were there before comes back.
        const next = roll(3) === 0 ? changed(at.text, roll) : (pick(texts, roll) ?? text);
        put(at, next, roll(3));
        // In a burst nobody looks at what is in between.
        if (roll(4) === 0) put(at, changed(next, roll), 0);
        holds(at, `turn ${turn}`);
      }
    },
    120_000,
  );

  test('of a file that others use, seen from those', () => {
    const roll = dice(41);
    const name = 'common-fasteners.fettle';
    const others = { ...shared };
    const at = desk('user.fettle', read('inline-four.fettle'), others);
    for (let turn = 0; turn < 10; turn += 1) {
      others[name] = roll(3) === 0 ? read(name) : changed(read(name), roll);
      at.documents.told(`${SHOP}/${name}`, others[name]);
      if (roll(3) === 0) put(at, changed(read('inline-four.fettle'), roll), roll(3));
      holds(at, `turn ${turn}`);
    }
  }, 120_000);

  test('of a base, and of what is built on it', () => {
    const roll = dice(97);
    const base = read('review/brindle-pony-1.fettle');
    const built = `use "pony.fettle"

spec pony-marine "Pony, marine" extends brindle-pony {
  variants road, marine
  change part block {
    dimension bore x2 70.410..70.425 mm
  }
  change fastener main-bolt {
    torque 20 N.m, 65 N.m
  }
  drop part cam-plate
  change engine {
    stroke 75.00 mm
  }
  when marine {
    insert step wash-again "Wash it again" before lay-crankshaft {
      clean block with degreaser
    }
  }
}

part bracket
`;
    const others: Record<string, string> = { 'pony.fettle': base };
    const at = desk('built.fettle', built, others);
    for (let turn = 0; turn < 30; turn += 1) {
      if (roll(2) === 0) {
        others['pony.fettle'] = roll(4) === 0 ? base : changed(base, roll);
        at.documents.told(`${SHOP}/pony.fettle`, others['pony.fettle']);
      } else put(at, roll(4) === 0 ? built : changed(built, roll), roll(3));
      holds(at, `turn ${turn}`);
    }
  }, 120_000);
});
