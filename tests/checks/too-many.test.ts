// Counts that no engine has: each is an error, once, and nothing grows with them.
import { expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';

const errors = (text: string): readonly string[] =>
  analyseText(text).findings.flatMap((each) => (each.severity === 'error' ? [`${each.code} ${each.start}`] : []));

const BILLION = '1000000000';

test.each([
  ['pieces of a part', `part p x${BILLION}\n`, 7],
  ['pieces of a part, more than nine digits', 'part p x98765432109876543210\n', 7],
  ['pieces of a fastener', `fastener f x${BILLION} { thread M8x1.25 torque 20 N.m class 8.8 }\n`, 11],
  ['lines of a dimension', `part p { dimension d x${BILLION} 1..2 mm }\n`, 21],
  ['places', `part p { places 1..${BILLION} }\n`, 16],
  ['places with a name', `part p { places upper 1..${BILLION}, lower 1..4 }\n`, 16],
  ['teeth', 'part p { teeth 18000000 }\n', 15],
  ['links', `part p { links ${BILLION} }\n`, 15],
  ['cylinders', `engine { cylinders ${BILLION.slice(0, 9)} inline firing-order 1-2 crankpin 1, 2 at 0 deg }\n`, 19],
  ['one more than is counted', 'part p { teeth 10001 }\n', 15],
])('%s', (_what, text, at) => {
  expect(errors(text)).toEqual([`unit/too-many ${at}`]);
});

test('what engines have is not too many', () => {
  expect(
    errors('part needle x1200 { mass 1 g }\npart chain { links 10000 }\nengine { cylinders 28 radial }\n'),
  ).toEqual([]);
});

/** A place that is not there is an error, however far off it is. */
test.each(['5', '1..5', '1..100', '1..1000000', `1..${BILLION}`, '1..98765432109876543210', BILLION, `4, ${BILLION}`])(
  'place %s of four',
  (places) => {
    const found = errors(
      `part p x4\npart b\nsequence s { step t { fit b fit p ${places} into b } }\njob j { begins bare sequences s }\n`,
    );
    expect(found).toEqual([expect.stringMatching(/^name\/unknown /)]);
  },
);

test('a limit that rests on too many, each on the one before, says so, once', () => {
  const told = (n: number): readonly string[] =>
    analyseText(
      Array.from({ length: n }, (_, i) =>
        i === 0
          ? 'part a { dimension d 1.0..1.1 mm }\nlimit l0 = a.d within 1..2 mm\n'
          : `limit l${i} = l${i - 1} within 1..2 mm\n`,
      ).join(''),
    ).findings.flatMap(({ code, message }) => (code === 'limit/no-value' ? [message] : []));
  expect(told(13)).toEqual([]);
  expect(told(14)).toEqual([expect.stringMatching(/^l13 can't be worked out: behind l12 stand 12 more limits/)]);
  expect(told(60)).toEqual([expect.stringMatching(/^l13 /)]);
});

test('a limit of more places than are worked out says so, and is no error', () => {
  const told = (n: number): readonly string[] =>
    analyseText(`part a x${n} { dimension d 1.0..1.1 mm }\nlimit l each a = a.d within 1..2 mm\n`).findings.map(
      ({ code, severity, message }) => `${code} ${severity} ${message}`,
    );
  expect(told(64).filter((each) => each.startsWith('unit/too-many'))).toEqual([]);
  expect(told(65)).toContainEqual(expect.stringMatching(/^unit\/too-many information l has 65 places, .* first 64/));
});

test('a place between two is no place', () => {
  expect(errors('part p x4\npart b\nsequence s { step t { fit p 1..2.5 into b } }\n')).toContain(
    'syntax/unexpected 48',
  );
});

test('teeth in millions are not taken for a ratio that is right', () => {
  const drive = (a: string, b: string): string =>
    `part c { teeth ${a} }\npart k { teeth ${b} }\npart h { links 100 }\ndrive d { chain h over c, k ratio c to k 2:1 }\n`;
  expect(errors(drive('18', '37'))).toEqual([expect.stringMatching('timing/ratio')]);
  expect(errors(drive('18000000', '37000000'))).toEqual([
    expect.stringMatching('unit/too-many'),
    expect.stringMatching('unit/too-many'),
  ]);
});

test('a message names no more than can be read', () => {
  const variants = Array.from({ length: 400 }, (_, i) => `v${i}`);
  const text = `spec s { variants ${variants.join(', ')} }\nwhen w { part p }\nengine { cylinders 100 inline firing-order 1-2 }\n`;
  const findings = analyseText(text).findings;
  expect(findings.map((each) => each.code)).toEqual(
    expect.arrayContaining(['name/too-many-variants', 'name/unknown-variant', 'engine/firing-order-incomplete']),
  );
  for (const finding of findings) expect(finding.message.length).toBeLessThan(400);
});

const job = (i: number, begins: string): string =>
  `sequence s${i} { step t${i} { note "x" } }\njob j${i} { begins ${begins} sequences s${i} }\n`;

const row = (n: number, begins: (i: number) => string): string =>
  Array.from({ length: n }, (_, i) => job(i, begins(i))).join('');

const tooManyJobs = (text: string): readonly string[] =>
  analyseText(text).findings.flatMap((each) => (each.code === 'sequence/too-many-jobs' ? [each.message] : []));

test('jobs beyond those that are rehearsed are told of once, at the first', () => {
  expect(tooManyJobs(row(60, () => 'bare'))).toEqual([]);
  expect(tooManyJobs(row(300, () => 'bare'))).toEqual([expect.stringMatching(/^300 jobs .* j60 and all behind it/)]);
});

test('jobs in a row, each after the one before, are followed back nine; a small circle of them is no such row', () => {
  const after = (i: number): string => (i === 0 ? 'bare' : `after s${i - 1}`);
  expect(tooManyJobs(row(10, after))).toEqual([]);
  expect(tooManyJobs(row(11, after))).toEqual([expect.stringMatching(/^j10 begins after a row of more than 9 jobs/)]);
  expect(tooManyJobs(row(3, (i) => `after s${(i + 2) % 3}`))).toEqual([]);
});
