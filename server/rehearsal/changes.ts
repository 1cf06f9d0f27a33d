// What has changed on the engine between two moments of the rehearsal, in words. Nothing is judged here.
import { lookUp } from '../../grammar/look-up.ts';
import { textOf } from '../../grammar/told.ts';
import { type Exact, toNumber } from '../mechanics/exact.ts';
import { workOutDrive } from '../model/drive-sums.ts';
import { inPlay } from '../model/in-play.ts';
import type { Part, Thing, View } from '../model/view.ts';
import type { Fact } from './action-rule.ts';
import { ACTION_RULES } from './actions/table.ts';
import { angleText } from './crank-angle.ts';
import type { DriveState } from './drive-state.ts';
import { type FastenerState, FINAL, LOOSE, OUT, SNUG } from './fastener-state.ts';
import { inPlaces } from './in-words.ts';
import { OFF } from './part-state.ts';
import type { State } from './state.ts';

/** What of the engine is told, by name. A text is compared as it is; places are told by number. */
export interface Snapshot {
  readonly on: ReadonlyMap<string, readonly number[]>;
  readonly facts: ReadonlyMap<string, string>;
}

/** How a screw stands: out, loose, snug, at a stage, tight. */
export function stageText(stage: number, of: number): string {
  if (stage === OUT) return 'out';
  if (stage === LOOSE) return 'loose';
  if (stage === SNUG) return 'snug';
  return stage === FINAL || stage - SNUG >= of ? 'tight' : `at stage ${stage - SNUG} of ${of}`;
}

function fastenerText({ fastener, stages }: FastenerState): string {
  const texts = [...new Set([...stages].map((stage) => stageText(stage, Math.max(1, fastener.stages.length))))];
  return texts.join(' and ');
}

function linksText(moved: Exact | undefined, drive: DriveState['drive'], view: View): string {
  if (moved === undefined) return 'anywhere';
  if (toNumber(moved) === 0) return 'at their marks';
  const turns = workOutDrive(drive, view).linksReturn;
  return `no longer at their marks${turns === undefined ? '' : `, which they meet every ${turns} turns`}`;
}

function driveFacts(each: DriveState, view: View): readonly (readonly [string, string])[] {
  const { drive, disturbedBy, proved, linkOffset } = each;
  const timing = proved ? 'proved' : disturbedBy === undefined ? 'as it was' : 'to be proved';
  return [
    [drive.name, timing],
    ...(drive.markedLinks.length === 0
      ? []
      : [[`the marked links of ${drive.name}`, linksText(linkOffset, drive, view)] as const]),
  ];
}

/** The rules of actions that tell something of their own, each once. */
const TELLING = [...new Set(Object.values(ACTION_RULES))].filter((rule) => rule.facts !== undefined);

/** How the engine stands at this moment. */
export function snapshot(state: State): Snapshot {
  const facts: Fact[] = [
    ...state.fasteners.values().map((each) => [each.fastener.name, fastenerText(each)] as const),
    ...state.drives.values().flatMap((each) => driveFacts(each, state.view)),
    [state.crankshaft ?? 'the crankshaft', angleText(state.running.crank, state.tdcOf).text],
    ...TELLING.flatMap((rule) => rule.facts?.(state) ?? []),
  ];
  return {
    on: new Map(state.parts.values().map(({ part, on }) => [part.name, [...on].map((each) => (each === OFF ? 0 : 1))])),
    facts: new Map(facts),
  };
}

/** What is otherwise at one moment than at another: by what it is, how it was and is. */
export interface Changes {
  readonly on: ReadonlyMap<string, ReadonlyMap<number, Turned<number>>>;
  readonly facts: ReadonlyMap<string, Turned<string>>;
}

interface Turned<value> {
  readonly was: value | undefined;
  readonly is: value | undefined;
}

export function changesBetween(before: Snapshot, after: Snapshot): Changes {
  const on = new Map<string, Map<number, Turned<number>>>();
  for (const [name, places] of after.on) {
    const before1 = before.on.get(name) ?? [];
    const changed = places.flatMap((is, i) => (is === before1[i] ? [] : [[i, { was: before1[i], is }] as const]));
    if (changed.length > 0) on.set(name, new Map(changed));
  }
  const names = new Set([...before.facts.keys(), ...after.facts.keys()]);
  const facts = [...names].flatMap((name) => {
    const [was, is] = [before.facts.get(name), after.facts.get(name)];
    return was === is ? [] : [[name, { was, is }] as const];
  });
  return { on, facts: new Map(facts) };
}

/** What one action changes that is done again and again, with others in between. */
export function joined(all: readonly Changes[]): Changes {
  const on = new Map<string, Map<number, Turned<number>>>();
  const facts = new Map<string, Turned<string>>();
  for (const changes of all) {
    for (const [name, places] of changes.on) {
      const known = on.get(name) ?? new Map<number, Turned<number>>();
      for (const [place, { was, is }] of places) known.set(place, { was: known.get(place)?.was ?? was, is });
      on.set(name, known);
    }
    for (const [name, { was, is }] of changes.facts) facts.set(name, { was: facts.get(name)?.was ?? was, is });
  }
  return { on, facts };
}

const BACK: Readonly<Record<string, string>> = {
  drained: 'filled',
  disconnected: 'connected',
  plugged: 'open again',
  masked: 'bare again',
};

/** Tells of what is said of a bolt whether the bolt is in play; asked of all that is used only where one comes from another file. */
function playing({ facts }: Changes, { view, file }: State): (name: string) => boolean {
  const fastener = (name: string): Thing | undefined => {
    const thing = view.things.get(name);
    return thing?.kind === 'fastener' ? thing : undefined;
  };
  if (![...facts.keys()].some((name) => (fastener(name)?.placed.file ?? file) !== file)) return () => true;
  const isInPlay = inPlay(view, file);
  return (name) => {
    const thing = fastener(name);
    return thing === undefined || isInPlay(thing);
  };
}

function factTexts(changes: Changes, state: State): readonly string[] {
  const plays = playing(changes, state);
  return [...changes.facts].flatMap(([name, { was, is }]) => {
    if (was === is || !plays(name)) return [];
    const [thing = name] = name.split(', ');
    return [`${thing.trim()}: ${is ?? lookUp(BACK, was ?? '') ?? 'as before'}`];
  });
}

/** `upper 1 to 5` for all places of a group, else each by its name. */
function groupText(part: Part, places: readonly number[]): string {
  let first = 0;
  for (const { name, count } of part.places) {
    const from = first;
    if (name !== undefined && count > 2 && places.length === count && places.every((place, i) => place === from + i))
      return `${name} 1 to ${count}`;
    first += count;
  }
  return textOf(inPlaces(part, places));
}

function partTexts({ on }: Changes, state: State): readonly string[] {
  return state.parts.values().flatMap(({ part, on: { length } }) => {
    const changed = [...(on.get(part.name) ?? [])].sort(([one], [other]) => one - other);
    return [1, 0].flatMap((value) => {
      const places = changed.flatMap(([place, { was, is }]) => (is === value && was !== value ? [place] : []));
      if (places.length === 0) return [];
      const which = places.length === length ? (length > 1 ? `all ${length}` : '') : groupText(part, places);
      return [`${part.name}${which === '' ? '' : ` ${which}`}: ${value === 1 ? 'on' : 'off'}`];
    });
  });
}

/** Each thing that stands otherwise than before: `sump: on`, `main-bolt: at stage 1 of 2`. */
export function changeTexts(changes: Changes, state: State): readonly string[] {
  return [...partTexts(changes, state), ...factTexts(changes, state)];
}
