// The text of `fettle review`: the changes of each pair of files, grouped by weight. What changed is worked out in server/review.
import { WEIGHTS } from '../review/change.ts';
import {
  CAUTION,
  countsText,
  filesText,
  HEADINGS,
  type PlacedChange,
  placeText,
  type ReviewedFiles,
} from '../review/placed-change.ts';
import { type Colours, coloursFor, printable, type Streams } from './streams.ts';

const SIGN = { changed: 'changed', added: 'added', removed: 'removed', moved: 'moved' } as const;

function changeText(change: PlacedChange, files: ReviewedFiles, colours: Colours): string {
  const variants = change.variants === undefined ? '' : ` (${change.variants.join(', ')})`;
  const tint = change.weight === 'critical' ? colours.red : (text: string): string => text;
  const place = placeText(change, files);
  const said = `  ${tint(SIGN[change.kind].padEnd(7))} ${printable(change.message + variants)}\n`;
  return place === '' ? said : `${said}          ${colours.dim(printable(place))}\n`;
}

function filesReview(files: ReviewedFiles, colours: Colours): string {
  const groups = WEIGHTS.flatMap((weight) => {
    const changes = files.changes.filter((each) => each.weight === weight);
    if (changes.length === 0) return [];
    return [`${HEADINGS[weight]}\n${changes.map((each) => changeText(each, files, colours)).join('')}`];
  });
  return `${colours.bold(printable(filesText(files)))}\n\n${groups.join('\n')}\n`;
}

/** All that changed, then how much that was, and what comes first. */
export function reviewText(reviewed: readonly ReviewedFiles[], streams: Streams): string {
  const colours = coloursFor(streams);
  const parts = reviewed.filter((files) => files.changes.length > 0).map((files) => filesReview(files, colours));
  return `${parts.join('')}${countsText(reviewed.flatMap((files) => files.changes))}\n${CAUTION}\n`;
}
