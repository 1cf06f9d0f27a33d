// The sheet that a bench page prints is filled in with what has been entered: each value at its place, who did a step, who looked.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { render } from 'preact-render-to-string';
import { describe, expect, test } from 'vitest';
import type { BenchJob } from '../../server/bench/bench-job.ts';
import {
  type Entries,
  noEntries,
  placesOf,
  stepsOf,
  type Value,
  withDone,
  withStep,
} from '../../server/bench/entries.ts';
import { sheetBody } from '../../server/bench/filled-sheet.tsx';
import { specOf } from '../../server/bench/judge.ts';
import { benchJob } from '../../server/bench/make-job.ts';
import { analyseText } from '../annotated.ts';

const sample = (name: string): string => readFileSync(join(import.meta.dirname, '../../samples', name), 'utf8');
const COMMON = { 'common-fasteners.fettle': sample('common-fasteners.fettle') };

function jobOf(file: string): BenchJob {
  const analysis = analyseText(sample(file), COMMON, file);
  const [view] = analysis.views;
  const texts = [analysis.file, ...analysis.used].map((each) => ({ file: each.file, text: each.text }));
  const made = view === undefined ? undefined : benchJob(view, { file, use: file, errors: 0, texts });
  if (made === undefined) throw new Error('no job');
  return JSON.parse(JSON.stringify(made)) as BenchJob;
}

const value = (text: string): Value => ({ text, on: undefined, by: undefined, with: undefined });

describe.each(['inline-four.fettle', 'gear-six.fettle', 'launch-eight.fettle'])('%s', (file) => {
  const job = jobOf(file);
  const view = specOf(job);
  const printed = (entries: Entries): string => render(sheetBody(job, entries, view));

  test('each value that can be entered stands in its box', () => {
    const measured = new Map<string, ReadonlyMap<string, Value>>();
    const asked = new Set(
      stepsOf(job).flatMap((step) => step.lines.flatMap((line) => (line.kind === 'measure' ? [line.limit] : []))),
    );
    let count = 0;
    for (const limit of job.limits)
      if (asked.has(limit.name))
        measured.set(
          limit.name,
          new Map(
            (limit.places.length === 0 ? [''] : limit.places).map((place) => {
              count += 1;
              return [place, value(`${count}.125 mm`)];
            }),
          ),
        );
    expect(count).toBeGreaterThan(5);
    const page = printed({ ...noEntries(job), measured });
    const missing = [...measured].flatMap(([limit, values]) =>
      [...values].flatMap(([place, { text }]) =>
        page.includes(`<strong>${text}</strong>`) ? [] : [`${limit} ${place}`],
      ),
    );
    expect(missing).toEqual([]);
  });

  test('a step that is done is ticked and says by whom, one that is open is empty', () => {
    const empty = printed(noEntries(job));
    expect(empty).not.toContain('class="tick"');
    let entries: Entries = { ...noEntries(job), by: 'RT <b>', engineNumber: 'QL-0417' };
    const steps = stepsOf(job);
    for (const step of steps)
      for (const place of placesOf(step))
        entries = withDone(entries, step, place, { day: '2026-03-04', time: '14:10' });
    const all = printed(entries);
    expect(all).toContain('engine number QL-0417');
    expect(all.match(/RT &lt;b/g)?.length).toBe(steps.length);
    expect(all).not.toContain('<b>');
    // Boxes of what is laid out before the job are nobody's step.
    const inSteps = all.match(/<section class="step.*?<\/section>/gs)?.join('') ?? '';
    const boxes = [...inSteps.matchAll(/<span class="box">[^<]*(<span class="tick">)?/g)];
    expect(boxes.length).toBeGreaterThan(50);
    expect(boxes.filter(([, tick]) => tick === undefined)).toEqual([]);
  });

  test('who looked stands at the hold point', () => {
    const held = stepsOf(job).find((step) => step.lines.some((line) => line.kind === 'hold'));
    const line = held?.lines.find((each) => each.kind === 'hold');
    if (held === undefined || line === undefined) return;
    const at = { day: '2026-03-04', time: '14:10' };
    const entries = withStep(noEntries(job), held.name, { looked: new Map([[line.key, { by: 'AM', at }]]) });
    expect(printed(entries)).toContain('AM, 2026-03-04 14:10');
  });
});
