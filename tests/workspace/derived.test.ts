// A spec that is built on another, while either file is written in: what is found after edit upon edit is what a fresh reading finds.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { placeOf } from '../../server/model/placed.ts';
import { valuesOf } from '../../server/model/values.ts';
import type { Thing } from '../../server/model/view.ts';
import type { Analysis } from '../../server/workspace/api.ts';
import { createDocuments, type Documents } from '../../server/workspace/documents.ts';
import { positionAt } from '../../server/workspace/lines.ts';
import { anew } from '../anew.ts';

const folder = join(import.meta.dirname, '../../samples/two-shops');
const read = (name: string): string => readFileSync(join(folder, name), 'utf8');
const at = (name: string): string => `file:///shop/${name}`;
const TOP = `use "tallow-bridge.fettle"

spec top-wren "Built on what is built on" extends tallow-wren {
  revision 1
  change part piston {
    dimension skirt 71.350..71.360 mm
  }
  change step fit-sump {
    fit sump onto block
    tighten sump-bolt
  }
}
`;
const files: Readonly<Record<string, string>> = {
  [at('brindle-wren.fettle')]: read('brindle-wren.fettle'),
  [at('quarry-lane.fettle')]: read('quarry-lane.fettle'),
  [at('tallow-bridge.fettle')]: read('tallow-bridge.fettle'),
  [at('top.fettle')]: TOP,
};
const names = Object.keys(files);

function opened(): Documents {
  const documents = createDocuments();
  documents.setRoots(['file:///shop']);
  for (const [name, text] of Object.entries(files)) documents.told(name, text);
  for (const [name, text] of Object.entries(files)) documents.open(name, 1, text);
  return documents;
}

function replace(documents: Documents, name: string, start: number, end: number, text: string): void {
  const lines = documents.lines(name);
  const range = { start: positionAt(lines, start), end: positionAt(lines, end) };
  documents.change(name, (documents.get(name)?.version ?? 0) + 1, [{ range, text }]);
}

function seen(analysis: Analysis | undefined): object {
  return {
    findings: analysis?.findings,
    places: analysis?.views.map((view) => [
      ...[...view.specs, ...view.engines].map((placed) => placeOf(placed, placed.declaration)),
      ...[view.parts, view.fasteners, view.limits, view.sequences, view.steps].map((list) =>
        list.map(({ placed }) => placeOf(placed, placed.declaration)),
      ),
    ]),
    things: analysis?.views.map((view) =>
      [...view.things.values()].map((thing) => [thing.kind, thing.name, thing.placed.section.text]),
    ),
    values: analysis?.views.map((view) => valuesOf(view)),
  };
}

async function fresh(documents: Documents): Promise<readonly object[]> {
  const other = (await anew()).createDocuments();
  other.setRoots(['file:///shop']);
  for (const each of names) other.told(each, documents.read(each));
  return names.map((name) => seen(other.analysis(name)));
}

const share = fc.integer({ min: 0, max: 9999 }).map((each) => each / 10_000);
const edit = fc.record({
  which: fc.nat(names.length - 1),
  at: share,
  cut: fc.constantFrom(0, 0, 0, 1, 1, 3, 40),
  put: fc.constantFrom(
    ...[
      '',
      '1',
      '7',
      ' ',
      '\n',
      '}',
      '{',
      '"',
      'piston',
      'matched\n',
      ' drop mark dot ',
      '\nchange part block { mass 3 kg }\n',
    ],
    ...[
      'drop step fit-head\n',
      'when climb {',
      '\n\npart x {\n  matched\n}\n\n',
      'extends ',
      'insert step y after fit-head { wait 3 min }\n',
    ],
  ),
});
const figure = fc.record({
  which: fc.nat(names.length - 1),
  at: share,
  digit: fc.constantFrom('1', '2', '5', '9', '30'),
});

test('the samples are clean as they are', () => {
  const documents = opened();
  for (const name of names.slice(0, 3)) expect(documents.analysis(name)?.findings).toEqual([]);
});

test('any edits in any of the files', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(edit, { minLength: 1, maxLength: 8 }), async (edits) => {
      const documents = opened();
      for (const name of names) documents.analysis(name);
      for (const { which, at: place, cut, put } of edits) {
        const name = names[which] ?? '';
        const length = documents.read(name)?.length ?? 0;
        const start = Math.floor(place * length);
        replace(documents, name, start, Math.min(length, start + cut), put);
        for (const each of names) documents.analysis(each);
      }
      expect(names.map((name) => seen(documents.analysis(name)))).toEqual(await fresh(documents));
    }),
    { numRuns: 10, seed: 3 },
  );
}, 120_000);

test('figures in any of the files', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(figure, { minLength: 4, maxLength: 16 }), async (edits) => {
      const documents = opened();
      for (const name of names) documents.analysis(name);
      for (const { which, at: place, digit } of edits) {
        const name = names[which] ?? '';
        const text = documents.read(name) ?? '';
        const from = Math.floor(place * text.length);
        const next = text.slice(from).search(/\d/);
        if (next < 0) continue;
        replace(documents, name, from + next, from + next + 1, digit);
        documents.analysis(names[(which + 1) % names.length] ?? '');
      }
      expect(names.map((name) => seen(documents.analysis(name)))).toEqual(await fresh(documents));
    }),
    { numRuns: 6, seed: 4 },
  );
}, 120_000);

/** What is usually written: a figure, a comment, another action in a step, each in a change, a plain declaration or the base. */
const usual = fc.record({
  which: fc.constantFrom(0, 2, 2, 3, 3),
  at: share,
  what: fc.constantFrom('figure', 'figure', 'comment', 'action', 'taken back'),
  put: fc.nat(9),
});

test('what is usually written, in what is built on another and in its base', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(usual, { minLength: 8, maxLength: 24 }), async (edits) => {
      const documents = opened();
      for (const name of names) documents.analysis(name);
      let last:
        | { readonly name: string; readonly start: number; readonly was: string; readonly put: string }
        | undefined;
      const write = (name: string, start: number, end: number, text: string): void => {
        last = { name, start, was: (documents.read(name) ?? '').slice(start, end), put: text };
        replace(documents, name, start, end, text);
      };
      for (const { which, at: place, what, put } of edits) {
        const name = names[which] ?? '';
        const text = documents.read(name) ?? '';
        const from = Math.floor(place * text.length);
        const next = (wanted: RegExp): number => {
          const found = text.slice(from).search(wanted);
          return found < 0 ? -1 : from + found;
        };
        if (what === 'taken back') {
          if (last !== undefined) write(last.name, last.start, last.start + last.put.length, last.was);
        } else if (what === 'figure') {
          const digit = next(/\d/);
          if (digit >= 0) write(name, digit, digit + 1, String(put));
        } else {
          const line = next(/\n {4}/);
          const more = ['tighten sump-bolt', 'lubricate piston with oil', 'wait 3 min', 'remove sump'][put % 4] ?? '';
          if (line >= 0) write(name, line, line, what === 'comment' ? `\n# ${put}` : `\n    ${more}`);
        }
        for (const each of names) if (put % 2 === 0 || each === name) documents.analysis(each);
      }
      expect(names.map((name) => seen(documents.analysis(name)))).toEqual(await fresh(documents));
    }),
    { numRuns: 12, seed: 9 },
  );
}, 120_000);

test('what no change touches is the same from edit to edit, of a change and of the base', () => {
  const documents = opened();
  const [base, top] = [at('brindle-wren.fettle'), at('top.fettle')];
  const things = (): ReadonlyMap<string, Thing> => new Map(documents.analysis(top)?.views[0]?.things);
  const others = (before: ReadonlyMap<string, Thing>): readonly string[] =>
    [...things()].flatMap(([name, thing]) => (before.get(name) === thing ? [] : [name]));
  const write = (name: string, old: string, now: string): void => {
    const start = documents.read(name)?.indexOf(old) ?? -1;
    expect(start).toBeGreaterThan(0);
    replace(documents, name, start, start + old.length, now);
  };
  const first = things();
  write(top, '71.350..71.360', '71.350..71.361');
  expect(others(first)).toEqual(['piston']);
  const second = things();
  write(top, 'tighten sump-bolt', 'tighten sump-bolt # all of them');
  expect([...others(second)].sort()).toEqual(['fit-sump', 'top-and-bottom']);
  const third = things();
  write(base, '71.400..71.418', '71.400..71.419');
  expect(others(third)).toHaveLength(1);
});

test('an edit of the base is seen in what is built on it', () => {
  const documents = opened();
  const [base, quarry] = [at('brindle-wren.fettle'), at('quarry-lane.fettle')];
  const text = documents.read(base) ?? '';
  const start = text.indexOf('71.400..71.418');
  expect(documents.analysis(quarry)?.findings).toEqual([]);
  replace(documents, base, start, start + '71.400..71.418'.length, '71.300..71.318');
  expect(documents.dependents(base)).toContain(quarry);
  expect(documents.analysis(quarry)?.findings.map((each) => each.code)).toEqual(['limit/outside']);
  replace(documents, base, start, start + '71.300..71.318'.length, '71.400..71.418');
  expect(documents.analysis(quarry)?.findings).toEqual([]);
});
