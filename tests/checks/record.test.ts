// Records held against their spec: by place, in other units, with repair sizes, for the variant, for one job of several.
import { describe, expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';

const SPEC = `spec example {
  revision 1
}

part block

part crankshaft {
  dimension main-journal x3 56.170..56.190 mm
  size under-25 undersize 0.25 mm { dimension main-journal 55.920..55.940 mm }
}

part main-bore-gauge {
  dimension main-bore x3 60.210..60.220 mm
}

part main-shell {
  places upper 1..3, lower 1..3
  wall 1.991..1.995 mm
  size under-25 undersize 0.25 mm { wall 2.116..2.120 mm }
}

part piston x3

part head-gasket

limit main-oil-clearance each crankshaft.main-journal
  kind oil-clearance
  = main-bore-gauge.main-bore - 2 * main-shell.wall - crankshaft.main-journal
  within 0.020..0.080 mm

limit crank-end-play of crankshaft
  kind end-play
  measured
  within 0.05..0.20 mm
  wear-limit 0.30 mm

limit journal each crankshaft.main-journal
  measured
  within 56.170..56.190 mm
  wear-limit 56.150 mm

limit piston-protrusion each piston
  kind protrusion
  measured
  within 0.45..0.65 mm

limit piston-to-valve of piston
  kind piston-to-valve
  measured
  within at-least 2.1 mm

grades head-gasket by piston-protrusion {
  one-hole 0.45..0.55 mm
  two-hole 0.55..0.65 mm
}
`;

const EVERYTHING = `
  measured crank-end-play 0.14 mm
  measured journal 56.180 mm
  measured piston-protrusion 0.50 mm
  measured piston-to-valve 2.4 mm`;

interface Told {
  readonly code: string;
  readonly at: string;
  readonly message: string;
}

/** What is found of records, with the text that it stands at. */
function found(text: string, files: Readonly<Record<string, string>> = {}): readonly Told[] {
  return analyseText(text, files)
    .findings.filter(({ code }) => code.startsWith('record/'))
    .map(({ code, start, end, message }) => ({ code, at: text.slice(start, end), message }));
}

const record = (body: string): string => `${SPEC}\nrecord build-7 of example revision 1 {${body}\n}\n`;
const codesAt = (text: string): readonly (readonly [string, string])[] => found(text).map(({ code, at }) => [code, at]);
const instead = (line: string, by: string): string => record(EVERYTHING.replace(line, by));

describe('a measured value', () => {
  test('all inside, all measured: nothing is found', () => {
    expect(found(record(EVERYTHING))).toEqual([]);
  });

  test('in thousandths of an inch it is held against millimetres', () => {
    expect(found(instead('0.14 mm', '5.5 thou'))).toEqual([]);
    expect(codesAt(instead('0.14 mm', '10 thou'))).toEqual([['record/worn', '10 thou']]);
    expect(codesAt(instead('0.14 mm', '14 thou'))).toEqual([['record/outside', '14 thou']]);
  });

  test('by place each is held for itself, and the finding stands at its own value', () => {
    const text = instead('0.50 mm', '1: 0.50 mm, 2..3: 0.71 mm');
    expect(codesAt(text)).toEqual([['record/outside', '0.71 mm']]);
    expect(found(text)[0]?.message).toContain('piston-protrusion 2..3 was measured as 0.71 mm');
    expect(found(text)[0]?.message).toContain('It is 0.06 mm too large');
  });

  test('both ends of a range count', () => {
    expect(codesAt(instead('0.14 mm', '0.02..0.06 mm'))).toEqual([['record/outside', '0.02..0.06 mm']]);
    expect(found(instead('0.14 mm', '0.12..0.16 mm'))).toEqual([]);
  });

  test('a wear limit is on one side: what is too tight is outside, not worn', () => {
    expect(codesAt(instead('0.14 mm', '0.03 mm'))).toEqual([['record/outside', '0.03 mm']]);
    expect(codesAt(instead('56.180 mm', '56.160 mm'))).toEqual([['record/worn', '56.160 mm']]);
    expect(codesAt(instead('56.180 mm', '56.195 mm'))).toEqual([['record/outside', '56.195 mm']]);
    expect(codesAt(instead('56.180 mm', '56.140 mm'))).toEqual([['record/outside', '56.140 mm']]);
  });

  test('an open limit has no tenfold: too little is outside', () => {
    expect(codesAt(instead('2.4 mm', '0.9 mm'))).toEqual([['record/outside', '0.9 mm']]);
  });

  test('of two measurements of one place the later one counts, by day or as written', () => {
    const twice = 'measured crank-end-play 0.34 mm on 2026-03-02\n  measured crank-end-play 0.14 mm on 2026-03-04';
    expect(found(instead('measured crank-end-play 0.14 mm', twice))).toEqual([]);
    const turned = 'measured crank-end-play 0.14 mm on 2026-03-02\n  measured crank-end-play 0.34 mm on 2026-03-04';
    expect(codesAt(instead('measured crank-end-play 0.14 mm', turned))).toEqual([['record/outside', '0.34 mm']]);
    const other = 'measured piston-protrusion 1: 0.71 mm\n  measured piston-protrusion 2..3: 0.50 mm';
    expect(found(instead('measured piston-protrusion 0.50 mm', other)).map(({ code }) => code)).toEqual([
      'record/outside',
    ]);
  });

  test('of another kind of unit it is said to be so', () => {
    expect(found(instead('0.14 mm', '0.14 N.m'))[0]?.message).toContain("can't be held against each other");
  });

  test('a place that the limit does not have is unknown', () => {
    expect(codesAt(instead('0.50 mm', '1..3: 0.50 mm, 4: 0.51 mm'))).toEqual([['record/unknown', '4']]);
  });
});

describe('a slip', () => {
  test.each([
    ['1.4 mm', '0.14 mm'],
    ['0.014 mm', '0.14 mm'],
    ['.014 mm', '0.14 mm'],
    ['0.004 mm', '0.004 in'],
    ['0.14 in', '0.14 mm'],
  ])('%s is found alone, with %s as its fix', (wrong, right) => {
    const text = instead('0.14 mm', wrong);
    const findings = analyseText(text).findings.filter(({ code }) => code.startsWith('record/'));
    expect(findings.map(({ code }) => code)).toEqual(['record/slip']);
    const [edit] = findings[0]?.fixes[0]?.edits ?? [];
    expect(edit?.text).toBe(right);
    expect(`${text.slice(0, edit?.start)}${edit?.text}${text.slice(edit?.end)}`).toBe(instead('0.14 mm', right));
  });
});

describe('repair sizes', () => {
  const fitted = (crankshaft: string, shell: string, journal = '55.930 mm'): string =>
    record(`${EVERYTHING.replace('56.180 mm', journal)}${crankshaft}${shell}`);

  test('a ground crankshaft is held against its own size, wear limit and all', () => {
    const both = ['\n  fitted crankshaft size under-25', '\n  fitted main-shell size under-25'] as const;
    expect(found(fitted(...both))).toEqual([]);
    expect(codesAt(fitted(...both, '55.905 mm'))).toEqual([['record/worn', '55.905 mm']]);
    expect(codesAt(fitted(...both, '56.180 mm'))).toEqual([['record/outside', '56.180 mm']]);
  });

  test('with shells of another size the clearance is out, at the size that does it', () => {
    const text = fitted('\n  fitted crankshaft size under-25', '\n  fitted main-shell "batch 7"');
    expect(codesAt(text)).toEqual([['record/outside', 'under-25']]);
    expect(found(text)[0]?.message).toContain('main-oil-clearance comes out at 0.280..0.318 mm');
  });

  test('what was measured counts more than what is worked out', () => {
    const text = fitted('\n  fitted crankshaft size under-25', '\n  measured main-oil-clearance 0.041 mm');
    expect(found(text)).toEqual([]);
  });
});

describe('grades', () => {
  const withGrade = (values: string, grade: string): string =>
    record(`${EVERYTHING.replace('0.50 mm', values)}\n  fitted head-gasket grade ${grade}`);

  test('the proudest piston chooses the one gasket', () => {
    expect(codesAt(withGrade('1: 0.50 mm, 2: 0.58 mm, 3: 0.52 mm', 'one-hole'))).toEqual([
      ['record/wrong-grade', 'one-hole'],
    ]);
    expect(found(withGrade('1: 0.50 mm, 2: 0.58 mm, 3: 0.52 mm', 'two-hole'))).toEqual([]);
  });

  test('a value that two grades share takes either', () => {
    expect(found(withGrade('0.55 mm', 'one-hole'))).toEqual([]);
    expect(found(withGrade('0.55 mm', 'two-hole'))).toEqual([]);
  });

  test('a slip of the pen chooses nothing', () => {
    expect(codesAt(withGrade('5.8 mm', 'one-hole'))).toEqual([['record/slip', '5.8 mm']]);
  });
});

const WORK = `
sequence bench {
  phase inspect
  starts-with block
  step look { inspect block for "cracks" }
}

sequence bottom-end {
  phase assemble
  step lay-crankshaft {
    fit main-shell into block
    fit crankshaft into block
    measure crank-end-play with "dial gauge"
  }
  step fit-pistons each piston { fit piston into block }
}
`;

describe('what is outstanding', () => {
  const of = (body: string): readonly Told[] =>
    found(`${SPEC}${WORK}\nrecord build-7 of example revision 1 {${body}\n}\n`);
  const rest = EVERYTHING.replace('\n  measured crank-end-play 0.14 mm', '');

  test('an open record has one warning at its name: how many, and the first by order of work', () => {
    const [one, ...more] = of(`${rest}\n  done look on 2026-03-02`);
    expect(more).toEqual([]);
    expect(one).toMatchObject({ code: 'record/outstanding', at: 'build-7' });
    expect(one?.message).toBe(
      'Still to do: 2 steps are not done, first lay-crankshaft; 1 limit is not measured, crank-end-play.',
    );
  });

  test('once signed it stands at the signature', () => {
    expect(of(`${EVERYTHING}\n  done look\n  done lay-crankshaft\n  signed "RT" on 2026-03-04`)).toMatchObject([
      { code: 'record/outstanding', at: 'signed "RT" on 2026-03-04' },
    ]);
  });

  test('a deviation answers its step, and what is measured in that step alone', () => {
    expect(
      of(`${rest}\n  done look\n  done fit-pistons\n  deviation lay-crankshaft "Left in: not disturbed."`),
    ).toEqual([]);
  });

  test('a step that is done for each of a part is done when it is done at all of them', () => {
    const done = `${EVERYTHING}\n  done look\n  done lay-crankshaft`;
    expect(of(`${done}\n  done fit-pistons 1..2\n  done fit-pistons 3`)).toEqual([]);
    expect(of(`${done}\n  done fit-pistons 1..2`)[0]?.message).toContain('fit-pistons');
  });

  test('places without a value are named', () => {
    const left = EVERYTHING.replace('piston-protrusion 0.50 mm', 'piston-protrusion 1: 0.50 mm, 3: 0.50 mm');
    expect(of(`${left}\n  done look\n  done lay-crankshaft\n  done fit-pistons`)[0]?.message).toBe(
      'Still to do: 1 limit is not measured, piston-protrusion at 2.',
    );
  });

  test('a step or limit that is misspelt is one finding, not two', () => {
    const text = `${EVERYTHING.replace('crank-end-play', 'crank-endplay')}\n  done look\n  done lay-crankshaf\n  done fit-pistons`;
    expect(of(text).map(({ code, at }) => [code, at])).toEqual([
      ['record/unknown', 'crank-endplay'],
      ['record/unknown', 'lay-crankshaf'],
    ]);
  });

  test('of several jobs it is the one that the record is of', () => {
    const jobs = `${SPEC}${WORK}
job survey of example {
  begins bare
  sequences bench
}

job rebuild of example {
  begins bare
  sequences bench, bottom-end
}
`;
    const survey = `${jobs}\nrecord build-7 of example revision 1 {\n  done look on 2026-03-02\n}\n`;
    expect(found(survey)).toEqual([]);
    const rebuild = survey.replace('done look on', 'done lay-crankshaft on');
    expect(found(rebuild)[0]?.message).toContain('2 steps are not done, first look; 1 limit is not measured');
  });
});

describe('variants', () => {
  test('the record is held against the variant that it says', () => {
    const text = (variant: string): string => `spec example {
  revision 1
  variants road, marine
}

part block

when marine {
  part cooler

  sequence boat {
    phase assemble
    starts-with block
    step fit-cooler { fit cooler onto block }
  }
}

record build-7 of example revision 1 {
  ${variant}
  engine-number "QL-1"
}
`;
    expect(found(text('variant road'))).toEqual([]);
    expect(found(text('variant marine'))[0]?.message).toContain('fit-cooler');
    expect(found(text('')).map(({ message }) => message)).toEqual([
      'The record does not say which variant this engine is. Write variant road or marine.',
    ]);
  });
});

describe('the order of the work', () => {
  const steps = `${SPEC}
sequence one {
  phase assemble
  starts-with block
  step first { fit main-shell into block }
  step second { fit crankshaft into block }
}

sequence two {
  phase assemble
  after one
  step third { fit piston into block }
}
`;
  const of = (body: string): readonly Told[] =>
    found(`${steps}\nrecord build-7 of example revision 1 {${EVERYTHING}${body}\n}\n`);
  const done = (first: string, second: string, third: string): string =>
    `\n  done first on ${first}\n  done second on ${second}\n  done third on ${third}`;

  test('days in order, or all on one day, are right', () => {
    expect(of(done('2026-03-02', '2026-03-02', '2026-03-03'))).toEqual([]);
  });

  test('what comes after another sequence can not be done before it', () => {
    expect(of(done('2026-03-02', '2026-03-04', '2026-03-03'))).toMatchObject([
      { code: 'record/order', at: '2026-03-03' },
    ]);
  });

  test('steps of one sequence are done as written, unless a deviation says why not', () => {
    const turned = done('2026-03-03', '2026-03-02', '2026-03-04');
    expect(of(turned)).toMatchObject([{ code: 'record/order', at: '2026-03-02' }]);
    expect(of(`${turned}\n  deviation second "Crankshaft laid in dry to measure."`)).toEqual([]);
  });

  test('a step that is done again later was done in time', () => {
    expect(
      of(`${done('2026-03-02', '2026-03-02', '2026-03-03')}\n  done first again "It leaked." on 2026-03-09`),
    ).toEqual([]);
  });

  test('a signature is not older than the work', () => {
    expect(of(`${done('2026-03-02', '2026-03-02', '2026-03-05')}\n  signed "RT" on 2026-03-04`)).toMatchObject([
      { code: 'record/order', at: '2026-03-04' },
    ]);
  });
});

describe('another revision', () => {
  const of = (body: string) =>
    analyseText(record(`${EVERYTHING}${body}`).replace('revision 1\n}', 'revision 2\n}')).findings.filter(
      ({ code }) => code === 'record/other-revision',
    );

  test('is a warning while the job is open, with the new revision as a fix', () => {
    expect(of('')).toMatchObject([{ severity: 'warning', fixes: [{ edits: [{ text: '2' }] }] }]);
  });

  test('is information once it is signed', () => {
    expect(of('\n  signed "RT" on 2026-03-04')).toMatchObject([{ severity: 'information' }]);
  });
});

test('a spec that is not found silences what depends on it', () => {
  const text = 'use "gone.fettle"\n\nrecord build-7 of example revision 1 {\n  done look on 2026-03-02\n}\n';
  expect(analyseText(text).findings.map(({ code }) => code)).toEqual(['name/import-not-found']);
});
