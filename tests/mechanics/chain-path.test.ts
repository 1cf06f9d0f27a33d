// The way of a chain round several wheels: held against the sums for two wheels, against a stretched string round circles made of many
// points (a convex hull, nothing of the project in it), and against sums by hand.
import { describe, expect, it } from 'vitest';
import { beltLength, chainLength, linksBetweenMarks } from '../../server/mechanics/chain.ts';
import { linksBetween, type PlacedWheel, pathRound } from '../../server/mechanics/chain-path.ts';
import { there } from './numbers.ts';

/** Length of a string pulled tight round circles: their points' hull (Andrew's monotone chain). */
function stringRound(circles: readonly { x: number; y: number; r: number }[]): number {
  const points = circles
    .flatMap(({ x, y, r }) =>
      Array.from({ length: 3600 }, (_, i) => {
        const at = (i / 3600) * 2 * Math.PI;
        return [x + r * Math.cos(at), y + r * Math.sin(at)] as const;
      }),
    )
    .sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: readonly (readonly [number, number])[]): (readonly [number, number])[] => {
    const hull: (readonly [number, number])[] = [];
    for (const point of list) {
      for (;;) {
        const [b, a] = [hull[hull.length - 1], hull[hull.length - 2]];
        if (a === undefined || b === undefined) break;
        if ((b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0]) > 0) break;
        hull.pop();
      }
      hull.push(point);
    }
    return hull;
  };
  const hull = [...half(points).slice(0, -1), ...half([...points].reverse()).slice(0, -1)];
  return hull.reduce((sum, [x, y], i) => {
    const next = hull[(i + 1) % hull.length];
    return next === undefined ? sum : sum + Math.hypot(next[0] - x, next[1] - y);
  }, 0);
}

describe('two wheels', () => {
  it.each([
    [18, 36, 14.2, 0],
    [20, 63, 35.6, 77],
    [30, 30, 20, 200],
  ])('%i and %i teeth come to what the sums for two say', (first, second, centre, direction) => {
    const at = (direction * Math.PI) / 180;
    const wheels: readonly PlacedWheel[] = [
      { teeth: first, right: 0, up: 0 },
      { teeth: second, right: centre * Math.sin(at), up: centre * Math.cos(at) },
    ];
    expect(there(pathRound('chain', wheels)).length).toBeCloseTo(there(chainLength(first, second, centre)), 9);
    expect(there(pathRound('belt', wheels)).length).toBeCloseTo(there(beltLength(first, second, centre)), 9);
    const path = there(pathRound('chain', wheels));
    const links = Math.ceil(path.length) + 1;
    const marks = { firstMark: direction + 180, secondMark: direction + 10 };
    const two = linksBetweenMarks({ kind: 'chain', first, second, centre, direction, ...marks, links });
    const many = linksBetween(
      path,
      wheels,
      links,
      { wheel: 0, mark: marks.firstMark },
      { wheel: 1, mark: marks.secondMark },
    );
    expect(there(many).least).toBeCloseTo(there(two).least, 9);
    expect(there(many).most).toBeCloseTo(there(two).most, 9);
  });
});

describe('three wheels and more', () => {
  // Belts: their pitch circles are what a string lies on.
  it.each<[string, readonly PlacedWheel[]]>([
    [
      'crank and two cams',
      [
        { teeth: 20, right: 0, up: 0 },
        { teeth: 40, right: -9, up: 22 },
        { teeth: 40, right: 9, up: 22 },
      ],
    ],
    [
      'four unlike',
      [
        { teeth: 18, right: 0, up: 0 },
        { teeth: 24, right: -14, up: 6 },
        { teeth: 36, right: -5, up: 24 },
        { teeth: 30, right: 13, up: 11 },
      ],
    ],
  ])('%s, against a string', (_, wheels) => {
    const circles = wheels.map(({ teeth, right, up }) => ({ x: right, y: up, r: teeth / (2 * Math.PI) }));
    expect(there(pathRound('belt', wheels)).length).toBeCloseTo(stringRound(circles), 3);
  });

  // Three wheels of 30 teeth in a triangle of 40 pitches a side: three runs of 40 and a third of 30 on each wheel make 150. From the
  // middle of one wheel's contact to the middle of the next lie 40 and two halves of 10: 50.
  it('a triangle by hand', () => {
    const up = 40 * Math.sin(Math.PI / 3);
    const wheels: readonly PlacedWheel[] = [
      { teeth: 30, right: -20, up: 0 },
      { teeth: 30, right: 0, up },
      { teeth: 30, right: 20, up: 0 },
    ];
    const path = there(pathRound('chain', wheels));
    expect(path.length).toBeCloseTo(150, 9);
    const marks = [240, 0, 120];
    for (const [from, to] of [
      [0, 1],
      [1, 2],
      [2, 0],
    ] as const) {
      const range = linksBetween(
        path,
        wheels,
        150,
        { wheel: from, mark: marks[from] ?? 0 },
        { wheel: to, mark: marks[to] ?? 0 },
      );
      expect(there(range).least).toBeCloseTo(50, 9);
      expect(there(range).most).toBeCloseTo(50, 9);
    }
    // The other way round is no clockwise order; a mark that looks into the triangle is on no chain.
    expect(pathRound('chain', [...wheels].reverse())).toBeUndefined();
    expect(linksBetween(path, wheels, 150, { wheel: 0, mark: 60 }, { wheel: 1, mark: 0 })).toBeUndefined();
  });

  // A smooth idler pressed in from outside between two wheels of 30 that lie 40 apart, its top 3 pitches into the lower run: the belt
  // leaves each wheel sooner. Two runs of √(20² + …) by Pythagoras over the crossed tangent.
  it('an idler on the back of the belt', () => {
    const wheels: readonly PlacedWheel[] = [
      { teeth: 30, right: -20, up: 0 },
      { teeth: 30, right: 20, up: 0 },
      { teeth: 15, right: 0, up: -4, outside: true },
    ];
    const path = there(pathRound('belt', wheels));
    const [radius, small] = [30 / (2 * Math.PI), 15 / (2 * Math.PI)];
    const distance = Math.hypot(20, 4);
    const run = Math.sqrt(distance ** 2 - (radius + small) ** 2);
    // Lean of the crossed tangent against the line of centres, and that line against the level.
    const lean = Math.asin((radius + small) / distance) - Math.atan2(4, 20);
    const arcs = 2 * radius * (Math.PI / 2 + Math.PI / 2 + lean) + 2 * small * lean;
    expect(path.length).toBeCloseTo(40 + 2 * run + arcs, 6);
  });
});
