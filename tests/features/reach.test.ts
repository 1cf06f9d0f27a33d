// What comes off to get at a part, held against how a rebuilder would take the sample engines apart.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type Reached, reach } from '../../server/features/reach.ts';
import { placesAlong, placesAsked, placeWords } from '../../server/features/reach-places.ts';
import { reachText } from '../../server/features/reach-text.ts';
import { analyseText } from '../annotated.ts';

const root = join(import.meta.dirname, '../..');
const read = (path: string): string => readFileSync(join(root, path), 'utf8');

const viewOf = (text: string, files: Readonly<Record<string, string>> = {}, variant?: string) => {
  const analysis = analyseText(text, files);
  const view = analysis.views.find((each) => each.variant === variant || variant === undefined);
  if (view === undefined) throw new Error('no view');
  return { view, file: analysis.file.file };
};
const tallboy = viewOf(read('samples/inline-four.fettle'), {
  'common-fasteners.fettle': read('samples/common-fasteners.fettle'),
});

function at(name: string, { view, file } = tallboy): Reached {
  const part = view.things.get(name);
  if (part?.kind !== 'part') throw new Error(`no part ${name}`);
  return reach(part, view, file);
}
const names = (things: readonly { readonly name: string }[]): readonly string[] => things.map((thing) => thing.name);
const off = (reached: Reached): readonly string[] => names(reached.off.map((each) => each.part));

/** What some sequences of a spec take off, in their order. */
function removedIn(names: readonly string[], { view } = tallboy): readonly string[] {
  return view.sequences
    .filter(({ name }) => names.includes(name))
    .flatMap(({ steps }) => steps.flatMap(({ statements }) => statements))
    .flatMap((each) =>
      each.kind === 'action' && each.word === 'remove' ? each.targets.map(({ owner }) => owner.text) : [],
    );
}
const undone = (reached: Reached, name: string): readonly string[] =>
  reached.off.find(({ part }) => part.name === name)?.undo.map(({ words }) => words) ?? [];
const whyOf = (reached: Reached, name: string): string =>
  reached.off.find(({ part }) => part.name === name)?.why?.text ?? 'stays on';
const before = (reached: Reached, ...parts: readonly string[]): void => {
  const places = parts.map((name) => off(reached).indexOf(name));
  expect(places).toEqual([...places].sort((one, other) => one - other));
  expect(places[0]).toBeGreaterThanOrEqual(0);
};
const sorted = (list: readonly string[]): readonly string[] => [...list].sort();

describe('the jobs that the samples write by hand: the same parts come off', () => {
  const camshaft = at('camshaft');

  test('a camshaft, in place', () => {
    expect(sorted(off(camshaft))).toEqual(sorted(removedIn(['strip-front'])));
    before(camshaft, 'rocker-cover', 'rocker-shaft', 'pushrod', 'lifter', 'camshaft');
    before(camshaft, 'crank-pulley', 'timing-cover', 'timing-chain', 'cam-plate', 'camshaft');
  });

  test('a head of a flat twin', () => {
    const twin = viewOf(read('samples/flat-twin.fettle'), {
      'common-fasteners.fettle': read('samples/common-fasteners.fettle'),
    });
    const head = at('cylinder-head', twin);
    expect(sorted(off(head))).toEqual(sorted(removedIn(['heads-off'], twin)));
    before(head, 'exhaust-pipe', 'exhaust-gasket');
    before(head, 'rocker-cover', 'rocker-support', 'pushrod', 'cylinder-head', 'head-gasket');
    before(at('pushrod-tube', twin), 'pushrod', 'cylinder-head', 'pushrod-tube');
    expect(names(head.retorque)).toEqual(['head-nut']);
    expect(names(head.disconnect)).toEqual(['ignition-lead']);
  });

  test('a belt', () => {
    const six = viewOf(read('samples/vee-six-belt.fettle'), {
      'common-fasteners.fettle': read('samples/common-fasteners.fettle'),
      'vee-six.fettle': read('samples/vee-six.fettle'),
    });
    expect(off(at('timing-belt', six))).toEqual(removedIn(['strip-to-belt'], six));
    expect(names(at('timing-belt', six).holdBack)).toEqual(['belt-tensioner']);
  });

  test('each has its reason and its bolts; the tensioner is held back first, block and sump drained', () => {
    expect(whyOf(camshaft, 'timing-cover')).toBe('covers cam-plate');
    expect(undone(camshaft, 'timing-cover')).toEqual(['timing-cover-bolt']);
    expect(whyOf(camshaft, 'distributor')).toBe('is driven by camshaft');
    expect(whyOf(camshaft, 'timing-chain')).toBe('runs round cam-sprocket');
    expect(whyOf(camshaft, 'crank-pulley')).toBe('stands outside it on crankshaft');
    expect(names(camshaft.holdBack)).toEqual(['chain-tensioner']);
    // As the spec's own camshaft change does.
    expect(names(camshaft.drain.map(({ part }) => part))).toEqual(['block', 'sump']);
    expect(names(camshaft.disconnect)).toEqual(['earth-strap']);
  });

  test('what must be new, and what is proved and measured again', () => {
    expect(names(camshaft.fresh)).toEqual(
      expect.arrayContaining(['timing-chain', 'timing-cover-gasket', 'front-seal', 'side-cover-gasket']),
    );
    expect(names(camshaft.drives)).toEqual(['cam-drive']);
    expect(names(camshaft.limits)).toEqual(['cam-end-play', 'inlet-lash', 'exhaust-lash']);
  });
});

test('a head gasket: all that sits on the head, the head, new bolts, and lash set again', () => {
  const gasket = at('head-gasket');
  expect(off(gasket).slice(-2)).toEqual(['cylinder-head', 'head-gasket']);
  expect(off(gasket)).toEqual(
    expect.arrayContaining(['rocker-cover', 'rocker-shaft', 'manifold', 'thermostat-housing', 'pushrod']),
  );
  // Valves were built into the head on the bench: they come off with it.
  expect(off(gasket)).not.toContain('inlet-valve');
  expect(names(gasket.fresh)).toEqual(expect.arrayContaining(['head-gasket', 'head-bolt', 'rocker-cover-gasket']));
  expect(names(gasket.limits)).toEqual(['inlet-lash', 'exhaust-lash']);
  expect(names(gasket.drain.map(({ part }) => part))).toEqual(['block']);
  // That it went on later is no proof that it is in the way.
  expect(gasket.off.filter(({ surety }) => surety === 'guess').map(({ part }) => part.name)).toContain('manifold');
});

test('a piston comes out on its rod, at the top: head, sump and rod cap come off first', () => {
  const piston = at('piston');
  before(piston, 'cylinder-head', 'connecting-rod', 'piston-pin', 'piston');
  before(piston, 'sump', 'rod-cap', 'connecting-rod', 'piston');
  expect(piston.notes.join()).toContain('look for a ridge');
  expect(names(piston.drain.map(({ part }) => part))).toEqual(['block', 'sump']);
});

const LINERS = `engine {
  cylinders 3 inline
  bore liner.bore
}
part block
part liner x3 { dimension bore 90.00..90.02 mm }
part crankshaft
part connecting-rod x3
part rod-cap x3
part piston x3
part cylinder-head { covers liner }
part sump
part filter { CLEAR }
fastener rod-bolt x2 { each connecting-rod clamps rod-cap to connecting-rod }
fastener head-bolt x8 { clamps cylinder-head to block }
sequence build {
  phase assemble
  starts-with block
  step a { fit liner into block fit crankshaft into block fit piston onto connecting-rod }
  step b { fit connecting-rod onto crankshaft fit rod-cap onto connecting-rod tighten rod-bolt }
  step c { fit sump onto block fit cylinder-head onto block tighten head-bolt fit filter onto cylinder-head }
}
`;
const liners = (clear: string) => viewOf(LINERS.replace('CLEAR', clear));

test('a liner with a piston in it: sump, rod cap and piston come out first, at the places that are asked for', () => {
  const view = liners('');
  const liner = view.view.things.get('liner');
  if (liner?.kind !== 'part') throw new Error('no liner');
  const second = reach(liner, view.view, view.file, new Set([1]));
  before(second, 'sump', 'rod-cap', 'connecting-rod', 'liner');
  before(second, 'cylinder-head', 'liner');
  const placesOf = (name: string): readonly number[] => [
    ...(second.off.find(({ part }) => part.name === name)?.places ?? []),
  ];
  expect([placesOf('liner'), placesOf('connecting-rod'), placesOf('rod-cap')]).toEqual([[1], [1], [1]]);
  expect(undone(second, 'rod-cap')).toEqual(['rod-bolt 2']);
});

test('where the bore is a plain figure, the part that it is in is told by its name', () => {
  const piston = at(
    'piston',
    viewOf(LINERS.replace('bore liner.bore', 'bore 90 mm').replace('covers liner', '').replace('CLEAR', '')),
  );
  before(piston, 'cylinder-head', 'connecting-rod', 'piston');
});

test('the wheels of shafts that lie in a head go along with it: the belt comes off, and no pulley', () => {
  const six = viewOf(read('samples/vee-six.fettle'), {
    'common-fasteners.fettle': read('samples/common-fasteners.fettle'),
  });
  const head = at('cylinder-head', six);
  before(head, 'belt-cover', 'timing-belt', 'cylinder-head');
  expect(off(head)).not.toContain('left-inlet-pulley');
});

test('what goes with single places: by name, by bank, by cylinder under the half of a row', () => {
  const file = `engine { cylinders LAYOUT }
part head { places FIRST, SECOND }
part piston x6
part rocker { places inlet 1..6, exhaust 1..6 }
part manifold { places FIRST, SECOND }
fastener nut x8 { clamps manifold to head }
`;
  const along = (layout: string, names: readonly string[], from: string, words: string, to: string): string => {
    const [first = '', second = ''] = names;
    const { view } = viewOf(file.replace('LAYOUT', layout).replaceAll('FIRST', first).replaceAll('SECOND', second));
    const [one, other] = [view.things.get(from), view.things.get(to)];
    if (one?.kind !== 'part' || other?.kind !== 'part') throw new Error('no parts');
    return placeWords(other, placesAlong(one, placesAsked(one, words.split(' ')) ?? new Set(), other, view));
  };
  const inline = ['6 inline', ['front', 'rear']] as const;
  expect(along(...inline, 'head', 'rear', 'piston')).toBe('4..6');
  expect(along(...inline, 'head', 'rear', 'rocker')).toBe('inlet 4..6, exhaust 4..6');
  expect(along(...inline, 'rocker', 'inlet 5', 'head')).toBe('rear');
  expect(along(...inline, 'piston', '2', 'rocker')).toBe('inlet 2, exhaust 2');
  const vee = ['6 vee 60 deg bank left 1, 3, 5 bank right 2, 4, 6', ['left', 'right']] as const;
  expect(along(...vee, 'head', 'left', 'piston')).toBe('1, 3, 5');
  expect(along(...vee, 'piston', '4', 'head')).toBe('right');
  expect(along(...vee, 'head', 'left', 'manifold')).toBe('left');
  // Where nothing says which cylinders lie in a bank, all may be concerned.
  expect(along('6 vee 60 deg', ['left', 'right'], 'head', 'left', 'piston')).toBe('');
});

test('what went on later is a guess, which clear-of settles', () => {
  const head = at('cylinder-head', liners(''));
  expect(head.off.find(({ part }) => part.name === 'filter')?.surety).toBe('guess');
  expect(reachText(head, liners('').view).text).toContain('say clear-of cylinder-head in it, or covers cylinder-head');
  expect(off(at('cylinder-head', liners('clear-of cylinder-head')))).not.toContain('filter');
  expect(at('cylinder-head', liners('covers head-bolt')).off.find(({ part }) => part.name === 'filter')).toMatchObject({
    surety: 'said',
    why: { text: 'covers head-bolt, which holds cylinder-head' },
  });
});

test('clear-of holds in the variant that says it', () => {
  const text = (variant: string) =>
    viewOf(
      `spec twin {\n  revision 1\n  variants early, late\n}\n${LINERS.replace('CLEAR', 'when late { clear-of cylinder-head }')}`,
      {},
      variant,
    );
  expect(off(at('cylinder-head', text('early')))).toContain('filter');
  expect(off(at('cylinder-head', text('late')))).not.toContain('filter');
});

test('a way out that is named: what covers it comes off, and nothing else of the bore', () => {
  const text = LINERS.replace('part piston x3', 'part piston x3 { out-through block.door }')
    .replace('part block', 'part block { feature door }')
    .replace('CLEAR', 'covers block.door')
    .replace(' fit filter onto cylinder-head', ' fit filter onto block');
  const piston = at('piston', viewOf(text));
  expect(off(piston)).toContain('filter');
  expect(off(piston)).not.toContain('cylinder-head');
});

test('an outer part needs nothing but its bolts', () => {
  const distributor = at('distributor');
  expect(distributor).toMatchObject({ off: [{ why: undefined }], drives: [], fresh: [], drain: [] });
  expect(undone(distributor, 'distributor')).toEqual(['distributor-bolt']);
});

describe('a key comes out of its shaft once its wheel is off', () => {
  const shaft = (key: string): ReturnType<typeof viewOf> =>
    viewOf(`part block
part crankshaft
part crank-gear {
  fixed-to crankshaft
}
part ${key}
part flywheel {
  fixed-to crankshaft
}
part fan {
  fixed-to crankshaft
}

sequence build {
  phase assemble
  starts-with block
  step shaft {
    fit crankshaft into block
    fit crank-gear onto crankshaft
    fit ${key} into crankshaft
    fit flywheel onto crankshaft
  }
}
`);

  test('the wheel that it is named after', () => {
    for (const key of ['flywheel-key', 'flywheel-woodruff-key']) {
      const reached = at(key, shaft(key));
      expect(off(reached)).toEqual(['flywheel', key]);
      expect(whyOf(reached, 'flywheel')).toBe(`lies over ${key}`);
    }
  });

  test('the next wheel that went onto that shaft, where its name tells none or the shaft: a guess', () => {
    for (const key of ['woodruff-key', 'crankshaft-key', 'crank-key']) {
      const reached = at(key, shaft(key));
      expect(off(reached)).toEqual(['flywheel', key]);
      expect(reached.off[0]?.surety).toBe('guess');
    }
  });
});

test('variants differ: on the van the sump is over the oil pump', () => {
  const text = read('tests/model/brindle-four.fettle');
  expect(off(at('oil-pump', viewOf(text, {}, 'van')))).toEqual(['sump', 'oil-pump']);
  expect(off(at('oil-pump', viewOf(text, {}, 'saloon')))).toEqual(['oil-pump']);
});

test('parts that cover each other come to an end', () => {
  const circle = viewOf('part a {\n  covers b\n}\n\npart b {\n  covers a\n}\n');
  expect(sorted(off(at('a', circle)))).toEqual(['a', 'b']);
});

test('as text: first, off, new, proved, back, and the caution', () => {
  const text = reachText(at('camshaft'), tallboy.view).text;
  const heads = [
    'First',
    'Comes off, in this order',
    'Must be new',
    'Must be proved again',
    'Goes back in these steps',
  ];
  const places = heads.map((head) => text.indexOf(`\n${head}`));
  expect([...places].sort((a, b) => a - b)).toEqual(places);
  expect(places[0]).toBeGreaterThan(0);
  expect(text).toContain('. timing-cover: covers cam-plate; undo timing-cover-bolt');
  expect(text).toContain('back after 20 turns');
  expect(text).toContain("The maker's manual comes first.");
});
