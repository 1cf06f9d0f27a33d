// What is told of figures, counts and ways round, each beside what is right and told as nothing. Common practice, no source, but for sums
// that the comments name.
import { describe, expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';

const limit = (name: string, body: string): string => `part head\n\nlimit ${name}\n  ${body}\n`;
const shells = (upper: number): string =>
  `part block { dimension main-bore x5 62.490..62.502 mm }\npart crankshaft { dimension main-journal x5 58.430..58.450 mm }\npart main-shell {\n  places upper 1..${upper}, lower 1..${upper}\n}\n`;
const twoBearings = (wall: string): string =>
  `part crankshaft { dimension crankpin x4 50.800..50.815 mm }\npart connecting-rod x4 { dimension big-end 53.860..53.872 mm }\npart main-shell {\n  places upper 1..5, lower 1..5\n  wall 2.003..2.008 mm\n}\npart rod-shell {\n  places upper 1..4, lower 1..4\n  wall 1.508..1.512 mm\n}\nlimit rod-oil-clearance each crankshaft.crankpin\n  kind oil-clearance\n  = connecting-rod.big-end - 2 * ${wall}.wall - crankshaft.crankpin\n  within 0.020..0.060 mm\n`;
const valves = (more: string): string => `part valve {\n  places inlet 1..4, exhaust 1..4\n}\n${more}\n`;
const bolt = (body: string): string =>
  `part block\n\npart cover\n\nfastener cover-bolt x4 {\n  thread M8\n  class 8.8\n  ${body}\n}\n`;
const engine = (body: string): string =>
  `engine {\n  cylinders 4 inline\n  front free-end\n  cycle four-stroke\n  ${body}\n}\n`;
const bored = (hole: string): string =>
  `part block {\n  dimension bore x4 80.700..80.718 mm\n  size over-50 oversize 0.50 mm { dimension bore 81.200..81.218 mm }\n}\nengine {\n  cylinders 4 inline\n  bore block.bore\n  gasket-bore ${hole} mm\n}\n`;
const piston = (feature: string, toward: string, cycle = 'four-stroke'): string =>
  `engine {\n  cylinders 2 inline\n  front free-end\n  cycle ${cycle}\n}\npart piston x2 {\n  orient ${feature} toward ${toward}\n}\n`;
const part = (name: string, body: string): string => `part ${name} {\n  ${body}\n}\n`;
const caps = (matched: string): string =>
  `part main-cap x5 {\n  matched\n  orient arrow toward front\n}\npart cam-cap x5 {\n  ${matched}orient arrow toward front\n}\n`;
const rings = (gap: number): string =>
  `${engine('')}part second-ring x4 {\n  orient second-gap at 225 deg\n}\npart oil-ring x4 {\n  orient oil-gap at ${gap} deg\n}\n`;
const twoStrokeRing = (gap: number): string =>
  `engine {\n  cylinders 1 inline\n  cycle two-stroke\n}\npart piston {\n  orient arrow toward exhaust\n}\npart top-ring {\n  orient gap at ${gap} deg from piston.arrow\n}\n`;
const phaser = (parked: string): string =>
  `part inlet-camshaft\n\nvalve-timing inlet-grind on inlet-camshaft {\n  inlet opens 4 deg atdc closes 76 deg abdc\n  lift 11.6 mm at valve\n  phaser 40 deg parked ${parked}\n}\n`;
const banks = (opens: number): string =>
  `part left-inlet-camshaft\n\npart right-inlet-camshaft\n\nvalve-timing left-inlet-grind on left-inlet-camshaft {\n  inlet opens 14 deg btdc closes 54 deg abdc\n  lift 9.8 mm\n}\n\nvalve-timing right-inlet-grind on right-inlet-camshaft {\n  inlet opens ${opens} deg btdc closes 54 deg abdc\n  lift 9.8 mm\n}\n`;
const belt = (teeth: number): string =>
  `part crank-pulley {\n  teeth 22\n}\npart cam-pulley {\n  teeth 44\n}\npart pump-pulley {\n  teeth 44\n}\npart timing-belt {\n  teeth ${teeth}\n}\ndrive belt-drive {\n  belt timing-belt over crank-pulley, cam-pulley, pump-pulley\n}\n`;
const stretch = (within: string): string =>
  `part rod\n\npart rod-cap\n\nfastener rod-bolt x2 {\n  thread M9x1\n  length 43 mm\n  joint structural\n  clamps rod-cap to rod\n  stretch 0.16..0.18 mm\n}\n\nlimit rod-stretch each rod-bolt\n  measured\n  within ${within} mm\n`;
const lashes = (inlet: string): string =>
  `part rocker x8\n\nlimit inlet-lash of rocker\n  kind valve-lash\n  measured\n  within ${inlet} mm\n\nlimit exhaust-lash of rocker\n  kind valve-lash\n  measured\n  within 0.35..0.40 mm\n`;
const barrels = (gaskets: string): string =>
  `part barrel x2\n\npart head-gasket ${gaskets}\n\nsequence close {\n  phase assemble\n  starts-with barrel\n  step one {\n    fit head-gasket onto barrel\n  }\n}\n`;

const protrusion = (name: string, takes: string): string =>
  `part piston x4\n\nlimit piston-protrusion each piston\n  kind protrusion\n  measured\n  within 0.45..0.75 mm\n\nlimit ${name}\n  = ${takes}(piston-protrusion)\n  within 0.45..0.75 mm\n`;
const liner = (sum: string): string =>
  `part liner x6 {\n  dimension flange 10.000..10.020 mm\n}\nlimit seat-depth each liner\n  measured\n  within 9.90..9.95 mm\n\nlimit liner-protrusion each liner\n  = ${sum}\n  within 0.05..0.12 mm\n`;
const reuse = (to: string): string =>
  bolt(`length 100 mm\n  reuse to ${to} mm\n  joint structural\n  clamps cover to block`);
const spring = (load: string): string =>
  `part valve-spring x8 {\n  figure fitted-load ${load} N\n}\nlimit spring-load each valve-spring\n  kind spring-load\n  measured\n  within 345..390 N\n`;
const fan = (thread: string): string =>
  `part crankshaft\n\npart fan\n\nfastener fan-nut x1 {\n  thread ${thread}\n  joint structural\n  clamps fan to crankshaft\n}\n\nsequence dress {\n  phase install\n  starts-with crankshaft\n  step fit-fan {\n    fit fan onto crankshaft\n    tighten fan-nut\n    note "Left-hand thread: the nut tightens anticlockwise."\n  }\n}\n`;
const heavy = (mass: string, more = ''): string =>
  `part block\n\npart cylinder-head {\n  mass ${mass} kg\n}\n\nsequence close {\n  phase assemble\n  starts-with block\n  step prepare {\n    clean block\n${more}  }\n  step fit-head {\n    fit cylinder-head onto block\n  }\n}\n`;

const fuelled = (place: string): string =>
  `part ${place}\n\nsupply petrol {\n  kind fuel\n}\n\nsequence start {\n  phase run-in\n  step one {\n    fill ${place} with petrol 4 L\n  }\n}\n`;
const held = (bolts: number): string =>
  `part block\n\npart sump\n\nfastener sump-bolt x${bolts} {\n  thread M8\n  joint cover\n  clamps sump to block\n}\n`;
const seal = (into: string): string =>
  `part block\n\npart rear-seal\n\npart rear-seal-carrier\n\nsequence close {\n  phase assemble\n  starts-with block\n  step one {\n    fit rear-seal into ${into} by press\n    fit rear-seal-carrier onto block\n  }\n}\n`;
const pressure = (at: string): string =>
  `engine {\n  cylinders 4 inline\n  redline 5400 rpm\n}\nlimit oil-pressure\n  measured\n  within at-least 2.2 bar at ${at}\n`;
const radial = (pins: number): string => `part link-rod x4\n\npart knuckle-pin x${pins}\n`;

const ROWS: readonly (readonly [code: string, says: RegExp, wrong: string, right: string])[] = [
  // 53.866 less two walls of 2.0055 and 50.8075 is less than nothing; what does not pair is said, and not passed over.
  ['limit/no-value', /do not pair/, twoBearings('main-shell'), twoBearings('rod-shell')],
  [
    'limit/wear-side',
    /too much does harm/,
    limit('case-leak', 'measured\n  within at-least 0.05 bar'),
    limit('case-leak', 'measured\n  within at-most 0.05 bar'),
  ],
  [
    'limit/wear-side',
    /too little does harm/,
    limit('oil-pressure', 'measured\n  within at-most 2.0 bar'),
    limit('oil-pressure', 'measured\n  within at-least 2.0 bar'),
  ],
  [
    'limit/wear-side',
    /too little does harm/,
    limit('inlet-near', 'kind piston-to-valve\n  measured\n  within at-most 2.1 mm'),
    limit('inlet-near', 'kind piston-to-valve\n  measured\n  within at-least 2.1 mm'),
  ],
  // What a pump may give cold, or a relief valve opens at, is held from above.
  [
    'limit/wear-side',
    /does harm/,
    limit('oil-pressure', 'measured\n  within at-most 2.0 bar'),
    limit('oil-pressure-cold', 'measured\n  within at-most 7 bar'),
  ],
  ['limit/trade-range', /lash of the inlet/, lashes('0.025..0.030'), lashes('0.25..0.30')],
  [
    'limit/trade-range',
    /a hydraulic lifter/,
    limit('lifter-preload', 'measured\n  within 6..14 mm'),
    limit('lifter-preload', 'measured\n  within 0.6..1.4 mm'),
  ],
  ['limit/design-differs', /is stretched by/, stretch('0.06..0.08'), stretch('0.15..0.19')],
  [
    'limit/other-part',
    /takes the lowest/,
    protrusion('piston-protrusion-highest', 'min'),
    protrusion('piston-protrusion-highest', 'max'),
  ],
  ['limit/other-part', /takes the highest/, protrusion('lowest-piston', 'max'), protrusion('lowest-piston', 'min')],
  // At most 9.95 less at least 10.000 is 0.05 the wrong way; the other way it is 0.05 to 0.12.
  [
    'limit/outside',
    /whatever the parts measure/,
    liner('seat-depth - liner.flange'),
    liner('liner.flange - seat-depth'),
  ],
  ['torque/reuse-length', /has necked/, reuse('109.0'), reuse('101.0')],
  ['limit/design-differs', /fitted-load/, spring('245..290'), spring('345..390')],
  ['sequence/wrong-tool', /nothing that lifts it/, heavy('88'), heavy('88', '    lift cylinder-head with "hoist"\n')],
  ['sequence/wrong-tool', /nothing that lifts it/, heavy('88'), heavy('26')],
  ['sequence/wrong-supply', /none goes there/, fuelled('sump'), fuelled('fuel-tank')],
  ['sequence/wrong-place', /goes into rear-seal-carrier/, seal('block'), seal('rear-seal-carrier')],
  ['unit/suspect', /nothing of an engine is measured at that/, pressure('800 degC'), pressure('80 degC')],
  ['unit/suspect', /past the redline/, pressure('20000 rpm'), pressure('2000 rpm')],
  ['engine/counts', /held by so few/, held(2), held(12)],
  ['engine/counts', /one belongs to each/, radial(5), radial(4)],
  [
    'torque/engagement',
    /reaches hardly/,
    bolt('length 11.2 mm\n  hole-depth 122 mm\n  joint structural\n  clamps cover to block'),
    bolt('length 112 mm\n  hole-depth 122 mm\n  joint structural\n  clamps cover to block'),
  ],
  [
    'limit/trade-range',
    /slack of a chain/,
    limit('chain-play', 'kind chain-slack\n  measured\n  within 2..5 in'),
    limit('chain-play', 'kind chain-slack\n  measured\n  within 2..5 mm'),
  ],
  ['engine/counts', /upper places/, shells(4), shells(5)],
  ['engine/counts', /each valve has its own/, valves('part valve-spring x4'), valves('part valve-spring x8')],
  [
    'engine/counts',
    /held by two/,
    valves('part collet x8 "Valve collet, half"'),
    valves('part collet x16 "Valve collet, half"'),
  ],
  // Two springs to a valve, and collets that are counted in pairs.
  [
    'engine/counts',
    /each valve has its own/,
    valves('part collet x4'),
    valves('part inner-spring x8\n\npart outer-spring x8\n\npart collet x8'),
  ],
  [
    'engine/counts',
    /one belongs to each/,
    valves('part lifter x8\n\npart pushrod x4'),
    valves('part lifter x8\n\npart pushrod x8'),
  ],
  // A bridge opens two valves with one pushrod.
  [
    'engine/counts',
    /one belongs to each/,
    valves('part rocker x4\n\npart pushrod x8'),
    valves('part rocker x4\n\npart pushrod x4'),
  ],
  [
    'engine/counts',
    /which they seal/,
    'part barrel x5\n\npart barrel-gasket x4\n',
    'part barrel x5\n\npart barrel-gasket x5\n',
  ],
  [
    'engine/counts',
    /which they seal/,
    'part liner x6\n\npart liner-o-ring x7\n',
    'part liner x6\n\npart liner-o-ring x12\n',
  ],
  ['engine/counts', /stand apart/, barrels('x1'), barrels('x2')],
  // One gasket under both heads of a block.
  ['engine/counts', /seal/, 'part liner x6\n\npart liner-seal x4\n', 'part cylinder-head x2\n\npart head-gasket\n'],
  [
    'engine/counts',
    /held by none/,
    'part block\n\npart mount {\n  places left, right\n}\nfastener mount-bolt x1 {\n  thread M10\n  joint structural\n  clamps mount to block\n}\n',
    'part block\n\npart mount {\n  places left, right\n}\nfastener mount-bolt x4 {\n  thread M10\n  joint structural\n  clamps mount to block\n}\n',
  ],
  [
    'engine/counts',
    /held by none/,
    'part block\n\npart strap x3\n\nfastener strap-bolt x2 {\n  thread M10\n  joint cover\n  clamps strap to block\n}\n',
    'part block\n\npart end-shim x3\n\npart flywheel\n\nfastener flywheel-nut x1 {\n  thread M30x1.5\n  joint structural\n  clamps flywheel, end-shim to block\n}\n',
  ],
  ['engine/impossible', /bored out to over-50/, bored('81.0'), bored('81.6')],
  [
    'torque/stages-not-rising',
    /far more/,
    bolt('joint cover\n  clamps cover to block\n  torque 24 N.m\n  retorque 42 N.m after "first run"'),
    bolt('joint cover\n  clamps cover to block\n  torque 12 N.m\n  retorque 12 N.m after "first run"'),
  ],
  [
    'torque/stages-not-rising',
    /lets go before/,
    bolt('joint cover\n  clamps cover to block\n  torque 12 N.m\n  retorque 10 N.m after "first run"'),
    bolt('joint cover\n  clamps cover to block\n  torque 12 N.m\n  retorque 14 N.m after "first run"'),
  ],
  // M12x1.25 of 92.1 mm2: 71 N.m with K 0.20 is 29.6 kN, 321 MPa; 17 N.m is 77 MPa.
  [
    'torque/over-proof',
    /A plug is tightened/,
    'fastener spark-plug x4 {\n  thread M12x1.25\n  fitted dry\n  joint plug\n  torque 71 N.m\n}\n',
    'fastener spark-plug x4 {\n  thread M12x1.25\n  fitted dry\n  joint plug\n  torque 17 N.m\n}\n',
  ],
  // M8 of 36.6 mm2: 1.0 N.m with K 0.15 is 0.83 kN, 23 MPa.
  [
    'torque/low-preload',
    /whatever its class/,
    bolt('joint structural\n  clamps cover to block\n  torque 1.0 N.m'),
    bolt('joint structural\n  clamps cover to block\n  torque 20 N.m'),
  ],
  [
    'orientation/wrong-way',
    /two-stroke piston/,
    piston('arrow', 'inlet', 'two-stroke'),
    piston('arrow', 'exhaust', 'two-stroke'),
  ],
  [
    'orientation/wrong-way',
    /bearing cap/,
    `${engine('')}${part('main-cap x5', 'orient arrow toward rear')}`,
    `${engine('')}${part('main-cap x5', 'orient arrow toward front')}`,
  ],
  [
    'orientation/wrong-way',
    /stamp of a gasket/,
    part('head-gasket', 'orient stamp toward down'),
    part('head-gasket', 'orient stamp toward up'),
  ],
  [
    'orientation/wrong-way',
    /tang of a shell/,
    `${part('crankshaft', 'feature face')}${part('main-shell x5', 'orient tang toward crankshaft.face')}`,
    `${part('block', 'feature slot')}${part('main-shell x5', 'orient tang toward block.slot')}`,
  ],
  [
    'orientation/wrong-way',
    /close coils/,
    `part rocker-cover\n\n${part('valve-spring x8', 'orient close-coils toward rocker-cover')}`,
    `part head\n\n${part('valve-spring x8', 'orient close-coils toward head')}`,
  ],
  ['orientation/missing', /Say matched/, caps(''), caps('matched\n  ')],
  ['orientation/gaps-close', /stands under second-gap/, rings(225), rings(315)],
  ['orientation/gaps-close', /over the port/, twoStrokeRing(5), twoStrokeRing(155)],
  ['valve-timing/unusual', /Parked advanced/, phaser('advanced'), phaser('retarded')],
  ['valve-timing/unusual', /both banks/, banks(24), banks(14)],
  // Two wheels of 44 teeth that touch: 2 √(44 · 44) / π + 44 is 72 pitches round them.
  ['timing/length', /a digit is missing/, belt(18), belt(138)],
];

const said = (text: string, code: string): readonly string[] => {
  const { findings } = analyseText(text);
  expect(findings.filter((each) => each.code.startsWith('syntax/')).map((each) => each.message)).toEqual([]);
  return findings.filter((each) => each.code === code).map((each) => each.message);
};

describe.each(ROWS)('%s: %s', (code, says, wrong, right) => {
  test('is told once of what is wrong', () => {
    expect(said(wrong, code).filter((message) => says.test(message))).toHaveLength(1);
  });

  test('and not of what is right', () => {
    expect(said(right, code)).toEqual([]);
  });
});

test('a note of a left-hand thread where none of the step has one', () => {
  expect(said(fan('M12'), 'torque/left-hand')).toEqual([expect.stringContaining('fan-nut has none')]);
  expect(said(fan('M12 left-hand'), 'torque/left-hand')).toEqual([expect.stringContaining('tightens anticlockwise')]);
});

test('a rod and caps in a spec that says matched of nothing are left alone', () => {
  expect(
    said(
      part('main-cap x5', 'orient arrow toward front') + part('rod x4', 'orient arrow toward front'),
      'orientation/missing',
    ),
  ).toEqual([]);
});

test('where the end with the flywheel is the front, the arrow of a cap may be told as either', () => {
  const turned = `${engine('').replace('free-end', 'flywheel-end')}${part('main-cap x5', 'orient arrow toward rear')}`;
  expect(said(turned, 'orientation/wrong-way')).toEqual([]);
});

describe('right work of which nothing is told', () => {
  test.each([
    ['limit/wear-side', 'limit oil-pressure "Oil pressure, cold"\n  measured\n  within at-most 6 bar\n'],
    ['limit/wear-side', 'limit fuel-pressure\n  measured\n  within at-most 0.3 bar\n'],
    ['engine/counts', valves('part collet x8 "Collet halves, in pairs"')],
    ['engine/counts', valves('part spring-retainer x4\n\npart valve-rotator x4')],
    // One tube for the two pushrods of a cylinder.
    ['engine/counts', 'part pushrod x4\n\npart pushrod-tube x2\n'],
    ['engine/counts', 'part barrel x4\n\npart barrel-shim x8\n\npart barrel-gasket x8\n'],
    [
      'torque/over-proof',
      'fastener bleed-screw x1 {\n  thread M6\n  class 8.8\n  fitted dry\n  joint plug\n  torque 9 N.m\n}\n',
    ],
    [
      'torque/over-proof',
      'fastener knock-sensor x1 {\n  thread M8\n  class 8.8\n  fitted dry\n  joint plug\n  torque 20 N.m\n}\n',
    ],
    ['torque/stages-not-rising', bolt('joint cover\n  clamps cover to block\n  torque 12 N.m\n  retorque 15 N.m')],
    ['limit/other-part', protrusion('highest-piston', 'max')],
    ['orientation/missing', `${caps('matched\n  ')}part piston x4 {\n  orient arrow toward front\n}\n`],
    ['valve-timing/unusual', phaser('retarded').replace('right', 'left')],
  ])('%s %#', (code, text) => {
    expect(said(text, code)).toEqual([]);
  });
});
