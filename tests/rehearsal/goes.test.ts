// A job that is carried out in goes comes to its end, whatever else it is carried out as to tell what comes of what: also where two
// sequences that no job has are called the same, and in each go one had begun anew what the other had left off.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { writtenAs } from '../../grammar/written.ts';
import { analysing } from '../../server/workspace/analyse.ts';
import type { Host } from '../../server/workspace/api.ts';
import { libraryText } from '../../server/workspace/library.ts';

const host: Host = { resolve: (_from, path) => path, read: libraryText, supersedes: true };
const text = readFileSync(join(import.meta.dirname, '../../samples/flat-four.fettle'), 'utf8');
const JOB = /^job seal-change .*\n(?: .*\n)*}\n/m;
const SEQUENCE = /^sequence flywheel-off .*\n(?: .*\n)*}\n/m;

/** More turns than any job of the samples takes. */
const MANY = 3_000;

test('two sequences of no job with one name, and a part that nothing fits', () => {
  const [sequence] = SEQUENCE.exec(text) ?? [''];
  const wrong = `${text.replace(JOB, '')}\npart cover-plate\n\n${sequence}`;
  const beginning = analysing('goes.fettle', writtenAs(wrong), host);
  let step = beginning.next();
  while (step.done !== true) step = beginning.next();
  let turns = 0;
  for (const _ of step.value.check()) {
    turns += 1;
    if (turns > MANY) break;
  }
  expect(turns).toBeLessThan(MANY);
  const codes = step.value.known.map(({ code }) => code);
  expect(codes).toContain('name/duplicate');
  expect(codes).toContain('sequence/never-fitted');
});
