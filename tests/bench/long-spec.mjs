// Long invented specs for measuring. They are made of a whole sample, so that they hold all that a real spec holds (two variants, limits
// with long sums, drives, `when`, several jobs, a record), declared again under other names until they are long enough.
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const samples = join(dirname(dirname(dirname(fileURLToPath(import.meta.url)))), 'samples');

/** A sample as it stands. */
export const sample = (name) => readFileSync(join(samples, name), 'utf8');

const DECLARED =
  /^ *(?:part|fastener|supply|drive|valve-timing|limit|sequence|step|job|grades|record) +([a-z][a-z0-9-]*)/gm;
/** Texts and comments, what follows a dot, and the words of the language that are names here too. */
const TOKENS =
  /"[^"]*"|#.*|\bkind [a-z-]+|\bon compression\b|\bof brindle-tallboy\b|\.[a-z][a-z0-9-]*|\b[a-z][a-z0-9-]*/g;

/** The record of a job that has begun. */
const RECORD = `record build of brindle-tallboy revision 4 {
  variant tourer
  engine-number "QL-0172"
  fitted main-shell "batch 7731"
  measured top-ring-gap 1: 0.38 mm, 2: 0.39 mm, 3: 0.38 mm, 4: 0.40 mm
    with "feeler gauge" on 2026-02-16
  measured crank-end-play 0.14 mm with "dial gauge" on 2026-02-18
  done inspect-castings on 2026-02-16 by "RT"
  done gap-rings on 2026-02-16 by "RT"
  done wash-block on 2026-02-17 by "AM"
  done close-galleries on 2026-02-18 by "RT"
  done lay-crankshaft on 2026-02-18 by "RT"
}
`;

/** The text with a number behind each name that it declares. */
function renamed(text, number) {
  const names = new Set([...text.matchAll(DECLARED)].map(([, name]) => name));
  return text
    .replace(TOKENS, (word) => (names.has(word) ? `${word}-${number}` : word))
    .replace(/^part crankshaft-.*$/m, '$&\n  fixed-to crankshaft');
}

/** A spec of about so many lines; the shortest holds the declarations that a small engine needs, each kind once. */
export function longSpec(lines) {
  if (lines <= 400) return shortSpec();
  const whole = sample('inline-four.fettle');
  const again = whole.slice(whole.indexOf('# The bottom end.'));
  const out = [whole, RECORD];
  for (let count = lineCount(whole), number = 2; ; number += 1) {
    const next = `${again}\n${RECORD}`;
    if (count + lineCount(next) / 2 > lines) break;
    out.push(renamed(next, number));
    count += lineCount(next);
  }
  return out.join('\n');
}

const lineCount = (text) => text.split('\n').length;

/** A small engine with a limit, valve timing, a second job and a record beside what its sample has. */
function shortSpec() {
  return `${sample('review/brindle-pony-2.fettle')}
valve-timing grind on camshaft {
  inlet opens 10 deg btdc closes 52 deg abdc
  exhaust opens 54 deg bbdc closes 12 deg atdc
}

record build of brindle-pony revision 2 {
  variant road
  fitted main-shell "batch 7731"
}
`;
}

/** A short spec that is built on a long one (\`use "long.fettle"\`): changes in it, and a part of its own. */
export function builtOnLong(spec) {
  return `use "long.fettle"

spec built "Built on the long example" extends ${spec} {
  variants tourer, delivery
  change part block {
    dimension bore x4 80.701..80.718 mm
  }
  change fastener main-bolt {
    torque 30 N.m, 70 N.m, 111 N.m
  }
}
`;
}
