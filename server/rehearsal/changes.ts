// What has changed on the engine between two moments of the rehearsal, in words. Nothing is judged here.
import { type Argument, type Told, told } from '../../grammar/told.ts';
import { type Exact, toNumber } from '../mechanics/exact.ts';
import { workOutDrive } from '../model/drive-sums.ts';
import { inPlay } from '../model/in-play.ts';
import { usesOf } from '../model/references.ts';
import type { Part, Step, Thing, View } from '../model/view.ts';
import type { Fact } from './action-rule.ts';
import { ACTION_RULES } from './actions/table.ts';
import { angleText } from './crank-angle.ts';
import type { DriveState } from './drive-state.ts';
import { type FastenerState, FINAL, LOOSE, OUT, SNUG } from './fastener-state.ts';
import { inPlaces } from './in-words.ts';
import { OFF } from './part-state.ts';
import type { State } from './state.ts';
import { inOrder, type Things } from './things.ts';

/** What of the engine is told, by name. What is told is compared by what it says; places are told by number. */
export interface Snapshot {
  readonly on: ReadonlyMap<string, readonly number[]>;
  readonly facts: ReadonlyMap<string, Fact>;
}

const OUT_OF_IT = told`out`;
const IS_LOOSE = told`loose`;
const IS_SNUG = told`snug`;
/** How a screw is that has been through all its stages. */
export const IS_TIGHT = told`tight`;
const ANYWHERE = told`anywhere`;
const AT_MARKS = told`at their marks`;
const PROVED = told`proved`;
const AS_IT_WAS = told`as it was`;
const TO_BE_PROVED = told`to be proved`;

/** How a screw stands: out, loose, snug, at a stage, tight. */
export function stageText(stage: number, of: number): Told {
  if (stage === OUT) return OUT_OF_IT;
  if (stage === LOOSE) return IS_LOOSE;
  if (stage === SNUG) return IS_SNUG;
  return stage === FINAL || stage - SNUG >= of ? IS_TIGHT : told`at stage ${stage - SNUG} of ${of}`;
}

function fastenerText({ fastener, stages }: FastenerState): Told {
  const [first, ...more] = [...new Set(stages)].map((stage) => stageText(stage, Math.max(1, fastener.stages.length)));
  if (more.length === 0) return first ?? told.nothing;
  const texts = new Map([first, ...more].flatMap((each) => (each === undefined ? [] : [[each.text, each] as const])));
  return told`${told.list([...texts.values()], 'and')}`;
}

function linksText(moved: Exact | undefined, drive: DriveState['drive'], view: View): Told {
  if (moved === undefined) return ANYWHERE;
  if (toNumber(moved) === 0) return AT_MARKS;
  const turns = workOutDrive(drive, view).linksReturn;
  return turns === undefined
    ? told`no longer at their marks`
    : told`no longer at their marks, which they meet every ${turns} turns`;
}

function driveFacts(each: DriveState, view: View): readonly Fact[] {
  const { drive, disturbedBy, proved, linkOffset } = each;
  const timing = proved ? PROVED : disturbedBy === undefined ? AS_IT_WAS : TO_BE_PROVED;
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
    [state.crankshaft ?? 'the crankshaft', angleText(state.running.crank, state.tdcOf)],
    ...TELLING.flatMap((rule) => rule.facts?.(state) ?? []),
  ];
  return {
    on: new Map(state.parts.values().map(({ part, on }) => [part.name, [...on].map((each) => (each === OFF ? 0 : 1))])),
    facts: new Map(facts.map((fact) => [fact[0], fact])),
  };
}

/** The engine as a step in the middle of a job may change it: its snapshots hold that alone. For who stands there (in-the-middle.ts). */
export function asChangedHere(state: State): State {
  const here = <thing>(things: Things<thing>): PropertyDescriptor => {
    const names = things.askedHere();
    return { value: { ...things, values: () => things.among(names) } };
  };
  const { parts, fasteners, drives } = state;
  return Object.create(state, { parts: here(parts), fasteners: here(fasteners), drives: here(drives) }) as State;
}

/** What is otherwise at one moment than at another: by what it is, how it was and is. */
export interface Changes {
  readonly on: ReadonlyMap<string, ReadonlyMap<number, Turned<number>>>;
  readonly facts: ReadonlyMap<string, Turned<Fact>>;
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
    return isSame(was, is) ? [] : [[name, { was, is }] as const];
  });
  return { on, facts: new Map(facts) };
}

function isSame(was: Fact | undefined, is: Fact | undefined): boolean {
  return was === is || (was !== undefined && is !== undefined && was[1].text === is[1].text);
}

/** What one action changes that is done again and again, with others in between. */
export function joined(all: readonly Changes[]): Changes {
  const on = new Map<string, Map<number, Turned<number>>>();
  const facts = new Map<string, Turned<Fact>>();
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

const MARKED_LINKS = /^the marked links of (.+)$/;

/** What a fact is about: a name of the spec's, or one of the few that have none. */
function aboutFact(name: string): Argument {
  const [thing = name] = name.split(', ');
  const drive = MARKED_LINKS.exec(thing)?.[1];
  return drive === undefined ? told.term(thing.trim()) : told`the marked links of ${told.named(drive)}`;
}

/**
 * Tells of what is said of a bolt whether the bolt is in play; asked of all that is used only where one comes from another file that the step
 * does not name.
 */
function playing({ facts }: Changes, { view, file }: State, by: Step | undefined): (name: string) => boolean {
  const fastener = (name: string): Thing | undefined => {
    const thing = view.things.get(name);
    return thing?.kind === 'fastener' ? thing : undefined;
  };
  const others = [...facts.keys()].filter((name) => (fastener(name)?.placed.file ?? file) !== file);
  if (others.length === 0) return () => true;
  const named = new Set(by?.placed.file === file ? usesOf(by.placed).uses.map(({ name }) => name.text) : []);
  if (others.every((name) => named.has(name))) return () => true;
  const isInPlay = inPlay(view, file);
  return (name) => {
    const thing = fastener(name);
    return thing === undefined || isInPlay(thing);
  };
}

function factTexts(changes: Changes, state: State, by: Step | undefined): readonly Told[] {
  const plays = playing(changes, state, by);
  return [...changes.facts].flatMap(([name, { was, is }]) => {
    if (isSame(was, is) || !plays(name)) return [];
    return [told`${aboutFact(name)}: ${is?.[1] ?? was?.[2] ?? told`as before`}`];
  });
}

/** `upper 1 to 5` for all places of a group, else each by its name. */
function groupText(part: Part, places: readonly number[]): Argument {
  let first = 0;
  for (const { name, count } of part.places) {
    const from = first;
    if (name !== undefined && count > 2 && places.length === count && places.every((place, i) => place === from + i))
      return told`${name} 1 to ${count}`;
    first += count;
  }
  return inPlaces(part, places);
}

function partTexts({ on }: Changes, state: State): readonly Told[] {
  return state.parts.among(inOrder(state.view, 'parts', on.keys())).flatMap(({ part, on: { length } }) => {
    const changed = [...(on.get(part.name) ?? [])].sort(([one], [other]) => one - other);
    return [1, 0].flatMap((value) => {
      const places = changed.flatMap(([place, { was, is }]) => (is === value && was !== value ? [place] : []));
      if (places.length === 0) return [];
      const name = told.thing(part);
      const which =
        places.length < length
          ? told`${name} ${groupText(part, places)}`
          : length > 1
            ? told`${name} all ${length}`
            : told`${name}`;
      return [value === 1 ? told`${which}: on` : told`${which}: off`];
    });
  });
}

/** Each thing that stands otherwise than before: `sump: on`, `main-bolt: at stage 1 of 2`. `by`: the step that changed it, where one did. */
export function changeTexts(changes: Changes, state: State, by?: Step): readonly Told[] {
  return [...partTexts(changes, state), ...factTexts(changes, state, by)];
}
