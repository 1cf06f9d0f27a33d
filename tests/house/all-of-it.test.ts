// What a new word, code, figure or command has besides itself, where the compiler can't ask for it. Each failure says where the row goes.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { languagesIn, rowsIn } from '../../client/translations.mjs';
import { ACTIONS, STATEMENTS } from '../../grammar/vocabulary.ts';
import { CHECKS } from '../../server/checks/catalog.ts';
import { ENGINE_FIGURES } from '../../server/model/engine-figures.ts';
import { root, sourcesBelow } from './imports.ts';

const read = (path: string): string => readFileSync(join(root, path), 'utf8');
const ROWS = [...STATEMENTS, ...ACTIONS];

/** The words from before specs could have names that a word takes away. None is added: a new word has `yields: true`. */
const FIRST_WORDS: ReadonlySet<string> = new Set(
  `note allow when drop per revision variants source units draft cylinders bank front cycle rotation bore stroke rod-length
  block-height compression-height chamber dish dome gasket-bore gasket-thickness crankpin firing-order redline interference places
  dimension feature wall figure size mark orient teeth links pitch fixed-to held-back covers matched single-use secured-by
  on-order mass number like thread class tensile length shank thread-length hole-depth into surface fitted nut-factor friction
  joint clamps each reuse torque stretch retorque tightening-order kind amount close-within cure chain belt mesh ratio
  centre-distance marks-agree marked-link tensioner inlet exhaust lift measured-at rocker-ratio stated phase starts-with after
  begins sequences variant engine-number found measured done deviation log photo signed trial fit remove tighten snug loosen renew
  secure lubricate seal clean inspect measure adjust machine hold-back release pin unpin set align rotate confirm drain fill bleed
  prime connect disconnect plug unplug support run wait tool caution hold-point`.split(/\s+/),
);

test('a new word yields to a name', () => {
  const without = ROWS.filter((row) => !('yields' in row) && !FIRST_WORDS.has(row.word)).map(({ word }) => word);
  expect(without, 'give it yields: true in grammar/vocabulary').toEqual([]);
});

test('what people look for a new word by stands in how-to-say.md', () => {
  const page = read('grammar/how-to-say.md');
  const without = ROWS.filter((row) => 'yields' in row && !new RegExp(`^ *${row.word}(?![\\w-])`, 'm').test(page)).map(
    ({ word }) => word,
  );
  expect(without, 'write a piece with it in grammar/how-to-say.md').toEqual([]);
});

/** New words of which no row tells where they show. None is added. */
const NOT_SAID: ReadonlySet<string> = new Set(['heat-treated', 'mask', 'unmask']);

test('where a new word shows has a row', () => {
  const said = ['work', 'values'].map((name) => read(`tests/model/said/${name}.fettle`)).join('\n');
  const without = ROWS.filter(
    (row) => 'yields' in row && !NOT_SAID.has(row.word) && !new RegExp(`^ *${row.word}(?![\\w-])`, 'm').test(said),
  ).map(({ word }) => word);
  expect(without, 'say it in tests/model/said and give it a row in tests/features/everywhere-*.ts').toEqual([]);
});

/** Words whose change matters in a review, and weighs no more. A new one is weighed: it stands here or in server/review/weights.ts. */
const MATTERS: ReadonlySet<string> = new Set(
  `adjust agreed amount begins belt bleed block-height bore centre-distance chain chamber clamps clean clear-of close-within complaint compression-height connect crank cure customer deviation disconnect dish distance dome done draft
    drain drop each engine-number exhaust feature fill fit found gasket-bore gasket-thickness hold-back hole-depth inlet
    inspect joint kind length lift like log loosen lubricate machine marked-link marks-agree mask mass measured-at mesh
    number on-order out-through phase phaser photo pin plug prime ratio redline release remove renew rocker-ratio rod-length rotate run running-hours seal secure see sequences shank signed snug starts-with stated stroke support surface
    tensioner thread-length tool trial unpin unplug variant variants wait when witnessed`.split(/\s+/),
);

test('a new word is weighed for a review', () => {
  const weights = read('server/review/weights.ts');
  const without = ROWS.filter(({ word }) => !MATTERS.has(word) && !weights.includes(`'${word}'`)).map(
    ({ word }) => word,
  );
  expect(without, 'put it into server/review/weights.ts, or here where it is to weigh no more than others').toEqual([]);
  const twice = [...MATTERS].filter((word) => weights.includes(`'${word}'`));
  expect(twice).toEqual([]);
});

test('a code that is said is in the catalog, and one that is asked for is said', () => {
  const codes = new Set(CHECKS.map(({ code }) => code));
  const areas = [...new Set([...codes].map((code) => code.split('/')[0] ?? ''))].filter((area) => area !== 'fettle');
  const written = new RegExp(`['"\`]((?:${areas.join('|')})/[a-z-]+)['"\`]`, 'g');
  const unknown = ['grammar', 'server']
    .flatMap(sourcesBelow)
    .flatMap((path) =>
      [...read(path).matchAll(written)].flatMap(([, code = '']) => (codes.has(code) ? [] : [`${path} ${code}`])),
    );
  expect(
    unknown,
    'a code of the rehearsal has a row in server/checks/sequence/rehearsed.ts, any other a line in server/checks/catalog.ts',
  ).toEqual([]);
});

test('a figure of the engine is told in the reference, known to the hints, and has its name in every language', () => {
  const names = Object.keys(ENGINE_FIGURES);
  const [reference, hints] = [read('grammar/reference.md'), read('grammar/hints.ts')];
  expect(
    names.filter((name) => !reference.includes(`\`engine.${name}\``)),
    'name it in grammar/reference.md',
  ).toEqual([]);
  expect(
    names.filter((name) => !hints.includes(`'${name}'`)),
    'put it into WORKED_OUT in grammar/hints.ts',
  ).toEqual([]);
  for (const language of languagesIn(root)) {
    const rows = rowsIn(root, language);
    expect(
      names.map((name) => name.replaceAll('-', ' ')).filter((name) => !(name in rows)),
      `give it a row in server/translations/${language}`,
    ).toEqual([]);
  }
});

test('a command has its row in the README', () => {
  const commands = [...read('server/command-line/run.ts').matchAll(/\.command\('([a-z-]+)'\)/g)].flatMap(
    ([, name]) => name ?? [],
  );
  expect(commands.length).toBeGreaterThan(12);
  const readme = read('README.md');
  expect(
    commands.filter((name) => !readme.includes(`| \`fettle ${name} `)),
    'give it a row in the table of README.md',
  ).toEqual([]);
});
