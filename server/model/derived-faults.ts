// What is wrong with the changes of a spec that is built on another, whatever they come to: a thing that the base does not have, one of
// another kind, something that is changed twice or declared again.
import { type Among, among, nearestAmong } from '../../grammar/nearest.ts';
import { type Told, told } from '../../grammar/told.ts';
import type { Drop, Span } from '../../grammar/tree.ts';
import { declaredIn } from './derived-names.ts';
import { kindWord, oneOfKind } from './kind-words.ts';
import { MOST_LEVELS } from './most.ts';
import type { Placed, ReadFile } from './placed.ts';
import { blockOf } from './statements.ts';

export interface DerivedFault {
  readonly code: 'name/unknown' | 'name/wrong-kind' | 'name/duplicate' | 'name/import-cycle' | 'name/too-deep';
  readonly placed: Placed;
  readonly span: Span;
  readonly message: Told;
  /** Another place that it points at. */
  readonly related?: { readonly placed: Placed; readonly span: Span; readonly message: Told };
  /** What to write in its place. */
  readonly fix?: { readonly title: Told; readonly span: Span; readonly text: string };
}

/** What is looked up for many changes, found once. */
interface LookedUp {
  /** The inserted step of a name. */
  insertedAs(name: string): Placed | undefined;
  /** Whether a step that is inserted beside another comes beside one of the base in the end, or beside one that is not there. */
  reachesBase(first: Placed): boolean;
  /** What the spec's own file declares, steps too. */
  own(name: string): Placed | undefined;
  namesOfKind(kind: string): Among;
  readonly hasEngine: boolean;
}

export interface ChangesSeen {
  /** The name of the base's spec. */
  readonly spec: string;
  readonly changes: readonly Placed[];
  /** The base, and what may be changed besides. */
  readonly bases: readonly ReadFile[];
  readonly own: readonly Placed[];
  /** What both declare. */
  readonly twice: readonly { readonly own: Placed; readonly base: Placed }[];
  /** What a change drops and the base does not say. */
  readonly idle: ReadonlyMap<Placed, readonly Drop[]>;
}

const nameOf = (placed: Placed): Span => placed.declaration.name ?? placed.declaration.wordSpan;
const textOf = (placed: Placed, span: Span): string =>
  placed.section.text.slice(span.start, span.end).replace(/\s+/g, ' ');

/** Every declaration with its steps. */
function every(declarations: readonly Placed[]): readonly Placed[] {
  return declarations.flatMap((placed) => [placed, ...placed.steps.filter((step) => step !== undefined)]);
}

function unknown(placed: Placed, span: Span, message: Told, name: string, known: Among): DerivedFault {
  const near = nearestAmong(name, known);
  if (near === undefined) return { code: 'name/unknown', placed, span, message };
  return {
    code: 'name/unknown',
    placed,
    span,
    message: told`${message} Did you mean ${near}?`,
    fix: { title: told`Change ${name} to ${near}`, span, text: near },
  };
}

/** All that a base declares under a name. */
function named({ bases }: ChangesSeen, name: string): readonly Placed[] {
  const lists = bases.flatMap((file) => {
    const there = declaredIn(file).byName.get(name);
    return there === undefined ? [] : [there];
  });
  return lists.length > 1 ? lists.flat() : (lists[0] ?? []);
}

/** The first of each name. */
function byName(declared: Iterable<Placed>): ReadonlyMap<string, Placed> {
  const found = new Map<string, Placed>();
  for (const placed of declared) {
    const name = placed.declaration.name?.text;
    if (name !== undefined && !found.has(name)) found.set(name, placed);
  }
  return found;
}

function lookingUp({ changes, bases, own }: ChangesSeen): LookedUp {
  const inserted = byName(changes.filter((each) => each.declaration.word === 'insert'));
  const all = bases.flatMap((file) => declaredIn(file).all);
  const reaching = new Map<Placed, boolean>();
  const kinds = new Map<string, Among>();
  let ownNames: ReadonlyMap<string, Placed> | undefined;
  return {
    insertedAs: (name) => inserted.get(name),
    reachesBase(first) {
      const row: Placed[] = [];
      const met = new Set<Placed>();
      let step: Placed | undefined = first;
      while (step !== undefined && !met.has(step) && !reaching.has(step)) {
        met.add(step);
        row.push(step);
        step = inserted.get(step.declaration.beside?.step.text ?? '');
      }
      const reaches = step === undefined || (reaching.get(step) ?? false);
      for (const each of row) reaching.set(each, reaches);
      return reaches;
    },
    own(name) {
      ownNames ??= byName(every(own));
      return ownNames.get(name);
    },
    namesOfKind(kind) {
      let names = kinds.get(kind);
      if (names === undefined) {
        names = among(
          all.flatMap(({ declaration }) =>
            declaration.word === kind && declaration.name !== undefined ? [declaration.name.text] : [],
          ),
        );
        kinds.set(kind, names);
      }
      return names;
    },
    hasEngine: all.some((placed) => placed.declaration.word === 'engine'),
  };
}

function besideEachOther(change: Placed, span: Span): DerivedFault {
  const message = told`These inserted steps stand beside each other, and none beside a step of the base.`;
  return { code: 'name/unknown', placed: change, span, message };
}

/** The fault of a change that names something, where the base has no such thing. */
function faultOfName(change: Placed, seen: ChangesSeen, looked: LookedUp): DerivedFault | undefined {
  const { declaration } = change;
  const { spec } = seen;
  if (declaration.broken) return undefined;
  const isInsert = declaration.word === 'insert';
  const name = isInsert ? declaration.beside?.step : declaration.name;
  const kind = isInsert ? 'step' : blockOf(declaration);
  if (kind === 'engine') {
    if (looked.hasEngine) return undefined;
    const span = declaration.changed ?? declaration.wordSpan;
    return { code: 'name/unknown', placed: change, span, message: told`${spec} says nothing of its engine.` };
  }
  if (name === undefined) return undefined;
  const there = named(seen, name.text);
  if (there.some((placed) => placed.declaration.word === kind)) return undefined;
  // A step may go beside one that is inserted too.
  const inserted = isInsert ? looked.insertedAs(name.text) : undefined;
  if (inserted !== undefined) return looked.reachesBase(inserted) ? undefined : besideEachOther(change, name);
  const [other] = there;
  if (other !== undefined) {
    const is = other.declaration.word;
    const changed = declaration.changed;
    return {
      code: 'name/wrong-kind',
      placed: change,
      span: name,
      message: isInsert
        ? told`${told.named(name.text, is)} is ${oneOfKind(is)} in ${spec}, not ${oneOfKind(kind)}.`
        : told`${told.named(name.text, is)} is ${oneOfKind(is)} in ${spec}, not ${oneOfKind(kind)}. Write ${declaration.word} ${is} ${told.named(name.text, is)}.`,
      related: { placed: other, span: nameOf(other), message: told`${told.named(name.text)} is declared here` },
      ...(isInsert || changed === undefined
        ? {}
        : { fix: { title: told`Write ${declaration.word} ${is}`, span: changed, text: is } }),
    };
  }
  const own = looked.own(name.text);
  if (own !== undefined && !isInsert)
    return {
      code: 'name/unknown',
      placed: change,
      span: name,
      message: told`${told.named(name.text)} is declared in this file, not in ${spec}: say there how it is.`,
      related: { placed: own, span: nameOf(own), message: told`${told.named(name.text)} is declared here` },
    };
  const message = told`${spec} has no ${kindWord(kind)} called ${told.named(name.text)}.`;
  return unknown(change, name, message, name.text, looked.namesOfKind(kind));
}

/** Whether two declarations can hold for the same variant. */
export function overlap(one: Placed, other: Placed): boolean {
  return (
    one.when.length === 0 ||
    other.when.length === 0 ||
    one.when.some((names) => other.when.some((more) => names.some((name) => more.includes(name))))
  );
}

/** Finds the first of what came before that is told by the same key and can hold for the same variant. */
function firstOfPairs(): (key: string, placed: Placed) => Placed | undefined {
  interface Met {
    readonly first: number;
    always: number;
    readonly byVariant: Map<string, number>;
  }
  const met = new Map<string, Met>();
  const all: Placed[] = [];
  return (key, placed) => {
    const at = all.push(placed) - 1;
    const variants = placed.when.flat();
    const before = met.get(key);
    const there = before ?? { first: at, always: Number.POSITIVE_INFINITY, byVariant: new Map<string, number>() };
    const found =
      placed.when.length === 0
        ? there.first
        : variants.reduce((least, name) => Math.min(least, there.byVariant.get(name) ?? least), there.always);
    met.set(key, there);
    if (placed.when.length === 0) there.always = Math.min(there.always, at);
    for (const name of variants) if (!there.byVariant.has(name)) there.byVariant.set(name, at);
    return before === undefined ? undefined : all[found];
  };
}

/** Something that two changes are about, or that is inserted under a name that is taken. */
function faultsOfPairs(seen: ChangesSeen): readonly DerivedFault[] {
  const faults: DerivedFault[] = [];
  const keyOf = ({ declaration }: Placed): string =>
    declaration.word === 'insert'
      ? `insert ${declaration.name?.text ?? ''}`
      : `${blockOf(declaration)} ${declaration.name?.text ?? ''}`;
  const firstOf = firstOfPairs();
  const dropped = byName(seen.changes.filter((each) => each.declaration.word === 'drop'));
  for (const change of seen.changes) {
    const { declaration } = change;
    const name = declaration.name?.text ?? blockOf(declaration);
    const first = firstOf(keyOf(change), change);
    if (first !== undefined && name !== '') {
      const both = first.declaration.word === 'change' && declaration.word === 'change';
      faults.push({
        code: 'name/duplicate',
        placed: change,
        span: nameOf(change),
        message: both
          ? told`${name} is changed twice here. Put both into one change.`
          : told`${name} is changed, dropped or inserted twice here; only one can hold. Take one of them out.`,
        related: { placed: first, span: nameOf(first), message: told`the first one` },
      });
      continue;
    }
    if (declaration.word !== 'insert' || declaration.name === undefined) continue;
    const [taken] = named(seen, name);
    if (taken !== undefined && !dropped.has(name))
      faults.push({
        code: 'name/duplicate',
        placed: change,
        span: declaration.name,
        message: told`${seen.spec} has ${oneOfKind(taken.declaration.word)} called ${name} already. Give this step another name, or write change step ${name}.`,
        related: { placed: taken, span: nameOf(taken), message: told`${name} is declared here` },
      });
  }
  return faults;
}

/** A spec that is built on itself. */
export function extendsItself(spec: Placed): DerivedFault {
  return {
    code: 'name/import-cycle',
    placed: spec,
    span: spec.declaration.extends ?? spec.declaration.wordSpan,
    message: told`A spec can't be built on itself. After extends stands the name of the spec of another file.`,
  };
}

/** A spec that is built on more others, each on the next, than are followed. */
export function tooDeep(spec: Placed): DerivedFault {
  return {
    code: 'name/too-deep',
    placed: spec,
    span: spec.declaration.extends ?? spec.declaration.wordSpan,
    message: told`This spec is built on more than ${MOST_LEVELS} others in a row, each on the next. So many are not put together: what it takes over is not looked at. Put the changes of several into one.`,
  };
}

/** All that is wrong with the changes of a spec, by place in the order of the changes. */
export function faultsOfChanges(seen: ChangesSeen): readonly DerivedFault[] {
  const looked = lookingUp(seen);
  const faults: DerivedFault[] = seen.changes.flatMap((change) => faultOfName(change, seen, looked) ?? []);
  faults.push(...faultsOfPairs(seen));
  for (const { own, base } of seen.twice) {
    const { word, name } = base.declaration;
    const isSame = own.declaration.word === word;
    faults.push({
      code: 'name/duplicate',
      placed: own,
      span: nameOf(own),
      message: isSame
        ? name === undefined
          ? told`${seen.spec} has its engine already. To say what differs, write change ${word} in the braces of the spec.`
          : told`${seen.spec} has ${oneOfKind(word)} called ${told.named(name.text, word)} already. To say what differs, write change ${word} ${told.named(name.text, word)} in the braces of the spec.`
        : told`${seen.spec} has ${oneOfKind(word)} called ${told.named(name?.text ?? '', word)} already. Give this one another name.`,
      related: {
        placed: base,
        span: nameOf(base),
        message: name === undefined ? told`the engine` : told`${told.named(name.text)} is declared here`,
      },
    });
  }
  for (const [change, drops] of seen.idle)
    for (const drop of drops) {
      const said = textOf(change, { start: drop.what.start, end: drop.end });
      const about = change.declaration.name?.text ?? told`the engine`;
      faults.push({
        code: 'name/unknown',
        placed: change,
        span: { start: drop.what.start, end: drop.end },
        message: told`${seen.spec} says no ${said} of ${about}: there is nothing to drop.`,
      });
    }
  return faults;
}
