// Where marks and links stand, against wheels and chains moved on tooth by tooth as rings: two chains in a row, gears with one between
// them, belts with a wheel on their back. Engines of both senses of rotation, turned forward and back.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { found } from './work.ts';

/** The teeth of a wheel or the links of a chain, as they lie round it clockwise; number 0 is marked. */
type Ring = number[];

const ring = (count: number): Ring => Array.from({ length: count }, (_, i) => i);

function step(each: Ring, clockwise: boolean): void {
  if (clockwise) each.unshift(...each.splice(-1));
  else each.push(...each.splice(0, 1));
}

/** Degrees clockwise at which the marked tooth stands, from where it stood. */
const stands = (each: Ring): number => (each.indexOf(0) * 360) / each.length;

interface Layout {
  readonly crank: number;
  readonly middle: number;
  /** Teeth of the second wheel on the shaft between, for each tooth of the first. */
  readonly times: number;
  readonly links: number;
  readonly anticlockwise: boolean;
}

interface Turn {
  readonly teeth: number;
  readonly back: boolean;
}

const layouts = fc.record({
  crank: fc.constantFrom(10, 12, 15, 18, 20, 24, 30),
  middle: fc.integer({ min: 9, max: 40 }),
  times: fc.integer({ min: 1, max: 2 }),
  links: fc.integer({ min: 24, max: 70 }).map((half) => 2 * half),
  anticlockwise: fc.boolean(),
});
const turns = fc.array(fc.record({ teeth: fc.integer({ min: 1, max: 140 }), back: fc.boolean() }), {
  minLength: 1,
  maxLength: 3,
});

/** A spec of these wheels, all at 12 o'clock where the marks agree, with the turns and what is looked at then. */
function spec(layout: Layout, parts: string, drive: string, all: string, done: readonly Turn[], look: string): string {
  const { crank, anticlockwise } = layout;
  const other = { clockwise: 'anticlockwise', anticlockwise: 'clockwise' } as const;
  const forward = anticlockwise ? 'anticlockwise' : 'clockwise';
  const turned = done.map(
    ({ teeth, back }) => `    rotate crankshaft ${(teeth * 360) / crank} deg ${back ? other[forward] : forward}\n`,
  );
  return `engine {
  cylinders 4 inline
  cycle four-stroke
  rotation ${forward}
  crankpin 1, 4 at 0 deg
  crankpin 2, 3 at 180 deg
  firing-order 1-3-4-2
}
part block
part crankshaft
part camshaft
part other-shaft
part crank-wheel { teeth ${crank} fixed-to crankshaft mark dot at 12 o'clock }
${parts}
drive cam-drive {
${drive}
  marks-agree at tdc 1 on compression
}
sequence timing-side {
  phase assemble
  starts-with block, crankshaft, camshaft, other-shaft
  step put-it-on {
    set crankshaft at tdc 1 on compression
    fit crank-wheel, ${all} together
    align cam-drive
  }
  step work {
${turned.join('')}    ${look}
  }
}
`;
}

const wheel = (name: string, teeth: number, shaft: string): string =>
  `part ${name} { teeth ${teeth} fixed-to ${shaft} mark dot at 12 o'clock }\n`;

/** Each tooth of the crankshaft's wheel that passes, in turn, with its direction. */
function eachTooth(layout: Layout, done: readonly Turn[], move: (clockwise: boolean) => void): void {
  for (const { teeth, back } of done)
    for (let i = 0; i < teeth; i += 1) move(back ? layout.anticlockwise : !layout.anticlockwise);
}

/** Looks at a mark where the ring has it, and a third of a turn further. */
function looksRight(at: number, text: (degrees: number) => string): void {
  const isOut = (degrees: number): boolean =>
    found(text(Number((degrees % 360).toFixed(6)))).some((each) => each.startsWith('sequence/not-in-time'));
  expect(isOut(at)).toBe(false);
  expect(isOut(at + 120)).toBe(true);
}

test('two chains in a row', () => {
  fc.assert(
    fc.property(layouts, turns, (layout, done) => {
      const { crank, middle, times, links } = layout;
      const cam = 2 * crank * times;
      const [first, between, second] = [ring(links), ring(middle), ring(cam)];
      eachTooth(layout, done, (clockwise) => {
        step(first, clockwise);
        step(between, clockwise);
        for (let i = 0; i < times; i += 1) step(second, clockwise);
      });
      const parts = `${wheel('middle-wheel', middle, 'other-shaft')}${wheel('second-wheel', middle * times, 'other-shaft')}${wheel('cam-wheel', cam, 'camshaft')}part chain { links ${links} }\npart second-chain { links 60 }`;
      const drive =
        '  chain chain over crank-wheel, middle-wheel\n  chain second-chain over second-wheel, cam-wheel\n  marked-link 1 at crank-wheel.dot';
      const text = (look: string): string =>
        spec(layout, parts, drive, 'middle-wheel, second-wheel, cam-wheel, chain, second-chain', done, look);
      looksRight(stands(second), (degrees) => text(`confirm cam-wheel.dot at ${degrees} deg`));
      looksRight(stands(between), (degrees) => text(`confirm middle-wheel.dot at ${degrees} deg`));
      const moved = found(text('confirm cam-drive by links')).some((each) => each.startsWith('sequence/links-moved'));
      if (first.indexOf(0) !== 0) expect(moved).toBe(true);
    }),
    { seed: 1, numRuns: 40 },
  );
});

test('gears, with one between them that turns the other way', () => {
  fc.assert(
    fc.property(layouts, turns, (layout, done) => {
      const { crank, middle } = layout;
      const [between, cam] = [ring(middle), ring(2 * crank)];
      eachTooth(layout, done, (clockwise) => {
        step(between, !clockwise);
        step(cam, clockwise);
      });
      const parts = `${wheel('idler-gear', middle, 'other-shaft')}${wheel('cam-wheel', 2 * crank, 'camshaft')}`;
      const drive = '  mesh crank-wheel with idler-gear\n  mesh idler-gear with cam-wheel';
      const text = (look: string): string => spec(layout, parts, drive, 'idler-gear, cam-wheel', done, look);
      looksRight(stands(cam), (degrees) => text(`confirm cam-wheel.dot at ${degrees} deg`));
      looksRight(stands(between), (degrees) => text(`confirm idler-gear.dot at ${degrees} deg`));
    }),
    { seed: 2, numRuns: 40 },
  );
});

test('a belt with a wheel on its back', () => {
  fc.assert(
    fc.property(layouts, turns, (layout, done) => {
      const { crank, middle } = layout;
      const [onBack, cam] = [ring(middle), ring(2 * crank)];
      eachTooth(layout, done, (clockwise) => {
        step(onBack, !clockwise);
        step(cam, clockwise);
      });
      const parts = `${wheel('pump-wheel', middle, 'other-shaft')}${wheel('cam-wheel', 2 * crank, 'camshaft')}part belt { teeth 120 }`;
      const drive = '  belt belt over crank-wheel, cam-wheel, pump-wheel on-back';
      const text = (look: string): string => spec(layout, parts, drive, 'pump-wheel, cam-wheel, belt', done, look);
      looksRight(stands(cam), (degrees) => text(`confirm cam-wheel.dot at ${degrees} deg`));
      looksRight(stands(onBack), (degrees) => text(`confirm pump-wheel.dot at ${degrees} deg`));
    }),
    { seed: 3, numRuns: 40 },
  );
});
