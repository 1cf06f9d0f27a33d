// Torques in a unit that makes no sense, engagement and bottoming.

import { describe, expect, it } from 'vitest';
import { engagement } from '../../server/mechanics/engagement.ts';
import { nutFactorFor } from '../../server/mechanics/nut-factor.ts';
import { strengthOf } from '../../server/mechanics/strength.ts';
import { parseThread } from '../../server/mechanics/threads.ts';
import { type Joint, suspectTorqueUnit } from '../../server/mechanics/torque-sense.ts';
import { type UnitId, unitOf } from '../../server/mechanics/units.ts';
import { there, written } from './numbers.ts';

const suspect = (
  value: number | string,
  unit: UnitId,
  size: string,
  className?: string,
  joint?: Joint,
  beforeAngle = false,
) => {
  const thread = there(parseThread(size));
  const strength = className === undefined ? undefined : there(strengthOf(className, thread.diameter));
  return suspectTorqueUnit({
    value: written(`${value}`),
    unit: unitOf(unit),
    thread,
    factor: nutFactorFor(undefined, 'oiled'),
    strength,
    joint,
    beforeAngle,
  });
};

describe('suspect units', () => {
  it.each<[number | string, UnitId, string, string | undefined, Joint | undefined, UnitId]>([
    [90, 'lbf.ft', 'M6', '8.8', 'structural', 'lbf.in'],
    [106, 'lbf.ft', '1/4-20 UNC', 'grade-5', undefined, 'lbf.in'],
    [120, 'lbf.ft', '1/4-28 UNF', undefined, undefined, 'lbf.in'],
    [24, 'lbf.in', 'M8', '8.8', 'structural', 'lbf.ft'],
    [35, 'lbf.in', '3/8-16 UNC', 'grade-8', 'structural', 'lbf.ft'],
    ['2.4', 'N.m', 'M8', '8.8', 'structural', 'kgf.m'],
    [3, 'kgf.cm', 'M8', '8.8', 'structural', 'kgf.m'],
    [24, 'kgf.m', 'M8', '8.8', 'structural', 'N.m'],
    [200, 'N.m', 'M8', '8.8', undefined, 'lbf.in'],
  ])('%s %s on %s %s (%s) is meant as %s', (value, unit, size, className, joint, likely) => {
    const found = there(suspect(value, unit, size, className, joint));
    expect(found).toMatchObject({ written: unit, likely });
    expect(found.shareAsWritten > 1 || found.shareAsWritten < 0.12).toBe(true);
  });

  // 30 lbf.in = 3.39 N.m on M9 (K 0.18): 3390 / (0.18 * 9) = 2.1 kN of 39.9 kN proof, 5 %; 30 lbf.ft are twelve times that.
  it('looks at a torque before an angle for too little alone', () => {
    expect(suspect(30, 'lbf.in', 'M9x1.25', '10.9', 'structural', true)).toMatchObject({ likely: 'lbf.ft' });
    expect(suspect(30, 'lbf.ft', 'M9x1.25', '10.9', 'structural', true)).toBeUndefined();
    expect(suspect(10, 'N.m', 'M11x1.5', '10.9', 'structural', true)).toBeUndefined();
    expect(suspect(30, 'lbf.in', 'M9x1.25', '10.9', 'cover', true)).toBeUndefined();
  });

  // All rows of the army table by SAE grade (TM 10-4930-247-13&P app. I, read), lbf.ft: sizes 1/4 to 9/16.
  it.each([
    ['grade-2', [6, 12, 20, 32, 47, 69]],
    ['grade-5', [10, 19, 33, 54, 78, 114]],
    ['grade-7', [13, 25, 44, 71, 110, 154]],
    ['grade-8', [14, 29, 47, 78, 119, 169]],
  ])('finds nothing wrong with the published torques of %s, whatever the joint', (className, torques) => {
    ['1/4-20', '5/16-18', '3/8-16', '7/16-14', '1/2-13', '9/16-12'].forEach((size, at) => {
      for (const joint of ['structural', 'gasketed', 'cover', undefined] as const) {
        expect(suspect(torques[at] ?? 0, 'lbf.ft', size, className, joint), `${size} ${joint}`).toBeUndefined();
        expect(suspect(torques[at] ?? 0, 'lbf.ft', size, undefined, joint), `${size} ${joint}`).toBeUndefined();
      }
    });
  });

  it('finds nothing wrong with small torques on covers and gaskets, or with plugs and tapered threads', () => {
    expect(suspect(9, 'N.m', 'M6', '8.8', 'cover')).toBeUndefined();
    expect(suspect(4, 'N.m', 'M6', undefined, 'gasketed')).toBeUndefined();
    expect(suspect(80, 'lbf.in', '1/4-20', 'grade-5', 'cover')).toBeUndefined();
    expect(suspect(2, 'lbf.ft', 'M14x1.25', undefined, 'plug')).toBeUndefined();
    expect(suspect(1, 'lbf.ft', '1/4-18 NPT')).toBeUndefined();
    expect(suspect(65, 'N.m', 'M10x1.5', '10.9', 'structural')).toBeUndefined();
  });

  it('has no opinion on a torque that makes no sense in any unit', () => {
    expect(suspect(90000, 'lbf.ft', 'M6', '8.8')).toBeUndefined();
  });
});

describe('engagement', () => {
  const thread = { diameter: 8 };

  it('bottoms where the screw is longer than clamp and hole', () => {
    expect(there(engagement({ thread, length: 40, clamped: 20, holeDepth: 18, into: 'iron' }))).toMatchObject({
      held: 18,
      spare: -2,
      bottoms: true,
      tooLittle: false,
    });
    expect(there(engagement({ thread, length: 38, clamped: 20, holeDepth: 18, into: 'iron' })).bottoms).toBe(false);
  });

  it('wants more thread in aluminium than in steel (common practice, no source)', () => {
    const asked = { thread, length: 30, clamped: 20, holeDepth: 25 };
    expect(there(engagement({ ...asked, into: 'steel' })).tooLittle).toBe(false);
    expect(there(engagement({ ...asked, into: 'aluminium' })).tooLittle).toBe(true);
    expect(there(engagement(asked)).tooLittle).toBe(false);
  });

  it('says too little of an unknown clamp only where it is sure', () => {
    expect(there(engagement({ thread, length: 40, holeDepth: 5, into: 'steel' }))).toMatchObject({
      spare: undefined,
      bottoms: false,
      tooLittle: true,
    });
    expect(there(engagement({ thread, length: 40, holeDepth: 20, into: 'steel' })).tooLittle).toBe(false);
    expect(engagement({ thread, length: 0, holeDepth: 20 })).toBeUndefined();
  });
});
