// What the engine has in it, where the crankshaft stands, and whether it has run: facts of the whole engine.
import type { View } from '../model/view.ts';
import type { Act } from './act.ts';
import type { CrankAngle } from './crank-angle.ts';

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

/** Parts that a cooling system with water has, and no other. */
const COOLED = /water-?pump|coolant-pump|thermostat|radiator/i;

/** The facts of an engine as a job begins. */
export function newRunning(view: View, isWhole: boolean): Running {
  return {
    crank: undefined,
    hasRun: false,
    oiled: isWhole,
    cooled: isWhole || !view.parts.some((part) => COOLED.test(part.name)),
    primed: isWhole || !view.parts.some((part) => /oil[-_]?pump/i.test(part.name)),
    curing: [],
    saidOnOrder: false,
  };
}
