// A hold point: work stops until someone has looked, with a name and a time.

import { useState } from 'preact/hooks';
import { spoken } from '../../grammar/spoken.ts';
import type { BenchStep, HoldLine } from '../bench/bench-job.ts';
import { stepEntries, tickKey, withStep } from '../bench/entries.ts';
import { useBench } from './context.ts';
import { idOf, now } from './moment.ts';

export function HoldPoint({ line, step, place }: { line: HoldLine; step: BenchStep; place: string }) {
  const { entries, enter } = useBench();
  const key = tickKey(place, line.key);
  const looked = stepEntries(entries, step.name).looked.get(key);
  const [by, setBy] = useState('');
  const [time, setTime] = useState(now().time);
  const id = idOf('hold', step.name, key);
  const isTime = /^([01]\d|2[0-3]):[0-5]\d$/.test(time);
  const set = (value: { readonly by: string } | undefined): void =>
    enter((before) => {
      const all = new Map(stepEntries(before, step.name).looked);
      const done = new Map(stepEntries(before, step.name).done);
      if (value === undefined) {
        all.delete(key);
        done.delete(place);
      } else all.set(key, { by: value.by, at: { day: now().day, time } });
      return withStep(before, step.name, { looked: all, done });
    });
  return (
    <section class="hold" aria-labelledby={id}>
      <h2 id={id}>{spoken`Stop here until someone has looked.`}</h2>
      <p>{line.text}</p>
      {looked === undefined ? (
        <div class="row">
          <div class="field">
            <label for={`${id}.by`}>{spoken`Looked at by`}</label>
            <input
              id={`${id}.by`}
              type="text"
              autocomplete="off"
              value={by}
              onInput={(event) => setBy(event.currentTarget.value)}
            />
          </div>
          <div class="field">
            <label for={`${id}.at`}>{spoken`At (hour:minute)`}</label>
            <input id={`${id}.at`} type="time" value={time} onInput={(event) => setTime(event.currentTarget.value)} />
          </div>
          <button
            type="button"
            class="main"
            disabled={by.trim() === '' || !isTime}
            onClick={() => set({ by: by.trim().slice(0, 60) })}
          >
            {spoken`Confirm the hold point`}
          </button>
        </div>
      ) : (
        <div class="row">
          <p>
            <strong>
              {looked.at.time === ''
                ? spoken`Looked at by ${looked.by} on ${looked.at.day}.`
                : spoken`Looked at by ${looked.by} on ${looked.at.day} at ${looked.at.time}.`}
            </strong>
          </p>
          <button type="button" onClick={() => set(undefined)}>
            {spoken`Take it back`}
          </button>
        </div>
      )}
    </section>
  );
}
