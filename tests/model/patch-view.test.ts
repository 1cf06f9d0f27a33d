// A view brought up to date after an edit is the view that is built anew of the same reading: names, lists and their order, duplicates.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type BuiltView, buildView } from '../../server/model/build-view.ts';
import { patchView } from '../../server/model/patch-view.ts';
import type { Placed } from '../../server/model/placed.ts';
import { readFile } from '../../server/model/read-file.ts';

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

test('a view brought up to date is the one built anew', () => {
  let patched = 0;
  let built = 0;
  let file = 0;
  fc.assert(
    fc.property(fc.array(block, { maxLength: 14 }), fc.array(edit, { minLength: 1, maxLength: 12 }), (first, edits) => {
      file += 1;
      const address = `file:///shop/${file}.fettle`;
      const other = readFile(`file:///shop/other-${file}.fettle`, 'part z {\n}\n\nsupply y {\n}\n', true);
      let blocks: readonly string[] = first;
      let files = [readFile(address, written(blocks), true), other];
      let view = buildView(files, undefined);
      for (const each of edits) {
        blocks = after(blocks, each);
        const now = [readFile(address, written(blocks), true), other];
        const next = patchView(view, files, now);
        if (next === undefined) built += 1;
        else patched += 1;
        view = next?.view ?? buildView(now, undefined);
        const anew = buildView(now, undefined);
        // Not every view is gone through, so that the order has to be right after several edits too.
        if (each.at % 2 === 0) expect(told(view)).toEqual(told(anew));
        for (const [name, thing] of anew.things) expect(view.things.get(name)).toStrictEqual(thing);
        expect(view.things.size).toBe(anew.things.size);
        files = now;
      }
      expect(told(view)).toEqual(told(buildView(files, undefined)));
    }),
    { numRuns: 400, seed: 17 },
  );
  // Names come and go in most of these edits, and the view is seldom built anew for it.
  expect(patched).toBeGreaterThan(built);
}, 120_000);

test('what changes is told: names that came, names that went, things that are others', () => {
  const address = 'file:///shop/told.fettle';
  const text = 'part a {\n}\n\npart b {\n}\n\nsequence s {\n  step one {\n    note "1"\n  }\n  step two {\n  }\n}\n';
  const before = [readFile(address, text, true)];
  const view = buildView(before, undefined);
  const files = [readFile(address, text.replace('part b', 'part bc').replace('step one', 'step won'), true)];
  const changes = patchView(view, before, files)?.changes;
  expect(changes?.added.map((thing) => thing.name)).toEqual(['bc', 'won']);
  expect(changes?.dropped.map((thing) => thing.name)).toEqual(['b', 'one']);
  expect(changes?.things).toEqual([]);
});
