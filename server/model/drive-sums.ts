// Works out drives: speeds of shafts, turns until marked links are back, what one tooth is worth, the length that a chain or belt needs.

import { loopFit } from '../mechanics/chain.ts';
import { type Exact, times, toNumber, wholeNumber, ZERO } from '../mechanics/exact.ts';
import { type Coupling, type DriveSolution, solveDrive } from '../mechanics/gears.ts';
import { type MarkedLoop, turnsUntilBack } from '../mechanics/links-return.ts';
import { oneTooth } from '../mechanics/valve-timing.ts';
import { type Entry, keyed } from './keyed.ts';
import { measureOf } from './measure.ts';
import type { Drive, Part, View } from './view.ts';
import { question } from './view-questions.ts';

function partOf(view: View, name: string): Part | undefined {
  const thing = view.things.get(name);
  return thing?.kind === 'part' ? thing : undefined;
}

/** The shaft that a part turns with: what it is fixed to, as far as that goes; a part fixed to nothing is its own shaft. */
export function shaftOf(view: View, name: string): string {
  let shaft = name;
  for (let i = 0; i < 8; i += 1) {
    const next = partOf(view, shaft)?.fixedTo;
    if (next === undefined || next === shaft) break;
    shaft = next;
  }
  return shaft;
}

/** The crankshaft: the part of that name, else the first shaft of a stated ratio, else what the first wheel of a drive is fixed to. */
export function crankshaftOf(view: View): string | undefined {
  return crankshaftAsked(view, 'drives');
}

const crankshaftAsked = question((view, _subject: 'drives'): string | undefined => {
  if (partOf(view, 'crankshaft') !== undefined) return 'crankshaft';
  for (const drive of view.drives) {
    const first = drive.ratios[0]?.first ?? drive.wraps[0]?.wheels[0]?.part ?? drive.meshes[0]?.first;
    if (first !== undefined) return shaftOf(view, first);
  }
  return undefined;
});

/** The wheels of a drive as couplings between shafts. Wheels without teeth (plain idlers) turn nothing that has to be known. */
const couplingsOf = question((view, drive: Drive): readonly Coupling[] => {
  const wheel = (name: string, outside: boolean): { shaft: string; teeth: number; outside?: boolean } => ({
    shaft: shaftOf(view, name),
    teeth: partOf(view, name)?.teeth ?? 0,
    ...(outside ? { outside } : {}),
  });
  return [
    ...drive.wraps.map(
      (wrap): Coupling => ({
        kind: 'loop',
        name: drive.name,
        wheels: wrap.wheels.map((each) => wheel(each.part, each.onBack)).filter((each) => each.teeth > 0),
      }),
    ),
    ...drive.meshes.map(
      (mesh): Coupling => ({
        kind: 'mesh',
        name: drive.name,
        wheels: [wheel(mesh.first, false), wheel(mesh.second, false)],
      }),
    ),
  ];
});

/** Speeds of all shafts that the crankshaft turns, through all drives together. */
export function speedsOf(view: View): DriveSolution | undefined {
  return speedsAsked(view, 'drives');
}

/** The shafts that a drive has wheels on. */
export const shaftsOfDrive = question((view, drive: Drive): readonly string[] => [
  ...new Set(couplingsOf(view, drive).flatMap(({ wheels }) => wheels.map(({ shaft }) => shaft))),
]);

const drivesByShaft = keyed(
  (view) => view.drives,
  (view, drive: Drive) => shaftsOfDrive(view, drive).map((shaft): Entry<string> => [shaft, drive.name]),
);

/** The turns of a shaft for one of the crankshaft; undefined for one that no drive turns. */
export const speedOf = question((view, shaft: string): Exact | undefined => {
  // Most parts are no shaft of a drive: how drives turn is nothing to those.
  const isOnDrive = drivesByShaft(view, shaft).length > 0 || (shaft === crankshaftOf(view) && view.drives.length > 0);
  return isOnDrive ? speedsOf(view)?.speeds.get(shaft) : undefined;
});

const speedsAsked = question((view, _subject: 'drives'): DriveSolution | undefined => {
  const crankshaft = crankshaftOf(view);
  return crankshaft === undefined
    ? undefined
    : solveDrive(
        crankshaft,
        view.drives.flatMap((drive) => couplingsOf(view, drive)),
      );
});

export interface DriveResult {
  readonly drive: Drive;
  /** Turns of the first shaft for one of the second, from the teeth: of the crankshaft for one of the camshaft, where it turns one. */
  readonly ratio: Exact | undefined;
  /** Turns of the crankshaft until all marks of the drive's wheels agree again; undefined without marks. */
  readonly marksReturn: number | undefined;
  /** Turns of the crankshaft until the marked links are back with every shaft in time; undefined without marked links. */
  readonly linksReturn: number | undefined;
  /** Crankshaft degrees for one tooth on the wheel that the drive turns. */
  readonly oneTooth: Exact | undefined;
  /** For two wheels with a centre distance: length needed in pitches, by the nominal distance and over its tolerance, and what is spare. */
  readonly length:
    | {
        readonly needed: number;
        readonly low: number;
        readonly high: number;
        readonly links: number;
        readonly spare: number;
        readonly sort: 'chain' | 'belt';
      }
    | undefined;
}

/** Works a drive out as far as teeth, links, pitch and centre distance are known. */
export function workOutDrive(drive: Drive, view: View): DriveResult {
  const wheels =
    drive.wraps[0]?.wheels.map((wheel) => wheel.part) ?? drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]);
  const first = wheels[0];
  const others = wheels.filter(
    (wheel) =>
      first !== undefined && shaftOf(view, wheel) !== shaftOf(view, first) && (partOf(view, wheel)?.teeth ?? 0) > 0,
  );
  // The wheel on a shaft counts, not an idler; a gear cut on its shaft is fixed to nothing.
  const last =
    others.find((wheel) => partOf(view, wheel)?.fixedTo !== undefined) ?? (others.length === 1 ? others[0] : undefined);
  const lastSpeed = last === undefined ? undefined : speedOf(view, shaftOf(view, last));
  const pair = shaftsOfRatio(drive, view, wheels, first, last);
  const [oneSpeed, otherSpeed] = [speedOf(view, pair?.[0] ?? ''), speedOf(view, pair?.[1] ?? '')];
  const ratio =
    oneSpeed === undefined || otherSpeed === undefined || toNumber(otherSpeed) === 0
      ? undefined
      : oneSpeed.div(otherSpeed).abs();
  const lastTeeth = last === undefined ? undefined : partOf(view, last)?.teeth;
  const tooth = lastSpeed === undefined || lastTeeth === undefined ? undefined : oneTooth(lastTeeth, lastSpeed.abs());
  return {
    drive,
    ratio,
    marksReturn: marksReturn(drive, view),
    linksReturn: linksReturn(drive, view),
    oneTooth: tooth,
    length: lengthOf(drive, view),
  };
}

/** The two shafts that a drive's ratio is told of: those that it states, else crankshaft and camshaft, else those of its ends. */
function shaftsOfRatio(
  drive: Drive,
  view: View,
  wheels: readonly string[],
  first: string | undefined,
  last: string | undefined,
): readonly [string, string] | undefined {
  const stated = drive.ratios[0];
  if (stated !== undefined) return [shaftOf(view, stated.first), shaftOf(view, stated.second)];
  const shafts = wheels.map((wheel) => shaftOf(view, wheel));
  const crankshaft = crankshaftOf(view);
  const start = crankshaft !== undefined && shafts.includes(crankshaft) ? crankshaft : undefined;
  const camshaft = view.valveTimings
    .flatMap((timing) => (timing.shaft === undefined ? [] : [shaftOf(view, timing.shaft)]))
    .find((shaft) => shafts.includes(shaft) && shaft !== start);
  if (first === undefined) return undefined;
  const end = camshaft ?? (last === undefined ? undefined : shaftOf(view, last));
  return end === undefined ? undefined : [start ?? shaftOf(view, first), end];
}

/**
 * Turns of the crankshaft until every marked wheel of a drive stands again as it was put together. An idler whose teeth do not divide
 * evenly (57 between 24 and 48) takes many: its marks serve to put the gears together and prove nothing after that.
 */
function marksReturn(drive: Drive, view: View): number | undefined {
  const wheels = [
    ...drive.wraps.flatMap((wrap) => wrap.wheels.map((wheel) => wheel.part)),
    ...drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
  ];
  const marked = wheels.filter((name) => (partOf(view, name)?.marks.size ?? 0) > 0);
  if (marked.length === 0) return undefined;
  const speeds: Exact[] = [];
  for (const name of marked) {
    const speed = speedOf(view, shaftOf(view, name));
    if (speed === undefined) return undefined;
    speeds.push(speed.abs());
  }
  return turnsUntilBack([], speeds);
}

/** By shaft: the drives that state its ratio to another. */
const drivesWithRatioOf = keyed(
  (view) => view.drives,
  (_view, drive: Drive) =>
    [...new Set(drive.ratios.flatMap(({ first, second }) => [first, second]))].map(
      (shaft): Entry<string> => [shaft, drive.name],
    ),
);

function linksReturn(drive: Drive, view: View): number | undefined {
  if (drive.markedLinks.length === 0 || crankshaftOf(view) === undefined) return undefined;
  const loops: MarkedLoop[] = [];
  for (const wrap of drive.wraps) {
    const loop = partOf(view, wrap.part);
    const links = loop?.links ?? loop?.teeth;
    const first = wrap.wheels[0];
    const teeth = first === undefined ? undefined : partOf(view, first.part)?.teeth;
    const speed = first === undefined ? undefined : speedOf(view, shaftOf(view, first.part));
    if (links === undefined || teeth === undefined || speed === undefined) return undefined;
    loops.push({ links, passedPerTurn: times(wholeNumber(teeth) ?? ZERO, speed.abs()) });
  }
  const shafts = new Set(drive.wraps.flatMap((wrap) => wrap.wheels.map((wheel) => shaftOf(view, wheel.part))));
  const speeds = [...shafts].flatMap((shaft) => {
    const speed = drivesWithRatioOf(view, shaft).length === 0 ? undefined : speedOf(view, shaft);
    return speed === undefined ? [] : [speed.abs()];
  });
  const cycle = view.engine?.cycle === 'two-stroke' ? [] : [wholeNumber(1)?.div(2) ?? ZERO];
  return turnsUntilBack(loops, [...speeds, ...cycle]);
}

function lengthOf(drive: Drive, view: View): DriveResult['length'] {
  const wrap = drive.wraps[0];
  const [first, second] = wrap?.wheels ?? [];
  if (
    wrap === undefined ||
    first === undefined ||
    second === undefined ||
    wrap.wheels.length !== 2 ||
    drive.wraps.length !== 1
  )
    return undefined;
  const loop = partOf(view, wrap.part);
  const links = loop?.links ?? loop?.teeth;
  const pitch = loop?.pitch === undefined || loop.pitch.kind === 'by-place' ? undefined : measureOf(loop.pitch);
  const [one, two] = [partOf(view, first.part)?.teeth, partOf(view, second.part)?.teeth];
  const statement = drive.statements.find(
    (each) =>
      each.kind === 'centre-distance' &&
      ((each.from.text === first.part && each.to.text === second.part) ||
        (each.from.text === second.part && each.to.text === first.part)),
  );
  if (statement?.kind !== 'centre-distance' || statement.value.kind === 'by-place') return undefined;
  const distance = measureOf(statement.value);
  if (links === undefined || pitch === undefined || one === undefined || two === undefined || distance === undefined)
    return undefined;
  const inPitches = (value: Exact): number => toNumber(value) / toNumber(pitch.interval.nominal);
  const at = (centre: number): { readonly needed: number; readonly spare: number } | undefined =>
    loopFit(wrap.sort, one, two, centre, links);
  const [nominal, low, high] = [
    at(inPitches(distance.interval.nominal)),
    at(inPitches(distance.interval.low)),
    at(inPitches(distance.interval.high)),
  ];
  if (nominal === undefined || low === undefined || high === undefined) return undefined;
  return { needed: nominal.needed, low: low.needed, high: high.needed, links, spare: nominal.spare, sort: wrap.sort };
}
