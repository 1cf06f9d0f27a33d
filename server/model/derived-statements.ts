// Which statement of a change takes the place of which of the base, and which are dropped: the meaning of `change`, statement by
// statement. Texts are put together elsewhere (derived-declaration.ts).
import type { Drop, Name, OrientRule, Span, Statement } from '../../grammar/tree.ts';

/** One statement of what a change makes of a base, in order. */
export type Merged =
  | { readonly from: 'base'; readonly statement: Statement }
  /** What is left of a list of the base after some of it is replaced or dropped. */
  | { readonly from: 'base'; readonly statement: Statement; readonly left: readonly Span[] }
  | { readonly from: 'change'; readonly statement: Statement; readonly was: readonly Span[] };

/** What a statement of some word is about, where several of that word may stand side by side. */
function aboutOf(statement: Statement): readonly string[] {
  switch (statement.kind) {
    case 'dimension':
    case 'figure':
    case 'size':
    case 'mark':
    case 'source':
    case 'grade':
      return [statement.name.text];
    case 'bank':
      return [statement.side.word];
    case 'wrap':
      return [statement.part.text];
    case 'mesh':
    case 'ratio-of':
      return [statement.first.text, statement.second.text].sort();
    case 'centre-distance':
      return [statement.from.text, statement.to.text].sort();
    case 'marked-link':
      return [`${statement.mark.owner.text}.${statement.mark.feature?.text ?? ''}`];
    case 'stated':
      return [statement.what.word];
    case 'tightening-order':
      return statement.stage === undefined ? [] : [String(statement.stage.value)];
    default:
      return [];
  }
}

/** Statements of one key take each other's place; those without one stand side by side. */
function keyOf(statement: Statement): string | undefined {
  if (statement.kind === 'allow' || statement.word === 'note' || statement.word === 'feature') return undefined;
  return [statement.word, ...aboutOf(statement)].join(' ');
}

/** The names by which one statement of a word can be dropped. */
function namesOf(statement: Statement): readonly string[] {
  if (statement.kind === 'allow') return [statement.code.text];
  if (statement.kind === 'marked-link') return [statement.mark.owner.text, statement.mark.feature?.text ?? ''];
  return aboutOf(statement);
}

interface Item extends Span {
  readonly name: string;
}

/** The members of a list that may be replaced or dropped by name. */
function itemsOf(statement: Statement): readonly Item[] | undefined {
  if (statement.kind === 'orient')
    return statement.rules.map((rule: OrientRule) => ({ name: rule.feature.text, start: rule.start, end: rule.end }));
  if (statement.kind === 'names' && statement.word === 'feature')
    return statement.names.map((name: Name) => ({ name: name.text, start: name.start, end: name.end }));
  if (statement.kind === 'covers')
    return statement.covered.map((each) => ({ name: each.owner.text, start: each.start, end: each.end }));
  return undefined;
}

const dropKey = (word: string, name: string | undefined): string => (name === undefined ? word : `${word} ${name}`);

export interface Changed {
  readonly merged: readonly Merged[];
  /** What is dropped and is not there. */
  readonly idle: readonly Drop[];
}

/** What statements of a change make of those of a base. Neither may have a `when` in it that matters: see statementsFor. */
export function mergeStatements(base: readonly Statement[], change: readonly Statement[]): Changed {
  const drops = change.filter((each) => each.kind === 'drop');
  const said = change.filter((each) => each.kind !== 'drop' && each.kind !== 'hole');
  /** What is turned, and the first that turns it. */
  const turned = new Map<string, Statement>();
  /** What is said of the same, in order. */
  const saidOf = new Map<string, Statement[]>();
  for (const each of said)
    if (each.kind === 'orient') {
      for (const rule of each.rules) if (!turned.has(rule.feature.text)) turned.set(rule.feature.text, each);
    } else {
      const key = keyOf(each);
      const there = key === undefined ? undefined : saidOf.get(key);
      if (there !== undefined) there.push(each);
      else if (key !== undefined) saidOf.set(key, [each]);
    }
  const dropsOf = new Map<string, Drop[]>();
  for (const drop of drops) {
    const key = dropKey(drop.what.word, drop.name?.text);
    const there = dropsOf.get(key);
    if (there === undefined) dropsOf.set(key, [drop]);
    else there.push(drop);
  }
  const dropsFor = (word: string, name?: string): readonly Drop[] => dropsOf.get(dropKey(word, name)) ?? [];
  const effective = new Set<Drop>();
  const was = new Map<Statement, Span[]>();
  const placed = new Set<Statement>();
  const merged: Merged[] = [];
  const note = (of: Statement | undefined, span: Span): void => {
    if (of === undefined) return;
    const there = was.get(of);
    if (there === undefined) was.set(of, [span]);
    else there.push(span);
  };
  for (const statement of base) {
    if (statement.kind === 'hole') {
      merged.push({ from: 'base', statement });
      continue;
    }
    const { word } = statement;
    const whole = [...dropsFor(word), ...[...new Set(namesOf(statement))].flatMap((name) => dropsFor(word, name))];
    for (const drop of whole) effective.add(drop);
    const key = keyOf(statement);
    const inPlace = (key === undefined ? undefined : saidOf.get(key)) ?? [];
    const [first] = inPlace;
    if (statement.kind !== 'orient' && first !== undefined) {
      note(first, statement);
      // All go where the first of them stood.
      if (!placed.has(first))
        for (const each of inPlace) {
          placed.add(each);
          merged.push({ from: 'change', statement: each, was: [] });
        }
      continue;
    }
    if (whole.length > 0) continue;
    const items = itemsOf(statement);
    const gone = (item: Item): boolean => {
      const named = dropsFor(word, item.name);
      for (const drop of named) effective.add(drop);
      const turning = turned.get(item.name);
      if (statement.kind !== 'orient' || turning === undefined) return named.length > 0;
      note(turning, item);
      return true;
    };
    const left = items?.filter((item) => !gone(item));
    if (items === undefined || left === undefined || left.length === items.length)
      merged.push({ from: 'base', statement });
    else if (left.length > 0) merged.push({ from: 'base', statement, left });
  }
  for (const statement of said) if (!placed.has(statement)) merged.push({ from: 'change', statement, was: [] });
  return {
    merged: merged.map((each) => (each.from === 'change' ? { ...each, was: was.get(each.statement) ?? [] } : each)),
    idle: drops.filter((drop) => !effective.has(drop)),
  };
}
