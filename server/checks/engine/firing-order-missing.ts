// An engine whose crankpins are said and whose firing order is not: what a first spec leaves to be filled in.
import { told } from '../../../grammar/told.ts';
import { engineStatement } from '../../model/engine-figures.ts';
import type { EngineCheck } from '../check.ts';
import page from './firing-order-missing.md';

export const firingOrderMissing: EngineCheck = {
  code: 'engine/firing-order-missing',
  severity: 'warning',
  scope: 'engine',
  page,
  run(engine, _view, report) {
    // Two cylinders fire one after the other: there is one order.
    if (engine.cylinders === undefined || engine.cylinders < 3 || engine.broken) return;
    if (engineStatement(engine, 'firing-order') !== undefined) return;
    if (engine.statements.some((each) => each.kind === 'broken')) return;
    // Crankpins that lack a cylinder are said themselves.
    const pins = engine.statements.flatMap((each) => (each.kind === 'crankpin' ? each.cylinders : []));
    if (pins.length !== engine.cylinders) return;
    report(
      engine.placed,
      engine.placed.declaration.wordSpan,
      told`The crankpins of ${engine.cylinders} cylinders are said, and not in which order they fire. Write it as the manual has it: firing-order 1-…`,
      { missing: true },
    );
  },
};
