// Faults put into clean specs, one at a time: each action or step left out, done twice, or done after the next one. How many are found is
// counted and may not fall; each finding is about what was changed; each silent one has a reason that a rule gives (reasons.ts).
// MUTATIONS=1 prints the table of reasons, the silent ones without a reason, and how many faults give more than one finding.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import type { Finding } from '../../server/model/finding.ts';
import { analyseText } from '../annotated.ts';
import { type Mutation, mutations } from './faults.ts';
import { jobsOf, reasonFor } from './reasons.ts';

const root = join(import.meta.dirname, '../..');
const read = (path: string): string => readFileSync(join(root, path), 'utf8');
const beside = Object.fromEntries(
  ['common-fasteners', 'inline-four', 'flat-twin', 'vee-six', 'vee-six-belt'].map((name) => [
    `${name}.fettle`,
    read(`samples/${name}.fettle`),
  ]),
);

const isWrong = (each: { readonly severity: string }): boolean => each.severity !== 'information';

const specs: readonly (readonly [string, string])[] = [
  ['brindle-four.fettle', read('tests/model/brindle-four.fettle')],
  ...['inline-four', 'flat-twin', 'vee-six', 'vee-six-belt'].map(
    (name) => [`${name}.fettle`, read(`samples/${name}.fettle`)] as const,
  ),
];

/** How many were found when this was written. */
type Floors = Readonly<Record<string, number>>;
const FLOORS: Readonly<Record<string, Floors>> = {
  'brindle-four.fettle': {
    'action left out': 23,
    'action done twice': 13,
    'action done after the next': 9,
    'step left out': 10,
    'step done twice': 8,
    'step done after the next': 3,
  },
  'inline-four.fettle': {
    'action left out': 157,
    'action done twice': 86,
    'action done after the next': 67,
    'step left out': 41,
    'step done twice': 32,
    'step done after the next': 10,
  },
  'flat-twin.fettle': {
    'action left out': 123,
    'action done twice': 70,
    'action done after the next': 60,
    'step left out': 27,
    'step done twice': 24,
    'step done after the next': 11,
  },
  'vee-six.fettle': {
    'action left out': 112,
    'action done twice': 59,
    'action done after the next': 43,
    'step left out': 26,
    'step done twice': 19,
    'step done after the next': 8,
  },
  'vee-six-belt.fettle': {
    'action left out': 23,
    'action done twice': 6,
    'action done after the next': 7,
    'step left out': 6,
    'step done twice': 4,
    'step done after the next': 4,
  },
};

/** So many silent ones have no reason, in all: what is known to be left is listed here by its words. */
const LEFT: readonly string[] = [];

const WAYS = [
  ['action', 'left out'],
  ['action', 'done twice'],
  ['action', 'done after the next'],
  ['step', 'left out'],
  ['step', 'done twice'],
  ['step', 'done after the next'],
] as const;

const table = new Map<string, number>();
let [found, several] = [0, 0];
const count = (reason: string): void => {
  table.set(reason, (table.get(reason) ?? 0) + 1);
};

/** What is said of a mutation in a list: the first line of what was changed. */
function told(text: string, name: string, { of, change, at }: Mutation): string {
  return `${name}: ${of} ${change}: ${text.split('\n')[at.from]?.trim()}`;
}

/** The names that stand in the lines of a fault: a finding that is of it names one of them, or stands in a line that does. */
function namesIn(text: string, { at, next }: Mutation): readonly RegExp[] {
  const lines = text.split('\n');
  const changed = [...lines.slice(at.from, at.to), ...(next === undefined ? [] : lines.slice(next.from, next.to))];
  const words =
    changed
      .join(' ')
      .replace(/"[^"]*"/g, '')
      .match(/[a-z]+(?:-[a-z]+)*/g) ?? [];
  return [...new Set(words)]
    .filter((word) => word.length > 2 && !WORDS.has(word))
    .map((word) => new RegExp(`\\b${word}\\b`, 'i'));
}

/** Words of the language that stand in every other line. */
const WORDS = new Set([
  'step',
  'into',
  'onto',
  'with',
  'tighten',
  'measure',
  'together',
  'stage',
  'turns',
  'each',
  'engine',
]);

/** Whether some finding is about what was changed: it names it, or a step of it. */
function isOfFault(text: string, mutation: Mutation, findings: readonly Finding[]): boolean {
  const names = namesIn(text, mutation);
  return findings.some((finding) => {
    const start = mutation.text.lastIndexOf('\n', finding.start - 1) + 1;
    const end = mutation.text.indexOf('\n', finding.start);
    const said = `${finding.message} ${mutation.text.slice(start, end < 0 ? undefined : end)}`;
    return names.some((name) => name.test(said));
  });
}

describe.each(specs)('%s', (name, text) => {
  const clean = analyseText(text, beside, name);
  const [view] = clean.views;
  if (view === undefined) throw new Error('no view');
  const jobs = jobsOf(view, name, text);

  test('is clean as it stands', () => {
    expect(clean.findings.filter(isWrong)).toEqual([]);
  });

  test.each(WAYS)('an %s %s', (of, change) => {
    const beyond: string[] = [];
    const silent = mutations(text, of, change).filter((each) => {
      const findings = analyseText(each.text, beside, name).findings.filter(isWrong);
      if (findings.length === 0) return true;
      found += 1;
      if (findings.length > 1) several += 1;
      if (!isOfFault(text, each, findings)) beyond.push(`${told(text, name, each)}: ${findings[0]?.code}`);
      return false;
    });
    const without = silent.flatMap((each) => {
      const reason = reasonFor(each, jobs);
      count(reason ?? 'no reason');
      if (reason !== undefined) return [];
      return [told(text, name, each)];
    });
    const all = mutations(text, of, change).length;
    if (process.env['MUTATIONS'] !== undefined)
      console.log(
        [`${name} ${of} ${change}: ${all - silent.length} found, ${silent.length} silent`, ...without].join(
          '\n  no reason: ',
        ),
      );
    expect(beyond).toEqual([]);
    expect(
      without.filter((each) => !LEFT.includes(each)),
      'teach the rehearsal to say it (server/rehearsal/actions), or give the reason in tests/rehearsal/reasons.ts',
    ).toEqual([]);
    expect(all - silent.length).toBeGreaterThanOrEqual(FLOORS[name]?.[`${of} ${change}`] ?? Number.POSITIVE_INFINITY);
  });
});

test('most faults give one finding', () => {
  expect(several).toBeLessThanOrEqual(0.11 * found);
});

afterAll(() => {
  if (process.env['MUTATIONS'] === undefined) return;
  const rows = [...table].sort(([, one], [, other]) => other - one);
  console.log(
    `${found} found, ${several} of them by more than one finding\n${rows.map(([reason, many]) => `${String(many).padStart(5)}  ${reason}`).join('\n')}`,
  );
});
