// Names: where they are declared and used, how far a new name reaches, where it is refused.
import { describe, expect, test } from 'vitest';
import { movedUses, pathBetween } from '../../server/features/moved-files.ts';
import { nameAt } from '../../server/features/place-in-tree.ts';
import { definitions, placesOf, renameObjection, sharing } from '../../server/features/rename.ts';
import { analyse } from '../../server/workspace/analyse.ts';
import type { Analysis } from '../../server/workspace/api.ts';
import { memoryHost } from '../annotated.ts';
import { marked } from './marked.ts';

function found(analysis: Analysis, cursor: number): ReturnType<typeof nameAt> {
  return nameAt(analysis, cursor);
}

function uses(written: string): { readonly seen: readonly object[]; readonly wanted: readonly object[] } {
  const { analysis, cursor, stretches } = marked(written);
  const name = found(analysis, cursor);
  const seen = name === undefined ? [] : placesOf(analysis, name).map(({ start, end }) => ({ start, end }));
  return { seen, wanted: stretches };
}

describe('every place of', () => {
  test.each([
    [
      'a part',
      'part [[su|mp]]\n\npart block\n\nfastener b {\n  clamps [[sump]] to block\n}\n\nsequence s {\n  step t {\n    fit [[sump]] onto block\n  }\n}\n',
    ],
    ['a size', 'part p {\n  dimension [[bo|re]] 3 mm\n}\n\nlimit l\n  = p.[[bore]]\n  within 2..4 mm\n'],
    [
      'a mark',
      "part p {\n  mark [[do|t]] at 6 o'clock\n}\n\nsequence s {\n  step t {\n    confirm p.[[dot]] at 6 o'clock\n  }\n}\n",
    ],
    ['a source', 'spec s {\n  source [[man|ual]] "M"\n}\n\npart p {\n  mass 3 kg per [[manual]]\n}\n'],
    [
      'a variant',
      'spec s {\n  variants [[va|n]], saloon\n}\n\nwhen saloon {\n  part p\n}\n\npart q {\n  when [[van]] { matched }\n}\n',
    ],
    [
      'a variant of which whole declarations are',
      'spec s {\n  variants [[va|n]], saloon\n}\n\nwhen [[van]] {\n  part p\n}\n\nwhen saloon, [[van]] {\n  part q\n}\n\njob j of s {\n  variant [[van]]\n}\n',
    ],
    [
      'a record',
      'spec s {\n  revision 1\n}\n\nrecord [[first|-one]] of s revision 1 {\n  customer "A"\n}\n\npart first-one\n',
    ],
    [
      'a place of a part, behind it, in a list, in a limit and in a record',
      'spec s {\n  revision 1\n}\n\npart block\n\npart shell {\n  places [[up|per]] 1..2 into block, lower 1..2 into block\n  wall 2.00..2.01 mm\n}\n\npart other {\n  places upper, lower\n}\n\nlimit play each shell\n  measured\n  within 0.02..0.05 mm\n\nsequence q {\n  step t {\n    fit shell lower, [[upper]] into block\n    fit other upper\n  }\n}\n\nrecord r of s revision 1 {\n  measured play [[upper]] 1: 0.03 mm\n}\n',
    ],
    [
      'a mark that is turned some way',
      "part p {\n  mark [[ar|row]] at 6 o'clock\n  orient [[arrow]] toward front\n}\n",
    ],
    [
      'a feature that a rule alone names',
      'part p x2 {\n  orient [[ga|p]] toward front\n}\n\npart q {\n  orient slot toward p.[[gap]]\n}\n',
    ],
    [
      'a feature in a when',
      'spec s {\n  variants a, b\n}\n\npart p {\n  when a {\n    dimension [[de|pth]] 3 mm\n  }\n}\n\nlimit l\n  = p.[[depth]]\n  within 2..4 mm\n',
    ],
    [
      'a size that a repair size says again',
      'part p {\n  dimension [[sk|irt]] 3 mm\n  size over oversize 0.5 mm {\n    dimension [[skirt]] 3.5 mm\n  }\n}\n',
    ],
    ['a step', 'sequence s {\n  step [[on|e]] {\n    tool "a"\n  }\n  step two {\n    after [[one]]\n  }\n}\n'],
    ['a spec', 'spec [[fo|ur]] {\n  revision 1\n}\n\njob j of [[four]] {\n  begins whole\n}\n'],
  ])('%s', (_what, written) => {
    const { seen, wanted } = uses(written);
    expect(seen).toEqual(wanted);
    expect(wanted.length).toBeGreaterThan(0);
  });
});

test('a definition is the declaration, in each variant that has one', () => {
  const { analysis, cursor, stretches } = marked(
    'spec s {\n  variants a, b\n}\n\nwhen a {\n  part [[lid]]\n}\n\nwhen b {\n  part [[lid]] x2\n}\n\nfastener f {\n  clamps li|d to lid\n}\n',
  );
  expect(definitions(analysis, cursor).map(({ start, end }) => ({ start, end }))).toEqual(stretches);
});

describe('a new name', () => {
  const files = {
    'a.fettle': 'use "common.fettle"\n\npart block\n\nfastener bolt {\n  clamps lid to block\n}\n',
    'b.fettle': 'part block\n\npart lid\n',
    'common.fettle': 'part lid\n',
  };
  const all = Object.entries(files).map(([name, text]) => analyse(name, text, memoryHost(files)));
  const reach = (file: string, word: string): readonly string[] => {
    const from = all.find((each) => each.file.file === file);
    const name = from === undefined ? undefined : nameAt(from, from.file.text.indexOf(word) + 1);
    return from === undefined || name === undefined ? [] : sharing(from, name, all).map((each) => each.file.file);
  };

  test('reaches the files that use its home, and no spec beside them', () => {
    expect(reach('common.fettle', 'lid')).toEqual(['a.fettle', 'common.fettle']);
    expect(reach('a.fettle', 'lid')).toEqual(['a.fettle', 'common.fettle']);
    expect(reach('a.fettle', 'block')).toEqual(['a.fettle']);
    expect(reach('b.fettle', 'lid')).toEqual(['b.fettle']);
  });

  test('is refused where it is taken in a file that it reaches, and only there', () => {
    const [a, b] = all;
    if (a === undefined || b === undefined) throw new Error('no files');
    const block = nameAt(a, a.file.text.indexOf('block') + 1);
    if (block === undefined) throw new Error('no name');
    expect(renameObjection([a], block, 'LID')?.text).toMatch(/name of something else/);
    expect(renameObjection([a], block, 'step')?.text).toMatch(/can't be a name/);
    expect(renameObjection([a], block, 'crank-case')).toBeUndefined();
  });

  test.each(['wall', 'mass', 'Pitch', 'teeth', 'covers'])(
    'of a feature is refused where %s says something else',
    (to) => {
      const { analysis, cursor } = marked('part p {\n  dimension bo|re 3 mm\n}\n');
      const name = nameAt(analysis, cursor);
      if (name === undefined) throw new Error('no name');
      expect(renameObjection([analysis], name, to)?.text).toMatch(/says something else there/);
    },
  );

  test('of a feature is refused where its part has that already', () => {
    const { analysis, cursor } = marked(
      'part p {\n  dimension bo|re 3 mm\n  feature face\n}\n\npart q {\n  feature edge\n}\n',
    );
    const name = nameAt(analysis, cursor);
    if (name === undefined) throw new Error('no name');
    expect(renameObjection([analysis], name, 'face')?.text).toMatch(/name of something else/);
    expect(renameObjection([analysis], name, 'edge')).toBeUndefined();
  });
});

describe('files that move', () => {
  test('paths between addresses', () => {
    expect(pathBetween('file:///shop/a.fettle', 'file:///shop/b.fettle')).toBe('b.fettle');
    expect(pathBetween('file:///shop/jobs/a.fettle', 'file:///shop/b%20c.fettle')).toBe('../b c.fettle');
    expect(pathBetween('file:///shop/a.fettle', 'memory://x/b.fettle')).toBeUndefined();
  });

  test('go along with a folder, and so do the specs in it', () => {
    const resolve = (from: string, path: string): string => new URL(path, from).href;
    const files = { 'file:///s/common/b.fettle': 'part lid\n', 'file:///s/c.fettle': 'part box\n' };
    const host = { resolve, read: (file: string): string | undefined => files[file as keyof typeof files] };
    const outside = analyse('file:///s/a.fettle', 'use "common/b.fettle"\nuse "c.fettle"\n', host);
    const inside = analyse('file:///s/common/d.fettle', 'use "b.fettle"\nuse "../c.fettle"\n', host);
    const moves = new Map([['file:///s/common', 'file:///s/shared/bolts']]);
    expect(movedUses([outside, inside], moves, resolve).map((each) => [each.start, each.text])).toEqual([
      [4, '"shared/bolts/b.fettle"'],
      [19, '"../../c.fettle"'],
    ]);
  });

  test('take the use lines that name them along', () => {
    const files = { 'file:///s/b.fettle': 'part lid\n' };
    const host = {
      resolve: (_from: string, path: string) => `file:///s/${path}`,
      read: (file: string): string | undefined => files[file as keyof typeof files],
    };
    const text = 'use "b.fettle"\n\npart x\n';
    const analysis = analyse('file:///s/a.fettle', text, host);
    const edits = movedUses([analysis], new Map([['file:///s/b.fettle', 'file:///s/parts/lids.fettle']]), host.resolve);
    expect(edits).toEqual([{ file: 'file:///s/a.fettle', start: 4, end: 14, text: '"parts/lids.fettle"' }]);
  });
});
