// `fettle review`: what changed between two specs, by meaning. What changed is worked out in server/review, which files are compared
// in review-pairs.ts.

import { resolve } from 'node:path';
import { told } from '../../grammar/told.ts';
import type { FilePlace } from '../model/finding.ts';
import { saying, WEIGHTS } from '../review/change.ts';
import { reviewMarkdown } from '../review/markdown.ts';
import { reviewPage } from '../review/page.tsx';
import { type LinePlace, type PlacedChange, placedChange, type ReviewedFiles } from '../review/placed-change.ts';
import { reviewSpecs } from '../review/review.ts';
import type { Analysis } from '../workspace/api.ts';
import { indexLines, type LineIndex } from '../workspace/lines.ts';
import { placeIn } from './check-file.ts';
import { data, type Shown, shown, textOf } from './output.ts';
import { diskPairs, gitPairs, type Input, type InputPair } from './review-pairs.ts';
import { reviewText } from './review-text.ts';
import { sameFile, shownAddress, shownPath } from './specs.ts';
import { CannotDo, remark, type Streams } from './streams.ts';
import { writeWhole } from './write.ts';

export interface ReviewOptions {
  readonly format?: string;
  readonly output?: string;
  /** A revision, or two with dots between them. */
  readonly git?: string;
}

/** A page is a file, which holds its letters as they are; what is told is shown. */
type Shows = (
  reviewed: readonly ReviewedFiles[],
  streams: Pick<Streams, 'terminal' | 'plain' | 'say'>,
) => Shown | string;

const SHOW: ReadonlyMap<string, Shows> = new Map<string, Shows>([
  ['text', reviewText],
  ['markdown', (reviewed, { say }) => reviewMarkdown(reviewed, say)],
  // What programs read is the same in every language.
  [
    'json',
    (reviewed) =>
      data({ changes: reviewed.flatMap((files) => files.changes.map(({ said: _value, ...change }) => change)) }),
  ],
  ['html', (reviewed, { say }) => reviewPage(reviewed, say, say(told`en`))],
]);

interface Looked {
  readonly input: Input;
  readonly analysis: Analysis;
}

/** From offsets to lines, in the file itself and in those that it uses, under the names that they are shown by. */
function linesOf({ input, analysis }: Looked, streams: Streams): (place: FilePlace) => LinePlace {
  const indexes = new Map<string, LineIndex>();
  return ({ file, start, end }) => {
    let index = indexes.get(file);
    if (index === undefined) {
      const read = [analysis.file, ...analysis.used].find((each) => each.file === file);
      index = indexLines(read?.text ?? '');
      indexes.set(file, index);
    }
    const shown = file === analysis.file.file ? input.shown : shownAddress(file, streams);
    return { file: shown, start: placeIn(index, start), end: placeIn(index, end) };
  };
}

/** A file that has no other side. */
function loneFile(kind: 'added' | 'removed', { shown }: Input): PlacedChange {
  const place = { file: shown, start: { line: 1, column: 1 }, end: { line: 1, column: 1 } };
  const file = told.named(shown);
  return kind === 'added'
    ? { what: 'file', kind, weight: 'matters', new: shown, ...saying(told`The file ${file} is new.`), newPlace: place }
    : {
        what: 'file',
        kind,
        weight: 'matters',
        old: shown,
        ...saying(told`The file ${file} is gone.`),
        oldPlace: place,
      };
}

function reviewPair({ old, new: now }: InputPair, ownOnly: boolean, streams: Streams): ReviewedFiles {
  if (old === undefined || now === undefined)
    return {
      ...{ old: old?.shown, new: now?.shown },
      changes: [
        ...(now === undefined ? [] : [loneFile('added', now)]),
        ...(old === undefined ? [] : [loneFile('removed', old)]),
      ],
    };
  const [before, after] = [
    { input: old, analysis: old.analyse() },
    { input: now, analysis: now.analyse() },
  ];
  const lines = { old: linesOf(before, streams), new: linesOf(after, streams) };
  const changes = reviewSpecs(before.analysis, after.analysis, { ownOnly });
  return {
    ...{ old: old.shown, new: now.shown },
    changes: changes.map((change) => placedChange(change, (place, side) => lines[side](place))),
  };
}

/** The place of the weightiest change of two files among the weights; files that differ in nothing come last. */
function heaviest({ changes }: ReviewedFiles): number {
  return Math.min(WEIGHTS.length, ...changes.map((each) => WEIGHTS.indexOf(each.weight)));
}

function write(text: string, pairs: readonly InputPair[], output: string, streams: Streams): void {
  const target = resolve(streams.folder, output);
  const inputs = pairs.flatMap((pair) => [pair.old, pair.new]);
  if (target.endsWith('.fettle') || inputs.some((each) => each !== undefined && sameFile(each.path, target)))
    throw new CannotDo(told`The review would overwrite a spec. Give an --output of another name.`);
  writeWhole(target, text);
  streams.out(shown`${shownPath(target, streams.folder)}\n`);
}

/** Runs `review`; gives the exit status: 1 where something critical or mattering changed, 2 where a file could not be read. */
export function review(paths: readonly string[], options: ReviewOptions, streams: Streams): number {
  const format = options.format ?? 'text';
  const show = SHOW.get(format);
  if (show === undefined) throw new CannotDo(told`The format is text, markdown, json or html, not ${format ?? ''}.`);
  const [first, second, ...more] = paths;
  if (options.git === undefined ? second === undefined || more.length > 0 : second !== undefined)
    throw new CannotDo(told`Name the old and the new file, or --git REVISION and one file.`);
  if (first === undefined) throw new CannotDo(told`Name the file to look at.`);
  const inputs =
    options.git === undefined ? diskPairs(first, second ?? '', streams) : gitPairs(options.git, first, streams);
  const reviewed = inputs.pairs
    .filter((pair) => pair.old !== undefined || pair.new !== undefined)
    .map((pair) => reviewPair(pair, inputs.folders, streams))
    .sort((one, other) => heaviest(one) - heaviest(other));
  for (const each of inputs.unreadable) remark(streams, each);
  if (options.output === undefined) {
    const told = show(reviewed, streams);
    if (typeof told === 'string') streams.file(told);
    else streams.out(told);
  } else {
    const told = show(reviewed, { terminal: false, say: streams.say });
    write(typeof told === 'string' ? told : textOf(told), inputs.pairs, options.output, streams);
  }
  if (inputs.unreadable.length > 0) return 2;
  return reviewed.some((files) => files.changes.some((each) => each.weight !== 'wording')) ? 1 : 0;
}
