// What all pictures are made of: paper, ink, words, arrows and arcs. A picture is elements, so that no text of a spec can be more than text;
// it is drawn in black and grey alone. What is drawn is decided in the files beside this one.
import type { ComponentChildren } from 'preact';
import { type PathPoint, pointAt } from '../mechanics/loop-path.ts';

/** One picture. The description says in words what is seen, for those who can't see it. */
export interface Picture {
  readonly title: string;
  readonly description: string;
  readonly width: number;
  readonly height: number;
  readonly body: ComponentChildren;
}

export const INK = '#111';
export const GREY = '#555';
export const LIGHT = '#d4d4d4';
export const PAPER = '#fff';

/** A text cut to so many letters; the whole of it stands in the description. */
export function short(text: string, most: number): string {
  const letters = [...text];
  return letters.length <= most ? text : `${letters.slice(0, Math.max(1, most - 1)).join('')}…`;
}

/** Words at a point, in the middle of it unless said otherwise, with paper behind the letters. */
export function Words({
  x,
  y,
  text,
  size = 14,
  anchor = 'middle',
  bold = false,
  grey = false,
}: {
  x: number;
  y: number;
  text: string;
  size?: number;
  anchor?: 'start' | 'middle' | 'end';
  bold?: boolean;
  grey?: boolean;
}) {
  return (
    <text
      x={round(x)}
      y={round(y)}
      text-anchor={anchor}
      font-size={size}
      font-weight={bold ? 'bold' : 'normal'}
      fill={grey ? GREY : INK}
      stroke={PAPER}
      stroke-width="3"
      stroke-linejoin="round"
      paint-order="stroke"
    >
      {text}
    </text>
  );
}

/** As fine as a screen shows. */
export function round(number: number): number {
  return Math.round(number * 100) / 100;
}

export function Line({
  from,
  to,
  width = 1.5,
  dashed = false,
  grey = false,
}: {
  from: PathPoint;
  to: PathPoint;
  width?: number;
  dashed?: boolean;
  grey?: boolean;
}) {
  return (
    <line
      x1={round(from.x)}
      y1={round(from.y)}
      x2={round(to.x)}
      y2={round(to.y)}
      stroke={grey ? GREY : INK}
      stroke-width={width}
      {...(dashed ? { 'stroke-dasharray': '5 4' } : {})}
    />
  );
}

/** A line with a head at its end. */
export function Arrow({ from, to, width = 2.5 }: { from: PathPoint; to: PathPoint; width?: number }) {
  const angle = Math.atan2(to.y - from.y, to.x - from.x);
  const head = (turn: number): string =>
    `${round(to.x - 11 * Math.cos(angle + turn))} ${round(to.y - 11 * Math.sin(angle + turn))}`;
  return (
    <path
      d={`M ${round(from.x)} ${round(from.y)} L ${round(to.x)} ${round(to.y)} M ${head(0.45)} L ${round(to.x)} ${round(to.y)} L ${head(-0.45)}`}
      fill="none"
      stroke={INK}
      stroke-width={width}
      stroke-linecap="round"
      stroke-linejoin="round"
    />
  );
}

/** A point on the screen, where y goes down, in a direction clockwise from the top. */
export function around(centre: PathPoint, radius: number, clockwise: number): PathPoint {
  const { x, y } = pointAt({ x: 0, y: 0 }, radius, clockwise);
  return { x: centre.x + x, y: centre.y - y };
}

/** The outline of an arc, degrees clockwise from the top. */
export function arcPath(centre: PathPoint, radius: number, from: number, wrap: number): string {
  if (Math.abs(wrap) >= 360) {
    const [one, other] = [around(centre, radius, from), around(centre, radius, from + 180)];
    return `M ${round(one.x)} ${round(one.y)} A ${round(radius)} ${round(radius)} 0 1 1 ${round(other.x)} ${round(other.y)} A ${round(radius)} ${round(radius)} 0 1 1 ${round(one.x)} ${round(one.y)}`;
  }
  const [start, end] = [around(centre, radius, from), around(centre, radius, from + wrap)];
  return `M ${round(start.x)} ${round(start.y)} A ${round(radius)} ${round(radius)} 0 ${Math.abs(wrap) > 180 ? 1 : 0} ${wrap > 0 ? 1 : 0} ${round(end.x)} ${round(end.y)}`;
}

/** A bent arrow that says which way something turns. */
export function TurnArrow({
  centre,
  radius,
  from,
  wrap,
}: {
  centre: PathPoint;
  radius: number;
  from: number;
  wrap: number;
}) {
  const end = around(centre, radius, from + wrap);
  const before = around(centre, radius, from + wrap - Math.sign(wrap) * 8);
  return (
    <>
      <path d={arcPath(centre, radius, from, wrap)} fill="none" stroke={INK} stroke-width="2.5" />
      <Arrow from={before} to={end} />
    </>
  );
}

/** Lines of words, broken at blanks where they are wider than the paper. */
export function wrapped(lines: readonly string[], width: number): readonly string[] {
  const most = Math.floor(width / 7.2);
  return lines.flatMap((line) => {
    const rows: string[] = [];
    let row = '';
    for (const word of line.split(' ')) {
      if (row !== '' && row.length + word.length + 1 > most) {
        rows.push(row);
        row = word;
      } else row = row === '' ? word : `${row} ${word}`;
    }
    return [...rows, row];
  });
}

/** The lines under a picture: from where it is seen, what to mind. */
export function Caption({ lines, width, y }: { lines: readonly string[]; width: number; y: number }) {
  return (
    <>
      {lines.map((line, i) => (
        <Words key={line} x={width / 2} y={y + i * 17} text={short(line, Math.ceil(width / 6.4))} size={13} grey />
      ))}
    </>
  );
}

/** A picture as an element of a page. */
export function PictureOf({ picture }: { picture: Picture }) {
  const { title, description, width, height, body } = picture;
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      viewBox={`0 0 ${round(width)} ${round(height)}`}
      width={round(width)}
      height={round(height)}
      role="img"
      font-family='"Liberation Sans", Arial, Helvetica, sans-serif'
    >
      <title>{title}</title>
      <desc>{description}</desc>
      <rect x="0" y="0" width={round(width)} height={round(height)} fill={PAPER} />
      {body}
    </svg>
  );
}
