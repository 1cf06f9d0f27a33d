// What has to be in place before it is measured: the valves and what works them for lash, the piston and its barrel for the deck, what is
// drawn onto a shaft for its end play. Common practice, no source.
import { describe, expect, test } from 'vitest';
import { found } from './work.ts';

const spec = (parts: string, starts: string, steps: readonly string[]): string => `engine {
  cylinders 2 inline
  cycle four-stroke
}
${parts}
sequence build {
  phase assemble
  starts-with ${starts}
${steps.map((step, i) => `  step work-${i + 1} ${step.includes('{') ? step : `{\n${step}\n}`}`).join('\n')}
}
`;

describe('lash', () => {
  const parts = `part block
part cylinder-head
part camshaft
part valve x4
part bucket x4
limit lash each bucket
  kind valve-lash
  measured
  within 0.15..0.25 mm
`;
  const fit = {
    valve: 'fit valve into cylinder-head',
    bucket: 'fit bucket into cylinder-head',
    camshaft: 'fit camshaft into cylinder-head',
  } as const;
  const work = (...steps: readonly string[]): readonly string[] =>
    found(spec(parts, 'block, cylinder-head', steps)).filter((each) => /lash/.test(each));
  const lash = 'measure lash with "feeler gauge"';

  test.each(['valve', 'bucket', 'camshaft'] as const)('before %s is in', (late) => {
    const others = Object.entries(fit).flatMap(([name, line]) => (name === late ? [] : [line]));
    expect(work(...others, lash, fit[late])).toEqual([`sequence/not-fitted-yet: ${lash}`]);
    expect(work(...others, fit[late], lash)).toEqual([]);
  });

  test('what no step of the spec fits is not missed', () => {
    expect(work(fit.bucket, fit.camshaft, lash)).toEqual([]);
  });
});

describe('deck', () => {
  const parts = `part crankcase
part rod x2
part piston x2
part barrel x2
limit deck each piston
  measured
  within 0.8..1.2 mm
`;
  const work = (...steps: readonly string[]): readonly string[] =>
    found(spec(parts, 'crankcase, rod', steps)).filter((each) => /deck/.test(each));
  const deck = 'measure deck with "depth gauge"';

  test.each([
    ['the barrel', 'fit piston onto rod', 'fit barrel onto crankcase'],
    ['the piston', 'fit barrel onto crankcase', 'fit piston onto rod'],
  ])('before %s is on', (_what, first, late) => {
    expect(work(first, deck, late)).toEqual([`sequence/not-fitted-yet: ${deck}`]);
    expect(work(first, late, deck)).toEqual([]);
    expect(work(`each piston {\n${first}\n${deck}\n${late}\n}`)).toEqual([`sequence/not-fitted-yet: ${deck}`]);
    expect(work(`each piston {\n${first}\n${late}\n${deck}\n}`)).toEqual([]);
  });
});

test('a piston on a rod that is still on the bench stands nowhere', () => {
  const parts = `part block
part crankshaft
part rod x2
part piston x2
limit rise each piston
  kind protrusion
  measured
  within 0.4..0.6 mm
`;
  const rise = 'measure rise with "dial gauge"';
  const work = (...steps: readonly string[]): readonly string[] =>
    found(spec(parts, 'block, crankshaft', ['fit piston onto rod', ...steps])).filter((each) => /rise/.test(each));
  expect(work(rise, 'fit rod onto crankshaft')).toEqual([`sequence/not-fitted-yet: ${rise}`]);
  expect(work('fit rod onto crankshaft', rise)).toEqual([]);
});

describe('end play', () => {
  const parts = (shaft: string, wheel: string): string => `part block
part ${shaft}
part ${wheel}
fastener wheel-nut x1 {
  torque 80 N.m
  clamps ${wheel} to ${shaft}
}
limit play of ${shaft}
  kind end-play
  measured
  within 0.05..0.20 mm
`;
  const play = 'measure play with "dial gauge"';
  const work = (shaft: string, wheel: string, ...steps: readonly string[]): readonly string[] =>
    found(spec(parts(shaft, wheel), 'block', [`fit ${shaft} into block`, ...steps])).filter((each) =>
      /play/.test(each),
    );

  test.each([
    ['crankshaft', 'flywheel'],
    ['camshaft', 'cam-gear'],
  ])('of a %s, with its %s loose', (shaft, wheel) => {
    const fit = `fit ${wheel} onto ${shaft}`;
    expect(work(shaft, wheel, fit, play, 'tighten wheel-nut')).toEqual([`sequence/measured-early: ${play}`]);
    expect(work(shaft, wheel, fit, 'tighten wheel-nut', play)).toEqual([]);
    expect(work(shaft, wheel, play, fit, 'tighten wheel-nut')).toEqual([]);
  });

  test('a pulley outside its bearings takes up nothing', () => {
    expect(work('crankshaft', 'crank-pulley', 'fit crank-pulley onto crankshaft', play, 'tighten wheel-nut')).toEqual(
      [],
    );
  });
});

test('a ring of rubber is oiled before what it is on goes in; one that goes onto what is in already is in sight', () => {
  const work = (...steps: readonly string[]): readonly string[] =>
    found(spec('part block\npart filter-stand\npart o-ring\n', 'block', steps)).filter((each) =>
      /lubricate/.test(each),
    );
  const [ring, stand, oil] = [
    'fit o-ring onto filter-stand',
    'fit filter-stand onto block',
    'lubricate o-ring with "grease"',
  ] as const;
  expect(work(ring, stand, oil)).toEqual([`sequence/covered: ${oil}`]);
  expect(work(ring, oil, stand)).toEqual([]);
  expect(work(oil, ring, stand)).toEqual([]);
  expect(work(stand, ring, oil)).toEqual([]);
});
