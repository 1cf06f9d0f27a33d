// What comes off, what stays held and what goes onto nothing: short jobs, each with the one finding that it must give, or none.
import { describe, expect, test } from 'vitest';
import { found } from './work.ts';

const PARTS = `part block
part sump
part sump-gasket
part cover x2
part tensioner { held-back "pin" }
part crankshaft
fastener sump-bolt x14 { thread M6 joint cover clamps sump, sump-gasket to block torque 9 N.m }
fastener cover-bolt x2 { each cover thread M6 joint cover clamps cover to block torque 9 N.m }
supply oil { kind oil }
supply sealant { kind sealant cure 2 h }
`;

const sequence = (phase: string, work: string, name: string = phase): string =>
  `sequence ${name} {\n  phase ${phase}\n  starts-with block\n  step ${name}-work {\n${work}\n  }\n}\n`;
const rehearsed = (text: string, files: Readonly<Record<string, string>> = {}): readonly string[] =>
  found(text, files).filter((each) => !each.startsWith('name/unused'));
const done = (phase: string, work: string): readonly string[] => rehearsed(PARTS + sequence(phase, work));
/** A teardown in which what is in the sump was let out before. */
const drained = (work: string): readonly string[] => done('teardown', `drain sump\n${work}`);

describe('what holds a part is loosened before it comes off', () => {
  test('said at the part, once for all that one fastener holds, and not again where it is loosened too late', () => {
    expect(drained('remove sump, sump-gasket')).toEqual(['sequence/still-fastened: remove sump, sump-gasket']);
    expect(drained('remove sump\nremove sump-gasket\nloosen sump-bolt')).toEqual([
      'sequence/still-fastened: remove sump',
    ]);
    expect(drained('loosen sump-bolt\nremove sump, sump-gasket')).toEqual([]);
  });
  test('by place: bolts of one cover leave the other held', () => {
    expect(done('teardown', 'loosen cover-bolt 1\nremove cover 1')).toEqual([]);
    expect(done('teardown', 'loosen cover-bolt 1\nremove cover 2')).toEqual([
      'sequence/still-fastened: remove cover 2',
    ]);
  });
  test('bolts that are snug hold; bolts that never went in do not', () => {
    const on = 'fit sump, sump-gasket onto block\n';
    expect(done('machine', `${on}snug sump-bolt\nremove sump`)).toEqual(['sequence/still-fastened: remove sump']);
    expect(done('machine', `${on}remove sump`)).toEqual([]);
  });
});

test('a sump that is taken off with its oil in is said once, after what still holds it', () => {
  expect(done('teardown', 'loosen sump-bolt\nremove sump, sump-gasket')).toEqual([
    'sequence/not-drained: remove sump, sump-gasket',
  ]);
  expect(done('teardown', 'loosen sump-bolt\nremove sump\nremove sump-gasket')).toEqual([
    'sequence/not-drained: remove sump',
  ]);
  expect(done('teardown', 'remove sump, sump-gasket')).toEqual(['sequence/still-fastened: remove sump, sump-gasket']);
});

test('a raw-water pump comes off with the coolant in: sea water stands in it, and behind the sea cock', () => {
  const off = (pump: string): readonly string[] =>
    rehearsed(
      `part block
part ${pump}
part heat-exchanger
supply coolant { kind coolant }
${sequence('teardown', `remove ${pump}`)}sequence on {\n  phase assemble\n  step fill-up {\n    fit ${pump} onto block\n    fill heat-exchanger with coolant 4 L\n  }\n}\n`,
    );
  expect(off('water-pump')).toEqual(['sequence/not-drained: remove water-pump']);
  // Nothing let the coolant out, so that a whole charge is one too many.
  const twice = ['sequence/filled-twice: fill heat-exchanger with coolant 4 L'];
  expect(off('raw-water-pump')).toEqual(twice);
  expect(off('sea-water-pump')).toEqual(twice);
});

describe('what a part goes onto', () => {
  const build = (work: string): readonly string[] =>
    rehearsed(`use "other.fettle"\n${sequence('assemble', work)}`, {
      'other.fettle': 'part block\npart housing\npart filter\npart washer\n',
      'this-file.fettle': '',
    });
  test('is there, or goes on later with what was put on it at the bench', () => {
    expect(build('fit filter onto housing')).toEqual(['sequence/not-fitted-yet: fit filter onto housing']);
    expect(build('fit filter onto housing\nfit housing onto block')).toEqual([]);
    expect(build('fit housing onto block\nfit filter onto housing\nfit washer onto filter')).toEqual([]);
  });
});

describe('a job without assembly', () => {
  test('that hands the engine over leaves nothing held, pinned or drained', () => {
    const on = 'fit tensioner onto block\nhold-back tensioner';
    expect(done('install', `${on}\nrelease tensioner`)).toEqual([]);
    expect(done('install', on)).toEqual(['sequence/still-held-back: hold-back tensioner']);
    expect(done('install', 'fit crankshaft into block\npin crankshaft')).toEqual([
      'sequence/still-pinned: pin crankshaft',
    ]);
    expect(done('run-in', 'drain sump')).toEqual(['sequence/left-open: drain sump']);
    expect(done('run-in', 'drain sump\nfill sump with oil 4 L')).toEqual([]);
  });
  test('that leaves the engine on the stand may leave it so', () => {
    expect(done('teardown', 'drain sump\nhold-back tensioner\npin crankshaft')).toEqual([]);
  });
});

describe('sealant', () => {
  const fill = sequence('install', 'fill sump with oil 4 L');
  const sealed = `part block
part sump
supply oil { kind oil }
supply sealant { kind sealant cure 2 h }
${sequence('assemble', 'fit sump onto block\nseal sump with sealant')}`;
  test('is still wet when the next sequence begins, and has cured after a whole one in between', () => {
    expect(rehearsed(sealed + fill)).toEqual(['sequence/too-early: fill sump with oil 4 L']);
    expect(rehearsed(sealed + fill.replace('fill', 'wait 2 h\nfill'))).toEqual([]);
    expect(rehearsed(sealed + sequence('assemble', 'inspect sump', 'look') + fill)).toEqual([]);
  });
});

describe('what holds by a wheel, and what is opened', () => {
  const chain = (order: readonly string[]): readonly string[] =>
    found(`part block
part crankshaft
part camshaft
part crank-sprocket { teeth 21 fixed-to crankshaft }
part cam-sprocket { teeth 42 fixed-to camshaft }
part timing-chain { links 60 }
drive cam-drive { chain timing-chain over crank-sprocket, cam-sprocket }
${sequence('teardown', order.join('\n'))}`);
  const off = 'remove crank-sprocket, cam-sprocket, timing-chain together';
  test('a shaft comes off when the chain is off its wheel, or with it', () => {
    expect(chain([off, 'remove camshaft'])).toEqual([]);
    expect(chain(['remove timing-chain, cam-sprocket, camshaft together'])).toEqual([]);
    expect(chain(['remove camshaft', off])).toEqual(['sequence/covered: remove camshaft']);
  });
  test('an opening is unplugged that was plugged; a whole engine has its plugs in', () => {
    const build = (work: string): readonly string[] =>
      found(
        `part block\n${sequence('assemble', work)}`.replace('phase assemble', 'phase assemble\n  starts-with block'),
      );
    expect(build('plug block with "cap"\nunplug block')).toEqual([]);
    expect(build('unplug block')).toEqual(['sequence/nothing-to-undo: unplug block']);
    expect(found(`part block\n${sequence('teardown', 'unplug block')}`)).toEqual([]);
  });
});
