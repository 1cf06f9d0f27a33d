// Words that every object of the machine answers to, as names and in every other place of a spec: nothing fails, and they are names as
// good as any other.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { completions } from '../../server/features/completion.ts';
import { analyseText } from '../annotated.ts';
import { root } from '../house/imports.ts';

const WORDS = [
  ...['constructor', 'toString', 'valueOf', '__proto__', 'hasOwnProperty', 'isPrototypeOf', 'toLocaleString'],
  ...['propertyIsEnumerable', '__defineGetter__', '__lookupSetter__', 'prototype'],
];

/** Those that may be names; no name begins with a line below. */
const NAMES = WORDS.filter((word) => /^[a-z]/.test(word));

const codes = (text: string): readonly string[] => analyseText(text).findings.map((finding) => finding.code);

test.each(NAMES)('a sum of engine.%s is told as of any figure that there is not', (word) => {
  const sum = (figure: string): readonly string[] =>
    codes(`engine {\n  bore 80 mm\n}\n\nlimit l = engine.${figure} within 1..2 mm\n`);
  expect(sum(word)).toEqual(sum('nothing-of-ours'));
  expect(sum(word)).not.toEqual([]);
});

test.each(NAMES)('a part named %s is a part', (word) => {
  const text = (name: string): string =>
    `part ${name} { dimension bore 80.00..80.02 mm }\nlimit l = ${name}.bore - ${name}.bore within 0..1 mm\n`;
  expect(codes(text(word))).toEqual(codes(text('barrel')));
});

/** Each word of a text, one after the other, gives way to one of the machine. */
function replaced(text: string, at: number, word: string): string {
  let i = -1;
  return text.replace(/[A-Za-z][\w-]*/g, (written) => {
    i += 1;
    return i === at ? word : written;
  });
}

const SPEC = `spec s { variants v, w source manual "m" units metric }
engine { cylinders 4 inline firing-order 1-3-4-2 bore part-a.bore stroke 90 mm crankpin 1, 4 at 0 deg }
part a x2 "A" { dimension bore x2 80.00..80.02 mm per manual "1" grades g { a 1..2 mm } mark m at 5 deg orient arrow toward front mass 3 kg }
part b like a { size o oversize 0.5 mm { wall 1.5 mm } places upper 1..2, lower 1..2 when v { single-use } }
fastener f x4 { thread M8x1.25 class 8.8 joins a, b torque 20 N.m, 90 deg stage one 5 N.m order 1, 2, 3, 4 }
supply oil { kind oil capacity 4 l }
drive d ratio 2:1 { wheel a teeth 20 wheel b teeth 40 links 80 }
valve-timing t of a { inlet opens 10 deg before tdc inlet closes 50 deg after bdc lift 9 mm }
limit c clearance = min(a.bore, b.bore) - engine.stroke + sum(a.bore) within 0.01..0.05 mm
sequence q { step one { fit a 1 into b tighten f stage one by shop warning "w" } step two after one { check c remove a rotate a to 90 deg } }
job j { begins bare does q }
record r of s revision 1 { measured c 0.02 mm by "M" done one }
change part a { mass 3 kg }
allow unit/missing "known"
`;
const PLACES = SPEC.match(/[A-Za-z][\w-]*/g)?.length ?? 0;

test.each(['constructor', '__proto__', 'toString'])('%s in every place of a spec: nothing fails', (word) => {
  const failed: string[] = [];
  for (let at = 0; at < PLACES; at += 1) {
    const text = replaced(SPEC, at, word);
    const analysis = analyseText(text);
    for (const finding of analysis.findings)
      if (finding.code === 'fettle/fault') failed.push(`${at}: ${finding.message}`);
    const end = text.indexOf(word) + word.length;
    expect(() => [completions(analysis, end), completions(analysis, Math.min(text.length, end + 1))]).not.toThrow();
  }
  expect(failed).toEqual([]);
});

test('in every place of a whole engine too', { timeout: 120_000 }, () => {
  const text = readFileSync(join(root, 'samples/inline-four.fettle'), 'utf8');
  const places = text.match(/[A-Za-z][\w-]*/g)?.length ?? 0;
  const failed: string[] = [];
  // Every 61st: few of them fall on the same kind of place again and again.
  for (let at = 0; at < places; at += 61) {
    const found = analyseText(replaced(text, at, WORDS[at % WORDS.length] ?? '')).findings;
    for (const finding of found) if (finding.code === 'fettle/fault') failed.push(`${at}: ${finding.message}`);
  }
  expect(failed).toEqual([]);
});
