// What `fettle new` begins with, for every layout that it offers: it checks without a fault, is laid out, rehearses, and becomes a whole spec
// once the gap that it names is filled.
import { describe, expect, test } from 'vitest';
import { formatText } from '../../grammar/printer.ts';
import { firstSpec, type Layout, readLayout } from '../../server/features/first-spec.ts';
import { usualCranks } from '../../server/features/layouts.ts';
import { tellRehearsal } from '../../server/features/rehearsal-text.ts';
import { judgeFiring } from '../../server/mechanics/firing-order.ts';
import { analyseText } from '../annotated.ts';

const LAYOUTS = [
  ...[1, 2, 3, 4, 5, 6, 7, 8].map((count) => `${count} inline`),
  ...[2, 4, 6, 8].map((count) => `${count} flat`),
  ...['2 vee', '2 vee 45', '4 vee', '6 vee', '6 vee 90', '8 vee', '10 vee', '12 vee'],
  ...[3, 5, 7, 9].map((count) => `${count} radial`),
];

const layoutOf = (text: string): Layout => {
  const layout = readLayout(text);
  if (layout === undefined) throw new Error(`${text} is no layout`);
  return layout;
};

const found = (text: string): readonly string[] =>
  analyseText(text).findings.map((each) => `${each.severity}: ${each.code}`);

/** The first order that is named taken out of its comment, and no draft any more. */
function filled(text: string): string {
  return text.replace('\n  draft', '').replace('  # firing-order', '  firing-order');
}

describe.each(LAYOUTS)('%s', (name) => {
  const layout = layoutOf(name);
  const text = firstSpec('first', layout);
  const several = usualCranks(layout).length > 1;

  test('checks as a draft: what is to be said yet is information', () => {
    const codes = found(text).filter((each) => !each.endsWith('engine/firing-uneven'));
    expect(codes).toEqual(several ? ['information: engine/firing-order-missing'] : []);
  });

  test('is laid out as it will be', () => {
    expect(formatText(text)).toMatchObject({ text });
  });

  test('rehearses: nothing is left to be proved, and every step does something', () => {
    const analysis = analyseText(text);
    const [job] = tellRehearsal(
      analysis.views[0] as NonNullable<(typeof analysis.views)[0]>,
      analysis.file.file,
      analysis.findings,
    );
    expect(job?.steps.every((step) => step.actions.length > 0)).toBe(true);
    expect(job?.steps.at(-1)?.stands.toProve).toEqual([]);
  });

  test('filled in and no draft any more, it is whole', () => {
    expect(found(filled(text)).filter((each) => !each.startsWith('information'))).toEqual([]);
    if (several) expect(found(text.replace('\n  draft', ''))).toContain('warning: engine/firing-order-missing');
  });

  test('every order that it names fires evenly on the crankpins beside it, counted as the language does', () => {
    for (const crank of usualCranks(layout)) {
      if (crank.order === '') continue;
      const verdict = judgeFiring({
        cylinders: layout.cylinders,
        layout: layout.layout === 'vee' ? { kind: 'vee', angle: layout.angle ?? 0 } : { kind: layout.layout },
        cycle: 720,
        crankpins: crank.pins,
        order: crank.order.split('-').map(Number),
        leftBank: crank.bank?.left,
      });
      expect([crank.order, verdict?.verdict]).toEqual([crank.order, 'fits']);
      if (verdict?.verdict !== 'fits') continue;
      expect(verdict.senses).toEqual({ counting: 1, bank: 1 });
      // A vee-twin on one pin can't.
      expect(verdict.even).toBe(!(layout.layout === 'vee' && layout.cylinders === 2));
    }
  });
});

test('where two rods lie side by side, their pin has one of each bank', () => {
  for (const name of ['8 vee', '10 vee', '12 vee'])
    for (const { bank, pins } of usualCranks(layoutOf(name)))
      for (const { cylinders } of pins)
        expect([cylinders, cylinders.filter((each) => bank?.left.includes(each)).length * 2]).toEqual([
          cylinders,
          cylinders.length,
        ]);
});

test('what is no layout', () => {
  for (const text of ['3 vee', '5 flat', '4 radial', '11 radial', '0 inline', '19 inline', 'star', ''])
    expect(readLayout(text)).toBeUndefined();
  expect(readLayout('vee')).toEqual({ cylinders: 8, layout: 'vee', angle: 90 });
  expect(readLayout('radial')).toEqual({ cylinders: 7, layout: 'radial' });
});
