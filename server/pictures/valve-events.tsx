// When the valves open and close, on the circle of the crank: overlap about the top, each camshaft or grind beside the other.
import { spoken } from '../../grammar/spoken.ts';
import { toNumber } from '../mechanics/exact.ts';
import { withinTurn } from '../mechanics/piston-tops.ts';
import { workOutTiming } from '../model/valve-sums.ts';
import type { ValveTiming, View } from '../model/view.ts';
import {
  arcPath,
  around,
  Caption,
  GREY,
  INK,
  LIGHT,
  Line,
  type Picture,
  round,
  short,
  TurnArrow,
  Words,
} from './drawing.tsx';
import { calledIn } from './words.ts';

/** Crank degrees in the direction of rotation from top dead centre between exhaust and inlet. */
export interface ValveEventAngles {
  readonly inlet: { readonly opens: number; readonly closes: number } | undefined;
  readonly exhaust: { readonly opens: number; readonly closes: number } | undefined;
  readonly overlap: number | undefined;
}

/** The events of a timing as numbers; undefined where they can't be told. */
export function eventsOf(timing: ValveTiming): ValveEventAngles | undefined {
  const angles = workOutTiming(timing)?.angles;
  if (angles === undefined) return undefined;
  const { inletOpens, inletCloses, exhaustOpens, exhaustCloses } = angles;
  const inlet =
    inletOpens === undefined || inletCloses === undefined
      ? undefined
      : { opens: toNumber(inletOpens), closes: toNumber(inletCloses) };
  const exhaust =
    exhaustOpens === undefined || exhaustCloses === undefined
      ? undefined
      : { opens: toNumber(exhaustOpens), closes: toNumber(exhaustCloses) };
  if (inlet === undefined && exhaust === undefined) return undefined;
  return {
    inlet,
    exhaust,
    overlap: inlet === undefined || exhaust === undefined ? undefined : exhaust.closes - inlet.opens,
  };
}

/** `12° before top`, as an event is spoken. */
export function eventText(degrees: number): string {
  const within = withinTurn(degrees);
  const near = within <= 90 || within >= 270 ? 'top' : 'bottom';
  const past = near === 'top' ? (within > 180 ? within - 360 : within) : within - 180;
  const size = round(Math.abs(past));
  if (near === 'top')
    return past === 0 ? spoken`at top` : past < 0 ? spoken`${size}° before top` : spoken`${size}° after top`;
  return past === 0 ? spoken`at bottom` : past < 0 ? spoken`${size}° before bottom` : spoken`${size}° after bottom`;
}

/** One camshaft or grind of a picture. */
export interface ShownTiming {
  readonly timing: ValveTiming;
  readonly label: string;
}

interface Opening {
  readonly opens: number;
  readonly closes: number;
}

const CELL = 350;

function Circle({ shown, x, y }: { shown: ShownTiming; x: number; y: number }) {
  const events = eventsOf(shown.timing);
  if (events === undefined) return null;
  const centre = { x: x + CELL / 2, y: y + 178 };
  const { inlet, exhaust, overlap } = events;
  const arc = (valve: Opening | undefined, radius: number, colour: string) =>
    valve === undefined ? null : (
      <path
        d={arcPath(centre, radius, valve.opens, valve.closes - valve.opens)}
        fill="none"
        stroke={colour}
        stroke-width="9"
      />
    );
  const labels = (valve: Opening | undefined, radius: number, label: string) => {
    if (valve === undefined) return null;
    const words = around(centre, radius - 26, (valve.opens + valve.closes) / 2);
    return (
      <>
        {[valve.opens, valve.closes].map((at, i) => {
          const end = around(centre, 126, at);
          return (
            <g key={i}>
              <Line from={around(centre, radius - 10, at)} to={around(centre, 116, at)} width={1.5} />
              <Words
                x={end.x}
                y={end.y + 5}
                text={
                  i === 0
                    ? spoken`opens ${round(Math.abs(eventNumber(at)))}°`
                    : spoken`closes ${round(Math.abs(eventNumber(at)))}°`
                }
                size={12}
                anchor={end.x > centre.x ? 'start' : 'end'}
              />
            </g>
          );
        })}
        <Words x={words.x} y={words.y + 5} text={`${label} ${round(valve.closes - valve.opens)}°`} size={13} bold />
      </>
    );
  };
  return (
    <g>
      <Words x={centre.x} y={y + 18} text={short(shown.label, 40)} size={15} bold />
      {overlap === undefined || overlap <= 0 || inlet === undefined ? null : (
        <path
          d={`M ${centre.x} ${centre.y} L ${sector(centre, inlet.opens)} A 108 108 0 0 1 ${sector(centre, inlet.opens + overlap)} Z`}
          fill={LIGHT}
        />
      )}
      <circle cx={centre.x} cy={centre.y} r="108" fill="none" stroke={GREY} stroke-width="1" />
      <Line from={{ x: centre.x, y: centre.y - 124 }} to={{ x: centre.x, y: centre.y + 124 }} dashed grey />
      <Words x={centre.x} y={centre.y - 146} text={spoken`top`} size={13} />
      <Words x={centre.x} y={centre.y + 142} text={spoken`bottom`} size={13} />
      {arc(exhaust, 82, GREY)}
      {arc(inlet, 104, INK)}
      {labels(exhaust, 82, spoken`exhaust`)}
      {labels(inlet, 104, spoken`inlet`)}
      {overlap === undefined ? null : (
        <Words x={centre.x} y={centre.y - 4} text={spoken`overlap ${round(overlap)}°`} size={13} bold />
      )}
      <TurnArrow centre={centre} radius={22} from={100} wrap={110} />
    </g>
  );
}

function sector(centre: { readonly x: number; readonly y: number }, at: number): string {
  const point = around(centre, 108, at);
  return `${round(point.x)} ${round(point.y)}`;
}

/** Degrees from the nearest dead centre, negative before it. */
export function eventNumber(degrees: number): number {
  const within = withinTurn(degrees);
  if (within <= 90) return within;
  return within >= 270 ? within - 360 : within - 180;
}

/** The picture of some timings beside each other; undefined where none has events. */
export function valveEvents(timings: readonly ShownTiming[], view: View): Picture | undefined {
  const shown = timings.filter((each) => eventsOf(each.timing) !== undefined).slice(0, 6);
  if (shown.length === 0) return undefined;
  const columns = Math.min(2, shown.length);
  const rows = Math.ceil(shown.length / columns);
  const width = columns * CELL;
  const told = shown.map(({ timing, label }) => {
    const events = eventsOf(timing);
    const valve = (name: string, each: { readonly opens: number; readonly closes: number } | undefined): string =>
      each === undefined
        ? ''
        : spoken`${name} opens ${eventText(each.opens)}, closes ${eventText(each.closes)}, open for ${round(each.closes - each.opens)}°`;
    return `${label}: ${[
      valve(spoken`inlet`, events?.inlet),
      valve(spoken`exhaust`, events?.exhaust),
      events?.overlap === undefined ? '' : spoken`overlap ${round(events.overlap)}°`,
    ]
      .filter((each) => each !== '')
      .join('; ')}.`;
  });
  return {
    title: spoken`Valve events: ${[...new Set(shown.map((each) => calledIn(view, each.timing.name)))].join(', ')}`,
    description: `${spoken`On the circle of the crankshaft, in the direction in which it turns, from top dead centre between exhaust and inlet.`} ${told.join(' ')}`,
    width,
    height: rows * 340 + 26,
    body: (
      <>
        {shown.map((each, i) => (
          <Circle shown={each} x={(i % columns) * CELL} y={Math.floor(i / columns) * 340} key={each.label} />
        ))}
        <Caption
          lines={[spoken`Crank degrees in the direction of rotation; two turns, one on the other.`]}
          width={width}
          y={rows * 340 + 8}
        />
      </>
    ),
  };
}
