// Faults put into a clean spec by hand, each with the one finding that it must give, and good work that must give none.
import { expect, test } from 'vitest';
import { changed } from '../model/brindle-four.ts';
import { found } from './work.ts';

type Edit = readonly [from: string, to: string];

const SET: Edit[0] = 'set crankshaft at tdc 1 on compression\n';
const HEAD: Edit[0] = 'tighten head-bolt\n';
const LAST: Edit[0] = 'tighten sump-bolt\n';
const PLATE: Edit[0] = 'tighten cam-plate-bolt\n';

const FAULTS: readonly (readonly [name: string, edits: readonly Edit[], finding: string])[] = [
  [
    'the crankshaft at the dead centre of a cylinder half a turn away',
    [[SET, 'set crankshaft at tdc 2 on compression\n']],
    'sequence/not-in-time: confirm crankshaft.keyway at 45 deg',
  ],
  [
    'the crankshaft short of the dead centre, and no mark looked at',
    [
      [SET, 'set crankshaft at 10 deg btdc 1\n'],
      ['    confirm crankshaft.keyway at 45 deg\n', ''],
    ],
    'sequence/not-in-time: align cam-drive',
  ],
  [
    'a mark confirmed where it does not stand: the crankshaft stays where it was set',
    [['confirm crankshaft.keyway at 45 deg', 'confirm crankshaft.keyway at 225 deg']],
    'sequence/not-in-time: confirm crankshaft.keyway at 225 deg',
  ],
  [
    'set to another place while the tensioner is held back',
    [['release chain-tensioner\n', 'set crankshaft at 90 deg atdc 1\n    release chain-tensioner\n']],
    'sequence/rotated-while-held-back: set crankshaft at 90 deg atdc 1',
  ],
  [
    'the links looked at after two turns, and nothing else',
    [['confirm cam-drive by marks', 'confirm cam-drive by links']],
    'sequence/links-moved: confirm cam-drive by links',
  ],
  [
    'stage 2 left out',
    [[HEAD, 'tighten head-bolt stage 1\n    tighten head-bolt stage 3\n    tighten head-bolt stage 4\n']],
    'sequence/stage-left: tighten head-bolt stage 3',
  ],
  [
    'a stage that there is not',
    [[HEAD, 'tighten head-bolt stage 5\n']],
    'sequence/stage-left: tighten head-bolt stage 5',
  ],
  [
    'back to a stage before the last',
    [[HEAD, 'tighten head-bolt\n    tighten head-bolt stage 3\n']],
    'sequence/stage-left: tighten head-bolt stage 3',
  ],
  [
    'work by hand on what is covered',
    [[LAST, `${LAST}    clean crank-sprocket\n`]],
    'sequence/covered: clean crank-sprocket',
  ],
  [
    'bolts loosened that are not in',
    [['fit sump onto block\n', 'loosen sump-bolt\n    fit sump onto block\n']],
    'sequence/not-fitted-yet: loosen sump-bolt',
  ],
  [
    'a part that no step fits, though its bolts are tightened',
    [['    fit sump onto block\n', '']],
    'sequence/never-fitted: part sump {',
  ],
  [
    'a camshaft that goes on too late is missed once',
    [
      ['    fit camshaft into block\n', ''],
      ['snug cam-sprocket-bolt\n', 'snug cam-sprocket-bolt\n    fit camshaft into block\n'],
    ],
    "sequence/not-fitted-yet: set camshaft with dowel at 3 o'clock",
  ],
  ['bolts on order', [['thread M6\n', 'thread M6\n  on-order "Tuesday"\n']], 'sequence/on-order: tighten sump-bolt'],
  [
    'adjusted, then loosened again',
    [
      [
        'limit crank-end-play',
        'limit plate-play of cam-plate\n  kind end-play\n  measured\n  within 0.05..0.20 mm\n\nlimit crank-end-play',
      ],
      [
        PLATE,
        `${PLATE}    adjust plate-play by "shim"\n    measure plate-play with "feeler gauge"\n    loosen cam-plate-bolt\n    ${PLATE}`,
      ],
    ],
    'sequence/disturbed: loosen cam-plate-bolt',
  ],
];

test.each(FAULTS)('%s', (_name, edits, finding) => {
  expect(found(changed(...edits))).toEqual([finding]);
});

const GOOD: readonly (readonly [name: string, edits: readonly Edit[]])[] = [
  ['as it stands', []],
  ['tdc 4 on overlap is where tdc 1 on compression is', [[SET, 'set crankshaft at tdc 4 on overlap\n']]],
  ['0 deg btdc is the dead centre', [[SET, 'set crankshaft at 0 deg btdc 1\n']]],
  ['one turn of the camshaft is two of the crankshaft', [['rotate crankshaft 2 turns', 'rotate camshaft 1 turn']]],
  [
    'the links after 28 turns',
    [['rotate crankshaft 2 turns\n', 'rotate crankshaft 28 turns\n    confirm cam-drive by links\n']],
  ],
  [
    'stages one by one',
    [
      [
        HEAD,
        'tighten head-bolt stage 1\n    tighten head-bolt stage 2\n    tighten head-bolt stage 3\n    tighten head-bolt stage 4\n',
      ],
    ],
  ],
  ['the first stage, then all', [[HEAD, 'tighten head-bolt stage 1\n    tighten head-bolt\n']]],
  ['tightened again', [[HEAD, 'tighten head-bolt\n    tighten head-bolt\n']]],
  ['leaks looked for from outside', [[LAST, `${LAST}    inspect crank-sprocket for "leaks and noise"\n`]]],
  ['cleaned on the bench', [['fit crank-sprocket,', 'clean crank-sprocket\n    fit crank-sprocket,']]],
  [
    'loosened twice',
    [
      [
        HEAD,
        'tighten head-bolt stage 1\n    loosen head-bolt\n    loosen head-bolt\n    renew head-bolt\n    tighten head-bolt\n',
      ],
    ],
  ],
  [
    'adjusted again after it was loosened, or measured again',
    [
      [
        'limit crank-end-play',
        'limit plate-play of cam-plate\n  kind end-play\n  measured\n  within 0.05..0.20 mm\n\nlimit crank-end-play',
      ],
      [
        PLATE,
        `${PLATE}    adjust plate-play by "shim"\n    loosen cam-plate-bolt\n    ${PLATE}    measure plate-play with "feeler gauge"\n`,
      ],
    ],
  ],
];

test.each(GOOD)('nothing is wrong: %s', (_name, edits) => {
  expect(found(changed(...edits))).toEqual([]);
});

const ONE_EACH: readonly (readonly [name: string, edits: readonly Edit[], finding: string])[] = [
  [
    'the crankshaft never goes in: not also that it is turned, set and measured',
    [['    fit crankshaft into block\n', '']],
    'sequence/never-fitted: part crankshaft {',
  ],
  [
    'the pump goes on before all work on what it covers: said once',
    [
      ['    fit chain-tensioner onto block\n', '    fit oil-pump onto block\n    fit chain-tensioner onto block\n'],
      ['  step fit-oil-pump {\n    after prove-timing\n    fit oil-pump onto block\n  }\n', ''],
    ],
    'sequence/covered: fit crank-sprocket, cam-sprocket, timing-chain together',
  ],
  [
    'several parts of one action that are on already: said once',
    [[HEAD, `${HEAD}    fit head-gasket, cylinder-head onto block\n`]],
    'sequence/fitted-twice: fit head-gasket, cylinder-head onto block',
  ],
  [
    'several parts of one action that do not go back: said once',
    [[LAST, `${LAST}    loosen head-bolt\n    remove cylinder-head, head-gasket\n`]],
    'sequence/never-fitted: remove cylinder-head, head-gasket',
  ],
];

test.each(ONE_EACH)('one fault, one finding: %s', (_name, edits, finding) => {
  expect(found(changed(...edits))).toEqual([finding]);
});
