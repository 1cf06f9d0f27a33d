// `fettle list`: what to buy, to send out and to lay out, in words and as a table; each line against what the spec says.
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Ends } from '../../server/command-line/output.ts';
import { run } from '../../server/command-line/run.ts';

const folder = mkdtempSync(join(tmpdir(), 'fettle-list-'));

async function fettle(...args: readonly string[]) {
  let [out, error] = ['', ''];
  const streams: Ends = {
    folder,
    terminal: false,
    out: (text) => {
      out += text;
    },
    err: (text) => {
      error += text;
    },
    stdin: async () => '',
  };
  const status = await run(args, streams, async () => 0);
  return { status, out, error };
}

writeFileSync(
  join(folder, 'lists.fettle'),
  `spec brindle-lists "Brindle Four" {
  revision 1
}

part block

part crankshaft {
  dimension main-journal x5 56.170..56.190 mm
  size under-25 undersize 0.25 mm { dimension main-journal 55.920..55.940 mm }
}

part main-cap x5

part gasket "Sump gasket" {
  single-use
  number "=BR-1"
}

part filter {
  on-order "promised, for the 14th"
}

fastener main-bolt x10 "Main bolt" {
  joint structural
  clamps main-cap to block
  torque 20 N.m, 65 N.m, 90 deg
  retorque 70 N.m after "first run"
}

fastener stud-nut x2 {
  each main-cap
  joint cover
  clamps main-cap to block
  torque 9..11 N.m
}

grades shim by float {
  thin 0.10..0.12 mm
  thick 0.12..0.14 mm
}

limit float of crankshaft
  measured
  within 0.10..0.14 mm

supply oil {
  kind oil
  amount 3.6 L
  number "QC-1"
}

sequence work {
  step one "Grind the crankshaft" {
    machine crankshaft.main-journal to under-25 by "grinding at Hollis"
    tighten main-bolt stage 1
    tighten stud-nut
    tool "bore gauge"
  }
  step two {
    fit gasket onto block
    fit shim onto crankshaft
    fit filter onto block
    fill block with oil
    tighten main-bolt
    renew stud-nut
  }
}

sequence later {
  step again {
    tighten main-bolt again
  }
}

job build {
  begins bare
  sequences work
}

job first-check {
  begins after work
  sequences later
}
`,
);

test('in words: what is bought with its number, what is sent out with its size, the span of the wrench', async () => {
  const { status, out } = await fettle('list', 'lists.fettle', '--job', 'build');
  expect(status).toBe(0);
  expect(out).toBe(`Job: build
To buy
  10 × stud-nut, renewed
  1 × Sump gasket (gasket), number =BR-1, new each time
  1 × filter, not here yet, on order: promised, for the 14th
  shim, chosen by float: thin or thick
  oil: 3.6 L, number QC-1
To send out
  crankshaft.main-journal to under-25, 55.920..55.940 mm: grinding at Hollis (step Grind the crankshaft)
Tools
  Torque wrench: 9..11 N.m (stud-nut) to 65 N.m (main-bolt)
  Angle gauge: main-bolt
  bore gauge
`);
});

test('tightened again, only the retorque is asked for', async () => {
  const { out } = await fettle('list', 'lists.fettle', '--job', 'first-check');
  expect(out).toContain('Torque wrench: 70 N.m (main-bolt)\n');
  expect(out).not.toContain('Angle gauge');
});

test('as a table: quotes where they must be, no cell that a spreadsheet takes for a sum', async () => {
  const { out } = await fettle('list', 'lists.fettle', '--job', 'build', '--format', 'csv');
  expect(out.split('\n')[0]).toBe('job,list,name,title,count,amount,number,note');
  expect(out).toContain("build,buy,gasket,Sump gasket,1,,'=BR-1,single-use\n");
  expect(out).toContain('build,buy,filter,,1,,,"renewed; on order: promised, for the 14th"\n');
  expect(out).toContain('build,buy,shim,,,,,chosen by float: thin or thick\n');
});

test('a job that is not there, a format that is none', async () => {
  expect(await fettle('list', 'lists.fettle', '--job', 'nothing')).toMatchObject({ status: 2 });
  expect(await fettle('list', 'lists.fettle', '--format', 'pdf')).toMatchObject({ status: 2 });
});
