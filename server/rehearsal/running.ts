// Where the crankshaft stands, what the engine has in it, and whether it has run: facts of the whole engine, one cell of the journal.
import { equal } from '../mechanics/exact.ts';
import type { View } from '../model/view.ts';
import { type Act, sameAct } from './act.ts';
import type { CrankAngle } from './crank-angle.ts';
import { type Cell, type Kind, newCell } from './journal.ts';

/** Sealed and not yet cured. */
export interface Curing {
  readonly supply: string;
  readonly by: Act;
  /** Seconds that are still to wait. */
  readonly left: number;
  /** A sequence has begun since. */
  readonly isBefore: boolean;
}

export interface Running {
  /** Where the crankshaft stands, told from top dead centre of `tdcOf`; undefined where nobody knows. */
  crank: CrankAngle | undefined;
  hasRun: boolean;
  oiled: boolean;
  cooled: boolean;
  primed: boolean;
  /** What was sealed in this sequence or the one before. */
  curing: readonly Curing[];
  /** A finding says that work stops for something that has not come. */
  saidOnOrder: boolean;
}

function sameCuring(some: readonly Curing[], others: readonly Curing[]): boolean {
  return (
    some.length === others.length &&
    some.every((one, i) => {
      const other = others[i];
      return (
        other !== undefined &&
        one.supply === other.supply &&
        one.left === other.left &&
        one.isBefore === other.isBefore &&
        sameAct(one.by, other.by)
      );
    })
  );
}

function sameCrank(one: CrankAngle | undefined, other: CrankAngle | undefined): boolean {
  if (one === undefined || other === undefined) return one === other;
  return one.ofCycle === other.ofCycle && equal(one.degrees, other.degrees);
}

const KIND: Kind<Running, Running> = {
  copy: (facts) => ({ ...facts }),
  put: (facts, image) => {
    Object.assign(facts, image);
  },
  isLike: (facts, image) =>
    facts.hasRun === image.hasRun &&
    facts.oiled === image.oiled &&
    facts.cooled === image.cooled &&
    facts.primed === image.primed &&
    facts.saidOnOrder === image.saidOnOrder &&
    sameCrank(facts.crank, image.crank) &&
    sameCuring(facts.curing, image.curing),
};

/** Parts that a cooling system with water has, and no other. */
const COOLED = /water-?pump|coolant-pump|thermostat|radiator/i;

/** The facts of an engine as a job begins. */
export function newRunning(view: View, isWhole: boolean): Cell<Running, Running> {
  const facts: Running = {
    crank: undefined,
    hasRun: false,
    oiled: isWhole,
    cooled: isWhole || !view.parts.some((part) => COOLED.test(part.name)),
    primed: isWhole || !view.parts.some((part) => /oil[-_]?pump/i.test(part.name)),
    curing: [],
    saidOnOrder: false,
  };
  return newCell(facts, KIND);
}
