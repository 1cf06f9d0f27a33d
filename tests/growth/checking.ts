// Texts that are long in one way, of the kinds that are long to check.
import type { Bomb } from './bombs.ts';

const times = (n: number, one: (i: number) => string): string => Array.from({ length: n }, (_, i) => one(i)).join('');
const names = (n: number, one: (i: number) => string): string => Array.from({ length: n }, (_, i) => one(i)).join(', ');

const row = (name: string, n: number, make: (n: number) => string): Bomb => ({ name, work: ['check'], n, make });

/** Steps in a sequence, and the job that works them. */
const job = (n: number, statements: (i: number) => string, before = ''): string =>
  `${before}sequence s {\n${times(n, (i) => `  step t${n}-${i} { ${statements(i)} }\n`)}}\njob j { begins bare sequences s }\n`;

export const CHECKING: readonly Bomb[] = [
  row(
    'variants, each with a `when`',
    40,
    (n) =>
      `spec s {\n  variants ${names(n, (i) => `v${n}-${i}`)}\n}\n${times(n, (i) => `when v${n}-${i} {\n  part p${n}-${i} { mass ${i + 1} kg }\n}\n`)}`,
  ),
  row(
    'variants, each with a `when` in one part',
    80,
    (n) =>
      `spec s {\n  variants ${names(n, (i) => `v${n}-${i}`)}\n}\npart a${n} {\n${times(n, (i) => `  when v${n}-${i} { mass ${i + 1} kg }\n`)}}\n`,
  ),
  row('one part declared again and again', 100, (n) => times(n, () => `part a${n}\n`)),
  row('one part in capitals and not', 100, (n) => times(n, (i) => `part ${i % 2 === 0 ? 'Abc' : 'aBC'}${n}\n`)),
  row('one limit declared again and again', 100, (n) => times(n, () => `limit a${n} measured within 1..2 mm\n`)),
  row('one step again and again', 100, (n) => `sequence s {\n${times(n, () => `  step t${n} { note "x" }\n`)}}\n`),
  row(
    'lines of a record',
    100,
    (n) => `limit l measured within 1..2 mm\nrecord r {\n${times(n, (i) => `  measured l ${i}.5 mm\n`)}}\n`,
  ),
  row(
    'lines of a record, each of its own',
    100,
    (n) =>
      `${times(n, (i) => `limit l${n}-${i} measured within 1..2 mm\n`)}record r {\n${times(n, (i) => `  measured l${n}-${i} 1.5 mm\n`)}}\n`,
  ),
  row(
    'fitted lines of a record',
    100,
    (n) =>
      `part a {\n${times(n, (i) => `  size z${i} oversize 0.${i + 1} mm { wall 1 mm }\n`)}}\nrecord r {\n${times(n, (i) => `  fitted a size z${i}\n`)}}\n`,
  ),
  row(
    'done lines of a record',
    100,
    (n) => `${job(n, () => 'note "x"')}record r {\n${times(n, (i) => `  done t${n}-${i} on 2026-02-18\n`)}}\n`,
  ),
  row('records', 60, (n) => times(n, (i) => `record r${n}-${i} {\n  measured l 1.5 mm\n}\n`)),
  row('steps, each after the one before', 100, (n) =>
    job(n, (i) => (i === 0 ? 'note "x"' : `after t${n}-${i - 1} note "x"`)),
  ),
  row('steps, each after the last', 100, (n) => job(n, () => `after t${n}-${n - 1} note "x"`)),
  row('steps', 100, (n) => job(n, () => 'note "x"')),
  row('misspelt names', 160, (n) =>
    times(n, (i) => `fastener sprocket${n}-${i} { thread M8x1.25 like sproket${n}-${i}-x }\n`),
  ),
  row(
    'one misspelt name among parts',
    100,
    (n) =>
      `${times(n, (i) => `part sprocket${n}-${i}\n`)}limit l = 1 mm${times(n, () => ' + sproket.d')} within 1..2 mm\n`,
  ),
  row('allows of a code that there is not', 100, (n) => times(n, () => 'allow unit/mising because "x"\n')),
  row('limits, each twice the one before', 20, (n) =>
    times(n, (i) =>
      i === 0
        ? `part a { dimension d 1.0..1.1 mm }\nlimit l${n}-0 = a.d within 1..2 mm\n`
        : `limit l${n}-${i} = l${n}-${i - 1} + l${n}-${i - 1} within 1..2 mm\n`,
    ),
  ),
  row('limits, each of the one before', 60, (n) =>
    times(n, (i) =>
      i === 0
        ? `part a { dimension d 1.0..1.1 mm }\nlimit l${n}-0 = a.d within 1..2 mm\n`
        : `limit l${n}-${i} = l${n}-${i - 1} within 1..2 mm\n`,
    ),
  ),
  row('limits in a circle', 60, (n) => times(n, (i) => `limit l${n}-${i} = l${n}-${(i + 1) % n} within 1..2 mm\n`)),
  row(
    'dimensions of a part, each of the one before',
    60,
    (n) => `part a {\n${times(n, (i) => (i === 0 ? '  dimension d0 1 mm\n' : `  dimension d${i} a.d${i - 1}\n`))}}\n`,
  ),
  row(
    'a sum of as many parts',
    60,
    (n) =>
      `${times(n, (i) => `part p${n}-${i} { dimension d 1.0..1.1 mm }\n`)}limit l = p${n}-0.d${times(n - 1, (i) => ` + p${n}-${i + 1}.d`)} within 1..2 mm\n`,
  ),
  row('a long sum', 100, (n) => `limit l = 1 mm${' + 1 mm'.repeat(n)} within 1..2 mm\n`),
  row(
    'places of a limit',
    60,
    (n) =>
      `part a { dimension d x${n} 1.0..1.1 mm }\nlimit l each a.d = a.d within 1..2 mm\nrecord r {\n  measured l ${names(n, (i) => `${i + 1}: 1.5 mm`)}\n}\n`,
  ),
  row('figures by place', 60, (n) => `part a { dimension d x${n} ${names(n, (i) => `${i + 1}: 1.${i} mm`)} }\n`),
  row(
    'sources',
    100,
    (n) =>
      `spec s {\n${times(n, (i) => `  source m${i} "x"\n`)}}\n${times(n, (i) => `part p${n}-${i} { mass 1 kg per m${i} "2" }\n`)}`,
  ),
  row('uses of one file that is not there', 60, (n) => times(n, () => `use "not-there-${n}.fettle"\n`)),
  row('uses of files that are not there', 60, (n) => times(n, (i) => `use "not-there-${n}-${i}.fettle"\n`)),
  row(
    'rows of grades',
    60,
    (n) =>
      `part g\nlimit l measured within 0..${n} mm\ngrades g by l {\n${times(n, (i) => `  g${i} ${i}.1..${i + 1} mm\n`)}}\n`,
  ),
  row('marks of a part', 60, (n) => `part a {\n${times(n, (i) => `  mark m${i} at ${i % 360} deg\n`)}}\n`),
  row('dimensions of a part', 100, (n) => `part a {\n${times(n, (i) => `  dimension d${i} ${i}.5 mm\n`)}}\n`),
  row('torques of fasteners', 60, (n) =>
    times(n, (i) => `fastener f${n}-${i} { thread M8x1.25 class 8.8 torque 20 N.m }\n`),
  ),
  row('fasteners like the one before', 60, (n) =>
    times(n, (i) =>
      i === 0
        ? `fastener p${n}-0 { thread M8x1.25 class 8.8 torque 20 N.m }\n`
        : `fastener p${n}-${i} { like p${n}-${i - 1} }\n`,
    ),
  ),
  row('tightenings of one bolt', 60, (n) =>
    job(n, () => 'tighten f', 'part a\npart b\nfastener f { thread M8x1.25 clamps a to b torque 20 N.m }\n'),
  ),
  row('stages of one bolt', 60, (n) => `fastener f { thread M8x1.25 torque ${names(n, (i) => `${i + 1} N.m`)} }\n`),
  row(
    'places of one tightening order',
    60,
    (n) => `fastener f x${n} { thread M8x1.25 torque 20 N.m tightening-order ${times(n, (i) => `${i + 1} `)}}\n`,
  ),
  row('fits of one part', 60, (n) => job(n, () => 'fit a into b', 'part a\npart b\n')),
  row('fits of parts, each into the one before', 60, (n) =>
    job(
      n,
      (i) => `fit p${n}-${i + 1} into p${n}-${i}`,
      times(n + 1, (i) => `part p${n}-${i}\n`),
    ),
  ),
  row('fits and removals', 40, (n) => job(n, (i) => (i % 2 === 0 ? 'fit a into b' : 'remove a'), 'part a\npart b\n')),
  row('turns of a shaft', 40, (n) =>
    job(n, () => 'rotate a 90 deg clockwise', 'engine { cylinders 4 inline }\npart a\n'),
  ),
  row(
    'jobs',
    60,
    (n) =>
      `${times(n, (i) => `sequence s${n}-${i} { step t${n}-${i} { note "x" } }\njob j${n}-${i} { begins bare sequences s${n}-${i} }\n`)}`,
  ),
  row('jobs, each beginning after the one before', 60, (n) =>
    times(
      n,
      (i) =>
        `sequence s${n}-${i} { step t${n}-${i} { note "x" } }\njob j${n}-${i} { begins ${i === 0 ? 'bare' : `after s${n}-${i - 1}`} sequences s${n}-${i} }\n`,
    ),
  ),
  row('allows in the file', 60, (n) => 'allow unit/missing because "x"\n'.repeat(n)),
  row('allows in parts', 60, (n) =>
    times(n, (i) => `part p${n}-${i} {\n  mass 3\n  allow unit/missing because "x"\n}\n`),
  ),
  row(
    'drives over the same wheels',
    40,
    (n) =>
      `part a { teeth 20 }\npart b { teeth 40 }\n${times(n, (i) => `drive d${n}-${i} {\n  mesh a with b\n  ratio a to b 2:1\n}\n`)}`,
  ),
  row(
    'wheels of one drive',
    40,
    (n) =>
      `${times(n, (i) => `part p${n}-${i} { teeth ${i + 20} }\n`)}part h { links 500 }\ndrive d {\n  chain h over ${names(n, (i) => `p${n}-${i}`)}\n}\n`,
  ),
  row(
    'drives, each driving the next',
    40,
    (n) =>
      `${times(n + 1, (i) => `part p${n}-${i} { teeth 20 }\n`)}${times(n, (i) => `drive d${n}-${i} {\n  mesh p${n}-${i} with p${n}-${i + 1}\n  ratio p${n}-${i} to p${n}-${i + 1} 1:1\n}\n`)}`,
  ),
  row(
    'valve events',
    60,
    (n) => `part cam\nvalve-timing v on cam {\n${'  inlet opens 8 deg btdc closes 50 deg abdc\n'.repeat(n)}}\n`,
  ),
  row(
    'crankpins',
    60,
    (n) => `engine {\n  cylinders 4 inline\n${times(n, (i) => `  crankpin 1 at ${i % 360} deg\n`)}}\n`,
  ),
  row('engines', 60, (n) => times(n, (i) => `engine { bore ${n}.${i + 1} mm }\n`)),
  row('specs', 60, (n) => times(n, (i) => `spec s${n}-${i} { revision ${i} }\n`)),
  row(
    'whens of one variant',
    60,
    (n) => `spec s { variants a, b }\n${times(n, (i) => `when a {\n  part p${n}-${i} { mass 1 kg }\n}\n`)}`,
  ),
  row('braces left open', 60, (n) => times(n, (i) => `part p${n}-${i} {\n`)),
  row('steps of sequences left open', 60, (n) => times(n, () => `sequence s${n} { step t {\n`)),
  row('quoted mail', 60, (n) => `> part a {\n${'>   mass 3 kg\n'.repeat(n)}> }\n`),
  row('variants', 100, (n) => `spec s {\n  variants ${names(n, (i) => `v${i}`)}\n}\npart a { mass 3 }\n`),
  row(
    'changes of a base that is not there',
    60,
    (n) => `spec a extends b {\n${times(n, (i) => `  change part p${n}-${i} { mass 3 kg }\n`)}}\n`,
  ),
  row(
    'limits over each place of one part',
    60,
    (n) =>
      `part a x${n} { dimension d 1.0..1.1 mm }\n${times(n, (i) => `limit l${n}-${i} each a = a.d within 1..2 mm\n`)}`,
  ),
  row(
    'orient rules of one feature',
    60,
    (n) => `part a${n} x4 {\n  feature arrow\n${'  orient arrow toward front\n'.repeat(n)}}\n`,
  ),
  row(
    'orient rules, each for a place',
    60,
    (n) =>
      `part a x${n} {\n  feature arrow\n${times(n, (i) => `  orient arrow toward ${i % 2 === 0 ? 'front' : 'rear'} for ${i + 1}\n`)}}\n`,
  ),
  row('specs with a source', 60, (n) => times(n, (i) => `spec s${n}-${i} {\n  source m${i} "x"\n  per m${i}\n}\n`)),
  row('specs with a `when`', 60, (n) =>
    times(n, (i) => `spec s${n}-${i} {\n  variants v${i}\n  when v${i} { draft }\n}\n`),
  ),
  row(
    'sources that no spec names',
    200,
    (n) =>
      `spec s {\n${times(n, (i) => `  source m${i} "x"\n`)}}\n${times(n, (i) => `part p${n}-${i} { mass 1 kg per x${i}-y "2" }\n`)}`,
  ),
  row(
    'misspelt dimensions of one part',
    160,
    (n) =>
      `part a${n} {\n${times(n, (i) => `  dimension d${i}-bore 1.0..1.1 mm\n`)}}\n${times(n, (i) => `limit l${n}-${i} = a${n}.d${i}-boer within 1..2 mm\n`)}`,
  ),
  row('places of a part with many dimensions', 60, (n) =>
    job(
      n,
      (i) => `fit a 1 into b note "${i}"`,
      `part b\npart a x4 {\n${times(n, (i) => `  dimension d${n}-${i} x2 1.0..1.1 mm\n`)}}\n`,
    ),
  ),
  row(
    'places that a limit does not have',
    60,
    (n) =>
      `part a { dimension d x${n} 1.0..1.1 mm }\nlimit l each a.d = a.d within 1..2 mm\nrecord r {\n  measured l ${names(n, (i) => `${n + i + 1}: 1.5 mm`)}\n}\n`,
  ),
  row('names in one list', 60, (n) =>
    job(1, () => `fit ${names(n, (i) => `p${n}-${i}`)} into b`, `part b\n${times(n, (i) => `part p${n}-${i}\n`)}`),
  ),
  row(
    'covers of one part',
    60,
    (n) => `part a${n} {\n  covers ${names(n, (i) => `p${n}-${i}`)}\n}\n${times(n, (i) => `part p${n}-${i}\n`)}`,
  ),
  row(
    'whens, one in the other',
    60,
    (n) => `spec s { variants a, b }\npart p${n} {\n${'when a {\n'.repeat(n)}mass 1 kg\n${'}\n'.repeat(n)}}\n`,
  ),
  row(
    'variants, and a row of grades for each',
    10,
    (n) =>
      `spec s { variants ${names(n, (i) => `v${n}-${i}`)} }\npart g\nlimit l measured within 0..${n} mm\ngrades g by l {\n${times(n, (i) => `  when v${n}-${i} { g${i} ${i}.1..${i + 1} mm }\n`)}}\n`,
  ),
  row(
    'steps for few variants',
    20,
    (n) =>
      `spec s { variants u, v, w }\n${job(n, (i) => `when ${['u', 'v', 'w'][i % 3]} { fit a into b } when ${['u', 'v', 'w'][(i + 1) % 3]} { remove a }`, 'part a\npart b\n')}`,
  ),
  row(
    'steps of jobs, each beginning after the one before',
    20,
    (n) =>
      `${times(
        4,
        (k) =>
          `sequence s${n}-${k} {\n${times(n, (i) => `  step t${n}-${k}-${i} { fit p${n}-${k}-${i} into b }\n`)}}\njob j${n}-${k} { begins ${k === 0 ? 'bare' : `after s${n}-${k - 1}`} sequences s${n}-${k} }\n`,
      )}part b\n${times(4 * n, (i) => `part p${n}-${i % 4}-${i >> 2}\n`)}`,
  ),
  row(
    'jobs of a few steps, each beginning after the one before',
    12,
    (n) =>
      `${times(
        n,
        (i) =>
          `sequence s${n}-${i} {\n  step t${n}-${i} { fit p${n}-${i} into b }\n  step u${n}-${i} { note "x" }\n}\npart p${n}-${i}\njob j${n}-${i} { begins ${i === 0 ? 'bare' : `after s${n}-${i - 1}`} sequences s${n}-${i} }\n`,
      )}part b\n`,
  ),
  row('braces in a record, one in the other', 60, (n) => `record r${n} {\n${'found { '.repeat(n)}\n`),
  row('words of the machine', 60, (n) =>
    times(
      n,
      (i) =>
        `part ${['constructor', '__proto__', 'toString', 'valueOf'][i % 4]}-${n}-${i} { dimension constructor 1 mm }\nlimit l${n}-${i} = constructor.prototype within 1..2 mm\n`,
    ),
  ),
  row('long names', 10, (n) =>
    times(
      10,
      (i) =>
        `part ${'x'.repeat(20 * n)}${i} { dimension ${'y'.repeat(20 * n)} 1 mm }\nlimit l${n}-${i} = ${'x'.repeat(20 * n)}${i}.${'z'.repeat(20 * n)} within 1..2 mm\n`,
    ),
  ),
  row('gaps of rings', 60, (n) => times(n, (i) => `part ring${n}-${i} { feature gap orient gap at ${i % 360} deg }\n`)),
  row('parts of one step', 60, (n) =>
    job(
      1,
      () => `fit ${names(n, (i) => `p${n}-${i}`)} into b together`,
      `part b\n${times(n, (i) => `part p${n}-${i}\n`)}`,
    ),
  ),
  row('parts that point at each other', 100, (n) =>
    times(n, (i) => `part p${n}-${i} { feature f orient arrow toward p${n}-${(i + 1) % n}.f }\n`),
  ),
];
