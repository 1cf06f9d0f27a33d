// A rule that no job comes to show: said as information, and never of good work.
import { expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';

const PARTS = `spec twin {
  revision 1
  source shop "Shop"
  per shop
}
part block
part piston {
  orient arrow toward front
}
part cover
sequence short-block {
  phase assemble
  starts-with block
  step fit-cover {
    fit cover onto block
  }
}
sequence pistons {
  phase assemble
  step fit-piston {
    fit piston into block
  }
}
`;
const said = (jobs: string): readonly string[] =>
  analyseText(PARTS + jobs)
    .findings.filter((finding) => finding.code === 'orientation/missing')
    .map((finding) => `${finding.severity}: ${finding.message}`);

test('a job that builds the engine leaves out the only sequence that fits the part', () => {
  expect(said('job build of twin {\n  begins bare\n  sequences short-block\n}\n')).toEqual([
    'information: No job comes to show which way round piston goes: only sequence pistons works on it, and no job has pistons.',
  ]);
});

test('not where a job has it, where there is no job, and where the engine begins whole', () => {
  expect(said('job build of twin {\n  begins bare\n  sequences short-block, pistons\n}\n')).toEqual([]);
  expect(said('')).toEqual([]);
  expect(said('job look of twin {\n  begins whole\n  sequences short-block\n}\n')).toEqual([]);
});

test('a matched part that has no way round needs none: a valve goes back to its own seat', () => {
  const matched = (name: string): readonly string[] => said(`part ${name} x4 {\n  matched\n}\n`);
  expect(matched('main-cap')).toHaveLength(1);
  for (const name of ['exhaust-valve', 'tappet', 'push-rod', 'piston-pin'])
    expect([name, matched(name)]).toEqual([name, []]);
});
