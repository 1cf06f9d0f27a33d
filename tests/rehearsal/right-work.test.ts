// Correct work in the orders and the words of the trade: nothing is said of it. Beside each stands the fault that looks like it, which is
// said. Common practice, no source.
import { describe, expect, test } from 'vitest';
import { found } from './work.ts';

const ENGINE = `engine {
  cylinders 2 inline
  bore block.bore
}
part block { dimension bore x2 80.00..80.01 mm }
part crankshaft
part piston x2
part wrist-pin x2
part rod x2
part rod-cap x2
part ring-pack x2
`;

const job = (parts: string, starts: string, ...steps: readonly string[]): string =>
  `${parts}sequence build {\n  phase assemble\n  starts-with ${starts}\n${steps
    .map((work, i) => `  step work-${i + 1} ${work.includes('{') ? work : `{\n${work}\n}`}`)
    .join('\n')}\n}\n`;

describe('pistons made up on the bench', () => {
  const bench = (...steps: readonly string[]): readonly string[] =>
    found(job(ENGINE, 'block, crankshaft', ...steps, 'fit rod-cap onto rod'));
  test.each<[string, readonly string[]]>([
    [
      'the piston goes into its bore',
      ['fit piston onto rod\nfit wrist-pin into piston\nfit ring-pack onto piston', 'fit piston into block'],
    ],
    [
      'the rod goes onto its crankpin',
      ['fit piston onto rod\nfit wrist-pin into piston\nfit ring-pack onto piston', 'fit rod onto crankshaft'],
    ],
    [
      'both are named',
      ['fit piston onto rod\nfit wrist-pin into piston\nfit ring-pack onto piston', 'fit piston, rod into block'],
    ],
    [
      'rod into piston',
      [
        'fit rod into piston\nfit wrist-pin into piston\nfit ring-pack onto piston',
        'fit piston into block\nfit rod onto crankshaft',
      ],
    ],
    [
      'rod, pin, piston',
      ['fit wrist-pin into rod\nfit piston onto rod\nfit ring-pack onto piston', 'fit rod onto crankshaft'],
    ],
    ['in one go', ['fit piston, wrist-pin onto rod\nfit ring-pack onto piston', 'fit piston into block']],
    [
      'rings first',
      [
        'fit ring-pack onto piston\nfit piston onto rod\nfit wrist-pin into piston',
        'each piston {\nfit piston into block\n}',
      ],
    ],
    [
      'one by one',
      [
        'fit piston onto rod\nfit wrist-pin into piston\nfit ring-pack onto piston',
        'fit piston 1 into block',
        'fit piston 2 into block',
      ],
    ],
  ])('%s', (_name, steps) => {
    expect(bench(...steps)).toEqual([]);
  });
  test('twice into the block is twice', () => {
    expect(
      bench(
        'fit piston onto rod\nfit wrist-pin into piston\nfit ring-pack onto piston',
        'fit piston into block',
        'fit piston into block',
      ),
    ).toEqual(['sequence/fitted-twice: fit piston into block']);
  });
  test('rings after the pistons are in', () => {
    expect(
      bench('fit piston onto rod\nfit wrist-pin into piston', 'fit rod onto crankshaft', 'fit ring-pack onto piston'),
    ).toEqual(['sequence/covered: fit ring-pack onto piston']);
  });
});

describe('liners and barrels', () => {
  const parts = ENGINE.replace('block.bore', 'liner.bore').replace(
    'part block { dimension bore x2 80.00..80.01 mm }',
    'part block\npart liner x2 { dimension bore 80.00..80.01 mm }',
  );
  const build = (...steps: readonly string[]): readonly string[] =>
    found(job(parts, 'block, crankshaft', ...steps, 'fit rod-cap onto rod'));
  const made = 'fit piston onto rod\nfit wrist-pin into piston\nfit ring-pack onto piston';
  test.each<[string, readonly string[]]>([
    [
      'packs of piston and liner',
      [made, 'fit piston into liner', 'each liner {\nfit liner into block\nfit rod onto crankshaft\n}'],
    ],
    [
      'one after the other',
      [
        'fit rod onto crankshaft',
        'each piston {\nfit ring-pack onto piston\nfit piston onto rod\nfit wrist-pin into piston\nfit liner into block\n}',
      ],
    ],
    [
      'rings as each goes over',
      [
        'fit rod onto crankshaft\nfit piston onto rod\nfit wrist-pin into piston',
        'each piston {\nfit ring-pack onto piston\nfit liner into block\n}',
      ],
    ],
  ])('%s', (_name, steps) => {
    expect(build(...steps)).toEqual([]);
  });
  test('rings after the barrels', () => {
    expect(
      build(
        'fit rod onto crankshaft\nfit piston onto rod\nfit wrist-pin into piston',
        'each piston {\nfit liner into block\nfit ring-pack onto piston\n}',
      ),
    ).toEqual(['sequence/covered: fit ring-pack onto piston']);
  });
});

const MAINS = `part block
part crankshaft
part main-cap x3
part main-shell { places upper 1..3, lower 1..3 single-use wall 2.00 mm }
fastener main-bolt x6 { thread M10 class 10.9 fitted oiled joint structural clamps main-cap to block torque 60 N.m }
`;
const LAY =
  'fit main-shell upper into block\nfit main-shell lower into main-cap\nfit crankshaft into block\nfit main-cap onto block';

describe('main bearings', () => {
  const build = (...steps: readonly string[]): readonly string[] => found(job(MAINS, 'block', ...steps));
  test.each<[string, readonly string[]]>([
    [
      'shells rolled in round the crankshaft',
      [
        LAY,
        'renew main-shell upper 2, lower 2\nremove main-cap 2\nremove main-shell lower 2, upper 2\nfit main-shell upper 2 into block\nfit main-shell lower 2 into main-cap 2\nfit main-cap 2 onto block\ntighten main-bolt',
      ].map((each) => each.replace(/^renew (.*)\n(.*)\n(.*)\n/, '$2\n$3\nrenew $1\n')),
    ],
    [
      'a trial with new shells',
      [
        `{\ntrial\n${LAY}\ntighten main-bolt\n}`,
        'loosen main-bolt\nremove main-cap\nremove crankshaft\nremove main-shell',
        `${LAY}\ntighten main-bolt`,
      ],
    ],
    [
      'a trial after which the shells stay',
      [
        `{\ntrial\n${LAY}\ntighten main-bolt\n}`,
        'loosen main-bolt\nremove main-cap\nremove crankshaft',
        'fit crankshaft into block\nfit main-cap onto block\ntighten main-bolt',
      ],
    ],
  ])('%s', (_name, steps) => {
    expect(build(...steps)).toEqual([]);
  });
  test('upper shells with all caps off', () => {
    expect(
      build(
        'fit crankshaft into block\nfit main-shell upper into block\nfit main-shell lower into main-cap\nfit main-cap onto block\ntighten main-bolt',
      ),
    ).toEqual(['sequence/covered: fit main-shell upper into block']);
  });
  test('shells that have run are old', () => {
    expect(
      build(
        `${LAY}\ntighten main-bolt`,
        'loosen main-bolt\nremove main-cap\nremove crankshaft\nremove main-shell',
        `${LAY}\ntighten main-bolt`,
      ),
    ).toHaveLength(2);
  });
  test('a gauging strip comes out again, a shell that was only tried is missed', () => {
    const parts = `${MAINS}part gauge-strip x3\n`;
    const strip = `{\ntrial\n${LAY.replace('fit main-cap', 'fit gauge-strip onto crankshaft\nfit main-cap')}\ntighten main-bolt\n}`;
    const apart = 'loosen main-bolt\nremove main-cap\nremove gauge-strip\nremove crankshaft\nremove main-shell';
    expect(found(job(parts, 'block', strip, apart, `${LAY}\ntighten main-bolt`))).toEqual([]);
    expect(
      found(
        job(
          parts,
          'block',
          strip,
          apart,
          `${LAY.replace('fit main-shell lower into main-cap\n', '')}\ntighten main-bolt`,
        ),
      ),
    ).toEqual(['sequence/never-fitted: remove main-shell']);
  });
});

describe('trials with gaskets', () => {
  const parts = `part block
part head
part head-gasket { single-use }
fastener head-bolt x8 { thread M10 class 10.9 fitted oiled joint structural clamps head, head-gasket to block torque 60 N.m }
`;
  const last = 'fit head-gasket onto block\nfit head onto block\ntighten head-bolt';
  const build = (...steps: readonly string[]): readonly string[] => found(job(parts, 'block', ...steps, last));
  test('dry, with clay', () => {
    expect(build('{\ntrial\nfit head onto block\nsnug head-bolt\n}', 'loosen head-bolt\nremove head')).toEqual([]);
  });
  test('a gasket that was tightened down is old', () => {
    expect(
      build(
        '{\ntrial\nfit head-gasket onto block\nfit head onto block\ntighten head-bolt\n}',
        'loosen head-bolt\nremove head\nremove head-gasket',
      ),
    ).toEqual(['sequence/not-renewed: fit head-gasket onto block']);
  });
});

const CHAIN = `part block
part crankshaft
part camshaft
part crank-sprocket { teeth 20 fixed-to crankshaft mark dot at 6 o'clock }
part cam-sprocket { teeth 40 fixed-to camshaft mark dot at 12 o'clock }
part timing-chain { links 60 single-use }
drive cam-drive {
  chain timing-chain over crank-sprocket, cam-sprocket
  ratio crankshaft to camshaft 2:1
  marks-agree at tdc 1 on compression
}
`;

describe('chains', () => {
  const build = (...steps: readonly string[]): readonly string[] =>
    found(
      job(
        CHAIN,
        'block, crankshaft, camshaft',
        ...steps,
        'align cam-drive\nrotate crankshaft 2 turns clockwise\nconfirm cam-drive by marks',
      ),
    );
  const all = 'crank-sprocket, cam-sprocket, timing-chain together';
  test('hung again before it has run', () => {
    expect(build('set crankshaft at tdc 1 on compression', `fit ${all}`, `remove ${all}`, `fit ${all}`)).toEqual([]);
  });
  test('hung on the wheel in the hand', () => {
    expect(
      build(
        'set crankshaft at tdc 1 on compression',
        `fit ${all}`,
        `remove ${all}`,
        'fit crank-sprocket onto crankshaft',
        'fit timing-chain onto cam-sprocket\nfit cam-sprocket onto camshaft',
      ),
    ).toEqual([]);
  });
  test('over both wheels on their shafts', () => {
    expect(
      build(
        'set crankshaft at tdc 1 on compression',
        `fit ${all}`,
        `remove ${all}`,
        'fit crank-sprocket onto crankshaft\nfit cam-sprocket onto camshaft',
        'fit timing-chain onto cam-sprocket',
      ),
    ).toEqual(['sequence/together: fit timing-chain onto cam-sprocket']);
  });
  test('together in one step, and one sprocket before in another', () => {
    expect(
      build(
        'set crankshaft at tdc 1 on compression',
        `fit ${all}`,
        `remove ${all}`,
        'fit crank-sprocket onto crankshaft',
        'fit cam-sprocket, timing-chain together',
      ),
    ).toEqual([]);
  });
});

test('what is only connected', () => {
  const parts = 'part block\npart fuel-pipe\npart earth-strap\n';
  expect(found(job(parts, 'block', 'connect fuel-pipe, earth-strap'))).toEqual([]);
  expect(found(job(parts, 'block', 'connect fuel-pipe\nclean block'))).toEqual([
    'sequence/never-fitted: part earth-strap',
  ]);
});
