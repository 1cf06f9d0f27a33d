// The record: which engine, what went in, what is open or outside; saved out, shared, copied, signed, and read in again.

import { useState } from 'preact/hooks';
import { spoken } from '../../grammar/spoken.ts';
import { type Entries, progressOf, recordName, stepsOf } from '../bench/entries.ts';
import { useBench } from './context.ts';
import { gradeToUse } from './grade-to-use.ts';
import { canShare, copy, download, share } from './host.ts';
import { now } from './moment.ts';
import { OpenRecord } from './open-record.tsx';

export interface RecordViewProps {
  /** Undefined until the spec has been read. */
  readonly text: string | undefined;
  readonly isInPanel: boolean;
  readonly open: (text: string, name: string) => void;
  readonly rename: (engine: string) => void;
  readonly another: () => void;
  readonly print: () => void;
}

function Use({ text }: { text: string }) {
  return text === '' ? null : <p class="use">{text}</p>;
}

function EngineFields({ rename }: { rename: (engine: string) => void }) {
  const { job, entries, judgement, enter } = useBench();
  const [number, setNumber] = useState(entries.engineNumber);
  return (
    <div class="fields">
      <div class="field">
        <label for="engine">{spoken`Engine number`}</label>
        <input
          id="engine"
          type="text"
          autocomplete="off"
          value={number}
          onInput={(event) => setNumber(event.currentTarget.value)}
          onChange={() => rename(number.trim().slice(0, 60))}
        />
      </div>
      <div class="field">
        <label for="who">{spoken`Who works here`}</label>
        <input
          id="who"
          type="text"
          autocomplete="off"
          value={entries.by}
          onInput={(event) => {
            const by = event.currentTarget.value.slice(0, 60);
            enter((before) => ({ ...before, by }));
          }}
        />
      </div>
      {job.sizes.map(({ part, title, sizes }) => (
        <div class="field" key={part}>
          <label for={`size.${part}`}>{spoken`${title}: size that went in`}</label>
          <select
            id={`size.${part}`}
            value={entries.sizes.get(part) ?? ''}
            onChange={(event) => {
              const size = event.currentTarget.value;
              enter((before) => ({ ...before, sizes: new Map(before.sizes).set(part, size) }));
            }}
          >
            <option value="">{spoken`standard`}</option>
            {sizes.map((size) => (
              <option value={size} key={size}>
                {size}
              </option>
            ))}
          </select>
        </div>
      ))}
      {job.grades.map(({ name, title, rows }) => (
        <div class="field" key={name}>
          <label for={`grade.${name}`}>{spoken`${title}: which went in`}</label>
          <select
            id={`grade.${name}`}
            value={entries.grades.get(name) ?? ''}
            onChange={(event) => {
              const row = event.currentTarget.value;
              enter((before) => ({ ...before, grades: new Map(before.grades).set(name, row) }));
            }}
          >
            <option value="">{spoken`not said yet`}</option>
            {rows.map((row) => (
              <option value={row} key={row}>
                {row}
              </option>
            ))}
          </select>
          <Use text={gradeToUse(name, judgement)} />
        </div>
      ))}
    </div>
  );
}

/** What of the work is not there yet, or not as it must be. */
function Standing() {
  const { job, entries, judgement } = useBench();
  const open = stepsOf(job).filter((step) => !['done', 'left'].includes(progressOf(step, entries, job).state));
  const titleOf = (limit: string): string => job.limits.find((each) => each.name === limit)?.title ?? limit;
  const wrong = [...(judgement?.verdicts ?? [])].filter(
    ([, verdict]) => verdict.standing !== undefined && verdict.standing !== 'inside',
  );
  const left = judgement?.left ?? [];
  const unanswered = judgement?.unanswered ?? [];
  return (
    <>
      {wrong.length === 0 ? null : (
        <section>
          <h2>{spoken`To be settled`}</h2>
          <ul class="list">
            {wrong.map(([key, verdict]) => {
              const [limit = '', ...place] = key.split(' ');
              const value = entries.measured.get(limit)?.get(place.join(' '));
              return (
                <li key={key}>
                  {titleOf(limit)}
                  {place.join('') === '' ? '' : `, ${place.join(' ')}`}: <strong>{value?.text}</strong>. {verdict.words}{' '}
                  {verdict.bounds === '' ? '' : spoken`It must be ${verdict.bounds}.`}
                </li>
              );
            })}
          </ul>
        </section>
      )}
      <section>
        <h2>{spoken`Open`}</h2>
        {open.length + left.length + unanswered.length === 0 ? (
          <p>{spoken`Nothing: all steps are done and all is measured.`}</p>
        ) : null}
        <ul class="list">
          {open.slice(0, 12).map((step) => (
            <li key={step.name}>
              {step.number} {step.title}
            </li>
          ))}
          {open.length > 12 ? <li>{spoken`and ${open.length - 12} more steps`}</li> : null}
          {unanswered.map((text) => (
            <li key={text}>{text}</li>
          ))}
          {left.map(({ limit, places }) => (
            <li key={limit}>
              {spoken`Not measured: ${titleOf(limit)}`}
              {places.length === 0 ? '' : `, ${places.join(', ')}`}
            </li>
          ))}
        </ul>
      </section>
    </>
  );
}

function Sign() {
  const { entries, enter } = useBench();
  const { signed } = entries;
  const [by, setBy] = useState(entries.by);
  const set = (value: Entries['signed']): void => enter((before) => ({ ...before, signed: value }));
  return signed === undefined ? (
    <div class="row">
      <div class="field">
        <label for="sign">{spoken`Who answers for the work`}</label>
        <input
          id="sign"
          type="text"
          autocomplete="off"
          value={by}
          onInput={(event) => setBy(event.currentTarget.value)}
        />
      </div>
      <button
        type="button"
        disabled={by.trim() === ''}
        onClick={() => set({ by: by.trim().slice(0, 60), on: now().day })}
      >
        {spoken`Sign the record`}
      </button>
    </div>
  ) : (
    <div class="row">
      <p>
        <strong>{spoken`Signed by ${signed.by} on ${signed.on}.`}</strong>
      </p>
      <button type="button" onClick={() => set(undefined)}>
        {spoken`Take the signature back`}
      </button>
    </div>
  );
}

export function RecordView({ text, isInPanel, open, rename, another, print }: RecordViewProps) {
  const { job, entries } = useBench();
  const [said, setSaid] = useState('');
  const name = `${entries.base === undefined ? recordName(entries.engineNumber, job) : entries.record}.fettle`;
  return (
    <main>
      <h1>{spoken`The record`}</h1>
      <p>
        {job.title}
        {job.revision === undefined ? '' : spoken`, revision ${job.revision}`}
        {job.variant === undefined ? '' : `, ${job.variant}`}
      </p>
      <EngineFields rename={rename} />
      <Standing />
      {job.followOn.map((text) => (
        <p class="notice" key={text}>
          {spoken`After the job: ${text}`}
        </p>
      ))}
      <h2>{spoken`Sign and save`}</h2>
      <Sign />
      <div class="row">
        {isInPanel ? (
          <p>{spoken`Each entry is written into the record’s file.`}</p>
        ) : (
          <button type="button" class="main" disabled={text === undefined} onClick={() => download(name, text ?? '')}>
            {spoken`Save the record`}
          </button>
        )}
        {canShare() && !isInPanel ? (
          <button type="button" disabled={text === undefined} onClick={() => void share(name, text ?? '')}>
            {spoken`Share the record`}
          </button>
        ) : null}
        <button
          type="button"
          disabled={text === undefined}
          onClick={async () => setSaid((await copy(text ?? '')) ? spoken`Copied.` : spoken`It could not be copied.`)}
        >
          {spoken`Copy the record`}
        </button>
        {isInPanel ? null : <OpenRecord open={open} />}
        <button type="button" onClick={print}>
          {spoken`Print the sheet`}
        </button>
        {isInPanel ? null : (
          <button type="button" onClick={another}>
            {spoken`Another engine`}
          </button>
        )}
      </div>
      <p role="status">{said}</p>
      <details>
        <summary>{spoken`The record as it is written`}</summary>
        <pre>{text ?? spoken`The spec is being read.`}</pre>
      </details>
    </main>
  );
}
