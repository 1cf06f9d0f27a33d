// A line that is ticked: as a whole, at each of its places, or bolt by bolt as they lie, stage after stage; with its clock.

import { useState } from 'preact/hooks';
import { speak, spoken } from '../../grammar/spoken.ts';
import { type Told, told } from '../../grammar/told.ts';
import type { BenchStep, DoLine } from '../bench/bench-job.ts';
import { partTicks, stepEntries, tickKey, withTick } from '../bench/entries.ts';
import { useBench } from './context.ts';
import { Figure } from './figure.tsx';
import { gradeToUse } from './grade-to-use.ts';
import { idOf, lengthText, useTicking } from './moment.ts';

const SAID: Readonly<Record<'wait' | 'run' | 'cure' | 'close', Told>> = {
  wait: told`Wait`,
  run: told`Run`,
  cure: told`Cure`,
  close: told`Close the joint within`,
};

function Clock({ line, step, place }: { line: DoLine; step: BenchStep; place: string }) {
  const { entries, enter } = useBench();
  const key = `${step.name} ${tickKey(place, line.key)}`;
  const started = entries.clocks.get(key);
  const seconds = line.clock?.seconds ?? 0;
  const at = useTicking(started !== undefined);
  const left = started === undefined ? seconds : seconds - (at - started) / 1000;
  if (line.clock === undefined) return null;
  const what = `${speak(SAID[line.clock.what])}${line.clock.of === '' ? '' : ` (${line.clock.of})`}`;
  const set = (value: number | undefined): void =>
    enter((before) => {
      const clocks = new Map(before.clocks);
      if (value === undefined) clocks.delete(key);
      else clocks.set(key, value);
      return { ...before, clocks };
    });
  return (
    <fieldset class="clock">
      <legend class="off">{spoken`Clock: ${what} ${lengthText(seconds)}`}</legend>
      {started === undefined ? (
        <button type="button" onClick={() => set(Date.now())}>
          {spoken`Start the clock: ${lengthText(seconds)}`}
        </button>
      ) : (
        <>
          <Figure role="timer" text={left > 0 ? lengthText(left) : spoken`Time is up`} />
          {left > 0 ? <p>{spoken`ends at ${new Date(started + seconds * 1000).toTimeString().slice(0, 5)}`}</p> : null}
          <button type="button" onClick={() => set(undefined)}>
            {spoken`Set the clock back`}
          </button>
        </>
      )}
    </fieldset>
  );
}

function Bolts({
  line,
  stage,
  own,
  ticks,
  tick,
}: {
  line: DoLine;
  stage: number;
  own: string;
  ticks: ReadonlySet<string>;
  tick: (key: string, on: boolean) => void;
}) {
  const { bolts } = line;
  if (bolts === undefined) return null;
  const size = 58;
  return (
    <div class="scroll">
      {bolts.sort === 'rows' ? (
        <p class="front">← {spoken`FRONT`}</p>
      ) : (
        <p class="soft">{spoken`As you face the bolts.`}</p>
      )}
      <div class="bolts" style={{ width: `${bolts.width * size}px`, height: `${bolts.height * size}px` }}>
        {[...bolts.places]
          .sort((one, other) => one.number - other.number)
          .map(({ number, x, y }) => {
            const key = `${own}#${stage}.${number}`;
            return (
              <label key={number} style={{ left: `${x * size - 24}px`, top: `${y * size - 24}px` }}>
                <input
                  type="checkbox"
                  aria-label={spoken`Stage ${stage}, bolt ${number}`}
                  checked={ticks.has(key)}
                  onChange={(event) => tick(key, event.currentTarget.checked)}
                />
                <span aria-hidden="true">{number}</span>
              </label>
            );
          })}
      </div>
    </div>
  );
}

/** Stages, large; those that are done here are ticked, by bolt where the spec draws their order. */
function Stages({
  line,
  own,
  ticks,
  tick,
}: {
  line: DoLine;
  own: string;
  ticks: ReadonlySet<string>;
  tick: (key: string, on: boolean) => void;
}) {
  const here = line.stages.filter((stage) => stage.when === 'now');
  const partsOf = (stage: number): readonly string[] =>
    line.bolts?.places.map((bolt) => `${own}#${stage}.${bolt.number}`) ?? [];
  const isDone = (stage: number): boolean =>
    line.bolts === undefined ? ticks.has(`${own}#${stage}`) : partsOf(stage).every((part) => ticks.has(part));
  const [asked, setAsked] = useState<number | undefined>(undefined);
  const shown = asked ?? here.find((stage) => !isDone(stage.number))?.number ?? here[here.length - 1]?.number;
  return (
    <>
      {line.stages.map((stage) => {
        const isMany = line.stages.length > 1;
        const done = isDone(stage.number);
        return (
          <fieldset key={stage.number}>
            <legend class="off">{spoken`Stage ${stage.number}: ${stage.text}`}</legend>
            <div class={`stage ${stage.when}`}>
              {stage.when === 'now' && line.bolts === undefined && here.length > 1 ? (
                <input
                  type="checkbox"
                  aria-label={spoken`Stage ${stage.number}: ${stage.text}`}
                  checked={done}
                  onChange={(event) => tick(`${own}#${stage.number}`, event.currentTarget.checked)}
                />
              ) : null}
              {isMany ? <span>{spoken`Stage ${stage.number}`}</span> : null}
              <Figure text={stage.text} behind={stage.behind} />
              {stage.when === 'had' ? <span>{spoken`done before`}</span> : null}
              {stage.when === 'later' ? <span>{spoken`later, not now`}</span> : null}
              {stage.when === 'now' && line.bolts !== undefined ? (
                <span>
                  {spoken`${partsOf(stage.number).filter((part) => ticks.has(part)).length} of ${line.bolts.places.length} bolts`}
                </span>
              ) : null}
              {stage.when === 'now' && line.bolts !== undefined && shown !== stage.number ? (
                <button type="button" onClick={() => setAsked(stage.number)}>
                  {spoken`Show the bolts of stage ${stage.number}`}
                </button>
              ) : null}
            </div>
            {stage.when === 'now' && shown === stage.number ? (
              <Bolts
                line={line}
                stage={stage.number}
                own={own}
                ticks={ticks}
                tick={(key, on) => {
                  setAsked(undefined);
                  tick(key, on);
                }}
              />
            ) : null}
          </fieldset>
        );
      })}
    </>
  );
}

export function Do({ line, step, place }: { line: DoLine; step: BenchStep; place: string }) {
  const { entries, enter, judgement } = useBench();
  const own = tickKey(place, line.key);
  const { ticks } = stepEntries(entries, step.name);
  const parts = partTicks(line, place);
  const some = parts.some((part) => ticks.has(part));
  const id = idOf('do', step.name, own);
  const tick = (key: string, on: boolean): void =>
    enter((before) => {
      const after = withTick(before, step, line, place, key, on);
      const clock = `${step.name} ${own}`;
      // Sealant begins to cure when it is on.
      const starts = on && line.clock?.what === 'cure' && !after.clocks.has(clock);
      return starts ? { ...after, clocks: new Map(after.clocks).set(clock, Date.now()) } : after;
    });
  return (
    <div class="line">
      <input
        id={id}
        type="checkbox"
        checked={ticks.has(own)}
        ref={(box) => {
          if (box !== null) box.indeterminate = some && !ticks.has(own);
        }}
        onChange={(event) => tick(own, event.currentTarget.checked)}
      />
      <div class="what">
        <label class="name" for={id}>
          {line.text}
        </label>
        <Stages line={line} own={own} ticks={ticks} tick={tick} />
        {line.minds.length === 0 ? null : (
          <ul class="minds">
            {line.minds.map((mind) => (
              <li key={mind}>{mind}</li>
            ))}
          </ul>
        )}
        {judgement === undefined
          ? null
          : line.grades.map((table) => (
              <p class="use" key={table}>
                {gradeToUse(table, judgement, place) ||
                  spoken`Which one is chosen by measuring: what it goes by is not all measured yet.`}
              </p>
            ))}
        {line.places.length === 0 ? null : (
          <fieldset>
            <legend class="off">{spoken`${line.text}: place by place`}</legend>
            <div class="ticks">
              {line.places.map((each) => (
                <label key={each}>
                  <input
                    type="checkbox"
                    aria-label={`${line.text}: ${each}`}
                    checked={ticks.has(`${own}@${each}`)}
                    onChange={(event) => tick(`${own}@${each}`, event.currentTarget.checked)}
                  />
                  {each}
                </label>
              ))}
            </div>
          </fieldset>
        )}
        <Clock line={line} step={step} place={place} />
      </div>
    </div>
  );
}
