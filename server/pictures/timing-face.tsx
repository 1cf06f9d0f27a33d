// The timing face: wheels, chain or belt, marks and marked links as they stand at a step, seen from the front.

import { spoken } from '../../grammar/spoken.ts';
import { told } from '../../grammar/told.ts';
import type { PathPoint } from '../mechanics/loop-path.ts';
import type { Drive, View } from '../model/view.ts';
import type { Stands } from '../rehearsal/stands.ts';
import {
  Caption,
  GREY,
  INK,
  LIGHT,
  Line,
  PAPER,
  type Picture,
  round,
  short,
  TurnArrow,
  Words,
  wrapped,
} from './drawing.tsx';
import { type Face, type FaceWheel, faceOf } from './face.ts';
import { asWords, calledIn, clockText } from './words.ts';

const WIDTH = 440;
const MARGIN = 56;

interface Screen {
  readonly scale: number;
  readonly height: number;
  readonly of: (point: PathPoint) => PathPoint;
}

function screenOf(wheels: readonly FaceWheel[]): Screen {
  const left = Math.min(...wheels.map((each) => each.x - each.radius));
  const right = Math.max(...wheels.map((each) => each.x + each.radius));
  const top = Math.max(...wheels.map((each) => each.y + each.radius));
  const bottom = Math.min(...wheels.map((each) => each.y - each.radius));
  const scale = Math.min((WIDTH - 2 * MARGIN) / Math.max(right - left, 1e-9), 380 / Math.max(top - bottom, 1e-9));
  const aside = (WIDTH - (right - left) * scale) / 2;
  return {
    scale,
    height: (top - bottom) * scale + 2 * MARGIN,
    of: ({ x, y }) => ({ x: aside + (x - left) * scale, y: MARGIN + (top - y) * scale }),
  };
}

/** To the right first, then to the left, then aslant, below and above. */
const SIDES: readonly (readonly [number, number])[] = [
  ...([
    [1, 0],
    [-1, 0],
    [0.8, 0.6],
    [-0.8, 0.6],
    [0.8, -0.6],
    [-0.8, -0.6],
  ] as const),
  ...([
    [0, 1],
    [0, -1],
  ] as const),
];

/** The side of a wheel on which a name has most room from the other wheels, as x and y on the screen; the first that has enough. */
function freeSide(wheel: FaceWheel, others: readonly FaceWheel[], screen: Screen): readonly [number, number] {
  const centre = screen.of(wheel);
  const away = wheel.radius * screen.scale + 50;
  const room = ([x, y]: readonly [number, number]): number =>
    Math.min(
      ...others.flatMap((other) => {
        if (other.name === wheel.name) return [];
        const at = screen.of(other);
        return Math.hypot(centre.x + x * away - at.x, centre.y + y * away - at.y) - other.radius * screen.scale;
      }),
    );
  const [first = [1, 0] as const] = SIDES;
  return (
    SIDES.find((side) => room(side) > 45) ??
    SIDES.reduce((best, side) => (room(side) > room(best) ? side : best), first)
  );
}

function Wheel({
  wheel,
  others,
  screen,
  view,
  middle,
}: {
  wheel: FaceWheel;
  others: readonly FaceWheel[];
  screen: Screen;
  view: View;
  middle: PathPoint;
}) {
  const centre = screen.of(wheel);
  const radius = wheel.radius * screen.scale;
  const name = calledIn(view, wheel.name);
  const narrow = wrapped([name], Math.max(60, radius * 1.5));
  const rows = (narrow.length > 3 ? wrapped([name], radius * 1.9) : narrow).slice(0, 4);
  // Where the name is out of the way of the marks.
  const low = wheel.marks.some((mark) => mark.degrees > 100 && mark.degrees < 260);
  const high = wheel.marks.some((mark) => mark.degrees < 80 || mark.degrees > 280);
  const isFull = low && high && radius < 90;
  const inside = radius > 40 && !isFull;
  const lines = wheel.teeth === undefined || rows.length > 2 ? rows : [...rows, spoken`${wheel.teeth} teeth`];
  const firstLine = low ? centre.y - 10 - (lines.length - 1) * 15 : centre.y + 20;
  // Outside a small wheel, on the side away from the others; beside one that is full of marks, where none lies.
  const [x, y] = [centre.x - middle.x, centre.y - middle.y];
  const far = Math.max(1, Math.hypot(x, y));
  const [toX, toY] = isFull ? freeSide(wheel, others, screen) : [x / far, y / far];
  const beside = { x: centre.x + toX * (radius + 10), y: centre.y + 5 + toY * (radius + 18) };
  const anchor = toX > 0.6 ? 'start' : toX < -0.6 ? 'end' : 'middle';
  // As broad as there is room for on its side.
  const room =
    anchor === 'start' ? WIDTH - beside.x : anchor === 'end' ? beside.x : 2 * Math.min(beside.x, WIDTH - beside.x);
  const outside = wrapped(
    [wheel.teeth === undefined ? name : spoken`${name}, ${wheel.teeth} teeth`],
    Math.max(60, (room * 7.2) / 8.4),
  );
  const firstOutside = beside.y - (toY < -0.6 ? outside.length - 1 : toY > 0.6 ? 0 : (outside.length - 1) / 2) * 15;
  const [before, after] = anchor === 'start' ? [0, 1] : anchor === 'end' ? [1, 0] : [0.5, 0.5];
  /** Where a row stands whole in the picture, in a broad family of letters, too. */
  const within = (row: string): number =>
    Math.min(Math.max(beside.x, row.length * 8.4 * before), WIDTH - row.length * 8.4 * after);
  return (
    <g>
      <circle
        cx={round(centre.x)}
        cy={round(centre.y)}
        r={round(radius)}
        fill={wheel.isOn ? '#f1f1f1' : PAPER}
        stroke={wheel.isOn ? INK : GREY}
        stroke-width="1.5"
        {...(wheel.isOn ? {} : { 'stroke-dasharray': '4 4' })}
      />
      <circle cx={round(centre.x)} cy={round(centre.y)} r="3.5" fill={INK} />
      {inside
        ? lines.map((line, i) => (
            <Words key={line} x={centre.x} y={firstLine + i * 15} text={short(line, 20)} size={13} />
          ))
        : outside
            .slice(0, 4)
            .map((line, i) => (
              <Words
                key={line}
                x={within(line)}
                y={firstOutside + i * 15}
                text={short(line, 60)}
                size={13}
                anchor={anchor}
              />
            ))}
    </g>
  );
}

/** Marks are dots inside the wheel's edge, with their name on the inside. */
function Marks({ wheel, screen }: { wheel: FaceWheel; screen: Screen }) {
  const centre = screen.of(wheel);
  /** Names that stand already; the next one goes below those that it would lie on. */
  const named: { readonly x: number; readonly y: number; readonly half: number }[] = [];
  const clear = (point: PathPoint, text: string): PathPoint => {
    const half = text.length * 3.7;
    const { x } = point;
    let { y } = point;
    while (named.some((each) => Math.abs(each.x - x) < each.half + half && Math.abs(each.y - y) < 13)) y += 13;
    named.push({ x, y, half });
    return { x, y };
  };
  return (
    <>
      {wheel.marks.map((mark) => {
        const edge = screen.of(mark);
        const [x, y] = [edge.x - centre.x, edge.y - centre.y];
        const size = Math.max(1, Math.hypot(x, y));
        const on = (share: number): PathPoint => ({ x: centre.x + x * share, y: centre.y + y * share });
        const dot = on((size - 9) / size);
        const name = short(asWords(mark.name), 14);
        const words = clear(on(Math.max(0.2, (size - 25) / size)), name);
        return (
          <g key={mark.name}>
            <Line from={on((size - 14) / size)} to={on((size + 7) / size)} width={2} />
            <circle cx={round(dot.x)} cy={round(dot.y)} r="5" fill={INK} />
            <Words x={words.x} y={words.y + 4} text={name} size={12} bold />
          </g>
        );
      })}
    </>
  );
}

function Links({ face, screen }: { face: Face; screen: Screen }) {
  return (
    <>
      {face.links.map((link) => {
        const at = screen.of(link);
        const angle = (link.outward * Math.PI) / 180;
        const out = (far: number): PathPoint => ({ x: at.x + far * Math.sin(angle), y: at.y - far * Math.cos(angle) });
        const words = out(24);
        return (
          <g key={link.number}>
            <rect
              x={round(at.x - 6)}
              y={round(at.y - 6)}
              width="12"
              height="12"
              fill={PAPER}
              stroke={INK}
              stroke-width="3"
              transform={`rotate(${round(link.outward)} ${round(at.x)} ${round(at.y)})`}
            />
            <Words x={words.x} y={words.y + 5} text={spoken`link ${link.number}`} size={13} bold />
          </g>
        );
      })}
    </>
  );
}

function Loops({ face, screen }: { face: Face; screen: Screen }) {
  return (
    <>
      {face.loops.map((loop) => {
        const { path } = loop;
        if (path === undefined) return null;
        const outline = path.runs.map((run, i) => {
          const [from, to] = [screen.of(run.from), screen.of(run.to)];
          const next = path.arcs[(i + 1) % path.arcs.length];
          const end = path.runs[(i + 1) % path.runs.length];
          const landing = end === undefined ? to : screen.of(end.from);
          const radius = round((next?.wheel.radius ?? 0) * screen.scale);
          const arc =
            next === undefined || next.wrap < 1e-6
              ? ''
              : ` A ${radius} ${radius} 0 ${next.wrap > 180 ? 1 : 0} ${next.clockwise ? 1 : 0} ${round(landing.x)} ${round(landing.y)}`;
          return `${i === 0 ? `M ${round(from.x)} ${round(from.y)}` : ''} L ${round(to.x)} ${round(to.y)}${arc}`;
        });
        return (
          <path
            key={loop.part}
            d={outline.join(' ')}
            fill="none"
            stroke={loop.isOn ? INK : LIGHT}
            stroke-width="4"
            stroke-linejoin="round"
            {...(loop.isOn ? {} : { 'stroke-dasharray': '9 6' })}
          />
        );
      })}
    </>
  );
}

function seenText({ engine }: View): string {
  return engine?.rotation === undefined
    ? spoken`Seen from the front, sump down.`
    : spoken`Seen from the front, sump down. The crankshaft turns ${told.term(engine.rotation)}.`;
}

/** What is seen, in words. */
function description(face: Face, view: View, stands: Stands | undefined): string {
  const marks = face.wheels.flatMap((wheel) =>
    wheel.marks.map((mark) => spoken`${mark.name} of ${calledIn(view, wheel.name)} at ${clockText(mark.degrees)}`),
  );
  const loops = face.loops.map((loop) => spoken`${calledIn(view, loop.part)} runs round ${face.wheels.length} wheels`);
  const off = face.wheels.filter((wheel) => !wheel.isOn).map((wheel) => calledIn(view, wheel.name));
  const links = face.links.map((link) => {
    const near = face.wheels
      .map((wheel) => ({ wheel, far: Math.hypot(wheel.x - link.x, wheel.y - link.y) - wheel.radius }))
      .sort((one, other) => one.far - other.far)[0];
    const mark = near?.wheel.marks
      .map((each) => ({ each, far: Math.hypot(each.x - link.x, each.y - link.y) }))
      .sort((one, other) => one.far - other.far)[0];
    const at = mark !== undefined && near !== undefined && mark.far < near.wheel.radius * 0.2;
    return at
      ? spoken`link ${link.number} at ${mark.each.name} of ${calledIn(view, near.wheel.name)}`
      : spoken`link ${link.number} away from its mark`;
  });
  const said = [
    seenText(view),
    stands?.crank === undefined ? '' : spoken`The crankshaft stands ${stands.crank}.`,
    loops.length === 0 ? '' : `${loops.join('; ')}.`,
    marks.length === 0 ? '' : spoken`Marks: ${marks.join('; ')}.`,
    links.length === 0 ? '' : spoken`Marked links: ${links.join('; ')}.`,
    off.length === 0 ? '' : spoken`Not on yet: ${off.join(', ')}.`,
    ...face.notes,
  ];
  return said.filter((each) => each !== '').join(' ');
}

/** The timing face of a drive, as it stands at a step or else as its marks agree. Undefined for a drive without wheels. */
export function timingFace(drive: Drive, view: View, stands?: Stands): Picture | undefined {
  const face = faceOf(drive, view, stands);
  if (face === undefined) return undefined;
  const screen = screenOf(face.wheels);
  const middle = { x: WIDTH / 2, y: screen.height / 2 };
  const crank = face.wheels[0];
  const clockwise = view.engine?.rotation;
  const lines = wrapped(
    [
      seenText(view),
      face.isAtStep
        ? stands?.crank === undefined
          ? spoken`As it stands after this step.`
          : spoken`After this step: crankshaft ${stands.crank}.`
        : spoken`As it stands when the marks agree.`,
      ...face.notes,
    ],
    WIDTH,
  );
  return {
    title: spoken`Timing face: ${drive.title ?? calledIn(view, drive.name)}`,
    description: description(face, view, stands),
    width: WIDTH,
    height: screen.height + 12 + lines.length * 17,
    body: (
      <>
        {face.wheels.map((wheel) => (
          <Wheel others={face.wheels} wheel={wheel} screen={screen} view={view} middle={middle} key={wheel.name} />
        ))}
        <Loops face={face} screen={screen} />
        {face.wheels.map((wheel) => (
          <Marks wheel={wheel} screen={screen} key={wheel.name} />
        ))}
        <Links face={face} screen={screen} />
        {crank === undefined || clockwise === undefined || crank.radius * screen.scale < 80 ? null : (
          <TurnArrow
            centre={screen.of(crank)}
            radius={crank.radius * screen.scale * 0.42}
            from={clockwise === 'clockwise' ? -60 : 60}
            wrap={clockwise === 'clockwise' ? 110 : -110}
          />
        )}
        <Caption lines={lines} width={WIDTH} y={screen.height + 8} />
      </>
    ),
  };
}
