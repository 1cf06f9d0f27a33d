// What is on the engine at a step, what covers what, and what lies on the bench: the outermost first, which is the next to come off.

import { speak, spoken } from '../../grammar/spoken.ts';
import { told } from '../../grammar/told.ts';
import type { View } from '../model/view.ts';
import type { Stands } from '../rehearsal/stands.ts';
import { Caption, GREY, INK, PAPER, type Picture, round, short, Words } from './drawing.tsx';
import { calledIn, isOf } from './words.ts';

export interface OnEngine {
  readonly part: string;
  /** So many of so many places. */
  readonly on: number;
  readonly of: number;
  readonly state: 'held back' | 'pinned' | undefined;
  /** What it covers, directly. */
  readonly covers: readonly OnEngine[];
}

export interface WhatIsOn {
  /** The outermost, with what they cover in them. */
  readonly on: readonly OnEngine[];
  readonly off: readonly string[];
}

/** How the parts stand at a moment, each under what covers it. */
export function whatIsOn(view: View, stands: Stands): WhatIsOn {
  const isOn = (name: string): boolean => (stands.on.get(name) ?? 0) > 0;
  const parts = view.parts.filter((part) => view.things.get(part.name) === part);
  const placed = new Set<string>();
  const entry = (name: string): OnEngine[] => {
    const part = view.things.get(name);
    if (part?.kind !== 'part' || placed.has(name)) return [];
    placed.add(name);
    return [
      {
        part: name,
        on: stands.on.get(name) ?? 0,
        of: Math.max(1, part.count),
        state: stands.heldBack.has(name) ? 'held back' : stands.pinned.has(name) ? 'pinned' : undefined,
        covers: parts.flatMap((other) => (stands.coveredBy.get(other.name) === name ? entry(other.name) : [])),
      },
    ];
  };
  const outside = parts.filter((part) => isOn(part.name) && !stands.coveredBy.has(part.name));
  return {
    on: outside.flatMap((part) => entry(part.name)),
    off: parts.filter((part) => !isOn(part.name)).map((part) => part.name),
  };
}

interface Row {
  readonly depth: number;
  readonly part: string;
  readonly text: string;
  readonly isCover: boolean;
}

function rowsOf(all: readonly OnEngine[], view: View, depth = 0): readonly Row[] {
  return all.flatMap((each) => [
    {
      depth,
      part: each.part,
      text: `${calledIn(view, each.part)}${each.on < each.of ? ` (${isOf(each.on, each.of)})` : ''}${each.state === undefined ? '' : `, ${speak(each.state === 'held back' ? told`held back` : told`pinned`)}`}`,
      isCover: each.covers.length > 0,
    },
    ...rowsOf(each.covers, view, depth + 1),
  ]);
}

const [WIDTH, LINE] = [520, 24];
const MOST = 60;

/** The picture of a moment; `changed` are the parts that this step put on or took off. */
export function whatIsOnPicture(
  view: View,
  stands: Stands,
  changed: ReadonlySet<string> = new Set(),
): Picture | undefined {
  const { on, off: lying } = whatIsOn(view, stands);
  const rows = rowsOf(on, view).slice(0, MOST);
  const off = lying.slice(0, MOST);
  if (rows.length + off.length === 0) return undefined;
  const height = 66 + Math.max(rows.length, off.length, 1) * LINE;
  const covers = on
    .filter((each) => each.covers.length > 0)
    .map(
      (each) =>
        spoken`${calledIn(view, each.part)} covers ${each.covers.map((one) => calledIn(view, one.part)).join(', ')}`,
    );
  return {
    title: spoken`What is on`,
    description: [
      spoken`On the engine, the outside first: ${rowsOf(on, view)
        .map((row) => row.text)
        .join(', ')}.`,
      ...(covers.length === 0 ? [] : [`${covers.join('; ')}.`]),
      spoken`On the bench: ${lying.map((name) => calledIn(view, name)).join(', ') || told`nothing`}.`,
    ].join(' '),
    width: WIDTH,
    height: height + 24,
    body: (
      <>
        <Words x={14} y={24} text={spoken`On the engine`} size={17} anchor="start" bold />
        <Words x={330} y={24} text={spoken`On the bench`} size={17} anchor="start" bold />
        {rows.length === 0 ? <Words x={14} y={56} text={spoken`nothing yet`} size={14} anchor="start" grey /> : null}
        {rows.map((row, i) => {
          const [x, y] = [14 + row.depth * 22, 38 + i * LINE];
          return (
            <g key={row.part}>
              <rect
                x={x}
                y={y}
                width={round(Math.max(60, 296 - row.depth * 22))}
                height={LINE - 3}
                rx="4"
                fill={row.isCover ? '#dedede' : row.depth > 0 ? '#f1f1f1' : PAPER}
                stroke={changed.has(row.part) ? INK : GREY}
                stroke-width={changed.has(row.part) ? 3 : 1}
              />
              <Words
                x={x + 8}
                y={y + 15}
                text={short(row.text, 40 - row.depth * 3)}
                size={13}
                anchor="start"
                bold={changed.has(row.part)}
              />
            </g>
          );
        })}
        {off.length === 0 ? <Words x={330} y={56} text={spoken`nothing`} size={14} anchor="start" grey /> : null}
        {off.map((name, i) => (
          <Words
            key={name}
            x={330}
            y={54 + i * LINE}
            text={short(calledIn(view, name), 26)}
            size={13}
            anchor="start"
            bold={changed.has(name)}
          />
        ))}
        <Caption
          lines={[spoken`What is under a cover stands in from it. Bold: changed by this step.`]}
          width={WIDTH}
          y={height + 6}
        />
      </>
    ),
  };
}
