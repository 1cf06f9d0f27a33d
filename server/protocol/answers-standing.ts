// Where the engine stands at the cursor, or one action on or back from there: for the view that follows it.

import type { Connection } from 'vscode-languageserver';
import { speaking } from '../../grammar/spoken.ts';
import { standingView } from '../bench/standing-view.tsx';
import type { Analysis } from '../model/analysis.ts';
import { placeOf } from '../model/placed.ts';
import { textOf } from '../model/text-of.ts';
import type { View } from '../model/view.ts';
import { type Moment, momentsOf, plansWithWork, standAt } from '../rehearsal/stand-now.ts';
import { locationOf } from './convert.ts';
import type { ServerAnswers } from './messages.ts';
import type { Service } from './service.ts';

type Asked = ServerAnswers['fettle/standing']['params'];

const LONGEST = 120;

/** Where a moment stands in the file: its action, or the head of its step; undefined for one of another file. */
function placeOfMoment(
  file: string,
  { step, statement }: Moment,
): { readonly start: number; readonly end: number } | undefined {
  const { declaration, placed } = step;
  const place = placeOf(placed, statement ?? declaration.name ?? declaration.wordSpan);
  return place.file === file ? place : undefined;
}

/** The moment at the cursor: the action that it stands in or behind, in the step round it. Its number in the list, or -1 outside all steps. */
function momentAt(file: string, moments: readonly Moment[], offset: number): number {
  let found = -1;
  for (const [i, moment] of moments.entries()) {
    const step = placeOf(moment.step.placed, moment.step.declaration);
    if (step.file !== file || offset < step.start || offset > step.end) continue;
    const place = placeOfMoment(file, moment);
    if (place === undefined) continue;
    // Before the first action of the step it is told of that one all the same.
    if (found < 0 || place.start <= offset) found = i;
  }
  return found;
}

/** The job asked for, or else the first that does the step at the cursor, or else the first. */
function planFor(view: View, file: string, offset: number, job: string | undefined) {
  const plans = plansWithWork(view, file);
  const named = job === undefined ? undefined : plans.find((plan) => (plan.job?.name ?? '') === job);
  const doing = plans.find((plan) => momentAt(file, momentsOf(plan), offset) >= 0);
  return named ?? doing ?? plans[0];
}

export function answerStanding(
  connection: Connection,
  { documents, atRecorded, offset, guarded, rows }: Service,
): void {
  const standing = (analysis: Analysis, { uri, position, go, variant, job }: Asked) => {
    const { file } = analysis.file;
    const { views } = analysis;
    const view = views.find((each) => each.variant === variant) ?? views[0];
    if (view === undefined) return null;
    const here = offset(uri, position);
    const plan = planFor(view, file, here, job);
    if (plan === undefined) return null;
    const moments = momentsOf(plan);
    const cursor = momentAt(file, moments, here);
    const step = { next: 1, back: -1, here: 0 }[go];
    const number = Math.min(Math.max(0, cursor + (cursor < 0 && go === 'back' ? 0 : step)), moments.length - 1);
    const moment = moments[number];
    const isThere = cursor >= 0 || go === 'next';
    const now =
      moment === undefined || !isThere ? undefined : speaking(rows(), () => standAt(view, file, plan, moment));
    const place = moment === undefined ? undefined : placeOfMoment(file, moment);
    const about = {
      variants: analysis.variants,
      variant: view.variant ?? null,
      jobs: plansWithWork(view, file).flatMap((each) => (each.job === undefined ? [] : [each.job.name])),
      job: plan.job?.name ?? null,
    };
    if (moment === undefined || now === undefined) return { ...about, html: null, place: null };
    const written = moment.statement === undefined ? undefined : placeOf(moment.step.placed, moment.statement);
    const text =
      written === undefined || written.file !== file ? undefined : textOf(analysis.file, written.start, written.end);
    const html = standingView(
      view,
      moment,
      now,
      {
        number: number + 1,
        of: moments.length,
        written: text === undefined ? undefined : text.length > LONGEST ? `${text.slice(0, LONGEST)}…` : text,
      },
      rows(),
    );
    return { ...about, html, place: place === undefined ? null : locationOf(documents, { file, ...place }).range };
  };
  type Answer = ServerAnswers['fettle/standing']['result'];
  const answer = async (params: Asked): Promise<Answer> =>
    guarded<Answer | Promise<Answer>>(
      'fettle/standing',
      () => atRecorded<Answer>(params.uri, null, (analysis) => standing(analysis, params)),
      null,
    );
  connection.onRequest('fettle/standing', answer);
}
