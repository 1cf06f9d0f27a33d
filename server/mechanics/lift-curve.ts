// A valve's lift over crank degrees, where only its highest lift and two events are known: a smooth curve through them. The true curve is the
// cam grinder's; this one serves to look at, not to build from. The shape is an assumption, no source.

/** Highest lift and the lift at which the events are measured, in one unit; events in crank degrees on one scale. */
export type LiftEvents = {
  readonly lift: number;
  readonly measuredAt: number;
  readonly opens: number;
  readonly closes: number;
};

export type LiftCurve = {
  /** Where lift is highest. */
  readonly centre: number;
  /** Degrees from seat to seat, as the curve has it. */
  readonly whole: number;
  readonly at: (degrees: number) => number;
};

/**
 * lift · cos²(π · (θ − centre) / whole), with `whole` such that the lift at both events is the one at which they are measured. `undefined`
 * where the lift is none, or not above that at which the events are measured.
 */
export function liftCurve({ lift, measuredAt, opens, closes }: LiftEvents): LiftCurve | undefined {
  const open = closes - opens;
  if (!(lift > 0) || !(measuredAt >= 0) || !(measuredAt < lift) || !(open > 0)) return undefined;
  const centre = (opens + closes) / 2;
  const whole = (Math.PI * open) / (2 * Math.acos(Math.sqrt(measuredAt / lift)));
  const at = (degrees: number): number => {
    const off = degrees - centre;
    return Math.abs(off) >= whole / 2 ? 0 : lift * Math.cos((Math.PI * off) / whole) ** 2;
  };
  return { centre, whole, at };
}
