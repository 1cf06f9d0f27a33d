// What follows the first word of a statement: choices, names, threads, classes, stages, sizes of the engine.
import { told } from '../../grammar/told.ts';
import { STAGES, type StatementRow } from '../../grammar/vocabulary.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Cursor } from './cursor.ts';
import type { Completion } from './offered.ts';
import { figureGap } from './offered-figures.ts';
import type { Names } from './offered-names.ts';
import { isInch } from './offered-units.ts';
import { classes, firingOrders, sizesFor, threads } from './offered-values.ts';
import { choicesOf } from './offered-words.ts';

const WHOLE_ENGINE: Completion = {
  label: 'engine',
  kind: 'name',
  detail: told`the whole engine`,
  help: told`The engine as it stands.`,
  rank: 0,
};

/** A torque and an angle with a gap for the figure. */
function torqueFigures(inch: boolean): readonly Completion[] {
  return [
    figureGap(inch ? 'lbf.ft' : 'N.m', told`a torque`, told`A torque, as the manual gives it.`),
    figureGap('deg', told`a further angle`, told`A further angle after a torque.`),
  ];
}

export function afterStatementWord(
  row: StatementRow,
  names: Names,
  analysis: Analysis,
): readonly Completion[] | undefined {
  if (row.shape === 'thread') return threads(isInch(analysis));
  if (row.shape === 'class') return classes(isInch(analysis));
  if (row.shape === 'firing-order') return firingOrders(analysis);
  const choices = choicesOf(row.choices, row.word);
  if (row.shape === 'choice' || row.shape === 'begins') return choices;
  if (row.shape === 'into') return [...choices, ...names.ofKinds(['part'])];
  if (row.shape === 'torque')
    return [
      ...torqueFigures(isInch(analysis)),
      ...STAGES.map(
        ({ word, help }): Completion => ({
          label: word,
          kind: 'choice',
          detail: told`stage`,
          help: told.term(help),
          rank: 1,
        }),
      ),
    ];
  // Numbers stand there, and behind which words others do.
  if (row.shape === 'tightening-order') return undefined;
  const named = row.refers === undefined ? [] : names.ofKinds(row.refers);
  if (row.in.includes('step') && (row.word === 'support' || row.word === 'lift')) return [WHOLE_ENGINE, ...named];
  // Choices of an action stand behind `by` or `on`.
  const shown = ['stated', 'bank'].includes(row.shape) ? choices : [];
  return named.length + shown.length > 0 ? [...named, ...shown] : undefined;
}

/** What a length of the engine may be named by: the sizes of its parts. */
export function sizesOfEngine(analysis: Analysis, { statement }: Cursor): readonly Completion[] {
  const row = statement?.row;
  const isLength = row?.shape === 'value' && row.in.includes('engine') && row.unit?.includes('length') === true;
  return isLength ? sizesFor(analysis, row.word) : [];
}
