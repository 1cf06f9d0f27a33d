// What tells a statement from its like in one body, and which lists are so many facts. A statement that is not here is told apart by
// what it says.
import type { Name, Place, Reference, Span, Statement } from '../../grammar/tree.ts';

/** Lists of names whose order means something. */
const IN_ORDER = new Set(['sequences']);

/** The pieces of a statement that is a list whose order means nothing. */
export function pieces(
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
export function labelOf(statement: Statement): string | undefined {
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
    case 'tightening-order':
      return statement.stage === undefined ? undefined : `stage ${statement.stage.value}`;
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
    case 'witnessed':
      return named(statement.step);
    case 'see':
      return statement.source.text;
    case 'record-fitted':
    case 'found':
      return `${named(statement.part)}${placesKey(statement.part.places)}`;
    default:
      return undefined;
  }
}
