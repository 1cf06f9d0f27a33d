// The revision of a spec is raised when what matters at the bench changed: the edit, with a line for the spec's own log of changes.
import type { Analysis } from '../model/analysis.ts';
import type { FixEdit } from '../model/finding.ts';
import { placeOf } from '../model/placed.ts';
import { quoted } from '../model/quoted.ts';

/** What a raised revision is made of. */
export interface Raise {
  readonly from: number;
  readonly to: number;
  readonly edits: readonly FixEdit[];
}

/** Changes that are named in the line; more are counted. */
const MOST_NAMED = 4;

/** The revision that the spec of a file has, as it is written there. */
function writtenRevision(analysis: Analysis) {
  const spec = analysis.file.declarations.find((each) => each.declaration.word === 'spec');
  const statement = spec?.declaration.body?.statements.find((each) => each.word === 'revision');
  if (spec === undefined || statement?.kind !== 'number' || !/^\d{1,6}$/.test(statement.number.text)) return undefined;
  return { spec, statement, number: Number(statement.number.text) };
}

/** The edit that raises it by one, with a note of what changed; undefined where none is written, or it was raised since already. */
export function raiseRevision(now: Analysis, old: Analysis, changes: readonly string[]): Raise | undefined {
  const [is, was] = [writtenRevision(now), writtenRevision(old)];
  if (is === undefined || was === undefined || is.number !== was.number || changes.length === 0) return undefined;
  const to = is.number + 1;
  const named = changes.slice(0, MOST_NAMED).map((each) => each.replace(/\.$/, ''));
  const more = changes.length - named.length;
  const line = `Revision ${to}: ${named.join('; ')}${more > 0 ? `; and ${more} more` : ''}.`;
  const number = placeOf(is.spec, is.statement.number);
  const end = placeOf(is.spec, is.statement).end;
  return {
    from: is.number,
    to,
    edits: [
      { ...number, text: String(to) },
      { file: number.file, start: end, end, text: `\n  note ${quoted(line)}` },
    ],
  };
}
