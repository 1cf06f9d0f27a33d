// One step of the work: its number and title, cautions first, then its lines, with the pictures beside them, and where it is signed.

import { useContext } from 'preact/hooks';
import { spoken } from '../../grammar/spoken.ts';
import type { Reference, Statement } from '../../grammar/tree.ts';
import type { Step, View } from '../model/view.ts';
import { type Picture, PictureOf } from '../pictures/drawing.tsx';
import type { JobScope } from './clearances.ts';
import { Clearance } from './limit-lines.tsx';
import { Line } from './line.tsx';
import { Blank, Filled, From, InStep, placeLabels, spaced } from './pieces.tsx';
import { named } from './plain-words.ts';
import type { TightenedBefore } from './tightened-before.ts';
import { stepCautions } from './usual-cautions.ts';

/** A step of more lines than these may go on over the end of a page, between two lines. */
const MOST_WHOLE = 5;

/** An action on several limits or several kinds of bolts, one by one: each has its figures and its boxes. */
function oneByOne(
  statement: Statement,
  view: View,
  tight: TightenedBefore,
): readonly { readonly statement: Statement; readonly tight: TightenedBefore }[] {
  const isMany =
    statement.kind === 'action' &&
    statement.targets.length > 1 &&
    !statement.together &&
    statement.targets.every(({ owner }) => ['limit', 'fastener'].includes(view.things.get(owner.text)?.kind ?? ''));
  if (!isMany) return [{ statement, tight }];
  return statement.targets.map((target) => {
    const one = { ...statement, targets: [target] };
    const had = tight.get(statement);
    return { statement: one, tight: had === undefined ? tight : new Map([[one, had]]) };
  });
}

export interface StepBlockProps {
  readonly step: Step;
  readonly number: string;
  readonly view: View;
  readonly tight: TightenedBefore;
  readonly scope: JobScope;
  readonly pictures: readonly Picture[];
}

/** `bore of the block`: what a step is done for each of. */
function eachText({ owner, feature }: Reference, view: View): string {
  const name = named(owner.text, view);
  return feature === undefined ? name : spoken`${feature.text.replace(/[-_]/g, ' ')} of the ${name}`;
}

/** One step with its number. */
export function StepBlock({ step, number, view, tight, scope, pictures }: StepBlockProps) {
  const labels = placeLabels(step.each, view);
  const tools = step.statements.flatMap((each) =>
    each.kind === 'text' && each.word === 'tool' ? [each.text.value] : [],
  );
  const clearances = scope.clearances.get(step) ?? [];
  const cautions = stepCautions(step, view);
  const usual = cautions.filter((each) => each.isUsual).map((each) => each.text);
  const filled = useContext(Filled);
  const done = [...labels, ''].map((place) => filled?.done(step.name, place)).find((each) => each !== undefined);
  return (
    <InStep.Provider value={step.name}>
      <section class={step.statements.length + clearances.length > MOST_WHOLE ? 'step long' : 'step'}>
        <h4>
          <span class="number">{number}</span> {step.title ?? spaced(step.name)}
          {step.each === undefined ? '' : spoken`, for each ${eachText(step.each, view)}`}
          {step.trial ? spoken` (for trial: comes off again)` : ''}
          <From placed={step.placed} span={step.declaration.body} changed />
          {tools.length === 0 ? null : <span class="tools">{spoken`Tools: ${tools.join('; ')}`}</span>}
          <span class="sign">
            <Blank label={spoken`done by`} value={done?.by ?? ''} />
            <Blank label={spoken`date`} value={done?.on ?? ''} />
          </span>
        </h4>
        {cautions
          .filter((each) => !each.isUsual)
          .map(({ text }) => (
            <p class="caution" key={text}>
              <strong>{spoken`Caution.`}</strong> {text}
            </p>
          ))}
        {usual.length === 0 ? null : (
          <p class="caution usual">
            <strong>{spoken`Usual caution.`}</strong> {usual.join(' ')}
          </p>
        )}
        <div class={pictures.length === 0 ? 'body' : 'body pictured'}>
          {pictures.length === 0 ? null : (
            <div class="pictures">
              {pictures.map((picture) => (
                <figure class="picture" key={picture.title}>
                  <PictureOf picture={picture} />
                </figure>
              ))}
            </div>
          )}
          <ul class="lines">
            {step.statements
              .flatMap((statement) => oneByOne(statement, view, tight))
              .map((line, i) => (
                <Line {...line} labels={labels} view={view} isEach={step.each !== undefined} key={i} />
              ))}
            {clearances.map((limit) => (
              <Clearance limit={limit} view={view} key={limit.name} />
            ))}
          </ul>
        </div>
      </section>
    </InStep.Provider>
  );
}
