// Which way round a part goes: its arrow on the plan of the engine, for each of its places.

import { speak, spoken } from '../../grammar/spoken.ts';
import { type Told, told } from '../../grammar/told.ts';
import type { OrientRule } from '../../grammar/tree.ts';
import { takesIn } from '../model/measure.ts';
import type { Part, View } from '../model/view.ts';
import { Arrow, Caption, INK, PAPER, type Picture, round, short, Words } from './drawing.tsx';
import { Plan, planOf } from './engine-map.tsx';
import { asWords, calledIn, isOf } from './words.ts';

/** On a plan with the front to the left: which way an arrow points; up and down stand out of the paper. */
const ON_PLAN: ReadonlyMap<string, { readonly x: number; readonly y: number }> = new Map([
  ['front', { x: -1, y: 0 }],
  ['rear', { x: 1, y: 0 }],
  ['left', { x: 0, y: -1 }],
  ['right', { x: 0, y: 1 }],
]);

export interface WayRound {
  readonly feature: string;
  /** `front`, `up`, or the feature of another part in words. */
  readonly toward: string;
  /** On the plan; undefined for what stands out of it. */
  readonly arrow: { readonly x: number; readonly y: number } | undefined;
  readonly rule: OrientRule;
}

/** The rules of a part that say a direction; gaps at an angle are in a picture of their own. */
export function waysRound(part: Part): readonly WayRound[] {
  return part.statements.flatMap((each) =>
    each.kind !== 'orient'
      ? []
      : each.rules.flatMap((rule) => {
          const { target } = rule;
          const toward =
            rule.direction?.word ??
            (target === undefined
              ? undefined
              : target.feature === undefined
                ? asWords(target.owner.text)
                : isOf(asWords(target.feature.text), asWords(target.owner.text)));
          return toward === undefined ? [] : [{ feature: rule.feature.text, toward, arrow: ON_PLAN.get(toward), rule }];
        }),
  );
}

const STANDING: ReadonlyMap<string, Told> = new Map([
  ['up', told`up, away from the sump`],
  ['down', told`down, toward the sump`],
  ['front', told`toward the front`],
  ['rear', told`toward the rear`],
  ['left', told`toward left`],
  ['right', told`toward right`],
  ['inlet', told`toward the inlet side`],
  ['exhaust', told`toward the exhaust side`],
]);

function placesText(rule: OrientRule): string {
  return rule.places
    .map((place) =>
      [
        place.name?.text,
        place.from === undefined
          ? ''
          : place.to === undefined || place.to === place.from
            ? String(place.from)
            : spoken`${place.from} to ${place.to}`,
      ]
        .filter((each) => each !== undefined && each !== '')
        .join(' '),
    )
    .join(', ');
}

function ruleText(way: WayRound): string {
  const places = placesText(way.rule);
  return `${asWords(way.feature)} ${speak(STANDING.get(way.toward) ?? told`toward ${way.toward}`)}${places === '' ? '' : ` (${places})`}`;
}

const MOST_LETTERS = 60;

/** The picture of a part; undefined where no direction is said of it. */
export function wayRound(part: Part, view: View): Picture | undefined {
  const ways = waysRound(part);
  if (ways.length === 0) return undefined;
  const plan = planOf(view.engine);
  const byCylinder = part.count === view.engine?.cylinders && !plan.isRound;
  const flat = ways.filter((way) => way.arrow !== undefined);
  // What stands out of the paper is said beside its sign, in letters of 15.
  const longest = Math.max(0, ...ways.filter((way) => way.arrow === undefined).map((way) => ruleText(way).length));
  const width = Math.max(360, plan.width, 80 + Math.min(longest, MOST_LETTERS) * 8.6);
  const planHeight = flat.length === 0 ? 0 : byCylinder ? plan.height : 130;
  const others = ways.filter((way) => way.arrow === undefined);
  const height = planHeight + 16 + others.length * 52 + flat.length * 4;
  const texts = ways.map(ruleText);
  const lines =
    planHeight > 0 ? [spoken`Seen from above; left and right as seen from the front.`, ...flat.map(ruleText)] : [];
  const called = calledIn(view, part.name);
  return {
    title: spoken`Which way round: ${called}`,
    description: `${called}: ${texts.join('; ')}. ${spoken`Left and right are as seen from the front, sump down.`}`,
    width,
    height: height + lines.length * 17 + 8,
    body: (
      <>
        {byCylinder && flat.length > 0 ? (
          <Plan
            plan={plan}
            inside={(number, x, y) => (
              <>
                {flat.map((way) => {
                  const isHere =
                    way.rule.places.length === 0 ||
                    way.rule.places.some((place) => takesIn(place, { name: undefined, number }));
                  const { arrow } = way;
                  return isHere && arrow !== undefined ? (
                    <Arrow
                      key={way.rule.start}
                      from={{ x: x - arrow.x * 17, y: y - arrow.y * 17 }}
                      to={{ x: x + arrow.x * 20, y: y + arrow.y * 20 }}
                      width={4}
                    />
                  ) : null;
                })}
                <Words x={x + 26} y={y - 20} text={String(number)} size={15} bold />
              </>
            )}
          />
        ) : flat.length > 0 ? (
          <>
            <Arrow from={{ x: 62, y: 77 }} to={{ x: 14, y: 77 }} />
            <Words x={37} y={65} text={spoken`FRONT`} size={15} bold />
            <rect x="84" y="18" width={width - 104} height="94" rx="8" fill="#f1f1f1" stroke={INK} stroke-width="1.5" />
            {flat.map((way, i) => {
              const x = 84 + ((i + 0.5) * (width - 104)) / flat.length;
              const { arrow } = way;
              return arrow === undefined ? null : (
                <g key={way.rule.start}>
                  <Arrow
                    from={{ x: x - arrow.x * 34, y: 62 - arrow.y * 30 }}
                    to={{ x: x + arrow.x * 34, y: 62 + arrow.y * 30 }}
                    width={5}
                  />
                  <Words
                    x={x + (arrow.x === 0 ? 44 : 0)}
                    y={arrow.x === 0 ? 66 : 98}
                    text={short(asWords(way.feature), 16)}
                    size={14}
                    bold
                  />
                </g>
              );
            })}
          </>
        ) : null}
        {others.map((way, i) => {
          const y = planHeight + 12 + i * 52;
          const up = way.toward === 'up' ? -1 : way.toward === 'down' ? 1 : 0;
          return (
            <g key={way.rule.start}>
              <rect x="12" y={round(y)} width="44" height="44" rx="6" fill={PAPER} stroke={INK} stroke-width="2" />
              {up === 0 ? (
                <Arrow from={{ x: 20, y: y + 22 }} to={{ x: 48, y: y + 22 }} width={4} />
              ) : (
                <Arrow from={{ x: 34, y: y + 22 - up * 14 }} to={{ x: 34, y: y + 22 + up * 15 }} width={4} />
              )}
              <Words x={70} y={y + 28} text={short(ruleText(way), MOST_LETTERS)} size={15} anchor="start" />
            </g>
          );
        })}
        <Caption lines={lines} width={width} y={height + 8} />
      </>
    ),
  };
}
