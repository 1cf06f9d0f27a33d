// The step in hand, large: cautions before what they concern, each line to tick, measure or look at, and the pictures.

import { useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import { spoken } from '../../grammar/spoken.ts';
import type { BenchChapter, BenchStep } from '../bench/bench-job.ts';
import { openLines, placesOf, stepEntries, withStep } from '../bench/entries.ts';
import { PictureOf } from '../pictures/drawing.tsx';
import { useBench } from './context.ts';
import { Do } from './do-line.tsx';
import { HoldPoint } from './hold-point.tsx';
import { Measure } from './measure-fields.tsx';
import { idOf } from './moment.ts';

function Pictures({ step, at }: { step: BenchStep; at: number }) {
  const { spec, job } = useBench();
  const pictures = useMemo(
    () => (spec === undefined ? [] : spec.reader.picturesAt(job, step, at, spec.view)),
    [spec, job, step, at],
  );
  if (pictures.length === 0) return null;
  return (
    <section class="pictures" aria-label={spoken`Pictures`}>
      {pictures.map(({ what, picture }, i) => (
        <details key={`${step.name} ${what} ${i}`} open={what !== 'what-is-on' && i < 3}>
          <summary>{picture.title}</summary>
          <PictureOf picture={picture} />
        </details>
      ))}
    </section>
  );
}

function Deviation({ step }: { step: BenchStep }) {
  const { entries, enter } = useBench();
  const { deviation } = stepEntries(entries, step.name);
  const [text, setText] = useState(deviation ?? '');
  const id = idOf('deviation', step.name);
  return (
    <details>
      <summary>
        {deviation === undefined
          ? spoken`Done otherwise than the spec says`
          : spoken`Done otherwise than the spec says: written down`}
      </summary>
      <div class="field">
        <label for={id}>{spoken`What was done otherwise, and why`}</label>
        <textarea id={id} value={text} onInput={(event) => setText(event.currentTarget.value)} />
      </div>
      <div class="row">
        <button
          type="button"
          disabled={text.trim() === ''}
          onClick={() => enter((before) => withStep(before, step.name, { deviation: text.trim().slice(0, 600) }))}
        >
          {spoken`Write it down`}
        </button>
        {deviation === undefined ? null : (
          <button
            type="button"
            onClick={() => {
              setText('');
              enter((before) => withStep(before, step.name, { deviation: undefined }));
            }}
          >
            {spoken`Take it out again`}
          </button>
        )}
      </div>
    </details>
  );
}

/** Whether a step has been shown since the page was opened. */
let isShown = false;

export interface StepViewProps {
  readonly chapter: BenchChapter;
  readonly step: BenchStep;
  readonly at: number;
  readonly of: number;
  readonly place: string;
  readonly toPlace: (place: string) => void;
}

export function StepView({ chapter, step, at, of, place, toPlace }: StepViewProps) {
  const { job, entries } = useBench();
  const heading = useRef<HTMLHeadingElement>(null);
  useLayoutEffect(() => {
    // Where one step follows another, reading begins at its name.
    if (isShown) {
      heading.current?.focus();
      globalThis.scrollTo(0, 0);
    }
    isShown = true;
  }, [step.name, place]);
  const own = stepEntries(entries, step.name);
  const done = own.done.get(place);
  const open = openLines(step, place, entries, job).length;
  return (
    <main>
      <p class="kicker">
        <span>{spoken`Step ${at + 1} of ${of}`}</span>
        <span>
          {chapter.title}
          {chapter.phase === undefined ? '' : ` (${chapter.phase})`}
        </span>
        {step.isTrial ? <strong>{spoken`for trial: comes off again`}</strong> : null}
      </p>
      <h1 ref={heading} tabIndex={-1}>
        {step.number} {step.title}
        {place === '' ? '' : `: ${step.each} ${place}`}
      </h1>
      {step.places.length === 0 ? null : (
        <fieldset class="places">
          <legend class="off">{spoken`Which ${step.each ?? ''}`}</legend>
          {placesOf(step).map((each) => (
            <button
              type="button"
              key={each}
              aria-pressed={each === place ? 'true' : 'false'}
              onClick={() => toPlace(each)}
            >
              {each}
              {own.done.has(each) ? spoken` done` : ''}
            </button>
          ))}
        </fieldset>
      )}
      {step.cautions.map(({ text, isUsual }) => (
        <p class={isUsual ? 'caution usual' : 'caution'} key={text}>
          {isUsual ? spoken`Usual caution.` : spoken`Caution.`} {text}
        </p>
      ))}
      {step.tools.length === 0 ? null : <p>{spoken`Tools: ${step.tools.join('; ')}`}</p>}
      <ul class="lines">
        {step.lines.map((line) => (
          <li key={`${place} ${line.key}`}>
            {line.kind === 'do' ? <Do line={line} step={step} place={place} /> : null}
            {line.kind === 'measure' ? <Measure line={line} step={step} place={place} /> : null}
            {line.kind === 'hold' ? <HoldPoint line={line} step={step} place={place} /> : null}
            {line.kind === 'note' ? <p>{line.text}</p> : null}
          </li>
        ))}
      </ul>
      <p role="status">
        {done !== undefined
          ? spoken`Done${done.on === undefined ? '' : spoken` on ${done.on}`}${done.by === undefined ? '' : spoken` by ${done.by}`}.`
          : open === 0
            ? ''
            : open === 1
              ? spoken`${open} line is open.`
              : spoken`${open} lines are open.`}
      </p>
      <Pictures step={step} at={at} />
      <Deviation step={step} />
    </main>
  );
}
