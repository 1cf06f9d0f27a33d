// The beginning: which engine, who works, what is kept of other engines here.

import { useState } from 'preact/hooks';
import { spoken } from '../../grammar/spoken.ts';
import type { BenchJob } from '../bench/bench-job.ts';
import { progressOf, stepsOf } from '../bench/entries.ts';
import type { Kept } from './kept.ts';
import { OpenRecord } from './open-record.tsx';

export interface StartViewProps {
  readonly job: BenchJob;
  readonly kept: readonly Kept[];
  readonly begin: (engine: string, by: string) => void;
  readonly goOn: (kept: Kept) => void;
  readonly open: (text: string, name: string) => void;
}

function goOnText(engine: string, done: number, of: number): string {
  return engine === ''
    ? spoken`Go on with the engine without a number (${done} of ${of} steps)`
    : spoken`Go on with ${engine} (${done} of ${of} steps)`;
}

export function StartView({ job, kept, begin, goOn, open }: StartViewProps) {
  const [engine, setEngine] = useState('');
  const [by, setBy] = useState('');
  const steps = stepsOf(job);
  const doneOf = ({ entries }: Kept): number =>
    steps.filter((step) => progressOf(step, entries, job).state === 'done').length;
  return (
    <main>
      <p class="kicker">
        {job.title}
        {job.revision === undefined ? '' : spoken`, revision ${job.revision}`}
        {job.variant === undefined ? '' : `, ${job.variant}`}
      </p>
      <h1>{job.job?.title ?? spoken`The work`}</h1>
      <p>
        {spoken`${steps.length} steps.`} {job.begins} {job.engine}
      </p>
      {job.conditions.map((text) => (
        <p class="notice" key={text}>
          {spoken`Before the job: ${text}`}
        </p>
      ))}
      {job.isDraft ? <p class="notice bad">{spoken`DRAFT: not finished, not to build from.`}</p> : null}
      {job.errors === 0 ? null : (
        <p class="notice bad">
          {job.errors === 1
            ? spoken`This spec has ${job.errors} contradiction.`
            : spoken`This spec has ${job.errors} contradictions.`}{' '}
          {spoken`Have it checked and put right before work begins.`}
        </p>
      )}
      <p class="notice">
        <strong>{spoken`The maker’s manual, local rules and licensed practice come first.`}</strong>{' '}
        {spoken`A figure that was worked out here is a check, not an instruction. Wear eye protection; support what is heavy; never run an engine indoors unless the exhaust is led outside.`}{' '}
        {spoken`Left, right, clockwise and clock positions are as seen from the front of the engine, sump down.`}
      </p>
      {kept.length === 0 ? null : (
        <section>
          <h2>{spoken`Kept on this device`}</h2>
          <div class="row">
            {kept.map((each) => (
              <button type="button" key={each.engine} onClick={() => goOn(each)}>
                {goOnText(each.engine, doneOf(each), steps.length)}
              </button>
            ))}
          </div>
        </section>
      )}
      <h2>{kept.length === 0 ? spoken`Begin` : spoken`Begin another engine`}</h2>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          begin(engine.trim().slice(0, 60), by.trim().slice(0, 60));
        }}
      >
        <div class="fields">
          <div class="field">
            <label for="engine">{spoken`Engine number`}</label>
            <input
              id="engine"
              type="text"
              autocomplete="off"
              value={engine}
              onInput={(event) => setEngine(event.currentTarget.value)}
            />
          </div>
          <div class="field">
            <label for="who">{spoken`Who works here`}</label>
            <input
              id="who"
              type="text"
              autocomplete="off"
              value={by}
              onInput={(event) => setBy(event.currentTarget.value)}
            />
          </div>
        </div>
        <div class="row">
          <button type="submit" class="main">
            {spoken`Begin the work`}
          </button>
          <OpenRecord open={open} />
        </div>
      </form>
    </main>
  );
}
