// What a review says of single edits, as a rebuilder would put them: figures by value, bounds by which way they went, names, moves,
// variants.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Change } from '../../server/review/change.ts';
import { reviewSpecs } from '../../server/review/review.ts';
import { analyseText } from '../annotated.ts';

const four = readFileSync(join(import.meta.dirname, '../model/brindle-four.fettle'), 'utf8');

const review = (old: string, now: string): readonly Change[] => reviewSpecs(analyseText(old), analyseText(now));

/** The changes of an edit of the whole sample; each piece must be there to be replaced. */
function edited(...pieces: readonly (readonly [string | RegExp, string])[]): readonly Change[] {
  let now = four;
  for (const [from, to] of pieces) {
    const next = now.replaceAll(from, to);
    expect(next).not.toBe(now);
    now = next;
  }
  return review(four, now);
}

const bolt = (torque: string, more = ''): string =>
  `fastener bolt x4 {\n  thread M8\n  torque ${torque}\n  ${more}\n}\n`;
const torque = (old: string, now: string): readonly Change[] =>
  review(bolt(old), bolt(now)).filter((change) => !change.what.startsWith('finding.'));

describe('figures are held against each other by value', () => {
  // 1 lbf.ft is 1.355818 N.m: NIST SP 811, appendix B.8.
  test.each([
    ['18 lbf.ft', '24.4 N.m'],
    ['24 N.m (18 lbf.ft)', '24 N.m'],
    ['24 N.m (18 lbf.ft)', '18 lbf.ft (24 N.m)'],
    ['65 N.m', '48 lbf.ft'],
    ['24 N.m', '24.0 Nm'],
    ['20..24 N.m', '22 ±2 N.m'],
    ['30 N.m, 90 deg', '30 N.m, 1/4 turn'],
    ['2 kgf.m', '200 kgf.cm'],
  ])('%s and %s are the same', (old, now) => {
    expect(torque(old, now)).toEqual([]);
    expect(torque(now, old)).toEqual([]);
  });

  test.each([
    ['18 lbf.ft', '24 N.m', 'was 18 lbf.ft, is now 24 N.m: 24.4 N.m before, 0.4 N.m less (1.7 %).'],
    ['24 N.m', '26 N.m', 'was 24 N.m, is now 26 N.m: 2 N.m more (8.3 %).'],
    ['24 N.m (18 lbf.ft)', '24.4 N.m', 'was 24 N.m (18 lbf.ft), is now 24.4 N.m: 0.4 N.m more (1.7 %).'],
    ['24 lbf.ft', '24 N.m', '32.5 N.m before, 8.5 N.m less (26.2 %).'],
    ['30 N.m, 60 N.m, 90 deg', '30 N.m, 60 N.m, 100 deg', 'torque stage 3 was 90 deg, is now 100 deg: 10 deg more.'],
    ['20..24 N.m', '20..25 N.m', 'wider: 1 N.m higher at the high end.'],
    ['20..24 N.m', '21..24 N.m', 'narrower: 1 N.m higher at the low end.'],
    ['20..24 N.m', '22..26 N.m', 'shifted: 2 N.m higher at the low end, 2 N.m higher at the high end.'],
    ['24 N.m (18 lbf.ft)', '24 N.m (28 lbf.ft)', 'the figure in the second unit no longer goes with the first'],
    ['30 N.m, 60 N.m', '30 N.m', 'said: torque 30 N.m, 60 N.m; it now says: torque 30 N.m.'],
    ['24 N.m', '24 deg', 'was 24 N.m, is now 24 deg.'],
  ])('%s and %s are not, and it is said by how much', (old, now, message) => {
    const changes = torque(old, now);
    expect(changes.map((each) => [each.what, each.kind, each.weight])).toEqual([
      ['fastener.bolt.torque', 'changed', 'critical'],
    ]);
    expect(changes[0]?.message).toContain(message);
  });

  test('a limit that lets in more is critical, one that lets in less matters', () => {
    const within = (bounds: string): string => `limit play kind end-play measured within ${bounds}\n`;
    const weight = (old: string, now: string): readonly string[] =>
      review(within(old), within(now)).map(
        (each) => `${each.weight} ${/(wider|narrower|shifted)/.exec(each.message)?.[0]}`,
      );
    expect(weight('0.05..0.20 mm', '0.05..0.25 mm')).toEqual(['critical wider']);
    expect(weight('0.05..0.20 mm', '0.08..0.18 mm')).toEqual(['matters narrower']);
    expect(weight('0.05..0.20 mm', '0.10..0.25 mm')).toEqual(['critical shifted']);
    expect(weight('0.05..0.20 mm', 'at-most 0.20 mm')).toEqual(['critical wider']);
    expect(weight('at-least 0.05 mm', '0.05..0.20 mm')).toEqual(['matters narrower']);
    expect(weight('0.05..0.20 mm', '0.0500..0.2000 mm')).toEqual([]);
  });

  test('a thread is the same with its coarse pitch written or not', () => {
    expect(review('fastener b { thread M8 }', 'fastener b { thread M8x1.25 }')).toEqual([]);
    expect(review('fastener b { thread M8 }', 'fastener b { thread M8x1 }').map((each) => each.weight)).toContain(
      'critical',
    );
  });

  test('places are the same one by one or in a run, in any order', () => {
    const lash = (value: string): string => `part tappet x4 {\n  dimension shim ${value}\n}\n`;
    expect(
      review(lash('1..2: 2.0 mm, 3: 2.1 mm, 4: 2.2 mm'), lash('4: 2.2 mm, 3: 2.1 mm, 1: 2.0 mm, 2: 2.0 mm')),
    ).toEqual([]);
    const [change] = review(lash('1: 2.0 mm, 2: 2.0 mm'), lash('1: 2.0 mm, 2: 2.3 mm'));
    expect(change?.message).toContain('dimension shim 2 was 2.0 mm, is now 2.3 mm');
  });
});

describe('what it weighs', () => {
  test.each([
    [
      'single-use gone',
      /fastener head-bolt x10 \{([^}]*)\n {2}single-use/,
      'fastener head-bolt x10 {$1',
      'fastener.head-bolt.single-use',
      'critical',
    ],
    [
      'which way round',
      'orient arrow toward front\n  orient top-gap',
      'orient arrow toward rear\n  orient top-gap',
      'part.piston.orient.arrow',
      'critical',
    ],
    ['a caution gone', / *caution "Ring.*\n/, '', 'sequence.long-block.step.fit-pistons.caution', 'critical'],
    ['the order of tightening', '9 5 1 4 8 /', '9 5 4 1 8 /', 'fastener.head-bolt.tightening-order', 'critical'],
    ['a mark', 'mark dot at 12', 'mark dot at 11', 'part.cam-sprocket.mark.dot', 'critical'],
    ['a marked link', 'marked-link 29', 'marked-link 28', 'drive.cam-drive.marked-link.cam-sprocket.dot', 'critical'],
    ['valve timing', 'inlet opens 12', 'inlet opens 14', 'valve-timing.road-grind.inlet', 'critical'],
    [
      'what it must come after',
      /\n {4}after prove-timing/,
      '',
      'sequence.long-block.step.fit-oil-pump.after',
      'critical',
    ],
    [
      'a tool',
      'tool "ring compressor"',
      'tool "ring clamp, tapered sleeve"',
      'sequence.long-block.step.fit-pistons.tool',
      'matters',
    ],
    [
      'the title of a step',
      'step lay-crankshaft "Lay the crankshaft"',
      'step lay-crankshaft "Put the crankshaft in"',
      'sequence.long-block.step.lay-crankshaft.title',
      'matters',
    ],
    ['a title elsewhere', '"Cylinder block"', '"Block, bare"', 'part.block.title', 'wording'],
    ['a note', 'Keep it level', 'Hold it level', 'sequence.long-block.step.fit-camshaft.note', 'wording'],
    ['a source', 'per manual "2-31"', 'per manual "2-32"', 'fastener.cam-plate-bolt.torque.per', 'wording'],
    ['the revision', 'revision 3', 'revision 4', 'spec.revision', 'wording'],
  ])('%s', (_what, from, to, what, weight) => {
    const changes = edited([typeof from === 'string' ? from : new RegExp(from, 'g'), to]);
    expect(
      changes.filter((each) => !each.what.startsWith('finding.')).map((each) => [each.what, each.weight]),
    ).toContainEqual([what, weight]);
  });
});

describe('a text that stands alone of its word', () => {
  const step = (...texts: readonly string[]): string =>
    `sequence build {\n  phase assemble\n  step look {\n    inspect block for "cracks"\n    ${texts.join('\n    ')}\n  }\n}\n\npart block\n`;
  const changes = (old: string, now: string): readonly (readonly unknown[])[] =>
    review(old, now)
      .filter((each) => !each.what.startsWith('finding.'))
      .map((each) => [each.kind, each.old, each.new]);

  test.each(['tool', 'note', 'hold-point', 'caution'])('%s replaced by another is one change with both', (word) => {
    expect(changes(step(`${word} "Ring clamp."`), step(`${word} "Straight edge and feeler."`))).toEqual([
      ['changed', `${word} "Ring clamp."`, `${word} "Straight edge and feeler."`],
    ]);
  });

  test('of two of a word, one that is replaced by a stranger is gone, and the stranger new', () => {
    const old = step('tool "ring clamp"', 'tool "feeler gauge"');
    const now = step('tool "ring clamp"', 'tool "degree wheel"');
    expect(
      changes(old, now)
        .map(([kind]) => kind)
        .sort(),
    ).toEqual(['added', 'removed']);
  });
});

describe('names', () => {
  test('a thing, a feature and a source under new names throughout are each that one change', () => {
    const changes = edited(
      [/\bcylinder-head\b/g, 'head'],
      [/\bmain-journal\b/g, 'journal'],
      [/\bmanual\b(?! ?,)/g, 'book'],
    );
    expect(
      changes
        .filter(
          (each) =>
            !each.what.endsWith('.name') && each.what !== 'spec.source.book.name' && !each.what.startsWith('spec.'),
        )
        .map((each) => each.what),
    ).toEqual([]);
    expect(changes.map((each) => [each.old, each.new])).toContainEqual(['cylinder-head', 'head']);
    expect(changes.map((each) => [each.old, each.new])).toContainEqual(['main-journal', 'journal']);
  });

  test('a part that is renamed and changed is the same part, and only the change is said beside the name', () => {
    const changes = edited(
      [/(?<!-)cam-plate(?!-bolt)/g, 'thrust-plate'],
      ['torque 24 N.m (18 lbf.ft)', 'torque 26 N.m'],
    );
    expect(changes.map((each) => each.what)).toEqual(['fastener.cam-plate-bolt.torque', 'part.thrust-plate.name']);
  });

  test('what only stands in the place of another may be another thing: that matters', () => {
    const work = (part: string): string =>
      `part engine-block\npart ${part}\nsequence work {\n  starts-with engine-block\n  step one "One" {\n    fit ${part} onto engine-block\n  }\n}\n`;
    const changes = review(work('carburettor'), work('injector'));
    expect(changes.map((each) => [each.what, each.weight])).toEqual([['part.injector.name', 'matters']]);
    expect(changes[0]?.message).toContain('Nothing says whether that is the same one');
    expect(review(work('oil-pump'), work('main-oil-pump')).map((each) => each.weight)).toEqual(['wording']);
  });

  test('another part in its place is another part', () => {
    const changes = review(
      'part pump {\n  single-use\n  mass 2 kg\n  number "A"\n}\n',
      'part filter {\n  matched\n  mass 1 kg\n  number "B"\n}\n',
    ).filter((each) => !each.what.startsWith('finding.'));
    expect(changes.map((each) => `${each.kind} ${each.what}`).sort()).toEqual([
      'added part.filter',
      'removed part.pump',
    ]);
  });
});

describe('moves', () => {
  const pump = '  step fit-oil-pump {\n    after prove-timing\n    fit oil-pump onto block\n  }\n';
  const pistons = / {2}step fit-pistons each piston \{[^}]*\}\n/.exec(four)?.[0] ?? '';

  test('a step that may stand there matters, and the job still rehearses', () => {
    const changes = edited([pistons, ''], ['  step fit-camshaft', `${pistons}  step fit-camshaft`]);
    expect(changes.map((each) => [each.what, each.kind, each.weight])).toEqual([
      ['sequence.long-block.step.fit-pistons', 'moved', 'matters'],
    ]);
    expect(changes[0]?.message).toContain('The job still rehearses as before.');
  });

  test('a step that may not is critical, and what the rehearsal finds is said', () => {
    const [first] = edited([pump, ''], ['  step find-tdc {', `${pump}  step find-tdc {`]);
    expect([first?.kind, first?.weight]).toEqual(['moved', 'critical']);
    expect(first?.message).toContain('The rehearsal now finds: fit-oil-pump has to come after prove-timing');
  });

  test('of two moves, only the one that does harm is critical', () => {
    const changes = edited(
      [pistons, ''],
      ['  step fit-camshaft', `${pistons}  step fit-camshaft`],
      ['    release chain-tensioner\n', ''],
      ['    rotate crankshaft 2 turns\n', '    rotate crankshaft 2 turns\n    release chain-tensioner\n'],
    );
    const moved = changes.filter((each) => each.kind === 'moved').map((each) => [each.what, each.weight]);
    expect(moved).toEqual([
      ['sequence.long-block.step.prove-timing.release.chain-tensioner', 'critical'],
      ['sequence.long-block.step.fit-pistons', 'matters'],
    ]);
  });

  test('a caution that went to another step has moved, not gone', () => {
    const caution = '    caution "Ring edges cut. Keep fingers out of the bore."\n';
    const changes = edited(
      [caution, ''],
      ['    fit cylinder-head onto block\n', `    fit cylinder-head onto block\n${caution}`],
    );
    expect(changes.map((each) => [each.kind, each.weight])).toEqual([['moved', 'matters']]);
  });

  test('an action within its step', () => {
    const changes = edited([
      '    lubricate main-shell with assembly-lube\n    fit main-shell upper into block\n    fit main-shell lower into main-cap\n',
      '    fit main-shell upper into block\n    fit main-shell lower into main-cap\n    lubricate main-shell with assembly-lube\n',
    ]);
    expect(changes.map((each) => [each.kind, each.what])).toEqual([
      ['moved', 'sequence.long-block.step.lay-crankshaft.lubricate.main-shell'],
    ]);
  });
});

describe('variants', () => {
  test('what changed in some is said with their names, what changed in all without', () => {
    const changes = edited(
      ['when van { covers oil-pump }', 'when van { covers oil-pump, crank-sprocket }'],
      ['torque 9 N.m', 'torque 10 N.m'],
    ).filter((each) => !each.what.startsWith('finding.'));
    expect(changes.map((each) => [each.what, each.variants])).toEqual([
      ['fastener.sump-bolt.torque', undefined],
      ['part.sump.covers', ['van']],
    ]);
  });

  test('what is new for one that is new', () => {
    const changes = edited(
      ['variants saloon, van', 'variants saloon, van, truck'],
      ['when van { covers oil-pump }', 'when van { covers oil-pump }\n  when truck { mass 2 kg }'],
    );
    expect(changes.map((each) => [each.what, each.kind, each.variants])).toEqual([
      ['spec.variants.truck', 'added', undefined],
      ['part.sump.mass', 'added', ['truck']],
    ]);
  });
});

describe('findings', () => {
  test('what the checker finds now, and no longer, is said', () => {
    const [now] = edited(['    release chain-tensioner\n', '']).filter(
      (each) => each.what === 'finding.sequence/rotated-while-held-back',
    );
    expect([now?.kind, now?.weight]).toEqual(['added', 'critical']);
    const broken = four.replace('    release chain-tensioner\n', '');
    const gone = review(broken, four).filter((each) => each.what === 'finding.sequence/rotated-while-held-back');
    expect(gone.map((each) => [each.kind, each.weight])).toEqual([['removed', 'matters']]);
  });

  test('one that only moved along, or whose figures changed, is not said again', () => {
    const weak = four.replace('torque 9 N.m', 'torque 19 N.m');
    const told = analyseText(weak).findings.filter((each) => each.code === 'torque/over-proof');
    expect(told.length).toBe(1);
    const weaker = `# A line more.\n${weak.replace('torque 19 N.m', 'torque 20 N.m')}`;
    expect(review(weak, weaker).map((each) => each.what)).toEqual(['fastener.sump-bolt.torque']);
  });
});

describe('a spec built on another', () => {
  const files = { 'four.fettle': four };
  const built = (changes: string): string =>
    `use "four.fettle"\n\nspec ours "Ours" extends brindle-four {\n  revision 1\n  source bench "Our trial"\n${changes}}\n`;
  const told = (old: string, now: string): readonly string[] =>
    reviewSpecs(analyseText(old, files), analyseText(now, files))
      .filter((each) => !each.what.startsWith('finding.'))
      .map((each) => `${each.kind} ${each.what} ${each.oldPlace?.file ?? ''} > ${each.newPlace?.file ?? ''}`);
  const change =
    '  change fastener head-bolt {\n    torque 30 N.m, 65 N.m, 90 deg, 90 deg\n      per bench\n  }\n  insert step look "Look" after fit-cam-plate {\n    inspect cam-plate for "scores"\n  }\n';

  test('its changes are compared as what they come to, each side where it is written', () => {
    expect(told(built(change), built(change))).toEqual([]);
    expect(told(built(''), built(change))).toEqual([
      'changed fastener.head-bolt.torque four.fettle > this-file.fettle',
      'added sequence.long-block.step.look  > this-file.fettle',
      'added fastener.head-bolt.torque.per  > this-file.fettle',
    ]);
  });
});

test('what can not be read is compared as it is written, and nothing is made up', () => {
  const changes = review('part block {\n  mass 3 3 3 kg kg\n}\n', 'part block {\n  mass 3 3 3 kg kg\n}\n\n# more\n');
  expect(changes).toEqual([]);
  expect(review('', '')).toEqual([]);
  expect(review('{{{ "', four).some((each) => each.what === 'engine')).toBe(true);
});

test('a step that is gone moves none of those behind it', () => {
  const steps = (names: readonly string[]): string =>
    `part lid\n\nsequence build {\n  phase inspect\n${names.map((name) => `  step ${name} {\n    inspect lid for "${name}"\n  }\n`).join('')}}\n`;
  const changes = review(steps(['one', 'two', 'three', 'four']), steps(['one', 'three', 'four']));
  expect(changes.map(({ kind, what }) => [kind, what])).toEqual([['removed', 'sequence.build.step.two']]);
});

test('a spec held against its base tells what the shop does otherwise, and not that it uses the base', () => {
  const base =
    'spec base "Base" {\n  revision 1\n}\n\npart lid\n\nfastener lid-bolt x4 {\n  thread M6\n  clamps lid\n  torque 9 N.m\n}\n';
  const shop =
    'use "base.fettle"\n\nspec ours "Ours" extends base {\n  revision 1\n  change fastener lid-bolt {\n    torque 8 N.m\n  }\n}\n';
  const changes = reviewSpecs(
    analyseText(base, {}, 'base.fettle'),
    analyseText(shop, { 'base.fettle': base }, 'ours.fettle'),
  );
  expect(changes.filter(({ weight }) => weight !== 'wording').map(({ what, kind }) => `${kind} ${what}`)).toEqual([
    'changed fastener.lid-bolt.torque',
  ]);
});

test('two steps, or two sequences, of one name have not moved against themselves', () => {
  const step = (what: string): string => `  step fit {\n    ${what} block\n  }\n`;
  const spec = `part block\n\nsequence build {\n  phase assemble\n  starts-with block\n${step('clean')}  step dry {\n    inspect block\n  }\n${step('inspect')}${step('clean')}}\n\nsequence build {\n  phase assemble\n${step('clean')}}\n`;
  expect(review(spec, spec)).toEqual([]);
  const moved = spec.replace(/( {2}step dry \{\n.*?\n {2}\}\n)(.*?)\}\n\n/s, '$2$1}\n\n');
  expect(moved).not.toBe(spec);
  expect(review(spec, moved).map((change) => change.kind)).toContain('moved');
});
