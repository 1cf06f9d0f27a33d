// The bore from above with each ring's gap where the spec puts it, the pin axis and the thrust side.
import { spoken } from '../../grammar/spoken.ts';
import { toNumber } from '../mechanics/exact.ts';
import { withinTurn } from '../mechanics/piston-tops.ts';
import { angleBetween, thrustSide } from '../mechanics/round-places.ts';
import { takesIn } from '../model/measure.ts';
import { angleOf } from '../model/pointing.ts';
import type { Part, View } from '../model/view.ts';
import { degreesOf } from '../rehearsal/crank-angle.ts';
import {
  Arrow,
  arcPath,
  around,
  Caption,
  GREY,
  INK,
  LIGHT,
  Line,
  PAPER,
  type Picture,
  round,
  short,
  Words,
} from './drawing.tsx';
import { asWords, calledIn } from './words.ts';

export interface RingGap {
  readonly part: string;
  readonly name: string;
  /** Clockwise from the front, seen from above. */
  readonly degrees: number;
}

/** The gaps of one ring in one cylinder, as its rules say. */
export function gapsOf(part: Part, view: View, cylinder = 1): readonly RingGap[] {
  return part.statements.flatMap((each) =>
    each.kind !== 'orient'
      ? []
      : each.rules.flatMap((rule) => {
          if (!/gap/i.test(rule.feature.text)) return [];
          const at = rule.from === undefined ? degreesOf(rule.at) : angleOf(part, rule, view);
          if (at === undefined) return [];
          const isHere =
            rule.places.length === 0 ||
            rule.places.some((place) => takesIn(place, { name: undefined, number: cylinder }));
          return isHere ? [{ part: part.name, name: rule.feature.text, degrees: withinTurn(toNumber(at)) }] : [];
        }),
  );
}

/** Whether a ring's gap is turned by a rule of its part. */
const hasGap = (part: Part): boolean =>
  part.statements.some((each) => each.kind === 'orient' && each.rules.some(({ feature }) => /gap/i.test(feature.text)));

/** The gaps of all rings of one cylinder, in the order in which the rings are declared. */
export function ringGaps(view: View, cylinder = 1, rings: readonly Part[] = view.parts): readonly RingGap[] {
  return rings.flatMap((part) => gapsOf(part, view, cylinder));
}

/** Cylinders whose gaps stand otherwise than in the ones before, each with the cylinders that it stands for. */
export function gapSets(
  view: View,
): readonly { readonly cylinders: readonly number[]; readonly gaps: readonly RingGap[] }[] {
  const sets = new Map<string, { cylinders: number[]; gaps: readonly RingGap[] }>();
  const rings = view.parts.filter(hasGap);
  for (let cylinder = 1; cylinder <= Math.min(24, Math.max(1, view.engine?.cylinders ?? 1)); cylinder += 1) {
    const gaps = ringGaps(view, cylinder, rings);
    const key = JSON.stringify(gaps);
    const known = sets.get(key);
    if (known === undefined) sets.set(key, { cylinders: [cylinder], gaps });
    else known.cylinders.push(cylinder);
  }
  return [...sets.values()].filter((set) => set.gaps.length > 0);
}

/** What stands beside a gap: its own name, and of which ring where others are called the same. */
function labelOf(view: View, gap: RingGap, gaps: readonly RingGap[]): string {
  return gaps.filter((each) => each.name === gap.name).length > 1 ? calledIn(view, gap.part) : asWords(gap.name);
}

/** The picture of the gaps of a cylinder; undefined where none is said. */
export function ringGapsPicture(view: View, cylinder = 1): Picture | undefined {
  const gaps = ringGaps(view, cylinder).slice(0, 8);
  if (gaps.length === 0) return undefined;
  const sets = gapSets(view);
  const own = sets.find((set) => set.cylinders.includes(cylinder));
  const [width, bore] = [420, 118];
  const middle = { x: width / 2, y: 190 };
  const rotation = view.engine?.rotation;
  const thrust = rotation === undefined ? undefined : thrustSide(rotation);
  const thrustAt = thrust === 'left' ? 90 : 270;
  const step = Math.min(26, 78 / gaps.length);
  const between = gaps.flatMap((gap, i) =>
    gaps
      .slice(i + 1)
      .map(
        (other) =>
          spoken`${asWords(gap.name)} to ${asWords(other.name)} ${round(angleBetween(gap.degrees, other.degrees))} degrees`,
      ),
  );
  const whose = sets.length > 1 && own !== undefined ? `${spoken`Cylinder ${own.cylinders.join(', ')}.`} ` : '';
  return {
    title: sets.length > 1 ? spoken`Ring gaps, cylinder ${own?.cylinders.join(', ') ?? cylinder}` : spoken`Ring gaps`,
    description: `${whose}${[
      spoken`Seen from above, the front of the engine at the top, degrees clockwise.`,
      `${gaps.map((gap) => spoken`${asWords(gap.name)} of ${calledIn(view, gap.part)} at ${round(gap.degrees)} degrees`).join('; ')}.`,
      `${between.join('; ')}.`,
      spoken`The pin axis lies front to rear.`,
      ...(thrust === undefined
        ? []
        : thrust === 'left'
          ? [spoken`The thrust side is left, as seen from the front.`]
          : [spoken`The thrust side is right, as seen from the front.`]),
    ].join(' ')}`,
    width,
    height: 408,
    body: (
      <>
        <Arrow from={{ x: middle.x, y: 62 }} to={{ x: middle.x, y: 30 }} />
        <Words x={middle.x} y={22} text={spoken`FRONT`} size={16} bold />
        <circle cx={middle.x} cy={middle.y} r={bore + 8} fill={LIGHT} stroke={INK} stroke-width="1.5" />
        <circle cx={middle.x} cy={middle.y} r={bore} fill={PAPER} stroke={INK} stroke-width="1.5" />
        <Line from={{ x: middle.x, y: middle.y - bore + 4 }} to={{ x: middle.x, y: middle.y + bore - 4 }} dashed grey />
        <Words x={middle.x} y={middle.y + 34} text={spoken`pin axis`} size={13} grey />
        {thrust === undefined ? null : (
          <>
            <path d={arcPath(middle, bore + 4, thrustAt - 24, 48)} fill="none" stroke={INK} stroke-width="8" />
            <Words
              x={around(middle, bore + 16, thrustAt).x}
              y={middle.y + 44}
              text={spoken`thrust`}
              size={13}
              anchor={thrustAt === 90 ? 'start' : 'end'}
            />
            <Words
              x={around(middle, bore + 16, thrustAt).x}
              y={middle.y + 59}
              text={spoken`side`}
              size={13}
              anchor={thrustAt === 90 ? 'start' : 'end'}
            />
          </>
        )}
        {gaps.map((gap, i) => {
          const radius = bore - 9 - i * step;
          const ends = [around(middle, radius, gap.degrees - 5), around(middle, radius, gap.degrees + 5)] as const;
          const label = around(middle, bore + 22, gap.degrees);
          const side = label.x > middle.x + 20 ? 'start' : label.x < middle.x - 20 ? 'end' : 'middle';
          return (
            <g key={`${gap.part} ${gap.name} ${i}`}>
              <path d={arcPath(middle, radius, gap.degrees + 5, 350)} fill="none" stroke={GREY} stroke-width="4" />
              {ends.map((end, j) => (
                <circle key={j} cx={round(end.x)} cy={round(end.y)} r="4" fill={INK} />
              ))}
              <Line
                from={around(middle, radius, gap.degrees)}
                to={around(middle, bore + 14, gap.degrees)}
                width={1.2}
              />
              <Words
                x={label.x}
                y={label.y + 2}
                text={short(labelOf(view, gap, gaps), 15)}
                size={14}
                anchor={side}
                bold
              />
              <Words x={label.x} y={label.y + 17} text={`${round(gap.degrees)}°`} size={13} anchor={side} />
            </g>
          );
        })}
        <Caption
          lines={[spoken`Seen from above. Degrees clockwise, 0 at the front.`, ...(whose === '' ? [] : [whose.trim()])]}
          width={width}
          y={374}
        />
      </>
    ),
  };
}
