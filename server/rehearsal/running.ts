// What the engine has in it, where the crankshaft stands, and whether it has run: facts of the whole engine.
import { partsOfKind } from '../model/by-kind.ts';
import type { TradeKind } from '../model/trade-names.ts';
import type { View } from '../model/view.ts';
import type { Act } from './act.ts';
import { fieldByField } from './by-name.ts';
import type { CrankAngle } from './crank-angle.ts';
import type { Ledger } from './ledger.ts';

/** What has to be closed within a time, and to cure. */
export interface Sealed {
  readonly supply: string;
  /** What it was put on. */
  readonly on: string;
  readonly by: Act;
  /** Seconds in which the joint has to be closed; undefined where that is not said, or it is closed. */
  readonly openFor: number | undefined;
  /** Seconds that it has still to cure, once it is closed. */
  readonly left: number;
  readonly isClosed: boolean;
  /** Sequences that have begun since. */
  readonly sequences: number;
}

const NOTHING_SEALED: readonly Sealed[] = [];

export interface Running {
  /** Where the crankshaft stands, told from top dead centre of `tdcOf`; undefined where nobody knows. */
  crank: CrankAngle | undefined;
  hasRun: boolean;
  /** How often the engine was run in this job, and for how many seconds. */
  runs: number;
  ran: number;
  /** Seconds that the engine has stood since it was run; undefined where it was not. */
  hotFor: number | undefined;
  oiled: boolean;
  cooled: boolean;
  primed: boolean;
  /** Air was let out of what coolant stands in. */
  bled: boolean;
  /** What was sealed and may be wet. */
  sealed: readonly Sealed[];
  /** A finding says that work stops for something that has not come. */
  saidOnOrder: boolean;
}

const runningOf = fieldByField<Running>();

/** The facts of an engine as a job begins. */
export function newRunning(ledger: Ledger, view: View, isWhole: boolean): Running {
  const has = (...kinds: readonly TradeKind[]): boolean => kinds.some((kind) => partsOfKind(view, kind).length > 0);
  return runningOf(ledger, {
    crank: () => undefined,
    hasRun: () => false,
    runs: () => 0,
    ran: () => 0,
    hotFor: () => undefined,
    oiled: () => isWhole,
    cooled: () => isWhole || !has('water-pump', 'thermostat', 'radiator'),
    primed: () => isWhole || !has('oil-pump'),
    bled: () => false,
    sealed: () => NOTHING_SEALED,
    saidOnOrder: () => false,
  });
}
