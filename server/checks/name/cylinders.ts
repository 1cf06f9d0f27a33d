// A cylinder that the engine does not have, where a place of the crankshaft is told by one.
import { told } from '../../../grammar/told.ts';
import type { Statement, Whole } from '../../../grammar/tree.ts';
import type { Placed } from '../../model/placed.ts';
import { statementsSeen } from '../../model/placed.ts';
import type { View } from '../../model/view.ts';
import type { Report } from '../check.ts';

/** The cylinder by which a statement tells where the crankshaft stands. */
function cylinderOf(statement: Statement): Whole | undefined {
  switch (statement.kind) {
    case 'set':
    case 'timed':
      return statement.tdc?.cylinder ?? statement.cylinder;
    case 'marks-agree':
      return statement.tdc?.cylinder;
    default:
      return undefined;
  }
}

export function sayCylinders(placed: Placed, view: View, report: Report): void {
  const cylinders = view.engine?.cylinders;
  if (cylinders === undefined) return;
  for (const each of statementsSeen(placed, view)) {
    const cylinder = cylinderOf(each);
    if (cylinder !== undefined && (cylinder.value > cylinders || cylinder.value < 1))
      report(placed, cylinder, told`There is no cylinder ${cylinder.value}: the engine has ${cylinders}.`);
  }
}
