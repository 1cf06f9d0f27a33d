// The path of a belt or chain round any number of wheels, some of them on its back: straight runs, where they touch, how far it lies on
// each wheel, how long it is, and where along it a point lies. Lengths in any one unit; x to the right and y up, as seen from the front;
// directions in degrees clockwise from 12 o'clock. Source: geometry of common tangents to circles.

export type PathPoint = { readonly x: number; readonly y: number };

/** `radius` is that of the line in which the loop bends: the pitch circle, or for a wheel on the back of a belt its outside. */
export type PathWheel = PathPoint & { readonly radius: number; readonly onBack?: boolean };

/** The straight run from one wheel to the next, from touch to touch. */
export type PathRun = { readonly from: PathPoint; readonly to: PathPoint; readonly length: number };

/** Where the loop lies on a wheel: from this direction as seen from its centre, so many degrees on in its sense. */
export type PathArc = {
  readonly wheel: PathWheel;
  readonly from: number;
  readonly wrap: number;
  readonly clockwise: boolean;
  readonly length: number;
};

/**
 * The arc on each wheel, in the order given, each followed by the run to the next. `turns` is how often the loop goes round itself: one for a
 * loop that can be; none for a figure of eight.
 */
export type LoopPath = {
  readonly arcs: readonly PathArc[];
  readonly runs: readonly PathRun[];
  readonly length: number;
  readonly turns: number;
};

const TURN = 2 * Math.PI;

/** 0 to less than a turn; what is short of a turn by no more than sums are off counts as none. */
function within(angle: number): number {
  const rest = ((angle % TURN) + TURN) % TURN;
  return rest > TURN - 1e-9 ? 0 : rest;
}

const degrees = (angle: number): number => (angle * 360) / TURN;

/** Degrees clockwise from 12 o'clock of a direction. */
function clockOf(x: number, y: number): number {
  return degrees(within(Math.atan2(x, y)));
}

/** A point so far from a centre, in a direction clockwise from 12 o'clock. */
export function pointAt(centre: PathPoint, radius: number, clockwise: number): PathPoint {
  const angle = (clockwise * TURN) / 360;
  return { x: centre.x + radius * Math.sin(angle), y: centre.y + radius * Math.cos(angle) };
}

/**
 * The path round the wheels in the order in which it meets them; seen from the front it goes round the wheels inside it in this sense.
 * `undefined` for fewer than two wheels, and where two neighbours overlap so that no tangent lies between them.
 */
export function loopPath(wheels: readonly PathWheel[], sense: 'clockwise' | 'anticlockwise'): LoopPath | undefined {
  // Going round the other way is the mirror image.
  if (sense === 'anticlockwise') {
    const mirrored = loopPath(
      wheels.map((wheel) => ({ ...wheel, x: -wheel.x })),
      'clockwise',
    );
    return mirrored === undefined ? undefined : mirrorImage(mirrored, wheels);
  }
  if (wheels.length < 2) return undefined;
  const runs: (PathRun & { readonly heading: number })[] = [];
  for (const [i, one] of wheels.entries()) {
    const other = wheels[(i + 1) % wheels.length];
    const run = other === undefined ? undefined : tangent(one, other);
    if (run === undefined) return undefined;
    runs.push(run);
  }
  const arcs = wheels.map((wheel, i): PathArc => {
    const [into, out] = [runs[(i + runs.length - 1) % runs.length], runs[i]];
    const turned = (into?.heading ?? 0) - (out?.heading ?? 0);
    const clockwise = wheel.onBack !== true;
    const wrap = within(clockwise ? turned : -turned);
    const touch = into?.to ?? wheel;
    return {
      wheel,
      from: clockOf(touch.x - wheel.x, touch.y - wheel.y),
      wrap: degrees(wrap),
      clockwise,
      length: wrap * wheel.radius,
    };
  });
  const sum = (lengths: readonly { readonly length: number }[]): number =>
    lengths.reduce((all, each) => all + each.length, 0);
  const turned = arcs.reduce((all, arc) => all + (arc.clockwise ? arc.wrap : -arc.wrap), 0);
  return { arcs, runs, length: sum(runs) + sum(arcs), turns: Math.round(turned / 360) };
}

/**
 * The tangent between two wheels for a loop that has the wheels inside it on its right: touching those on their left, and those on its back
 * on their right.
 */
function tangent(one: PathWheel, other: PathWheel): (PathRun & { readonly heading: number }) | undefined {
  const [x, y] = [other.x - one.x, other.y - one.y];
  const distance = Math.hypot(x, y);
  const [first, second] = [one, other].map((wheel) => (wheel.onBack === true ? -wheel.radius : wheel.radius));
  if (first === undefined || second === undefined || !(distance > 0)) return undefined;
  const tilt = (second - first) / distance;
  if (!(Math.abs(tilt) < 1)) return undefined;
  const heading = Math.atan2(y, x) + Math.asin(tilt);
  const left = { x: -Math.sin(heading), y: Math.cos(heading) };
  return {
    from: { x: one.x + left.x * first, y: one.y + left.y * first },
    to: { x: other.x + left.x * second, y: other.y + left.y * second },
    length: distance * Math.sqrt(1 - tilt ** 2),
    heading,
  };
}

function mirrorImage(path: LoopPath, wheels: readonly PathWheel[]): LoopPath {
  const flip = ({ x, y }: PathPoint): PathPoint => ({ x: -x, y });
  return {
    ...path,
    runs: path.runs.map((run) => ({ from: flip(run.from), to: flip(run.to), length: run.length })),
    arcs: path.arcs.map((arc, i) => ({
      ...arc,
      wheel: wheels[i] ?? arc.wheel,
      from: (360 - arc.from) % 360,
      clockwise: !arc.clockwise,
    })),
  };
}

/** How far along the path, from where it comes onto its first wheel, a direction of one wheel lies; `undefined` where the loop is not on the wheel there. */
export function alongAt(path: LoopPath, wheel: number, clockwise: number): number | undefined {
  const arc = path.arcs[wheel];
  if (arc === undefined) return undefined;
  const raw = arc.clockwise ? clockwise - arc.from : arc.from - clockwise;
  const on = ((raw % 360) + 360) % 360;
  const past = on > 360 - 1e-6 ? 0 : on;
  if (past > arc.wrap + 1e-6) return undefined;
  let before = 0;
  for (let i = 0; i < wheel; i += 1) before += (path.arcs[i]?.length ?? 0) + (path.runs[i]?.length ?? 0);
  return before + (arc.length * past) / Math.max(arc.wrap, 1e-12);
}

/** The point so far along the path, from where it comes onto its first wheel; round and round. `outward` is its direction away from the inside of the loop. */
export function pointAlong(path: LoopPath, along: number): (PathPoint & { readonly outward: number }) | undefined {
  if (!(path.length > 0) || !Number.isFinite(along)) return undefined;
  let left = ((along % path.length) + path.length) % path.length;
  for (const [i, arc] of path.arcs.entries()) {
    if (left <= arc.length) {
      const on = arc.length === 0 ? 0 : (arc.wrap * left) / arc.length;
      const clock = arc.from + (arc.clockwise ? on : -on);
      const isInside = arc.wheel.onBack !== true;
      return { ...pointAt(arc.wheel, arc.wheel.radius, clock), outward: (isInside ? clock : clock + 180) % 360 };
    }
    left -= arc.length;
    const run = path.runs[i];
    if (run === undefined) continue;
    if (left <= run.length) {
      const share = run.length === 0 ? 0 : left / run.length;
      const [x, y] = [run.to.x - run.from.x, run.to.y - run.from.y];
      // Away from the inside is on the left of a loop that goes round clockwise, else on the right.
      const clockwise = path.arcs.find((each) => each.wheel.onBack !== true)?.clockwise !== false;
      return {
        x: run.from.x + x * share,
        y: run.from.y + y * share,
        outward: clockwise ? clockOf(-y, x) : clockOf(y, -x),
      };
    }
    left -= run.length;
  }
  const first = path.runs[path.runs.length - 1];
  return first === undefined ? undefined : { ...first.to, outward: 0 };
}
