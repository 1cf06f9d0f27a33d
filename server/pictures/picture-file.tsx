// A picture as a file of its own. Apart from drawing.tsx, so that a bench page need not hold what makes files.
import { render } from 'preact-render-to-string';
import { type Picture, PictureOf } from './drawing.tsx';

/** What a file of vector graphics may not hold, put so that it is seen. */
const NOT_IN_XML = /(?![\t\n\r])[\p{Cc}\p{Cs}\ufffe\uffff]/gu;

/** A picture as a file of its own. */
export function pictureFile(picture: Picture): string {
  return `${render(<PictureOf picture={picture} />).replace(NOT_IN_XML, '\ufffd')}\n`;
}
