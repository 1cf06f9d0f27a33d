// The work that a text gives is in proportion to its length: what twice as much of one thing adds is twice what once as much adds. Work
// is counted, never timed (work.ts).
import { describe, expect, test } from 'vitest';
import { BOMBS, type Work } from './bombs.ts';
import { stepsOf } from './work.ts';

/**
 * From 2n to 4n is added twice what is added from n to 2n, and something for a logarithm; where each goes over all, four times. The count of
 * the smallest texts differs by a few hundredths from run to run.
 */
const MOST = 2.8;

const { parseSection } = await import('../../grammar/parse.ts');
const { formatText } = await import('../../grammar/printer.ts');
const { cutSections } = await import('../../grammar/sections.ts');
const { analyseText } = await import('../annotated.ts');

type Sections = ReturnType<typeof cutSections>;

function readAll(sections: Sections, inSequence: boolean): void {
  for (const section of sections) {
    parseSection(section, inSequence);
    readAll(section.children, section.word === 'sequence');
  }
}

const DOING: Readonly<Record<Work, (text: string) => void>> = {
  read: (text) => readAll(cutSections(text), false),
  'lay out': (text) => void formatText(text),
  check: (text) => void analyseText(text),
};

const rows = BOMBS.flatMap((bomb) => bomb.work.map((work) => ({ ...bomb, work, act: DOING[work] })));

describe('four times as much', () => {
  test.each(rows)('$work: $name', ({ n, make, act }) => {
    // What is made once and for all is no part of the growth.
    act(make(2));
    const [one = 0, two = 0, four = 0] = [make(n), make(2 * n), make(4 * n)].map((text) => stepsOf(() => act(text)));
    expect((four - two) / (two - one)).toBeLessThan(MOST);
  });
});
