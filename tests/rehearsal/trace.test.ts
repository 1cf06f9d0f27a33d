// The rehearsal told step by step: what each action changes, in the order of the job.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { rehearsalText, type ToldJob, tellRehearsal } from '../../server/features/rehearsal-text.ts';
import { analyseText } from '../annotated.ts';

const root = join(import.meta.dirname, '../..');
const read = (path: string): string => readFileSync(join(root, path), 'utf8');

function told(text: string, job?: string, files: Readonly<Record<string, string>> = {}): readonly ToldJob[] {
  const analysis = analyseText(text, files);
  const [view] = analysis.views;
  if (view === undefined) throw new Error('no view');
  return tellRehearsal(view, analysis.file.file, analysis.findings, job);
}

/** What an action changes, by its words in the spec. */
function changes(job: ToldJob | undefined, words: string): readonly string[] {
  const actions = job?.steps.flatMap((step) => step.actions) ?? [];
  const found = actions.find((action) => action.text === words);
  if (found === undefined) throw new Error(`no action ${words}`);
  return found.changes.map((each) => each.text);
}

const [brindle] = told(read('tests/model/brindle-four.fettle'));

test('parts go on by place, fasteners come to their stages', () => {
  expect(brindle?.begins).toBe('bare');
  expect(changes(brindle, 'fit main-shell upper into block')).toEqual(['main-shell upper 1 to 5: on']);
  expect(changes(brindle, 'fit main-cap onto block')).toEqual(['main-cap all 5: on']);
  expect(changes(brindle, 'tighten main-bolt')).toEqual(['main-bolt: tight']);
  expect(changes(brindle, 'snug cam-sprocket-bolt')).toEqual(['cam-sprocket-bolt: snug']);
});

test('what is held back is let go', () => {
  expect(changes(brindle, 'hold-back chain-tensioner')).toEqual(['chain-tensioner: held back']);
  expect(changes(brindle, 'release chain-tensioner')).toEqual(['chain-tensioner: let go']);
});

test('a chain is to be proved; after two turns its links are elsewhere, and come back after 28', () => {
  expect(changes(brindle, 'fit crank-sprocket, cam-sprocket, timing-chain together')).toContain(
    'cam-drive: to be proved',
  );
  expect(changes(brindle, 'align cam-drive')).toEqual(['the marked links of cam-drive: at their marks']);
  // 56 links over 18 teeth: lcm(56, 18) / 18 = 28 turns, which is whole cycles.
  expect(changes(brindle, 'rotate crankshaft 2 turns')).toEqual([
    'the marked links of cam-drive: no longer at their marks, which they meet every 28 turns',
  ]);
  expect(changes(brindle, 'confirm cam-drive by marks')).toEqual(['cam-drive: proved']);
});

test('a job on a whole engine takes off, drains, fills and puts back', () => {
  const files = { 'common-fasteners.fettle': read('samples/common-fasteners.fettle') };
  const jobs = told(read('samples/inline-four.fettle'), 'camshaft-change', files);
  expect(jobs.map((job) => [job.job, job.begins])).toEqual([['camshaft-change', 'whole']]);
  const [job] = jobs;
  expect(changes(job, 'drain sump')).toEqual(['sump: drained']);
  expect(changes(job, 'remove camshaft')).toEqual(['camshaft: off']);
  expect(changes(job, 'loosen pulley-bolt')).toEqual(['pulley-bolt: loose']);
  expect(changes(job, 'fill block with coolant 6.8 L')).toEqual(['block: filled']);
  expect(changes(job, 'connect earth-strap')).toEqual(['earth-strap: connected']);
});

test('stages one by one', () => {
  const [job] = told(
    'part a\n\npart lid\n\nfastener b x4 {\n  clamps lid to a\n  thread M8\n  torque 10 N.m, 20 N.m, 90 deg\n}\n\nsequence s {\n  starts-with a\n  step t {\n    fit lid onto a\n    tighten b stage 1\n    tighten b stage 2\n    tighten b\n  }\n}\n',
  );
  expect(changes(job, 'tighten b stage 1')).toEqual(['b: at stage 1 of 3']);
  expect(changes(job, 'tighten b stage 2')).toEqual(['b: at stage 2 of 3']);
  expect(changes(job, 'tighten b')).toEqual(['b: tight']);
});

test('a finding stands at the action that it is of', () => {
  const [job] = told(read('samples/faults/links-moved.fettle'));
  const found = job?.steps.flatMap((step) => step.actions).filter((action) => action.findings.length > 0) ?? [];
  expect(found.flatMap((action) => action.findings.map((finding) => finding.code))).toContain('sequence/links-moved');
  expect(job === undefined ? '' : rehearsalText(job).text).toMatch(
    /\n {5}confirm .*\n(?: {7}-> .*\n)* {7}error: .*\[sequence\/links-moved\]/,
  );
});

test('told twice, it is told alike', () => {
  expect(told(read('tests/model/brindle-four.fettle'))).toEqual(told(read('tests/model/brindle-four.fettle')));
});
