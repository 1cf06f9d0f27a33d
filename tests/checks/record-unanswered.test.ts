// What a signed record leaves unanswered besides steps and measurements: one warning at the signature, gone when it is answered.
import { describe, expect, test } from 'vitest';
import { recordsOf } from '../../server/features/record.ts';
import { analyseText } from '../annotated.ts';

const spec = `spec example {
  revision 1
}

part block

part piston x4

part shim

limit float of block
  measured
  within 2.00..2.20 mm
  per shop

grades shim by float {
  thin 2.00..2.10 mm
  thick 2.10..2.20 mm
}

sequence bottom-end {
  starts-with block
  step fit-pistons {
    fit piston into block
    hold-point "A second pair of eyes."
  }
  step fit-shim {
    measure float
    fit shim onto block
  }
}

`.replace('  per shop\n', '');

const ANSWERED = [
  '  found piston 3 "scuffed" scrap',
  '  fitted piston 3 "new"',
  '  fitted shim grade thin',
  '  measured float 2.06 mm on 2026-03-02',
  '  done fit-pistons on 2026-03-02 by "RT"',
  '  done fit-shim on 2026-03-02',
];

function outstanding(lines: readonly string[]): readonly string[] {
  const text = `${spec}record build-7 of example revision 1 {\n${lines.join('\n')}\n  signed "RT" on 2026-03-04\n}\n`;
  return analyseText(text)
    .findings.filter((each) => each.code === 'record/outstanding')
    .map((each) => `${each.severity} ${text.slice(each.start, each.start + 6)} ${each.message}`);
}

const but = (from: string, to: string): readonly string[] =>
  ANSWERED.map((line) => (line === from ? to : line)).filter((line) => line !== '');

test('nothing is said where all is answered', () => {
  expect(outstanding(ANSWERED)).toEqual([]);
});

describe('one warning at the signature', () => {
  test.each([
    [
      'a hold point that names nobody',
      ANSWERED[4] ?? '',
      '  done fit-pistons on 2026-03-02',
      'hold point of fit-pistons',
    ],
    [
      'a hold point that someone looked at who is not named',
      ANSWERED[4] ?? '',
      '  done fit-pistons on 2026-03-02\n  witnessed fit-pistons on 2026-03-02',
      'hold point of fit-pistons',
    ],
    ['scrap without what replaced it', ANSWERED[1] ?? '', '', 'piston 3 was found scrap'],
    ['another one that was replaced', ANSWERED[1] ?? '', '  fitted piston 2 "new"', 'piston 3 was found scrap'],
    ['a grade that is not said', ANSWERED[2] ?? '', '', 'which grade of shim went in'],
  ])('%s', (_what, from, to, said) => {
    const found = outstanding(but(from, to));
    expect(found).toEqual([expect.stringContaining(said)]);
    expect(found[0]).toMatch(/^warning signed /);
  });
});

test.each([
  ['all of them replaced', but(ANSWERED[1] ?? '', '  fitted piston "a new set"')],
  [
    'a deviation of the step',
    [
      ...but(ANSWERED[4] ?? '', '  done fit-pistons on 2026-03-02'),
      '  deviation fit-pistons "Alone in the shop; looked twice."',
    ],
  ],
  [
    'who looked, named for itself',
    [...but(ANSWERED[4] ?? '', '  done fit-pistons on 2026-03-02'), '  witnessed fit-pistons by "AM" on 2026-03-02'],
  ],
  ['scrap that goes nowhere', [...ANSWERED, '  found block "cracked" scrap']],
])('%s answers', (_what, lines) => {
  expect(outstanding(lines)).toEqual([]);
});

test.each([
  ['who did the step looks at it himself', '  witnessed fit-pistons by "RT" on 2026-03-02', 'RT did fit-pistons'],
  ['others were looked at, and it was not', '  witnessed fit-shim by "AM" on 2026-03-02', 'asks for a second person'],
])('where a hold point asks for two: %s', (_what, line, said) => {
  expect(outstanding([...ANSWERED, line])).toEqual([expect.stringContaining(said)]);
  expect(outstanding([...ANSWERED, line, '  witnessed fit-pistons by "AM" on 2026-03-02'])).toEqual([]);
});

test('the record tells it', () => {
  const text = `${spec}record build-7 of example revision 1 {\n${but(ANSWERED[1] ?? '', '').join('\n')}\n}\n`;
  expect(recordsOf(analyseText(text))[0]?.unanswered).toEqual([
    expect.objectContaining({ what: 'replacement', name: 'piston' }),
  ]);
});
