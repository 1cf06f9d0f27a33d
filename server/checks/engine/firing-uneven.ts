// An engine that fires at uneven intervals: many true ones do, so it is only said.
import { told } from '../../../grammar/told.ts';
import { engineStatement } from '../../model/engine-figures.ts';
import { firingVerdict } from '../../model/engine-sums.ts';
import type { EngineCheck } from '../check.ts';
import { inWords } from '../support.ts';
import page from './firing-uneven.md';

export const firingUneven: EngineCheck = {
  code: 'engine/firing-uneven',
  severity: 'information',
  scope: 'engine',
  page,
  run(engine, _view, report) {
    const statement = engineStatement(engine, 'firing-order');
    const verdict = firingVerdict(engine);
    const [first, last] = [statement?.order[0], statement?.order[statement.order.length - 1]];
    if (verdict?.verdict !== 'fits' || verdict.even || first === undefined || last === undefined) return;
    const intervals = verdict.intervals.map((interval) => Number(interval.toFixed(1)));
    report(
      engine.placed,
      { start: first.start, end: last.end },
      told`On this crank the engine fires unevenly, at intervals of ${inWords(intervals)} deg.`,
    );
  },
};
