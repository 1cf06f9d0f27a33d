// A name that is given twice: two things, two sources, two dimensions, two of what can be said once.

import { type Told, told } from '../../../grammar/told.ts';
import type { Name, Place, Span, Statement } from '../../../grammar/tree.ts';
import { type Block, statementRow } from '../../../grammar/vocabulary.ts';
import { type Placed, statementsSeen } from '../../model/placed.ts';
import { type Extra, nameSpan, type Report, type SpecCheck } from '../check.ts';
import page from './duplicate.md';

function named(statement: Statement): readonly { readonly set: string; readonly name: Name }[] {
  switch (statement.kind) {
    case 'dimension':
    case 'figure':
      return [{ set: 'feature', name: statement.name }];
    case 'mark':
      return [{ set: 'feature', name: statement.name }];
    case 'size':
      return [{ set: 'size', name: statement.name }];
    case 'source':
      return [{ set: 'source', name: statement.name }];
    case 'grade':
      return [{ set: 'grade', name: statement.name }];
    case 'names':
      return statement.word === 'variants'
        ? statement.names.map((name) => ({ set: 'variant', name }))
        : statement.word === 'feature'
          ? statement.names.map((name) => ({ set: 'feature', name }))
          : [];
    default:
      return [];
  }
}

/** Statements of which one can hold alone. */
const EITHER_OR: ReadonlyMap<string, string> = new Map([
  ['single-use', 'reuse'],
  ['reuse', 'single-use'],
  ['teeth', 'links'],
  ['links', 'teeth'],
]);

/** What may stand once: a word, and of a tightening order each stage. */
function onceKey(statement: Statement): string {
  return statement.kind === 'tightening-order' && statement.stage !== undefined
    ? `${statement.word} ${statement.stage.value}`
    : statement.word;
}

/** Places that are written one by one, and so many of a row. */
const MOST_OF_A_ROW = 500;

const NO_PLACES: readonly Place[] = [];

/** The places that a statement names, each with what stands there: a value, or the place itself. */
function placesIn(statement: Statement): readonly Place[] {
  if (statement.kind === 'places') return statement.places;
  const value =
    statement.kind === 'dimension' ||
    statement.kind === 'figure' ||
    statement.kind === 'value' ||
    statement.kind === 'measured'
      ? statement.value
      : undefined;
  return value?.kind === 'by-place' ? value.entries.flatMap(({ places }) => places) : NO_PLACES;
}

/** Each single place, as `upper 3`, once for each time that it is written. */
function singly({ name, from, to = from }: Place): readonly string[] {
  const group = name?.text ?? '';
  if (from === undefined || to === undefined || to - from > MOST_OF_A_ROW) return [group];
  return Array.from({ length: Math.max(0, to - from) + 1 }, (_, i) => `${group} ${from + i}`.trim());
}

function placesTwice(placed: Placed, statement: Statement, report: Report): void {
  const places = placesIn(statement);
  if (places.length === 0) return;
  const seen = new Map<string, Place>();
  for (const place of places)
    for (const single of singly(place)) {
      const first = seen.get(single);
      if (first !== undefined && first !== place) {
        report(placed, place, told`${told.place(single)} stands twice here. Take one of them out.`, {
          related: [{ placed, span: first, message: told`the first one` }],
        });
        break;
      }
      seen.set(single, place);
    }
}

function inside(placed: Placed, statements: readonly Statement[], block: Block, report: Report): void {
  const seen = new Map<string, Span & { readonly text: string }>();
  const once = new Map<string, Span>();
  // A bolt for each of several shafts clamps something else to each of them.
  const clampsEach = statements.some((each) => each.kind === 'each' && each.others !== undefined);
  for (const statement of statements) {
    for (const { set, name } of named(statement)) {
      const key = `${set} ${name.text.toLowerCase()}`;
      const first = seen.get(key);
      if (first === undefined) seen.set(key, name);
      else
        report(
          placed,
          name,
          told`${told.named(name.text)} is named twice here${first.text === name.text ? '' : told`: ${first.text} and ${told.named(name.text)} differ in capitals alone`}. Give one of them another name, or take it out.`,
          { related: [{ placed, span: first, message: told`the first one` }] },
        );
    }
    placesTwice(placed, statement, report);
    if (statement.kind === 'size' && statement.body !== undefined)
      inside(placed, statement.body.statements, 'size', report);
    const row = statementRow(block, statement.word);
    if (row === undefined || row.repeats === true || row.shape === 'per') continue;
    if (row.shape === 'clamps' && clampsEach) continue;
    const other = EITHER_OR.get(statement.word);
    const contradicted = other === undefined ? undefined : once.get(other);
    if (contradicted !== undefined && other !== undefined)
      report(
        placed,
        statement.wordSpan,
        told`${other} and ${statement.word} are both said here; only one can hold. Take one of them out.`,
        { related: [{ placed, span: contradicted, message: told`the first one` }] },
      );
    const first = once.get(onceKey(statement));
    if (first === undefined) once.set(onceKey(statement), statement.wordSpan);
    else
      report(
        placed,
        statement.wordSpan,
        told`${statement.word} is said twice here; only one can hold. Take one of them out.`,
        { related: [{ placed, span: first, message: told`the first one` }] },
      );
  }
}

/** What a declaration says, a statement each, whatever the blanks. */
function saidIn({ declaration, section }: Placed): readonly string[] {
  return (declaration.body?.statements ?? []).map((each) =>
    section.text.slice(each.start, each.end).replace(/\s+/g, ' ').trim(),
  );
}

/**
 * Takes out the one that says less, where both stand in one file and the other says all that it says: nothing is lost. Where both say the
 * same, the later goes.
 */
function keepOne(first: Placed, second: Placed): NonNullable<Extra['fixes']> {
  const whole = (placed: Placed): boolean =>
    placed.when.length === 0 && placed.section.children.length === 0 && placed.origin === undefined;
  if (first.file !== second.file || first.declaration.word !== second.declaration.word) return [];
  if (!whole(first) || !whole(second) || first.declaration.word === 'step') return [];
  const [one, other] = [saidIn(first), saidIn(second)];
  const holds = (more: readonly string[], less: readonly string[]): boolean =>
    less.every((each) => more.includes(each));
  const takeOut = (placed: Placed, title: Told): NonNullable<Extra['fixes']> => [
    { title, edits: [{ placed, span: { start: 0, end: placed.section.text.length }, text: '' }] },
  ];
  const name = second.declaration.name?.text ?? '';
  if (holds(one, other))
    return takeOut(second, holds(other, one) ? told`Keep ${name} once` : told`Keep the first ${name}, which says more`);
  return holds(other, one) ? takeOut(first, told`Keep this ${name}, which says more`) : [];
}

/** Declarations that are there twice for which a way out is worked out. */
const MOST_WITH_A_FIX = 500;

/** Whether something is said twice in any variant. */
function saysTwice(placed: Placed): boolean {
  if (placed.declaration.word === 'when') return false;
  let isTwice = false;
  const statements = statementsSeen(placed, { variant: undefined });
  inside(placed, statements, placed.declaration.word as Block, () => {
    isTwice = true;
  });
  return isTwice;
}

export const duplicate: SpecCheck = {
  code: 'name/duplicate',
  severity: 'error',
  scope: 'spec',
  page,
  ahead: (_view, _file, index) => index.lookingFor(saysTwice),
  run({ view, file, index, report }) {
    // Said at the later one of this file; where the other stands in a file that it uses, at this file's own.
    const say = (
      one: Placed,
      other: Placed,
      at: (placed: Placed) => Span,
      message: Told,
      fixes: Extra['fixes'] = [],
    ): void => {
      const [here, there] = other.file === file.file ? [other, one] : [one, other];
      if (here.file !== file.file) return;
      const where =
        there.file === file.file ? told`the first one` : told`the one in ${there.file.split('/').pop() ?? there.file}`;
      report(here, at(here), message, { related: [{ placed: there, span: at(there), message: where }], fixes });
    };
    for (const [i, { first, second }] of view.duplicates.entries()) {
      const [one, other] = [first.declaration.name?.text ?? '', second.declaration.name?.text ?? ''];
      const capitals = one === other ? told.nothing : told` ${one} and ${other} differ in capitals alone.`;
      const name = second.file === file.file ? other : one;
      const used = first.file === second.file ? told.nothing : told`, here and in a file that is used`;
      say(
        first,
        second,
        nameSpan,
        told`${name} is declared twice${used}.${capitals} Parts, fasteners, supplies, drives, limits, sequences and steps share one set of names.`,
        // Of so many nobody takes out one by one.
        i < MOST_WITH_A_FIX ? keepOne(first, second) : [],
      );
    }
    const word = (placed: Placed): Span => placed.declaration.wordSpan;
    const [engine, ...engines] = view.engines;
    if (engine !== undefined)
      for (const second of engines) say(engine, second, word, told`The engine is described twice.`);
    const [spec, ...specs] = view.specs.filter((placed) => placed.file === file.file);
    if (spec !== undefined)
      for (const second of specs)
        say(
          spec,
          second,
          word,
          told`This file has two specs. A file is about one engine: put them together, or each in a file of its own.`,
        );
    for (const placed of index.those(saysTwice)) {
      inside(placed, statementsSeen(placed, view), placed.declaration.word as Block, report);
    }
  },
};
