// Slips of the pen, and what is offered for them: names with their words in another order, classes, units, declarations made twice.
import { describe, expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';

/** The first ways out of what is found under one code. */
function offered(text: string, code: string): readonly string[] {
  return analyseText(text)
    .findings.filter((each) => each.code === code)
    .map((each) => each.fixes[0]?.title ?? each.message);
}

/** The text with the first way out of a finding taken. */
function mended(text: string, code: string): string {
  const fix = analyseText(text).findings.find((each) => each.code === code)?.fixes[0];
  return [...(fix?.edits ?? [])]
    .sort((a, b) => b.start - a.start)
    .reduce((now, edit) => now.slice(0, edit.start) + edit.text + now.slice(edit.end), text);
}

const fitting = (name: string, parts: readonly string[]): string =>
  `${parts.map((part) => `part ${part}\n\n`).join('')}sequence s {\n  step one {\n    fit ${name}\n  }\n}\n`;

describe('a name whose words stand otherwise', () => {
  test.each([
    ['crank-rear-seal', ['rear-crank-seal', 'front-crank-seal'], 'rear-crank-seal'],
    ['rear-seal', ['rear-crank-seal', 'front-crank-seal'], 'rear-crank-seal'],
    ['sprocket-crank', ['cam-sprocket', 'crank-sprocket'], 'crank-sprocket'],
    ['cylinder-block', ['block', 'sump'], 'block'],
    ['left-cylinder-head', ['cylinder-head', 'head-gasket'], 'cylinder-head'],
  ])('%s', (written, parts, meant) => {
    expect(offered(fitting(written, parts), 'name/unknown')).toEqual([`Change ${written} to ${meant}`]);
  });

  test('of two that have the same words and more, none is named', () => {
    expect(offered(fitting('seal', ['front-crank-seal', 'rear-crank-seal']), 'name/unknown')).toEqual([
      'Declare seal as a part',
    ]);
  });

  test('it is found among many names too', () => {
    const many = Array.from({ length: 400 }, (_, i) => `lid-${String.fromCharCode(97 + (i % 26))}${i}`);
    expect(offered(fitting('seal-rear-crank', [...many, 'rear-crank-seal']), 'name/unknown')).toEqual([
      'Change seal-rear-crank to rear-crank-seal',
    ]);
  });
});

test('a name that another variant has is said to be there for that one', () => {
  const text =
    'spec t {\n  variants saloon, van\n}\n\npart block\n\nwhen van {\n  part guard\n}\n\nsequence s {\n  step one {\n    fit block\n    fit guard\n  }\n}\n';
  const found = analyseText(text).findings.filter((each) => each.code === 'name/unknown');
  expect(found.map(({ message, variants }) => [message, variants])).toEqual([
    ['guard is not there for saloon: it is declared for van alone.', ['saloon']],
  ]);
});

describe('what is declared twice', () => {
  const [less, more] = ['supply oil {\n  kind oil\n}\n', 'supply oil {\n  kind oil\n  amount 4 L\n}\n'];

  test('the one with more in it is kept', () => {
    expect(offered(`${less}\n${more}`, 'name/duplicate')).toEqual(['Keep this oil, which says more']);
    expect(mended(`${less}\n${more}`, 'name/duplicate').trim()).toBe(more.trim());
    expect(offered(`${more}\n${less}`, 'name/duplicate')).toEqual(['Keep the first oil, which says more']);
    expect(mended(`${more}\n${less}`, 'name/duplicate').trim()).toBe(more.trim());
  });

  test('of two that say the same one is kept, and of two that say otherwise neither is thrown away', () => {
    expect(offered(`${more}\n${more}`, 'name/duplicate')).toEqual(['Keep oil once']);
    const [message] = offered(`${more}\n${more.replace('4 L', '5 L')}`, 'name/duplicate');
    expect(message).toMatch(/^oil is declared twice/);
  });
});

test('a class that no table has is told, with the one that is meant', () => {
  const bolt = (name: string): string => `fastener b x4 {\n  thread M10\n  class ${name}\n  torque 40 N.m\n}\n`;
  for (const [written, meant] of [
    ['19.2', '12.9'],
    ['9.10', '10.9'],
    ['8.9', '9.8'],
    ['10.8', '10.9'],
    ['109', '10.9'],
    ['grade-55', 'grade-5'],
  ])
    expect(offered(bolt(written ?? ''), 'torque/unknown-class')).toEqual([`Change ${written} to ${meant}`]);
  // One that its standard has in other sizes, and one of a standard that is not known here, are not slips.
  for (const written of ['9.8', '10', 'A2-70', 'grade-8', 'R'])
    expect(offered(bolt(written), 'torque/unknown-class')).toEqual([]);
});

test('a class that may be a slip for two is told with both', () => {
  const text = 'fastener b x4 {\n  thread M10\n  class 8.9\n  torque 40 N.m\n}\n';
  const finding = analyseText(text).findings.find((each) => each.code === 'torque/unknown-class');
  expect(finding?.message).toContain('Did you mean 9.8 or 8.8?');
  expect(finding?.fixes.map((each) => each.title)).toEqual(['Change 8.9 to 9.8', 'Change 8.9 to 8.8']);
});

test('what is missing is told in words that a reader has', () => {
  const text = 'sequence s {\n  step one {\n    run engine until\n  }\n}\n';
  expect(analyseText(text).findings.find((each) => each.code === 'syntax/unexpected')?.message).toBe(
    'After run, what is reached (82 degC) or what shows, in quotes, is missing. It is written: run engine at 2000 rpm for 20 min',
  );
});

test('a place that is called by a word that begins a declaration is told so', () => {
  const found = analyseText('part flywheels {\n  places drive, timing\n}\n').findings[0];
  expect(found?.message).toBe(
    "drive can't be the name of a place: it begins a declaration. Write drive-side, or another name.",
  );
});

test('of an inch thread that no table has the usual one is named', () => {
  const text = 'fastener b x4 {\n  thread 3/8-26 BSF\n  torque 20 lbf.ft\n}\n';
  // 3/8 BSF has 20 to the inch (BS 84).
  expect(analyseText(text).findings.find((each) => each.code === 'torque/unlisted-thread')?.message).toMatch(
    /The usual one is 3\/8-20 BSF\.$/,
  );
  expect(analyseText('fastener p x1 {\n  thread 1/8-28 BSPT\n  torque tight\n}\n').findings).toEqual([]);
});
