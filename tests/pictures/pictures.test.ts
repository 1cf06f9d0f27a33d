// The pictures, held by their numbers: where wheels, marks and links lie against lengths worked out apart and against the rehearsal, gaps,
// bolts and events against the spec. And what holds for all: a title, words for those who can't see it, no text that is more than text.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { beltLength, chainLength } from '../../server/mechanics/chain.ts';
import { PICTURES, pictureOf } from '../../server/pictures/catalog.ts';
import type { Picture } from '../../server/pictures/drawing.tsx';
import { cylinderPlaces } from '../../server/pictures/engine-map.tsx';
import { faceOf } from '../../server/pictures/face.ts';
import { pictureFile } from '../../server/pictures/picture-file.tsx';
import { liftPoints, nearest } from '../../server/pictures/piston-and-valve.tsx';
import { gapSets, ringGaps, ringGapsPicture } from '../../server/pictures/ring-gaps.tsx';
import { stackBars } from '../../server/pictures/stack.tsx';
import { boltLayout } from '../../server/pictures/tightening-order.tsx';
import { eventNumber, eventsOf, eventText } from '../../server/pictures/valve-events.tsx';
import { wayRound, waysRound } from '../../server/pictures/way-round.tsx';
import { whatIsOn } from '../../server/pictures/what-is-on.tsx';
import { standsAt } from '../../server/rehearsal/stands.ts';
import { analyseText } from '../annotated.ts';

const sample = (name: string): string => readFileSync(join(import.meta.dirname, '../../samples', name), 'utf8');
const COMMON = { 'common-fasteners.fettle': sample('common-fasteners.fettle') };

function read(text: string, files: Readonly<Record<string, string>> = COMMON) {
  const analysis = analyseText(text, files);
  const [view] = analysis.views;
  if (view === undefined) throw new Error('no view');
  const stepOf = (name: string) => {
    const step = view.sequences.flatMap((sequence) => sequence.steps).find((each) => each.name === name);
    const stands = step === undefined ? undefined : standsAt(view, analysis.file.file, step);
    if (stands === undefined) throw new Error(`no step ${name}`);
    return stands;
  };
  return { analysis, view, stepOf };
}

function there<thing>(value: thing | undefined): thing {
  if (value === undefined) throw new Error('nothing there');
  return value;
}

const four = read(sample('inline-four.fettle'));
const six = read(sample('vee-six.fettle'));
const twin = read(sample('flat-twin.fettle'));

describe('timing face', () => {
  const drive = there(four.view.drives[0]);
  const face = there(faceOf(drive, four.view));
  const wheel = (name: string) => there(face.wheels.find((each) => each.name === name));

  test('wheels lie where teeth, pitch and centre distance put them', () => {
    const [crank, cam] = [wheel('crank-sprocket'), wheel('cam-sprocket')];
    // 8 mm × 21 and 42 teeth: 53.676 and 107.052 mm of pitch diameter (ISO 606 Annex A, from memory).
    expect((2 * crank.radius).toFixed(3)).toBe('53.676');
    expect((2 * cam.radius).toFixed(3)).toBe('107.052');
    // 110.8 mm toward 1 o'clock: 30 degrees from upright.
    expect(cam.x - crank.x).toBeCloseTo(110.8 * 0.5, 9);
    expect(cam.y - crank.y).toBeCloseTo((110.8 * Math.sqrt(3)) / 2, 9);
    expect(face.isToScale).toBe(true);
    expect(face.notes).toEqual([]);
  });

  test('the chain is as long as two wheels this far apart need', () => {
    const path = there(face.loops[0]?.path);
    const needed = there(chainLength(21, 42, 110.8 / 8));
    // In contact a chain lies in chords, whose length is counted in links there.
    const links =
      path.runs.reduce((all, run) => all + run.length / 8, 0) +
      path.arcs.reduce((all, arc, i) => all + (arc.wrap / 360) * (i === 0 ? 21 : 42), 0);
    expect(links).toBeCloseTo(needed, 9);
  });

  test('marks and links stand at each other when it goes on; two turns later the marks are back, and the links 42 of 60 on', () => {
    for (const { name, x, y } of face.wheels) {
      const [mark] = wheel(name).marks;
      const near = face.links.find((link) => Math.hypot(link.x - there(mark).x, link.y - there(mark).y) < 1e-6);
      expect([name, near?.number]).toEqual([name, name === 'crank-sprocket' ? 1 : 31]);
      expect(Math.hypot(there(mark).x - x, there(mark).y - y)).toBeCloseTo(wheel(name).radius, 9);
    }
    const stands = four.stepOf('prove-timing').after;
    const later = there(faceOf(drive, four.view, stands));
    expect(later.wheels.map((each) => each.marks.map((mark) => mark.degrees))).toEqual(
      face.wheels.map((each) => each.marks.map((mark) => mark.degrees)),
    );
    // Carried on link by link along the loop: link 1 has gone 42 of 60 shares of the way round from the crank sprocket's mark.
    const path = there(later.loops[0]?.path);
    const at = there(later.links.find((link) => link.number === 1));
    const samples = Array.from({ length: 6000 }, (_none, i) => (path.length * i) / 6000);
    const place = (x: number, y: number): number => {
      let best = { far: Number.POSITIVE_INFINITY, along: 0 };
      for (const along of samples) {
        const point = there(pointOn(path, along));
        const far = Math.hypot(point.x - x, point.y - y);
        if (far < best.far) best = { far, along };
      }
      return best.along;
    };
    const dot = there(wheel('crank-sprocket').marks[0]);
    const gone = (((place(at.x, at.y) - place(dot.x, dot.y)) / path.length) * 60 + 60) % 60;
    expect(Math.abs(gone - there(stands.drives.get('cam-drive')?.links))).toBeLessThan(0.05);
    expect(stands.drives.get('cam-drive')?.links).toBe(42);
  });

  test('a quarter turn moves the crank wheel a quarter and the other an eighth, the way the engine turns', () => {
    const text = sample('inline-four.fettle').replace(
      'rotate crankshaft 2 turns clockwise\n    confirm cam-drive by marks\n    hold-point',
      'rotate crankshaft 90 deg clockwise\n    hold-point',
    );
    for (const [rotation, sign] of [
      ['clockwise', 1],
      ['anticlockwise', -1],
    ] as const) {
      const turned = read(
        text.replace('rotation clockwise', `rotation ${rotation}`).replace('90 deg clockwise', `90 deg ${rotation}`),
      );
      const now = there(faceOf(there(turned.view.drives[0]), turned.view, turned.stepOf('prove-timing').after));
      expect(now.isAtStep).toBe(true);
      const degrees = (name: string): number => there(now.wheels.find((each) => each.name === name)?.marks[0]).degrees;
      expect(degrees('crank-sprocket')).toBeCloseTo((210 + sign * 90 + 360) % 360, 9);
      expect(degrees('cam-sprocket')).toBeCloseTo((30 + sign * 45 + 360) % 360, 9);
    }
  });

  test('where centres are not known it says so, and the belt still goes round, idlers on its back', () => {
    const belt = there(faceOf(there(six.view.drives[0]), six.view));
    expect(belt.isToScale).toBe(false);
    expect(belt.notes.join()).toContain('Not to scale');
    expect(belt.loops[0]?.path?.turns).toBe(1);
    expect(belt.wheels.filter((each) => each.onBack).map((each) => each.name)).toEqual([
      'belt-tensioner',
      'valley-idler',
    ]);
    const x = (name: string): number => there(belt.wheels.find((each) => each.name === name)).x;
    expect(x('left-exhaust-pulley')).toBeLessThan(x('crank-pulley'));
    expect(x('right-exhaust-pulley')).toBeGreaterThan(x('crank-pulley'));
  });

  test('gears: radii share the centre distance as the teeth do, and marks that meet stand on the line between', () => {
    const gears = there(faceOf(there(twin.view.drives[0]), twin.view));
    const [crank, cam] = [there(gears.wheels[0]), there(gears.wheels[1])];
    expect(crank.radius).toBeCloseTo((2.25 * 25.4) / 3, 9);
    expect(cam.radius).toBeCloseTo((2.25 * 25.4 * 2) / 3, 9);
    expect(cam.y - crank.y).toBeCloseTo(-2.25 * 25.4, 9);
    expect(crank.marks[0]?.degrees).toBeCloseTo(180, 9);
    expect(cam.marks[0]?.degrees).toBeCloseTo(0, 9);
  });

  test('three wheels with all distances: the third where they meet, in its order, and a belt of the published length round two of them', () => {
    const text = `part a {
  teeth 20
  mark m at 12 o'clock
}
part b {
  teeth 40
}
part c {
  teeth 20
}
part belt {
  teeth 90
  pitch 8 mm
}
drive d {
  belt belt over a, b, c
  centre-distance a to b 200 mm at 12 o'clock
  centre-distance a to c 120 mm
  centre-distance b to c 160 mm
}
`;
    const { view } = read(text, {});
    const lies = there(faceOf(there(view.drives[0]), view));
    const [a, b, c] = lies.wheels.map((each) => each);
    expect(lies.isToScale).toBe(true);
    expect(Math.hypot(there(a).x - there(c).x, there(a).y - there(c).y)).toBeCloseTo(120, 6);
    expect(Math.hypot(there(b).x - there(c).x, there(b).y - there(c).y)).toBeCloseTo(160, 6);
    // Clockwise from a up to b, so c lies to the right.
    expect(there(c).x).toBeGreaterThan(0);
    const two = read(text.replace('over a, b, c', 'over a, b'), {});
    const pair = there(faceOf(there(two.view.drives[0]), two.view));
    expect(there(pair.loops[0]?.path).length / 8).toBeCloseTo(there(beltLength(20, 40, 25)), 9);
  });

  test('gears round an idler lie where their marks meet, and no gear lies on another', () => {
    const text = `part crank {
  teeth 20
  mark m at 12 o'clock
}
part idler {
  teeth 30
  mark to-crank against crank.m
  mark to-cam against cam.m
  mark to-pump against pump.m
}
part cam {
  teeth 40
  mark m at 4 o'clock
}
part pump {
  teeth 40
  mark m at 8 o'clock
}
drive d {
  mesh crank with idler
  mesh idler with cam
  mesh idler with pump
}
`;
    /** From the idler, in degrees clockwise, by gear. */
    const seen = (written: string) => {
      const { view } = read(written, {});
      const lies = there(faceOf(there(view.drives[0]), view));
      const idler = there(lies.wheels.find((each) => each.name === 'idler'));
      for (const [i, one] of lies.wheels.entries())
        for (const other of lies.wheels.slice(i + 1))
          expect(Math.hypot(one.x - other.x, one.y - other.y)).toBeGreaterThan(0.97 * (one.radius + other.radius));
      return lies.wheels
        .filter((each) => each !== idler)
        .map(({ name, x, y }) => [
          name,
          Math.round((Math.atan2(x - idler.x, y - idler.y) * 180) / Math.PI + 360) % 360,
        ]);
    };
    // Four o'clock of the cam gear is 120 degrees, so that the cam gear lies at 300 of the idler; eight o'clock is 240, and 60.
    expect(seen(text)).toEqual([
      ['crank', 180],
      ['cam', 300],
      ['pump', 60],
    ]);
    seen(text.replace(/^ {2}mark .*\n/gm, ''));
  });
});

function pointOn(path: NonNullable<ReturnType<typeof faceOf>>['loops'][number]['path'], along: number) {
  if (path === undefined) return undefined;
  let left = along;
  for (const [i, arc] of path.arcs.entries()) {
    if (left <= arc.length) {
      const angle =
        ((arc.from + (arc.clockwise ? 1 : -1) * (arc.length === 0 ? 0 : (arc.wrap * left) / arc.length)) * Math.PI) /
        180;
      return {
        x: arc.wheel.x + arc.wheel.radius * Math.sin(angle),
        y: arc.wheel.y + arc.wheel.radius * Math.cos(angle),
      };
    }
    left -= arc.length;
    const run = there(path.runs[i]);
    if (left <= run.length) {
      const share = left / run.length;
      return { x: run.from.x + (run.to.x - run.from.x) * share, y: run.from.y + (run.to.y - run.from.y) * share };
    }
    left -= run.length;
  }
  return undefined;
}

describe('tightening order', () => {
  const of = (name: string) =>
    there(boltLayout(there(four.view.fasteners.find((each) => each.name === name)), four.view));
  test('in rows as they are drawn', () => {
    const head = of('head-bolt');
    expect(head.sort).toBe('rows');
    expect(head.places.map(({ number }) => number)).toEqual([9, 5, 1, 4, 8, 10, 6, 2, 3, 7]);
    expect(head.places[2]).toEqual({ number: 1, x: 2.5, y: 0.5 });
    expect(head.places[9]).toEqual({ number: 7, x: 4.5, y: 1.5 });
  });
  test('round a wheel, neighbours one apart and 60 degrees on', () => {
    const wheel = of('flywheel-bolt');
    expect(wheel.sort).toBe('circle');
    // Drawn 1 4 / 5 6 / 3 2: clockwise from the top right 4, 6, 2, 3, 5, 1.
    expect(wheel.places.map(({ number }) => number)).toEqual([4, 6, 2, 3, 5, 1]);
    for (const [i, place] of wheel.places.entries()) {
      const next = there(wheel.places[(i + 1) % 6]);
      expect(Math.hypot(place.x - next.x, place.y - next.y)).toBeCloseTo(1, 9);
    }
    const by = (number: number) => there(wheel.places.find((each) => each.number === number));
    expect(by(1).x).toBeLessThan(by(4).x);
    expect(by(1).y).toBeCloseTo(by(4).y, 9);
    expect(by(5).x).toBeLessThan(by(3).x);
  });
});

describe('ring gaps', () => {
  test('at the angles of the spec', () => {
    expect(ringGaps(four.view).map(({ name, degrees }) => [name, degrees])).toEqual([
      ['top-gap', 45],
      ['second-gap', 225],
      ['oil-gap', 315],
    ]);
    expect(gapSets(four.view)).toHaveLength(1);
  });
  test('gaps that are called the same have the names of their rings beside them', () => {
    const rings = ['upper-ring', 'lower-ring'].map((name, i) => `part ${name} {\n  orient gap at ${i * 180} deg\n}\n`);
    const { view } = read(rings.join(''), {});
    const drawn = pictureFile(there(ringGapsPicture(view)));
    expect(drawn).toContain('>upper ring<');
    expect(drawn).toContain('>lower ring<');
    expect(drawn).not.toContain('>gap<');
  });
  test('cylinder by cylinder where they differ', () => {
    const { view } = read(
      sample('inline-four.fettle').replace(
        'orient top-gap at 45 deg',
        'orient top-gap at 45 deg for 1, 3\n  orient top-gap at 90 deg for 2, 4',
      ),
    );
    expect(gapSets(view).map((set) => [set.cylinders, set.gaps[0]?.degrees])).toEqual([
      [[1, 3], 45],
      [[2, 4], 90],
    ]);
  });
});

test('engine map: banks as they are said, each in the order of its numbers', () => {
  expect(cylinderPlaces(six.view.engine).map(({ number, bank, along }) => [number, bank, along])).toEqual([
    [1, 'left', 0],
    [2, 'right', 0],
    [3, 'left', 1],
    [4, 'right', 1],
    [5, 'left', 2],
    [6, 'right', 2],
  ]);
  expect(cylinderPlaces(four.view.engine).map(({ along }) => along)).toEqual([0, 1, 2, 3]);
});

describe('valve events', () => {
  const events = there(eventsOf(there(four.view.valveTimings[0])));
  test('inlet opens 10 before top and closes 52 after bottom: open for 242 degrees, overlap 22 as the maker states', () => {
    expect(events.inlet).toEqual({ opens: -10, closes: 232 });
    expect(events.exhaust).toEqual({ opens: -234, closes: 12 });
    expect(there(events.inlet).closes - there(events.inlet).opens).toBe(242);
    expect(events.overlap).toBe(22);
  });
  test('spoken from the nearest dead centre', () => {
    expect([-10, 232, -234, 12, 0, 180, 540].map(eventText)).toEqual([
      '10° before top',
      '52° after bottom',
      '54° before bottom',
      '12° after top',
      'at top',
      'at bottom',
      'at bottom',
    ]);
    expect([-10, 232, -234, 12].map(eventNumber)).toEqual([-10, 52, -54, 12]);
  });
  test('both grinds beside each other', () => {
    const picture = there(pictureOf('valve-events', { view: four.view, views: four.analysis.views }));
    expect(picture.description).toContain('tourer');
    expect(picture.description).toContain('open for 242°');
    expect(picture.description).toContain('open for 232°');
  });
});

test('piston and valve: travel of the slider-crank, lift at the events as it is measured there, highest in the middle', () => {
  const points = there(liftPoints(four.view.valveTimings, four.view, 1));
  const at = (degrees: number) => there(points.find((each) => each.degrees === degrees));
  expect(at(0).piston).toBe(0);
  // x = r(1 − cos θ) + l − √(l² − r² sin² θ) with r 45.65, l 151.60 at 30 degrees, by hand: 7.8358 mm.
  expect(at(30).piston).toBeCloseTo(
    45.65 * (1 - Math.cos(Math.PI / 6)) + 151.6 - Math.sqrt(151.6 ** 2 - (45.65 / 2) ** 2),
    6,
  );
  expect(at(-10).inlet).toBeCloseTo(0.15, 6);
  expect(at(12).exhaust).toBeCloseTo(0.15, 6);
  expect(there(nearest(points, 'inlet')).degrees).toBeGreaterThan(0);
  expect(there(nearest(points, 'exhaust')).degrees).toBeLessThan(0);
});

test('which way round: as the rules say, and left is at the top of a plan whose front is on the left', () => {
  const part = (name: string) => there(four.view.parts.find((each) => each.name === name));
  expect(waysRound(part('piston')).map(({ feature, arrow }) => [feature, arrow])).toEqual([['arrow', { x: -1, y: 0 }]]);
  expect(waysRound(part('connecting-rod')).map(({ arrow }) => arrow)).toEqual([{ x: 0, y: 1 }]);
  expect(waysRound(part('lifter')).map(({ toward, arrow }) => [toward, arrow])).toEqual([['up', undefined]]);
  expect(there(wayRound(part('main-shell'), four.view)).description).toContain('tang toward tang slot of block');
});

test('stack: bounds, wear, worst and usual of the main bearings, worked out by hand', () => {
  const [bar] = stackBars(there(four.view.limits.find((each) => each.name === 'main-oil-clearance')), four.view);
  // 62.490..62.502 less two walls of 2.003..2.008 less 58.430..58.450: 0.024..0.066.
  expect(bar?.worst?.low).toBeCloseTo(0.024, 9);
  expect(bar?.worst?.high).toBeCloseTo(0.066, 9);
  expect(bar?.bounds).toEqual({ low: 0.02, high: 0.07 });
  expect(bar?.wear).toBe(0.1);
  // Half widths 0.006 and 0.010, and 0.0025 of a wall counted twice: root of the sum of their squares.
  expect(there(bar?.usual).high - there(bar?.usual).low).toBeCloseTo(2 * Math.hypot(0.006, 0.01, 2 * 0.0025), 6);
});

test('what is on: covered parts stand under their cover, held back ones say so, the rest lies on the bench', () => {
  const told = whatIsOn(four.view, four.stepOf('fit-timing-cover').after);
  const cover = there(told.on.find((each) => each.part === 'timing-cover'));
  expect(cover.covers.map((each) => each.part)).toEqual(
    expect.arrayContaining(['crank-sprocket', 'cam-sprocket', 'timing-chain', 'chain-tensioner', 'cam-plate']),
  );
  expect(told.on.some((each) => each.part === 'crank-sprocket')).toBe(false);
  expect(told.off).toContain('cylinder-head');
  const held = whatIsOn(four.view, four.stepOf('fit-timing-set').after);
  expect(held.on.find((each) => each.part === 'chain-tensioner')?.state).toBe('held back');
});

describe('all of them', () => {
  const HOSTILE = '"><script>alert(1)</script>&amp;<img src=x onerror=alert(2)>]]>\u202e';
  const hostile = sample('inline-four.fettle').replace(
    /^(part|fastener|drive|limit|valve-timing|engine-mount) ([a-z-]+)( x\d+)?(?: "[^"]*")?/gm,
    (line, word, name, count) =>
      ['limit', 'drive', 'part', 'fastener'].includes(word)
        ? `${word} ${name}${count ?? ''} "${HOSTILE.replace(/"/g, '\\"')}"`
        : line,
  );

  function all({ view, analysis, stepOf }: ReturnType<typeof read>, step: string): readonly Picture[] {
    const stands = stepOf(step);
    return PICTURES.flatMap((what) => pictureOf(what, { view, views: analysis.views, stands }) ?? []);
  }

  test('every one can be made of the inline four, with a title and words, and says from where it is seen', () => {
    const pictures = all(four, 'prove-timing');
    expect(pictures).toHaveLength(PICTURES.length);
    for (const picture of pictures) {
      const text = pictureFile(picture);
      expect(text.startsWith('<svg xmlns="http://www.w3.org/2000/svg"')).toBe(true);
      expect(text).toContain(`<title>${picture.title}</title>`);
      expect(picture.description.length).toBeGreaterThan(20);
      expect(text).not.toMatch(/NaN|undefined|Infinity/);
      // Grey alone: every colour has three equal shares.
      for (const [, colour] of text.matchAll(/(?:fill|stroke)="#([0-9a-f]{3}|[0-9a-f]{6})"/g)) {
        const each = (colour ?? '').length === 3 ? (colour ?? '').split('') : ((colour ?? '').match(/../g) ?? []);
        expect(new Set(each).size).toBe(1);
      }
    }
  });

  test('a hostile title is text', () => {
    const pictures = all(read(hostile), 'prove-timing');
    expect(pictures).toHaveLength(PICTURES.length);
    const texts = pictures.map(pictureFile);
    expect(texts.some((text) => text.includes('&lt;script>'))).toBe(true);
    for (const text of texts) {
      expect([...text.matchAll(/<([a-zA-Z]+)/g)].map(([, tag]) => tag)).toEqual(
        expect.arrayContaining(['svg', 'title', 'desc']),
      );
      for (const [, tag] of text.matchAll(/<([a-zA-Z]+)/g))
        expect(['svg', 'title', 'desc', 'g', 'rect', 'circle', 'line', 'path', 'text']).toContain(tag);
    }
  });
});
