// A bundle that was altered after it was made. It stands in no declaration, so it is found of the text itself (see workspace/analyse.ts).
import { told } from '../../../grammar/told.ts';
import { type Finding, said, titled } from '../../model/finding.ts';
import type { ReadFile } from '../../model/placed.ts';
import { textOf } from '../../model/text-of.ts';
import type { PageOnly } from '../check.ts';
import page from './altered.md';
import { alteredHeading, beginsAsBundle } from './bundle-heading.ts';

export const sourceAltered: PageOnly = { code: 'source/altered', severity: 'warning', scope: 'page', page };

/** Characters of a text that tell whether it is a bundle. */
const BEGINNING = 100;

/** What is said of a file that is a bundle and was altered; nothing for any other, of which the whole text is not asked for. */
export function alterations(read: ReadFile): readonly Finding[] {
  const { file, sections } = read;
  if (!beginsAsBundle(textOf(read, 0, BEGINNING))) return [];
  const heading = alteredHeading(read.text, sections);
  if (heading === undefined) return [];
  const { start, end, contentAt } = heading;
  return [
    {
      code: sourceAltered.code,
      severity: sourceAltered.severity,
      file,
      start,
      end,
      ...said(
        told`This bundle was altered after it was made: what follows is not what this number was worked out from. Ask who sent it for a copy as it was made, or take the heading out if the file is your own now.`,
      ),
      related: [],
      fixes: [{ ...titled(told`Take the heading out`), edits: [{ file, start: 0, end: contentAt, text: '' }] }],
    },
  ];
}
