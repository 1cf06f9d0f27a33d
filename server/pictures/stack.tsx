// A limit as a bar: its bounds and wear limit, what the sizes of the parts come to at worst and usually, and what was measured.
import { spoken } from '../../grammar/spoken.ts';
import type { Exact } from '../mechanics/exact.ts';
import { type Unit, unitText } from '../mechanics/units.ts';
import {
  type LimitResult,
  limitBounds,
  numberInUnit,
  placeText,
  shownNumber,
  workOutLimit,
} from '../model/limit-sums.ts';
import type { Limit, View } from '../model/view.ts';
import { inUnit } from '../model/worked.ts';
import { Caption, INK, LIGHT, Line, PAPER, type Picture, round, short, Words } from './drawing.tsx';
import { calledIn } from './words.ts';

/** A measured value with its place, in base units. */
export interface MeasuredPoint {
  readonly place: string;
  readonly value: Exact;
}

interface Edges {
  readonly low: number;
  readonly high: number;
}

/** The figures of one bar, in the unit that they are shown in. */
export interface StackBar {
  readonly place: string;
  readonly unit: Unit;
  readonly places: number;
  readonly bounds: { readonly low: number | undefined; readonly high: number | undefined } | undefined;
  readonly wear: number | undefined;
  readonly worst: Edges | undefined;
  readonly usual: Edges | undefined;
  readonly measured: readonly { readonly place: string; readonly value: number }[];
}

const MOST_BARS = 8;

function barOf(
  limit: Limit,
  result: LimitResult | undefined,
  view: View,
  measured: readonly MeasuredPoint[],
): StackBar | undefined {
  const asked = result?.place ?? { index: 1, of: 1 };
  const bounds = result?.bounds ?? limitBounds(limit, 'within', asked, view);
  const wear = limitBounds(limit, 'wearLimit', asked, view);
  if (bounds === undefined && result === undefined && wear === undefined) return undefined;
  const said = bounds?.unit ?? [];
  const unit = said.length > 0 ? said : (result?.worked.unit ?? wear?.unit ?? []);
  const zero = result?.worked.zero ?? bounds?.zero;
  const shown = (edge: Exact): number => inUnit(edge, unit, zero);
  const shownIf = (edge: Exact | undefined): number | undefined => (edge === undefined ? undefined : shown(edge));
  const interval = result?.worked.stack.interval;
  return {
    place: placeText(result?.place),
    unit,
    places: bounds?.places ?? 3,
    bounds: bounds === undefined ? undefined : { low: shownIf(bounds.low), high: shownIf(bounds.high) },
    wear: shownIf(wear?.high ?? wear?.low),
    worst: interval === undefined ? undefined : { low: shown(interval.low), high: shown(interval.high) },
    usual:
      result === undefined
        ? undefined
        : {
            low: numberInUnit(result.statistical.low, unit, zero),
            high: numberInUnit(result.statistical.high, unit, zero),
          },
    measured: measured.map((each) => ({ place: each.place, value: shown(each.value) })),
  };
}

/** The bars of a limit: one, or one for each place where they differ. Empty where there is nothing to show. */
export function stackBars(limit: Limit, view: View, measured: readonly MeasuredPoint[] = []): readonly StackBar[] {
  const results = workOutLimit(limit, view).slice(0, MOST_BARS);
  return (results.length === 0 ? [undefined] : results).flatMap((result) => barOf(limit, result, view, measured) ?? []);
}

function edgesOf(bar: StackBar): readonly number[] {
  return [
    bar.bounds?.low,
    bar.bounds?.high,
    bar.wear,
    bar.worst?.low,
    bar.worst?.high,
    ...bar.measured.map((each) => each.value),
  ].filter((edge) => edge !== undefined);
}

const [WIDTH, LEFT, RIGHT, ROW] = [520, 30, 490, 118];

function Bar({ bar, y, toX }: { bar: StackBar; y: number; toX: (value: number) => number }) {
  const number = (value: number): string => shownNumber(value, bar.unit, bar.places);
  const [low, high] = [bar.bounds?.low, bar.bounds?.high];
  const from = low === undefined ? LEFT : toX(low);
  const to = high === undefined ? RIGHT : toX(high);
  return (
    <g>
      {bar.place === '' ? null : <Words x={LEFT} y={y + 4} text={bar.place} size={14} anchor="start" bold />}
      {bar.bounds === undefined ? null : (
        <>
          <rect
            x={round(from)}
            y={y + 26}
            width={round(Math.max(2, to - from))}
            height="30"
            fill={LIGHT}
            stroke={INK}
            stroke-width="1"
          />
          {low === undefined ? null : <Words x={from} y={y + 20} text={number(low)} size={15} bold />}
          {high === undefined ? null : <Words x={to} y={y + 20} text={number(high)} size={15} bold />}
        </>
      )}
      {bar.wear === undefined ? null : (
        <>
          <Line from={{ x: toX(bar.wear), y: y + 22 }} to={{ x: toX(bar.wear), y: y + 62 }} width={3} />
          <Words x={toX(bar.wear)} y={y + 96} text={spoken`wear ${number(bar.wear)}`} size={13} />
        </>
      )}
      {bar.worst === undefined ? null : (
        <>
          <Line from={{ x: toX(bar.worst.low), y: y + 68 }} to={{ x: toX(bar.worst.high), y: y + 68 }} width={2} />
          {[bar.worst.low, bar.worst.high].map((edge, i) => (
            <Line key={i} from={{ x: toX(edge), y: y + 62 }} to={{ x: toX(edge), y: y + 74 }} width={2} />
          ))}
        </>
      )}
      {bar.usual === undefined ? null : (
        <Line from={{ x: toX(bar.usual.low), y: y + 68 }} to={{ x: toX(bar.usual.high), y: y + 68 }} width={8} grey />
      )}
      {bar.measured.map((each, i) => (
        <g key={`${each.place} ${i}`}>
          <path
            d={`M ${round(toX(each.value))} ${y + 27} l 7 14 l -7 14 l -7 -14 Z`}
            fill={PAPER}
            stroke={INK}
            stroke-width="2"
          />
          <Words x={toX(each.value)} y={y + 45} text={short(each.place, 4)} size={10} />
        </g>
      ))}
    </g>
  );
}

/** The picture of a limit; undefined where nothing is known of it. */
export function stackPicture(limit: Limit, view: View, measured: readonly MeasuredPoint[] = []): Picture | undefined {
  const bars = stackBars(limit, view, measured);
  const edges = bars.flatMap(edgesOf);
  const [first] = bars;
  if (first === undefined || edges.length === 0) return undefined;
  const [least, most] = [Math.min(...edges), Math.max(...edges)];
  const room = (most - least || Math.abs(most) || 1) * 0.12;
  const toX = (value: number): number =>
    LEFT + 24 + ((value - least + room) / (most - least + 2 * room)) * (RIGHT - LEFT - 48);
  const unit = unitText(first.unit);
  const number = (value: number | undefined): string =>
    value === undefined ? '' : shownNumber(value, first.unit, first.places);
  const range = (low: number | undefined, high: number | undefined): string =>
    low === undefined
      ? spoken`at most ${number(high)}`
      : high === undefined
        ? spoken`at least ${number(low)}`
        : spoken`${number(low)} to ${number(high)}`;
  const told = bars.map((bar) =>
    [
      bar.place === '' ? '' : `${bar.place}:`,
      bar.bounds === undefined
        ? spoken`no bounds are said`
        : spoken`must be ${`${range(bar.bounds.low, bar.bounds.high)} ${unit}`}`,
      bar.wear === undefined ? '' : spoken`wear limit ${`${number(bar.wear)} ${unit}`}`,
      bar.worst === undefined
        ? ''
        : spoken`the sizes of the parts come to ${`${range(bar.worst.low, bar.worst.high)} ${unit}`} at worst`,
      bar.usual === undefined ? '' : spoken`usually ${`${range(bar.usual.low, bar.usual.high)} ${unit}`}`,
      bar.measured.length === 0
        ? ''
        : spoken`measured: ${bar.measured.map((each) => `${each.place} ${number(each.value)}`.trim()).join(', ')}`,
    ]
      .filter((each) => each !== '')
      .join(', '),
  );
  const called = calledIn(view, limit.name);
  const lines = [
    unit === '' ? spoken`The grey box: where it must lie.` : spoken`In ${unit}. The grey box: where it must lie.`,
    ...(first.worst === undefined
      ? []
      : [spoken`Below: what the sizes come to; thin at worst, thick in nearly all assemblies.`]),
    ...(first.measured.length === 0 ? [] : [spoken`Diamonds: measured.`]),
  ];
  return {
    title: spoken`Limit: ${called}`,
    description: `${called}: ${told.join('; ')}.`,
    width: WIDTH,
    height: 34 + bars.length * ROW + lines.length * 17,
    body: (
      <>
        <Words x={LEFT} y={20} text={short(called, 48)} size={15} anchor="start" bold />
        {bars.map((bar, i) => (
          <Bar bar={bar} y={34 + i * ROW} toX={toX} key={bar.place} />
        ))}
        <Caption lines={lines} width={WIDTH} y={34 + bars.length * ROW} />
      </>
    ),
  };
}
