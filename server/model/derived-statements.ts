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

function isDropped(statement: Statement, { what, name }: Drop): boolean {
  return statement.word === what.word && (name === undefined || namesOf(statement).includes(name.text));
}

export interface Changed {
  readonly merged: readonly Merged[];
  /** What is dropped and is not there. */
  readonly idle: readonly Drop[];
}

/** What statements of a change make of those of a base. Neither may have a `when` in it that matters: see statementsFor. */
export function mergeStatements(base: readonly Statement[], change: readonly Statement[]): Changed {
  const drops = change.filter((each) => each.kind === 'drop');
  const said = change.filter((each) => each.kind !== 'drop' && each.kind !== 'hole');
  const turned = new Set(
    said.flatMap((each) => (each.kind === 'orient' ? each.rules.map((rule) => rule.feature.text) : [])),
  );
  const effective = new Set<Drop>();
  const was = new Map<Statement, Span[]>();
  const placed = new Set<Statement>();
  const merged: Merged[] = [];
  const note = (of: Statement | undefined, span: Span): void => {
    if (of !== undefined) was.set(of, [...(was.get(of) ?? []), span]);
  };
  for (const statement of base) {
    if (statement.kind === 'hole') {
      merged.push({ from: 'base', statement });
      continue;
    }
    const whole = drops.filter((drop) => isDropped(statement, drop));
    for (const drop of whole) effective.add(drop);
    const key = keyOf(statement);
    const inPlace = said.filter((each) => each.kind !== 'orient' && key !== undefined && keyOf(each) === key);
    if (statement.kind !== 'orient' && inPlace.length > 0) {
      note(inPlace[0], statement);
      for (const each of inPlace) {
        if (placed.has(each)) continue;
        placed.add(each);
        merged.push({ from: 'change', statement: each, was: [] });
      }
      continue;
    }
    if (whole.length > 0) continue;
    const items = itemsOf(statement);
    const gone = (item: Item): boolean => {
      const named = drops.filter((drop) => drop.what.word === statement.word && drop.name?.text === item.name);
      for (const drop of named) effective.add(drop);
      if (statement.kind !== 'orient' || !turned.has(item.name)) return named.length > 0;
      note(
        said.find((each) => each.kind === 'orient' && each.rules.some((rule) => rule.feature.text === item.name)),
        item,
      );
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
