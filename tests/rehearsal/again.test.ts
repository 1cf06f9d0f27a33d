// After an edit of a job only some of it is carried out again: what is found then is what a fresh rehearsal finds, edit after edit.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Span } from '../../grammar/tree.ts';
import { type Placed, placeOf } from '../../server/model/placed.ts';
import type { RehearsalFinding } from '../../server/rehearsal/rehearsal-finding.ts';
import { rehearse, rehearseAll } from '../../server/rehearsal/rehearse.ts';
import type { State } from '../../server/rehearsal/state.ts';
import { analyse } from '../../server/workspace/analyse.ts';
import type { Host } from '../../server/workspace/api.ts';
import { mutations } from './faults.ts';

const folder = join(import.meta.dirname, '../../samples');
const texts = new Map(
  readdirSync(folder)
    .filter((name) => name.endsWith('.fettle'))
    .map((name) => [name, readFileSync(join(folder, name), 'utf8')]),
);
const specs = [...texts].filter(([, text]) => /^sequence /m.test(text)).map(([name]) => name);

const host: Host = { resolve: (_from, path) => path, read: (file) => texts.get(file) };
const kept: Host = { ...host, supersedes: true };

/** Lines that do work: an edit changes one of them. */
function workIn(text: string): readonly number[] {
  return text
    .split('\n')
    .flatMap((line, i) => (/^ {4}[a-z]/.test(line) && !/^ {4}(within|per|at)\b/.test(line) ? [i] : []));
}

/** Lines of parts and fasteners: what is written there says how they are worked on. */
function saidIn(text: string): readonly number[] {
  let inThing = false;
  return text.split('\n').flatMap((line, i) => {
    if (/^\S/.test(line)) inThing = /^(part|fastener) .*\{$/.test(line);
    return inThing && /^ {2}[a-z]/.test(line) ? [i] : [];
  });
}

const SAID = [
  ...[
    '  single-use',
    '  held-back',
    '  on-order',
    '  matched',
    '  retorque after 5 min',
    '  retor',
    '  secured-by lock-wire',
  ],
  ...[
    '  covers block',
    '  mark dot at 3 deg',
    '  teeth 21',
    '  each block',
    '  torque 10 N.m, 20 N.m, 30 deg',
    '  clamps block',
  ],
];

/** What a hand may do to a line of work. `word` and `other` are picks of what there is, as whole numbers. */
type Hand = 'declaration' | 'delete' | 'twice' | 'swap' | 'move' | 'name' | 'word' | 'other line' | 'note' | 'back';

interface Edit {
  readonly hand: Hand;
  readonly at: number;
  readonly other: number;
}

const edit = fc.record<Edit>({
  hand: fc.constantFrom<Hand>(
    ...([
      'declaration',
      'declaration',
      'delete',
      'twice',
      'swap',
      'move',
      'name',
      'word',
      'other line',
      'note',
      'back',
      'back',
    ] as const),
  ),
  at: fc.nat(9999),
  other: fc.nat(9999),
});

/** An edit of what is worked on. */
const declared = fc.record<Edit>({
  hand: fc.constantFrom<Hand>('declaration', 'declaration', 'back'),
  at: fc.nat(9999),
  other: fc.nat(9999),
});

const WORDS = ['onto', 'into', 'fit', 'remove', 'tighten', 'loosen', 'snug', 'lubricate', 'measure', 'secure', 'renew'];

function edited(text: string, { hand, at, other }: Edit): string {
  const lines = text.split('\n');
  const work = workIn(text);
  const one = work[at % work.length] ?? 0;
  const two = work[other % work.length] ?? 0;
  const line = lines[one] ?? '';
  if (hand === 'declaration') {
    const said = saidIn(text);
    const line = said[at % said.length] ?? 0;
    if (other % 3 === 0) lines.splice(line, 1);
    else lines.splice(line, 0, SAID[other % SAID.length] ?? '');
  } else if (hand === 'delete') lines.splice(one, 1);
  else if (hand === 'twice') lines.splice(one, 0, line);
  else if (hand === 'swap') [lines[one], lines[one + 1]] = [lines[one + 1] ?? '', line];
  else if (hand === 'move') lines.splice(two, 0, ...lines.splice(one, 1));
  else if (hand === 'other line') lines[one] = lines[two] ?? '';
  else if (hand === 'note') lines.splice(one, 0, '    note "Looked at twice."');
  else if (hand === 'name') {
    const names = [...text.matchAll(/^(?:part|fastener|limit) ([a-z-]+)/gm)].map((match) => match[1] ?? '');
    lines[one] = line.replace(/^( {4}[a-z-]+ )[a-z-]+/, `$1${names[other % names.length] ?? ''}`);
  } else if (hand === 'word') {
    const word = WORDS[other % WORDS.length] ?? '';
    lines[one] = /\b(onto|into)\b/.test(line) ? line.replace(/\b(onto|into)\b/, word) : line.replace(/[a-z-]+/, word);
  }
  return lines.join('\n');
}

/** Findings as they would be shown, in an order of their own: where two are of one place the first said comes first. */
function shown(findings: readonly RehearsalFinding[]): readonly string[] {
  const at = (placed: Placed, span: Span): string => {
    const { start, end } = placeOf(placed, span);
    return `${start}-${end}`;
  };
  return findings
    .map(({ code, placed, span, message, related }) =>
      [code, at(placed, span), message, ...related.map((each) => `${at(each.placed, each.span)} ${each.message}`)].join(
        '; ',
      ),
    )
    .sort();
}

let number = 0;

describe.each([
  ['the work', edit, 20],
  ['parts and fasteners', declared, 12],
] as const)('edit after edit of %s', (_what, kind, numRuns) => {
  test.each(specs)(
    'in %s',
    (name) => {
      fc.assert(
        fc.property(fc.array(kind, { minLength: 3, maxLength: 10 }), (edits) => {
          number += 1;
          const file = `kept-${number}.fettle`;
          const past = [texts.get(name) ?? ''];
          analyse(file, past[0] ?? '', kept);
          for (const each of edits) {
            const before = past[past.length - 1] ?? '';
            const text = each.hand === 'back' ? (past[past.length - 2] ?? before) : edited(before, each);
            past.push(text);
            for (const view of analyse(file, text, kept).views)
              expect(shown(rehearse(view, file))).toEqual(shown(rehearseAll(view, file).findings));
          }
        }),
        { numRuns, seed: 23 },
      );
    },
    120_000,
  );
});

test('a step of another sequence than the job has counts as well', () => {
  const text = (work: string): string =>
    `part block\npart sump\nsequence build {\n  phase assemble\n  starts-with block\n  step look {\n    inspect block\n  }\n}\nsequence later {\n  phase assemble\n  step on {\n    ${work}\n  }\n}\njob first {\n  begins bare\n  sequences build\n}\n`;
  const codes = (work: string): readonly string[] =>
    analyse('other.fettle', text(work), kept)
      .findings.map(({ code }) => code)
      .filter((code) => code.startsWith('sequence/'));
  const never = ['sequence/never-fitted'];
  expect([codes('inspect sump'), codes('fit sump'), codes('inspect sump'), codes('# no work')]).toEqual([
    never,
    [],
    never,
    [...never, 'sequence/nothing-to-do'],
  ]);
});

test('what others go by in a part or a fastener counts wherever they are worked on', () => {
  const text = (part: string, fastener: string, shell = 'part shell x2'): string => `part block
${shell}
part lamp
part cover {
  matched
${part}
}
fastener cover-bolt x2 {
  thread M6
  joint cover
${fastener}
  torque 9 N.m
}
sequence build {
  phase assemble
  starts-with block
  step on {
    fit cover onto block
    fit lamp, shell onto block
    tighten cover-bolt
    remove cover
    inspect lamp
  }
}
`;
  const toBlock = '  clamps cover to block';
  const states = [
    text('', toBlock),
    text('  covers lamp', toBlock),
    text('', toBlock),
    text('  held-back', toBlock),
    text('', '  clamps lamp to block'),
    text('', '  clamps shell to block\n  each shell'),
    text('', toBlock, 'part shell x3'),
    text('  on-order', toBlock, 'part shell x3'),
  ];
  const found = states.map((each) => {
    const [view] = analyse('go-by.fettle', each, kept).views;
    if (view === undefined) throw new Error('no view');
    const told = shown(rehearse(view, 'go-by.fettle'));
    expect(told).toEqual(shown(rehearseAll(view, 'go-by.fettle').findings));
    return told.join();
  });
  // That the lamp is covered, what is loosened and what has not come is found where it holds, and only there.
  expect(found.map((each) => /sequence\/covered/.test(each))).toEqual(states.map((_, i) => i === 1));
  expect(found.map((each) => /sequence\/still-fastened/.test(each))).toEqual(states.map((_, i) => i !== 4 && i !== 5));
  expect(found.map((each) => /sequence\/on-order/.test(each))).toEqual(states.map((_, i) => i === 7));
});

/** All that a job changes of parts and fasteners, by name. */
function standing({ parts, fasteners }: State): ReadonlyMap<object, string> {
  const told = (thing: object): string =>
    JSON.stringify(thing, (key, value) =>
      key === 'part' || key === 'fastener'
        ? undefined
        : key === 'step'
          ? value.name
          : key === 'statement'
            ? value.start
            : value,
    );
  return new Map([...parts.values(), ...fasteners.values()].map((thing) => [thing, told(thing)]));
}

describe('what a piece of work changes of a part or a fastener it has looked at', () => {
  test.each(specs)('in %s, whole and with faults in it', (name) => {
    const whole = texts.get(name) ?? '';
    const some = (['left out', 'done after the next'] as const)
      .flatMap((change) => mutations(whole, 'action', change))
      .filter((_, i) => i % (process.env['MUTATIONS'] === undefined ? 23 : 1) === 0);
    for (const text of [whole, ...some.map((each) => each.text)]) {
      number += 1;
      const analysis = analyse(`watched-${number}.fettle`, text, host);
      for (const view of analysis.views) {
        let before: ReadonlyMap<object, string> | undefined;
        let of: State | undefined;
        rehearseAll(view, analysis.file.file, (state) => {
          const looked = new Set(state.journal.touched.map((cell) => cell.thing));
          const now = standing(state);
          // The first piece of a job changes what the engine begins with.
          if (of === state)
            for (const [thing, told] of now)
              if (!looked.has(thing) && told !== before?.get(thing)) expect(told).toBe(before?.get(thing));
          of = state;
          before = now;
        });
      }
    }
  });
});
