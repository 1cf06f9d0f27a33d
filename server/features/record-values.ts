// What limits come to with the values that the records of a file measured, as rows of `fettle values`.
import { workedOutFrom } from '../checks/record/worked-out.ts';
import type { Analysis } from '../model/analysis.ts';
import type { BuiltView } from '../model/build-view.ts';
import { limitRows, type ValueRow } from '../model/values.ts';
import { writtenExpression } from '../model/written-expression.ts';

/** One row for each limit that rests on measured ones, under the name of its record. */
export function recordValues({ file }: Analysis, view: BuiltView): readonly ValueRow[] {
  return file.declarations.flatMap((placed) => {
    if (placed.declaration.word !== 'record') return [];
    const name = placed.declaration.name?.text ?? '';
    return workedOutFrom(placed, view).flatMap(({ limit, results }) =>
      limitRows(limit, results, writtenExpression(limit)).map((row) => ({
        ...row,
        name: `record.${name}.${row.name}`,
      })),
    );
  });
}
