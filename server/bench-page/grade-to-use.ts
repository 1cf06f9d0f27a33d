// What is said of a grade that is chosen by measurement, wherever it is asked for.
import { spoken } from '../../grammar/spoken.ts';
import type { Judgement } from '../bench/judge.ts';

/** `a or b`. */
export function anyOf(rows: readonly string[]): string {
  return rows.reduce((one, other) => spoken`${one} or ${other}`);
}

/** Which row of a table goes with what was measured, at one place or at all; empty where nothing is known yet. */
export function gradeToUse(table: string, judgement: Judgement | undefined, place = ''): string {
  const all = judgement?.grades.filter((each) => each.table === table) ?? [];
  const here = all.filter((each) => each.place === place);
  const found = place === '' || here.length === 0 ? all : here;
  if (found.length === 0) return '';
  const said = (rows: readonly string[]): string => (rows.length === 0 ? spoken`none in the table` : anyOf(rows));
  const rows = new Set(found.map((each) => said(each.rows)));
  const [only = ''] = rows;
  return rows.size === 1
    ? spoken`By what was measured: ${only}`
    : spoken`By what was measured, ${found.map((each) => `${each.place}: ${said(each.rows)}`).join(', ')}`;
}
