// What the statements of work come to as data: each of them is read, stands in the canonical layout, refers to what it names, and is
// found in the view.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { formatText } from '../../grammar/printer.ts';
import { toNumber, ZERO } from '../../server/mechanics/exact.ts';
import { coveredBy } from '../../server/model/covered.ts';
import { angleOf } from '../../server/model/pointing.ts';
import { valuesOf } from '../../server/model/values.ts';
import type { Fastener, Job, Part, View } from '../../server/model/view.ts';
import { analyseText, disagreements } from '../annotated.ts';

const said = (name: string): string => readFileSync(join(import.meta.dirname, 'said', name), 'utf8');
const text = said('work.fettle');
const analysis = analyseText(text, {}, 'work.fettle');
const view = analysis.views[0] as View;
const part = (name: string): Part => view.things.get(name) as Part;
const bolt = (name: string): Fastener => view.things.get(name) as Fastener;

describe('what work needs to know', () => {
  test('is read without a fault, and nothing but what is marked is said', () => {
    expect(disagreements(text, analysis)).toEqual([]);
  });

  test('stands in the canonical layout', () => {
    expect(formatText(text)).toMatchObject({ text });
  });

  test('places with the part that they go into', () => {
    expect(part('main-shell').places).toEqual([
      { name: 'upper', count: 5, into: 'block' },
      { name: 'lower', count: 5, into: 'main-cap' },
    ]);
  });

  test('what a part covers: a drive stands for its wheels and the bolts that hold them', () => {
    expect(coveredBy(part('timing-cover'), view)).toEqual([
      { name: 'crank-gear', kind: 'part', feature: undefined, drive: 'cam-drive' },
      { name: 'cam-gear', kind: 'part', feature: undefined, drive: 'cam-drive' },
      { name: 'gear-bolt', kind: 'fastener', feature: undefined, drive: 'cam-drive' },
      { name: 'shaft-nut', kind: 'fastener', feature: undefined, drive: 'cam-drive' },
      { name: 'block', kind: 'part', feature: 'oil-port', drive: undefined },
    ]);
  });

  test('how a part goes in, what it comes out through, what it is clear of', () => {
    expect(part('main-shell').fitted).toBe('oiled');
    expect(part('cooling-jacket').bled).toBe(true);
    expect(part('piston').outThrough?.feature?.text).toBe('bore');
    expect(part('timing-cover').clearOf.map((name) => name.text)).toEqual(['fan']);
    expect(part('injection-pump').drivenBy?.text).toBe('camshaft');
    const { angle, from, cylinder, stroke } = part('magneto').timed ?? {};
    expect([angle?.kind, from?.word, cylinder?.value, stroke?.word]).toEqual(['quantity', 'btdc', 1, 'compression']);
  });

  test('stages without a figure, a bolt to pull up with, several shafts of one nut', () => {
    expect(bolt('cover-bolt').stages.map((stage) => stage.kind)).toEqual(['tight']);
    expect(bolt('shaft-nut').stages.map((stage) => stage.kind)).toEqual(['torque', 'next-slot']);
    expect(bolt('gear-bolt').drawUp?.with).toBe('the old bolt');
    expect(bolt('shaft-nut').eachOf.map((each) => each.owner.text)).toEqual(['camshaft', 'pump-shaft']);
    expect(bolt('shaft-nut').clamps.map((each) => `${each.part} ${each.to?.owner.text}`)).toEqual([
      'cam-gear camshaft',
      'pump-gear pump-shaft',
    ]);
    expect([bolt('main-stud').intoPart, bolt('main-stud').into]).toEqual(['block', 'iron']);
    expect([bolt('short-bolt').intoPart, bolt('short-bolt').into]).toEqual([undefined, 'aluminium']);
  });

  test('orders over caps, for a stage, round a circle, with another kind of bolt', () => {
    expect(bolt('main-nut').orders.map((order) => [order.over?.owner.text, order.stage?.value])).toEqual([
      ['main-cap', undefined],
      [undefined, 3],
    ]);
    expect(bolt('cover-bolt').orders.map((order) => order.circle)).toEqual([true]);
    expect(
      bolt('long-bolt').orders[0]?.with?.map((each) => [each.fastener.text, each.turns.map(({ value }) => value)]),
    ).toEqual([['short-bolt', [5, 6]]]);
  });

  test('what is before and after a job', () => {
    const job = view.things.get('mains') as Job;
    expect(job.conditions.map((each) => each.value)).toEqual(['Engine on the stand, sump up.']);
    expect(job.followOn.map((each) => each.text?.value ?? each.names.map((name) => name.text))).toEqual([
      'Check the oil level after an hour.',
      ['mains'],
    ]);
  });
});

const values = said('values.fettle');
const measured = analyseText(values, {}, 'values.fettle');

describe('what values, limits and records can say', () => {
  test('is read without a fault, and nothing but what is marked is said', () => {
    expect(disagreements(values, measured)).toEqual([]);
  });

  test('stands in the canonical layout', () => {
    expect(formatText(values)).toMatchObject({ text: values });
  });

  test('sums with what a grade brings, with pi, with a figure of a valve timing', () => {
    const rows = valuesOf(measured.views[0] as View);
    const of = (name: string): unknown => rows.find((row) => row.name === name);
    // 1.25..1.35 less 0.60..0.80.
    expect(of('limit.squish')).toMatchObject({ low: 0.45, high: 0.75 });
    // pi/4 of 80.000 squared, from a table of areas: 5026.5 mm2.
    expect((of('limit.inlet-area') as { readonly low: number }).low).toBeCloseTo(5026.55, 1);
    // 50 + 180 + 14.
    expect(of('limit.duration')).toMatchObject({ low: 244, high: 244 });
  });

  test('wrong values: bounds for each inch, for a size that was fitted, a reading of several', () => {
    const wrong = values
      .replace('main-clearance 0.0020 in', 'main-clearance 0.0030 in')
      .replace('4: 0.43 mm', '4: 0.45 mm')
      .replace('80.510, 80.511 mm', '80.510, 80.611 mm');
    const found = analyseText(wrong, {}, 'values.fettle').findings.filter((each) => each.code === 'record/outside');
    expect(found.map((each) => wrong.slice(each.start, each.end).replace(/\s+/g, ' '))).toEqual([
      '80.510, 80.611 mm',
      '0.45 mm',
      '0.0030 in',
    ]);
  });

  test('a reading of a log outside its limit, at the speed that it is for and at no other', () => {
    const told = (log: string): readonly string[] =>
      analyseText(values.replace('at 2000 rpm oil-pressure 4.1 bar', log), {}, 'values.fettle')
        .findings.filter((each) => each.code === 'record/outside')
        .map((each) => each.message);
    expect(told('at 2000 rpm oil-pressure 1.9 bar')).toEqual([
      'oil-pressure was read as 1.9 bar. It must be at least 2.5 bar. Find out why before the engine is run on.',
    ]);
    expect(told('at 800 rpm oil-pressure 1.9 bar')).toEqual([]);
    expect(told('oil-pressure 1.9 bar')).toEqual([]);
  });

  test('a gap that is counted from another stands where both together say', () => {
    const view = measured.views[0] as View;
    const ring = view.things.get('oil-ring') as Part;
    const rules = ring.statements.flatMap((each) => (each.kind === 'orient' ? each.rules : []));
    // 90 and 120 more.
    expect(rules.map((rule) => toNumber(angleOf(ring, rule, view) ?? ZERO))).toEqual([90, 210]);
  });

  test('a late inlet is no alarm where a phaser is parked there', () => {
    const without = values.replace('  phaser 50 deg parked retarded\n', '');
    const codes = analyseText(without, {}, 'values.fettle').findings.map((each) => each.code);
    expect(codes).toContain('valve-timing/unusual');
  });
});

/** Words that came later, each where a spec may have it as a name or as a place. */
const NAMES = [
  'see',
  'phaser',
  'parked',
  'otherwise',
  'readings',
  'customer',
  'distance',
  'pi',
  'clear-of',
  'out-through',
  'bled',
  'timed',
  'driven-by',
  'draw-up',
  'condition',
  'follow-on',
];
const WORDS = ['crank', 'push-home', 'line-up', 'in', 'again', 'until', 'under', 'part-way', 'circle', 'tight'];

describe.each([...NAMES, ...WORDS])('%s may still be a name', (word) => {
  const spec = `spec brindle-names "Brindle" {
  revision 1
}

part rest

part ${word} {
  places ${word}, other
  fixed-to rest
  covers lid ${word}, ${word} other
  dimension ${word} 3.0 mm for ${word}, 4.0 mm for other
}

part lid {
  places ${word}, other
  covers ${word} ${word}
  fixed-to ${word}
}

fastener bolt x2 {
  clamps lid ${word} to ${word} ${word}
  torque 9 N.m
}

job later-job {
  sequences work
}

sequence work {
  starts-with ${word}
  step one {
    fit lid ${word} onto ${word} other
    fit lid other
    tighten bolt
    measure play ${word}
    measure play other
  }
}

limit play each ${word}
  measured
  within ${word}: 0.1..0.2 mm, other: 0.1..0.3 mm
`;

  test('of a part, a place, a dimension', () => {
    const found = analyseText(spec, {}, 'names.fettle').findings.filter((each) => /^(?:syntax|name)/.test(each.code));
    expect(found.map((each) => `${each.code} ${each.message}`)).toEqual([]);
  });
});
