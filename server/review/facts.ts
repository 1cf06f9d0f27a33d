// A declaration taken apart into facts: each clause of its head, each statement that holds for a variant, each with its path, its
// tree, its text and its place. One mechanism for all words of the language; nothing is compared here.
import { lookUp } from '../../grammar/look-up.ts';
import type { Declaration, Span, Statement } from '../../grammar/tree.ts';
import type { FilePlace } from '../model/finding.ts';
import { type Placed, placeOf } from '../model/placed.ts';
import { labelOf, pieces } from './labels.ts';
import { isSpan, type Source, spanWithout, writtenText, writtenWithout } from './written.ts';

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

const REMARKS = new Set(['note', 'caution', 'tool', 'after', 'per', 'allow', 'trial']);
const NO_CLAUSES = new Set(['word', 'wordSpan', 'name', 'start', 'end', 'body', 'broken', 'limit']);

/** `wearLimit` as the language writes it: `wear-limit`. */
function asWord(property: string): string {
  return property.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
}

function clauses(declaration: Declaration): readonly (readonly [string, unknown])[] {
  const own = Object.entries(declaration).filter(([property]) => !NO_CLAUSES.has(property));
  return [...own, ...Object.entries(declaration.limit ?? {})].filter(([, value]) => value !== undefined);
}

const SPOKEN: Readonly<Record<string, string>> = {
  count: '',
  expression: '= ',
  path: '',
  readings: 'measured readings ',
};

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
    const text = written.startsWith(word) ? written : `${lookUp(SPOKEN, property) ?? `${word} `}${written}`;
    const node = property === 'measured' ? true : value;
    return [
      {
        path: word,
        word,
        node,
        text,
        place: placeOf(placed, span),
        ordered: false,
        label: undefined,
        statement: undefined,
      },
    ];
  });
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
      facts.push({ ...base, path, word, node, text, place: placeOf(source, span), label });
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
      place: placeOf(source, spanWithout(source, statement, [...own, ...inner])),
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
      facts.push({ ...base, path: own, word: clause, node: value, text, place: placeOf(source, value) });
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
