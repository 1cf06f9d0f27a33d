// Something that is said of a thing and itself: fixed to itself, clamped to itself, meshing with itself, fitted onto itself.
import { type Told, told } from '../../../grammar/told.ts';
import type { Name, Reference, Statement } from '../../../grammar/tree.ts';
import type { Placed } from '../../model/placed.ts';
import { isSameWhole } from '../../model/same-whole.ts';
import type { DeclarationCheck } from '../check.ts';
import page from './itself.md';

interface Pair {
  readonly at: Name | Reference;
  readonly why: Told;
}

function twice(names: readonly Name[], why: (name: Name) => Told): readonly Pair[] {
  const seen = new Set<string>();
  return names.flatMap((name) => {
    if (seen.has(name.text)) return [{ at: name, why: why(name) }];
    seen.add(name.text);
    return [];
  });
}

/** What a part says of another part, in its own braces. */
const OF_ANOTHER: ReadonlySet<string> = new Set(['fixed-to', 'clear-of', 'driven-by', 'out-through', 'like']);

function pairsIn(statement: Statement, own: string | undefined): readonly Pair[] {
  const ofItself = (at: Name | Reference): Pair => ({
    at,
    why: told`${statement.word} names ${told.named(own ?? '')} itself. Name the other one.`,
  });
  switch (statement.kind) {
    case 'when':
      return statement.body.statements.flatMap((each) => pairsIn(each, own));
    case 'names':
      return OF_ANOTHER.has(statement.word)
        ? statement.names.flatMap((name) => (name.text === own ? [ofItself(name)] : []))
        : [];
    case 'reference': {
      const { reference } = statement;
      const isItself = reference.owner.text === own && reference.feature === undefined && reference.places.length === 0;
      return OF_ANOTHER.has(statement.word) && isItself ? [ofItself(reference)] : [];
    }
    case 'covers':
      return statement.covered.flatMap((each) =>
        each.owner.text === own && each.feature === undefined && each.places.length === 0 ? [ofItself(each)] : [],
      );
    case 'clamps':
      return statement.clamped.flatMap((each) =>
        statement.to !== undefined && isSameWhole(each, statement.to)
          ? [
              {
                at: statement.to,
                why: told`${told.named(each.owner.text)} can't be clamped to itself. Name what it sits on.`,
              },
            ]
          : [],
      );
    case 'mesh':
    case 'ratio-of':
      return twice(
        [statement.first, statement.second],
        (name) => told`${told.named(name.text)} is named on both sides. Name the other wheel.`,
      );
    case 'centre-distance':
      return twice(
        [statement.from, statement.to],
        (name) => told`${told.named(name.text)} is named on both sides. Name the other wheel.`,
      );
    case 'wrap':
      return twice(
        [statement.part, ...statement.wheels.map((wheel) => wheel.name)],
        (name) => told`${told.named(name.text)} is named twice here: a wheel is on its way once.`,
      );
    case 'action':
      return statement.targets.flatMap((each) =>
        statement.mate !== undefined && statement.mate.word !== 'from' && isSameWhole(each, statement.mate.reference)
          ? [
              {
                at: statement.mate.reference,
                why: told`${told.named(each.owner.text)} can't go onto itself. Name what it goes onto.`,
              },
            ]
          : [],
      );
    default:
      return [];
  }
}

function pairsOf({ declaration }: Placed): readonly Pair[] {
  return (declaration.body?.statements ?? []).flatMap((each) => pairsIn(each, declaration.name?.text));
}

export const itself: DeclarationCheck = {
  code: 'name/itself',
  severity: 'error',
  scope: 'declaration',
  page,
  run(placed, _view, report) {
    for (const { at, why } of pairsOf(placed)) report(placed, at, why);
  },
};
