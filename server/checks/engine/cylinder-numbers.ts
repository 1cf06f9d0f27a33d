// Each cylinder once in the firing order, on one crankpin, and in one bank.
import { type ListArgument, told } from '../../../grammar/told.ts';
import { isWhole, numberFaults } from '../../mechanics/firing-order.ts';
import type { EngineCheck } from '../check.ts';
import { inWords } from '../support.ts';
import banksPage from './banks.md';
import crankpinsPage from './crankpins.md';
import orderPage from './firing-order-incomplete.md';

function faultsInWords(numbers: readonly number[], count: number): ListArgument {
  const faults = numberFaults(numbers, count);
  return inWords([
    ...(faults.missing.length > 0
      ? [
          faults.missing.length === 1
            ? told`${faults.missing[0] ?? 0} is missing`
            : told`${inWords(faults.missing)} are missing`,
        ]
      : []),
    ...(faults.twice.length > 0
      ? [
          faults.twice.length === 1
            ? told`${faults.twice[0] ?? 0} is there twice`
            : told`${inWords(faults.twice)} are there twice`,
        ]
      : []),
    ...(faults.beyond.length > 0 ? [told`there is no cylinder ${inWords(faults.beyond, 'or')}`] : []),
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
      told`The firing order of ${engine.cylinders} cylinders must have each once: ${faultsInWords(numbers, engine.cylinders)}.`,
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
      told`Each of the ${engine.cylinders} cylinders is on one crankpin: ${faultsInWords(numbers, engine.cylinders)}.`,
    );
  },
};

export const banks: EngineCheck = {
  code: 'engine/banks',
  severity: 'error',
  scope: 'engine',
  page: banksPage,
  run(engine, _view, report) {
    const all = engine.statements.flatMap((each) => (each.kind === 'bank' ? [each] : []));
    const first = all[0];
    // With one bank alone the other is still to be written.
    if (first === undefined || all.length < 2 || engine.cylinders === undefined) return;
    if (engine.statements.some((each) => each.kind === 'broken' && each.word === 'bank')) return;
    const numbers = all.flatMap((bank) => bank.cylinders.map((each) => each.value));
    if (isWhole(numberFaults(numbers, engine.cylinders))) return;
    report(
      engine.placed,
      first.wordSpan,
      told`Each of the ${engine.cylinders} cylinders is in one bank: ${faultsInWords(numbers, engine.cylinders)}.`,
    );
  },
};
