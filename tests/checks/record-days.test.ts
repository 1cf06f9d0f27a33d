// Days on which something can't have been measured: before it was together, after it was shut in; logs that run backwards.
import { describe, expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';

/** An engine with its valves in the head, one with gears behind a case. */
const SPEC = `spec example {
  revision 1
}

part block

part crankshaft

part liner x2

part piston x2

part rod x2

part ring x2

part cylinder-head

part camshaft

part cam-cover {
  covers camshaft
}

part gear "Gear" {
  mark dot at 12 o'clock
}

part gear-case {
  covers gear.dot
}

limit crank-end-play of crankshaft
  kind end-play
  measured
  within 0.05..0.20 mm

limit rod-mass each rod
  measured
  within 0.60..0.65 kg

limit main-clearance of crankshaft
  kind oil-clearance
  measured
  within 0.02..0.06 mm

limit ring-gap each ring
  kind ring-gap
  measured
  within 0.30..0.50 mm

limit piston-protrusion each piston
  kind protrusion
  measured
  within 0.45..0.65 mm

limit lash of camshaft
  kind valve-lash
  measured
  within 0.20..0.30 mm

limit gear-backlash of gear
  kind backlash
  measured
  within 0.05..0.15 mm

limit liner-leak-test
  measured
  within at-least 3.0 bar

sequence bottom {
  starts-with block
  step gap-rings {
    measure ring-gap with "feeler gauge"
    measure rod-mass with "scale"
  }
  step put-liners {
    fit liner into block
  }
  step test-liners {
    measure liner-leak-test with "hand pump"
  }
  step lay-crank {
    measure main-clearance with "bore gauge"
    fit crankshaft into block
  }
  step look-at-crank {
    measure crank-end-play with "dial gauge"
  }
  step build-pistons {
    fit ring onto piston
    fit piston onto rod
    fit rod onto crankshaft
  }
  step gears {
    fit gear onto crankshaft
    measure gear-backlash with "dial gauge"
  }
  step close-gears {
    fit gear-case onto block
  }
  step stand-proud {
    measure piston-protrusion with "dial gauge"
  }
  step put-head {
    fit camshaft into cylinder-head
    fit cylinder-head onto block
    measure lash with "feeler gauge"
  }
  step close-top {
    fit cam-cover onto cylinder-head
  }
}
`;

const DONE: Readonly<Record<string, string>> = {
  'gap-rings': '03-02',
  'put-liners': '03-03',
  'test-liners': '03-04',
  'lay-crank': '03-05',
  'look-at-crank': '03-06',
  'build-pistons': '03-07',
  gears: '03-08',
  'close-gears': '03-09',
  'stand-proud': '03-10',
  'put-head': '03-11',
  'close-top': '03-12',
};

/** What is found of the days of a record with these lines besides what was done; `done` puts days in the place of the usual. */
function found(lines: string, done: Readonly<Record<string, string>> = {}): readonly string[] {
  const days = { ...DONE, ...done };
  const all = Object.entries(days)
    .filter(([, day]) => day !== '')
    .map(([step, day]) => `  done ${step} on 2026-${day}`);
  const text = `${SPEC}\nrecord build-7 of example revision 1 {\n${all.join('\n')}\n  ${lines}\n}\n`;
  return analyseText(text)
    .findings.filter(({ code }) => code === 'record/days')
    .map(({ message }) => message);
}

const on = (limit: string, value: string, day: string): string => `measured ${limit} ${value} on 2026-${day}`;

describe('a measurement after what shut it in', () => {
  const late: readonly [limit: string, value: string, last: string, late: string, part: string][] = [
    ['rod-mass', '0.62 kg', '03-07', '03-08', 'rod'],
    ['main-clearance', '0.04 mm', '03-05', '03-06', 'crankshaft'],
    ['ring-gap', '0.40 mm', '03-07', '03-08', 'rod'],
    ['piston-protrusion', '0.50 mm', '03-11', '03-12', 'cylinder-head'],
    ['gear-backlash', '0.10 mm', '03-09', '03-10', 'gear-case'],
    ['lash', '0.25 mm', '03-12', '03-13', 'cam-cover'],
  ];
  test.each(late)('%s', (limit, value, last, day, part) => {
    expect(found(on(limit, value, last))).toEqual([]);
    const told = found(on(limit, value, day));
    expect(told).toHaveLength(1);
    expect(told[0]).toContain(`where ${part} went on`);
  });

  test('is nothing where no day is said for that, where a deviation tells why, or where it was measured in time too', () => {
    const line = on('lash', '0.25 mm', '03-13');
    expect(found(line, { 'close-top': '' })).toEqual([]);
    expect(found(`${line}\n  deviation close-top "Put on first, and taken off again to look at the lash."`)).toEqual(
      [],
    );
    expect(found(`${on('lash', '0.24 mm', '03-11')}\n  ${line}`)).toEqual([]);
    expect(found(`${line}\n  deviation put-head "One stud renewed."`)).toHaveLength(1);
  });

  test('end play is read at any time', () => {
    expect(found(on('crank-end-play', '0.10 mm', '03-13'))).toEqual([]);
  });
});

describe('a measurement before it was together', () => {
  const early: readonly [limit: string, value: string, first: string, early: string, part: string][] = [
    ['crank-end-play', '0.10 mm', '03-05', '03-04', 'crankshaft'],
    ['gear-backlash', '0.10 mm', '03-08', '03-07', 'gear'],
    ['piston-protrusion', '0.50 mm', '03-07', '03-06', 'piston'],
    ['lash', '0.25 mm', '03-11', '03-10', 'camshaft'],
    ['liner-leak-test', '3.4 bar', '03-03', '03-02', 'liner'],
  ];
  test.each(early)('%s', (limit, value, first, day, part) => {
    expect(found(on(limit, value, first))).toEqual([]);
    const told = found(on(limit, value, day));
    expect(told).toHaveLength(1);
    expect(told[0]).toContain(`and ${part}, which it is measured at`);
  });

  test('loose parts are measured before', () => {
    expect(found(on('rod-mass', '0.62 kg', '03-01'))).toEqual([]);
    expect(found(on('ring-gap', '0.40 mm', '02-27'))).toEqual([]);
  });

  test('who has only part of the work in the record may have measured it as it came in', () => {
    expect(found(on('crank-end-play', '0.10 mm', '03-04'), { 'gap-rings': '' })).toEqual([]);
  });
});

describe('a log', () => {
  const log = (...times: readonly string[]): string =>
    times.map((time) => `log 2026-03-14 ${time} oil-pressure 4 bar`).join('\n  ');
  test('runs forward', () => {
    expect(found(log('14:10', '14:25', '15:00'))).toEqual([]);
    expect(found(log('14:10', '14:10'))).toEqual([]);
    expect(found(log('14:10', '13:25'))).toHaveLength(1);
    expect(found(log('14:10', '13:25', '15:00'))).toHaveLength(1);
  });
  test('may be kept with the latest on top', () => {
    expect(found(log('15:00', '14:25', '14:10'))).toEqual([]);
  });
});
