// Facts of the trade about timing, and the rehearsal's marks and links against plain turning, degree by degree.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { toNumber } from '../../server/mechanics/exact.ts';
import { workOutDrive } from '../../server/model/drive-sums.ts';
import { analyseText } from '../annotated.ts';
import { type Chain, found, timingSide } from './work.ts';

const PROVED = 'rotate crankshaft 2 turns\nconfirm cam-drive by marks\n';

const chains = fc
  .record({ crank: fc.integer({ min: 9, max: 30 }), links: fc.integer({ min: 20, max: 75 }) })
  .map(({ crank, links }): Chain => ({ crank, cam: 2 * crank, links: 2 * links }));

describe('common practice, no source', () => {
  const chain: Chain = { crank: 18, cam: 36, links: 56 };

  test('a four-stroke camshaft is back after two turns of the crankshaft', () => {
    expect(found(timingSide(chain, PROVED))).toEqual([]);
  });

  test('and not after one', () => {
    expect(found(timingSide(chain, 'rotate crankshaft 1 turn\nconfirm cam-drive by marks'))).toEqual([
      'sequence/not-a-cycle: confirm cam-drive by marks',
    ]);
  });

  test('marked links are back after two turns only where the links are once or twice the teeth of the crankshaft sprocket', () => {
    fc.assert(
      fc.property(chains, (each) => {
        fc.pre(each.links > each.crank);
        const codes = found(timingSide(each, `${PROVED}confirm cam-drive by links`));
        const back = each.links === each.crank || each.links === 2 * each.crank;
        expect(codes).toEqual(back ? [] : ['sequence/links-moved: confirm cam-drive by links']);
        if (each.links % each.crank !== 0) expect(codes).not.toEqual([]);
      }),
      { seed: 18, numRuns: 60 },
    );
  });

  test('one tooth on the camshaft sprocket is 720 divided by its teeth, in degrees of the crankshaft', () => {
    fc.assert(
      fc.property(chains, (each) => {
        const [view] = analyseText(timingSide(each, PROVED)).views;
        const [drive] = view?.drives ?? [];
        if (view === undefined || drive === undefined) throw new Error('no drive');
        const tooth = workOutDrive(drive, view).oneTooth;
        expect(tooth === undefined ? undefined : toNumber(tooth)).toBeCloseTo(720 / each.cam, 9);
      }),
      { seed: 720, numRuns: 20 },
    );
  });

  test('an idler on the back of a belt changes nothing for the shafts; one that drives from its back turns its shaft the other way', () => {
    const belt = (wheels: string, work: string): string =>
      timingSide(chain, work)
        .replace('chain timing-chain over crank-sprocket, cam-sprocket', `belt timing-chain over ${wheels}`)
        .replace('links 56', 'teeth 110')
        .replace(
          'part block\n',
          "part block\npart idler\npart pump\npart pump-wheel { teeth 18 fixed-to pump mark dot at 12 o'clock }\n",
        )
        .replace('starts-with block,', 'starts-with block, idler, pump, pump-wheel,')
        .replace('  marked-link 1 at crank-sprocket.dot\n', '');
    expect(found(belt('crank-sprocket, cam-sprocket, idler on-back', PROVED))).toEqual([]);
    const wheels = 'crank-sprocket, cam-sprocket, pump-wheel on-back';
    // A quarter turn forward brings the mark of a wheel on the back from 12 to 9 o'clock, by hand at the pump or at the crankshaft.
    const after = (turn: string, clock: number): readonly string[] =>
      found(belt(wheels, `${PROVED}${turn}\nconfirm pump-wheel.dot at ${clock} o'clock`));
    expect(after('rotate crankshaft 90 deg clockwise', 9)).toEqual([]);
    expect(after('rotate crankshaft 90 deg clockwise', 3)).toEqual([
      "sequence/not-in-time: confirm pump-wheel.dot at 3 o'clock",
    ]);
    expect(after('rotate pump 90 deg anticlockwise', 9)).toEqual([]);
    expect(after('rotate pump 90 deg clockwise', 3)).toEqual([]);
  });

  test('two drives in a row: the second turns at the speed of the first times its own ratio', () => {
    const row = timingSide(
      chain,
      "rotate crankshaft 2 turns\nconfirm cam-drive by marks\nconfirm pump-drive by marks\nrotate crankshaft 120 deg clockwise\nconfirm pump-gear.dot at 8 o'clock",
    )
      .replace(
        'drive cam-drive',
        "part pump\npart cam-gear { teeth 40 fixed-to camshaft mark dot at 6 o'clock }\npart pump-gear { teeth 20 fixed-to pump mark dot at 12 o'clock }\ndrive pump-drive {\n  mesh cam-gear with pump-gear\n  marks-agree at tdc 1 on compression\n}\ndrive cam-drive",
      )
      .replace('crankshaft, camshaft\n', 'crankshaft, camshaft, pump\n')
      .replace('align cam-drive\n', 'align cam-drive\n    fit cam-gear, pump-gear together\n    align pump-drive\n');
    // 120 at the crankshaft is 60 at the camshaft and 120 the other way at the pump: 12 o'clock less four hours.
    expect(found(row)).toEqual([]);
    expect(found(row.replace("at 8 o'clock", "at 4 o'clock"))).toEqual([
      "sequence/not-in-time: confirm pump-gear.dot at 4 o'clock",
    ]);
  });
});

interface Turned {
  readonly degrees: number;
  readonly back: boolean;
}

/** The chain moved on tooth by tooth, in parts of a link, and the crankshaft with it. */
function plainTurning(
  { crank, links }: Chain,
  turns: readonly Turned[],
): { readonly links: number; readonly crank: number } {
  let passed = 0;
  let angle = 0;
  for (const { degrees, back } of turns) {
    for (let i = 0; i < degrees; i += 1) {
      passed = (passed + (back ? -crank : crank) + links * 360) % (links * 360);
      angle = (angle + (back ? -1 : 1) + 720) % 720;
    }
  }
  return { links: passed / 360, crank: angle };
}

const turnings = fc.array(
  fc.record({ degrees: fc.integer({ min: 1, max: 120 }).map((each) => each * 90), back: fc.boolean() }),
  { minLength: 1, maxLength: 4 },
);

const inWords = (turns: readonly Turned[]): string =>
  turns
    .map(({ degrees, back }) => `rotate crankshaft ${degrees} deg ${back ? 'anticlockwise' : 'clockwise'}\n`)
    .join('');

describe('against plain turning', () => {
  test('marked links are at their marks when the chain and both shafts are, and else the finding says how many links on', () => {
    fc.assert(
      fc.property(chains, turnings, (chain, turns) => {
        const text = timingSide(chain, `${inWords(turns)}confirm cam-drive by links`);
        const finding = analyseText(text).findings.find((each) => each.code === 'sequence/links-moved');
        const stands = plainTurning(chain, turns);
        expect(finding === undefined).toBe(stands.links === 0 && stands.crank === 0);
        if (finding !== undefined && Number.isInteger(stands.links))
          expect(finding.message).toContain(`they stand ${stands.links} of ${chain.links} links on`);
      }),
      { seed: 56, numRuns: 150 },
    );
  });

  test('marks agree after whole cycles, the camshaft is half a turn out after one turn, the crankshaft is out elsewhere', () => {
    fc.assert(
      fc.property(chains, turnings, (chain, turns) => {
        // That it is turned the wrong way round is said of its own.
        const codes = found(timingSide(chain, `${inWords(turns)}confirm cam-drive by marks`)).filter(
          (each) => !each.startsWith('sequence/backwards'),
        );
        const { crank } = plainTurning(chain, turns);
        const total = turns.reduce((sum, { degrees }) => sum + degrees, 0);
        const line = 'confirm cam-drive by marks';
        if (crank === 360) expect(codes).toEqual([`sequence/not-a-cycle: ${line}`]);
        else if (crank !== 0) expect(codes).toEqual([`sequence/not-in-time: ${line}`]);
        else expect(codes.filter((each) => !each.startsWith('sequence/timing-not-proved'))).toEqual([]);
        // Less than two turns in all prove nothing, though the marks agree.
        if (crank === 0) expect(codes.length === 0).toBe(total >= 720);
      }),
      { seed: 36, numRuns: 150 },
    );
  });

  test('a mark of the crankshaft or the camshaft can be confirmed where plain turning brings it, and nowhere else', () => {
    fc.assert(
      fc.property(chains, turnings, fc.integer({ min: 0, max: 11 }), (chain, turns, hour) => {
        const { crank } = plainTurning(chain, turns);
        const at = (stated: number, speed: number): number => (stated + crank * speed) % 360;
        const confirm = (mark: string): string => `${inWords(turns)}confirm ${mark} at ${hour * 30} deg`;
        const isOut = (mark: string): boolean =>
          found(timingSide(chain, confirm(mark))).some((each) => each.startsWith('sequence/not-in-time'));
        expect(isOut('crankshaft.keyway')).toBe(Math.abs(at(45, 1) - hour * 30) > 1);
        expect(isOut('camshaft.dowel')).toBe(Math.abs(at(90, 0.5) - hour * 30) > 1);
      }),
      { seed: 45, numRuns: 60 },
    );
  });
});

// x = r(1 − cos θ) + l − √(l² − r² sin² θ), with r = 41.6 mm and l = 138 mm, by hand: 1.900 mm at 15.25 degrees, 5.90 mm at 27.2.
test('how far the piston is from its dead centre is worked out through the crank and the rod', () => {
  const said = readFileSync(join(import.meta.dirname, '../model/said/work.fettle'), 'utf8');
  const text = said.replace('set crankshaft at 1.9 mm btdc 1', 'set crankshaft at 5.9 mm btdc 1');
  expect(text).not.toBe(said);
  const found = analyseText(text).findings.find((each) => each.code === 'sequence/not-timed');
  expect(found?.message).toMatch(/15\.3 deg before top dead centre 1 .* it stands 27\.2 deg before/);
});
