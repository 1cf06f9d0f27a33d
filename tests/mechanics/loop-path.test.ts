// The path of a belt or chain round wheels, held against the published lengths for two wheels (open and crossed), against the perimeter of
// wheels of one size, and against itself turned, mirrored and made larger.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sprocketDiameter } from '../../server/mechanics/chain.ts';
import { alongAt, loopPath, type PathWheel, pointAlong, pointAt } from '../../server/mechanics/loop-path.ts';
import { there } from './numbers.ts';

const belt = (teeth: number, pitch: number): number => (teeth * pitch) / (2 * Math.PI);

describe('two wheels', () => {
  // L = 2√(C²−(R−r)²) + π(R+r) + 2(R−r)·asin((R−r)/C), r = zP/2π: values computed from it apart, to a thousandth of a millimetre.
  it.each([
    [8, 20, 40, 200, '643.247'],
    [8, 24, 48, 250, '791.740'],
    [9.525, 20, 40, 200, '690.355'],
  ])('belt of %f mm, %i and %i teeth, %i mm apart: %s mm', (pitch, small, large, centre, length) => {
    for (const turned of [0, 37, 180, 271.5]) {
      const wheels = [
        { x: 3, y: -4, radius: belt(small, pitch) },
        { ...pointAt({ x: 3, y: -4 }, centre, turned), radius: belt(large, pitch) },
      ];
      for (const sense of ['clockwise', 'anticlockwise'] as const) {
        expect(there(loopPath(wheels, sense)).length.toFixed(3)).toBe(length);
        expect(there(loopPath([...wheels].reverse(), sense)).length.toFixed(3)).toBe(length);
      }
    }
  });

  // Links by geometry: 2√(C²−(R−r)²) + N2(½+a/π) + N1(½−a/π), true pitch radii; the usual formula is up to 0.006 short.
  it.each([
    [21, 42, 12.5, '57.3991'],
    [18, 36, 15, '57.5488'],
    [19, 38, 14, '57.1557'],
    [24, 48, 20, '76.7318'],
    [17, 34, 16, '57.9586'],
    [20, 40, 40, '110.2534'],
    [15, 45, 30, '90.7615'],
  ])('chain over %i and %i teeth, %f pitches apart: %s links', (small, large, centre, links) => {
    const teeth = [small, large];
    const path = there(
      loopPath(
        teeth.map((each, i) => ({ x: i * centre, y: 0, radius: there(sprocketDiameter(each)) / 2 })),
        'clockwise',
      ),
    );
    const onWheels = path.arcs.reduce((all, arc, i) => all + (arc.wrap / 360) * (teeth[i] ?? 0), 0);
    const straight = path.runs.reduce((all, run) => all + run.length, 0);
    expect((onWheels + straight).toFixed(4)).toBe(links);
  });

  // Crossed belt: L = 2√(C²−(R+r)²) + (R+r)(π + 2·asin((R+r)/C)). Shigley, Machinery's Handbook, from memory.
  it.each([
    [10, 25, 80],
    [30, 30, 100],
  ])('crossed: radii %i and %i, %i apart', (r, R, C) => {
    const path = there(
      loopPath(
        [
          { x: 0, y: 0, radius: r },
          { x: C, y: 0, radius: R, onBack: true },
        ],
        'clockwise',
      ),
    );
    const published = 2 * Math.sqrt(C ** 2 - (R + r) ** 2) + (R + r) * (Math.PI + 2 * Math.asin((R + r) / C));
    expect(path.length).toBeCloseTo(published, 9);
    expect(path.turns).toBe(0);
  });

  it('has no path where one wheel lies in the other, nor round one alone', () => {
    expect(
      loopPath(
        [
          { x: 0, y: 0, radius: 40 },
          { x: 10, y: 0, radius: 20 },
        ],
        'clockwise',
      ),
    ).toBeUndefined();
    expect(loopPath([{ x: 0, y: 0, radius: 40 }], 'clockwise')).toBeUndefined();
    expect(
      loopPath(
        [
          { x: 0, y: 0, radius: 4 },
          { x: 0, y: 0, radius: 4 },
        ],
        'clockwise',
      ),
    ).toBeUndefined();
  });
});

/** Wheels of one size at the corners of a polygon that bulges everywhere, going round clockwise. */
const corners = fc
  .tuple(
    fc.integer({ min: 3, max: 9 }),
    fc.double({ min: 0, max: 359, noNaN: true }),
    fc.double({ min: 1, max: 20, noNaN: true }),
  )
  .map(([count, turned, radius]) =>
    Array.from(
      { length: count },
      (_none, i): PathWheel => ({ ...pointAt({ x: 5, y: 9 }, 100, turned + (360 * i) / count), radius }),
    ),
  );

describe('many wheels', () => {
  it('of one size: the way from centre to centre and once round a wheel', () => {
    fc.assert(
      fc.property(corners, (wheels) => {
        const path = there(loopPath(wheels, 'clockwise'));
        const centres = wheels.reduce((all, wheel, i) => {
          const next = wheels[(i + 1) % wheels.length] ?? wheel;
          return all + Math.hypot(next.x - wheel.x, next.y - wheel.y);
        }, 0);
        expect(path.length).toBeCloseTo(centres + 2 * Math.PI * (wheels[0]?.radius ?? 0), 6);
        expect(path.turns).toBe(1);
      }),
      { numRuns: 60, seed: 20260304 },
    );
  });

  it('an idler on the back: each run touches both wheels at a right angle to their spokes, and the arcs add up to one turn', () => {
    const wheels: readonly PathWheel[] = [
      { x: 0, y: 0, radius: 30 },
      { x: -70, y: 110, radius: 14, onBack: true },
      { x: -120, y: 230, radius: 60 },
      { x: 120, y: 230, radius: 60 },
    ];
    const path = there(loopPath(wheels, 'clockwise'));
    expect(path.turns).toBe(1);
    expect(path.arcs.reduce((all, arc) => all + (arc.clockwise ? arc.wrap : -arc.wrap), 0)).toBeCloseTo(360, 9);
    for (const [i, run] of path.runs.entries()) {
      const along = { x: run.to.x - run.from.x, y: run.to.y - run.from.y };
      for (const [wheel, touch] of [
        [wheels[i], run.from],
        [wheels[(i + 1) % wheels.length], run.to],
      ] as const) {
        const spoke = { x: touch.x - there(wheel).x, y: touch.y - there(wheel).y };
        expect(Math.hypot(spoke.x, spoke.y)).toBeCloseTo(there(wheel).radius, 9);
        expect(spoke.x * along.x + spoke.y * along.y).toBeCloseTo(0, 6);
      }
      expect(Math.hypot(along.x, along.y)).toBeCloseTo(run.length, 9);
    }
    // Wheels inside lie on the right of a loop that goes round clockwise, one on its back on the left.
    const side = (i: number): number => {
      const [run, wheel] = [there(path.runs[i]), there(wheels[i])];
      return (run.to.x - run.from.x) * (wheel.y - run.from.y) - (run.to.y - run.from.y) * (wheel.x - run.from.x);
    };
    expect([0, 1, 2, 3].map((i) => Math.sign(side(i)))).toEqual([-1, 1, -1, -1]);
  });

  it('the mirror image goes round the other way, as long, touch for touch', () => {
    fc.assert(
      fc.property(corners, (wheels) => {
        const path = there(loopPath(wheels, 'clockwise'));
        const mirrored = there(
          loopPath(
            wheels.map((wheel) => ({ ...wheel, x: -wheel.x })),
            'anticlockwise',
          ),
        );
        expect(mirrored.length).toBeCloseTo(path.length, 9);
        for (const [i, run] of path.runs.entries()) {
          expect(mirrored.runs[i]?.from.x).toBeCloseTo(-run.from.x, 9);
          expect(mirrored.runs[i]?.from.y).toBeCloseTo(run.from.y, 9);
        }
      }),
      { numRuns: 30, seed: 20260304 },
    );
  });
});

describe('a point along the path', () => {
  const wheels: readonly PathWheel[] = [
    { x: 0, y: 0, radius: 30 },
    { x: -70, y: 110, radius: 14, onBack: true },
    { x: -120, y: 230, radius: 60 },
    { x: 120, y: 230, radius: 60 },
  ];
  it.each(['clockwise', 'anticlockwise'] as const)(
    'moves as far as it is told, and is where a mark is: %s',
    (sense) => {
      const own = sense === 'clockwise' ? wheels : wheels.map((wheel) => ({ ...wheel, x: -wheel.x }));
      const path = there(loopPath(own, sense));
      let [walked, before] = [0, there(pointAlong(path, 0))];
      for (let step = 1; step <= 4000; step += 1) {
        const next = there(pointAlong(path, (path.length * step) / 4000));
        walked += Math.hypot(next.x - before.x, next.y - before.y);
        before = next;
      }
      expect(walked).toBeCloseTo(path.length, 2);
      const [last] = own.slice(-1);
      const at = there(alongAt(path, 3, 0));
      const point = there(pointAlong(path, at));
      expect(point.x).toBeCloseTo(there(last).x, 6);
      expect(point.y).toBeCloseTo(there(last).y + 60, 6);
      expect(alongAt(path, 0, 0)).toBeUndefined();
      expect(there(pointAlong(path, at + path.length)).x).toBeCloseTo(point.x, 6);
    },
  );
});
