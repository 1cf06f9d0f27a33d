// What goes in without its grease, its paste, its pin or its shim, each put wrong in a whole sample: told of the one that was left out, and of no
// other. Common practice, no source, but for what the spec says itself.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';

const folder = join(import.meta.dirname, '../../samples');
const files = Object.fromEntries(
  readdirSync(folder)
    .filter((name) => name.endsWith('.fettle'))
    .map((name) => [name, readFileSync(join(folder, name), 'utf8')]),
);

const messages = (text: string): readonly string[] =>
  analyseText(text, files).findings.map(({ code, message }) => `${code} ${message}`);

/** What is told of a sample with these lines put another way, and not of the sample. */
function told(
  sample: string,
  changes: readonly (readonly [after: string, from: string, to: string])[],
): readonly string[] {
  const text = files[`${sample}.fettle`] ?? '';
  const before = new Set(messages(text));
  const changed = changes.reduce((now, [after, from, to]) => {
    const at = now.indexOf(from, now.indexOf(after));
    if (at < 0 || !now.includes(after)) throw new Error(`not there: ${after} ${from}`);
    return now.slice(0, at) + to + now.slice(at + from.length);
  }, text);
  return messages(changed).filter((message) => !before.has(message));
}

test.each([
  ['launch-eight', 'step fit-pumps', '    lubricate impeller with bearing-grease\n', 'impeller goes in greased'],
  [
    'race-four',
    'step fit-rods',
    '    lubricate rod-bolt with bolt-lube\n',
    'rod-bolt goes in with paste on its thread, and no step puts any on, though one does for main-bolt',
  ],
  [
    'flat-twin',
    'step close-crankcase',
    '    fit thrust-shim onto crankshaft\n',
    'thrust-shim is chosen by a measurement, and no step fits it',
  ],
  ['race-four', 'step fit-rods', '    fit rod-shell into connecting-rod\n', 'rod-shell is chosen by a measurement'],
  [
    'white-metal-four',
    'fastener flywheel-bolt',
    '  secured-by wire\n',
    'flywheel-bolt is secured here, and nothing says what by',
  ],
])('%s, %s', (sample, after, line, said) => {
  expect(told(sample, [[after, line, '']])).toEqual([expect.stringContaining(said)]);
});

test('a camshaft that goes in dry in a job on a whole engine, and is oiled in the other', () => {
  expect(told('inline-four', [['step new-camshaft-in', '    lubricate camshaft with assembly-lube\n', '']])).toEqual([
    expect.stringContaining('camshaft goes in dry here, and step fit-camshaft of other work oils it'),
  ]);
});

test('an oil filter of the file that is used, of which the work speaks and which no step fits', () => {
  const line = '    lubricate oil-filter with engine-oil\n    fit oil-filter onto block by twist\n';
  expect(told('inline-four', [['step fit-filter', line, '']])).toContainEqual(
    expect.stringContaining('oil-filter of a file that this one uses is fitted by no step'),
  );
});

test('a block that was cut is washed before anything goes into it', () => {
  const found = told('gear-six', [['step face-seats', '    clean block with degreaser\n', '']]);
  expect(found).toEqual([expect.stringContaining('as it was machined in step face-seats: chips are on it still')]);
});

/** A pump that stands there, is turned to set its lift, and has its nozzles tested. */
const pump = (work: string): string => `part block

part injection-pump

part cylinder-head

part injector x4

fastener pump-bolt x3 {
  thread M8
  joint structural
  clamps injection-pump to block
}

limit pump-lift of injection-pump
  measured
  within 1.10..1.14 mm

limit nozzle-pressure each injector
  measured
  within 148..156 bar

sequence time-pump {
  phase assemble
  starts-with block, cylinder-head, injection-pump
  step set {
${work}  }
}
`;

const SET = '    adjust pump-lift by "turning the pump body"\n    measure pump-lift with "dial gauge"\n';
const TEST = '    measure nozzle-pressure with "nozzle tester"\n';
const IN = '    fit injector into cylinder-head\n';

const codes = (text: string): readonly string[] => analyseText(text).findings.map(({ code }) => code);

test('a pump that is turned and never bolted fast', () => {
  expect(codes(pump(SET))).toContain('sequence/never-tightened');
  expect(codes(pump(`${SET}    tighten pump-bolt\n`))).not.toContain('sequence/never-tightened');
});

test('a nozzle is tested before it is in', () => {
  expect(codes(pump(IN + TEST))).toContain('sequence/measured-late');
  expect(codes(pump(TEST + IN))).not.toContain('sequence/measured-late');
});

test('a thread without the sealant that most others are given', () => {
  const found = told('launch-eight', [
    ['step fit-heads', '    seal head-bolt-long, head-bolt-short with thread-sealant\n', ''],
  ]);
  expect(found).toHaveLength(2);
  for (const message of found) expect(message).toContain('sealant on its thread');
});

test('studs that are named after the barrel go in before it', () => {
  expect(
    told('flat-twin', [
      ['step fit-barrels', '    tighten cylinder-stud\n', ''],
      [
        'step fit-barrels',
        '    fit barrel onto right-case\n',
        '    fit barrel onto right-case\n    tighten cylinder-stud\n',
      ],
    ]),
  ).toEqual([expect.stringContaining('Set the studs before barrel goes on')]);
});
