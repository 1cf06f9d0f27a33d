// Steps that are done for each of some places: what is wrong at one place, in the order in which the work is done there.
import { expect, test } from 'vitest';
import { textOf } from '../../grammar/told.ts';
import { traces } from '../../server/rehearsal/trace.ts';
import { analyseText } from '../annotated.ts';
import { found, timingSide } from './work.ts';

const PARTS = `part block
part cover x3
part lamp
part shell { places upper 1..3, lower 1..3 }
fastener cover-bolt x2 { each cover single-use thread M6 joint cover clamps cover to block torque 9 N.m, 20 N.m }
`;

const each = (...steps: readonly string[]): readonly string[] =>
  found(
    `${PARTS}sequence work {\n  phase assemble\n  starts-with block\n${steps
      .map((work, i) => `  step s${i} each cover {\n${work}\n  }\n`)
      .join('')}}\n`,
  ).filter((finding) => !/^(name\/unused|sequence\/never-fitted)/.test(finding));

test('fitted and tightened place by place', () => {
  expect(each('fit shell onto block\nfit cover onto block\ntighten cover-bolt')).toEqual([]);
  expect(each('tighten cover-bolt\nfit cover onto block')).toEqual(['sequence/tightened-early: tighten cover-bolt']);
});

test('tried, taken off again at each place, and then put on for good', () => {
  const tried = 'fit cover onto block\ntighten cover-bolt stage 1\nloosen cover-bolt\nremove cover';
  expect(each(tried, 'fit cover onto block\ntighten cover-bolt')).toEqual([]);
  expect(each(tried.replace('loosen cover-bolt\n', ''), 'fit cover onto block\ntighten cover-bolt')).toEqual([
    'sequence/still-fastened: remove cover',
  ]);
  expect(each(tried.replace(' stage 1', ''), 'fit cover onto block\ntighten cover-bolt')).toEqual([
    'sequence/not-renewed: tighten cover-bolt',
  ]);
});

test('what is there once goes on at the first place and is not on twice; the whole step done again is', () => {
  const once = 'fit lamp onto block\nfit cover onto block\ntighten cover-bolt';
  expect(each(once)).toEqual([]);
  expect(each(once, once)).toEqual(['sequence/fitted-twice: fit lamp onto block']);
});

test('the engine is turned at each place, and marks are looked at after each turning', () => {
  const chain = { crank: 18, cam: 36, links: 56 };
  const done = (turn: string): readonly string[] =>
    found(
      timingSide(chain, '')
        .replace(/step work \{\s*\}/, `step work each block {\n${turn}\nconfirm cam-drive by marks\n}\n`)
        .replace('part block', 'part block x2'),
    );
  expect(done('rotate crankshaft 2 turns')).toEqual([]);
  expect(done('rotate crankshaft 1 turn')).toEqual(['sequence/not-a-cycle: confirm cam-drive by marks']);
});

test('a row that is longer than any engine has is done in one go', () => {
  const began = performance.now();
  expect(
    found(
      'part block\npart p x100000\nsequence s {\n  phase assemble\n  starts-with block\n  step t each p {\n    fit p into block\n  }\n}\n',
    ),
  ).toEqual(['unit/too-many: part p x100000']);
  // A guard against hanging, not a timing: place by place it would take hours.
  expect(performance.now() - began).toBeLessThan(20_000);
});

test('what an action changes is told of all the places at which it is done, though others come in between', () => {
  const text = `${PARTS}sequence work {\n  phase assemble\n  starts-with block\n  step on each cover {\n    fit cover onto block\n    tighten cover-bolt\n  }\n}\n`;
  const analysis = analyseText(text);
  const [view] = analysis.views;
  const actions = view === undefined ? [] : (traces(view, analysis.file.file)[0]?.steps[0]?.actions ?? []);
  expect(actions.map(({ changes }) => changes.map((each) => textOf(each)))).toEqual([
    ['cover all 3: on'],
    ['cover-bolt: tight'],
  ]);
});
