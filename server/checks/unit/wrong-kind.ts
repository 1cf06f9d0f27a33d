// A unit of another kind than what is measured: a length where a torque is wanted; a sum that adds a length to an angle.
import { type Argument, told } from '../../../grammar/told.ts';
import type { Expression, PlainValue } from '../../../grammar/tree.ts';
import type { ValueKind } from '../../../grammar/vocabulary.ts';
import {
  type Dimension,
  dimensionOf,
  isSameDimension,
  kindName,
  kindOfDimension,
  type UnitKind,
} from '../../mechanics/units.ts';
import { bareSide, dimensionsOf, isPlain } from '../../model/expression-kind.ts';
import { plainValues, unitFrom } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import { kindOfValue } from '../../model/stage-kind.ts';
import type { View } from '../../model/view.ts';
import type { DeclarationCheck, Report } from '../check.ts';
import { inWords } from '../support.ts';
import { writtenValues } from './written-values.ts';
import page from './wrong-kind.md';

function named(kind: ValueKind | UnitKind): Argument {
  return told.term(kindName(kind === 'any' ? 'ratio' : (kind as UnitKind)));
}

function sayValue(placed: Placed, value: PlainValue, kinds: readonly ValueKind[], word: string, report: Report): void {
  if (value.kind === 'clock') {
    if (kinds.length > 0 && !kinds.includes('angle') && !kinds.includes('any'))
      report(
        placed,
        value,
        told`A clock direction can't stand after ${told.term(word)}; ${inWords(kinds.map(named), 'or')} is wanted.`,
      );
    return;
  }
  if (!('unit' in value) || value.unit?.parts === undefined) return;
  const kind = kindOfValue(value);
  const written = `${placed.section.text.slice(value.start, value.unit.end).replace(/\s+/g, ' ')}`;
  if (
    kinds.length > 0 &&
    !kinds.includes('any') &&
    !(kind !== undefined && (kinds as readonly string[]).includes(kind))
  ) {
    report(
      placed,
      value.unit,
      told`${written} is ${kind === undefined ? told`of no kind that has a name` : named(kind)}; after ${told.term(word)} ${inWords(
        kinds.filter((each) => each !== 'ratio').map(named),
        'or',
      )} is wanted.`,
    );
    return;
  }
  const restated = value.restated;
  if (restated !== undefined && 'unit' in restated && restated.unit?.parts !== undefined) {
    const other = kindOfValue(restated);
    if (kind !== other)
      report(
        placed,
        restated.unit,
        told`${written} is ${kind === undefined ? told`one thing` : named(kind)}, and what stands in brackets is ${other === undefined ? told`another` : named(other)}: they can't be the same value.`,
      );
  }
}

function kindText(dimension: Dimension): Argument {
  const kind = kindOfDimension(dimension);
  return kind === undefined ? told`something that no unit measures` : named(kind);
}

/** Says the first sum in an expression whose two sides are of different kinds. */
function sayExpression(placed: Placed, expression: Expression, view: View, report: Report): Dimension | undefined {
  return dimensionsOf(expression, view, (operator, left, right, where) => {
    // A bare number beside another kind is a missing unit: unit/missing says so.
    if (bareSide(where) !== undefined && (isPlain(left) || isPlain(right))) return;
    report(
      placed,
      where,
      operator === '+'
        ? told`${told.capital(kindText(left))} can't be added to ${kindText(right)}.`
        : told`${told.capital(kindText(right))} can't be taken from ${kindText(left)}.`,
    );
  });
}

export const wrongKind: DeclarationCheck = {
  code: 'unit/wrong-kind',
  severity: 'error',
  scope: 'declaration',
  page,
  run(placed, view, report) {
    for (const { value, kinds, word } of writtenValues(placed)) sayValue(placed, value, kinds, word, report);
    const limit = placed.declaration.limit;
    if (limit === undefined) return;
    const dimension =
      limit.expression === undefined ? undefined : sayExpression(placed, limit.expression, view, report);
    for (const value of [...plainValues(limit.within), ...plainValues(limit.wearLimit)]) {
      const own = boundDimension(value, view);
      if (dimension === undefined || own === undefined || isSameDimension(dimension, own) || isBareNumber(value))
        continue;
      report(
        placed,
        value,
        told`${placed.declaration.name?.text ?? told`This limit`} works out to ${kindText(dimension)}, and this bound is ${kindText(own)}.`,
      );
    }
  },
};

/** A bound without a unit: unit/missing says so. */
function isBareNumber(value: PlainValue): boolean {
  const inner = value.kind === 'open' ? value.value : value;
  return (
    (inner.kind === 'quantity' || inner.kind === 'range' || inner.kind === 'tolerance') && inner.unit === undefined
  );
}

function boundDimension(value: PlainValue, view: View): Dimension | undefined {
  if (value.kind === 'open') return dimensionsOf(value.value, view, () => undefined);
  if (value.kind !== 'quantity' && value.kind !== 'range' && value.kind !== 'tolerance') return undefined;
  if (value.unit === undefined) return dimensionOf([]);
  const unit = value.unit.parts === undefined ? undefined : unitFrom(value.unit.parts);
  return unit === undefined ? undefined : dimensionOf(unit);
}
