// A picture as a file of its own. Apart from drawing.tsx, so that a bench page need not hold what makes files.

import { render } from 'preact-render-to-string';
import { nothingMoved } from '../../grammar/characters.ts';
import { type Picture, PictureOf } from './drawing.tsx';

/** A picture as a file of its own. */
export function pictureFile(picture: Picture): string {
  return `${nothingMoved(render(<PictureOf picture={picture} />))}\n`;
}
