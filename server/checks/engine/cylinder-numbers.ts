// Each cylinder once in the firing order, and on one crankpin.
import { isWhole, numberFaults } from '../../mechanics/firing-order.ts';
import type { EngineCheck } from '../check.ts';
import { inWords } from '../support.ts';
import crankpinsPage from './crankpins.md';
import orderPage from './firing-order-incomplete.md';

function faultsInWords(numbers: readonly number[], count: number): string {
  const faults = numberFaults(numbers, count);
  return inWords([
    ...(faults.missing.length > 0
      ? [`${inWords(faults.missing)} ${faults.missing.length === 1 ? 'is' : 'are'} missing`]
      : []),
    ...(faults.twice.length > 0
      ? [`${inWords(faults.twice)} ${faults.twice.length === 1 ? 'is' : 'are'} there twice`]
      : []),
    ...(faults.beyond.length > 0 ? [`there is no cylinder ${inWords(faults.beyond, 'or')}`] : []),
  ]);
}

export const firingOrderIncomplete: EngineCheck = {
  code: 'engine/firing-order-incomplete',
  severity: 'error',
  scope: 'engine',
  page: orderPage,
  run(engine, _view, report) {
    const order = engine.statements.find((each) => each.kind === 'firing-order');
    if (order?.kind !== 'firing-order' || engine.cylinders === undefined) return;
    const numbers = order.order.map((each) => each.value);
    if (isWhole(numberFaults(numbers, engine.cylinders))) return;
    const [first, last] = [order.order[0], order.order[order.order.length - 1]];
    report(
      engine.placed,
      first === undefined || last === undefined ? order : { start: first.start, end: last.end },
      `The firing order of ${engine.cylinders} cylinders must have each once: ${faultsInWords(numbers, engine.cylinders)}.`,
    );
  },
};

export const crankpins: EngineCheck = {
  code: 'engine/crankpins',
  severity: 'error',
  scope: 'engine',
  page: crankpinsPage,
  run(engine, _view, report) {
    const pins = engine.statements.flatMap((each) => (each.kind === 'crankpin' ? [each] : []));
    const first = pins[0];
    if (
      first === undefined ||
      engine.cylinders === undefined ||
      engine.statements.some((each) => each.kind === 'broken' && each.word === 'crankpin')
    )
      return;
    const numbers = pins.flatMap((pin) => pin.cylinders.map((each) => each.value));
    if (isWhole(numberFaults(numbers, engine.cylinders))) return;
    report(
      engine.placed,
      first.wordSpan,
      `Each of the ${engine.cylinders} cylinders is on one crankpin: ${faultsInWords(numbers, engine.cylinders)}.`,
    );
  },
};
