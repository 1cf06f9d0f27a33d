// What holds of a review whatever the spec: an edit that means something is found as just that, one that means nothing gives
// nothing, and the same two specs the other way round give the mirror image.
import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import { formatText } from '../../grammar/printer.ts';
import type { Change } from '../../server/review/change.ts';
import { reviewSpecs } from '../../server/review/review.ts';
import type { Analysis } from '../../server/workspace/api.ts';
import { analyseText } from '../annotated.ts';
import {
  anotherUnit,
  anotherValue,
  beside,
  dropped,
  type Edit,
  movedStep,
  otherLayout,
  otherOrder,
  otherUnits,
  renamed,
  specs,
} from './edits.ts';

// Whole engines are read and rehearsed hundreds of times; other work on the same machine may slow that down.
vi.setConfig({ testTimeout: 90_000 });

/** The texts that were read last, each with what was found in it: one is reviewed against several others, and both ways round. */
const known = new Map<string, Analysis>();

function read(text: string): Analysis {
  const found = known.get(text) ?? analyseText(text, beside);
  known.delete(text);
  known.set(text, found);
  const [first] = known.keys();
  if (first !== undefined && known.size > 2 * specs.length) known.delete(first);
  return found;
}

const review = (old: string, now: string): readonly Change[] => reviewSpecs(read(old), read(now));

/** What changed in the specs themselves; what the checker then says is told apart. */
const inSpec = (changes: readonly Change[]): readonly Change[] =>
  changes.filter((change) => !change.what.startsWith('finding.'));

const said = (changes: readonly Change[]): readonly string[] =>
  changes.map((change) => `${change.weight} ${change.kind} ${change.what}: ${change.message}`);

const seeds = fc.noShrink(fc.nat(2_000_000_000));
const which = fc.noShrink(fc.nat(specs.length - 1));

/** The same numbers for the same seed, each below what is asked for (mulberry32). */
function picker(seed: number): (most: number) => number {
  let state = seed;
  return (most) => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return Math.floor((((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296) * most);
  };
}

function forEdits(
  seed: number,
  edit: (text: string, pick: (most: number) => number) => Edit | undefined,
  check: (old: string, made: Edit) => void,
  runs = 24,
): void {
  let done = 0;
  fc.assert(
    fc.property(which, seeds, (at, drawn) => {
      const old = specs[at] ?? '';
      const made = edit(old, picker(drawn));
      if (made === undefined || made.text === old) return;
      done += 1;
      check(old, made);
    }),
    { seed, numRuns: runs },
  );
  expect(done).toBeGreaterThan(runs / 2);
}

test.each(specs.map((text, i) => [i, text] as const))('spec %i against itself gives nothing', (_i, text) => {
  expect(said(review(text, text))).toEqual([]);
});

describe('an edit that means something is that one change', () => {
  test('a value', () => {
    forEdits(1, anotherValue, (old, made) => {
      const changes = inSpec(review(old, made.text));
      expect([made.line, changes.map((each) => each.kind)]).toEqual([made.line, ['changed']]);
      expect(changes[0]?.message).toMatch(/ was .*, is now .*(more|less|wider|narrower|shifted)/);
      expect(changes[0]?.weight).not.toBe('wording');
    });
  });

  test('a unit', () => {
    forEdits(2, anotherUnit, (old, made) => {
      const changes = inSpec(review(old, made.text));
      expect([made.line, changes.map((each) => each.kind)]).toEqual([made.line, ['changed']]);
      expect(changes[0]?.message).toMatch(/ was .* before, /);
    });
  });

  test('a statement left out, or put in', () => {
    forEdits(3, dropped, (old, made) => {
      const [gone, put] = [inSpec(review(old, made.text)), inSpec(review(made.text, old))];
      const kinds = (changes: readonly Change[]): readonly string[] => [...new Set(changes.map((each) => each.kind))];
      expect([made.line, kinds(gone), kinds(put)]).toEqual([made.line, ['removed'], ['added']]);
      // A statement with a list in it is as many facts.
      expect(gone.length).toBeLessThanOrEqual(1 + (made.line.match(/,/g) ?? []).length);
      const word = made.line.trim().split(' ')[0] ?? '';
      for (const change of gone) expect(change.what.split('.')).toContain(word);
    });
  });

  test('a step moved', () => {
    forEdits(4, movedStep, (old, made) => {
      const all = review(old, made.text);
      const changes = inSpec(all);
      expect(said(changes.filter((each) => each.kind !== 'moved'))).toEqual([]);
      expect(changes.length).toBe(1);
      const [one] = changes;
      const found = all.some((each) => each.what.startsWith('finding.sequence/') && each.kind === 'added');
      expect([one?.weight, found]).toEqual([found ? 'critical' : 'matters', found]);
    });
  });

  test('another name for a thing', () => {
    forEdits(5, renamed, (old, made) => {
      const changes = review(old, made.text);
      expect(said(changes.filter((each) => !each.what.endsWith(`.${made.line}.name`)))).toEqual([]);
      expect(changes.map((each) => [each.kind, each.weight, each.new])).toEqual([['changed', 'wording', made.line]]);
    });
  });
});

describe('an edit that means nothing gives nothing', () => {
  const nothing = (seed: number, edit: (text: string, pick: (most: number) => number) => string, runs = 10): void => {
    fc.assert(
      fc.property(which, seeds, (at, drawn) => {
        const old = specs[at] ?? '';
        const now = edit(old, picker(drawn));
        expect(said(inSpec(review(old, now)))).toEqual([]);
      }),
      { seed, numRuns: runs },
    );
  };

  test('another layout, other comments', () => {
    nothing(11, (text, pick) => {
      const now = otherLayout(text, pick);
      const laidOut = formatText(now);
      expect(laidOut.kind).toBe('formatted');
      expect(said(review(now, laidOut.kind === 'formatted' ? laidOut.text : now))).toEqual([]);
      return now;
    });
  });
  test('another order of declarations', () => nothing(12, otherOrder));
  test('other units at their printed precision', () => nothing(13, otherUnits));
});

/** Words whose loss weighs more than their gain, and bounds, which weigh by which way they went. */
const ONE_WAY =
  /^finding|\.(caution|condition|follow-on|covers|hold-point|after|within|wear-limit|measured|measure|dimension|wall|figure|grades)\b|^limit\.|^grades\./;

test('the other way round is the mirror image', () => {
  const MIRROR: Readonly<Record<string, string>> = { added: 'removed', removed: 'added' };
  const all = [anotherValue, anotherUnit, dropped, dropped, movedStep];
  fc.assert(
    fc.property(which, seeds, (at, drawn) => {
      const pick = picker(drawn);
      const old = specs[at] ?? '';
      let now = old;
      for (let i = 0; i < 4; i += 1) now = all[pick(all.length)]?.(now, pick)?.text ?? now;
      const told = (changes: readonly Change[], turned: boolean): readonly string[] =>
        changes
          .filter((each) => !each.what.startsWith('finding.'))
          .map((each) => {
            const [one, other] = turned ? [each.new, each.old] : [each.old, each.new];
            const places = turned ? [each.newPlace, each.oldPlace] : [each.oldPlace, each.newPlace];
            const kind = turned ? (MIRROR[each.kind] ?? each.kind) : each.kind;
            const weight = ONE_WAY.test(each.what) || each.kind === 'moved' ? '' : each.weight;
            return [each.what, kind, weight, one, other, ...places.map((place) => place?.start)].join(' | ');
          })
          .sort();
      expect(told(review(now, old), true)).toEqual(told(review(old, now), false));
    }),
    { seed: 21, numRuns: 24 },
  );
});
