// A sum where only a figure is read: nothing works it out there, and what it stands for would be held nowhere.
import { leavesOf } from '../../../grammar/terms.ts';
import { type Argument, told } from '../../../grammar/told.ts';
import { isPoint } from '../../mechanics/interval.ts';
import { kindOfDimension, unitText } from '../../mechanics/units.ts';
import { ENGINE_MEASURES } from '../../model/engine-figures.ts';
import { evaluation } from '../../model/evaluation.ts';
import { workOutSum } from '../../model/expression.ts';
import type { View } from '../../model/view.ts';
import { inUnit, type Worked } from '../../model/worked.ts';
import type { DeclarationCheck } from '../check.ts';
import page from './sum-here.md';
import { type WrittenSum, writtenSums } from './written-values.ts';

const MEASURES: ReadonlySet<string> = new Set(ENGINE_MEASURES);
/** The bounds of a limit: `at-least SUM` and `at-most SUM` are worked out there. */
const BOUNDS: ReadonlySet<string> = new Set(['within', 'wear-limit']);

function isWorkedOut({ value, word }: WrittenSum, declared: string): boolean {
  if (declared === 'limit') return BOUNDS.has(word) && value.kind === 'open';
  return declared === 'engine' && MEASURES.has(word) && value.kind === 'expression';
}

/** What a sum comes to, as it would be written: `40 N.m`, `0.02..0.05 mm`. */
function figureOf(worked: Worked | undefined): string | undefined {
  if (worked === undefined) return undefined;
  const { interval } = worked.stack;
  const [low, high] = [interval.low, interval.high].map((each) =>
    String(Number(inUnit(each, worked.unit, worked.zero).toPrecision(9))),
  );
  const number = isPoint(interval) ? low : `${low}..${high}`;
  return worked.unit.length === 0 ? number : `${number} ${unitText(worked.unit)}`;
}

/** Whether a sum names something that is not there: that is said of the name. */
const namesUnknown = ({ sum }: WrittenSum, view: View): boolean =>
  leavesOf(sum).some(
    (leaf) =>
      leaf.kind === 'reference' &&
      !['engine', 'pi'].includes(leaf.reference.owner.text) &&
      !view.things.has(leaf.reference.owner.text),
  );

function wayOut(sum: WrittenSum, declared: string, view: View): { readonly says: Argument; readonly text?: string } {
  if (declared === 'limit' && BOUNDS.has(sum.word))
    return { says: told`Write at-least or at-most before it, or the figures.` };
  const worked = workOutSum(sum.sum, evaluation(view));
  const figure = figureOf(worked);
  if (worked === undefined || figure === undefined) return { says: told`Write the figure.` };
  const kind = kindOfDimension(worked.dimension);
  const wanted: readonly string[] = sum.kinds;
  if (wanted.length > 0 && !wanted.includes('any') && (kind === undefined || !wanted.includes(kind)))
    return { says: told`It comes to ${figure}, which is something else.` };
  const text = sum.value.kind === 'open' ? `${sum.value.side} ${figure}` : figure;
  return { says: told`It comes to ${figure}: write that.`, text };
}

export const sumHere: DeclarationCheck = {
  code: 'unit/sum-here',
  severity: 'error',
  scope: 'declaration',
  page,
  run(placed, view, report) {
    const declared = placed.declaration.changed?.word ?? placed.declaration.word;
    for (const sum of writtenSums(placed)) {
      if (isWorkedOut(sum, declared) || namesUnknown(sum, view)) continue;
      const written = placed.section.text.slice(sum.sum.start, sum.sum.end).replace(/\s+/g, ' ');
      const { says, text } = wayOut(sum, declared, view);
      report(
        placed,
        sum.value,
        told`${written} would not be worked out here: after ${told.term(sum.word)} a figure is wanted. ${says}`,
        text === undefined
          ? {}
          : {
              fixes: [
                {
                  title: told`Write ${text}`,
                  edits: [{ placed, span: { start: sum.value.start, end: sum.value.end }, text }],
                },
              ],
            },
      );
    }
  },
};
