// What is filled in, held against how much the job takes of that supply: a point or a unit that slipped.
import { told } from '../../../grammar/told.ts';
import type { Action, Value } from '../../../grammar/tree.ts';
import { toNumber } from '../../mechanics/exact.ts';
import { kindOf, sameDimension } from '../../mechanics/units.ts';
import { type Measure, measureOf } from '../../model/measure.ts';
import type { Step, Supply, View } from '../../model/view.ts';
import { stepsFilling } from '../../rehearsal/foresight.ts';
import type { Report, ThingCheck } from '../check.ts';
import page from './amount.md';

/** More than half as much again is no topping up, and less than a tenth no part of a filling. Judgement; no source. */
const TOO_MUCH = 1.5;
const TOO_LITTLE = 0.1;
/** Of coolant a tenth fills nothing; of oil and fuel it may be for a filter or a pump. */
const TOO_LITTLE_COOLANT = 0.12;

/** How much the job takes of a supply, with where that is written. */
function amountOf(
  supply: Supply,
): { readonly measure: Measure; readonly span: { start: number; end: number } } | undefined {
  const statement = supply.statements.find((each) => each.kind === 'value' && each.word === 'amount');
  if (statement?.kind !== 'value' || statement.value.kind === 'by-place') return undefined;
  const measure = measureOf(statement.value);
  return measure === undefined ? undefined : { measure, span: statement.value };
}

export const amount: ThingCheck<'step'> = {
  code: 'unit/amount',
  severity: 'warning',
  scope: 'thing',
  of: ['step'],
  page,
  run(thing, view, report) {
    for (const each of thing.statements) {
      if (each.kind !== 'action' || each.word !== 'fill' || each.amount === undefined || each.with === undefined)
        continue;
      const supply = view.things.get(each.with.owner.text);
      const whole = supply?.kind === 'supply' ? amountOf(supply) : undefined;
      const filled = each.amount.kind === 'by-place' ? undefined : measureOf(each.amount);
      if (filled !== undefined && whole === undefined) sayIfUnlikeOthers(thing, each, filled, view, report);
      if (supply === undefined || whole === undefined || filled === undefined) continue;
      if (!sameDimension(filled.unit, whole.measure.unit)) continue;
      const share = toNumber(filled.interval.low) / toNumber(whole.measure.interval.high);
      const most = toNumber(filled.interval.high) / toNumber(whole.measure.interval.low);
      const little = supply.kind === 'supply' && supply.sort === 'coolant' ? TOO_LITTLE_COOLANT : TOO_LITTLE;
      if (!(share > TOO_MUCH) && !(most < little)) continue;
      const text = (placed: typeof thing.placed, span: { start: number; end: number }): string =>
        placed.section.text.slice(span.start, span.end).replace(/\s+/g, ' ');
      const times = share > TOO_MUCH ? told`${Number(share.toPrecision(2))} times as much` : told`hardly any of it`;
      report(
        thing.placed,
        each.amount,
        told`${text(thing.placed, each.amount)} of ${told.thing(supply)} go in here, and the job takes ${text(supply.placed, whole.span)}: ${times}. See whether a point or a unit slipped.`,
        {
          related: [
            {
              placed: supply.placed,
              span: whole.span,
              message: told`How much the job takes of ${told.thing(supply)}.`,
            },
          ],
        },
      );
    }
  },
};

/** So many times another filling of the same place with the same kind is a slip. A variant may take a half more. Judgement; no source. */
const UNLIKE = 5;

/** The same figure in another unit, `4.2 US-gal` where another step fills 4.2 L. */
function isOtherUnit(one: Value | undefined, other: Value): boolean {
  if (one?.kind !== 'quantity' || other.kind !== 'quantity' || one.number.text !== other.number.text) return false;
  const [a, b] = [measureOf(one), measureOf(other)];
  return a !== undefined && b !== undefined && toNumber(a.interval.high) > FAR_APART * toNumber(b.interval.high);
}

/** Litres and quarts are near each other, litres and gallons are not. */
const FAR_APART = 1.5;

/** Whether two figures differ by their point alone, or are one figure in other units: topping up is another figure. */
function isSlip(one: Value | undefined, own: number, other: Value | undefined, its: number): boolean {
  if (one?.kind === 'quantity' && other?.kind === 'quantity' && one.number.text === other.number.text) return true;
  const powers = Math.log10(Math.max(its, own) / Math.min(its, own));
  return Math.abs(powers - Math.round(powers)) < SAME_DIGITS;
}

/** What variants may differ by, as a power of ten: 4.2 and 5.0 L. Judgement; no source. */
const SAME_DIGITS = 0.08;

/** Whether one filling is far less than each of several others of its place and kind, and those are like each other. */
function isOddOne(view: View, place: string, one: Action): boolean {
  const amountIn = ({ amount: value }: Action): number | undefined => {
    const measure = value === undefined || value.kind === 'by-place' ? undefined : measureOf(value);
    return measure === undefined || kindOf(measure.unit) !== 'volume' ? undefined : toNumber(measure.interval.high);
  };
  const sortOf = ({ with: supply }: Action): string | undefined => {
    const thing = supply === undefined ? undefined : view.things.get(supply.owner.text);
    return thing?.kind === 'supply' ? thing.sort : undefined;
  };
  const own = amountIn(one);
  if (own === undefined) return false;
  const others = stepsFilling(view, place)
    .filter(({ action }) => action !== one && sortOf(action) === sortOf(one))
    .flatMap(({ action }) => {
      const its = amountIn(action);
      return its === undefined ? [] : [{ its, value: action.amount }];
    });
  const amounts = others.map(({ its }) => its);
  const [least, most] = [Math.min(...amounts), Math.max(...amounts)];
  const isFarLess = others.length > 1 && least > UNLIKE * own && most < FAR_APART * least;
  return isFarLess && others.some(({ its, value }) => isSlip(one.amount, own, value, its));
}

/** Without an amount in the supply: what other steps fill into the same place, with the same kind of supply. */
function sayIfUnlikeOthers(step: Step, action: Action, filled: Measure, view: View, report: Report): void {
  const own = toNumber(filled.interval.high);
  const sortOf = (each: Action): string | undefined => {
    const supply = each.with === undefined ? undefined : view.things.get(each.with.owner.text);
    return supply?.kind === 'supply' ? supply.sort : undefined;
  };
  const places = new Set(action.targets.map(({ owner }) => owner.text));
  for (const place of places) {
    const isHere = isOddOne(view, place, action);
    for (const { step: other, action: each } of stepsFilling(view, place)) {
      if (each === action || each.amount === undefined || sortOf(each) !== sortOf(action)) continue;
      const measure = each.amount.kind === 'by-place' ? undefined : measureOf(each.amount);
      if (measure === undefined || !sameDimension(measure.unit, filled.unit)) continue;
      const isUnlike =
        isHere ||
        (own > UNLIKE * toNumber(measure.interval.high) &&
          isSlip(action.amount, own, each.amount, toNumber(measure.interval.high))) ||
        isOtherUnit(action.amount, each.amount);
      if (!isUnlike || action.amount === undefined || !(isHere || own > toNumber(measure.interval.high))) continue;
      // Of several the odd one out is told.
      if (!isHere && isOddOne(view, place, each)) continue;
      const text = (placed: Step['placed'], span: { start: number; end: number }): string =>
        placed.section.text.slice(span.start, span.end).replace(/\s+/g, ' ');
      report(
        step.placed,
        action.amount,
        told`${text(step.placed, action.amount)} go into ${told.list([...places], ',')} here, and ${text(other.placed, each.amount)} in step ${told.thing(other)}. See whether a point or a unit slipped.`,
        { related: [{ placed: other.placed, span: each.amount, message: told`Filled here too.` }] },
      );
      return;
    }
  }
}
