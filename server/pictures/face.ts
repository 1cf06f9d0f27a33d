// Where the wheels, marks and marked links of a drive lie, as seen from the front: from teeth, pitch and centre distances as far as they are
// said; where they are not, beside each other in their order, and that is said. Numbers alone; timing-face.tsx draws them.
import { spoken } from '../../grammar/spoken.ts';
import { sprocketDiameter } from '../mechanics/chain.ts';
import { toNumber } from '../mechanics/exact.ts';
import { alongAt, type LoopPath, loopPath, type PathPoint, pointAlong, pointAt } from '../mechanics/loop-path.ts';
import { withinTurn } from '../mechanics/piston-tops.ts';
import { shaftOf } from '../model/drive-sums.ts';
import { measureOf } from '../model/measure.ts';
import type { Drive, Part, View } from '../model/view.ts';
import { degreesOf } from '../rehearsal/crank-angle.ts';
import type { Stands } from '../rehearsal/stands.ts';

export interface FaceMark extends PathPoint {
  readonly name: string;
  /** Degrees clockwise from 12 o'clock, where it stands now. */
  readonly degrees: number;
}

export interface FaceWheel extends PathPoint {
  readonly name: string;
  readonly radius: number;
  readonly onBack: boolean;
  readonly teeth: number | undefined;
  readonly marks: readonly FaceMark[];
  /** Whether it is on the engine at this step; true where no step is asked for. */
  readonly isOn: boolean;
}

export interface FaceLoop {
  readonly part: string;
  readonly sort: 'chain' | 'belt';
  readonly path: LoopPath | undefined;
  readonly isOn: boolean;
}

export interface FaceLink extends PathPoint {
  readonly number: number;
  readonly outward: number;
}

/** All of a drive as it lies. Lengths in mm where it is to scale. x to the right, y up. */
export interface Face {
  readonly wheels: readonly FaceWheel[];
  readonly loops: readonly FaceLoop[];
  readonly meshes: readonly (readonly [string, string])[];
  readonly links: readonly FaceLink[];
  readonly isToScale: boolean;
  /** What to mind of how it is drawn. */
  readonly notes: readonly string[];
  /** Whether the marks and links stand as at a step; else as they do when the marks agree. */
  readonly isAtStep: boolean;
}

interface Wheel {
  readonly name: string;
  readonly part: Part | undefined;
  readonly onBack: boolean;
}

function partOf(view: View, name: string): Part | undefined {
  const thing = view.things.get(name);
  return thing?.kind === 'part' ? thing : undefined;
}

/** A length of a part in mm, by the name of its dimension. */
function dimensionOf(part: Part | undefined, names: readonly string[]): number | undefined {
  for (const name of names) {
    const value = part?.dimensions.get(name)?.value;
    const measure = value === undefined || value.kind === 'by-place' ? undefined : measureOf(value);
    if (measure !== undefined) return toNumber(measure.interval.nominal);
  }
  return undefined;
}

function pitchOf(part: Part | undefined): number | undefined {
  const value = part?.pitch;
  const measure = value === undefined || value.kind === 'by-place' ? undefined : measureOf(value);
  return measure === undefined ? undefined : toNumber(measure.interval.nominal);
}

interface Distance {
  readonly from: string;
  readonly to: string;
  readonly length: number;
  readonly at: number | undefined;
}

function distancesOf(drive: Drive): readonly Distance[] {
  return drive.statements.flatMap((each) => {
    if (each.kind !== 'centre-distance' || each.value.kind === 'by-place') return [];
    const measure = measureOf(each.value);
    const at = degreesOf(each.at);
    return measure === undefined
      ? []
      : [
          {
            from: each.from.text,
            to: each.to.text,
            length: toNumber(measure.interval.nominal),
            at: at === undefined ? undefined : toNumber(at),
          },
        ];
  });
}

/** The two points at given distances from two others; empty where the distances do not meet. */
function meetingPoints(one: PathPoint, far: number, other: PathPoint, away: number): readonly PathPoint[] {
  const [x, y] = [other.x - one.x, other.y - one.y];
  const between = Math.hypot(x, y);
  if (!(between > 0)) return [];
  const along = (far ** 2 - away ** 2 + between ** 2) / (2 * between);
  const across = far ** 2 - along ** 2;
  if (across < 0) return [];
  const foot = { x: one.x + (x * along) / between, y: one.y + (y * along) / between };
  const off = Math.sqrt(across) / between;
  return [
    { x: foot.x - y * off, y: foot.y + x * off },
    { x: foot.x + y * off, y: foot.y - x * off },
  ];
}

/** Twice the area that points go round, positive anticlockwise. */
function turning(points: readonly PathPoint[]): number {
  return points.reduce((all, point, i) => {
    const next = points[(i + 1) % points.length] ?? point;
    return all + point.x * next.y - next.x * point.y;
  }, 0);
}

type Sense = 'clockwise' | 'anticlockwise';

/** Centres from the distances that are said, by wheel; those that do not follow are left out. */
function saidCentres(
  wheels: readonly Wheel[],
  distances: readonly Distance[],
  sense: Sense,
): { readonly centres: ReadonlyMap<string, PathPoint>; readonly isUpright: boolean } {
  const centres = new Map<string, PathPoint>();
  let isUpright = false;
  const first = wheels[0]?.name;
  if (first === undefined) return { centres, isUpright };
  centres.set(first, { x: 0, y: 0 });
  const inOrder = wheels.map((wheel) => wheel.name);
  for (let found = true; found; ) {
    found = false;
    for (const { name } of wheels) {
      if (centres.has(name)) continue;
      const own = distances.flatMap(({ from, to, length, at }) => {
        const other = from === name ? to : to === name ? from : undefined;
        const there = other === undefined ? undefined : centres.get(other);
        if (there === undefined) return [];
        return [{ there, length, at: at === undefined ? undefined : from === name ? at + 180 : at }];
      });
      const directed = own.find((each) => each.at !== undefined);
      const [one, other] = own;
      let place: PathPoint | undefined;
      if (directed?.at !== undefined) place = pointAt(directed.there, directed.length, directed.at);
      else if (one !== undefined && other !== undefined) {
        const candidates = meetingPoints(one.there, one.length, other.there, other.length);
        // Of the two, the one that keeps the wheels in their order round the loop.
        place = candidates.find((candidate) => {
          const round = inOrder.flatMap((each) => (each === name ? candidate : (centres.get(each) ?? [])));
          return sense === 'clockwise' ? turning(round) <= 0 : turning(round) >= 0;
        });
      } else if (one !== undefined && centres.size === 1) {
        place = pointAt(one.there, one.length, 0);
        isUpright = true;
      }
      if (place === undefined) continue;
      centres.set(name, place);
      found = true;
    }
  }
  return { centres, isUpright };
}

/** Wheels in a ring in their order, the first at the bottom; those on the back of a belt a little further in. */
function ring(
  wheels: readonly { readonly radius: number; readonly onBack: boolean }[],
  sense: Sense,
): readonly PathPoint[] {
  const count = wheels.length;
  const [first, second] = wheels;
  if (count === 1) return [{ x: 0, y: 0 }];
  if (count === 2)
    return [
      { x: 0, y: 0 },
      { x: 0, y: 1.35 * ((first?.radius ?? 0) + (second?.radius ?? 0)) },
    ];
  const turn = sense === 'clockwise' ? 360 / count : -360 / count;
  const widest = Math.max(...wheels.map((wheel, i) => wheel.radius + (wheels[(i + 1) % count]?.radius ?? 0)));
  const out = (1.15 * widest) / (2 * Math.sin(Math.PI / count));
  const points = wheels.map((_wheel, i) => pointAt({ x: 0, y: 0 }, out, 180 + i * turn));
  const placed = points.map((point, i) => {
    const wheel = wheels[i];
    const [before, after] = [points[(i + count - 1) % count], points[(i + 1) % count]];
    const [last, next] = [wheels[(i + count - 1) % count], wheels[(i + 1) % count]];
    if (wheel?.onBack !== true || before === undefined || after === undefined) return point;
    // So that it bends the belt in by a part of its own size.
    const line =
      Math.hypot((before.x + after.x) / 2, (before.y + after.y) / 2) + ((last?.radius ?? 0) + (next?.radius ?? 0)) / 2;
    return pointAt({ x: 0, y: 0 }, line + 0.2 * wheel.radius, 180 + i * turn);
  });
  const [origin] = placed;
  return placed.map(({ x, y }) => ({ x: x - (origin?.x ?? 0), y: y - (origin?.y ?? 0) }));
}

/** Radii of the wheels of one loop: of pitch circles in mm with the pitch, else as many as there are teeth. */
function radiiOf(
  wheels: readonly Wheel[],
  sort: 'chain' | 'belt' | 'gear',
  pitch: number | undefined,
): readonly { readonly radius: number; readonly isKnown: boolean }[] {
  const unit = pitch ?? 1;
  const own = wheels.map(({ part }) => {
    const teeth = part?.teeth;
    if (teeth === undefined || teeth < 3) {
      const diameter = pitch === undefined ? undefined : dimensionOf(part, ['diameter', 'outside', 'outside-diameter']);
      return diameter === undefined ? undefined : diameter / 2;
    }
    return sort === 'chain' ? (unit * (sprocketDiameter(teeth) ?? 0)) / 2 : (unit * teeth) / (2 * Math.PI);
  });
  const known = own.filter((each) => each !== undefined);
  const usual = known.length === 0 ? 1 : 0.75 * Math.min(...known);
  return own.map((radius) => ({ radius: radius ?? usual, isKnown: radius !== undefined && pitch !== undefined }));
}

interface Laid {
  readonly place: Map<string, PathPoint>;
  readonly radius: Map<string, number>;
  isToScale: boolean;
  isUpright: boolean;
}

/** Puts the wheels of one loop or mesh down beside those that lie already. */
function layDown(
  laid: Laid,
  wheels: readonly Wheel[],
  sort: 'chain' | 'belt' | 'gear',
  pitch: number | undefined,
  distances: readonly Distance[],
  sense: Sense,
  view: View,
): void {
  const radii = radiiOf(wheels, sort, pitch);
  const said = saidCentres(wheels, distances, sense);
  const isSaid = wheels.every((wheel) => said.centres.has(wheel.name));
  const gears = sort === 'gear' ? gearRadii(wheels, distances) : undefined;
  const sizes = gears ?? radii.map((each) => each.radius);
  const isKnown = isSaid && (gears !== undefined || radii.every((each) => each.isKnown));
  const centres = isSaid
    ? wheels.map((wheel) => said.centres.get(wheel.name) ?? { x: 0, y: 0 })
    : sort === 'gear'
      ? meshed(laid, wheels, sizes, view)
      : ring(
          wheels.map((wheel, i) => ({ radius: sizes[i] ?? 1, onBack: wheel.onBack })),
          sense,
        );
  // What turns on one shaft lies on one centre.
  const shared = wheels.findIndex(
    (wheel) =>
      laid.place.has(wheel.name) ||
      [...laid.place.keys()].some((name) => shaftOf(view, name) === shaftOf(view, wheel.name)),
  );
  const own = wheels[shared];
  const there =
    own === undefined
      ? undefined
      : (laid.place.get(own.name) ??
        [...laid.place].find(([name]) => shaftOf(view, name) === shaftOf(view, own.name))?.[1]);
  const from = centres[shared];
  const shift =
    there === undefined || from === undefined ? { x: 0, y: 0 } : { x: there.x - from.x, y: there.y - from.y };
  for (const [i, wheel] of wheels.entries()) {
    const centre = centres[i] ?? { x: 0, y: 0 };
    if (!laid.place.has(wheel.name)) laid.place.set(wheel.name, { x: centre.x + shift.x, y: centre.y + shift.y });
    if (!laid.radius.has(wheel.name)) laid.radius.set(wheel.name, sizes[i] ?? 1);
  }
  if (!isKnown) laid.isToScale = false;
  if (isSaid && said.isUpright) laid.isUpright = true;
}

/** Degrees clockwise in which the second of two gears is seen from the first, where marks that stand against each other say it. */
function markedDirection(one: Part | undefined, two: Part | undefined): number | undefined {
  for (const [from, to, turned] of [
    [one, two, 0],
    [two, one, 180],
  ] as const)
    for (const mark of to?.marks.values() ?? []) {
      if (mark.against?.owner.text !== from?.name) continue;
      // Both marks lie on the line between the centres.
      const at = degreesOf(from?.marks.get(mark.against?.feature?.text ?? '')?.at);
      if (at !== undefined) return toNumber(at) + turned;
    }
  return undefined;
}

/** Two gears in mesh: as their marks say, else upright; else where nothing lies yet. */
function meshed(laid: Laid, wheels: readonly Wheel[], sizes: readonly number[], view: View): readonly PathPoint[] {
  const [one, two] = wheels;
  const far = (sizes[0] ?? 0) + (sizes[1] ?? 0);
  const origin = { x: 0, y: 0 };
  const marked = markedDirection(one?.part, two?.part);
  const [known, other, size, turned] =
    one !== undefined && laid.place.has(one.name) ? [one, two, sizes[1] ?? 0, 0] : [two, one, sizes[0] ?? 0, 180];
  const there = known === undefined ? undefined : laid.place.get(known.name);
  const isFree = (degrees: number): boolean => {
    if (there === undefined || known === undefined || other === undefined) return true;
    const own = pointAt(there, far, degrees + turned);
    return [...laid.place].every(
      ([name, { x, y }]) =>
        name === known.name ||
        shaftOf(view, name) === shaftOf(view, other.name) ||
        Math.hypot(own.x - x, own.y - y) > 0.98 * (size + (laid.radius.get(name) ?? 0)),
    );
  };
  const degrees = marked ?? [0, 60, -60, 90, -90, 120, -120, 30, -30, 150, -150].find(isFree) ?? 0;
  return [origin, pointAt(origin, far, degrees)];
}

/** Pitch radii of two gears from their centre distance: shared as their teeth are. */
function gearRadii(wheels: readonly Wheel[], distances: readonly Distance[]): readonly number[] | undefined {
  const [one, two] = wheels;
  const length = distances.find(
    (each) => (each.from === one?.name && each.to === two?.name) || (each.from === two?.name && each.to === one?.name),
  )?.length;
  const [first, second] = [one?.part?.teeth, two?.part?.teeth];
  if (length === undefined || first === undefined || second === undefined || first + second === 0) return undefined;
  return [(length * first) / (first + second), (length * second) / (first + second)];
}

/** Degrees clockwise from 12 o'clock in which one point is seen from another. */
function directionTo(from: PathPoint, to: PathPoint): number {
  return ((Math.atan2(to.x - from.x, to.y - from.y) * 180) / Math.PI + 360) % 360;
}

/** How a drive lies, as it stands at a step or, without one, as its marks agree. Undefined for a drive without wheels. */
export function faceOf(drive: Drive, view: View, stands?: Stands): Face | undefined {
  const wheel = (name: string, onBack: boolean): Wheel => ({ name, part: partOf(view, name), onBack });
  const rotation = view.engine?.rotation ?? 'clockwise';
  const distances = distancesOf(drive);
  const laid: Laid = { place: new Map(), radius: new Map(), isToScale: true, isUpright: false };
  const back = new Set(
    drive.wraps.flatMap((wrap) => wrap.wheels.filter((each) => each.onBack).map((each) => each.part)),
  );
  for (const wrap of drive.wraps)
    layDown(
      laid,
      wrap.wheels.map((each) => wheel(each.part, each.onBack)),
      wrap.sort,
      pitchOf(partOf(view, wrap.part)),
      distances,
      rotation,
      view,
    );
  for (const mesh of drive.meshes)
    layDown(laid, [wheel(mesh.first, false), wheel(mesh.second, false)], 'gear', undefined, distances, rotation, view);
  if (laid.place.size === 0) return undefined;

  const own = stands?.drives.get(drive.name);
  const isAtStep = own?.whole === true && own.turned.size > 0;
  const turnedOf = (name: string): number => (isAtStep ? (own.turned.get(name) ?? 0) : 0);
  const statedOf = (part: Part | undefined, mark: string): number | undefined => {
    const written = part?.marks.get(mark);
    const at = degreesOf(written?.at);
    if (at !== undefined) return toNumber(at);
    // A mark that meets another stands on the line between the two centres.
    const other = written?.against === undefined ? undefined : laid.place.get(written.against.owner.text);
    const here = part === undefined ? undefined : laid.place.get(part.name);
    return here === undefined || other === undefined ? undefined : directionTo(here, other);
  };
  const wheels = [...laid.place].map(([name, place]): FaceWheel => {
    const part = partOf(view, name);
    const radius = laid.radius.get(name) ?? 1;
    const marks = [...(part?.marks.keys() ?? [])].flatMap((mark): readonly FaceMark[] => {
      const stated = statedOf(part, mark);
      if (stated === undefined) return [];
      const degrees = withinTurn(stated + turnedOf(name));
      return [{ name: mark, degrees, ...pointAt(place, radius, degrees) }];
    });
    const isOn = stands === undefined || (stands.on.get(name) ?? 1) > 0;
    return { name, ...place, radius, onBack: back.has(name), teeth: part?.teeth, marks, isOn };
  });
  const loops = drive.wraps.map((wrap): FaceLoop & { readonly sense: Sense; readonly names: readonly string[] } => {
    const names = wrap.wheels.map((each) => each.part);
    const round = wrap.wheels.map((each) => ({
      ...(laid.place.get(each.part) ?? { x: 0, y: 0 }),
      radius: laid.radius.get(each.part) ?? 1,
      onBack: each.onBack,
    }));
    const area = turning(round.filter((each) => !each.onBack));
    const spread = Math.max(...round.map((each) => Math.hypot(each.x, each.y)), 1) ** 2;
    const sense: Sense = Math.abs(area) < 1e-6 * spread ? rotation : area < 0 ? 'clockwise' : 'anticlockwise';
    const path = loopPath(round, sense);
    const isOn = stands === undefined || (stands.on.get(wrap.part) ?? 1) > 0;
    return { part: wrap.part, sort: wrap.sort, path: path?.turns === 1 ? path : undefined, isOn, sense, names };
  });
  const links = drive.markedLinks.flatMap((marked): readonly FaceLink[] => {
    const loop = loops.find((each) => each.names.includes(marked.part));
    const part = loop === undefined ? undefined : partOf(view, loop.part);
    const count = part?.links ?? part?.teeth;
    const stated = marked.mark === undefined ? undefined : statedOf(partOf(view, marked.part), marked.mark);
    if (loop?.path === undefined || count === undefined || stated === undefined) return [];
    const { path } = loop;
    const at = alongAt(path, loop.names.indexOf(marked.part), stated);
    if (at === undefined) return [];
    const onward = loop.sense === rotation ? 1 : -1;
    const moved = isAtStep ? (own.links ?? 0) : 0;
    const middle = (marked.links.length - 1) / 2;
    return marked.links.flatMap((number, i) => {
      // Links are counted clockwise, whichever way the loop is gone round.
      const beside = (i - middle) * (loop.sense === 'clockwise' ? 1 : -1);
      const point = pointAlong(path, at + ((onward * moved + beside) * path.length) / count);
      return point === undefined ? [] : [{ number, ...point }];
    });
  });
  const notes = [
    ...(laid.isToScale ? [] : [spoken`Not to scale: not all centres and sizes are said.`]),
    ...(laid.isToScale && laid.isUpright
      ? [spoken`In which direction the wheels lie is not said: drawn upright.`]
      : []),
    ...(loops.some((loop) => loop.path === undefined)
      ? [spoken`The wheels as they are said leave no way round for the loop.`]
      : []),
  ];
  return {
    wheels,
    loops: loops.map(({ part, sort, path, isOn }) => ({ part, sort, path, isOn })),
    meshes: drive.meshes.map((mesh) => [mesh.first, mesh.second] as const),
    links,
    isToScale: laid.isToScale,
    notes,
    isAtStep,
  };
}
