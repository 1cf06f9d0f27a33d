// The engine from above: cylinders numbered in their banks, front, rotation, throws of the crank and firing order; and the plan of it that
// which-way-round draws its arrows on.

import { spoken } from '../../grammar/spoken.ts';
import { told } from '../../grammar/told.ts';
import { toNumber } from '../mechanics/exact.ts';
import { engineStatement } from '../model/engine-figures.ts';
import { engineLayout, firingVerdict } from '../model/engine-sums.ts';
import { measureOf } from '../model/measure.ts';
import type { Engine, View } from '../model/view.ts';
import {
  Arrow,
  around,
  Caption,
  INK,
  Line,
  PAPER,
  type Picture,
  round,
  TurnArrow,
  Words,
  wrapped,
} from './drawing.tsx';
import { layoutWords, listed } from './words.ts';

export interface CylinderPlace {
  readonly number: number;
  /** From the front, in steps of one cylinder. */
  readonly along: number;
  /** Left and right are as seen from the front; `only` in a single row. */
  readonly bank: 'left' | 'right' | 'only';
  /** Of a radial: degrees clockwise from the top, seen from the front. */
  readonly round?: number;
}

/** Where the cylinders lie: in the order of their numbers in each bank, the lowest nearest the front. Empty where the engine does not say. */
export function cylinderPlaces(engine: Engine | undefined): readonly CylinderPlace[] {
  const count = Math.min(48, engine?.cylinders ?? 0);
  const layout = engineLayout(engine);
  const numbers = Array.from({ length: count }, (_none, i) => i + 1);
  if (layout?.kind === 'radial')
    return numbers.map((number, i) => ({ number, along: 0, bank: 'only', round: (360 * i) / count }));
  if (layout === undefined || layout.kind === 'inline')
    return numbers.map((number, i) => ({ number, along: i, bank: 'only' }));
  const sideOf = new Map<number, 'left' | 'right'>();
  for (const statement of engine?.statements ?? [])
    if (statement.kind === 'bank' && (statement.side.word === 'left' || statement.side.word === 'right'))
      for (const cylinder of statement.cylinders) sideOf.set(cylinder.value, statement.side.word);
  const saysLeft = [...sideOf.values()].includes('left');
  // What one `bank` leaves is the other; without any, odd numbers on the left are the usual.
  const bankOf = (number: number): 'left' | 'right' =>
    sideOf.get(number) ?? (sideOf.size === 0 ? (number % 2 === 1 ? 'left' : 'right') : saysLeft ? 'right' : 'left');
  const along = { left: 0, right: 0 };
  return numbers.map((number) => {
    const bank = bankOf(number);
    const place = { number, along: along[bank], bank };
    along[bank] += 1;
    return place;
  });
}

export interface PlanDrawing {
  readonly width: number;
  readonly height: number;
  readonly places: readonly { readonly number: number; readonly x: number; readonly y: number }[];
  readonly isRound: boolean;
}

/** Cylinders on paper, the front to the left; seen from the front for a radial. */
export function planOf(engine: Engine | undefined): PlanDrawing {
  const places = cylinderPlaces(engine);
  const isRound = places.some((place) => place.round !== undefined);
  if (isRound) {
    const middle = { x: 150, y: 150 };
    return {
      width: 300,
      height: 300,
      isRound,
      places: places.map((place) => ({ number: place.number, ...around(middle, 108, place.round ?? 0) })),
    };
  }
  const most = Math.max(1, ...places.map((place) => place.along + 1));
  const banks = places.some((place) => place.bank === 'right') ? 2 : 1;
  const left = 84;
  // Who looks at the front has the left bank at the top of a plan whose front is on the left.
  const row = (bank: CylinderPlace['bank']): number => (bank === 'right' ? 1 : 0);
  return {
    width: left + most * 62 + 22,
    height: banks * 66 + 24,
    isRound,
    places: places.map((place) => ({
      number: place.number,
      x: left + place.along * 62 + 31 + (row(place.bank) === 1 ? 9 : 0),
      y: 12 + row(place.bank) * 66 + 33,
    })),
  };
}

/** The plan with its front; what is drawn into each cylinder is given. */
export function Plan({
  plan,
  inside,
}: {
  plan: PlanDrawing;
  inside: (number: number, x: number, y: number) => preact.ComponentChildren;
}) {
  const middle = plan.height / 2;
  return (
    <>
      {plan.isRound ? (
        <circle cx="150" cy="150" r="62" fill="none" stroke={INK} stroke-width="1.5" />
      ) : (
        <>
          <rect
            x="72"
            y="6"
            width={plan.width - 78}
            height={plan.height - 12}
            rx="8"
            fill="#f1f1f1"
            stroke={INK}
            stroke-width="1.5"
          />
          <Arrow from={{ x: 62, y: middle + 12 }} to={{ x: 14, y: middle + 12 }} />
          <Words x={37} y={middle} text={spoken`FRONT`} size={15} bold />
        </>
      )}
      {plan.places.map(({ number, x, y }) => (
        <g key={number}>
          <circle cx={round(x)} cy={round(y)} r="25" fill={PAPER} stroke={INK} stroke-width="2" />
          {inside(number, x, y)}
        </g>
      ))}
    </>
  );
}

interface Throw {
  readonly cylinders: readonly number[];
  /** In the direction of rotation. */
  readonly angle: number;
}

/** The throws of the crank as the spec gives them. */
function throwsOf(engine: Engine | undefined): readonly Throw[] {
  return (engine?.statements ?? []).flatMap((each) => {
    const measure = each.kind === 'crankpin' ? measureOf(each.angle) : undefined;
    return each.kind !== 'crankpin' || measure === undefined
      ? []
      : [{ cylinders: each.cylinders.map((one) => one.value), angle: toNumber(measure.interval.nominal) }];
  });
}

/** The picture of the engine; undefined without an engine that says how many cylinders it has. */
export function engineMap(view: View): Picture | undefined {
  const { engine } = view;
  if (engine?.cylinders === undefined) return undefined;
  const plan = planOf(engine);
  const order = engineStatement(engine, 'firing-order')?.order.map((each) => each.value) ?? [];
  const verdict = firingVerdict(engine);
  const angles = verdict?.verdict === 'fits' ? verdict.firingAngles : new Map<number, number>();
  const throws = throwsOf(engine);
  const clockwise = engine.rotation !== 'anticlockwise';
  const width = Math.max(plan.width, 470);
  const crankY = plan.height + 124;
  const centre = { x: 130, y: crankY };
  const height = plan.height + (throws.length > 0 || engine.rotation !== undefined ? 244 : 30);
  const places = cylinderPlaces(engine);
  const bankText = (bank: 'left' | 'right'): string => {
    const own = places.filter((place) => place.bank === bank).map((place) => String(place.number));
    return own.length === 0
      ? ''
      : bank === 'left'
        ? spoken`left bank ${listed(own)}`
        : spoken`right bank ${listed(own)}`;
  };
  const banks = [bankText('left'), bankText('right')].filter((each) => each !== '');
  const lines = wrapped(
    [
      plan.isRound ? spoken`Seen from the front.` : spoken`Seen from above, front to the left; numbers from the front.`,
      ...(order.length === 0 ? [] : [spoken`Firing order ${order.join('-')}.`]),
    ],
    width,
  );
  return {
    title: spoken`Engine map`,
    description: [
      `${spoken`${engine.cylinders} cylinders${engine.layout === undefined ? '' : `, ${layoutWords(engine.layout)}`}`}${banks.length === 0 ? '' : spoken`; ${banks.join(', ')}, as seen from the front`}.`,
      engine.rotation === undefined
        ? ''
        : spoken`The crankshaft turns ${told.term(engine.rotation)}, seen from the front.`,
      throws.length === 0
        ? ''
        : spoken`Crankpins, in the direction of rotation: ${throws.map((each) => spoken`${listed(each.cylinders.map(String))} at ${round(each.angle)} degrees`).join('; ')}.`,
      ...lines,
      angles.size === 0
        ? ''
        : spoken`Each fires so many degrees of crankshaft after cylinder 1: ${[...angles].map(([cylinder, angle]) => `${cylinder} ${round(angle)}`).join(', ')}.`,
    ]
      .filter((each) => each !== '')
      .join(' '),
    width,
    height: height + lines.length * 17,
    body: (
      <>
        <Plan
          plan={plan}
          inside={(number, x, y) => (
            <>
              <Words x={x} y={y + (angles.has(number) ? 2 : 7)} text={String(number)} size={21} bold />
              {angles.has(number) ? (
                <Words x={x} y={y + 18} text={`${round(angles.get(number) ?? 0)}°`} size={12} grey />
              ) : null}
            </>
          )}
        />
        {throws.length === 0 && engine.rotation === undefined ? null : (
          <>
            <circle
              cx={centre.x}
              cy={centre.y}
              r="74"
              fill="none"
              stroke={INK}
              stroke-width="1"
              stroke-dasharray="3 4"
            />
            <circle cx={centre.x} cy={centre.y} r="14" fill="#f1f1f1" stroke={INK} stroke-width="2" />
            {throws.map((each) => {
              const at = clockwise ? each.angle : -each.angle;
              const pin = around(centre, 74, at);
              return (
                <g key={each.cylinders.join()}>
                  <Line from={around(centre, 14, at)} to={pin} width={9} />
                  <circle cx={round(pin.x)} cy={round(pin.y)} r="15" fill={PAPER} stroke={INK} stroke-width="2.5" />
                  <Words x={pin.x} y={pin.y + 5} text={each.cylinders.join(',')} size={14} bold />
                </g>
              );
            })}
            {engine.rotation === undefined ? null : (
              <TurnArrow centre={centre} radius={38} from={clockwise ? 20 : -20} wrap={clockwise ? 70 : -70} />
            )}
            <Words x={250} y={crankY - 26} text={spoken`Crank, from the front`} size={14} anchor="start" bold />
            <Words
              x={250}
              y={crankY - 6}
              text={
                engine.rotation === undefined ? spoken`rotation not said` : spoken`turns ${told.term(engine.rotation)}`
              }
              size={14}
              anchor="start"
            />
            <Words x={250} y={crankY + 14} text={spoken`small: fires so many degrees`} size={13} anchor="start" grey />
            <Words x={250} y={crankY + 30} text={spoken`after cylinder 1`} size={13} anchor="start" grey />
          </>
        )}
        <Caption lines={lines} width={width} y={height} />
      </>
    ),
  };
}
