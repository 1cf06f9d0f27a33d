// The statements of a spec that put back what has come off: taken from its building steps as it has them, cut down to what is concerned
// and to the places that are. What the steps leave open is added in what-is-left.ts.
import { lookUp } from '../../grammar/look-up.ts';
import type { Action, Reference, SetShaft, Statement } from '../../grammar/tree.ts';
import { targetsOf } from '../model/action-places.ts';
import { crankshaftOf } from '../model/drive-sums.ts';
import { allPlaces } from '../model/feature-places.ts';
import { takesIn } from '../model/measure.ts';
import { isA, type TradeKind } from '../model/trade-names.ts';
import type { Fastener, Part, Step, View } from '../model/view.ts';
import { lashScrewsOf } from '../rehearsal/actions/secure.ts';
import { partsAndShafts } from './drive-parts.ts';
import { buildingSequences, placesOfLimit, type Reached } from './reach.ts';
import { areAll, type Places, placeWords, screwsGoBy } from './reach-places.ts';

/** A step as text: the lines of its statements, and what stands between its name and its brace. */
export interface BackStep {
  readonly name: string;
  readonly head: string;
  readonly lines: readonly string[];
}

/** What the building steps did again. */
export interface Done {
  readonly fitted: ReadonlySet<string>;
  readonly tightened: ReadonlySet<string>;
  readonly proved: ReadonlySet<string>;
  readonly released: ReadonlySet<string>;
  readonly unpinned: ReadonlySet<string>;
  readonly filled: ReadonlySet<string>;
  readonly primed: boolean;
  readonly renewed: ReadonlySet<string>;
  /** Sealant that has not cured yet: how long it takes. */
  readonly waits: readonly string[];
}

export interface PutBack {
  readonly steps: readonly BackStep[];
  readonly done: Done;
  /** Parts that go on, and so come off, in one action. */
  readonly together: readonly (readonly string[])[];
  /** Pins of shafts that stay on, as the spec puts them in. */
  readonly pins: readonly { readonly text: string; readonly names: readonly string[] }[];
  /** By part: how the spec lifts or supports it. */
  readonly lifts: ReadonlyMap<string, string>;
}

export function stepText({ name, head, lines }: BackStep): string {
  return `step ${name}${head === '' ? '' : ` ${head}`} {\n${lines.map((line) => `${line}\n`).join('')}}\n`;
}

export interface Concern {
  readonly reached: Reached;
  readonly view: View;
  readonly off: ReadonlySet<string>;
  readonly undone: ReadonlyMap<string, Fastener>;
  readonly drives: ReadonlySet<string>;
  readonly turning: ReadonlySet<string>;
  readonly limits: ReadonlySet<string>;
  /** The screws that lash is set by again: their locknuts are done up after it. */
  readonly lashScrews: ReadonlySet<string>;
  readonly drained: ReadonlySet<string>;
  readonly fluids: ReadonlySet<string>;
  readonly heldBack: ReadonlySet<string>;
  readonly disconnected: ReadonlySet<string>;
  readonly crankshaft: string | undefined;
  /** The shafts are pinned before the drive is opened and stay so; otherwise the spec's own steps pin them as it goes back. */
  readonly pinned: boolean;
  /** By the name of a part or fastener: what is written behind it, where not all of it is concerned. */
  readonly places: ReadonlyMap<string, { readonly part: Part; readonly places: Places }>;
}

export function concernOf(reached: Reached, view: View, building: readonly Step[] = []): Concern {
  const about = allConcerned(reached, view);
  return { ...about, pinned: !building.some((step) => turnsAway(step, about)) };
}

/** Whether the crankshaft has to be turned away from the marks for some work in a step that is done again. */
function turnsAway(step: Step, about: Concern): boolean {
  const works = step.statements.some(
    (each) =>
      each.kind === 'action' && each.word === 'fit' && each.targets.some(({ owner }) => about.off.has(owner.text)),
  );
  return (
    works &&
    step.statements.some(
      (each) => each.kind === 'set' && each.shaft.text === about.crankshaft && !isAtMarks(each, about),
    )
  );
}

function isAtMarks(statement: SetShaft, about: Concern): boolean {
  return about.reached.drives.some(
    ({ marksAgree }) =>
      marksAgree !== undefined &&
      statement.tdc?.cylinder.value === marksAgree.cylinder &&
      statement.angle === undefined,
  );
}

function allConcerned(reached: Reached, view: View): Concern {
  const named = (things: readonly { readonly name: string }[]): ReadonlySet<string> =>
    new Set(things.map((thing) => thing.name));
  const places = new Map<string, { readonly part: Part; readonly places: Places }>();
  const undone = new Map<string, Fastener>();
  for (const each of reached.off) {
    if (!areAll(each.part, each.places)) places.set(each.part.name, each);
    for (const { fastener } of each.undo) undone.set(fastener.name, fastener);
  }
  for (const limit of reached.limits) {
    const own = placesOfLimit(limit, reached, view);
    if (own !== undefined) places.set(limit.name, own);
  }
  return {
    reached,
    view,
    off: named(reached.off.map((each) => each.part)),
    undone,
    drives: named(reached.drives),
    turning: partsAndShafts(reached.drives, view),
    limits: named(reached.limits),
    lashScrews: new Set(reached.limits.some(({ sort }) => sort === 'valve-lash') ? lashScrewsOf(view) : []),
    drained: named(reached.drain.map((each) => each.part)),
    fluids: new Set(reached.drain.map(({ fluid }) => fluid)),
    heldBack: named(reached.holdBack),
    disconnected: named(reached.disconnect),
    crankshaft: crankshaftOf(view),
    pinned: false,
    places,
  };
}

/** Words whose targets are kept one by one, by whether each of them is concerned. */
function isConcerned(word: string, name: string, about: Concern): boolean {
  const { off, undone } = about;
  switch (word) {
    case 'fit':
    case 'lift':
    case 'support':
    case 'push-home':
    case 'line-up':
      return off.has(name);
    case 'tighten':
    case 'snug':
      return undone.has(name);
    case 'secure':
      return off.has(name) || undone.has(name) || about.lashScrews.has(name);
    case 'lubricate':
    case 'seal':
      return off.has(name) || undone.has(name);
    case 'hold-back':
      return about.heldBack.has(name) && off.has(name);
    case 'release':
      return about.heldBack.has(name);
    case 'align':
      return about.drives.has(name);
    case 'pin':
      return off.has(name) || (!about.pinned && about.turning.has(name));
    case 'unpin':
      return about.turning.has(name) || off.has(name);
    case 'measure':
    case 'adjust':
      return about.limits.has(name);
    case 'fill':
      return about.drained.has(name);
    case 'bleed':
      return off.has(name) || (about.fluids.has('coolant') && !/pump$|inject|fuel|brake|clutch/i.test(name));
    case 'prime':
      return off.has(name) || (about.fluids.has('oil') && !/fuel|inject|carb/i.test(name));
    case 'connect':
      return off.has(name);
    default:
      return false;
  }
}

export function textOf(step: Step, start: number, end: number): string {
  return step.placed.section.text.slice(start, end);
}

/** The screws of a fastener go by the places of the part that they are so many each of. */
function restrictedTo(name: string, about: Concern): { readonly part: Part; readonly places: Places } | undefined {
  const fastener = about.undone.get(name);
  if (fastener === undefined) return about.places.get(name);
  const off = about.reached.off.find(({ undo }) => undo.some((one) => one.fastener === fastener));
  const part = off === undefined ? undefined : screwsGoBy(fastener, off.part, about.view);
  const words = off?.undo.find((one) => one.fastener === fastener)?.words;
  if (part === undefined || words === undefined || words === name) return undefined;
  return { part, places: placesFromWords(part, words.slice(name.length + 1)) };
}

function placesFromWords(part: Part, words: string): Places {
  const all = allPlaces(part, undefined);
  return new Set(
    [...all.keys()].filter((i) =>
      placeWords(part, new Set([i]))
        .split(' ')
        .every((word) => wordsOf(words).has(word)),
    ),
  );
}

function wordsOf(words: string): ReadonlySet<string> {
  const found = new Set<string>();
  for (const word of words.split(/[\s,]+/)) {
    const range = /^(\d+)\.\.(\d+)$/.exec(word);
    if (range === null) found.add(word);
    else for (let i = Number(range[1]); i <= Number(range[2]); i += 1) found.add(String(i));
  }
  return found;
}

/** A target as it is written, cut down to the places that are concerned; undefined where none of those are. */
function targetText(step: Step, target: Reference, about: Concern): string | undefined {
  const own = restrictedTo(target.owner.text, about);
  const written = textOf(step, target.start, target.end);
  if (own === undefined) return written;
  const names = allPlaces(own.part, undefined);
  const left = [...own.places].filter((i) => {
    const name = names[i];
    return target.places.length === 0 || (name !== undefined && target.places.some((place) => takesIn(place, name)));
  });
  if (left.length === 0) return undefined;
  const words = placeWords(own.part, new Set(left));
  return words === '' ? target.owner.text : `${target.owner.text} ${words}`;
}

/** An action with some of its targets alone; the rest as it is written. */
function withTargets(step: Step, action: Action, targets: readonly Reference[], about: Concern): string | undefined {
  const names = targets.flatMap((target) => targetText(step, target, about) ?? []);
  if (names.length === 0) return undefined;
  const last = Math.max(...action.targets.map((target) => target.end));
  const together = names.length === 1 && action.together;
  const rest =
    (targets.length === 1 ? oilInUse(action, targets[0], about) : undefined) ?? textOf(step, last, action.end);
  return `${action.word} ${names.join(', ')}${together ? rest.replace(/\btogether\b/, '') : rest}`;
}

/** What is bedded in when it is new or was apart: oil for that goes in with it. Common practice, no source. */
const BEDS_IN: readonly TradeKind[] = ['camshaft', 'lifter', 'piston', 'ring', 'liner', 'barrel'];

/** With what a place is filled in the end, where the spec runs new parts in on another oil and none of these comes off. */
function oilInUse(action: Action, target: Reference | undefined, about: Concern): string | undefined {
  if (action.word !== 'fill' || target === undefined || [...about.off].some((name) => isA(name, ...BEDS_IN)))
    return undefined;
  const sortOf = ({ with: supply }: Action): string | undefined => {
    const thing = supply === undefined ? undefined : about.view.things.get(supply.owner.text);
    return thing?.kind === 'supply' ? thing.sort : undefined;
  };
  const later = about.view.sequences
    .filter(({ phase, placed }) => phase === 'run-in' && placed.file === about.reached.part.placed.file)
    .flatMap(({ steps }) => steps.flatMap((step) => step.statements.map((statement) => ({ step, statement }))))
    .findLast(
      ({ statement }) =>
        statement.kind === 'action' &&
        statement.word === 'fill' &&
        sortOf(statement) === sortOf(action) &&
        statement.targets.length === 1 &&
        statement.targets[0]?.owner.text === target.owner.text,
    );
  if (later?.statement.kind !== 'action' || later.statement.with?.owner.text === action.with?.owner.text)
    return undefined;
  return textOf(later.step, later.statement.targets[0]?.end ?? 0, later.statement.end);
}

interface Kept {
  readonly text: string;
  readonly statement: Statement;
  readonly targets: readonly string[];
}

/** The actions of a step with some words that are concerned, each cut down to what is. */
export function concernedLines(
  step: Step,
  words: readonly string[],
  about: Concern,
  isDone: (name: string) => boolean,
): readonly string[] {
  return step.statements.flatMap((statement) => {
    if (statement.kind !== 'action' || !words.includes(statement.word)) return [];
    const targets = targetsOf(statement, about.view).filter(
      ({ owner }) => isConcerned(statement.word, owner.text, about) && !isDone(owner.text),
    );
    return targets.length === 0 ? [] : (withTargets(step, statement, targets, about) ?? []);
  });
}

/** Whether a shaft that is set stands on the engine at its marks already. */
function needsSetting(shaft: string, about: Concern): boolean {
  return about.turning.has(shaft) && (about.off.has(shaft) || shaft === about.crankshaft);
}

/** What of a statement is work that has to be done again; undefined for nothing of it. */
function keep(step: Step, statement: Statement, about: Concern, order: Order): Kept | undefined {
  const whole = { text: textOf(step, statement.start, statement.end), statement, targets: [] };
  if (statement.kind === 'set') {
    const { text: shaft } = statement.shaft;
    // With the shaft off it can't be set: a step that comes before it is on again has nothing to set.
    return needsSetting(shaft, about) && order.isOn(shaft, step, statement) ? whole : undefined;
  }
  if (statement.kind === 'confirm') {
    const name = statement.target.owner.text;
    return about.drives.has(name) || (statement.at !== undefined && about.turning.has(name)) ? whole : undefined;
  }
  if (statement.kind === 'rotate') {
    const proves = step.statements.some((each) => each.kind === 'confirm' && about.drives.has(each.target.owner.text));
    return proves ? whole : undefined;
  }
  if (statement.kind !== 'action') return undefined;
  const targets = targetsOf(statement, about.view).filter(
    (target) => isConcerned(statement.word, target.owner.text, about) && order.isLast(statement, target),
  );
  if (targets.length === 0) return undefined;
  const text = withTargets(step, statement, targets, about);
  return text === undefined ? undefined : { text, statement, targets: targets.map((target) => target.owner.text) };
}

interface Order {
  /** Whether a shaft that comes off is on again by then. */
  isOn(shaft: string, step: Step, statement: Statement): boolean;
  /** Whether nothing later in the build undoes what an action does to a target. */
  isLast(action: Action, target: Reference): boolean;
}

const UNDOES: Readonly<Record<string, string>> = { fit: 'remove', tighten: 'loosen', snug: 'loosen' };

/** Of what is put on or tightened more than once, only what comes after it last came off counts. */
function orderOf(steps: readonly Step[], off: ReadonlySet<string>): Order {
  const places = new Map<Action, number>();
  const undone = new Map<string, number>();
  for (const step of steps)
    for (const statement of step.statements)
      if (statement.kind === 'action') {
        places.set(statement, places.size);
        if (statement.word === 'remove' || statement.word === 'loosen')
          for (const target of statement.targets) undone.set(`${statement.word} ${target.owner.text}`, places.size - 1);
      }
  return {
    isOn(shaft, step, statement) {
      if (!off.has(shaft)) return true;
      const before = [
        ...steps.slice(0, steps.indexOf(step)).flatMap((each) => each.statements),
        ...step.statements.slice(0, step.statements.indexOf(statement)),
      ];
      return before.some(
        (each) =>
          each.kind === 'action' && each.word === 'fit' && each.targets.some(({ owner }) => owner.text === shaft),
      );
    },
    isLast(action, target) {
      const by = lookUp(UNDOES, action.word);
      const last = by === undefined ? undefined : undone.get(`${by} ${target.owner.text}`);
      return last === undefined || last < (places.get(action) ?? 0);
    },
  };
}

function wordOf({ statement }: Kept): string {
  return statement.kind === 'action' ? statement.word : '';
}

const WORK = ['fit', 'tighten', 'snug', 'measure', 'adjust', 'align', 'push-home'];

/**
 * The statements of a step that stand with the work: where the crankshaft is brought to for what follows in the same step, what is cleaned
 * and looked at there.
 */
function withWork(step: Step, kept: readonly Kept[], about: Concern): readonly Kept[] {
  const isWork = (each: Kept): boolean => WORK.includes(wordOf(each));
  if (!kept.some(isWork)) return kept;
  const own = new Map(kept.map((each) => [each.statement, each]));
  const mates = new Set(
    kept.flatMap(({ statement }) => (statement.kind === 'action' ? (statement.mate?.reference.owner.text ?? []) : [])),
  );
  return step.statements.flatMap((statement, i): readonly Kept[] => {
    const there = own.get(statement);
    if (there !== undefined) return [there];
    const plain = [{ text: textOf(step, statement.start, statement.end), statement, targets: [] }];
    if (statement.kind === 'set' || statement.kind === 'rotate') {
      const serves = step.statements.slice(i + 1).some((each) => {
        const later = own.get(each);
        const part = later === undefined ? undefined : about.view.things.get(later.targets[0] ?? '');
        return (
          later !== undefined &&
          (['measure', 'adjust'].includes(wordOf(later)) ||
            (part?.kind === 'part' && wordOf(later) === 'fit' && isTimed(part, step)))
        );
      });
      return serves && statement.shaft.text === about.crankshaft ? plain : [];
    }
    if (statement.kind !== 'action' || !['clean', 'inspect'].includes(statement.word)) return [];
    return statement.targets.every(({ owner }) => mates.has(owner.text) || about.off.has(owner.text)) ? plain : [];
  });
}

/** A distributor, a magneto, a pump: it is fitted with the crankshaft where it is set. */
function isTimed(part: Part, step: Step): boolean {
  return (
    part.timed !== undefined ||
    part.drivenBy !== undefined ||
    !step.statements.some((each) => each.kind === 'action' && each.word === 'align')
  );
}

/** Single-use things that a step is the first to put back. */
function renewed(kept: readonly Kept[], about: Concern, done: Set<string>): readonly string[] {
  const names = kept.flatMap((each) => (['fit', 'tighten', 'snug'].includes(wordOf(each)) ? each.targets : []));
  const fresh = [...new Set(names)].filter((name) => {
    const thing = about.view.things.get(name);
    return (thing?.kind === 'part' || thing?.kind === 'fastener') && thing.singleUse && !done.has(name);
  });
  for (const name of fresh) done.add(name);
  return fresh.length === 0 ? [] : [`renew ${fresh.map((name) => wordsFor(name, about)).join(', ')}`];
}

/** A name with the places of it that are concerned. */
export function wordsFor(name: string, about: Concern): string {
  const own = restrictedTo(name, about);
  const words = own === undefined ? '' : placeWords(own.part, own.places);
  return words === '' ? name : `${name} ${words}`;
}

/** How long the sealants of some seals cure, as it is written. */
function curing(kept: readonly Kept[], view: View): readonly string[] {
  return kept.flatMap(({ statement }) => {
    const supply =
      statement.kind === 'action' && statement.word === 'seal'
        ? view.things.get(statement.with?.owner.text ?? '')
        : undefined;
    if (supply?.kind !== 'supply' || supply.cure === undefined) return [];
    return [supply.placed.section.text.slice(supply.cure.start, supply.cure.end)];
  });
}

const REMARKS = ['tool', 'caution', 'note', 'hold-point'];

/** The title and what the step is done for each of; where only some places are concerned they are named one by one. */
function headOf(step: Step, about: Concern): string {
  const { title, each } = step.declaration;
  const isPartial =
    step.each !== undefined &&
    (about.places.has(step.each.owner.text) || !areAll(about.reached.part, about.reached.places));
  return [title, isPartial ? undefined : each]
    .map((span) => (span === undefined ? '' : textOf(step, span.start, span.end)))
    .map((text, i) => (text !== '' && i === 1 && !text.startsWith('each') ? `each ${text}` : text))
    .filter((text) => text !== '')
    .join(' ');
}

function isOnlySet(kept: readonly Kept[]): boolean {
  return kept.every(
    ({ statement }) => statement.kind === 'set' || (statement.kind === 'confirm' && statement.at !== undefined),
  );
}

/** Whether the shafts are set to where the drive goes on, and do not stand there by their pins. */
function isForDrive(kept: readonly Kept[], about: Concern): boolean {
  return kept.some(({ statement }) => {
    if (statement.kind === 'confirm') return true;
    if (statement.kind !== 'set') return false;
    return statement.mark !== undefined || isAtMarks(statement, about);
  });
}

/** The crankshaft brought to where a part that is timed goes in, and comes out. */
export function setFor(part: Part, crankshaft: string): readonly string[] {
  const { timed } = part;
  if (timed === undefined) return [];
  const text = part.placed.section.text
    .slice(timed.start, timed.end)
    .replace(/^timed\s+/, '')
    .replace(/\s+per\s[\s\S]*$/, '');
  return [`set ${crankshaft} ${text}`];
}

/** The crankshaft brought to where a part that is timed goes in, where its step does not say. */
function timing(kept: readonly Kept[], about: Concern): readonly string[] {
  if (kept.some(({ statement }) => statement.kind === 'set')) return [];
  return kept.flatMap((each) =>
    wordOf(each) === 'fit'
      ? each.targets.flatMap((name) => {
          const part = about.view.things.get(name);
          if (part?.kind !== 'part' || about.crankshaft === undefined) return [];
          return setFor(part, about.crankshaft);
        })
      : [],
  );
}

/** Everything that puts back what has come off, in the order in which the spec does it. */
export function putBack(reached: Reached, view: View, file: string): PutBack {
  const building = buildingSequences(view, file)
    .flatMap((sequence) => sequence.steps)
    .filter((step) => !step.trial);
  const about = concernOf(reached, view, building);
  const order = orderOf(building, about.off);
  const waits: string[] = [];
  const done = {
    fitted: new Set<string>(),
    tightened: new Set<string>(),
    proved: new Set<string>(),
    released: new Set<string>(),
    unpinned: new Set<string>(),
    filled: new Set<string>(),
    renewed: new Set<string>(),
  };
  const did = new Map([
    ['fit', done.fitted],
    ['tighten', done.tightened],
    ['release', done.released],
    ['unpin', done.unpinned],
    ['fill', done.filled],
  ]);
  const everFitted = new Set(
    building.flatMap((step) =>
      step.statements.flatMap((each) =>
        each.kind === 'action' && each.word === 'fit' ? each.targets.map(({ owner }) => owner.text) : [],
      ),
    ),
  );
  const neverFitted = new Set([...about.off].filter((name) => !everFitted.has(name)));
  let primed = false;
  const steps: BackStep[] = [];
  for (const step of building) {
    const kept = withWork(
      step,
      step.statements.flatMap((statement) => keep(step, statement, about, order) ?? []),
      about,
    );
    if (kept.length === 0) continue;
    // A dead centre that is set for other work, before the drive is opened for it or after it is proved.
    if (
      isOnlySet(kept) &&
      (done.proved.size >= about.drives.size || !leadsToDrive(step, building, about) || !isForDrive(kept, about))
    )
      continue;
    waits.push(...curing(kept, view));
    const fills = kept.some((each) => wordOf(each) === 'fill');
    const remarks = step.statements.filter((each) => REMARKS.includes(each.word));
    const stood = standing(kept, reached, about, neverFitted, done.fitted);
    steps.push({
      name: step.name,
      head: headOf(step, about),
      lines: [
        ...stood.map((name) => `fit ${wordsFor(name, about)}`),
        ...(fills ? waits.splice(0).map((time) => `wait ${time}`) : []),
        ...renewed(kept, about, done.renewed),
        ...timing(kept, about),
        ...kept.map(({ text }) => text),
        ...remarks.map((each) => textOf(step, each.start, each.end)),
      ],
    });
    for (const each of kept) {
      const word = wordOf(each);
      for (const name of each.targets) did.get(word)?.add(name);
      if (word === 'prime') primed = true;
      if (each.statement.kind === 'confirm' && about.drives.has(each.statement.target.owner.text))
        done.proved.add(each.statement.target.owner.text);
    }
  }
  return {
    steps,
    done: { ...done, primed, waits },
    together: togetherOf(building, about),
    pins: about.pinned ? pinsOf(building, about) : [],
    lifts: liftsOf(building, about),
  };
}

/** Parts that stood on the engine before the spec's first step: they go back before what holds them is tightened, innermost first. */
function standing(
  kept: readonly Kept[],
  reached: Reached,
  about: Concern,
  never: ReadonlySet<string>,
  done: Set<string>,
): readonly string[] {
  const needed = new Set(
    kept.flatMap((each) => {
      const mate = each.statement.kind === 'action' ? each.statement.mate?.reference.owner.text : undefined;
      const clamped = each.targets.flatMap((name) => about.undone.get(name)?.clamps.map(({ part }) => part) ?? []);
      return [...clamped, ...(mate === undefined ? [] : [mate])];
    }),
  );
  const inward = [...reached.off].reverse().filter(({ part }) => never.has(part.name) && !done.has(part.name));
  const last = inward.findLastIndex(({ part }) => needed.has(part.name));
  const names = inward.slice(0, last + 1).map(({ part }) => part.name);
  for (const name of names) done.add(name);
  return names;
}

/** Whether some later step puts a drive together or proves it. */
function leadsToDrive(step: Step, building: readonly Step[], about: Concern): boolean {
  return building
    .slice(building.indexOf(step) + 1)
    .some((later) =>
      later.statements.some(
        (each) =>
          (each.kind === 'confirm' && about.drives.has(each.target.owner.text)) ||
          (each.kind === 'action' &&
            each.word === 'align' &&
            each.targets.some(({ owner }) => about.drives.has(owner.text))),
      ),
    );
}

function actionsIn(steps: readonly Step[]): readonly (readonly [Step, Action])[] {
  return steps.flatMap((step) =>
    step.statements.flatMap((each) => (each.kind === 'action' ? [[step, each] as const] : [])),
  );
}

function togetherOf(steps: readonly Step[], about: Concern): readonly (readonly string[])[] {
  return actionsIn(steps)
    .filter(([, action]) => action.word === 'fit' && action.together)
    .map(([, action]) => action.targets.map((target) => target.owner.text).filter((name) => about.off.has(name)))
    .filter((names) => names.length > 1);
}

function pinsOf(steps: readonly Step[], about: Concern): PutBack['pins'] {
  const done = new Set<string>();
  return actionsIn(steps).flatMap(([step, action]) => {
    if (action.word !== 'pin') return [];
    const targets = action.targets.filter(
      ({ owner }) => about.turning.has(owner.text) && !about.off.has(owner.text) && !done.has(owner.text),
    );
    for (const { owner } of targets) done.add(owner.text);
    const text = targets.length === 0 ? undefined : withTargets(step, action, targets, about);
    return text === undefined ? [] : [{ text, names: targets.map(({ owner }) => owner.text) }];
  });
}

function liftsOf(steps: readonly Step[], about: Concern): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  for (const [step, action] of actionsIn(steps)) {
    if (action.word !== 'lift' && action.word !== 'support') continue;
    for (const target of action.targets)
      if (about.off.has(target.owner.text)) {
        const text = withTargets(step, action, [target], about);
        if (text !== undefined) found.set(target.owner.text, text);
      }
  }
  return found;
}
