// How a drive stands in the course of a job: whether its timing is proved, and how far it is from its marks; and how that is kept.
import { type Exact, equal, ZERO } from '../mechanics/exact.ts';
import type { Drive } from '../model/view.ts';
import { type Act, sameAct } from './act.ts';
import type { Kind } from './journal.ts';

export interface DriveState extends DriveImage {
  readonly drive: Drive;
  /** Chains, belts and wheels with teeth. */
  readonly parts: readonly string[];
}

/** What a job changes of it. */
interface DriveImage {
  /** The last work on it in this job. */
  disturbedBy: Act | undefined;
  proved: boolean;
  /** A finding says that it was confirmed before it was whole: that it is not proved is the same fault. */
  saidNotWhole: boolean;
  /** Degrees of the crankshaft turned since, both ways added up. */
  turned: Exact;
  /** Degrees of the crankshaft from where its marks agree; undefined where that is not known. */
  offset: Exact | undefined;
  /** Degrees of the crankshaft since the marked links stood at their marks; undefined where that is not known. */
  linkOffset: Exact | undefined;
  aligned: boolean;
}

function sameAngle(one: Exact | undefined, other: Exact | undefined): boolean {
  return one === other || (one !== undefined && other !== undefined && equal(one, other));
}

export const DRIVE: Kind<DriveState, DriveImage> = {
  copy: (drive) => ({
    disturbedBy: drive.disturbedBy,
    proved: drive.proved,
    saidNotWhole: drive.saidNotWhole,
    turned: drive.turned,
    offset: drive.offset,
    linkOffset: drive.linkOffset,
    aligned: drive.aligned,
  }),
  put(drive, image) {
    drive.disturbedBy = image.disturbedBy;
    drive.proved = image.proved;
    drive.saidNotWhole = image.saidNotWhole;
    drive.turned = image.turned;
    drive.offset = image.offset;
    drive.linkOffset = image.linkOffset;
    drive.aligned = image.aligned;
  },
  isLike: (drive, image) =>
    drive.proved === image.proved &&
    drive.saidNotWhole === image.saidNotWhole &&
    drive.aligned === image.aligned &&
    sameAct(drive.disturbedBy, image.disturbedBy) &&
    sameAngle(drive.turned, image.turned) &&
    sameAngle(drive.offset, image.offset) &&
    sameAngle(drive.linkOffset, image.linkOffset),
};

/** A drive as a job begins. */
export function newDrive(drive: Drive, parts: readonly string[]): DriveState {
  return {
    drive,
    parts,
    disturbedBy: undefined,
    proved: false,
    saidNotWhole: false,
    turned: ZERO,
    offset: undefined,
    linkOffset: undefined,
    aligned: false,
  };
}
