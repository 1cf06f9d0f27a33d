// A declaration taken apart into facts: each clause of its head, each statement that holds for a variant, each with its path, its
// tree, its text and its place. One mechanism for all words of the language; nothing is compared here.
import type { Parsed } from '../../grammar/parse.ts';
import type { Section } from '../../grammar/sections.ts';
import type { Declaration, Name, Place, Reference, Span, Statement } from '../../grammar/tree.ts';
import type { FilePlace } from '../model/finding.ts';
import type { Placed } from '../model/placed.ts';
import { type Origin, placeOf } from '../model/placed.ts';

export interface Fact {
  /** What of the declaration: `torque`, `orient.arrow`, `dimension.bore.wear-limit`, `size.under-25.wall`. */
  readonly path: string;
  /** The statement word, or that of the clause in the head. */
  readonly word: string;
  /** The tree that is compared. */
  readonly node: unknown;
  readonly text: string;
  readonly place: FilePlace;
  /** It is done where it stands: its order among its like means something. */
  readonly ordered: boolean;
  /** The name that it declares in its declaration: a dimension, a mark, a size. */
  readonly label: string | undefined;
  /** The statement that it is, for actions. */
  readonly statement: Statement | undefined;
}

interface Source {
  readonly file: string;
  readonly section: Section;
  readonly parsed: Parsed;
  /** Where it is taken from, of a spec that is built on another. */
  readonly origin?: Origin;
}

const REMARKS = new Set(['note', 'caution', 'tool', 'after', 'per', 'allow', 'trial']);
const NO_CLAUSES = new Set(['word', 'wordSpan', 'name', 'start', 'end', 'body', 'broken', 'limit']);
const IN_ORDER = new Set(['sequences']);

/** A stretch as written, on one line, without comments. */
export function writtenText(source: Source, span: Span): string {
  let text = '';
  let at = span.start;
  for (const comment of source.parsed.comments) {
    if (comment.start < at || comment.start >= span.end) continue;
    text += `${source.section.text.slice(at, comment.start)} `;
    at = comment.end;
  }
  return (text + source.section.text.slice(at, span.end)).replace(/\s+/g, ' ').trim();
}

/** A statement as written, without those of its clauses that are facts of their own. */
function writtenWithout(source: Source, whole: Span, without: readonly Span[]): string {
  let [text, from] = ['', whole.start];
  for (const each of [...without].sort((a, b) => a.start - b.start)) {
    text += `${writtenText(source, { start: from, end: Math.max(from, each.start) })} `;
    from = Math.max(from, each.end);
  }
  text += writtenText(source, { start: from, end: Math.max(from, whole.end) });
  return without.length === 0
    ? text
    : text
        .replace(/\b(?:per|wear-limit) /gi, ' ')
        .replace(/\s+/g, ' ')
        .trim();
}

/** Where a statement stands, without those of its clauses at its end that are facts of their own. */
function spanWithout(source: Source, whole: Span, without: readonly Span[]): Span {
  const first = Math.min(...without.map((each) => each.start));
  const after = writtenWithout(source, { start: Math.min(first, whole.end), end: whole.end }, without);
  if (without.length === 0 || !/^[}\s]*$/.test(after)) return whole;
  const text = source.section.text.slice(whole.start, first).replace(/\s*(?:wear-limit)?\s*$/i, '');
  return { start: whole.start, end: whole.start + text.length };
}

function placeIn(source: Source, span: Span): FilePlace {
  return placeOf(source, span);
}

/** `wearLimit` as the language writes it: `wear-limit`. */
function asWord(property: string): string {
  return property.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
}

function isSpan(value: unknown): value is Span {
  return typeof value === 'object' && value !== null && 'start' in value && 'end' in value;
}

function clauses(declaration: Declaration): readonly (readonly [string, unknown])[] {
  const own = Object.entries(declaration).filter(([property]) => !NO_CLAUSES.has(property));
  return [...own, ...Object.entries(declaration.limit ?? {})].filter(([, value]) => value !== undefined);
}

const SPOKEN: Readonly<Record<string, string>> = { count: '', expression: '= ', path: '' };

function headFacts(placed: Placed, declaration: Declaration): readonly Fact[] {
  return clauses(declaration).flatMap(([property, value]): Fact[] => {
    const first: unknown = Array.isArray(value) ? value[0] : value;
    const last: unknown = Array.isArray(value) ? value[value.length - 1] : value;
    if (!isSpan(first) || !isSpan(last)) return [];
    // One of it is understood.
    if (property === 'count' && declaration.count?.value === 1) return [];
    const span = { start: first.start, end: last.end };
    const word = asWord(property);
    const written = writtenText(placed, span);
    const text = written.startsWith(word) ? written : `${SPOKEN[property] ?? `${word} `}${written}`;
    const node = property === 'measured' ? true : value;
    return [
      {
        path: word,
        word,
        node,
        text,
        place: placeIn(placed, span),
        ordered: false,
        label: undefined,
        statement: undefined,
      },
    ];
  });
}

/** The pieces of a statement that is a list whose order means nothing. */
function pieces(
  statement: Statement,
): readonly (Span & { readonly node: unknown; readonly label?: string })[] | undefined {
  switch (statement.kind) {
    case 'names':
      if (IN_ORDER.has(statement.word)) return undefined;
      return statement.names.map((name) => ({
        ...at(name),
        node: name,
        ...(declares(statement) ? { label: name.text } : {}),
      }));
    case 'covers':
      return statement.covered.map((reference) => ({ ...at(reference), node: reference }));
    case 'places':
      return statement.places.map((place) => ({ ...at(place), node: place, label: place.name?.text ?? 'numbered' }));
    case 'orient':
      return statement.rules.map((rule) => ({ ...at(rule), node: rule, label: rule.feature.text }));
    default:
      return undefined;
  }
}

function at({ start, end }: Span): Span {
  return { start, end };
}

function declares(statement: Statement): boolean {
  return statement.word === 'feature' || statement.word === 'variants';
}

const named = (reference: Reference): string =>
  reference.feature === undefined ? reference.owner.text : `${reference.owner.text}.${reference.feature.text}`;

const placesKey = (places: readonly Place[]): string =>
  places.map((place) => `${place.name?.text ?? ''}${place.from ?? ''}`).join('-');

/** What tells a statement from its like in one body; where there is nothing, they are told apart by what they say. */
function labelOf(statement: Statement): string | undefined {
  if ('name' in statement) return (statement.name as Name).text;
  switch (statement.kind) {
    case 'crankpin':
      return statement.cylinders.map((each) => each.value).join('-');
    case 'bank':
      return statement.side.word;
    case 'wrap':
      return statement.part.text;
    case 'mesh':
    case 'ratio-of':
      return `${statement.first.text}.${statement.second.text}`;
    case 'centre-distance':
      return `${statement.from.text}.${statement.to.text}`;
    case 'marked-link':
      return named(statement.mark);
    case 'stated':
      return statement.what.word;
    case 'allow':
      return statement.code.text;
    case 'action': {
      const target = statement.targets[0];
      return target === undefined ? undefined : named(target);
    }
    case 'set':
    case 'rotate':
      return statement.shaft.text;
    case 'confirm':
      return named(statement.target);
    case 'measured':
      return `${named(statement.limit)}${placesKey(statement.limit.places)}`;
    case 'done':
      return named(statement.step);
    case 'record-fitted':
    case 'found':
      return `${named(statement.part)}${placesKey(statement.part.places)}`;
    default:
      return undefined;
  }
}

/** Clauses that are facts of their own, whatever statement they stand in. */
const OWN_CLAUSES: readonly (readonly [string, string])[] = [
  ['wearLimit', 'wear-limit'],
  ['per', 'per'],
];
const NOT_COMPARED = new Set(['per', 'wearLimit', 'body', 'word', 'kind', 'start', 'end', 'wordSpan']);

function statementFacts(statement: Statement, source: Source, block: string, prefix: string): readonly Fact[] {
  if (statement.kind === 'hole' || statement.kind === 'when') return [];
  const { word } = statement;
  const whole = writtenText(source, statement);
  const base = { ordered: false, label: undefined, statement: undefined };
  const facts: Fact[] = [];
  const list = pieces(statement);
  if (list !== undefined) {
    for (const { start, end, node, label } of list) {
      const span = { start, end };
      const path = `${prefix}${word}${label === undefined ? '' : `.${label}`}`;
      const text = `${word} ${writtenText(source, span)}`;
      facts.push({ ...base, path, word, node, text, place: placeIn(source, span), label });
    }
  } else if (statement.kind !== 'per') {
    const label = labelOf(statement);
    const node =
      statement.kind === 'broken'
        ? { asWritten: whole }
        : Object.fromEntries(Object.entries(statement).filter(([property]) => !NOT_COMPARED.has(property)));
    const own = OWN_CLAUSES.flatMap(([property]) => ownClause(statement, property));
    const inner = 'body' in statement && isSpan(statement.body) ? [statement.body] : [];
    const text = writtenWithout(source, statement, [...own, ...inner]);
    facts.push({
      path: `${prefix}${word}${label === undefined ? '' : `.${label}`}`,
      word,
      node,
      text,
      place: placeIn(source, spanWithout(source, statement, [...own, ...inner])),
      ordered: block === 'step' && !REMARKS.has(word),
      label: 'name' in statement ? label : undefined,
      statement,
    });
  }
  const path = facts[0]?.path ?? `${prefix}${word}`;
  for (const [property, clause] of OWN_CLAUSES) {
    for (const value of ownClause(statement, property)) {
      const written = writtenText(source, value);
      const text = written.startsWith(clause) ? written : `${clause} ${written}`;
      const own = statement.kind === 'per' ? `${prefix}per` : `${path}.${clause}`;
      facts.push({ ...base, path: own, word: clause, node: value, text, place: placeIn(source, value) });
    }
  }
  if ('body' in statement && statement.body !== undefined)
    for (const each of statement.body.statements) facts.push(...statementFacts(each, source, block, `${path}.`));
  return facts;
}

function ownClause(statement: Statement, property: string): readonly Span[] {
  const value: unknown = Object.entries(statement).find(([name]) => name === property)?.[1];
  return isSpan(value) ? [value] : [];
}

/** All facts of a declaration with the statements that hold of it; steps of a sequence have their own. */
export function factsOf(placed: Placed, declaration: Declaration, statements: readonly Statement[]): readonly Fact[] {
  return [
    ...headFacts(placed, declaration),
    ...statements.flatMap((each) => statementFacts(each, placed, declaration.word, '')),
  ];
}

/** The facts of what stands outside all declarations of a file: its notes, and what is silenced in all of it. */
export function outsideFacts(source: Source): readonly Fact[] {
  return source.parsed.outside.flatMap((each) => statementFacts(each, source, 'file', ''));
}
