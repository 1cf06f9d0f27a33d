// What is known of one place or of one way of doing it holds for its like: bolts whose titles tell their order, tappets of a side-valve engine, rods
// under a head, gears with an idler that comes back late, clips that can't be reached. Common practice, no source.
import { describe, expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';
import { FOUR, found } from './work.ts';

/** What is said for information alone, with the line that it stands in. */
const hints = (text: string): readonly string[] =>
  analyseText(text)
    .findings.filter(({ severity, code }) => severity === 'information' && code.startsWith('sequence/'))
    .map(({ code, start }) => {
      const from = text.lastIndexOf('\n', start - 1) + 1;
      return `${code}: ${text.slice(from, text.indexOf('\n', start)).trim()}`;
    });

describe('a title or a note tells which bolts come first', () => {
  const joint = (first: string, large: string, ...work: readonly string[]): string => `part case
part cover
fastener nut-first x1 ${first} {
  joint structural
  clamps cover to case
  torque 16 N.m
}
fastener nut-large x6 ${large} {
  joint structural
  clamps cover to case
  torque 34 N.m
}
sequence close-up {
  phase assemble
  starts-with case
  step close {
    fit cover onto case
${work.map((line) => `    ${line}`).join('\n')}
  }
}
`;
  test.each<[string, string]>([
    ['"The nut beside main 1: before the large ones"', ''],
    ['', '"Through-bolt nut, after the first"'],
  ])('%s %s', (first, large) => {
    const late = ['tighten nut-large', 'tighten nut-first'];
    expect(found(joint(first, large, ...late))).toEqual(['sequence/out-of-turn: tighten nut-large']);
    expect(found(joint(first, large, 'tighten nut-first', 'tighten nut-large'))).toEqual([]);
    expect(found(joint('', '', ...late))).toEqual([]);
  });
});

describe('tappets and the camshaft under them', () => {
  const engine = (more: string, ...work: readonly string[]): string => `part block
part camshaft { covers tappet }
part tappet x8
${more}limit tappet-clearance each tappet
  kind valve-lash
  measured
  within 0.10..0.15 mm
sequence wheels {
  phase assemble
  starts-with block
  step in {
${work.map((line) => `    ${line}`).join('\n')}
    adjust tappet-clearance by "screw and locknut"
    measure tappet-clearance with "feeler gauge"
  }
}
`;
  test('lash is set with the camshaft in, whatever that covers', () => {
    expect(found(engine('', 'fit tappet into block', 'fit camshaft into block'))).toEqual([]);
  });
  test('in a side-valve engine they may have to go in before it', () => {
    const late = ['fit camshaft into block', 'fit tappet into block'];
    const open = (text: string): string => text.replace(' { covers tappet }', '');
    expect(hints(open(engine('', ...late)))).toEqual(['sequence/covered: fit tappet into block']);
    expect(hints(open(engine('', 'fit tappet into block', 'fit camshaft into block')))).toEqual([]);
    // With pushrods they go in from above.
    expect(hints(open(engine('part pushrod x8\n', ...late, 'fit pushrod into tappet')))).toEqual([]);
  });
});

describe('pistons, their pins and the head', () => {
  const engine = (...work: readonly string[]): string => `engine {
  cylinders 2 inline
  bore block.bore
}
part block { dimension bore x2 80.00..80.01 mm }
part crankshaft
part piston x2
part wrist-pin x2 { secured-by circlip }
part rod x2
part rod-cap x2
part cylinder-head
sequence build {
  phase assemble
  starts-with block
  step in {
    fit crankshaft into block
    fit piston onto rod
    fit wrist-pin into piston
${work.map((line) => `    ${line}`).join('\n')}
  }
}
`;
  const rods = ['fit rod onto crankshaft', 'fit rod-cap onto rod'];
  const head = 'fit cylinder-head onto block';
  test('a rod with its piston does not go in under the head', () => {
    expect(found(engine('secure wrist-pin', ...rods, head))).toEqual([]);
    expect(found(engine('secure wrist-pin', head, ...rods))).toEqual(['sequence/covered: fit rod onto crankshaft']);
  });
  test('clips that can no longer be reached are called so', () => {
    const { findings } = analyseText(engine(...rods, 'secure wrist-pin', head));
    expect(findings.map(({ code, message }) => `${code} ${message}`)).toContainEqual(
      'sequence/covered wrist-pin can no longer be secured here: piston shuts it in. Secure it before that goes in.',
    );
  });
});

test('gears whose idler comes back late are looked at when they are turned', () => {
  const train = (look: string): string => `${FOUR}part block
part crankshaft
part camshaft
part crank-gear { teeth 40 fixed-to crankshaft mark dot at 1 o'clock }
part idler-gear { teeth 57 mark dot-a against crank-gear.dot mark dot-b against cam-gear.dot }
part cam-gear { teeth 80 fixed-to camshaft mark dot at 7 o'clock }
drive gear-train {
  mesh crank-gear with idler-gear
  mesh idler-gear with cam-gear
  ratio crankshaft to camshaft 2:1
  marks-agree at tdc 1 on compression
}
sequence gears {
  phase assemble
  starts-with block, crankshaft, camshaft
  step in {
    set crankshaft at tdc 1 on compression
    fit crank-gear onto crankshaft
    fit cam-gear onto camshaft
    fit idler-gear onto block
    align gear-train
  }
  step prove {
    rotate crankshaft 2 turns clockwise
    ${look}
  }
}
`;
  const code = (text: string): readonly string[] => hints(text).filter((each) => each.includes('timing-not-proved'));
  expect(code(train('note "Backlash felt all round."'))).toEqual([
    'sequence/timing-not-proved: fit idler-gear onto block',
  ]);
  expect(code(train('confirm gear-train by marks'))).toEqual([]);
});
