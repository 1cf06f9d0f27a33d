// How far the piston is down and the valves are open near the top, where one could meet the other.
import { spoken } from '../../grammar/spoken.ts';
import { crankSlider, pistonTravel } from '../mechanics/crank-slider.ts';
import { toNumber } from '../mechanics/exact.ts';
import { liftCurve } from '../mechanics/lift-curve.ts';
import { engineFigure, engineMeasure } from '../model/engine-sums.ts';
import { measureOf } from '../model/measure.ts';
import type { ValveTiming, View } from '../model/view.ts';
import { Caption, GREY, INK, LIGHT, Line, type Picture, round, short, Words, wrapped } from './drawing.tsx';
import { eventsOf } from './valve-events.tsx';
import { calledIn } from './words.ts';

export interface LiftPoint {
  /** Crank degrees from top dead centre between exhaust and inlet. */
  readonly degrees: number;
  /** mm that the piston is below its top. */
  readonly piston: number;
  readonly inlet: number | undefined;
  readonly exhaust: number | undefined;
}

const REACH = 60;

function lengthSaid(timing: ValveTiming, word: string, valve: 'inlet' | 'exhaust'): number | undefined {
  const said = timing.statements.find((each) => each.kind === 'value' && each.word === word);
  if (said?.kind !== 'value') return undefined;
  const plain =
    said.value.kind === 'by-place'
      ? said.value.entries.find((entry) => entry.places.some((place) => place.name?.text === valve))?.value
      : said.value;
  const measure = plain === undefined ? undefined : measureOf(plain);
  return measure === undefined ? undefined : toNumber(measure.interval.nominal);
}

/** Rocker ratio, where lift is said at the lobe. */
function ratioOf(timing: ValveTiming): number {
  const said = timing.statements.find((each) => each.kind === 'number' && each.word === 'rocker-ratio');
  const ratio = said?.kind === 'number' ? Number(said.number.text) : 1;
  return Number.isFinite(ratio) && ratio > 0 ? ratio : 1;
}

/** Piston and lift every few degrees about the top; undefined where stroke, rod, lift or events are not said. */
export function liftPoints(timings: readonly ValveTiming[], view: View, every = 2): readonly LiftPoint[] | undefined {
  const [stroke, rod] = (['stroke', 'rod-length'] as const).map((name) => engineMeasure(name, view)?.stack.middle);
  const crank = stroke === undefined || rod === undefined ? undefined : crankSlider(toNumber(stroke), toNumber(rod));
  if (crank === undefined) return undefined;
  const curveOf = (valve: 'inlet' | 'exhaust') => {
    for (const timing of timings) {
      const events = eventsOf(timing)?.[valve];
      const lift = lengthSaid(timing, 'lift', valve);
      if (events === undefined || lift === undefined) continue;
      const at = lengthSaid(timing, 'measured-at', valve) ?? 0;
      const ratio = ratioOf(timing);
      return liftCurve({ lift: lift * ratio, measuredAt: at, ...events });
    }
    return undefined;
  };
  const [inlet, exhaust] = [curveOf('inlet'), curveOf('exhaust')];
  if (inlet === undefined && exhaust === undefined) return undefined;
  return Array.from({ length: Math.floor((2 * REACH) / every) + 1 }, (_none, i) => {
    const degrees = -REACH + i * every;
    return { degrees, piston: pistonTravel(crank, degrees), inlet: inlet?.at(degrees), exhaust: exhaust?.at(degrees) };
  });
}

/** The nearest that lift and piston come, with the piston at its top as 0; where `from` is known, from the face of the head. */
export function nearest(
  points: readonly LiftPoint[],
  valve: 'inlet' | 'exhaust',
): { readonly degrees: number; readonly apart: number } | undefined {
  let found: { degrees: number; apart: number } | undefined;
  for (const point of points) {
    const lift = point[valve];
    if (lift === undefined || lift <= 0) continue;
    const apart = point.piston - lift;
    if (found === undefined || apart < found.apart) found = { degrees: point.degrees, apart };
  }
  return found;
}

/** `the inlet valve comes nearest 8° after top`. */
function nearestText(valve: 'inlet' | 'exhaust', degrees: number): string {
  const far = Math.abs(degrees);
  if (valve === 'inlet')
    return degrees < 0
      ? spoken`the inlet valve comes nearest ${far}° before top`
      : spoken`the inlet valve comes nearest ${far}° after top`;
  return degrees < 0
    ? spoken`the exhaust valve comes nearest ${far}° before top`
    : spoken`the exhaust valve comes nearest ${far}° after top`;
}

/** The picture; undefined where the figures do not allow it. */
export function pistonAndValve(timings: readonly ValveTiming[], view: View): Picture | undefined {
  const points = liftPoints(timings, view, 1);
  if (points === undefined) return undefined;
  const squish = engineFigure('squish', view)?.stack.middle;
  const over = squish === undefined ? 0 : toNumber(squish);
  // What lies deeper than the valves come is of no use here.
  const most = Math.max(
    1.7 * Math.max(...points.map((point) => Math.max(point.inlet ?? 0, point.exhaust ?? 0))),
    over + 1,
  );
  const [width, top, bottom, left, right] = [480, 34, 280, 52, 464];
  const x = (degrees: number): number => left + ((degrees + REACH) / (2 * REACH)) * (right - left);
  const y = (mm: number): number => top + (mm / most) * (bottom - top);
  const curve = (of: (point: LiftPoint) => number | undefined): string =>
    points
      .flatMap((point) => {
        const at = of(point);
        return at === undefined || at > most ? [] : [`${round(x(point.degrees))} ${round(y(at))}`];
      })
      .map((point, i) => `${i === 0 ? 'M' : 'L'} ${point}`)
      .join(' ');
  const limits = view.limits.filter((limit) => limit.sort === 'piston-to-valve');
  const step = most > 20 ? 10 : most > 8 ? 5 : 1;
  const ticks = Array.from({ length: Math.floor(most / step) + 1 }, (_none, i) => i * step);
  const near = (['inlet', 'exhaust'] as const).flatMap((valve) => {
    const found = nearest(points, valve);
    return found === undefined ? [] : [nearestText(valve, found.degrees)];
  });
  const lines = wrapped(
    [
      spoken`Between the figures of the spec the lift is an even curve, not the maker’s: to look at, not to build from.`,
      squish === undefined
        ? spoken`Measured from the piston at its top. How deep seats and pockets are is not said.`
        : spoken`Measured from the face of the head, gasket included. How deep seats and pockets are is not said.`,
      limits.length > 0
        ? spoken`The clearance is measured: ${limits.map((limit) => calledIn(view, limit.name)).join(', ')}.`
        : '',
    ].filter((each) => each !== ''),
    width,
  );
  return {
    title: spoken`Piston and valve near the top: ${[...new Set(timings.map((timing) => calledIn(view, timing.name)))].join(', ')}`,
    description: `${spoken`Crank degrees from 60 before to 60 after top dead centre between exhaust and inlet; downward, millimetres of piston travel and of valve lift.`} ${near.length === 0 ? '' : spoken`By these curves ${near.reduce((one, other) => spoken`${one}, and ${other}`)}.`} ${lines.join(' ')}`,
    width,
    height: 316 + lines.length * 17,
    body: (
      <>
        {ticks.map((tick) => (
          <g key={tick}>
            <line x1={left} y1={round(y(tick))} x2={right} y2={round(y(tick))} stroke={LIGHT} stroke-width="1" />
            <Words x={left - 8} y={y(tick) + 5} text={String(tick)} size={12} anchor="end" grey />
          </g>
        ))}
        {[-60, -30, 0, 30, 60].map((degrees) => (
          <g key={degrees}>
            <Line
              from={{ x: x(degrees), y: top }}
              to={{ x: x(degrees), y: bottom }}
              width={degrees === 0 ? 1.5 : 0.6}
              grey
            />
            <Words
              x={x(degrees)}
              y={bottom + 18}
              text={degrees === 0 ? spoken`top` : degrees < 0 ? spoken`${-degrees}° before` : spoken`${degrees}° after`}
              size={12}
              anchor={degrees === -60 ? 'start' : degrees === 60 ? 'end' : 'middle'}
            />
          </g>
        ))}
        <path d={curve((point) => point.piston + over)} fill="none" stroke={INK} stroke-width="4" />
        <path d={curve((point) => point.inlet)} fill="none" stroke={INK} stroke-width="2.5" stroke-dasharray="9 5" />
        <path d={curve((point) => point.exhaust)} fill="none" stroke={GREY} stroke-width="2.5" stroke-dasharray="2 4" />
        <Words x={left} y={18} text={spoken`mm below`} size={12} anchor="start" grey />
        <Words x={x(0) - 6} y={y(over) + 24} text={spoken`piston`} size={13} bold anchor="end" />
        <Words x={right - 4} y={24} text={short(spoken`inlet valve - - -`, 24)} size={13} anchor="end" />
        <Words x={left + 84} y={24} text={short(spoken`exhaust valve · · ·`, 24)} size={13} anchor="start" />
        <Caption lines={lines} width={width} y={bottom + 40} />
      </>
    ),
  };
}
