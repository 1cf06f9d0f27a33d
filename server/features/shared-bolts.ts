// The kind of a bolt (thread, class, finish) put into a file that other specs use too. How tight it goes and what it holds is the spec's own.
import type { Analysis } from '../model/analysis.ts';
import type { FixEdit } from '../model/finding.ts';
import { quoted } from '../model/quoted.ts';
import { boltsOfAKind, kindLines, namesOf, saysLike } from './rework.ts';
import { useLine } from './use-line.ts';

export interface SharedBolts {
  /** The bolts that take their kind from there. */
  readonly names: string;
  /** What the new file says. */
  readonly text: string;
  /** The edits of this file, for the name that the new one is used by. */
  edits(path: string): readonly FixEdit[];
}

/** What a kind is called: `m8x1-25-8-8`. */
function nameOf(words: readonly string[]): string {
  return words
    .join('-')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^[-\d]+|-+$/g, '');
}

/** The bolt at an offset, and all of its kind, as like one in a file of its own; undefined where it does not say its kind. */
export function sharedBolts(analysis: Analysis, offset: number): SharedBolts | undefined {
  const found = boltsOfAKind(analysis, offset);
  if (found === undefined) return undefined;
  const { here, alike } = found;
  // Where a figure comes from is told by the sources of the spec, which the other file does not have.
  const said = kindLines(here).map((each) => {
    const [first = ''] = here.section.text.slice(each.start, each.end).split(/\r?\n/);
    return { word: each.word, text: first.trimEnd() };
  });
  const saidOf = (word: string): string =>
    said
      .find((each) => each.word === word)
      ?.text.slice(word.length)
      .trim() ?? '';
  const name = nameOf([saidOf('thread'), saidOf('class')]);
  if (name === '' || analysis.views.some((view) => view.things.has(name))) return undefined;
  const title = `${saidOf('thread')}, class ${saidOf('class')}`;
  const bolts = [here, ...alike];
  return {
    names: namesOf(bolts),
    text: [
      '# Bolts that several specs share. How tight they go is for each spec to say.',
      'allow torque/missing because "How tight is for each spec to say."',
      '',
      `fastener ${name} ${quoted(title)} {`,
      ...said.map(({ text }) => `  ${text}`),
      '}',
      '',
    ].join('\n'),
    edits(path) {
      const use = useLine(analysis, path);
      return use === undefined ? [] : [use, ...bolts.flatMap((each) => saysLike(analysis, each, name))];
    },
  };
}
