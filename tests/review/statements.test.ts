// Every statement of the language, from its table: left out, put in and under another declaration, a review sees it.
import { describe, expect, test } from 'vitest';
import { ACTIONS, type Block, DECLARATIONS, STATEMENTS } from '../../grammar/vocabulary.ts';
import type { Change } from '../../server/review/change.ts';
import { reviewSpecs } from '../../server/review/review.ts';
import { analyseText } from '../annotated.ts';

const review = (old: string, now: string): readonly Change[] =>
  reviewSpecs(analyseText(old), analyseText(now)).filter((change) => !change.what.startsWith('finding.'));

/** A declaration of each block with a statement in it. */
function within(block: Block, statement: string): string {
  const body = `{\n  note "Stays."\n  ${statement}\n}\n`;
  switch (block) {
    case 'engine':
      return `engine ${body}`;
    case 'size':
      return `part thing {\n  size under-25 undersize 0.25 mm ${body}}\n`;
    case 'step':
      return `sequence work {\n  step thing ${body}}\n`;
    case 'limit':
      return `limit thing measured within 1..2 mm ${body}`;
    case 'valve-timing':
      return `valve-timing thing on camshaft ${body}`;
    case 'grades':
      return `grades thing by lash ${body}`;
    case 'job':
      return `job thing of other ${body}`;
    case 'record':
      return `record thing of other revision 1 ${body}`;
    default:
      return `${block} thing ${body}`;
  }
}

/** Those that say nothing by themselves, and those that stand only in a spec built on another. */
const ELSEWHERE = new Set(['when', 'drop']);

const rows = [...STATEMENTS, ...ACTIONS]
  .filter((row) => !ELSEWHERE.has(row.word))
  .flatMap((row) => row.in.map((block) => [row.word, block, row.example] as const));

describe.each(rows)('%s in a %s', (word, block, example) => {
  // Examples are written for the most usual block.
  const [bare, full] = [within(block, ''), within(block, example)];

  test('is seen when it is new or gone, and weighed', () => {
    const [added, removed] = [review(bare, full), review(full, bare)];
    const told = (changes: readonly Change[], kind: string): boolean =>
      changes.length > 0 && changes.every((each) => each.kind === kind && each.what.split('.').includes(word));
    expect([example, added, told(added, 'added')]).toEqual([example, added, true]);
    expect([example, removed, told(removed, 'removed')]).toEqual([example, removed, true]);
    expect(added.length).toBe(removed.length);
    for (const change of [...added, ...removed]) expect(change.message).toContain(change.new ?? change.old);
  });

  test('is nothing when it stays', () => {
    expect(review(full, full.replaceAll('\n  ', '\n\t\t# a remark\n\t'))).toEqual([]);
  });
});

test.each(DECLARATIONS.filter((row) => row.word !== 'when').map((row) => [row.word, row.example] as const))(
  '%s is seen when it is new or gone as a whole',
  (word, example) => {
    const whole = word === 'step' ? `sequence work {\n${example}\n}\n` : `${example}\n`;
    const without = word === 'step' ? 'sequence work {\n}\n' : 'part block\n';
    const kinds = (changes: readonly Change[]): readonly string[] =>
      changes
        .filter((each) => each.what !== 'part.block')
        .map((each) => `${each.kind} ${each.what.split('.').at(word === 'step' ? 2 : 0)}`);
    expect(kinds(review(without, whole))).toEqual([`added ${word}`]);
    expect(kinds(review(whole, without))).toEqual([`removed ${word}`]);
  },
);
