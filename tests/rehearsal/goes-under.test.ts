// What goes in before something else goes over it, by the names that the trade gives. Common practice, no source.
import { describe, expect, test } from 'vitest';
import { found } from './work.ts';

const job = (parts: string, starts: string, work: readonly string[]): string =>
  `${parts}\nsequence build {\n  phase assemble\n  starts-with ${starts}\n  step work {\n${work.join('\n')}\n  }\n}\n`;

/** The parts, what stands there, the work in its right order, and which of its lines comes too late where it comes last. */
const CASES: readonly (readonly [
  name: string,
  parts: string,
  starts: string,
  work: readonly string[],
  late: number,
])[] = [
  [
    'cam seal and pulley',
    'part head\npart camshaft\npart camshaft-seal\npart timing-wheel { fixed-to camshaft }',
    'head, camshaft',
    ['fit camshaft-seal into head by press', 'fit timing-wheel onto camshaft'],
    0,
  ],
  [
    'seal carrier and flywheel',
    'part block\npart crankshaft\npart rear-seal-carrier\npart flywheel',
    'block, crankshaft',
    ['fit rear-seal-carrier onto block', 'fit flywheel onto crankshaft'],
    0,
  ],
  [
    'front cover and damper',
    'part block\npart crankshaft\npart timing-cover\npart damper',
    'block, crankshaft',
    ['fit timing-cover onto block', 'fit damper onto crankshaft'],
    0,
  ],
  [
    'dowels and head',
    'part block\npart dowel x2\npart cylinder-head',
    'block',
    ['fit dowel into block', 'fit cylinder-head onto block'],
    0,
  ],
  [
    'tubes and heads',
    'part left-case\npart barrel x2\npart pushrod-tube x4\npart cylinder-head x2',
    'left-case, barrel',
    ['fit pushrod-tube into left-case', 'fit cylinder-head onto barrel'],
    0,
  ],
  [
    'ring on its liner',
    'part block\npart liner x4\npart liner-seal x4',
    'block',
    ['fit liner-seal onto liner', 'fit liner into block'],
    0,
  ],
  [
    'shims under a cap',
    'part block\npart bearing-shim x3\npart main-cap x3',
    'block',
    ['fit bearing-shim onto block', 'fit main-cap onto block'],
    0,
  ],
  [
    'lifters in the case that shuts on them',
    'part left-case\npart right-case\npart camshaft\npart lifter { places left 1..4, right 1..4 }',
    'left-case',
    [
      'fit lifter left into left-case',
      'fit camshaft into left-case',
      'fit lifter right into right-case',
      'fit right-case onto left-case',
    ],
    2,
  ],
  [
    'shims under a rod cap',
    'part crankshaft\npart connecting-rod x4\npart rod-shims x4\npart rod-cap x4',
    'crankshaft, connecting-rod',
    ['fit rod-shims onto connecting-rod', 'fit rod-cap onto connecting-rod'],
    0,
  ],
  [
    'a shim of a table of grades under a liner',
    'part block\npart liner x4\nlimit depth of block\n  measured\n  within 1.00..1.20 mm\ngrades liner-shim by depth {\n  thin 1.00..1.10 mm\n  thick 1.10..1.20 mm\n}',
    'block',
    ['measure depth with "depth gauge"', 'fit liner-shim into block', 'fit liner into block'],
    1,
  ],
  [
    'a camshaft and the plate that keeps it in',
    'part block\npart camshaft\npart cam-plate',
    'block',
    ['fit camshaft into block', 'fit cam-plate onto block'],
    0,
  ],
  [
    'a small-end bush and the pin through it',
    'part piston x4\npart piston-pin x4\npart connecting-rod x4\npart small-end-bush x4',
    'connecting-rod',
    ['fit small-end-bush into connecting-rod by press', 'fit piston onto connecting-rod\nfit piston-pin into piston'],
    0,
  ],
  [
    'a washer under its injector',
    'part cylinder-head\npart injector x4\npart fire-washer x4',
    'cylinder-head',
    ['fit fire-washer into cylinder-head', 'fit injector into cylinder-head'],
    0,
  ],
  [
    'valves before the head is on the block',
    'part block\npart cylinder-head\npart valve x8',
    'block',
    ['fit valve into cylinder-head', 'fit cylinder-head onto block'],
    0,
  ],
  [
    'a key and its wheel',
    'part crankshaft\npart flywheel-key\npart flywheel',
    'crankshaft',
    ['fit flywheel-key into crankshaft', 'fit flywheel onto crankshaft'],
    0,
  ],
  [
    'thrust washers beside the shaft before the caps are tight',
    'part block\npart crankshaft\npart thrust-washer { places upper 1..2 }\npart main-cap x3\nfastener main-bolt x6 {\n  torque hand-tight\n  clamps main-cap to block\n}',
    'block',
    ['fit crankshaft into block', 'fit thrust-washer upper into block', 'fit main-cap onto block\ntighten main-bolt'],
    1,
  ],
];

describe.each(CASES)('%s', (_name, parts, starts, work, late) => {
  test('in its order', () => {
    expect(found(job(parts, starts, work))).toEqual([]);
  });
  test('too late', () => {
    const line = work[late] ?? '';
    const order = [...work.filter((each) => each !== line), line];
    expect(found(job(parts, starts, order))).toEqual([`sequence/covered: ${line}`]);
  });
});

test('a key that is named after its shaft lies in it, not under it', () => {
  for (const [key, shaft] of [
    ['crankshaft-key', 'crankshaft'],
    ['camshaft-woodruff-key', 'camshaft'],
    ['pump-shaft-key', 'pump-shaft'],
  ] as const)
    expect(
      found(
        job(`part block\npart ${shaft}\npart ${key}`, 'block', [`fit ${shaft} into block`, `fit ${key} into ${shaft}`]),
      ),
    ).toEqual([]);
});

test('a seal goes into its carrier on the bench, whatever is on the engine', () => {
  const parts = 'part block\npart crankshaft\npart front-seal\npart front-cover\npart damper';
  const work = [
    'fit damper onto crankshaft',
    'remove damper',
    'fit front-seal into front-cover',
    'fit front-cover onto block',
    'fit damper onto crankshaft',
  ];
  expect(found(job(parts, 'block, crankshaft', work))).toEqual([]);
});

test('where the front is the flywheel end, the front seal lies under the flywheel and the rear one under the pulley', () => {
  const parts =
    'engine { cylinders 4 flat front flywheel-end }\npart block\npart crankshaft\npart front-seal\npart rear-seal\npart flywheel\npart pulley';
  const front = ['fit front-seal into block', 'fit flywheel onto crankshaft'];
  const rear = ['fit rear-seal into block', 'fit pulley onto crankshaft'];
  expect(found(job(parts, 'block, crankshaft', [...rear, ...front]))).toEqual([]);
  expect(found(job(parts, 'block, crankshaft', [...front, ...rear]))).toEqual([]);
  expect(found(job(parts, 'block, crankshaft', [...rear, ...front.toReversed()]))).toEqual([
    'sequence/covered: fit front-seal into block',
  ]);
  expect(found(job(parts, 'block, crankshaft', [...front, ...rear.toReversed()]))).toEqual([
    'sequence/covered: fit rear-seal into block',
  ]);
});

test('circlips go in before the pistons do', () => {
  const parts = `engine { cylinders 2 inline bore block.bore }
part block { dimension bore x2 80.00..80.01 mm }
part crankshaft
part rod x2
part piston x2
part piston-pin x2 { secured-by circlip }`;
  const made = ['fit piston onto rod', 'fit piston-pin into piston'];
  const right = [...made, 'secure piston-pin', 'fit rod onto crankshaft'];
  expect(found(job(parts, 'block, crankshaft', right))).toEqual([]);
  const late = [...made, 'fit rod onto crankshaft', 'secure piston-pin'];
  expect(found(job(parts, 'block, crankshaft', late))).toEqual(['sequence/covered: secure piston-pin']);
});
