// A figure that nothing can have: a torque or a time of nothing, a mass below it, colder than cold can be, a wheel without teeth.
import { type Told, told } from '../../../grammar/told.ts';
import type { Declaration, PlainValue, Span, Statement } from '../../../grammar/tree.ts';
import { compare, type Exact, negate, signOf, wholeNumber, ZERO } from '../../mechanics/exact.ts';
import { kindName, kindOf, offsetOf, type UnitKind } from '../../mechanics/units.ts';
import { measureOf, plainValues } from '../../model/measure.ts';
import type { DeclarationCheck } from '../check.ts';
import page from './impossible.md';
import { type Written, writtenValues } from './written-values.ts';

interface Impossible {
  readonly at: Span;
  readonly why: Told;
}

/** Nothing of these is nothing that is done, bought or weighed. A pressure may lie below that of the air, a force may push or pull. */
const MORE_THAN_NOTHING: ReadonlySet<UnitKind> = new Set(['torque', 'mass', 'volume', 'time', 'speed', 'distance']);
/** Lengths and angles that are sizes or ways to go; any other may be counted from a face, or from dead centre, either way. */
const SIZES: ReadonlySet<string> = new Set([
  ...['wall', 'pitch', 'length', 'shank', 'thread-length', 'hole-depth', 'reuse', 'stretch', 'size', 'amount'],
  ...['part-way', 'centre-distance', 'lift', 'torque', 'retorque'],
]);
/** What is read off may be anything; what a sum holds, and the bounds of a limit, may lie on both sides of nothing. */
const EITHER_SIDE: ReadonlySet<string> = new Set([
  'a sum',
  'measured',
  'log',
  'within',
  'wear-limit',
  'figure',
  'dimension',
]);
/** A dimension by such a name is a size, never a height over something. Common practice, no source. */
const SIZE_NAME = /(?:^|[-_])(?:bore|journal|diameter|crankpin|pin|thickness|width|stem|free-length|wall)$/;
/** `x0`, `teeth 0`, `links 0`. */
const COUNTED: ReadonlySet<string> = new Set(['teeth', 'links']);

function isNothing(value: PlainValue): boolean {
  const interval = measureOf(value)?.interval;
  return interval !== undefined && (signOf(interval.high) <= 0 || signOf(interval.low) < 0);
}

/** Below -273.15 degC, which is where the scale in kelvin begins. A difference in kelvin may be less than nothing. */
function isTooCold(value: PlainValue): boolean {
  const measure = measureOf(value);
  return measure !== undefined && !offsetOf(measure.unit).equals(ZERO) && signOf(measure.interval.low) < 0;
}

/** Where something lies round a shaft: more than a turn is a slip. */
const ROUND: ReadonlySet<string> = new Set(['mark', 'orient']);
const TURN: Exact = wholeNumber(360) ?? ZERO;

function isPastATurn(value: PlainValue): boolean {
  const measure = measureOf(value);
  if (measure === undefined || kindOf(measure.unit) !== 'angle') return false;
  const { low, high } = measure.interval;
  return compare(high, TURN) > 0 || compare(low, negate(TURN)) < 0;
}

/** A range whose two ends are one figure leaves nothing between: the other end was forgotten. A count or a ratio may be one figure. */
function isNoRange(value: PlainValue): boolean {
  return (
    value.kind === 'range' &&
    value.readings === undefined &&
    value.unit !== undefined &&
    Number(value.low.text) === Number(value.high.text) &&
    Number(value.low.text) !== 0
  );
}

function inValue({ value, word }: Written): Impossible | undefined {
  if (word === 'within' && isNoRange(value))
    return { at: value, why: told`Nothing lies between two ends that are the same. See which of the two is wrong.` };
  if (ROUND.has(word) && isPastATurn(value))
    return { at: value, why: told`A turn has 360 deg: nothing lies further round. See whether a figure slipped.` };
  if (isTooCold(value)) return { at: value, why: told`Nothing is colder than -273.15 degC (-459.67 degF).` };
  const measure = EITHER_SIDE.has(word) ? undefined : measureOf(value);
  const kind = measure === undefined ? undefined : kindOf(measure.unit);
  if (kind === undefined || !(MORE_THAN_NOTHING.has(kind) || SIZES.has(word)) || !isNothing(value)) return undefined;
  return { at: value, why: told`${told.capital(told.term(kindName(kind)))} of nothing or less can't be.` };
}

function inStatement(statement: Statement): readonly Impossible[] {
  if (statement.kind === 'when') return statement.body.statements.flatMap(inStatement);
  if (statement.kind === 'number' && COUNTED.has(statement.word) && !(Number(statement.number.text) > 0))
    return [{ at: statement.number, why: told`${statement.word} ${statement.number.text} can't be: count them.` }];
  if (statement.kind === 'number' && statement.word === 'revision' && !/^0*[1-9]\d*$/.test(statement.number.text))
    return [
      {
        at: statement.number,
        why: told`revision ${statement.number.text} can't be: revisions are counted, 1, 2, 3 and so on.`,
      },
    ];
  if (statement.kind !== 'dimension' || !SIZE_NAME.test(statement.name.text)) return [];
  const { name } = statement;
  return [...plainValues(statement.value), ...plainValues(statement.wearLimit)].flatMap((value) =>
    isNothing(value) ? [{ at: value, why: told`${told.named(name.text)} of nothing or less can't be.` }] : [],
  );
}

function inCount({ count }: Declaration): readonly Impossible[] {
  return count?.value === 0 ? [{ at: count, why: told`x0 can't be: take it out, or say how many there are.` }] : [];
}

export const impossibleFigure: DeclarationCheck = {
  code: 'unit/impossible',
  severity: 'error',
  scope: 'declaration',
  page,
  run(placed, _view, report) {
    const { declaration } = placed;
    // Of the measures of an engine engine/impossible tells.
    const values = declaration.word === 'engine' ? [] : writtenValues(placed).flatMap((each) => inValue(each) ?? []);
    const all = [...inCount(declaration), ...values, ...(declaration.body?.statements ?? []).flatMap(inStatement)];
    for (const { at, why } of all) report(placed, at, why);
  },
};
