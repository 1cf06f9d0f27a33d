// What is wrong with the changes of a spec that is built on another, whatever they come to: a thing that the base does not have, one of
// another kind, something that is changed twice or declared again.
import { nearest } from '../../grammar/nearest.ts';
import { type Told, told } from '../../grammar/told.ts';
import type { Drop, Span } from '../../grammar/tree.ts';
import { declaredIn } from './derived-names.ts';
import { kindWord, oneOfKind } from './kind-words.ts';
import type { Placed, ReadFile } from './placed.ts';
import { blockOf } from './statements.ts';

export interface DerivedFault {
  readonly code: 'name/unknown' | 'name/wrong-kind' | 'name/duplicate' | 'name/import-cycle';
  readonly placed: Placed;
  readonly span: Span;
  readonly message: Told;
  /** Another place that it points at. */
  readonly related?: { readonly placed: Placed; readonly span: Span; readonly message: Told };
  /** What to write in its place. */
  readonly fix?: { readonly title: Told; readonly span: Span; readonly text: string };
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

function unknown(placed: Placed, span: Span, message: Told, name: string, known: Iterable<string>): DerivedFault {
  const near = nearest(name, known);
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
  return bases.flatMap((file) => declaredIn(file).byName.get(name) ?? []);
}

function insertedAs(name: string, { changes }: ChangesSeen): Placed | undefined {
  return changes.find((each) => each.declaration.word === 'insert' && each.declaration.name?.text === name);
}

/** Whether a step that is inserted beside another comes beside one of the base in the end, or beside one that is not there. */
function reachesBase(first: Placed, seen: ChangesSeen): boolean {
  const met = new Set<Placed>();
  for (let step: Placed | undefined = first; step !== undefined; ) {
    if (met.has(step)) return false;
    met.add(step);
    step = insertedAs(step.declaration.beside?.step.text ?? '', seen);
  }
  return true;
}

function besideEachOther(change: Placed, span: Span): DerivedFault {
  const message = told`These inserted steps stand beside each other, and none beside a step of the base.`;
  return { code: 'name/unknown', placed: change, span, message };
}

/** The fault of a change that names something, where the base has no such thing. */
function faultOfName(change: Placed, seen: ChangesSeen): DerivedFault | undefined {
  const { declaration } = change;
  const { spec } = seen;
  if (declaration.broken) return undefined;
  const isInsert = declaration.word === 'insert';
  const name = isInsert ? declaration.beside?.step : declaration.name;
  const kind = isInsert ? 'step' : blockOf(declaration);
  const all = (): readonly Placed[] => seen.bases.flatMap((file) => declaredIn(file).all);
  if (kind === 'engine') {
    if (all().some((placed) => placed.declaration.word === 'engine')) return undefined;
    const span = declaration.changed ?? declaration.wordSpan;
    return { code: 'name/unknown', placed: change, span, message: told`${spec} says nothing of its engine.` };
  }
  if (name === undefined) return undefined;
  const there = named(seen, name.text);
  if (there.some((placed) => placed.declaration.word === kind)) return undefined;
  // A step may go beside one that is inserted too.
  const inserted = isInsert ? insertedAs(name.text, seen) : undefined;
  if (inserted !== undefined) return reachesBase(inserted, seen) ? undefined : besideEachOther(change, name);
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
  const own = every(seen.own).find((placed) => placed.declaration.name?.text === name.text);
  if (own !== undefined && !isInsert)
    return {
      code: 'name/unknown',
      placed: change,
      span: name,
      message: told`${told.named(name.text)} is declared in this file, not in ${spec}: say there how it is.`,
      related: { placed: own, span: nameOf(own), message: told`${told.named(name.text)} is declared here` },
    };
  const known = all().flatMap((placed) =>
    placed.declaration.word === kind && placed.declaration.name !== undefined ? [placed.declaration.name.text] : [],
  );
  return unknown(
    change,
    name,
    told`${spec} has no ${kindWord(kind)} called ${told.named(name.text)}.`,
    name.text,
    known,
  );
}

/** Whether two declarations can hold for the same variant. */
export function overlap(one: Placed, other: Placed): boolean {
  return (
    one.when.length === 0 ||
    other.when.length === 0 ||
    one.when.some((names) => other.when.some((more) => names.some((name) => more.includes(name))))
  );
}

/** Something that two changes are about, or that is inserted under a name that is taken. */
function faultsOfPairs(seen: ChangesSeen): readonly DerivedFault[] {
  const faults: DerivedFault[] = [];
  const keyOf = ({ declaration }: Placed): string =>
    declaration.word === 'insert'
      ? `insert ${declaration.name?.text ?? ''}`
      : `${blockOf(declaration)} ${declaration.name?.text ?? ''}`;
  for (const [i, change] of seen.changes.entries()) {
    const { declaration } = change;
    const name = declaration.name?.text ?? blockOf(declaration);
    const first = seen.changes
      .slice(0, i)
      .find((each) => keyOf(each) === keyOf(change) && overlap(each, change) && name !== '');
    if (first !== undefined) {
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
    const isDropped = seen.changes.some(
      (each) => each.declaration.word === 'drop' && each.declaration.name?.text === name,
    );
    if (taken !== undefined && !isDropped)
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

/** All that is wrong with the changes of a spec, by place in the order of the changes. */
export function faultsOfChanges(seen: ChangesSeen): readonly DerivedFault[] {
  const faults: DerivedFault[] = seen.changes.flatMap((change) => faultOfName(change, seen) ?? []);
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
