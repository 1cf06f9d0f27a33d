// What is said on the sheet where a bolt is tightened a second time, a job stands alone, or a bound is a sum.
import { describe, expect, test } from 'vitest';
import { sheetPage } from '../../server/sheet/page.tsx';
import { analyseText } from '../annotated.ts';

function pageOf(text: string, job?: string): string {
  const analysis = analyseText(text);
  const [view] = analysis.views;
  if (view === undefined) throw new Error('no view');
  return sheetPage(view, { file: analysis.file.file, errors: 0, ...(job === undefined ? {} : { job }) });
}

/** A step as it is read, pictures and tags left out. */
function stepOf(page: string, number: string): string {
  const steps = page.match(/<section class="step[^"]*">.*?<\/section>/gs) ?? [];
  const step = steps.find((each) => each.includes(`<span class="number">${number}</span>`)) ?? '';
  return step
    .replace(/<svg.*?<\/svg>/gs, '')
    .replace(/<[^>]*>/g, ' ')
    .replace(/&#39;/g, "'")
    .replace(/\s+/g, ' ');
}

const SPEC = `spec brindle-wren "Brindle Wren" {
  revision 3
  source shop "Quarry Lane Engine Works"
  per shop
}

engine {
  cylinders 2 inline
  rotation clockwise
}

part block {
  dimension bore x2 80.00..80.02 mm
}

part ring x2 "Top ring"

part head

part crank "Crankshaft" {
  mark dot at 7 o'clock
  mark stripe
  teeth 20
}

part wheel "Cam wheel" {
  teeth 40
  mark dot at 1 o'clock
}

part cam-chain {
  links 60
}

part bare-valve x4 "Inlet valve"

drive cam-drive {
  chain cam-chain over crank, wheel
  marks-agree at tdc 1 on compression
}

fastener head-bolt x10 "Head bolt" {
  thread M12x1.5
  class 10.9
  single-use
  secured-by wire
  caution "Never oil these."
  clamps head to block
  torque 35 N.m, 70 N.m, 80 deg
  retorque 40 deg after "first run, 4 h cold"
}

fastener side-bolt x2 {
  thread M8
  clamps wheel to crank
  torque 25 N.m
  stretch 0.12..0.15 mm
  tensile 1200 MPa
}

limit ring-gap each ring
  kind ring-gap
  measured
  within at-least 0.0045 * block.bore
  per old-book "page 4"

limit lash
  measured
  within 0.25..0.30 mm (0.010..0.012 in)

limit elsewhere
  measured
  within 1..2 mm

sequence one "First" {
  phase assemble
  step lower "Head on" {
    measure ring-gap
    measure lash
    fit bare-valve into head
    fit head onto block
    tighten head-bolt stage 1
  }
  step higher {
    tighten head-bolt stage 2
    tighten side-bolt
    align cam-drive
  }
  step last {
    tighten head-bolt
    run engine at 1500 rpm for 20 min
    wait 4 h
  }
  step after-run {
    tighten head-bolt again
  }
}

sequence two {
  step other {
    measure elsewhere
  }
}

job build "The build" {
  begins bare
  sequences one
}

job check-up "A look later" {
  begins whole
  sequences two
}
`;
const page = pageOf(SPEC);

describe('a bolt that is tightened in several steps', () => {
  test('a later stage says what it has had, and nothing of what comes after the last', () => {
    const first = stepOf(page, '1.1');
    expect(first).toContain('1. 35 N.m (26 lbf.ft)');
    expect(first).toContain('Use new ones');
    expect(first).not.toContain('70 N.m');
    expect(first).not.toContain('secured by wire');
    const second = stepOf(page, '1.2');
    expect(second).toContain('Has had stage 1: 35 N.m (26 lbf.ft).');
    expect(second).toContain('2. 70 N.m (52 lbf.ft)');
    expect(second).not.toContain('Use new ones');
    expect(second).not.toContain('secured by wire');
    const last = stepOf(page, '1.3');
    expect(last).toContain('3. 80 deg further');
    expect(last).toContain('Then secured by wire');
  });

  test('tightened again: the retorque alone, never all stages and never new ones', () => {
    const again = stepOf(page, '1.4');
    expect(again).toMatch(/40 deg ?, after first run, 4 h cold/);
    expect(again).toContain('the same ones, not new ones');
    expect(again).not.toMatch(/35 N\.m|70 N\.m|80 deg|[Uu]se new/);
    // The same without the word `again`: after the last stage it can be nothing else.
    expect(stepOf(pageOf(SPEC.replace('head-bolt again', 'head-bolt')), '1.4')).toBe(
      again.replace('bolts again', 'bolts'),
    );
  });

  test('its caution stands above the step', () => {
    for (const number of ['1.1', '1.2', '1.3']) expect(stepOf(page, number)).toContain('Caution. Never oil these.');
  });

  test('one that is stretched has its lengths to write, its stretch and its tensile strength', () => {
    const step = stepOf(page, '1.2');
    expect(step).toMatch(/length free 1 2 length tight 1 2/);
    expect(step).toContain('To a stretch of 0.12 to 0.15 mm');
    expect(page).toContain('tensile 1200 MPa');
  });
});

describe('bounds', () => {
  test('a bound that is a sum stands with what it comes to: 0.0045 of a bore of 80.02 mm is 0.36009 mm', () => {
    expect(stepOf(page, '1.1')).toMatch(/at least 0\.3601 mm\s+at least 0\.0045 × block bore/);
  });

  test('bounds that are said in two units keep both', () => {
    expect(stepOf(page, '1.1')).toContain('0.25 to 0.30 mm (0.010 to 0.012 in)');
  });

  test('a mark of which no place is said has none on the sheet', () => {
    const step = stepOf(page, '1.2');
    expect(step).toContain("dot of the crankshaft at 7 o'clock");
    expect(step).not.toContain('stripe');
  });

  test('a box for each of several parts; times for what runs and waits', () => {
    const valves = page.slice(0, page.indexOf('Fit the inlet valves into the head')).match(/<li class="action[^>]*>/g);
    expect(valves?.length).toBeGreaterThan(0);
    expect(stepOf(page, '1.1')).toContain('1 2 3 4 Fit the inlet valves into the head');
    expect(stepOf(page, '1.3').match(/from until/g)).toHaveLength(2);
  });
});

describe('a job', () => {
  test('alone has its own tables alone', () => {
    const one = pageOf(SPEC, 'check-up');
    expect(one).not.toContain('Head bolt');
    expect(one).not.toContain('ring gap');
    expect(page).toContain('ring gap');
    expect(one).toContain('the elsewhere');
    expect(pageOf(SPEC, 'build')).not.toContain('the elsewhere');
  });

  test('is named at the head of each of its pages, with engine and revision', () => {
    expect(page).toContain('@page job-1 { ');
    expect(page).toContain('content: "Brindle Wren, revision 3, The build"');
    expect(page).toContain('content: "Brindle Wren, revision 3, A look later"');
    expect(page).toContain('counter(page) " of " counter(pages)');
  });

  test('says of a source that no list names, that none does', () => {
    expect(page).toMatch(/<dt>old-book<\/dt><dd>cited, but listed nowhere in this spec<\/dd>/);
    expect(page).toMatch(/<dt>shop<\/dt><dd>Quarry Lane Engine Works<\/dd>/);
  });
});

describe('what is asked for in one line', () => {
  const page = pageOf(`part a "Upper plate"

part b "Lower plate"

fastener long-bolt "Long bolt" x4 {
  thread M8
  class 8.8
  clamps a to b
  torque 20 N.m
}

fastener short-bolt "Short bolt" x2 {
  thread M6
  class 8.8
  clamps a to b
  torque 9 N.m, 30 deg
}

supply glue "Glue" {
  number "G-7"
}

limit gap "Gap"
  measured
  within 1..2 mm

limit rise "Rise"
  measured
  within 3..4 mm

sequence s {
  step t {
    fit b
    fit a onto b
    seal a with glue
    tighten long-bolt, short-bolt
    measure gap, rise
    machine a
  }
}
`);
  const text = stepOf(page, '1.1');

  test('each limit and each kind of bolt has its own figures and its own boxes', () => {
    expect(text).toMatch(/Measure the gap measured 1 to 2 mm .*Measure the rise measured 3 to 4 mm/);
    expect(text).toMatch(
      /Tighten the 4 long bolts .*20 N\.m .*Tighten the 2 short bolts .*1\. 9 N\.m .*2\. 30 deg further/,
    );
  });

  test('what is laid out is called by its titles, with numbers to order by', () => {
    const layOut = /<section class="lay-out">.*?<\/section>/s.exec(page)?.[0].replace(/<[^>]*>/g, ' ') ?? '';
    expect(layOut).toMatch(/Torque wrench: 9 N\.m \(short bolts\) to 20 N\.m \(long bolts\)/);
    expect(layOut).toMatch(/Angle gauge: short bolts/);
    expect(layOut).toMatch(/Glue, G-7/);
    expect(layOut).toMatch(/Upper plate/);
    expect(layOut).not.toMatch(/short-bolt/);
  });
});
