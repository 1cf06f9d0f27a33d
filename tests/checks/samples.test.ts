// The samples: whole engines are clean, each file of faults gives what it says, transcribed manual rows give what they must.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { analyseText, disagreements } from '../annotated.ts';

const root = join(import.meta.dirname, '../..');
const filesOf = (folder: string): Readonly<Record<string, string>> =>
  Object.fromEntries(
    readdirSync(join(root, folder))
      .filter((name) => name.endsWith('.fettle'))
      .map((name) => [name, readFileSync(join(root, folder, name), 'utf8')]),
  );

describe.each(['samples', 'samples/two-shops', 'samples/faults', 'tests/manuals'])('%s', (folder) => {
  const files = { ...(folder === 'samples/faults' ? filesOf('samples') : {}), ...filesOf(folder) };
  test.each(Object.keys(filesOf(folder)))('%s', (name) => {
    const text = files[name] ?? '';
    expect(disagreements(text, analyseText(text, files, name))).toEqual([]);
  });
});
