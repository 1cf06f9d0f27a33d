// Mistakes of the bench put into whole samples as a builder writes them, each with the one finding that it must give. Common practice, no
// source, but for what the spec says itself.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { found } from './work.ts';

const folder = join(import.meta.dirname, '../../samples');
const files = Object.fromEntries(
  readdirSync(folder)
    .filter((name) => name.endsWith('.fettle'))
    .map((name) => [name, readFileSync(join(folder, name), 'utf8')]),
);

/** Lines, without their indent, and what stands in their place; behind the first line that has `after` in it, where that is said. */
interface Change {
  readonly after?: string;
  readonly from: string;
  readonly to: string;
}

const is = (from: string, to: string, after?: string): Change => ({
  from,
  to,
  ...(after === undefined ? {} : { after }),
});

function changed(text: string, { after, from, to }: Change): string {
  const start = after === undefined ? 0 : text.indexOf(after);
  const lines = from.split('\n').map((line) => `\n *${line.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}`);
  const match = new RegExp(`${lines.join('')}(?=\n)`).exec(text.slice(start));
  if (start < 0 || match === null) throw new Error(`not there: ${after ?? ''} ${from}`);
  const at = start + match.index;
  return `${text.slice(0, at)}${to === '' ? '' : `\n${to}`}${text.slice(at + match[0].length)}`;
}

const wrong = (sample: string, changes: readonly Change[]): readonly string[] =>
  found(changes.reduce(changed, files[`${sample}.fettle`] ?? ''), files).map((each) => each.replace(/^sequence\//, ''));

type Row = readonly [sample: string, what: string, changes: readonly Change[], finding: string];

const SHAFTS: readonly Row[] = [
  [
    'inline-four',
    'a camshaft set to another clock than its mark',
    [is("set camshaft with dowel at 4 o'clock", "set camshaft with dowel at 8 o'clock")],
    "not-in-time: set camshaft with dowel at 8 o'clock",
  ],
  [
    'inline-four',
    'a camshaft set otherwise in another job',
    [is("set camshaft with dowel at 4 o'clock", "set camshaft with dowel at 2 o'clock", 'step new-camshaft-in')],
    "not-in-time: set camshaft with dowel at 2 o'clock",
  ],
  [
    'vee-six',
    'one of four camshafts',
    [is("set right-exhaust-camshaft with dowel at 10 o'clock", "set right-exhaust-camshaft with dowel at 2 o'clock")],
    "not-in-time: set right-exhaust-camshaft with dowel at 2 o'clock",
  ],
  [
    'white-metal-four',
    'a keyway half a turn out',
    [is("set camshaft with keyway at 6 o'clock", "set camshaft with keyway at 12 o'clock")],
    "not-in-time: set camshaft with keyway at 12 o'clock",
  ],
];

const ORDER: readonly Row[] = [
  [
    'vee-six',
    'the backplate after the pulleys before it',
    [
      is('fit backplate onto block\ntighten backplate-bolt', ''),
      is('step fit-belt {', 'step fit-belt {\nfit backplate onto block\ntighten backplate-bolt'),
    ],
    'covered: fit backplate onto block',
  ],
  [
    'inline-four',
    'the carrier of the rear seal after the sump',
    [
      is('fit rear-seal-carrier onto block\ntighten rear-carrier-bolt', ''),
      is('step fit-flywheel {', 'step fit-flywheel {\nfit rear-seal-carrier onto block\ntighten rear-carrier-bolt'),
    ],
    'covered: fit rear-seal-carrier onto block',
  ],
  [
    'gear-six',
    'the small-end bush after the pin, on the bench',
    [
      is('fit rod-bush into connecting-rod by press', ''),
      is('step fit-jets {', 'step fit-jets {\nfit rod-bush into connecting-rod by press'),
    ],
    'covered: fit rod-bush into connecting-rod by press',
  ],
  [
    'flat-four',
    'tubes when the heads are on',
    [
      is('fit tube onto left-case', ''),
      is('fit cylinder-head onto barrel', 'fit cylinder-head onto barrel\nfit tube onto left-case'),
    ],
    'covered: fit tube onto left-case',
  ],
  [
    'flat-four',
    'eight lifters in a half that has four bores',
    [is('fit lifter 5..8 into left-case', 'fit lifter 5..8 into right-case')],
    'wrong-place: fit lifter 1..4 into right-case',
  ],
  [
    'flat-four',
    'locknuts tight before the lash is set',
    [is('secure adjuster', ''), is('tighten rocker-nut', 'tighten rocker-nut\nsecure adjuster')],
    'held-fast: adjust valve-lash by "screw and locknut"',
  ],
  [
    'gear-six',
    'a liner that is not pushed home',
    [is('push-home liner', '')],
    'left-open: fit liner into block part-way 12 mm',
  ],
];

const TURNS: readonly Row[] = [
  [
    'flat-four',
    'the small nuts to the end before the large ones',
    [is('tighten case-nut-large, case-nut-small', 'tighten case-nut-small\ntighten case-nut-large')],
    'out-of-turn: tighten case-nut-small',
  ],
  [
    'launch-eight',
    'the short bolts of the edge before the long ones',
    [
      is('tighten head-bolt-long stage 1\ntighten head-bolt-short stage 1', ''),
      is('tighten head-bolt-long stage 2\ntighten head-bolt-short stage 2', ''),
      is('tighten head-bolt-long\ntighten head-bolt-short', 'tighten head-bolt-short\ntighten head-bolt-long'),
    ],
    'out-of-turn: tighten head-bolt-short',
  ],
  [
    'gear-six',
    'a pump bled before its fuel goes in',
    [
      is(
        'fill injection-pump with diesel-fuel 2 L\nbleed injection-pump',
        'bleed injection-pump\nfill injection-pump with diesel-fuel 2 L',
      ),
    ],
    'not-bled: bleed injection-pump',
  ],
];

const LATE: readonly Row[] = [
  [
    'white-metal-four',
    'big ends measured behind the sump',
    [
      is('measure rod-clearance with "dial gauge and lever"', ''),
      is('tighten sump-screw', 'tighten sump-screw\nmeasure rod-clearance with "dial gauge and lever"'),
    ],
    'measured-late: measure rod-clearance with "dial gauge and lever"',
  ],
  [
    'radial-five',
    'lash under its covers',
    [
      is('fit rocker-cover onto cylinder-head', ''),
      is('step set-lash {', 'step set-lash {\nfit rocker-cover onto cylinder-head'),
    ],
    'covered: adjust lash by "screw and locknut"',
  ],
  [
    'two-stroke-twin',
    'ring gaps with the barrels on',
    [
      is('measure ring-gap with "feeler gauge"', '', 'step new-rings'),
      is('tighten barrel-nut', 'tighten barrel-nut\nmeasure ring-gap with "feeler gauge"', 'step barrels-on'),
    ],
    'measured-late: measure ring-gap with "feeler gauge"',
  ],
  [
    'gear-six',
    'seats cut with the liners in',
    [is('step lay-crankshaft {', 'step lay-crankshaft {\nmachine block.liner-seat by "seat cutter"')],
    'machined-late: machine block.liner-seat by "seat cutter"',
  ],
  [
    'white-metal-four',
    'valves ground in with their springs on',
    [
      is(
        'fit cotter onto spring-cup',
        'fit cotter onto spring-cup\nmachine block.valve-seat by "grinding in"',
        'step put-on',
      ),
    ],
    'machined-late: machine block.valve-seat by "grinding in"',
  ],
  [
    'inline-four',
    'the face cleaned with the new gasket on it',
    [is('fit head-gasket onto block', 'fit head-gasket onto block\nclean block with cleaner', 'step fit-head')],
    'covered: clean block with cleaner',
  ],
  [
    'gear-six',
    'lapping paste not washed off the valves',
    [is('clean valve with degreaser', '')],
    'not-cleaned: fit valve into cylinder-head',
  ],
  [
    'white-metal-four',
    'grinding paste not washed off block and valves',
    [is('clean block, valve with degreaser', 'clean valve with degreaser')],
    'not-cleaned: fit valve into block',
  ],
  [
    'white-metal-four',
    'lash not set when the valves were out',
    [is('adjust lash by "screw and locknut"\nmeasure lash with "feeler gauge"', '', 'step put-on')],
    'not-measured: fit valve into block',
  ],
];

const RUN: readonly Row[] = [
  [
    'flat-four',
    'run with a rag in the exhaust',
    [
      is('plug exhaust-box.outlet with "oiled rag, on a red ribbon"', ''),
      is('step preserve {', 'step preserve {\nplug exhaust-box.outlet with "oiled rag"'),
    ],
    'left-open: run engine at 1500 rpm under no-load for 5 min',
  ],
  [
    'race-four',
    'tightened again after eight minutes',
    [is('wait 8 h', 'wait 8 min')],
    'retorque-heat: tighten head-nut again',
  ],
  [
    'inline-four',
    'gallons for litres',
    [
      is(
        'when tourer { fill sump with running-in-oil 4.2 L }',
        'when tourer { fill sump with running-in-oil 4.2 US-gal }',
      ),
    ],
    'unit/amount: when tourer { fill sump with running-in-oil 4.2 US-gal }',
  ],
];

const RECORDS: readonly Row[] = [
  [
    'build-102',
    'a shim of the wrong grade at one place',
    [is('fitted liner-shim 3 grade shim-35', 'fitted liner-shim 3 grade shim-30')],
    'record/wrong-grade: fitted liner-shim 3 grade shim-30',
  ],
  [
    'build-102',
    'a gasket chosen by the highest of the measured pistons',
    [is('fitted head-gasket grade one-notch', 'fitted head-gasket grade two-notch')],
    'record/wrong-grade: fitted head-gasket grade two-notch',
  ],
  [
    'build-102',
    'a log that says its speed among its readings',
    [
      is(
        'log 2026-03-20 11:05 oil-pressure 3.4 bar, speed 2000 rpm,',
        'log 2026-03-20 11:05 oil-pressure 1.4 bar, speed 2000 rpm,',
      ),
    ],
    'record/outside: log 2026-03-20 11:05 oil-pressure 1.4 bar, speed 2000 rpm,',
  ],
  [
    'build-102',
    'three readings where four are asked for',
    [
      is(
        'measured liner-bore 1: 101.708, 101.711, 101.709, 101.706 mm,',
        'measured liner-bore 1: 101.708, 101.711, 101.709 mm,',
      ),
    ],
    'record/outstanding: signed "RT" on 2026-03-21',
  ],
  [
    'build-061',
    'one day written wrong, twelve steps behind it',
    [is('done lay-crankshaft on 2026-02-18 by "RT"', 'done lay-crankshaft on 2026-02-21 by "RT"')],
    'record/order: done lay-crankshaft on 2026-02-21 by "RT"',
  ],
];

const FIGURES: readonly Row[] = [
  [
    'gear-six',
    'the shims of two grades crossed',
    [
      is(
        'shim-30 10.20..10.25 mm with thickness 0.30 mm\nshim-35 10.25..10.30 mm with thickness 0.35 mm',
        'shim-30 10.20..10.25 mm with thickness 0.30 mm\nshim-35 10.25..10.30 mm with thickness 0.53 mm',
      ),
    ],
    // 10.01 + 0.53 - 10.275 = 0.265 mm, of 0.05 to 0.12.
    'limit/grade-outside: shim-35 10.25..10.30 mm with thickness 0.53 mm',
  ],
  [
    'race-four',
    'a shell of another colour',
    [is('red 3.030..3.040 mm with shell-wall 1.492 mm', 'red 3.030..3.040 mm with shell-wall 1.502 mm')],
    // 3.035 - 2 * 1.502 = 0.031 mm, of 0.045 to 0.057.
    'limit/grade-outside: red 3.030..3.040 mm with shell-wall 1.502 mm',
  ],
  [
    'belt-diesel',
    'pistons that stand proud written as if they stood down',
    [is('within 0.68..0.92 mm', 'within -0.92..-0.68 mm')],
    'limit/design-differs: within -0.92..-0.68 mm',
  ],
  [
    'flat-four',
    'a chamber ten times too large',
    [is('within 46.0..47.0 cc', 'within 460..470 cc')],
    'limit/design-differs: within 460..470 cc',
  ],
  [
    'gear-six',
    'a stretch bolt that even new is too long',
    [is('reuse to 71.40 mm', 'reuse to 70.40 mm')],
    'torque/reuse-length: reuse to 70.40 mm',
  ],
  [
    'flat-four',
    'a rocker ratio whose point slipped',
    [is('rocker-ratio 1.1:1', 'rocker-ratio 11:1')],
    'valve-timing/unusual: rocker-ratio 11:1',
  ],
  [
    'inline-four',
    'a gasket ten times too thick, said once for all that rests on it',
    [is('gasket-thickness 0.95 mm', 'gasket-thickness 9.5 mm')],
    'limit/outside: within 0.90..1.15 mm',
  ],
  [
    'inline-four',
    'two digits of a compression height crossed',
    [is('compression-height 38.20 mm', 'compression-height 32.80 mm')],
    'limit/outside: within 0.00..0.20 mm',
  ],
  ['inline-four', 'a tooth too few', [is('teeth 42', 'teeth 41')], 'timing/ratio: ratio crankshaft to camshaft 2:1'],
];

describe.each([
  ['shafts that are set where their marks do not stand', SHAFTS],
  ['what goes on too late, or in the wrong place', ORDER],
  ['what is measured, set or cut too late', LATE],
  ['what is found at the run', RUN],
  ['turns', TURNS],
  ['records', RECORDS],
  ['figures', FIGURES],
])('%s', (_name, rows) => {
  test.each(rows)('%s: %s', (sample, _what, changes, finding) => {
    expect(wrong(sample, changes)).toEqual([finding]);
  });
});
