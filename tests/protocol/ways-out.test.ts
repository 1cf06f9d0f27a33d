// The samples of faults: the ways out that are tried before they are offered mend their finding and bring none.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { mendAll } from '../../server/features/actions.ts';
import { mends, triedWays } from '../../server/protocol/tried-actions.ts';
import type { Analysis } from '../../server/workspace/api.ts';
import { analyseText, memoryHost } from '../annotated.ts';

const root = join(import.meta.dirname, '../../samples');
const filesOf = (folder: string): Readonly<Record<string, string>> =>
  Object.fromEntries(
    readdirSync(folder)
      .filter((name) => name.endsWith('.fettle'))
      .map((name) => [name, readFileSync(join(folder, name), 'utf8')]),
  );
const samples = filesOf(root);
const made = (
  text: string,
  edits: readonly { readonly start: number; readonly end: number; readonly text: string }[],
): string =>
  [...edits]
    .sort((a, b) => b.start - a.start)
    .reduce((now, edit) => now.slice(0, edit.start) + edit.text + now.slice(edit.end), text);

test('each of them mends its finding and brings none, and nine of ten findings have one', () => {
  let found = 0;
  let withWays = 0;
  const wrong: string[] = [];
  const without: string[] = [];
  for (const [name, text] of Object.entries(filesOf(join(root, 'faults')))) {
    const analysis: Analysis = analyseText(text, samples, name);
    for (const finding of analysis.findings) {
      if (finding.severity === 'information') continue;
      found += 1;
      const ways = triedWays(analysis, finding, {
        text,
        host: memoryHost(samples),
        files: () => Object.keys(samples),
      });
      for (const way of ways)
        if (!mends(analysis, analyseText(made(text, way.edits), samples, name), finding))
          wrong.push(`${name}: ${way.told.text}`);
      if (ways.length > 0) withWays += 1;
      else without.push(`${name} ${finding.code}`);
    }
  }
  expect(wrong).toEqual([]);
  // Raised with each way out that is added.
  expect(withWays / found, without.join('\n')).toBeGreaterThan(0.9);
});

test('all that has one way out is mended at once, and no letters are changed twice', () => {
  const text = 'part p {\n  mass 3 kg\n  dimension d 5..3 mm\n}\n\npart q {\n  dimension e 9..7 mm\n  fixed-to p\n}\n';
  const analysis = analyseText(text);
  const { edits, count } = mendAll(analysis);
  expect(count).toBe(2);
  expect(analyseText(made(text, edits)).findings.map((each) => each.code)).not.toContain('unit/range-reversed');
});

/** A block that is masked, plugged and shut, on the way to a head that goes on. */
const IN_WORK = `spec ours "Ours" {
  draft
}

part block
part head
part cover

fastener head-bolt x4 {
  thread M8
  torque 20 N.m
  clamps head to block
}

sequence top "Top end" {
  phase assemble
  step tape {
    clean block with "brush"
  }
  step head-on {
    fit head onto block
    tighten head-bolt
  }
  step last {
    inspect block for "leaks"
  }
}
`;

test.each([
  [
    'what is masked and never unmasked',
    'clean block with "brush"',
    'mask block',
    'sequence/still-masked',
    'unmask block',
  ],
  [
    'what is plugged and never unplugged',
    'clean block with "brush"',
    'plug block',
    'sequence/left-open',
    'unplug block',
  ],
  [
    'what is unmasked and never masked',
    'inspect block for "leaks"',
    'unmask block',
    'sequence/nothing-to-undo',
    'mask block',
  ],
  [
    'what is unplugged and never plugged',
    'inspect block for "leaks"',
    'unplug block',
    'sequence/nothing-to-undo',
    'plug block',
  ],
])('%s: the line that lacks is offered, where it mends it', (_, old, put, code, line) => {
  const text = IN_WORK.replace(old, put);
  const analysis = analyseText(text);
  const finding = analysis.findings.find((each) => each.code === code);
  expect(finding?.code).toBe(code);
  if (finding === undefined) return;
  const ways = triedWays(analysis, finding, { text, host: memoryHost({}), files: () => [] });
  const lines = ways.filter(({ edits }) => edits.some((edit) => edit.text.includes(line)));
  expect(lines.length, JSON.stringify(analysis.findings.map((each) => each.code))).toBeGreaterThan(0);
  for (const { edits } of lines) expect(mends(analysis, analyseText(made(text, edits)), finding)).toBe(true);
});

/** The ways out of the first finding of a code, by title, with what the text then is. */
function waysOf(text: string, code: string): ReadonlyMap<string, string> {
  const analysis = analyseText(text);
  const finding = analysis.findings.find((each) => each.code === code);
  if (finding === undefined) throw new Error(`no ${code}: ${analysis.findings.map((each) => each.code).join()}`);
  const ways = triedWays(analysis, finding, { text, host: memoryHost({}), files: () => [] });
  return new Map(ways.map((way) => [way.told.text, made(text, way.edits)]));
}

const BOLT = (torque: string): string =>
  `part cover\n\npart block\n\nfastener cover-bolt x4 {\n  thread M8x1.25\n  class 8.8\n  fitted oiled\n  joint structural\n  clamps cover to block\n  torque ${torque}\n}\n`;

test('a torque that loads a bolt beyond its proof load is made what its other figure says, where the two differ', () => {
  const ways = waysOf(BOLT('222 N.m (16 lbf.ft)'), 'torque/over-proof');
  expect([...ways]).toEqual([['Change 222 N.m to 22 N.m', BOLT('22 N.m (16 lbf.ft)')]]);
  expect([...waysOf(BOLT('40 N.m'), 'torque/over-proof').keys()]).toEqual(['Change it to 23 N.m']);
});

test('stages that fall may stand the other way about', () => {
  const ways = waysOf(BOLT('20 N.m, 10 N.m'), 'torque/stages-not-rising');
  expect(ways.get('Put 10 N.m before 20 N.m')).toBe(BOLT('10 N.m, 20 N.m'));
  expect(ways.get('Write slacken before it')).toBe(BOLT('20 N.m, slacken, 10 N.m'));
});

test('of a chain that is too short its links are changed, never the distance of its wheels', () => {
  const drive = (links: number): string =>
    `part crankshaft\n\npart camshaft\n\npart crank-wheel {\n  teeth 21\n  fixed-to crankshaft\n}\n\npart cam-wheel {\n  teeth 42\n  fixed-to camshaft\n}\n\npart chain {\n  links ${links}\n  pitch 8.00 mm\n}\n\ndrive cam-drive {\n  chain chain over crank-wheel, cam-wheel\n  ratio crankshaft to camshaft 2:1\n  centre-distance crank-wheel to cam-wheel 110.8 ±0.2 mm\n}\n`;
  expect([...waysOf(drive(58), 'timing/length')]).toEqual([['Give chain 60 links', drive(60)]]);
});

// Worked by hand: 52 deg after bottom dead centre is 232 deg after top dead centre.
test.each([
  ['closes 52 deg atdc', 'closes 52 deg abdc'],
  ['closes 52 deg bbdc', 'closes 52 deg abdc'],
  ['closes 62 deg abdc', 'closes 52 deg abdc'],
])('an event that contradicts all that is stated is told from the dead centre that is nearer: %s', (written, right) => {
  const timing = (closes: string): string =>
    `part camshaft\n\nvalve-timing grind on camshaft {\n  inlet opens 10 deg btdc ${closes}\n  exhaust opens 54 deg bbdc closes 12 deg atdc\n  stated inlet-duration 242 deg\n  stated inlet-centre 111 deg\n  stated separation 111 deg\n}\n`;
  expect([...waysOf(timing(written), 'valve-timing/stated-differs').values()]).toEqual([timing(right)]);
});
