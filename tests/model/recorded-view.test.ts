// A view brought up to date after an edit is the view that is built anew of the same reading: names, lists and their order, duplicates.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { atOnce } from '../../grammar/give-way.ts';
import { type BuiltView, buildView } from '../../server/model/build-view.ts';
import type { Placed } from '../../server/model/placed.ts';
import { ask, newQuestion } from '../../server/model/questions.ts';
import { readFile } from '../../server/model/read-file.ts';
import { recordingViews } from '../../server/model/recorded-views.ts';
import type { Thing } from '../../server/model/view.ts';

const NAMES = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h', 'Lid', 'lid', 'k', 'm'];

const declaration = fc
  .record({
    name: fc.constantFrom(...NAMES),
    kind: fc.constantFrom('part', 'part', 'part', 'fastener', 'supply', 'limit', 'job', 'drive', 'engine', 'grades'),
    figure: fc.integer({ min: 1, max: 9 }),
  })
  .map(({ name, kind, figure }) => {
    if (kind === 'engine') return `engine {\n  cylinders ${figure}\n}`;
    if (kind === 'limit') return `limit ${name}\n  = a.d - b.d\n  within 0.0${figure}..0.10 mm`;
    if (kind === 'fastener')
      return `fastener ${name} x${figure} {\n  torque ${figure} N.m${figure > 7 ? '\n  like k' : ''}\n}`;
    if (kind === 'grades') return `grades ${name} {\n}`;
    if (kind === 'part') return `part ${name} {\n  dimension d ${figure} mm\n}`;
    return `${kind} ${name} {\n  note "${figure}"\n}`;
  });

const step = fc
  .record({ name: fc.constantFrom('one', 'two', 'three', 'four', 'a'), figure: fc.integer({ min: 1, max: 9 }) })
  .map(({ name, figure }) => `  step ${name} {\n    note "${figure}"\n  }`);

const sequence = fc
  .record({ name: fc.constantFrom('s', 't', 'u'), steps: fc.array(step, { maxLength: 5 }) })
  .map(({ name, steps }) => `sequence ${name} {\n${steps.join('\n')}\n}`);

const block = fc.oneof({ weight: 5, arbitrary: declaration }, { weight: 1, arbitrary: sequence });

interface Edit {
  readonly kind: 'put' | 'take' | 'swap' | 'write' | 'step' | 'figure' | 'letter';
  readonly at: number;
  readonly text: string;
  readonly step: string;
}

const edit = fc.record<Edit>({
  kind: fc.constantFrom('put', 'take', 'swap', 'write', 'step', 'step', 'figure', 'letter', 'letter'),
  at: fc.nat(1000),
  text: block,
  step,
});

/** The blocks of a spec after an edit of one or two of them. */
function after(blocks: readonly string[], { kind, at, text, step: written }: Edit): readonly string[] {
  const now = [...blocks];
  const i = at % (blocks.length + 1);
  const there = blocks[i] ?? '';
  if (kind === 'put') now.splice(i, 0, text);
  else if (kind === 'take') now.splice(i, 1);
  else if (kind === 'swap') now.splice(i, 2, ...[...blocks.slice(i, i + 2)].reverse());
  else if (kind === 'write') now.splice(i, 1, text);
  else if (kind === 'figure') now.splice(i, 1, there.replace(/\d(?=[^\d]*$)/, String((at % 8) + 1)));
  else if (kind === 'letter') now.splice(i, 1, there.replace(/^(\w+ )(\w)/, `$1x$2`));
  else {
    const which = blocks.findIndex((each) => each.startsWith('sequence'));
    if (which < 0) return blocks;
    const steps = (blocks[which] ?? '').split(/\n(?= {2}step)/);
    const place = 1 + (at % steps.length);
    if (at % 3 === 0) steps.splice(place, 1);
    else if (at % 3 === 1) steps.splice(place, 1, written);
    else steps.splice(place, 0, written);
    now[which] = steps.join('\n').replace(/\n*\}?$/, '\n}');
  }
  return now;
}

const written = (blocks: readonly string[]): string => `spec s1 {\n  revision 1\n}\n\n${blocks.join('\n\n')}\n`;

/** All of a view; what is told of an object is the object itself, so that the same texts at another place are not the same. */
function told(view: BuiltView): object {
  const places = (all: readonly Placed[]): readonly string[] =>
    all.map((placed) => `${placed.file} ${placed.section.start} ${placed.declaration.name?.text ?? ''}`);
  const lists = Object.fromEntries(
    Object.entries(view).flatMap(([name, value]) =>
      Array.isArray(value) && name !== 'duplicates'
        ? [[name, places(value.map((each) => ('placed' in each ? each.placed : each)))]]
        : [],
    ),
  );
  return {
    lists,
    names: [...view.things].map(([name, thing]) => `${name} ${thing.kind} ${places([thing.placed])}`),
    stepsOf: view.sequences.map((each) => places(each.steps.map((one) => one.placed))),
    duplicates: view.duplicates.map(({ first, second }) => places([first, second])),
    engine: view.engine === undefined ? undefined : [view.engine.cylinders, ...places([view.engine.placed])],
    perhaps: [...view.perhaps],
    draft: view.draft,
  };
}

/** Questions that are kept from edit to edit: of each name what it is and what it says, of each list who is in it, of the flags. */
function questionsOf(view: BuiltView): ReadonlyMap<string, () => unknown> {
  const lists = ['parts', 'fasteners', 'supplies', 'grades', 'drives', 'limits', 'sequences', 'jobs', 'steps'] as const;
  return new Map<string, () => unknown>([
    ...NAMES.concat('s', 't', 'one', 'two').flatMap((name): [string, () => unknown][] => [
      [`kind of ${name}`, () => view.things.get(name)?.kind],
      [
        `fields of ${name}`,
        () => {
          const thing = view.things.get(name);
          return thing === undefined ? undefined : allFields(thing);
        },
      ],
      [
        `count of ${name}`,
        () => {
          const thing = view.things.get(name);
          return thing?.kind === 'fastener' ? [thing.count, thing.thread] : undefined;
        },
      ],
    ]),
    ...lists.map((list): [string, () => unknown] => [list, () => view[list].map(({ name }) => name)]),
    ['steps of sequences', () => view.sequences.map(({ steps }) => steps.map(({ name }) => name))],
    ['names', () => [...view.things.keys()]],
    ['cylinders', () => view.engine?.cylinders],
    ['perhaps', () => [...view.perhaps]],
    [
      'duplicates',
      () => view.duplicates.map(({ first, second }) => [first, second].map((each) => each.declaration.name?.text)),
    ],
  ]);
}

const FIELDS = [
  'title',
  'count',
  'thread',
  'like',
  'stages',
  'dimensions',
  'expression',
  'within',
  'statements',
  'sort',
];

function allFields(thing: Thing): object {
  return FIELDS.map((field) => (thing as unknown as Readonly<Record<string, unknown>>)[field]);
}

test('a view brought up to date is the one built anew, and what was asked of it is answered as of that one', () => {
  let file = 0;
  let asked = 0;
  let answeredAgain = 0;
  fc.assert(
    fc.property(fc.array(block, { maxLength: 14 }), fc.array(edit, { minLength: 1, maxLength: 12 }), (first, edits) => {
      file += 1;
      const address = `file:///shop/${file}.fettle`;
      const other = readFile(`file:///shop/other-${file}.fettle`, 'part z {\n}\n\nsupply y {\n}\n', true);
      let blocks: readonly string[] = first;
      let files = [readFile(address, written(blocks), true), other];
      const recorded = atOnce(recordingViews(files, [undefined], false));
      const [one] = recorded.views;
      if (one === undefined) throw new Error('there is no view');
      const questions = new Map(
        [...questionsOf(one.view)].map(([name, work]) => [
          name,
          newQuestion(() => {
            answeredAgain += 1;
            return work();
          }),
        ]),
      );
      for (const each of edits) {
        blocks = after(blocks, each);
        files = [readFile(address, written(blocks), true), other];
        atOnce(recorded.updating(files, false));
        const anew = buildView(files, undefined);
        // Not every view is gone through, so that the order has to be right after several edits too.
        if (each.at % 2 === 0) expect(told(one.view)).toEqual(told(anew));
        if (each.at % 3 > 0)
          for (const [name, work] of questionsOf(anew)) {
            const question = questions.get(name);
            asked += 1;
            expect([name, question === undefined ? undefined : ask(question)]).toEqual([name, work()]);
          }
        for (const [name, thing] of anew.things) {
          const seen = one.view.things.get(name);
          expect(seen === undefined ? undefined : allFields(seen)).toEqual(allFields(thing));
        }
        expect(one.view.things.size).toBe(anew.things.size);
      }
      expect(told(one.view)).toEqual(told(buildView(files, undefined)));
    }),
    { numRuns: 300, seed: 17 },
  );
  // Most of what an edit does not concern is not asked again.
  expect(answeredAgain).toBeLessThan(asked * 0.5);
}, 120_000);
