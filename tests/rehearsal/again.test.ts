// A job is rehearsed again after an edit: what is found then is what a fresh reading of the text finds, edit after edit.
import { expect, test } from 'vitest';
import type { Span } from '../../grammar/tree.ts';
import { type Placed, placeOf } from '../../server/model/placed.ts';
import type { RehearsalFinding } from '../../server/rehearsal/rehearsal-finding.ts';
import { rehearse } from '../../server/rehearsal/rehearse.ts';
import { analyse } from '../../server/workspace/analyse.ts';
import type { Host } from '../../server/workspace/api.ts';

const host: Host = { resolve: (_from, path) => path, read: () => undefined };
const kept: Host = { ...host, supersedes: true };

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

/** What a reading that knows nothing of any before finds. */
function freshly(text: string, variant: string | undefined): readonly string[] {
  number += 1;
  const file = `fresh-${number}.fettle`;
  const view = analyse(file, text, host).views.find((each) => each.variant === variant);
  return view === undefined ? [] : shown(rehearse(view, file));
}

let number = 0;

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
    expect(told).toEqual(freshly(each, view.variant));
    return told.join();
  });
  // That the lamp is covered, what is loosened and what has not come is found where it holds, and only there.
  expect(found.map((each) => /sequence\/covered/.test(each))).toEqual(states.map((_, i) => i === 1));
  expect(found.map((each) => /sequence\/still-fastened/.test(each))).toEqual(states.map((_, i) => i !== 4 && i !== 5));
  expect(found.map((each) => /sequence\/on-order/.test(each))).toEqual(states.map((_, i) => i === 7));
});
