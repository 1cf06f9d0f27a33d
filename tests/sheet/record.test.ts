// The sheet of a record: filled in, with what is open, outside, done otherwise and signed; for the customer without the inner notes.
import { describe, expect, test } from 'vitest';
import { recordPage } from '../../server/sheet/record-page.tsx';
import { analyseText } from '../annotated.ts';

const SPEC = `spec brindle-wren "Brindle Wren" {
  revision 3
  source shop "Quarry Lane Engine Works"
  per shop
}

part block

part crankshaft

limit end-play "Crankshaft end play"
  measured
  within 0.05..0.20 mm

limit ring-gap
  measured
  within 0.30..0.50 mm

sequence s {
  phase assemble
  starts-with block
  step lay "Lay the crankshaft" {
    fit crankshaft into block
    measure end-play
  }
  step gap "Gap the rings" {
    measure ring-gap
  }
  step oil "Oil it" {
    clean block with cleaner
  }
}

supply cleaner

record wren-7 of brindle-wren revision 3 {
  engine-number "W-7"
  customer "A. Example <b>"
  measured end-play 0.34 mm with "dial gauge" on 2026-03-02
  measured ring-gap 0.40 mm on 2026-03-02 by "RT"
  done lay on 2026-03-02 by "RT"
  deviation gap "Filed <script>once</script> more."
  note "Customer is slow to pay."
}
`;

function page(isForCustomer: boolean, text = SPEC): string {
  const analysis = analyseText(text);
  const [view] = analysis.views;
  const record = analysis.file.declarations.find((placed) => placed.declaration.word === 'record');
  if (view === undefined || record === undefined) throw new Error('no record');
  return recordPage({ record, view, findings: analysis.findings, isForCustomer });
}

describe('the sheet of a record', () => {
  const own = page(false);
  const rows = own.match(/<tr>.*?<\/tr>/gs) ?? [];

  test('says what was measured, within what, and what lies outside', () => {
    const row = rows.find((each) => each.includes('Crankshaft end play')) ?? '';
    for (const text of ['0.34 mm', '0.05 to 0.20 mm', 'OUTSIDE', 'dial gauge, 2026-03-02']) expect(row).toContain(text);
    expect(rows.find((each) => each.includes('0.40 mm'))).not.toContain('OUTSIDE');
    expect(own).toContain('It is 0.14 mm too large.');
    expect(own).toContain('2 values measured: 1 inside, 1 OUTSIDE.');
  });

  test('what was measured again stands there with how it stood, and counts no more', () => {
    const again = page(false, SPEC.replace('  done lay', '  measured end-play 0.18 mm on 2026-03-03\n  done lay'));
    const [first, second] = (again.match(/<tr>.*?<\/tr>/gs) ?? []).filter((each) =>
      each.includes('Crankshaft end play'),
    );
    expect(first).toContain('OUTSIDE, measured again');
    expect(second).toContain('<td>inside</td>');
    expect(again).toContain('2 values measured: 2 inside.');
  });

  test('says what is open, what was done otherwise and whether it is signed', () => {
    expect(own).toMatch(/Still open: 1<\/h3><ul class="actions"><li>Oil it<\/li><\/ul>/);
    expect(rows.find((each) => each.includes('Gap the rings'))).toContain('Filed &lt;script>once&lt;/script> more.');
    expect(own).toContain('Not signed');
    const signed = page(false, SPEC.replace('  note', '  signed "AM" on 2026-03-04\n  note'));
    expect(signed).toContain('Signed 2026-03-04 by AM');
    expect(own).toContain('content: "Brindle Wren, wren-7, revision 3, record"');
  });

  test('for the customer without the inner notes and without who did each step', () => {
    const theirs = page(true);
    expect(own).toContain('slow to pay');
    expect(theirs).not.toContain('slow to pay');
    expect(own).toContain('2026-03-02 by RT');
    expect(theirs).not.toContain('by RT');
    expect(theirs).toContain('OUTSIDE');
    expect(theirs).toContain('Customer: A. Example &lt;b>');
  });

  test('no text of it is markup', () => {
    expect(own).not.toContain('<script');
    expect(own).not.toContain('<b>');
  });
});
