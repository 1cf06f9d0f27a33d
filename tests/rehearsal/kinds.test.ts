// Mistakes of the bench put into clean specs by kind: some of the places, a place too many, crossed places, the crankshaft set elsewhere,
// fluids in another order and in another place, amounts ten times, times cut short and stretched. Each of a kind is found but for those that
// are listed, with why. What is loosened after the proof is in on-the-bench.test.ts.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';

const folder = join(import.meta.dirname, '../../samples');
const NAMES = ['common-fasteners', 'inline-four', 'flat-twin', 'vee-six', 'vee-six-belt'] as const;
const beside = Object.fromEntries(
  NAMES.map((name) => [`${name}.fettle`, readFileSync(join(folder, `${name}.fettle`), 'utf8')]),
);

interface Mistake {
  /** The line that is changed, as it stands. */
  readonly line: string;
  readonly text: string;
}

type Make = (line: string, next: string, text: string) => string | undefined;

/** Every copy of a text in which one line, or it and the next, are written otherwise. */
function mistakes(text: string, make: Make): readonly Mistake[] {
  const lines = text.split('\n');
  return lines.flatMap((line, i) => {
    const changed = make(line, lines[i + 1] ?? '', text);
    if (changed === undefined) return [];
    const many = changed.split('\n').length > 1 && changed.startsWith(lines[i + 1] ?? ' ') ? 2 : 1;
    return [{ line: line.trim(), text: [...lines.slice(0, i), changed, ...lines.slice(i + many)].join('\n') }];
  });
}

const countOf = (text: string, kind: string, name: string): number =>
  Number(new RegExp(`^${kind} ${name} x(\\d+)`, 'm').exec(text)?.[1] ?? 1);
const isEach = (text: string, name: string): boolean =>
  new RegExp(`^fastener ${name}\\b[^}]*\\n  each `, 'm').test(text);

const KINDS: readonly (readonly [kind: string, make: Make, known: readonly string[]])[] = [
  [
    'one bolt of several tightened',
    (line, _next, text) => {
      const name = /^ {4}tighten ([a-z-]+)$/.exec(line)?.[1] ?? '';
      return countOf(text, 'fastener', name) > 1 && !isEach(text, name) ? `${line} 1` : undefined;
    },
    [],
  ],
  [
    'a place too many',
    (line, _next, text) => {
      const name = /^ {4}(?:fit|remove) ([a-z-]+)\b(?! \w+ (?:together|\d))/.exec(line)?.[1] ?? '';
      const count = countOf(text, 'part', name);
      return count > 1 && line.includes(`${name} onto`)
        ? line.replace(`${name} onto`, `${name} ${count + 1} onto`)
        : undefined;
    },
    [],
  ],
  [
    'one part of several fitted',
    (line, _next, text) => {
      const name = /^ {4}fit ([a-z-]+) (?:onto|into)/.exec(line)?.[1] ?? '';
      return countOf(text, 'part', name) > 1 ? line.replace(`fit ${name}`, `fit ${name} 1`) : undefined;
    },
    [],
  ],
  [
    'the crankshaft set on another cylinder before a drive is put in line',
    (line, _next, text) => {
      const rest = text.slice(text.indexOf(line));
      const untilAlign = rest.slice(0, Math.max(0, rest.indexOf('align ')));
      const isLast = !/\n {4}(?:set|rotate) crankshaft/.test(untilAlign.slice(line.length)) && untilAlign !== '';
      return /^ {4}set crankshaft at tdc 1/.test(line) && isLast && text.indexOf(line) === text.lastIndexOf(line)
        ? line.replace('tdc 1', 'tdc 2')
        : undefined;
    },
    [],
  ],
  [
    'primed before the oil goes in',
    (line, next) =>
      /^ {4}fill \S+ with [a-z-]*oil/.test(line) && /^ {4}prime /.test(next) ? `${next}\n${line}` : undefined,
    [],
  ],
  [
    'ten times the oil',
    (line) => {
      const amount = /^ {4}fill \S+ with [a-z-]*oil (\d+(?:\.\d+)?) /.exec(line)?.[1];
      return amount === undefined ? undefined : line.replace(amount, String(Number(amount) * 10));
    },
    [],
  ],
  [
    'tightened again before it is cold',
    (line, next) =>
      /^ {4}wait 4 h$/.test(line) && /^ {4}tighten (?:manifold|exhaust)-nut$/.test(next)
        ? line.replace('4 h', '0 min')
        : undefined,
    [],
  ],
  [
    'two places crossed',
    (line, _next, text) => {
      const [, name = '', mate = ''] = /^ {4}fit (piston|rod-cap) onto ([a-z-]+)$/.exec(line) ?? [];
      const count = countOf(text, 'part', name);
      const isEachStep = /\n {2}step [^\n]* each [^\n]*\{(?:(?!\n {2}step )[\s\S])*$/.test(
        text.slice(0, text.indexOf(`${line}\n`)),
      );
      if (count < 2 || count !== countOf(text, 'part', mate) || isEachStep) return undefined;
      const rest = count > 2 ? [`    fit ${name} 3..${count} onto ${mate} 3..${count}`] : [];
      return [`    fit ${name} 1 onto ${mate} 2`, `    fit ${name} 2 onto ${mate} 1`, ...rest].join('\n');
    },
    [],
  ],
  [
    'sealant that skins over before the joint is closed',
    (line, next) => {
      const part = /^ {4}seal ([a-z-]+) with sealant$/.exec(line)?.[1];
      return part !== undefined && next.startsWith(`    fit ${part} `) ? `${line}\n    wait 12 h` : undefined;
    },
    [],
  ],
  [
    'bled before it is filled',
    (line, next) =>
      /^ {4}fill \S+ with coolant/.test(line) && /^ {4}bleed /.test(next) ? `${next}\n${line}` : undefined,
    [],
  ],
  [
    'coolant into the sump',
    (line) =>
      /^ {4}fill sump with [a-z-]*oil/.test(line) ? line.replace(/with [a-z-]*oil/, 'with coolant') : undefined,
    [],
  ],
  [
    'ten times the speed',
    (line) => (/^ {4}run engine at \d+ rpm/.test(line) ? line.replace(/(\d+) rpm/, '$10 rpm') : undefined),
    [],
  ],
  [
    'hours for minutes',
    (line) => (/^ {4}run engine .*for (?:1[3-9]|[2-9]\d) min$/.test(line) ? line.replace(/ min$/, ' h') : undefined),
    [],
  ],
  ['a tensioner neither held back nor let go', (line) => (/^ {4}release [a-z-]+$/.test(line) ? '' : undefined), []],
];

describe.each(KINDS)('%s', (_kind, make, known) => {
  test('is found wherever it is made', () => {
    const silent: string[] = [];
    let made = 0;
    for (const name of NAMES) {
      if (name === 'common-fasteners') continue;
      for (const mistake of mistakes(beside[`${name}.fettle`] ?? '', make)) {
        made += 1;
        const { findings } = analyseText(mistake.text, beside, `${name}.fettle`);
        if (!findings.some(({ severity }) => severity !== 'information')) silent.push(`${name}: ${mistake.line}`);
      }
    }
    expect(made).toBeGreaterThan(0);
    expect(silent.filter((each) => !known.includes(each))).toEqual([]);
  });
});
