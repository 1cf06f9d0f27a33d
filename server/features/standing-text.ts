// How the engine stands after a step or an action, for the hover, and where marks and links stand after each turning, for the grey text
// behind it. What is carried out is in server/rehearsal/standing.ts; nothing here is worked out before it is asked for.

import { type Argument, type Told, told } from '../../grammar/told.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { Analysis } from '../model/analysis.ts';
import { placeOf } from '../model/placed.ts';
import { blockOf } from '../model/statements.ts';
import { textOf } from '../model/text-of.ts';
import type { Step, View } from '../model/view.ts';
import { afterTurns, type Standing, standingAfter } from '../rehearsal/standing.ts';
import type { Hint } from './hints.ts';
import { placedAt } from './place-in-tree.ts';

/** So many changes are told before the rest is only counted. */
const MOST = 12;

const ACTIONS = new Set(['action', 'rotate', 'set', 'confirm', 'run', 'crank', 'wait']);

/** The step of a view that is declared in one section of the file, or changed or inserted there. */
function stepIn(view: View, analysis: Analysis, offset: number): Step | undefined {
  const placed = placedAt(analysis, offset);
  if (placed === undefined || blockOf(placed.declaration) !== 'step') return undefined;
  const isIt = ({ placed: each }: Step): boolean =>
    placed.declaration.changed === undefined
      ? each.section.start === placed.section.start && each.file === placed.file
      : each.origin?.changes.includes(placed) === true;
  const named = view.things.get(placed.declaration.name?.text ?? '');
  if (named?.kind === 'step' && isIt(named)) return named;
  for (const sequence of view.sequences) {
    const step = sequence.steps.find(isIt);
    if (step !== undefined) return step;
  }
  return undefined;
}

/** The action whose first word stands at an offset. */
function actionAt(step: Step, file: string, offset: number): Statement | undefined {
  return step.statements.find(({ kind, wordSpan }) => {
    if (!ACTIONS.has(kind)) return false;
    const place = placeOf(step.placed, wordSpan);
    return place.file === file && place.start <= offset && offset <= place.end;
  });
}

function lines(standing: Standing): readonly Told[] {
  const { changes, covered, turning } = standing;
  const shown = changes.length > MOST ? [...changes.slice(0, MOST), told`${changes.length - MOST} more`] : changes;
  return [...(shown.length === 0 ? [told`nothing is changed`] : shown), ...covered, ...turning];
}

/** What is told of one view: each job with its lines; jobs in which it comes to the same are told once. */
function ofJobs(standings: readonly Standing[]): readonly Told[] {
  const jobs = new Map<string, { readonly said: readonly Told[]; readonly names: string[] }>();
  for (const standing of standings) {
    const said = lines(standing);
    const key = keyOf(said);
    const known = jobs.get(key) ?? { said, names: [] };
    jobs.set(key, known);
    known.names.push(standing.job?.name ?? '');
  }
  return [...jobs.values()].flatMap(({ said, names }) =>
    jobs.size === 1 ? said : [told`job ${names.join(', ')}:`, ...said],
  );
}

const keyOf = (said: readonly Told[]): string => said.map((line) => line.text).join('\n');

/**
 * How the engine stands after the step whose name is under the cursor, or after the action whose word is: a line each, of each variant
 * where they differ. Undefined elsewhere, and for a step that no job of the file does.
 */
export function standingAt(analysis: Analysis, offset: number): readonly Argument[] | undefined {
  const texts = new Map<string, { readonly said: readonly Told[]; readonly variants: string[] }>();
  for (const view of analysis.recordedViews()) {
    const step = stepIn(view, analysis, offset);
    if (step === undefined) continue;
    const own = placedAt(analysis, offset);
    const name = own?.declaration.name;
    const place = own === undefined || name === undefined ? undefined : placeOf(own, name);
    const onName = place !== undefined && place.start <= offset && offset <= place.end;
    const action = onName ? undefined : actionAt(step, analysis.file.file, offset);
    if (!onName && action === undefined) continue;
    const standings = standingAfter(view, analysis.file.file, step, action);
    // Of an action that changes nothing, such as a look, nothing is told.
    const isNothing = standings.every(
      ({ changes, covered, turning }) => changes.length + covered.length + turning.length === 0,
    );
    if (standings.length === 0 || (action !== undefined && isNothing)) continue;
    const said = ofJobs(standings);
    const known = texts.get(keyOf(said)) ?? { said, variants: [] };
    texts.set(keyOf(said), known);
    known.variants.push(view.variant ?? '');
  }
  if (texts.size === 0) return undefined;
  return [...texts.values()].flatMap(({ said, variants }) => [
    ...(texts.size === 1 ? [] : [`${variants.join(', ')}:`]),
    ...said,
  ]);
}

/** Behind each `rotate` from one offset to another: where the marks and links stand after it, of each variant and job where they differ. */
export function turnHints(analysis: Analysis, start: number, end: number): readonly Hint[] {
  if (!/\brotate\b/i.test(textOf(analysis.file, start, end))) return [];
  const byPlace = new Map<number, Map<string, { readonly text: Told; readonly variants: string[] }>>();
  const reaches = ({ placed }: Step): boolean => {
    const whole = placeOf(placed, placed.declaration);
    return whole.file !== analysis.file.file || (whole.end >= start && whole.start <= end);
  };
  for (const view of analysis.recordedViews())
    for (const { step, statement, text } of afterTurns(view, analysis.file.file, reaches)) {
      const place = placeOf(step.placed, statement);
      if (place.file !== analysis.file.file || place.end < start || place.end > end) continue;
      const texts = byPlace.get(place.end) ?? new Map<string, { readonly text: Told; readonly variants: string[] }>();
      byPlace.set(place.end, texts);
      const known = texts.get(text.text) ?? { text, variants: [] };
      texts.set(text.text, known);
      if (!known.variants.includes(view.variant ?? '')) known.variants.push(view.variant ?? '');
    }
  return [...byPlace].map(([offset, texts]) => ({
    offset,
    text: told.row(
      [...texts.values()].flatMap(({ text, variants }, i) => {
        const isOfAll = texts.size === 1 || variants.length === Math.max(1, analysis.variants.length);
        const said = isOfAll ? text : told`${text} (${variants.join(', ')})`;
        return i === 0 ? [said] : [' / ', said];
      }),
    ),
    why: told`Where the marks and the marked links stand after this turn, as the job has it so far.`,
  }));
}
