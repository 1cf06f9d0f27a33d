// Names across files and variants, what an allow covers, and what is said once instead of twice.
import { describe, expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';

/** What is found, as `code under-this-text`, information left out. */
function found(text: string, files: Readonly<Record<string, string>> = {}): readonly string[] {
  return analyseText(text, files)
    .findings.filter((each) => each.severity !== 'information')
    .map(
      (each) =>
        `${each.code} ${text.slice(each.start, each.end)}${each.variants === undefined ? '' : ` in ${each.variants.join()}`}`,
    );
}

describe('files that are used', () => {
  test('a name that both declare is said where this file declares it', () => {
    const text = 'use "other.fettle"\n\npart lid\n\npart base\n';
    expect(found(text, { 'other.fettle': 'part lid' })).toEqual(['name/duplicate lid']);
    expect(found(text, { 'other.fettle': 'part Lid {\n  mass 3 kg\n}' })).toEqual(['name/duplicate lid']);
  });

  test('what this file does not use of them is no finding', () => {
    expect(found('use "other.fettle"\n\npart lid\n', { 'other.fettle': 'part base\n\nsupply oil\n' })).toEqual([]);
  });

  test('empty quotes are one finding', () => {
    expect(found('use ""\n\npart lid\n')).toEqual(['name/empty ""']);
  });

  test('a circle is said at the use line that leads into it', () => {
    const files = { 'a.fettle': 'part lid', 'b.fettle': 'use "this-file.fettle"' };
    expect(found('use "a.fettle"\nuse "b.fettle"\n', files)).toEqual(['name/import-cycle "b.fettle"']);
  });

  test('names that a file may declare that is not found are not said as well', () => {
    const text = 'use "none.fettle"\n\npart lid { covers foot }\n\nrecord r of example revision 1 {\n  done one\n}\n';
    expect(found(text)).toEqual(['name/import-not-found "none.fettle"']);
    expect(found(text, { 'none.fettle': '' })).toEqual([
      'name/unknown foot',
      'record/unknown example',
      'record/unknown one',
    ]);
  });

  test('a file that is used by two others is no circle', () => {
    const files = { 'a.fettle': 'use "c.fettle"', 'b.fettle': 'use "c.fettle"', 'c.fettle': 'part lid' };
    expect(found('use "a.fettle"\nuse "b.fettle"\n', files)).toEqual([]);
  });

  test('two specs, and two engines, in one file', () => {
    expect(found('spec a\n\nspec b\n')).toEqual(['name/duplicate spec']);
    expect(found('engine {\n}\n\nengine {\n}\n')).toEqual(['name/duplicate engine']);
  });
});

describe('variants', () => {
  const spec = 'spec example {\n  variants saloon, van\n}\n\n';

  test('a name may be declared once in each', () => {
    expect(found(`${spec}when saloon { part foot }\n\nwhen van { part foot }\n\npart lid { covers foot }\n`)).toEqual(
      [],
    );
  });

  test('a finding names its variants, unless all agree', () => {
    expect(found(`${spec}when saloon { part foot }\n\npart lid { covers foot }\n`)).toEqual([
      'name/unknown foot in van',
    ]);
    expect(found(`${spec}part lid { covers foot }\n`)).toEqual(['name/unknown foot']);
  });

  test('two of a name in one of them', () => {
    expect(found(`${spec}part foot\n\nwhen van { part foot }\n`)).toEqual(['name/duplicate foot in van']);
  });
});

test('a job and a record are held against the variants that they name', () => {
  const spec = (variant: string): string =>
    `spec example {
  variants saloon, van
}

when van {
  sequence strip {
    phase teardown
    step sump-off { note "Van alone." }
  }
}

job small of example {
  begins whole
  sequences strip
  variant ${variant}
}

record build-1 of example revision 1 {
  variant ${variant}
  done sump-off on 2026-03-02
}
`;
  expect(found(spec('van'))).toEqual([]);
  expect(found(spec('saloon'))).toEqual(['name/unknown strip in saloon', 'record/unknown sump-off in saloon']);
});

describe('allow', () => {
  const work = (inStep: string, inSequence: string): string =>
    `sequence s {\n  phase teardown\n  ${inSequence}\n  step one { ${inStep} remove lid }\n  step two { remove foot }\n}\n`;
  const allow = 'allow name/unknown because "Not written yet."';

  test('covers its step, its sequence, or outside all the file', () => {
    expect(found(work('', ''))).toEqual(['name/unknown lid', 'name/unknown foot']);
    expect(found(work(allow, ''))).toEqual(['name/unknown foot']);
    expect(found(work('', allow))).toEqual([]);
    expect(found(`${allow}\n\n${work('', '')}`)).toEqual([]);
  });

  test('in a when round declarations covers what stands in it', () => {
    const spec = 'spec s {\n  variants saloon, van\n}\n\n';
    const lid = 'part lid {\n  covers pump\n}\n';
    const unknown = (text: string): readonly string[] => found(text).filter((each) => each.startsWith('name/unknown'));
    expect(unknown(`${spec}when van {\n  ${lid}}\n`)).toHaveLength(1);
    expect(unknown(`${spec}when van {\n  ${allow}\n  ${lid}}\n`)).toEqual([]);
    expect(unknown(`${spec}when van {\n  ${allow}\n  part plate\n}\n\n${lid}`)).toHaveLength(1);
  });

  test('one that silences nothing is said', () => {
    expect(found(`part lid {\n  ${allow}\n}\n`)).toEqual(['name/unused name/unknown']);
    expect(found('part lid {\n  allow name/nonsense because "So."\n}\n')).toEqual(['name/unused name/nonsense']);
  });
});

describe('one fault, one finding', () => {
  test.each([
    [
      'part lid {\n  dimensoin depth 3 mm\n}\n\nlimit fit-depth\n  = lid.depth\n  within 1..4 mm\n',
      ['syntax/unexpected dimensoin'],
    ],
    ['fastener bolt {\n  torqe 20 N.m\n}\n\npart lid {\n  note "bolt"\n}\n', ['syntax/unexpected torqe']],
    ['part lid {\n  dimension depth 3\n}\n\nlimit fit-depth\n  = lid.depth\n  within 1..4 mm\n', ['unit/missing 3']],
    [
      'part lid {\n  dimension depth 3 mm\n}\n\nlimit fit-depth\n  = lid.depht\n  within 1..2 mm\n',
      ['name/unknown depht'],
    ],
    ['part lid {\n  dimension depth 3 mm\n}\n\nlimit fit-depth\n  = lid.depth\n  within 1..4\n', ['unit/missing 1..4']],
    [
      'part lid {\n  dimension depth 3 mm\n}\n\nlimit fit-depth\n  = lid.depth + 2\n  within 1..8 mm\n',
      ['unit/missing 2'],
    ],
    ['part lid {\n  feature face\n}\n\nlimit fit-depth\n  = lid.face\n  within 1..8 mm\n', ['name/wrong-kind face']],
    ['part lid {\n  dimension depth 3 mm\n}\n\nlimit fit-depth\n  = lid\n  within 1..8 mm\n', ['name/wrong-kind lid']],
    ['part lid\n\nlimit play of lid\n  kind end-play\n  measured\n  within 0.1..0.2\n', ['unit/missing 0.1..0.2']],
  ])('%#: %j', (text, expected) => {
    expect(found(text)).toEqual(expected);
  });

  test('a misspelt first word does not make its name unknown as well', () => {
    const text = 'prat foot\n\npart lid { covers foot }\n\npart cap { covers toe }\n';
    expect(found(text)).toEqual(['syntax/unexpected prat', 'name/unknown toe']);
    expect(found(text.replace('prat', 'part'))).toEqual(['name/unknown toe']);
  });

  test('the same torque twice is worth a word, a lower one is an error', () => {
    const bolt = (torque: string): readonly string[] =>
      analyseText(`part lid\n\nfastener bolt x2 {\n  thread M8\n  clamps lid\n  torque ${torque}\n}\n`)
        .findings.filter((each) => each.code === 'torque/stages-not-rising')
        .map((each) => each.severity);
    expect(bolt('20 N.m, 20 N.m')).toEqual(['information']);
    expect(bolt('20 N.m, 15 N.m')).toEqual(['error']);
    expect(bolt('20 N.m, slacken, 15 N.m')).toEqual([]);
  });

  test('a bare number is right where a ratio comes out', () => {
    const text =
      'part a {\n  teeth 40\n}\n\npart b {\n  teeth 20\n}\n\nlimit turns\n  = a.teeth / b.teeth\n  within 2..2\n';
    expect(found(text)).toEqual([]);
  });
});

test('in a draft what is missing is information', () => {
  const text = (draft: string): string =>
    `spec example {\n  ${draft}\n}\n\npart lid { covers foot }\n\nfastener bolt\n`;
  expect(found(text('revision 1'))).toEqual(['name/unknown foot', 'torque/missing bolt']);
  expect(found(text('draft'))).toEqual([]);
  expect(analyseText(text('draft')).findings.map((each) => each.code)).toContain('torque/missing');
});

test('the unit that is offered is the one that the spec shows first', () => {
  const offers = (units: string): readonly string[] =>
    analyseText(`spec example {\n  units ${units}\n}\n\npart lid {\n  dimension depth 3\n}\n`).findings.flatMap(
      (each) => each.fixes.map((fix) => fix.title),
    );
  expect(offers('metric')).toContain('Write 3 mm');
  expect(offers('inch')).toContain('Write 3 in');
});

describe('what is meant by a name that is none', () => {
  /** Each finding of a name, with what its ways out write. */
  const meant = (text: string): readonly (readonly [string, readonly string[]])[] =>
    analyseText(text)
      .findings.filter((each) => each.code === 'name/unknown')
      .map((each) => [
        text.slice(each.start, each.end),
        each.fixes?.flatMap((fix) => fix.edits.map((edit) => edit.text.trim())) ?? [],
      ]);

  test.each([
    ['frnt', ['front']],
    ['top', ['up']],
    ['Bottom', ['down']],
    ['back', ['rear']],
    ['blokc', ['block']],
  ])('a direction: %s', (written, words) => {
    expect(meant(`part block\n\npart pump {\n  orient arrow toward ${written}\n}\n`)).toEqual([[written, words]]);
  });

  test('a part that is called as a direction is said at the bench is that part', () => {
    expect(meant('part top\n\npart pump {\n  orient arrow toward top\n}\n')).toEqual([]);
  });

  test('a name in two words is the part that is named so', () => {
    expect(meant('part oil-pump\n\npart sump {\n  covers oil pump\n}\n')).toEqual([['oil pump', ['oil-pump']]]);
  });
});
