// An edit costs what it changes: how many questions are answered anew and how many pieces of jobs are done anew does not grow with the file.
// Counted in made specs of one engine, of two and of four, one behind the other under other names; the edit is made in one of them.
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { withStretch, writtenAs } from '../../grammar/written.ts';
import { worked } from '../../server/model/questions.ts';
import { analyse } from '../../server/workspace/analyse.ts';
import type { Host } from '../../server/workspace/api.ts';

/**
 * Work that went over all of the file would be twice as much. What is a little more than once is of the things that count together in a spec
 * whatever engine they are of: its drives turn one another, and a second job asks for the same name.
 */
const MOST = 1.5;
/** Of a few, one more for each job of the second engine, in both variants, when it is done and when it is taken back. */
const FEW = 8;
const MANY = 40;

/**
 * Edits that have work asked again in which something is said. Several engines in one file have that, since they turn one another, and one alone
 * has not: these are held in two engines and in four.
 */
const OF_SEVERAL: ReadonlySet<string> = new Set([
  'part: its name',
  'fastener: its name',
  'drive: a wheel',
  'action: a name',
]);

/** A kind of edit as the benchmark has it: what is typed there, or taken out. */
interface Kind {
  readonly name: string;
  readonly types?: string;
  readonly takes?: string;
  readonly in?: string;
}

const bench = join(import.meta.dirname, '../bench');
const { KINDS, placeIn } = (await import(join(bench, 'edits.mjs'))) as {
  readonly KINDS: readonly Kind[];
  placeIn(text: string, kind: Kind): { readonly offset: number } | undefined;
};
const { longSpec, sample } = (await import(join(bench, 'long-spec.mjs'))) as {
  longSpec(lines: number): string;
  sample(name: string): string;
};

/** One made in the file itself. */
const isHeld = ({ in: other }: Kind): boolean => other === undefined;

interface Work {
  readonly questions: number;
  readonly pieces: number;
}

const used = sample('common-fasteners.fettle');
const host: Host = {
  resolve: (_from, path) => `/made/${path}`,
  read: (path) => (path.endsWith('fasteners.fettle') ? used : undefined),
};

/** What is typed once and taken back, by kind of edit: the work for it. */
function workByKind(lines: number): ReadonlyMap<string, Work> {
  const text = longSpec(lines);
  const file = `/made/long-${lines}.fettle`;
  let written = writtenAs(text);
  const look = (): void => void analyse(file, written, host).findings;
  look();
  const typed = (offset: number, length: number, put: string): void => {
    written = withStretch(written, offset, offset + length, put);
    look();
  };
  return new Map(
    KINDS.flatMap((kind) => {
      const place = kind.in === undefined ? placeIn(text, kind) : undefined;
      if (place === undefined) return [];
      const [gone, come] = kind.takes === undefined ? ['', kind.types ?? ''] : [kind.takes, ''];
      const put = come.replace('VARIANT', 'tourer');
      const both = (): void => {
        typed(place.offset, gone.length, put);
        typed(place.offset, put.length, gone);
      };
      // The first time some is kept that was not asked before.
      both();
      const before = { ...worked };
      both();
      const work = { questions: worked.questions - before.questions, pieces: worked.pieces - before.pieces };
      return [[kind.name, work] as const];
    }),
  );
}

describe('an edit in a spec of twice the length', () => {
  let one: ReadonlyMap<string, Work>;
  let two: ReadonlyMap<string, Work>;
  let four: ReadonlyMap<string, Work>;
  beforeAll(() => {
    one = workByKind(1300);
    two = workByKind(2400);
    four = workByKind(4700);
  }, 240_000);

  test.each(KINDS.filter(isHeld))('$name', ({ name }) => {
    const [small, large] = OF_SEVERAL.has(name) ? [two.get(name), four.get(name)] : [one.get(name), two.get(name)];
    if (small === undefined || large === undefined) throw new Error(`${name} is not in both`);
    expect(large.pieces, `pieces, ${small.pieces} in half of it`).toBeLessThanOrEqual(small.pieces * MOST + FEW);
    expect(large.questions, `questions, ${small.questions} in half of it`).toBeLessThanOrEqual(
      small.questions * MOST + MANY,
    );
  });
});

test('an edit that concerned very many declarations costs those behind it nothing', () => {
  const limits = Array.from(
    { length: 180 },
    (_, i) => `limit speed-${i}\n  = engine.piston-speed\n  within at-most 18 m/s\n`,
  );
  const text = `spec many {
  variants one, other
}

engine {
  cylinders 4 inline
  bore 80 mm
  stroke 71 mm
  redline 6200 rpm
  when one { chamber 40 cc }
  when other { chamber 45 cc }
}

# A remark.

${limits.join('\n')}`;
  let written = writtenAs(text);
  const typed = (behind: string, length: number, put: string): void => {
    const at = text.indexOf(behind) + behind.length;
    written = withStretch(written, at, at + length, put);
    void analyse('/made/many.fettle', written, host).findings;
  };
  const remark = (): number => {
    const before = worked.questions;
    typed('# A', 0, 'x');
    typed('# A', 1, '');
    return worked.questions - before;
  };
  remark();
  const first = remark();
  for (let i = 0; i < 3; i += 1) {
    typed('stroke 7', 1, '3');
    typed('stroke 7', 1, '1');
  }
  // What is kept of them one by one is put together again once.
  remark();
  remark();
  expect(remark()).toBeLessThanOrEqual(first);
});
