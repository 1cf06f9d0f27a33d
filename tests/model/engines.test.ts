// Whole specs of engines and work that are none of the samples: they check without a false finding, and what they say goes where it belongs.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { formatText } from '../../grammar/printer.ts';
import { listsOf } from '../../server/model/job-lists.ts';
import type { View } from '../../server/model/view.ts';
import { recordPage } from '../../server/sheet/record-page.tsx';
import type { Analysis } from '../../server/workspace/api.ts';
import { analyseText } from '../annotated.ts';

const folder = join(import.meta.dirname, '../engines');
const names = readdirSync(folder);
const texts = Object.fromEntries(names.map((name) => [name, readFileSync(join(folder, name), 'utf8')]));
const of = (name: string): Analysis => analyseText(texts[name] ?? '', texts, name);

/** What is truly so of them, and said: a record of work that came back and is not finished, a crankshaft that is away. */
const TRUE: Readonly<Record<string, readonly string[]>> = {
  'job-record.fettle': ['record/outstanding', 'record/worn'],
  'outside-order.fettle': ['sequence/on-order'],
};

test.each(names)('%s: no finding that is not so, in the canonical layout', (name) => {
  const found = of(name).findings.filter((each) => each.severity !== 'information');
  expect(found.map((each) => each.code)).toEqual(TRUE[name] ?? []);
  expect(formatText(texts[name] ?? '')).toEqual({ kind: 'formatted', text: texts[name] });
});

describe('what they say', () => {
  const view = (name: string): View => of(name).views[0] as View;

  test('a slot to go on to, a gear that is hot, a liner that is pushed home', () => {
    const nut = view('white-metal-four.fettle').fasteners.find((each) => each.name === 'main-nut');
    expect(nut?.stages.map((each) => each.kind)).toEqual(['torque', 'next-slot']);
    const six = texts['gear-six.fettle'] ?? '';
    const short = six.replace('    push-home liner\n', '');
    expect(analyseText(short, texts, 'gear-six.fettle').findings.map((each) => each.code)).toContain(
      'sequence/left-open',
    );
    const hot = six.replace('at 150..180 degC', 'at 150..180 mm');
    expect(analyseText(hot, texts, 'gear-six.fettle').findings.map((each) => each.code)).toContain('unit/wrong-kind');
  });

  test('whose engine it is, what it came with, what was agreed, what was done again', () => {
    const analysis = of('job-record.fettle');
    const records = analysis.file.declarations.filter((each) => each.declaration.word === 'record');
    const pages = records.map((record) =>
      recordPage({
        record,
        view: analysis.views[0] as Analysis['views'][number],
        findings: analysis.findings,
        isForCustomer: false,
      }),
    );
    for (const said of [/Quarry Lane Haulage/, /611 ?000 km/, /Low oil pressure hot/, /2026-02-11/])
      expect(pages[0]).toMatch(said);
    expect(pages[1]).toMatch(/again: Idler shaft bolt had come loose/);
  });

  test('what goes to the grinder: the size, who does it, and that it is hardened', () => {
    const out = view('outside-order.fettle');
    const { send } = listsOf(
      out.sequences.filter((each) => each.name === 'send-out'),
      out,
    );
    expect(send[0]).toMatchObject({ size: 'under-50', by: 'Hollis Grinding', heatTreated: true });
  });
});
