// What an open text is found to have after edit upon edit is what a fresh reading of it finds: whatever was moved, patched or kept.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Analysis } from '../../server/workspace/api.ts';
import { createDocuments, type Documents } from '../../server/workspace/documents.ts';
import { indexLines, offsetAt, positionAt } from '../../server/workspace/lines.ts';
import { anew } from '../anew.ts';
import { expectSame } from '../same.ts';

const folder = join(import.meta.dirname, '../../samples');
const files: Readonly<Record<string, string>> = Object.fromEntries(
  readdirSync(folder)
    .filter((name) => name.endsWith('.fettle'))
    .map((name) => [`file:///shop/${name}`, readFileSync(join(folder, name), 'utf8')]),
);
const names = Object.keys(files);

/** One key or paste: where, how much goes, what comes. */
interface Edit {
  readonly at: number;
  readonly cut: number;
  readonly put: string;
}

/** A place in a text, as a share of its length; every place is as likely as any other. */
const share = fc.integer({ min: 0, max: 9999 }).map((each) => each / 10_000);

/** What is written and pasted: figures above all, words, names, whole declarations, signs that change how a text is cut. */
const put = fc.constantFrom(
  ...['', '1', '7', '0.5', ' ', '\n', '\r\n', '}', '{', '"', '#', ' mm', ' N.m'],
  ...['a', 'block', 'part x\n\n', '\n\npart block {\n  matched\n}\n\n', 'single-use\n', 'tighten ', 'when van {'],
);
const edit = fc.record<Edit>({
  at: share,
  cut: fc.constantFrom(0, 0, 0, 1, 1, 3, 40),
  put,
});
/** An edit of a figure: the next digit after a place gives way to another. */
const figure = fc.record({
  at: share,
  digit: fc.constantFrom('1', '2', '5', '9', '30'),
});

/** An edit of a whole declaration or step, or of a name, key by key. */
interface Structure {
  readonly kind: 'take' | 'twice' | 'move' | 'name' | 'type' | 'step';
  readonly at: number;
  readonly to: number;
}

const structure = fc.record<Structure>({
  kind: fc.constantFrom('take', 'twice', 'move', 'name', 'name', 'type', 'step'),
  at: share,
  to: share,
});

const TYPED = 'part lid-new {\n  matched\n}\n\n';
const TYPED_STEP = 'step look {\n    inspect block\n  }\n  ';

interface Key {
  readonly start: number;
  readonly end: number;
  readonly put: string;
}

/** The single edits that make up one of a whole declaration. */
function keysOf(analysis: Analysis | undefined, text: string, { kind, at, to }: Structure): readonly Key[] {
  const sections = analysis?.file.sections ?? [];
  const all = sections.flatMap((section) => section.every);
  const placed = all[Math.floor(at * all.length)];
  const there = sections[Math.floor(to * sections.length)]?.section.start ?? 0;
  if (placed === undefined) return [];
  const { start, end } = placed.section;
  const gone: Key = { start, end, put: '' };
  const copy = text.slice(start, end);
  if (kind === 'take') return [gone];
  if (kind === 'twice') return [{ start: there, end: there, put: `${copy}\n\n` }];
  if (kind === 'move')
    return [
      gone,
      {
        start: there - (there > start ? end - start : 0),
        end: there - (there > start ? end - start : 0),
        put: `${copy}\n\n`,
      },
    ];
  const typed = (from: number, keys: string): readonly Key[] =>
    [...keys].map((key, i) => ({ start: from + i, end: from + i, put: key }));
  if (kind === 'name') {
    const name = placed.declaration.name;
    if (name === undefined) return [];
    // Typed and taken back again but for a letter.
    const from = start + name.start;
    return [...typed(from, 'xy'), { start: from, end: from + 1, put: '' }];
  }
  if (kind === 'type') return typed(there, TYPED);
  const step = all.find((each) => each.declaration.word === 'step' && each.section.start >= start);
  return step === undefined ? [] : typed(step.section.start, TYPED_STEP);
}

function opened(): Documents {
  const documents = createDocuments();
  documents.setRoots(['file:///shop']);
  for (const [name, text] of Object.entries(files)) documents.told(name, text);
  return documents;
}

function replace(documents: Documents, name: string, start: number, end: number, text: string): void {
  const lines = documents.lines(name);
  const range = { start: positionAt(lines, start), end: positionAt(lines, end) };
  documents.change(name, (documents.get(name)?.version ?? 0) + 1, [{ range, text }]);
}

/** All that can be seen of an analysis. */
function seen(analysis: Analysis | undefined): object {
  return {
    findings: analysis?.findings,
    places: analysis?.file.declarations.map((placed) => [
      placed.section.start,
      placed.section.end,
      placed.declaration.word,
      placed.steps.map((step) => step.section.start),
    ]),
    things: analysis?.views.map((view) =>
      [...view.things.values()].map((thing) => [thing.kind, thing.name, thing.placed.section.start]),
    ),
    counts: analysis?.views.map((view) => [
      ...[view.parts, view.fasteners, view.limits, view.steps].map((list) =>
        list.map((each) => each.placed.section.start),
      ),
      view.engine?.placed.section.start,
    ]),
  };
}

async function fresh(documents: Documents, name: string): Promise<object> {
  const other = (await anew()).createDocuments();
  other.setRoots(['file:///shop']);
  for (const each of names) other.told(each, documents.read(each));
  return seen(other.analysis(name));
}

describe('after edits', () => {
  test.each(names)(
    'of any sort to %s',
    async (name) => {
      await fc.assert(
        fc.asyncProperty(fc.array(edit, { minLength: 1, maxLength: 10 }), async (edits) => {
          const documents = opened();
          documents.open(name, 1, files[name] ?? '');
          documents.analysis(name);
          for (const { at, cut, put: text } of edits) {
            const length = documents.read(name)?.length ?? 0;
            const start = Math.floor(at * length);
            replace(documents, name, start, Math.min(length, start + cut), text);
            documents.analysis(name);
          }
          expectSame(seen(documents.analysis(name)), await fresh(documents, name));
        }),
        { numRuns: 6, seed: 11 },
      );
    },
    120_000,
  );

  test.each(names)(
    'of figures in %s',
    async (name) => {
      await fc.assert(
        fc.asyncProperty(fc.array(figure, { minLength: 4, maxLength: 20 }), async (edits) => {
          const documents = opened();
          documents.open(name, 1, files[name] ?? '');
          documents.analysis(name);
          for (const { at, digit } of edits) {
            const text = documents.read(name) ?? '';
            const start = text.slice(Math.floor(at * text.length)).search(/\d/);
            if (start < 0) continue;
            const from = Math.floor(at * text.length) + start;
            replace(documents, name, from, from + 1, digit);
            documents.analysis(name);
          }
          expectSame(seen(documents.analysis(name)), await fresh(documents, name));
        }),
        { numRuns: 6, seed: 5 },
      );
    },
    120_000,
  );

  test.each(names)(
    'of names, declarations and steps that come and go in %s',
    async (name) => {
      await fc.assert(
        fc.asyncProperty(fc.array(structure, { minLength: 3, maxLength: 9 }), async (edits) => {
          const documents = opened();
          documents.open(name, 1, files[name] ?? '');
          documents.analysis(name);
          for (const each of edits) {
            for (const { start, end, put: text } of keysOf(
              documents.analysis(name),
              documents.read(name) ?? '',
              each,
            )) {
              replace(documents, name, start, end, text);
              documents.analysis(name);
            }
          }
          expectSame(seen(documents.analysis(name)), await fresh(documents, name));
        }),
        { numRuns: 6, seed: 31 },
      );
    },
    120_000,
  );

  test('of a file that others use, seen from those', async () => {
    const used = 'file:///shop/common-fasteners.fettle';
    const users = names.filter((name) => files[name]?.includes('use "common-fasteners.fettle"'));
    expect(users.length).toBeGreaterThan(0);
    await fc.assert(
      fc.asyncProperty(
        fc.array(edit, { minLength: 1, maxLength: 4 }),
        fc.constantFrom(...users),
        async (edits, user) => {
          const documents = opened();
          documents.open(used, 1, files[used] ?? '');
          documents.open(user, 1, files[user] ?? '');
          documents.analysis(user);
          for (const { at, cut, put: text } of edits) {
            const length = documents.read(used)?.length ?? 0;
            const start = Math.floor(at * length);
            replace(documents, used, start, Math.min(length, start + cut), text);
            documents.analysis(used);
            documents.analysis(user);
            replace(documents, user, 0, 0, '\n');
            documents.analysis(user);
          }
          expectSame(seen(documents.analysis(user)), await fresh(documents, user));
        },
      ),
      { numRuns: 10, seed: 21 },
    );
  }, 120_000);
});

describe('fasteners that are like others', () => {
  const uri = 'file:///shop/likes.fettle';
  const KINDS = [
    'thread M8x1.25',
    'thread M10x1.5',
    'class 8.8',
    'class 10.9',
    'fitted oiled',
    'like c',
    'like d',
    'torque 24 N.m',
  ];
  const bolt = fc
    .record({
      name: fc.constantFrom('a', 'b', 'c', 'd', 'e'),
      says: fc.uniqueArray(fc.constantFrom(...KINDS), { maxLength: 4 }),
    })
    .map(
      ({ name, says }) =>
        `fastener ${name} {\n${['clamps lid to block', ...says].map((line) => `  ${line}\n`).join('')}}\n\n`,
    );
  const BEGIN = 'part block\n\npart lid {\n  mass 3 kg\n}\n\n';
  const END =
    'sequence s {\n  phase assemble\n  starts-with block\n  step one {\n    fit lid onto block\n    tighten a\n    tighten b\n  }\n}\n';

  test('have what those have now', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(bolt, { minLength: 2, maxLength: 6 }),
        fc.array(fc.tuple(fc.nat(5), bolt, fc.nat(2)), { minLength: 1, maxLength: 6 }),
        async (first, edits) => {
          const documents = opened();
          const bolts = [...first];
          documents.open(uri, 1, `${BEGIN}${bolts.join('')}${END}`);
          documents.analysis(uri);
          for (const [at, text, kind] of edits) {
            const i = at % bolts.length;
            const start = BEGIN.length + bolts.slice(0, i).join('').length;
            const gone = kind === 0 ? '' : (bolts[i] ?? '');
            replace(documents, uri, start, start + gone.length, text);
            bolts.splice(i, kind === 0 ? 0 : 1, text);
            documents.analysis(uri);
          }
          expect(documents.read(uri)).toBe(`${BEGIN}${bolts.join('')}${END}`);
          const taken = (analysis: Analysis | undefined): object | undefined =>
            analysis?.views[0]?.fasteners.map(({ name, thread, strengthClass, fitted }) => [
              name,
              thread,
              strengthClass,
              fitted,
            ]);
          const now = documents.analysis(uri);
          const other = (await anew()).createDocuments();
          other.told(uri, documents.read(uri));
          expect(seen(now)).toEqual(seen(other.analysis(uri)));
          expect(taken(now)).toEqual(taken(other.analysis(uri)));
        },
      ),
      { numRuns: 25, seed: 41 },
    );
  }, 120_000);
});

describe('an edit in one declaration', () => {
  const PLAY = `part a {
  dimension d 10.00..10.01 mm
}

part b {
  dimension d 9.95..9.96 mm
}

part box

fastener bolt x2 {
  thread M6
  clamps a to box
  torque 9 N.m
}

limit play
  = a.d - b.d
  within 0.03..0.07 mm

sequence s {
  phase assemble
  starts-with box, b
  step one {
    fit a onto box
    note "a"
  }
}
`;
  const uri = 'file:///shop/play.fettle';
  const codes = (documents: Documents): readonly string[] =>
    (documents.analysis(uri)?.findings ?? []).map((each) => `${each.code} ${each.start}`);
  const write = (documents: Documents, old: string, now: string): readonly string[] => {
    const at = documents.read(uri)?.indexOf(old) ?? -1;
    expect(at).toBeGreaterThan(0);
    replace(documents, uri, at, at + old.length, now);
    return codes(documents);
  };
  const begin = (): Documents => {
    const documents = opened();
    documents.open(uri, 1, PLAY);
    return documents;
  };

  test('is seen by another that looked it up, and seen to be taken back', () => {
    const documents = begin();
    const limit = `limit/outside ${PLAY.indexOf('0.03..0.07')}`;
    expect(codes(documents)).not.toContain(limit);
    expect(write(documents, '10.00..10.01', '11.00..11.01')).toContain(limit);
    expect(write(documents, '9.95..9.96', '10.95..10.96')).not.toContain(
      `limit/outside ${PLAY.indexOf('0.03..0.07') + 2}`,
    );
    expect(
      write(documents, '11.00..11.01', '10.00..10.01').filter((each) => each.startsWith('limit/outside')),
    ).toHaveLength(1);
  });

  test('leaves what the rehearsal finds in it, at its place', () => {
    const documents = begin();
    const bolt = `sequence/never-tightened ${PLAY.indexOf('bolt x2')}`;
    expect(codes(documents)).toContain(bolt);
    expect(write(documents, '9 N.m', '10 N.m')).toContain(bolt);
    expect(write(documents, '10.00..10.01', '10.000..10.010')).toContain(
      bolt.replace(/\d+$/, (at) => String(Number(at) + 2)),
    );
  });

  test('is rehearsed where it changes the job', () => {
    const documents = begin();
    expect(
      write(documents, 'note "a"', 'note "b"').filter((each) => each.startsWith('sequence/never-tightened')),
    ).toHaveLength(1);
    expect(write(documents, 'note "b"', 'tighten bolt').filter((each) => each.startsWith('sequence/'))).toEqual([]);
    expect(write(documents, '9 N.m', '9 N.m, 90 deg').filter((each) => each.startsWith('sequence/'))).toEqual([]);
    expect(write(documents, 'tighten bolt', 'tighten bolt stage 1').map((each) => each.split(' ')[0])).toContain(
      'sequence/stage-left',
    );
    expect(write(documents, ', 90 deg', '').map((each) => each.split(' ')[0])).not.toContain('sequence/stage-left');
  });
});

describe('lines', () => {
  test('a position behind the end of its line is the end of it', () => {
    const index = indexLines('ab\r\ncd\nef');
    expect(offsetAt(index, { line: 0, character: 99 })).toBe(2);
    expect(offsetAt(index, { line: 1, character: 99 })).toBe(6);
    expect(offsetAt(index, { line: 2, character: 99 })).toBe(9);
    expect(offsetAt(index, { line: 9, character: 0 })).toBe(9);
  });
});

describe('one text in the place of another', () => {
  const name = 'file:///shop/inline-four.fettle';
  const text = files[name] ?? '';
  const stepOf = (step: string): string => new RegExp(` {2}step ${step}[ {][^}]*\\}\\n`).exec(text)?.[0] ?? '';
  const swapped = (first: string, second: string): string => text.replace(first + second, second + first);

  test('in which two steps have changed places and another says more', async () => {
    const before = swapped(stepOf('shells-in-rods'), stepOf('fit-rods'));
    const after = text.replace('tool "ring gear lock"', 'tool "ring gear lock, long"');
    expect(before).not.toBe(text);
    const documents = opened();
    documents.open(name, 1, before);
    expect(documents.analysis(name)?.findings.map(({ code }) => code)).toContain('sequence/covered');
    documents.change(name, 2, [{ text: after }]);
    expect(seen(documents.analysis(name))).toEqual(await fresh(documents, name));
    expect(documents.analysis(name)?.findings).toEqual([]);
  });
});
