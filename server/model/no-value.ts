// Why a sum comes to nothing: a divisor that can be zero, an input that has no figure. For saying so where it stands; what is not
// known at all, and sums of two kinds, are said elsewhere.

import { leavesOf, termsOf } from '../../grammar/terms.ts';
import { type Argument, told } from '../../grammar/told.ts';
import type { Expression, Span } from '../../grammar/tree.ts';
import { signOf } from '../mechanics/exact.ts';
import { isPoint } from '../mechanics/interval.ts';
import { ENGINE_FIGURES, ENGINE_MEASURES } from './engine-figures.ts';
import { engineFigure, engineMeasure, neededFor } from './engine-sums.ts';
import { evaluation } from './evaluation.ts';
import { DEEPEST, type Evaluation, workOut } from './expression.ts';
import { featureValue } from './expression-inputs.ts';
import { type Asked, placesFor } from './feature-places.ts';
import { plainValues } from './measure.ts';
import type { Limit, View } from './view.ts';
import type { Worked } from './worked.ts';

export type NoValue =
  | { readonly why: 'divisor'; readonly where: Span; readonly divisor: Worked; readonly isZero: boolean }
  /** An input of which the spec gives no figure, by name; what it lacks is said in words. */
  | { readonly why: 'input'; readonly where: Span; readonly name: Argument; readonly lacks: Argument }
  /** It rests on a limit that rests on one, and so on, further than is followed. */
  | { readonly why: 'deep'; readonly where: Span; readonly name: Argument; readonly most: number }
  /** It rests on itself, perhaps through others: these, in a row. */
  | { readonly why: 'circle'; readonly where: Span; readonly through: readonly Limit[] };

/** The first thing in an expression that keeps it from having a value; undefined where it has one, or where something else says so. */
export function whyNoValue(expression: Expression, at: Evaluation): NoValue | undefined {
  switch (expression.kind) {
    case 'quantity':
      return undefined;
    case 'negated':
      return whyNoValue(expression.operand, at);
    case 'call':
      return expression.operands.map((operand) => whyNoValue(operand, at)).find((found) => found !== undefined);
    case 'binary': {
      const { first, further } = termsOf(expression);
      const found = whyNoValue(first, at);
      if (found !== undefined) return found;
      for (const each of further) {
        const inside = whyNoValue(each.right, at);
        if (inside !== undefined) return inside;
        const divisor = each.operator === '/' ? workOut(each.right, at) : undefined;
        if (divisor === undefined || !canBeZero(divisor)) continue;
        // What is before it has no value of its own, and neither has all that comes after.
        if (workOut(each.left, at) === undefined) return undefined;
        return { why: 'divisor', where: each.right, divisor, isZero: isPoint(divisor.stack.interval) };
      }
      return undefined;
    }
    case 'reference':
      return ofReference(expression, at);
  }
}

const canBeZero = ({ stack: { interval } }: Worked): boolean => signOf(interval.low) <= 0 && signOf(interval.high) >= 0;

function ofReference(expression: Expression & { readonly kind: 'reference' }, at: Evaluation): NoValue | undefined {
  const { owner, feature } = expression.reference;
  const { view } = at;
  const input = (name: Argument, lacks: Argument): NoValue => ({ why: 'input', where: expression, name, lacks });
  if (owner.text === 'engine') return feature === undefined ? undefined : ofEngine(feature.text, view, input);
  const thing = view.things.get(owner.text);
  if (thing === undefined || thing.broken) return undefined;
  if (thing.kind === 'limit' && feature === undefined) {
    if (workOut(expression, at) !== undefined) return undefined;
    const through = circleFrom(thing, view);
    if (through !== undefined) return { why: 'circle', where: expression, through };
    // The first of a row that is too deep; what rests on it comes to nothing with it.
    if (thing.expression !== undefined)
      return workOut(expression, { ...evaluation(view, at.asked), depth: at.depth - 1 }) === undefined
        ? undefined
        : { why: 'deep', where: expression, name: told.thing(thing), most: DEEPEST };
    const isOpen = plainValues(thing.within).some((value) => value.kind === 'open');
    return thing.within === undefined || isOpen
      ? undefined
      : input(told.thing(thing), told`${told.thing(thing)} has no bounds at the place that is asked for`);
  }
  if (thing.kind !== 'part' || feature === undefined || !thing.featureNames.has(feature.text)) return undefined;
  if (workOut(expression, at) !== undefined) return undefined;
  const name = `${thing.name}.${feature.text}`;
  const value = featureValue(view, thing, feature.text);
  if (value === undefined || typeof value === 'number') return undefined;
  if (placesFor(thing, feature.text, expression.reference, at.asked).length === 0)
    return input(name, told`its places and those of the limit do not pair: ${at.asked.of} here`);
  return value.kind === 'by-place' && at.asked.of > 1
    ? input(name, told`it has no figure at ${told.place(placeAsked(at.asked))}`)
    : undefined;
}

/** `left 2`, `left` where there is one of that name, `2`. */
const placeAsked = ({ name, number, index }: Asked): string =>
  name === undefined ? String(number ?? index) : number === undefined ? name : `${name} ${number}`;

/** The limits that a sum names. */
const limitsNamed = (expression: Expression, view: View): readonly Limit[] =>
  leavesOf(expression).flatMap((leaf) => {
    if (leaf.kind !== 'reference' || leaf.reference.feature !== undefined) return [];
    const thing = view.things.get(leaf.reference.owner.text);
    return thing?.kind === 'limit' ? [thing] : [];
  });

/** The limits on the way from one back to itself; undefined where there is no such way. */
function circleFrom(limit: Limit, view: View): readonly Limit[] | undefined {
  const from = new Map<Limit, Limit | undefined>([[limit, undefined]]);
  const open = [limit];
  for (let each = open.shift(); each !== undefined; each = open.shift()) {
    for (const next of each.expression === undefined ? [] : limitsNamed(each.expression, view)) {
      if (next === limit) {
        const way: Limit[] = [];
        for (let back: Limit | undefined = each; back !== undefined; back = from.get(back)) way.unshift(back);
        return way;
      }
      if (from.has(next) || from.size > DEEPEST * DEEPEST) continue;
      from.set(next, each);
      open.push(next);
    }
  }
  return undefined;
}

function ofEngine(name: string, view: View, input: (name: Argument, lacks: Argument) => NoValue): NoValue | undefined {
  if (engineFigure(name, view) !== undefined || view.engine?.broken) return undefined;
  if (ENGINE_MEASURES.some((measure) => measure === name))
    return view.engine?.statements.some((statement) => statement.word === name)
      ? undefined
      : input(`engine.${name}`, told`the engine has no ${name}`);
  if (!Object.hasOwn(ENGINE_FIGURES, name)) return undefined;
  const missing = neededFor(name, view).filter(
    (measure) =>
      engineMeasure(measure, view) === undefined &&
      !view.engine?.statements.some((statement) => statement.word === measure),
  );
  const [first] = missing;
  return first === undefined
    ? undefined
    : input(
        `engine.${name}`,
        told.list(
          missing.map((each, i) => (i === 0 ? told`the engine has no ${each}` : told`no ${each}`)),
          ',',
        ),
      );
}
