// A firing order that the crank does not allow: two pistons are not where the order needs them.
import { type QuantityArgument, type Told, told } from '../../../grammar/told.ts';
import type { Span } from '../../../grammar/tree.ts';
import { type FiringQuestion, judgeFiring, reversedOrder, type WrongPiston } from '../../mechanics/firing-order.ts';
import { engineStatement } from '../../model/engine-figures.ts';
import { firingQuestion } from '../../model/engine-sums.ts';
import type { Engine } from '../../model/view.ts';
import type { EngineCheck, Report } from '../check.ts';
import { figure } from '../figures.ts';
import { inWords } from '../support.ts';
import page from './firing-order-crank.md';

/** Orders of more cylinders than this are not tried out: there are too many. */
const MOST_TRIED = 6;
/** More orders than this are no help. */
const MOST_OFFERED = 4;

const degrees = (angle: number): QuantityArgument => figure(String(angle), 'deg');

function inWordsOf(wrong: readonly WrongPiston[], order: readonly number[]): Told {
  const first = order[0] ?? 1;
  const evenly = wrong.flatMap((each) =>
    each.needed === undefined
      ? []
      : [
          each.stands === 0
            ? told`cylinder ${each.cylinder} would fire ${degrees(each.needed)} after cylinder ${first}, but its piston is at the top together with it`
            : told`cylinder ${each.cylinder} would fire ${degrees(each.needed)} after cylinder ${first}, but its piston is at the top ${degrees(each.stands)} after it`,
        ],
  );
  const [firstOut, secondOut] = evenly;
  if (firstOut !== undefined) return secondOut === undefined ? firstOut : told`${firstOut}; ${secondOut}`;
  const [one, two] = wrong;
  if (one === undefined || two === undefined) return told`two pistons are not where the order needs them`;
  return told`cylinder ${two.cylinder} can't follow cylinder ${one.cylinder}: their pistons are at the top ${String(one.stands)} and ${degrees(two.stands)} after cylinder ${first}`;
}

function ordersOf(numbers: readonly number[]): readonly (readonly number[])[] {
  if (numbers.length < 2) return [numbers];
  return numbers.flatMap((number) =>
    ordersOf(numbers.filter((other) => other !== number)).map((rest) => [number, ...rest]),
  );
}

/** The orders from cylinder 1 that this crank fires evenly; empty where there are too many to be of help. */
function evenOrders(question: FiringQuestion): readonly string[] {
  if (question.cylinders > MOST_TRIED) return [];
  const others = Array.from({ length: question.cylinders - 1 }, (_, i) => i + 2);
  const fitting = ordersOf(others)
    .map((rest) => [1, ...rest])
    .filter((order) => {
      const verdict = judgeFiring({ ...question, order });
      return verdict?.verdict === 'fits' && verdict.even;
    });
  return fitting.length > MOST_OFFERED ? [] : fitting.map((order) => order.join('-'));
}

/** The order fits the crank only where its angles are counted against the rotation: the crank as written is its mirror image. */
function sayMirrored(engine: Engine, question: FiringQuestion, order: Span, report: Report): void {
  const pins = engine.statements.flatMap((each) => (each.kind === 'crankpin' ? [each] : []));
  report(
    engine.placed,
    order,
    told`This order fits the crankpins only where their angles are counted against the direction of rotation; counted with it, as they are here, the crank fires ${reversedOrder(question.order).join('-')}. If the source counts them the other way, take each angle from 360 deg; else see whether two crankpins changed places.`,
    {
      severity: 'information',
      related: pins.slice(1, 3).map((pin) => ({
        placed: engine.placed,
        span: { start: pin.start, end: pin.angle.end },
        message: told`The crankpin.`,
      })),
    },
  );
}

export const firingOrderCrank: EngineCheck = {
  code: 'engine/firing-order-crank',
  severity: 'error',
  scope: 'engine',
  page,
  run(engine, _view, report) {
    const statement = engineStatement(engine, 'firing-order');
    const question = firingQuestion(engine);
    const verdict = question === undefined ? undefined : judgeFiring(question);
    const [first, last] = [statement?.order[0], statement?.order[statement.order.length - 1]];
    if (question === undefined || verdict === undefined || first === undefined || last === undefined) return;
    if (verdict.verdict === 'fits') {
      if (verdict.senses.counting === -1) sayMirrored(engine, question, { start: first.start, end: last.end }, report);
      return;
    }
    const orders = evenOrders(question);
    const right =
      orders.length === 0
        ? told`See which of the two is wrong.`
        : told`This crank fires evenly in the order ${inWords(orders, 'or')}.`;
    const pins = engine.statements.flatMap((each) =>
      each.kind === 'crankpin' &&
      each.cylinders.some((cylinder) => verdict.wrong.some((piston) => piston.cylinder === cylinder.value))
        ? [each]
        : [],
    );
    report(
      engine.placed,
      { start: first.start, end: last.end },
      told`The crankpins do not allow this order: ${inWordsOf(verdict.wrong, question.order)}. ${right}`,
      {
        related: pins.map((pin) => ({
          placed: engine.placed,
          span: { start: pin.start, end: pin.angle.end },
          message: told`The crankpin.`,
        })),
      },
    );
  },
};
