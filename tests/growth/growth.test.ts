// The work that a text gives is in proportion to its length: what twice as much of one thing adds is twice what once as much adds. Work
// is counted, never timed (work.ts).
import { describe, expect, test } from 'vitest';
import { BOMBS, type Work } from './bombs.ts';
import { stepsOfEach } from './work.ts';

/** From 2n to 4n is added twice what is added from n to 2n, and something for a logarithm; where each goes over all, four times. */
const MOST = 2.6;

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

let checked = 0;

const DOING: Readonly<Record<Work, (text: string, beside?: Readonly<Record<string, string>>) => void>> = {
  read: (text) => readAll(cutSections(text), false),
  'lay out': (text) => void formatText(text),
  // Under a name of its own: what is let go of an earlier text is no work of this one.
  check: (text, beside) => void analyseText(text, beside, `text-${++checked}.fettle`),
};

const rows = BOMBS.flatMap((bomb) => bomb.work.map((work) => ({ ...bomb, work, act: DOING[work] })));

describe('four times as much', () => {
  test.each(rows)('$work: $name', ({ n, make, beside, act }) => {
    // What is made once and for all is no part of the growth.
    act(make(2), beside?.(2));
    const acts = [n, 2 * n, 4 * n].map((size) => {
      const [text, files] = [make(size), beside?.(size)];
      return (): void => act(text, files);
    });
    const [one = 0, two = 0, four = 0] = stepsOfEach(acts);
    expect((four - two) / (two - one)).toBeLessThan(MOST);
  });
});
