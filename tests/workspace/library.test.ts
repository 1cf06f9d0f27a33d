// The declarations that ship with Fettle, and what a fastener takes from them.
import { describe, expect, test } from 'vitest';
import { formatText } from '../../grammar/printer.ts';
import { strengthOf } from '../../server/mechanics/strength.ts';
import { parseThread } from '../../server/mechanics/threads.ts';
import { analyse } from '../../server/workspace/analyse.ts';
import { createDocuments } from '../../server/workspace/documents.ts';
import { LIBRARIES, libraryAddress, libraryText } from '../../server/workspace/library.ts';
import { analyseText } from '../annotated.ts';

const textOf = (name: string): string => libraryText(libraryAddress(`fettle:${name}`) ?? '') ?? '';
const alone = { resolve: () => undefined, read: () => undefined };
const spec = `use "fettle:metric-bolts"
part head
part block
fastener head-bolt x4 {
  like m10x1-25-10-9
  fitted oiled
  joint structural
  clamps head to block
  torque 40 N.m
}
`;

describe.each(LIBRARIES)('library %s', (name) => {
  const analysis = analyse('file:///shop/library.fettle', textOf(name), alone);
  test('is clean', () => expect(analysis.findings).toEqual([]));
  test('is in canonical layout', () => expect(formatText(textOf(name))).toMatchObject({ text: textOf(name) }));
  test('holds threads and classes that are worked out', () => {
    const fasteners = analysis.views.flatMap((view) => view.fasteners);
    const unknown = fasteners.filter(({ thread = '', strengthClass = '', joint }) => {
      const known = parseThread(thread);
      // A plug has no class: nothing is clamped by it.
      if (joint === 'plug') return known?.listed !== true;
      return known === undefined || strengthOf(strengthClass, known.diameter) === undefined;
    });
    expect(unknown.map((each) => each.name)).toEqual([]);
  });
});

test('a fastener takes thread, class and finish from one of a library, and says the rest itself', () => {
  const analysis = analyseText(spec, {});
  expect(analysis.findings.filter(({ severity }) => severity !== 'information')).toEqual([]);
  const bolt = analysis.views[0]?.fasteners.find((each) => each.name === 'head-bolt');
  expect(bolt).toMatchObject({ thread: 'M10x1.25', strengthClass: '10.9', surface: 'phosphate', fitted: 'oiled' });
});

test('what it says itself holds before what it takes', () => {
  const analysis = analyseText(spec.replace('fitted oiled', 'fitted oiled\n  class 8.8'), {});
  expect(analysis.views[0]?.fasteners.find((each) => each.name === 'head-bolt')?.strengthClass).toBe('8.8');
});

test('a library that is not there is said, with those that are', () => {
  const [found] = analyseText('use "fettle:bolts"\n', {}).findings;
  expect(found?.code).toBe('name/import-not-found');
  expect(found?.message).toMatch(/no library bolts.*metric-bolts/);
});

test('fasteners that are like each other, or themselves, harm nothing', () => {
  const text =
    'part a\nfastener b {\n  like c\n  clamps a\n  torque 9 N.m\n}\nfastener c {\n  like b\n  clamps a\n  torque 9 N.m\n}\n';
  expect(analyseText(text, {}).findings.filter(({ severity }) => severity === 'error')).toEqual([]);
});

test('a change in the other fastener is followed', () => {
  const documents = createDocuments();
  const text = (size: string): string =>
    `part lid\npart box\n\nfastener lid-bolt {\n  like stock\n  fitted oiled\n  joint structural\n  clamps lid to box\n  torque 60 N.m\n}\n\nfastener stock {\n  thread ${size}\n  class 8.8\n  clamps lid to box\n  torque 5 N.m\n}\n`;
  const codes = (): readonly string[] =>
    documents.analysis('file:///shop/a.fettle')?.findings.map(({ code, start }) => `${code} ${start}`) ?? [];
  documents.open('file:///shop/a.fettle', 1, text('M12'));
  const before = codes();
  documents.change('file:///shop/a.fettle', 2, [{ text: text('M6') }]);
  const after = codes();
  expect(after).not.toEqual(before);
  expect(after).toEqual([`unit/suspect ${text('M6').indexOf('60 N.m')}`]);
});
