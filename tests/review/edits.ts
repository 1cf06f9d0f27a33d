// Edits of sample specs, for the properties of a review: those that mean something, and those that mean nothing. They work on the
// text alone, one fact a line as the layout has it, and know nothing of how a review finds them.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { cutSections } from '../../grammar/sections.ts';

const root = join(import.meta.dirname, '../..');
const read = (path: string): string => readFileSync(join(root, path), 'utf8');

export const beside = { 'common-fasteners.fettle': read('samples/common-fasteners.fettle') };

export const specs: readonly string[] = [
  read('tests/model/brindle-four.fettle'),
  read('samples/flat-twin.fettle'),
  read('samples/vee-six.fettle'),
];

/** An edited text and what it was about; undefined where the text has no place for the edit. */
export interface Edit {
  readonly text: string;
  readonly line: string;
}

type Pick = (most: number) => number;

function atLine(
  text: string,
  lines: readonly number[],
  pick: Pick,
  change: (line: string) => readonly string[],
): Edit | undefined {
  const all = text.split('\n');
  const at = lines[pick(lines.length)];
  const line = at === undefined ? undefined : all[at];
  if (at === undefined || line === undefined) return undefined;
  return { text: [...all.slice(0, at), ...change(line), ...all.slice(at + 1)].join('\n'), line };
}

function linesWith(text: string, wanted: (line: string, next: string) => boolean): readonly number[] {
  const all = text.split('\n');
  return [...all.keys()].filter((i) => !/^\s*#/.test(all[i] ?? '') && wanted(all[i] ?? '', all[i + 1] ?? ''));
}

const VALUE =
  /^( +)(torque|wall|mass|dimension|figure|stroke|rod-length|chamber|redline|length|amount|within|wear-limit|lift|pitch)\b[^"]*?(\d+(?:\.\d+)?)(?= [A-Za-z])/;

/** One figure of one statement made larger. */
export function anotherValue(text: string, pick: Pick): Edit | undefined {
  return atLine(
    text,
    linesWith(text, (line) => VALUE.test(line) && !/\(/.test(line)),
    pick,
    (line) => [
      line.replace(
        VALUE,
        (whole, _indent, _word, number: string) => `${whole.slice(0, -number.length)}${larger(number)}`,
      ),
    ],
  );
}

function larger(number: string): string {
  const places = number.split('.')[1]?.length ?? 0;
  return (Number(number) + 2 * 10 ** -places).toFixed(places);
}

const UNITS: Readonly<Record<string, string>> = {
  'N.m': 'kgf.cm',
  mm: 'thou',
  in: 'mm',
  'lbf.ft': 'N.m',
  cc: 'in3',
  kg: 'lb',
  g: 'oz',
};
const WITH_UNIT =
  /^( +)(torque|wall|mass|dimension|figure|stroke|rod-length|length)\b([^"(]*?\d) (N\.m|mm|in|lbf\.ft|cc|kg|g)(?![\w.])/;

/** The unit of one figure taken for another, the number left as it is. */
export function anotherUnit(text: string, pick: Pick): Edit | undefined {
  return atLine(
    text,
    linesWith(text, (line) => WITH_UNIT.test(line) && !/\(/.test(line)),
    pick,
    (line) => [
      line.replace(
        WITH_UNIT,
        (_all, indent, word, rest, unit: string) => `${indent}${word}${rest} ${UNITS[unit] ?? unit}`,
      ),
    ],
  );
}

const WHOLE_LINE =
  /^ {2,4}(?!step|when|size|sequence|tightening-order|variants|source|starts-with|places|spec|places|\w[\w-]* \{)[a-z][a-z-]+\b[^{}]*$/;

/** One statement left out, with the clauses that stand under it. */
export function dropped(text: string, pick: Pick): Edit | undefined {
  const ends = linesWith(
    text,
    (line, next) =>
      WHOLE_LINE.test(line) &&
      !/^\s*(per|within|kind|=|of|each|measured|wear-limit|at-least|at-most|at)\b/.test(line) &&
      indent(next) <= indent(line) &&
      even(line),
  );
  return atLine(text, ends, pick, () => []);
}

/** A text that runs over a line end is no line of its own. */
const even = (line: string): boolean => (line.match(/"/g) ?? []).length % 2 === 0;
const indent = (line: string): number => /^ */.exec(line)?.[0].length ?? 0;

interface Step {
  readonly start: number;
  readonly end: number;
  readonly name: string;
}

/** The steps of a text, as they are written, by sequence; sequences with a `when` in them are left out. */
function stepsOf(text: string): readonly (readonly Step[])[] {
  return cutSections(text)
    .filter((section) => section.word === 'sequence' && !/^\s*when\b/m.test(section.text))
    .map((section) =>
      section.children.map((child) => ({
        start: child.start,
        end: text.indexOf('\n', child.end - 1) + 1 || child.end,
        name: /^step\s+(\S+)/.exec(text.slice(child.start, child.end))?.[1] ?? '',
      })),
    );
}

/** One step taken out and put in elsewhere in its sequence. */
export function movedStep(text: string, pick: Pick): Edit | undefined {
  const sequences = stepsOf(text).filter((steps) => steps.length > 2);
  const steps = sequences[pick(sequences.length)] ?? [];
  const [from, to] = [pick(steps.length), pick(steps.length)];
  const [step, other] = [steps[from], steps[to]];
  if (step === undefined || other === undefined || step === other) return undefined;
  const written = steps.map((each) => text.slice(each.start, each.end));
  const rest = written.filter((_, i) => i !== from);
  const order = [...rest.slice(0, to), written[from] ?? '', ...rest.slice(to)];
  const [first, last] = [steps[0], steps[steps.length - 1]];
  if (first === undefined || last === undefined) return undefined;
  return { text: text.slice(0, first.start) + order.join('') + text.slice(last.end), line: step.name };
}

/** A part or fastener under another name, throughout. */
export function renamed(text: string, pick: Pick): Edit | undefined {
  const names = [...text.matchAll(/^(?:part|fastener|limit|drive) ([a-z][a-z0-9-]*)/gm)].map((match) => match[1] ?? '');
  const name = names[pick(names.length)];
  if (name === undefined || /^(front|rear|up|down|left|right|inlet|exhaust)$/.test(name)) return undefined;
  const by = `${name}-of-ours`;
  const plain = text.replace(new RegExp(`(?<![\\w.-])${name}(?![\\w-])(?=[^"\\n]*(?:"[^"\\n]*"[^"\\n]*)*$)`, 'gm'), by);
  return { text: plain, line: by };
}

/** The same in another layout: blanks and line ends as a mail would leave them, comments put in and taken out. */
export function otherLayout(text: string, pick: Pick): string {
  return text
    .split('\n')
    .filter((line) => !/^\s*#/.test(line))
    .map((line) => {
      if (!even(line) || line.includes('#')) return line;
      const way = pick(4);
      if (way === 0) return `${line} # remark ${pick(9)}`;
      if (way === 1) return line.replace(/^ +/, '\t\t  ');
      return way === 2 && !line.includes('"') ? line.replace(/(?<=\w) (?=[a-z])/, '\n   ') : line;
    })
    .join('\n');
}

/** The same declarations in another order; sequences keep theirs, which means something. */
export function otherOrder(text: string, pick: Pick): string {
  const all = cutSections(text)
    .filter((section) => section.word !== undefined)
    .map((section) => ({
      word: section.word,
      text: text.slice(section.start, section.end).replace(/(\n#[^\n]*|\s)+$/, ''),
    }));
  const isFixed = (each: { readonly word: string | undefined }): boolean =>
    each.word === 'sequence' || each.word === 'when';
  const left = all.filter((each) => !isFixed(each));
  const mixed = [...left].flatMap(() => left.splice(pick(left.length), 1));
  return [...mixed, ...all.filter(isFixed)].map((each) => each.text).join('\n\n');
}

/** How many of each unit one of another is, and the decimals that hold it at the printed precision. */
const OTHER: readonly (readonly [RegExp, string, number, number])[] = [
  [/(?<![\w.(])(\d+(?:\.\d+)?)(\.\.(\d+(?:\.\d+)?))? mm(?![\w.])/g, 'in', 1 / 25.4, 6],
  [/(?<![\w.(])(\d+(?:\.\d+)?)(\.\.(\d+(?:\.\d+)?))? N\.m(?![\w.])/g, 'lbf.ft', 1 / 1.3558179483314, 4],
  [/(?<![\w.(])(\d+(?:\.\d+)?)(\.\.(\d+(?:\.\d+)?))? in(?![\w.])/g, 'mm', 25.4, 5],
];

/** Figures in another unit, outside sums, texts and restatements, at more than their printed precision. */
export function otherUnits(text: string, pick: Pick): string {
  return text
    .split('\n')
    .map((line) => {
      if (/["(±]|^\s*#/.test(line) || pick(2) === 0) return line;
      const [what, unit, factor, places] = OTHER[pick(OTHER.length)] ?? OTHER[0] ?? [/$^/g, '', 1, 0];
      const turn = (number: string): string => (Number(number) * factor).toFixed(places);
      return line.replace(what, (_all, low: string, _rest: string | undefined, high: string | undefined) =>
        high === undefined ? `${turn(low)} ${unit}` : `${turn(low)}..${turn(high)} ${unit}`,
      );
    })
    .join('\n');
}
