// The text of `fettle review`: the changes of each pair of files, grouped by weight. What changed is worked out in server/review.
import { told } from '../../grammar/told.ts';
import { messageIn, WEIGHTS } from '../review/change.ts';
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

const SIGN = { changed: told`changed`, added: told`added`, removed: told`removed`, moved: told`moved` } as const;

type Screen = Pick<Streams, 'terminal' | 'plain' | 'say'>;

function changeText(change: PlacedChange, files: ReviewedFiles, colours: Colours, { say }: Screen): Shown {
  const variants = change.variants === undefined ? '' : ` (${change.variants.join(', ')})`;
  const sign = say(SIGN[change.kind]).padEnd(7);
  const tinted = change.weight === 'critical' ? colours.red(sign) : sign;
  const place = placeText(change, files);
  const said = shown`  ${tinted} ${messageIn(change, say) + variants}\n`;
  return place === undefined ? said : shown`${said}          ${colours.dim(say(place))}\n`;
}

function filesReview(files: ReviewedFiles, colours: Colours, screen: Screen): Shown {
  const groups = WEIGHTS.flatMap((weight) => {
    const changes = files.changes.filter((each) => each.weight === weight);
    if (changes.length === 0) return [];
    return [
      shown`${screen.say(HEADINGS[weight])}\n${joined(changes.map((each) => changeText(each, files, colours, screen)))}`,
    ];
  });
  return shown`${colours.bold(screen.say(filesText(files)))}\n\n${joined(groups, '\n')}\n`;
}

/** All that changed, then how much that was, and what comes first. */
export function reviewText(reviewed: readonly ReviewedFiles[], streams: Screen): Shown {
  const colours = coloursFor(streams);
  const parts = reviewed
    .filter((files) => files.changes.length > 0)
    .map((files) => filesReview(files, colours, streams));
  const counts = countsText(reviewed.flatMap((files) => files.changes));
  return shown`${joined(parts)}${streams.say(counts)}\n${streams.say(CAUTION)}\n`;
}
