// How a drive stands in the course of a job: whether its timing is proved, and how far it is from its marks.
import { type Exact, ZERO } from '../mechanics/exact.ts';
import type { Drive } from '../model/view.ts';
import type { Act } from './act.ts';
import type { FieldsOf } from './ledger.ts';

export interface DriveState {
  readonly drive: Drive;
  /** The last work on it in this job. */
  disturbedBy: Act | undefined;
  proved: boolean;
  /** Where it was proved last. */
  provedBy: Act | undefined;
  /** A fastener of its wheels and tensioners that was not tight then. */
  looseThen: { readonly name: string; readonly last: Act | undefined } | undefined;
  /** Where the bolt of a wheel that sits on its key was loosened after the proof. */
  undoneBy: Act | undefined;
  /** A finding says that it was confirmed before it was whole: that it is not proved is the same fault. */
  saidNotWhole: boolean;
  /** Degrees of the crankshaft turned since, both ways added up. */
  turned: Exact;
  /** Degrees of the crankshaft from where its marks agree; undefined where that is not known. */
  offset: Exact | undefined;
  /** Degrees of the crankshaft since the marked links stood at their marks; undefined where that is not known. */
  linkOffset: Exact | undefined;
  aligned: boolean;
  /** Its marks, links or pins were looked at since the last work on it, or a finding says that they were not. */
  looked: boolean;
}

/** What is compared of how a drive stands. */
export const DRIVE_FIELDS: FieldsOf<DriveState> = {
  drive: (of) => of.drive,
  disturbedBy: (of) => of.disturbedBy,
  proved: (of) => of.proved,
  provedBy: (of) => of.provedBy,
  looseThen: (of) => of.looseThen,
  undoneBy: (of) => of.undoneBy,
  saidNotWhole: (of) => of.saidNotWhole,
  turned: (of) => of.turned,
  offset: (of) => of.offset,
  linkOffset: (of) => of.linkOffset,
  aligned: (of) => of.aligned,
  looked: (of) => of.looked,
};

/** A drive as a job begins. */
export function newDrive(drive: Drive): DriveState {
  return {
    drive,
    disturbedBy: undefined,
    proved: false,
    provedBy: undefined,
    looseThen: undefined,
    undoneBy: undefined,
    saidNotWhole: false,
    turned: ZERO,
    offset: undefined,
    linkOffset: undefined,
    aligned: false,
    looked: false,
  };
}
