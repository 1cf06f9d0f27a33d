// A spec built on another is what the base would be with the changes made by hand: its figures, its job, what is found in it. Where
// findings stand is in derived-findings.test.ts.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { placeOf } from '../../server/model/placed.ts';
import { analyseText } from '../annotated.ts';
import { analyseDerived, BASE, rehearsalIn, saidIn, valuesIn } from './derived.ts';

interface Change {
  readonly written: string;
  /** The same by hand in the text of the base. */
  readonly byHand: (base: string) => string;
}

/** Puts one text in the place of another, which must be there. */
function put(base: string, from: string | RegExp, to: string): string {
  if (typeof from === 'string' ? !base.includes(from) : !from.test(base))
    throw new Error(`${String(from)} is not there`);
  return base.replace(from, to);
}

const mm = (from: number, to: number): fc.Arbitrary<string> =>
  fc
    .tuple(fc.integer({ min: from, max: to }), fc.integer({ min: 1, max: 40 }))
    .map(([low, width]) => `${(low / 1000).toFixed(3)}..${((low + width) / 1000).toFixed(3)} mm`);
const torques = fc.array(fc.integer({ min: 5, max: 90 }), { minLength: 1, maxLength: 3 }).map((stages) =>
  stages
    .sort((a, b) => a - b)
    .map((stage) => `${stage} N.m`)
    .join(', '),
);
const in$ = (head: string, statement: string): string => `change ${head} {\n  ${statement}\n}`;

/** Each about something else, so that any of them go together. */
const CHANGES: readonly fc.Arbitrary<Change>[] = [
  mm(78300, 78380).map((value) => ({
    written: in$('part piston', `dimension skirt ${value}`),
    byHand: (base) => put(base, 'dimension skirt 78.360..78.370 mm', `dimension skirt ${value}`),
  })),
  torques.map((stages) => ({
    written: in$('fastener head-bolt', `torque ${stages}`),
    byHand: (base) => put(base, 'torque 30 N.m, 60 N.m, 90 deg, 90 deg', `torque ${stages}`),
  })),
  fc.tuple(torques, fc.constantFrom('dry', 'oiled', 'greased')).map(([stages, fitted]) => ({
    written: in$('fastener main-bolt', `fitted ${fitted} torque ${stages} nut-factor 0.16`),
    byHand: (base) =>
      put(
        put(base, 'torque 20 N.m, 65 N.m\n    per manual "2-16"', `torque ${stages}\n  nut-factor 0.16`),
        /(fastener main-bolt[^}]*?)fitted oiled/,
        `$1fitted ${fitted}`,
      ),
  })),
  mm(10, 60).map((value) => ({
    written: `change limit main-oil-clearance within ${value}`,
    byHand: (base) => put(base, 'within 0.020..0.060 mm', `within ${value}`),
  })),
  fc.constant({
    written: 'change limit crank-end-play of camshaft {\n  drop wear-limit\n}',
    byHand: (base) =>
      put(put(base, 'of crankshaft\n  kind end-play', 'of camshaft\n  kind end-play'), '  wear-limit 0.30 mm\n', ''),
  }),
  mm(20, 80).map((value) => ({
    written: `change limit piston-clearance\n  = (block.bore - piston.skirt) / 2\n  within ${value}`,
    byHand: (base) =>
      put(
        base,
        '= block.bore - piston.skirt\n  within 0.030..0.060 mm',
        `= (block.bore - piston.skirt) / 2\n  within ${value}`,
      ),
  })),
  fc.tuple(mm(1980, 2000), mm(2100, 2130)).map(([wall, under]) => ({
    written: in$('part main-shell', `wall ${wall} size under-25 undersize 0.25 mm { wall ${under} }`),
    byHand: (base) =>
      put(put(base, 'wall 1.991..1.995 mm', `wall ${wall}`), '{ wall 2.116..2.120 mm }', `{ wall ${under} }`),
  })),
  fc.integer({ min: 380, max: 440 }).map((chamber) => ({
    written: in$('engine', `chamber ${chamber / 10} cc drop redline bore 79.00 mm`),
    byHand: (base) =>
      put(
        put(put(base, 'chamber 41.0 ±0.5 cc', `chamber ${chamber / 10} cc`), '  redline 6200 rpm\n', ''),
        'bore block.bore',
        'bore 79.00 mm',
      ),
  })),
  fc.integer({ min: 16, max: 20 }).map((teeth) => ({
    written: in$('part crank-sprocket', `teeth ${teeth}`),
    byHand: (base) => put(base, 'teeth 18', `teeth ${teeth}`),
  })),
  fc.integer({ min: 1340, max: 1370 }).map((distance) => ({
    written: in$('drive cam-drive', `centre-distance cam-sprocket to crank-sprocket ${distance / 10} mm`),
    byHand: (base) =>
      put(
        base,
        "centre-distance crank-sprocket to cam-sprocket 135.4 ±0.3 mm\n    at 12 o'clock",
        `centre-distance cam-sprocket to crank-sprocket ${distance / 10} mm`,
      ),
  })),
  fc.integer({ min: 6, max: 20 }).map((opens) => ({
    written: in$(
      'valve-timing road-grind',
      `inlet opens ${opens} deg btdc closes 48 deg abdc drop stated inlet-duration`,
    ),
    byHand: (base) =>
      put(put(base, 'inlet opens 12 deg', `inlet opens ${opens} deg`), '  stated inlet-duration 240 deg\n', ''),
  })),
  fc.constant({
    written: in$('fastener cam-plate-bolt x3', 'drop fitted'),
    byHand: (base) =>
      put(
        put(base, 'cam-plate-bolt x2', 'cam-plate-bolt x3'),
        /(fastener cam-plate-bolt[^}]*?) {2}fitted oiled\n/,
        '$1',
      ),
  }),
  fc.constant({
    written: 'drop step fit-oil-pump',
    byHand: (base) => put(base, / {2}step fit-oil-pump \{[^}]*\}\n/, ''),
  }),
  fc.constant({
    written:
      'change step fit-cam-plate "The plate" {\n  lubricate cam-plate with assembly-lube\n  fit cam-plate onto block\n}',
    byHand: (base) =>
      put(
        base,
        / {2}step fit-cam-plate \{[^}]*\}/,
        '  step fit-cam-plate "The plate" {\n    lubricate cam-plate with assembly-lube\n    fit cam-plate onto block\n  }',
      ),
  }),
  fc.constantFrom('after', 'before').map((side) => ({
    written: `insert step look "Look" each piston ${side} fit-pistons {\n  inspect piston for "scores"\n  wait 5 min\n}`,
    byHand: (base) => {
      const step = '  step look "Look" each piston {\n    inspect piston for "scores"\n    wait 5 min\n  }\n';
      return side === 'before'
        ? put(base, '  step fit-pistons', `${step}  step fit-pistons`)
        : put(base, '  step find-tdc', `${step}  step find-tdc`);
    },
  })),
  fc.constant({
    written: 'when van {\n  change fastener sump-bolt x16 {\n    torque 8 N.m\n  }\n}',
    byHand: (base) =>
      put(
        put(base, 'fastener sump-bolt x14 {', 'when saloon { fastener sump-bolt x14 {'),
        '  torque 9 N.m\n}',
        '  torque 9 N.m\n} }\nwhen van { fastener sump-bolt x16 { thread M6 class 8.8 joint cover clamps sump to block torque 8 N.m } }',
      ),
  }),
  fc.constant({
    written: in$('part sump', 'when saloon { covers crank-sprocket } mass 3 kg'),
    byHand: (base) =>
      put(
        base,
        'when van { covers oil-pump }',
        'when van { covers oil-pump }\n  when saloon { covers crank-sprocket }\n  mass 3 kg',
      ),
  }),
];

describe('as if made by hand', () => {
  test('any changes together: figures, the job, and what is found', () => {
    fc.assert(
      fc.property(
        fc
          .shuffledSubarray(
            CHANGES.map((_, i) => i),
            { minLength: 1, maxLength: 6 },
          )
          .chain((which) =>
            fc.tuple(...which.map((i) => CHANGES[i] ?? fc.constant<Change>({ written: '', byHand: (base) => base }))),
          ),
        (changes) => {
          const derived = analyseDerived(changes.map((change) => change.written).join('\n'));
          const byHand = analyseText(changes.reduce((base, change) => change.byHand(base), BASE));
          expect(derived.variants).toEqual(['saloon', 'van']);
          expect(valuesIn(derived)).toEqual(valuesIn(byHand));
          expect(rehearsalIn(derived)).toEqual(rehearsalIn(byHand));
          expect(saidIn(derived)).toEqual(saidIn(byHand));
        },
      ),
      { seed: 20_261_125, numRuns: 15 },
    );
  });

  test.each(CHANGES.map((change, i) => [i, change] as const))('change %i alone', (_i, change) => {
    fc.assert(
      fc.property(change, ({ written, byHand }) => {
        const [derived, hand] = [analyseDerived(written), analyseText(byHand(BASE))];
        expect(valuesIn(derived)).toEqual(valuesIn(hand));
        expect(rehearsalIn(derived)).toEqual(rehearsalIn(hand));
        expect(saidIn(derived)).toEqual(saidIn(hand));
      }),
      { seed: 7, numRuns: 2 },
    );
  });

  test('without a change all is as in the base', () => {
    const [derived, base] = [analyseDerived('  revision 1'), analyseText(BASE)];
    expect(valuesIn(derived)).toEqual(valuesIn(base));
    expect(rehearsalIn(derived)).toEqual(rehearsalIn(base));
    expect(derived.findings).toEqual([]);
  });
});

describe('statement by statement', () => {
  /** What a part of a small base says after a change, one statement a line. */
  function after(base: string, change: string): readonly string[] {
    const analysis = analyseText(
      `use "base.fettle"\nspec own extends base {\n${change}\n}\n`,
      { 'base.fettle': `spec base\n${base}` },
      'own.fettle',
    );
    const [part] = analysis.views[0]?.parts ?? [];
    const text = part?.placed.section.text ?? '';
    return (part?.statements ?? []).map((each) => text.slice(each.start, each.end).replace(/\s+/g, ' '));
  }

  test.each([
    ['dimension a 3 mm dimension b 4 mm', 'dimension a 5 mm', ['dimension a 5 mm', 'dimension b 4 mm']],
    ['dimension a 3 mm', 'figure a 5 mm', ['dimension a 3 mm', 'figure a 5 mm']],
    ["mark dot at 6 o'clock mark line at 3 o'clock", 'drop mark dot', ["mark line at 3 o'clock"]],
    ["mark dot at 6 o'clock mark line at 3 o'clock", 'drop mark', []],
    ['single-use matched', 'single-use drop matched', ['single-use']],
    ['feature slot, face', 'feature hole drop feature slot', ['feature face', 'feature hole']],
    [
      'orient arrow toward front, top-gap at 45 deg per manual "1"',
      'orient top-gap at 90 deg, oil-gap at 180 deg',
      ['orient arrow toward front per manual "1"', 'orient top-gap at 90 deg, oil-gap at 180 deg'],
    ],
    ['orient arrow toward front', 'orient arrow toward rear', ['orient arrow toward rear']],
    ['orient arrow toward front, gap at 45 deg', 'drop orient gap', ['orient arrow toward front']],
    ['covers x, y.dot', 'covers z', ['covers z']],
    ['covers x, y.dot', 'drop covers y', ['covers x']],
    ['note "one"', 'note "two"', ['note "one"', 'note "two"']],
    ['note "one"', 'drop note note "two"', ['note "two"']],
    [
      'size s1 undersize 0.25 mm { wall 2 mm }',
      'size s2 undersize 0.5 mm',
      ['size s1 undersize 0.25 mm { wall 2 mm }', 'size s2 undersize 0.5 mm'],
    ],
    ['wall 2 mm per manual "1"', 'wall 3 mm', ['wall 3 mm']],
    ['places upper, lower', 'places upper', ['places upper']],
  ])('%s, changed by %s', (base, change, statements) => {
    expect(after(`part p { ${base} }`, `change part p { ${change} }`)).toEqual(statements);
  });

  test('title and count', () => {
    const base = 'spec base\npart p "Old" x2 { mass 3 g }';
    const { views } = analyseText(
      'use "base.fettle"\nspec own extends base { change part p "New" x3 }',
      { 'base.fettle': base },
      'own.fettle',
    );
    expect(views[0]?.parts).toMatchObject([{ name: 'p', title: 'New', count: 3 }]);
  });

  test('grades by the name of the row; drives by their ends', () => {
    const base =
      'spec base\npart a\npart b\npart c\ngrades shim by lash { thin 2 mm thick 3 mm }\ndrive d { mesh a with b ratio a to b 2:1 marked-link 1 at a.dot }';
    const { views } = analyseText(
      'use "base.fettle"\nspec own extends base { change grades shim { thin 2.5 mm drop thick mid 4 mm } change drive d { ratio b to a 1:3 marked-link 2 at a.dot mesh b with c } }',
      { 'base.fettle': base },
      'own.fettle',
    );
    const [view] = views;
    expect(
      view?.grades[0]?.rows.map((row) => [row.name.text, 'number' in row.value ? row.value.number.text : '']),
    ).toEqual([
      ['thin', '2.5'],
      ['mid', '4'],
    ]);
    expect(view?.drives[0]).toMatchObject({
      ratios: [{ first: 'b', second: 'a' }],
      markedLinks: [{ links: [2] }],
      meshes: [{ first: 'a' }, { first: 'b', second: 'c' }],
    });
  });

  test('a spec has its own revision, and sources of both; variants of the base unless it names its own', () => {
    const { views, variants, findings } = analyseDerived(
      '  revision 7\n  variants van\n  source bench "Our bench"\n  change part piston { dimension skirt 78.360..78.370 mm per bench }\n  change part camshaft { note "As ever." per manual "2" }',
    );
    expect(findings).toEqual([]);
    expect(variants).toEqual(['van']);
    const said = views[0]?.specs[0]?.declaration.body?.statements ?? [];
    expect(said.flatMap((each) => (each.kind === 'source' ? [each.name.text] : []))).toEqual([
      'bench',
      'manual',
      'shop',
    ]);
    expect(
      said.flatMap((each) => (each.word === 'revision' && each.kind === 'number' ? [each.number.text] : [])),
    ).toEqual(['7']);
  });
});

describe('chains and bystanders', () => {
  const middle = `use "brindle-four.fettle"

spec quarry-four extends brindle-four {
  change fastener head-bolt { torque 30 N.m, 70 N.m per manual }
  change part piston { dimension skirt 78.361..78.371 mm }
  insert step look after fit-head { inspect cylinder-head }
}
`;
  const files = { 'brindle-four.fettle': BASE, 'quarry.fettle': middle };
  const top = `use "quarry.fettle"

spec hill-four extends quarry-four {
  change fastener head-bolt { drop per torque 30 N.m, 50 N.m }
  change step look { inspect cylinder-head for "cracks" }
  insert step look-again after look { inspect block }
}
`;

  test('what is built on a derived spec is built on all of it', () => {
    const analysis = analyseText(top, files, 'hill.fettle');
    const byHand = [
      ['torque 30 N.m, 60 N.m, 90 deg, 90 deg', 'torque 30 N.m, 50 N.m'],
      ['78.360..78.370', '78.361..78.371'],
      [
        '  step fit-sump',
        '  step look {\n    inspect cylinder-head for "cracks"\n  }\n  step look-again {\n    inspect block\n  }\n  step fit-sump',
      ],
    ].reduce((base, [from = '', to = '']) => put(base, from, to), BASE);
    expect(valuesIn(analysis)).toEqual(valuesIn(analyseText(byHand)));
    expect(rehearsalIn(analysis)).toEqual(rehearsalIn(analyseText(byHand)));
    const steps = analysis.views[0]?.steps.map(
      (step) => placeOf(step.placed, step.declaration.name ?? step.declaration.wordSpan).file,
    );
    expect(new Set(steps)).toEqual(new Set(['brindle-four.fettle', 'quarry.fettle', 'hill.fettle']));
  });

  test('a file that uses a derived spec sees it as it is', () => {
    const record = analyseText(
      'use "quarry.fettle"\nrecord build-1 of quarry-four {\n  done look on 2026-03-04 by "RT"\n}\n',
      files,
      'record.fettle',
    );
    expect(record.findings.filter((each) => each.severity === 'error')).toEqual([]);
    const bolts = record.views[0]?.fasteners.filter((each) => each.name === 'head-bolt');
    expect(bolts?.map((bolt) => bolt.stages.length)).toEqual([2]);
    expect(record.views[0]?.duplicates).toEqual([]);
  });

  test('files that are built on each other, and a spec that is built on itself', () => {
    const circle = {
      'a.fettle': 'use "b.fettle"\nspec a extends b { change part p { mass 3 g } }\npart q',
      'b.fettle': 'use "a.fettle"\nspec b extends a { change part q { mass 3 g } }\npart p',
    };
    for (const [name, text] of Object.entries(circle)) {
      const codes = analyseText(text, circle, name).findings.map((each) => each.code);
      expect(codes).toContain('name/import-cycle');
    }
    const own = analyseText('spec a extends a { change part p { mass 3 g } }\npart p');
    expect(own.findings.map((each) => each.code)).toContain('name/import-cycle');
  });

  test('what the base uses from elsewhere may be changed too', () => {
    const shared = {
      'bolts.fettle': 'fastener lid-bolt x4 {\n  thread M6\n  class 8.8\n  torque 9 N.m\n}\n',
      'base.fettle': 'use "bolts.fettle"\nspec base\npart lid\npart block\n',
    };
    const { views } = analyseText(
      'use "base.fettle"\nspec own extends base { change fastener lid-bolt { torque 8 N.m clamps lid to block } }',
      shared,
      'own.fettle',
    );
    expect(views[0]?.fasteners.map((each) => [each.name, each.count, each.clamps.length])).toEqual([
      ['lid-bolt', 4, 1],
    ]);
  });
});
