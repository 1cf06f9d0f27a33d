// What is carried out again after a change is what a fresh start comes to, and no more is carried out than the change can matter to.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Cell,
  carryOutAgain,
  carryOutAll,
  type Journal,
  type Kind,
  newCell,
  newJournal,
  type Piece,
  scan,
  touch,
} from '../../server/rehearsal/journal.ts';

interface Box {
  value: number;
}

const BOX: Kind<Box, number> = {
  copy: ({ value }) => value,
  put(box, value) {
    box.value = value;
  },
  isLike: (box, value) => box.value === value,
};

/** Reads some boxes, or all of them, and puts a number that comes of it into one; or reads whether the weather is fine. */
interface Order {
  readonly reads: readonly number[];
  readonly all: boolean;
  readonly asks: boolean;
  readonly into: number;
  readonly adds: number;
}

interface Work extends Piece {
  order: Order;
  said: number;
}

const BOXES = 6;
const ALL = 1;

interface Bench {
  readonly journal: Journal;
  readonly cells: readonly Cell<Box, number>[];
  readonly sky: Cell<{ fine: boolean }, never>;
  readonly work: readonly Work[];
  carriedOut: number;
}

function bench(orders: readonly Order[], fine: boolean): Bench {
  return {
    journal: newJournal(),
    cells: Array.from({ length: BOXES }, () => newCell({ value: 0 }, BOX, ALL)),
    sky: newCell<{ fine: boolean }, never>({ fine }, undefined),
    work: orders.map((order) => ({ order, said: 0, touched: [], scanned: 0 })),
    carriedOut: 0,
  };
}

function carryOut(on: Bench, work: Work): void {
  const { journal, cells, sky } = on;
  on.carriedOut += 1;
  const value = (number: number): number => {
    const cell = cells[number];
    if (cell === undefined) return 0;
    touch(journal, cell);
    return cell.thing.value;
  };
  let sum = work.order.adds;
  for (const number of work.order.reads) sum += value(number);
  if (work.order.all) {
    scan(journal, ALL, () => cells);
    for (const cell of cells) sum += cell.thing.value;
  }
  if (work.order.asks) {
    touch(journal, sky);
    if (sky.thing.fine) sum += 1;
  }
  // Few numbers, so that a change is often none.
  const into = cells[work.order.into];
  if (into !== undefined) {
    touch(journal, into);
    into.thing.value = sum % 3;
  }
  work.said = sum;
}

function outcome({ cells, work }: Bench): object {
  return { ends: cells.map(({ thing }) => thing.value), said: work.map(({ said }) => said) };
}

function begin(orders: readonly Order[], fine: boolean): Bench {
  const on = bench(orders, fine);
  carryOutAll(on.journal, on.work, (work) => carryOut(on, work));
  on.carriedOut = 0;
  return on;
}

const box = fc.integer({ min: 0, max: BOXES - 1 });
const order = fc.record<Order>({
  reads: fc.array(box, { maxLength: 3 }),
  all: fc.nat(9).map((each) => each === 0),
  asks: fc.nat(5).map((each) => each === 0),
  into: box,
  adds: fc.nat(2),
});

describe('work carried out again', () => {
  test('comes to what a fresh start comes to, change after change', () => {
    const change = fc.record({ at: fc.nat(19), order, turns: fc.nat(4).map((each) => each === 0) });
    fc.assert(
      fc.property(
        fc.array(order, { minLength: 20, maxLength: 20 }),
        fc.array(change, { minLength: 1, maxLength: 12 }),
        (orders, changes) => {
          const on = begin(orders, true);
          let fine = true;
          for (const each of changes) {
            const work = on.work[each.at];
            if (work === undefined) continue;
            work.order = each.order;
            if (each.turns) fine = !fine;
            on.sky.thing.fine = fine;
            carryOutAgain(on.journal, on.work, new Set([each.at]), each.turns ? [on.sky] : [], (piece) =>
              carryOut(on, piece),
            );
            const fresh = begin(
              on.work.map((piece) => piece.order),
              fine,
            );
            expect(outcome(on)).toEqual(outcome(fresh));
          }
        },
      ),
      { numRuns: 400, seed: 3 },
    );
  });

  const plain = (into: number, reads: readonly number[], adds: number): Order => ({
    reads,
    all: false,
    asks: false,
    into,
    adds,
  });

  test('is what was changed and what looks at it, however much there is', () => {
    const orders = Array.from({ length: 1000 }, (_, i) => plain(i % 2, [i % 2], 0));
    // The last into box 2 is looked at by one other.
    orders[500] = plain(2, [], 1);
    orders[700] = plain(3, [2], 0);
    const on = begin(orders, true);
    const changed = on.work[500];
    if (changed !== undefined) changed.order = plain(2, [], 2);
    carryOutAgain(on.journal, on.work, new Set([500]), [], (piece) => carryOut(on, piece));
    expect(on.carriedOut).toBe(2);
  });

  test('ends where all stands as it did before', () => {
    const on = begin([plain(0, [], 1), plain(1, [0], 0), plain(2, [1], 0)], true);
    const changed = on.work[0];
    // 1 and 4 are the same number here.
    if (changed !== undefined) changed.order = plain(0, [], 4);
    carryOutAgain(on.journal, on.work, new Set([0]), [], (piece) => carryOut(on, piece));
    expect(on.carriedOut).toBe(1);
  });
});
