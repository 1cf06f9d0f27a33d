// Cutting again after an edit gives what cutting the whole text gives, whatever the edit; and leaves alone what it need not touch.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cutAgain, moved } from '../../grammar/recut.ts';
import type { Section } from '../../grammar/section.ts';
import { cutSections } from '../../grammar/sections.ts';
import { changedStretch, writtenAfter, writtenAs } from '../../grammar/written.ts';

const folder = join(import.meta.dirname, '../../samples');
const texts = readdirSync(folder)
  .filter((name) => name.endsWith('.fettle'))
  .map((name) => readFileSync(join(folder, name), 'utf8'));

/** The sections of a text, with those of an earlier text to go by; and how many of those at the front and the back are as they were. */
function recut(
  before: { readonly text: string; readonly sections: readonly Section[] },
  text: string,
): { readonly sections: readonly Section[]; readonly front: number; readonly back: number } {
  const old = before.sections;
  const was = writtenAs(before.text);
  const now = writtenAfter(was, text);
  const cut = { length: was.length, count: old.length, section: (number: number) => old[number] };
  const { middle, front, back, by } = cutAgain(cut, now, changedStretch(was, now));
  const behind = old.slice(old.length - back).map((section) => moved(section, by));
  return { sections: [...old.slice(0, front), ...middle, ...behind], front, back };
}

/** A spec that changes its base: its changes are sections in it. */
const derived = `use "base.fettle"

spec own "A shop's own" extends base {
  revision 1
  change part piston { dimension skirt 78.350..78.360 mm }
  change fastener head-bolt {
    torque 30 N.m, 60 N.m
  }
  change limit clearance within 0.025..0.055 mm
  drop step fit-plate
  when van {
    insert step look "Look" after fit-head { note "All is well." }
    drop part sump
  }
}

part guard {
  mass 3 kg
}
`;
texts.push(derived, `${derived}\n${derived}`);
// As it is written where nobody leaves a line empty, with texts that run on in the next line.
texts.push(...texts.map((each) => each.replace(/\n\n+/g, '\n').replace(/^( +note "[A-Z][a-z]+) /gm, '$1\n')));

const piece = fc.constantFrom(
  ...['{', '}', '"', '“', "'", '#', ' 3 mm', '\n\n', '\r\n\r\n', '\n# "\n', '.', '/', 'a'],
  ...['when van {', 'when a { part q }', 'part x', '\nengine ', 'run ', 'step q {', 'sequence s {', '\n\npart x {'],
  ...[
    'change part y {',
    '\ndrop step z',
    'insert step w after v {',
    'spec s {',
    '\n\nspec s extends b {',
    'change ',
    'drop',
  ],
);

/** A place in a text, as a share of its length; every place is as likely as any other. */
const share = fc.integer({ min: 0, max: 9999 }).map((each) => each / 10_000);

interface Edit {
  readonly at: number;
  readonly cut: number;
  readonly put: string;
}

const edits = fc.array(
  fc.record<Edit>({
    at: share,
    cut: fc.constantFrom(0, 0, 1, 7, 60, 700),
    put: fc.oneof(fc.constant(''), piece, piece),
  }),
  { minLength: 1, maxLength: 8 },
);

describe('cut again', () => {
  test('as the whole text is cut', () => {
    fc.assert(
      fc.property(fc.constantFrom(...texts), edits, (text, all) => {
        let before = { text, sections: cutSections(text) };
        for (const { at, cut, put } of all) {
          const start = Math.floor(at * before.text.length);
          const now = before.text.slice(0, start) + put + before.text.slice(start + cut);
          const { sections, front, back } = recut(before, now);
          expect(sections).toEqual(cutSections(now));
          expect(sections.slice(0, front)).toEqual(before.sections.slice(0, front));
          expect(sections.slice(sections.length - back).map((each) => each.text)).toEqual(
            before.sections.slice(before.sections.length - back).map((each) => each.text),
          );
          before = { text: now, sections };
        }
      }),
      { numRuns: 250, seed: 7 },
    );
  });

  test('where a letter is typed before the word of a declaration, and taken out again', () => {
    fc.assert(
      fc.property(fc.constantFrom(...texts), share, fc.constantFrom('p', 'x', '#', '"', '{', ' '), (text, at, put) => {
        const before = { text, sections: cutSections(text) };
        const { start } = before.sections[Math.floor(at * before.sections.length)] ?? { start: 0 };
        const typed = `${text.slice(0, start)}${put}${text.slice(start)}`;
        const now = recut(before, typed).sections;
        expect(now).toEqual(cutSections(typed));
        expect(recut({ text: typed, sections: now }, text).sections).toEqual(before.sections);
      }),
      { numRuns: 400, seed: 8 },
    );
  });

  const text = ['one', 'two', 'three', 'four', 'five'].map((name) => `part ${name} {\n  mass 3 kg\n}\n`).join('\n');

  test('with all but the neighbours left alone, where a declaration goes on with the one before', () => {
    const before = { text, sections: cutSections(text) };
    const { sections, front, back } = recut(before, text.replace('part three', 'ppart three'));
    expect([sections.length, front, back]).toEqual([4, 1, 2]);
  });

  test('with all but the neighbours left alone, where no line is empty', () => {
    const dense = text.replace(/\n\n/g, '\n');
    const before = { text: dense, sections: cutSections(dense) };
    const { front, back } = recut(before, dense.replace('three {\n  mass 3', 'three {\n  mass 34'));
    expect([front, back]).toEqual([2, 2]);
    // A quote that is left open may reach as far as the end of the paragraph.
    const open = recut(before, dense.replace('three {\n  mass 3', 'three "Three {\n  mass 3'));
    expect(open.back).toBe(0);
  });

  test('with all but the neighbours left alone', () => {
    const before = { text, sections: cutSections(text) };
    const now = text.replace('three {\n  mass 3', 'three {\n  mass 34');
    const { sections, front, back } = recut(before, now);
    expect([front, back]).toEqual([2, 2]);
    expect(sections[1]).toBe(before.sections[1]);
    expect(sections[3]?.start).toBe((before.sections[3]?.start ?? 0) + 1);
  });
});
