// What a spec leaves unsaid: listed thing by thing, and gone once it is said. It is no finding, and what is said is never asked for.
import { describe, expect, test } from 'vitest';
import { IN_ENGLISH, textOf } from '../../grammar/told.ts';
import { inWords, unsaidOf, unsaidText } from '../../server/features/unsaid.ts';
import { analyseText } from '../annotated.ts';

const rows = (text: string): readonly string[] =>
  unsaidOf(analyseText(text)).map((row) => `${row.thing}: ${textOf(row.unsaid)}`);
const WORK = (parts: string): string => `sequence build {
  phase assemble
  starts-with block
  step fit-all {
    ${parts}
  }
}
`;

describe('each is listed, and gone once it is said', () => {
  test.each([
    [
      'spec example',
      'revision',
      'spec example {\n  source shop "Quarry Lane"\n}\n',
      'spec example {\n  revision 1\n  source shop "Quarry Lane"\n}\n',
    ],
    [
      'engine',
      'rotation',
      'engine {\n  cylinders 1 inline\n  cycle four-stroke\n}\n',
      'engine {\n  cylinders 1 inline\n  cycle four-stroke\n  rotation clockwise\n}\n',
    ],
    [
      'engine',
      'crankpin',
      'engine {\n  cylinders 2 inline\n  firing-order 1-2\n}\n',
      'engine {\n  cylinders 2 inline\n  firing-order 1-2\n  crankpin 1 at 0 deg\n  crankpin 2 at 180 deg\n}\n',
    ],
    [
      'part side-cover',
      'covers',
      `part block\n\npart pump\n\npart side-cover\n\n${WORK('fit side-cover onto block')}`,
      `part block\n\npart pump\n\npart side-cover {\n  covers pump\n}\n\n${WORK('fit side-cover onto block')}`,
    ],
    [
      'part sump-gasket',
      'single-use',
      `part block\n\npart sump-gasket\n\n${WORK('fit sump-gasket onto block')}`,
      `part block\n\npart sump-gasket {\n  single-use\n}\n\n${WORK('fit sump-gasket onto block')}`,
    ],
    [
      'part block',
      'a limit with bore',
      'part block {\n  dimension bore 80 mm\n    wear-limit 80.1 mm\n}\n',
      'part block {\n  dimension bore 80 mm\n    wear-limit 80.1 mm\n}\n\nlimit a\n  = block.bore\n  within 79..81 mm\n',
    ],
    [
      'fastener bolt',
      'class',
      'part a\n\nfastener bolt {\n  thread M8\n  clamps a\n}\n',
      'part a\n\nfastener bolt {\n  thread M8\n  class 8.8\n  clamps a\n}\n',
    ],
    [
      'fastener bolt',
      'clamps',
      'fastener bolt {\n  thread M8\n}\n',
      'part a\n\nfastener bolt {\n  thread M8\n  clamps a\n}\n',
    ],
    [
      'limit play',
      'kind',
      'part a\n\nlimit play of a\n  measured\n  within 1..2 mm\n',
      'part a\n\nlimit play of a\n  kind end-play\n  measured\n  within 1..2 mm\n',
    ],
    [
      'limit lash',
      'within, for 3, 4',
      'part a x4\n\nlimit lash each a\n  measured\n  within 1 mm for 1, 2\n',
      'part a x4\n\nlimit lash each a\n  measured\n  within 1 mm for 1..4\n',
    ],
    ['supply oil', 'amount', 'supply oil {\n  kind oil\n}\n', 'supply oil {\n  kind oil\n  amount 4 L\n}\n'],
    ['supply paste', 'cure', 'supply paste {\n  kind sealant\n}\n', 'supply paste {\n  kind sealant\n  cure 2 h\n}\n'],
  ])('%s: %s', (thing, unsaid, without, said) => {
    expect(rows(without)).toContain(`${thing}: ${unsaid}`);
    expect(rows(said)).not.toContain(`${thing}: ${unsaid}`);
  });
});

test('what one variant says is not unsaid', () => {
  const spec = (when: string): string =>
    `spec example {\n  revision 1\n  variants saloon, van\n  source shop "Quarry Lane"\n}\n\nsupply oil {\n  kind oil\n  ${when}\n}\n`;
  expect(rows(spec('when van { amount 4 L }'))).not.toContain('supply oil: amount');
  expect(rows(spec('note "Any."'))).toContain('supply oil: amount');
});

test('a spring-retainer is no ring, and a rear-seal-carrier no seal', () => {
  const text = `part block\n\npart rear-seal-carrier\n\npart spring-holder\n\n${WORK('fit rear-seal-carrier, spring-holder onto block')}`;
  expect(rows(text)).not.toContain('part rear-seal-carrier: single-use');
  expect(rows(text)).not.toContain('part spring-holder: orient');
});

test('what could not be read is left alone', () => {
  expect(rows('supply oil {\n  kidn oil\n}\n')).toEqual([]);
});

test('in words, each thing with its own under it', () => {
  expect(
    unsaidText(unsaidOf(analyseText('supply oil {\n  kind oil\n}\n')).map((each) => inWords(each, IN_ENGLISH))).text,
  ).toBe('supply oil\n  amount  would tell: that as much goes in as must\n');
  expect(unsaidText([]).text).toContain('Nothing');
});
