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
import { type Colours, coloursFor, joined, type Shown, type Streams, shown } from './output.ts';

const SIGN = { changed: 'changed', added: 'added', removed: 'removed', moved: 'moved' } as const;

function changeText(change: PlacedChange, files: ReviewedFiles, colours: Colours): Shown {
  const variants = change.variants === undefined ? '' : ` (${change.variants.join(', ')})`;
  const sign = SIGN[change.kind].padEnd(7);
  const tinted = change.weight === 'critical' ? colours.red(sign) : sign;
  const place = placeText(change, files);
  const said = shown`  ${tinted} ${change.message + variants}\n`;
  return place === '' ? said : shown`${said}          ${colours.dim(place)}\n`;
}

function filesReview(files: ReviewedFiles, colours: Colours): Shown {
  const groups = WEIGHTS.flatMap((weight) => {
    const changes = files.changes.filter((each) => each.weight === weight);
    if (changes.length === 0) return [];
    return [shown`${HEADINGS[weight]}\n${joined(changes.map((each) => changeText(each, files, colours)))}`];
  });
  return shown`${colours.bold(filesText(files))}\n\n${joined(groups, '\n')}\n`;
}

/** All that changed, then how much that was, and what comes first. */
export function reviewText(reviewed: readonly ReviewedFiles[], streams: Pick<Streams, 'terminal' | 'plain'>): Shown {
  const colours = coloursFor(streams);
  const parts = reviewed.filter((files) => files.changes.length > 0).map((files) => filesReview(files, colours));
  const counts = countsText(reviewed.flatMap((files) => files.changes));
  return shown`${joined(parts)}${counts}\n${CAUTION}\n`;
}
