// The tightening order: bolts as they lie, in rows or round a wheel, with their numbers and a box for each stage.
import { spoken } from '../../grammar/spoken.ts';
import { boltCircle, roundInRows } from '../mechanics/round-places.ts';
import type { Fastener, View } from '../model/view.ts';
import { Arrow, around, Caption, INK, PAPER, type Picture, round, Words } from './drawing.tsx';
import { calledIn } from './words.ts';

export interface BoltPlace {
  /** When it has its turn. */
  readonly number: number;
  /** From the top left corner, where neighbours in a row are one apart. */
  readonly x: number;
  readonly y: number;
}

export interface BoltLayout {
  readonly sort: 'rows' | 'circle';
  readonly places: readonly BoltPlace[];
  readonly width: number;
  readonly height: number;
  /** The order is that of each of these. */
  readonly each: string | undefined;
}

/** Whether what is clamped turns: its bolts lie round its middle. */
function clampsWheel(fastener: Fastener, view: View): boolean {
  return fastener.clamps.some(({ part }) => {
    const thing = view.things.get(part);
    return thing?.kind === 'part' && (thing.fixedTo !== undefined || thing.teeth !== undefined);
  });
}

/** Where the bolts of a fastener lie, as its order is drawn in the spec; undefined without one. */
export function boltLayout(fastener: Fastener, view: View): BoltLayout | undefined {
  const [order] = fastener.orders;
  if (order === undefined || order.rows.length === 0) return undefined;
  const each = order.each?.owner.text;
  const rows = order.rows.map((row) => row.map((bolt) => bolt.value));
  const all = rows.flat();
  // Drawn round a circle, the first at the top; or in rows, where what is clamped turns.
  const drawn = { places: all.map((_number, at) => ({ row: 0, at })), firstAt: 0 };
  const circle = order.circle
    ? drawn
    : clampsWheel(fastener, view)
      ? roundInRows(rows.map((row) => row.length))
      : undefined;
  if (circle !== undefined) {
    const count = circle.places.length;
    // Neighbours on the circle are one apart.
    const radius = 0.5 / Math.sin(Math.PI / count);
    const middle = { x: radius + 0.5, y: radius + 0.5 };
    const directions = boltCircle(count, circle.firstAt);
    const places = circle.places.map(({ row, at }, i) => ({
      number: (order.circle ? all[at] : rows[row]?.[at]) ?? 0,
      ...around(middle, radius, directions[i] ?? 0),
    }));
    return { sort: 'circle', places, width: 2 * radius + 1, height: 2 * radius + 1, each };
  }
  const most = Math.max(1, ...rows.map((row) => row.length));
  const places = rows.flatMap((row, y) =>
    row.map((number, x) => ({ number, x: ((x + 0.5) * most) / row.length, y: y + 0.5 })),
  );
  return { sort: 'rows', places, width: most, height: rows.length, each };
}

/** A picture of the order with `stages` boxes at each bolt. Undefined where the spec draws none. */
export function tighteningOrder(fastener: Fastener, view: View): Picture | undefined {
  const layout = boltLayout(fastener, view);
  if (layout === undefined) return undefined;
  const stages = Math.min(6, fastener.stages.length);
  const box = 13;
  const across = Math.max(58, stages * (box + 3) + 12);
  const down = stages > 0 ? 74 : 56;
  const left = layout.sort === 'rows' ? 74 : 12;
  const width = Math.max(300, left + layout.width * across + 12);
  const height = layout.height * down + 16;
  const inOrder = [...layout.places].sort((one, other) => one.number - other.number);
  const called = calledIn(view, fastener.name);
  const middle = { x: 40, y: height / 2 };
  const lines = [
    layout.sort === 'rows'
      ? spoken`As the bolts lie, front to the left.`
      : spoken`As you face the bolts, drawn evenly round.`,
    ...(stages > 0
      ? [
          stages === 1
            ? spoken`A box at each bolt for each of ${stages} stage.`
            : spoken`A box at each bolt for each of ${stages} stages.`,
        ]
      : []),
    ...(layout.each === undefined ? [] : [spoken`The same for each ${calledIn(view, layout.each)}.`]),
  ];
  return {
    title: spoken`Tightening order: ${called}`,
    description: `${lines.join(' ')} ${inOrder
      .map(({ number, x, y }) =>
        layout.sort === 'rows'
          ? spoken`${number}: row ${Math.floor(y) + 1}, ${round(x)} from the front`
          : String(number),
      )
      .join('; ')}.`,
    width,
    height: height + lines.length * 17 + 8,
    body: (
      <>
        {layout.sort === 'rows' ? (
          <>
            <Arrow from={{ x: 64, y: middle.y + 14 }} to={{ x: 14, y: middle.y + 14 }} />
            <Words x={38} y={middle.y} text={spoken`FRONT`} size={15} bold />
          </>
        ) : null}
        {layout.places.map(({ number, x, y }, i) => {
          const at = { x: left + x * across, y: 8 + y * down - (stages > 0 ? 9 : 0) };
          return (
            <g key={`${number} ${i}`}>
              <circle cx={round(at.x)} cy={round(at.y)} r="19" fill={PAPER} stroke={INK} stroke-width="2" />
              <Words x={at.x} y={at.y + 7} text={String(number)} size={20} bold />
              {Array.from({ length: stages }, (_none, stage) => (
                <rect
                  key={stage}
                  x={round(at.x - (stages * (box + 3)) / 2 + stage * (box + 3) + 1.5)}
                  y={round(at.y + 25)}
                  width={box}
                  height={box}
                  fill={PAPER}
                  stroke={INK}
                  stroke-width="1.3"
                />
              ))}
            </g>
          );
        })}
        <Caption lines={lines} width={width} y={height + 14} />
      </>
    ),
  };
}
