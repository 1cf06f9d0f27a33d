// What an editor and the bench show of a spec that is built on another: names over both files, where values come from, what is offered.
import { describe, expect, test } from 'vitest';
import { completions } from '../../server/features/completion.ts';
import { headlines } from '../../server/features/hints.ts';
import { hover } from '../../server/features/hover.ts';
import { outline } from '../../server/features/outline.ts';
import { nameAt } from '../../server/features/place-in-tree.ts';
import { definitions, placesOf, sharing } from '../../server/features/rename.ts';
import { semanticTokens } from '../../server/features/tokens.ts';
import { tellingOf } from '../../server/model/derived-origin.ts';
import { sheetPage } from '../../server/sheet/page.tsx';
import { analyse } from '../../server/workspace/analyse.ts';
import { lineAndColumn, memoryHost } from '../annotated.ts';
import { BASE } from './derived.ts';

const own = `use "brindle-four.fettle"

spec quarry-four "Ours" extends brindle-four {
  revision 2
  change part piston {
    dimension skirt 78.350..78.360 mm
    drop orient oil-gap
  }
  change fastener sump-bolt {
    torque 8 N.m
  }
  change limit piston-clearance within 0.040..0.070 mm
  change step fit-pistons {
    fit piston into block
  }
  insert step look "Look" after fit-pistons {
    inspect piston for "scores"
  }
}
`;
const texts = { 'brindle-four.fettle': BASE, 'quarry.fettle': own };
const [base, derived] = Object.entries(texts).map(([name, text]) => analyse(name, text, memoryHost(texts)));
if (base === undefined || derived === undefined) throw new Error('nothing was analysed');
const at = (text: string, of: string, more = 1): number => text.indexOf(of) + more;
const line = (of: string): number => lineAndColumn(BASE, BASE.indexOf(of)).line;
const texted = (place: { readonly file: string; readonly start: number; readonly end: number }): string =>
  texts[place.file as keyof typeof texts].slice(place.start, place.end);

describe('names over both files', () => {
  test('a part is declared in the base, and named in the head of a change', () => {
    const places = definitions(derived, at(own, 'part piston', 6));
    expect(places.map((place) => [place.file, lineAndColumn(BASE, place.start).line])).toEqual([
      ['brindle-four.fettle', line('part piston')],
    ]);
    expect(definitions(derived, at(own, 'extends brindle-four', 9)).map((place) => place.file)).toEqual([
      'brindle-four.fettle',
    ]);
    expect(definitions(derived, at(own, 'after fit-pistons', 7)).map(texted)).toEqual(['fit-pistons']);
    expect(definitions(derived, at(own, 'step look', 6)).map((place) => place.file)).toEqual(['quarry.fettle']);
  });

  test.each([
    ['part', at(BASE, 'part piston x4', 6), 'piston', 3],
    ['step', at(BASE, 'step fit-pistons', 6), 'fit-pistons', 2],
    ['limit', at(BASE, 'limit piston-clearance', 8), 'piston-clearance', 1],
    ['dimension', at(BASE, 'dimension skirt', 12), 'skirt', 1],
  ])('a new name for a %s of the base goes into the changes too', (_what, offset, name, times) => {
    const found = nameAt(base, offset);
    if (found === undefined) throw new Error('there is no name');
    const both = sharing(base, found, [base, derived]);
    expect(both).toEqual([base, derived]);
    const places = both.flatMap((each) => placesOf(each, found));
    expect(new Set(places.map(texted))).toEqual(new Set([name]));
    expect(places.filter((place) => place.file === 'quarry.fettle').length).toBe(times);
    // The same from a change.
    const there = places.find((place) => place.file === 'quarry.fettle');
    const again = nameAt(derived, there?.start ?? 0);
    expect(again === undefined ? [] : placesOf(base, again)).toEqual(placesOf(base, found));
  });
});

describe('where a value comes from', () => {
  test('on a thing that is changed: what holds, and what the base says', () => {
    const shown = hover(derived, at(own, 'fastener sump-bolt', 10))?.markdown ?? '';
    expect(shown).toContain('torque 8 N.m');
    expect(shown).toContain('thread M6');
    expect(shown.replace(/\\/g, '')).toContain(`from brindle-four, line ${line('fastener sump-bolt')}`);
    expect(shown.replace(/\\/g, '')).toContain(
      `changed here; brindle-four, line ${line('torque 9 N.m')}, says torque 9 N.m`,
    );
  });

  test('on a dimension, on a thing as it is in the base, on a step', () => {
    const flat = (offset: number): string => (hover(derived, offset)?.markdown ?? '').replace(/\\/g, '');
    expect(flat(at(own, 'dimension skirt', 12))).toContain('says dimension skirt 78.360..78.370 mm');
    expect(flat(at(own, 'into block', 6))).toContain(`from brindle-four, line ${line('part block')}`);
    expect(flat(at(own, 'step fit-pistons', 6))).toContain('has it otherwise');
    expect(flat(at(own, 'step look', 6))).toContain('added here');
    expect(flat(at(own, 'limit piston-clearance', 8))).toContain('says 0.030..0.060 mm');
  });

  test('on the bench sheet', () => {
    const [view] = derived.views;
    const page =
      view === undefined ? '' : sheetPage(view, { file: 'quarry.fettle', errors: 0, tell: tellingOf(derived) });
    expect(page).toContain('built on brindle-four');
    expect(page).toContain('8 N.m');
    expect(page).toContain(`changed here; brindle-four, line ${line('torque 9 N.m')}, says torque 9 N.m`);
    expect(page).toContain(`from brindle-four, line ${line('limit squish')}`);
    expect(page.indexOf('Look')).toBeGreaterThan(0);
    const plain = base.views[0];
    if (plain === undefined) throw new Error('there is no view');
    const without = sheetPage(plain, { file: 'brindle-four.fettle', errors: 0 });
    expect(sheetPage(plain, { file: 'brindle-four.fettle', errors: 0, tell: tellingOf(base) })).toBe(without);
  });

  test('figures stand above what is changed here, and nowhere else', () => {
    for (const { offset } of headlines(derived)) expect(offset).toBeLessThan(own.length);
    expect(headlines(derived).map(({ offset }) => own.slice(offset).split('\n')[0])).toEqual(['8 N.m']);
  });
});

describe('while writing', () => {
  const offered = (written: string): readonly string[] => {
    const text = own.replace('  revision 2\n', `  revision 2\n  ${written}\n`);
    const offset = text.indexOf(written) + written.length;
    const analysis = analyse('writing.fettle', text, memoryHost({ ...texts, 'writing.fettle': text }));
    return completions(analysis, offset).completions.map((each) => each.label);
  };

  test.each([
    ['cha', ['change', 'drop', 'insert']],
    ['change ', ['part', 'fastener', 'engine', 'step']],
    ['insert ', ['step']],
    ['change part ', ['piston', 'block', 'cam-plate']],
    ['drop step ', ['fit-cam-plate', 'fit-head']],
    ['insert step x after ', ['fit-cam-plate', 'fit-head']],
    ['change part block { drop ', ['dimension', 'feature', 'mark']],
    ['change part block { ', ['dimension', 'mark', 'drop']],
  ])('%s', (written, labels) => {
    const words = offered(written);
    for (const label of labels) expect(words).toContain(label);
  });

  test('drop is offered in a change alone, and the words of a change in a spec with a base alone', () => {
    const text = 'spec s {\n  \n}\n\npart p {\n  \n}\n';
    const analysis = analyse('plain.fettle', text, memoryHost({ 'plain.fettle': text }));
    const words = (offset: number): readonly string[] =>
      completions(analysis, offset).completions.map((each) => each.label);
    expect(words(text.indexOf('}') - 1)).not.toContain('change');
    expect(words(text.lastIndexOf('}') - 1)).not.toContain('drop');
    expect(offered('change part ')).not.toContain('head-bolt');
  });
});

test('outline and colours of changes', () => {
  const spec = outline(derived).find((item) => item.word === 'spec');
  expect(spec?.children.map((child) => [child.word, child.name, child.detail])).toEqual([
    ['part', 'piston', 'change part'],
    ['fastener', 'sump-bolt', 'change fastener'],
    ['limit', 'piston-clearance', 'change limit'],
    ['step', 'fit-pistons', 'change step'],
    ['step', 'look', 'Look'],
  ]);
  const coloured = semanticTokens(derived).map(
    (token) => `${token.type} ${own.slice(token.start, token.start + token.length)}`,
  );
  for (const each of [
    'keyword change',
    'keyword part',
    'class piston',
    'keyword insert',
    'property skirt',
    'keyword drop',
  ])
    expect(coloured).toContain(each);
});
