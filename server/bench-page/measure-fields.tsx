// Fields for what is measured: one for each place, in either unit, with a decimal comma or point, judged at once.

import { useEffect, useState } from 'preact/hooks';
import { speak, spoken } from '../../grammar/spoken.ts';
import { told } from '../../grammar/told.ts';
import type { BenchLimit, BenchStep, MeasureLine } from '../bench/bench-job.ts';
import { placesAsked } from '../bench/entries.ts';
import { readingsOf, splitValue, typedValue } from '../bench/number-entry.ts';
import { useBench } from './context.ts';
import { Figure } from './figure.tsx';
import { anyOf } from './grade-to-use.ts';
import { idOf, now } from './moment.ts';

/** What stands in the boxes of a field, without those that are empty. */
function taken(typed: string): string {
  return typed
    .split(';')
    .filter((each) => each.trim() !== '')
    .join(';');
}

/** The unit that was used last for a limit, so that it need not be chosen again at each place. */
const lastUnit = new Map<string, string>();

function Field({ limit, place, tool }: { limit: BenchLimit; place: string; tool: string | undefined }) {
  const { entries, judgement, enter } = useBench();
  const value = entries.measured.get(limit.name)?.get(place);
  const written = value === undefined ? undefined : splitValue(value.text);
  const [typed, setTyped] = useState(written?.number ?? '');
  const [unit, setUnit] = useState(written?.unit ?? lastUnit.get(limit.name) ?? limit.units[0] ?? '');
  // What was read in, undone or taken back elsewhere shows here too.
  useEffect(() => {
    if (value === undefined) {
      if (typedValue(taken(typed), unit) !== undefined) setTyped('');
      return;
    }
    if (typedValue(taken(typed), unit) !== value.text) {
      setTyped(splitValue(value.text).number);
      setUnit(splitValue(value.text).unit);
    }
  }, [value?.text]);
  const put = (number: string, inUnit: string): void => {
    setTyped(number);
    setUnit(inUnit);
    lastUnit.set(limit.name, inUnit);
    const text = typedValue(taken(number), inUnit);
    enter((before) => {
      const values = new Map(before.measured.get(limit.name));
      if (text === undefined) values.delete(place);
      else if (values.get(place)?.text !== text)
        values.set(place, {
          text,
          on: now().day,
          by: before.by.trim() === '' ? undefined : before.by.trim(),
          with: tool,
        });
      return { ...before, measured: new Map(before.measured).set(limit.name, values) };
    });
  };
  const name = place === '' ? limit.title : `${limit.title}, ${place}`;
  const id = idOf('measure', limit.name, place);
  const own = limit.byPlace[limit.places.indexOf(place)];
  const verdict = judgement?.verdicts.get(`${limit.name} ${place}`);
  const isNoNumber = taken(typed) !== '' && typedValue(taken(typed), unit) === undefined;
  // A box for each reading that is asked for, and for each that is there.
  const parts = limit.readings > 1 ? typed.split(';') : [typed];
  const boxes = [...parts, ...Array<string>(Math.max(0, limit.readings - parts.length)).fill('')];
  const [meant, meantUnit = unit] = verdict?.meant?.split(' ') ?? [];
  const have = value === undefined ? 0 : readingsOf(value.text);
  const isShort = limit.readings > 1 && have > 0 && have < limit.readings;
  const words = isNoNumber
    ? limit.readings > 1
      ? spoken`One of these is not a number.`
      : spoken`This is not a number.`
    : value === undefined
      ? ''
      : isShort
        ? spoken`${have} of ${limit.readings} readings: ${limit.readings - have} more to take. ${verdict?.words ?? ''}`
        : (verdict?.words ?? spoken`The limits are being read.`);
  return (
    <div class={limit.readings > 1 ? 'field many' : 'field'}>
      <label for={id}>
        {name}
        {limit.readings > 1 ? spoken`: ${limit.readings} readings` : ''}
        {own === undefined ? null : <span class="own"> {own}</span>}
      </label>
      <div class="entry">
        {boxes.map((each, i) => (
          <input
            id={i === 0 ? id : `${id}.${i + 1}`}
            key={i}
            type="text"
            inputMode="decimal"
            autocomplete="off"
            enterkeyhint="next"
            value={each}
            {...(boxes.length > 1 ? { 'aria-label': spoken`${name}, reading ${i + 1} of ${boxes.length}` } : {})}
            aria-describedby={`${id}.verdict`}
            aria-invalid={isNoNumber || verdict?.standing === 'outside'}
            onInput={(event) => put(boxes.map((box, j) => (i === j ? event.currentTarget.value : box)).join(';'), unit)}
          />
        ))}
        {limit.units.length > 1 ? (
          <select
            aria-label={spoken`Unit: ${`${limit.name}${place === '' ? '' : ` ${place}`}`}`}
            value={unit}
            onChange={(event) => put(typed, event.currentTarget.value)}
          >
            {(limit.units.includes(unit) ? limit.units : [unit, ...limit.units]).map((each) => (
              <option value={each} key={each}>
                {each}
              </option>
            ))}
          </select>
        ) : (
          <span class="tap">{limit.units[0] ?? ''}</span>
        )}
      </div>
      <p
        id={`${id}.verdict`}
        role="status"
        class={`verdict ${isNoNumber ? '' : isShort && verdict?.standing === 'inside' ? 'select' : (verdict?.standing ?? '')}`}
      >
        {words}
      </p>
      {meant === undefined || isNoNumber ? null : (
        <button type="button" onClick={() => put(meant, meantUnit)}>
          {spoken`Take ${meant} ${meantUnit}`}
        </button>
      )}
    </div>
  );
}

const STANDS = { inside: told`inside`, worn: told`worn`, outside: told`OUTSIDE` } as const;

/** What follows from what was measured here. */
function Follows({ limit }: { limit: string }) {
  const { judgement, job } = useBench();
  const own = judgement?.workedOut.filter((each) => each.from.includes(limit)) ?? [];
  // A table goes by what is measured here, or by what comes out of it.
  const by = new Set([limit, ...own.map((each) => each.limit)]);
  const grades =
    judgement?.grades.filter((each) => by.has(job.grades.find((table) => table.name === each.table)?.by ?? '')) ?? [];
  if (own.length + grades.length === 0) return null;
  return (
    <ul class="minds">
      {own.map((each) => (
        <li key={`${each.limit} ${each.place}`}>
          {each.title}
          {each.place === '' ? '' : `, ${each.place}`}: <strong>{each.text}</strong>{' '}
          {each.standing === undefined
            ? ''
            : each.standing === 'select'
              ? spoken`(between: measure the rest)`
              : `(${speak(STANDS[each.standing])}; ${each.bounds})`}
          <span class="soft"> {each.working}</span>
        </li>
      ))}
      {grades.map((each) => (
        <li key={`${each.table} ${each.place}`}>
          {job.grades.find((table) => table.name === each.table)?.title ?? each.table}
          {each.place === '' ? '' : `, ${each.place}`}:{' '}
          {each.rows.length === 0 ? (
            spoken`none in the table goes with it`
          ) : (
            <strong>{spoken`use ${anyOf(each.rows)}`}</strong>
          )}
        </li>
      ))}
    </ul>
  );
}

/** A line that is measured: its limit, large, and the fields. */
export function Measure({ line, step, place }: { line: MeasureLine; step: BenchStep; place: string }) {
  const { job, judgement, entries } = useBench();
  const limit = job.limits.find((each) => each.name === line.limit);
  if (limit === undefined) return <p>{line.text}</p>;
  const places = placesAsked(limit.places, step, place);
  const bounds = judgement?.verdicts.get(`${limit.name} ${places[0] ?? ''}`)?.bounds;
  return (
    <div class="what">
      <h2>
        {line.text}
        {line.tool === undefined ? '' : spoken` with ${line.tool}`}
      </h2>
      <Figure text={limit.within === '' ? spoken`no bounds are said` : limit.within} />
      <ul class="minds">
        {limit.rule === '' ? null : <li>{limit.rule}</li>}
        {limit.wear === '' ? null : <li>{spoken`Wear limit ${limit.wear}`}</li>}
        {bounds === undefined || bounds === '' || ![...entries.sizes.values()].some((size) => size !== '') ? null : (
          <li>{spoken`With the sizes that went in: ${bounds}`}</li>
        )}
        {line.otherwise.map((text, i) => (
          <li key={text}>{i === 0 ? spoken`If outside: ${text}` : spoken`If still outside: ${text}`}</li>
        ))}
        {limit.source === '' ? null : <li class="soft">{limit.source}</li>}
      </ul>
      <div class="fields">
        {places.map((each) => (
          <Field limit={limit} place={each} tool={line.tool} key={each} />
        ))}
      </div>
      <Follows limit={limit.name} />
    </div>
  );
}
