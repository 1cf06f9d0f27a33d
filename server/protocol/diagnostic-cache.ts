// The findings of a file as an editor takes them, cached from edit to edit: a diagnostic is made anew only where what is said, or a line or a
// column, is another. A list that holds the same as the one before goes under the same number, so that an editor that has it is told so in a
// word and nothing is sent.
import type { Diagnostic, Range } from 'vscode-languageserver';
import type { Rows, Told } from '../../grammar/told.ts';
import { type LeftAlone, leftAloneIn, lineAt } from '../../grammar/written.ts';
import { deepEqual } from '../model/deep-equal.ts';
import type { FilePlace, Finding } from '../model/finding.ts';
import type { Documents } from '../workspace/documents.ts';
import { columnAt, type LineIndex } from '../workspace/lines.ts';
import { diagnosticOf, rangeOf } from './convert.ts';

/** What a diagnostic was made of. */
interface Cached {
  /** As it stood when it was looked at last, and which look at its list that was. */
  finding: Finding;
  look: Look;
  readonly rows: Rows;
  readonly help: string | undefined;
  /** Of each place of the finding, in turn. */
  readonly positions: readonly Position[];
  readonly diagnostic: Diagnostic;
}

/** One look at a list of findings: the lines of the texts that they stand in. */
type Look = ReadonlyMap<string, Counted>;

export interface DiagnosticCache {
  /** The findings of a file as diagnostics, in the language of the rows; `help` is the address of the page with the help of every code. */
  of(address: string, findings: readonly Finding[], rows: Rows, help: string | undefined): Diagnostic[];
  /** The number of a list of a file: that of the one before where both hold the same. */
  numberOf(address: string, list: readonly Diagnostic[]): string;
  /** A file is not open any more. */
  evict(address: string): void;
}

/** A text that findings stand in, as an editor counts, and what of it stands where it stood the time before. */
interface Counted {
  readonly spelled: string;
  readonly lines: LineIndex;
  readonly leftAlone: LeftAlone | undefined;
}

/** All places of a finding: its own, those that it points at, and those where its ways out change something. */
function placesOf(finding: Finding): readonly FilePlace[] {
  const { related, fixes } = finding;
  if (related.length === 0 && fixes.length === 0) return [finding];
  return [finding, ...related, ...fixes.flatMap(({ edits }) => edits)];
}

/** Where a stretch stands, as an editor counts. */
interface Position extends Range {
  readonly spelled: string;
}

function positionOf({ file, start, end }: FilePlace, countedOf: (file: string) => Counted): Position {
  const { spelled, lines } = countedOf(file);
  return { spelled, ...rangeOf(lines, start, end) };
}

/** Whether an offset, which was another one before, stands in the same line and column, as far as that is told by what an edit left alone. */
function hasStayed({ before, from, by, lines }: LeftAlone, column: number, was: number, is: number): boolean {
  if (was < before) return is === was;
  return lines === 0 && was - column >= from && is === was + by;
}

const isAt = ({ line, character }: Range['start'], lines: LineIndex, offset: number): boolean =>
  lineAt(lines, offset) === line && columnAt(lines, offset, line) === character;

/** Whether a stretch stands in a position; `was` is where it stood there the time before, where it did. */
function standsAt(
  position: Position | undefined,
  place: FilePlace,
  { spelled, lines, leftAlone }: Counted,
  was: FilePlace | undefined,
): boolean {
  if (position?.spelled !== spelled) return false;
  const { start, end } = position;
  const hasStayedThere =
    was !== undefined &&
    leftAlone !== undefined &&
    hasStayed(leftAlone, start.character, was.start, place.start) &&
    hasStayed(leftAlone, end.character, was.end, place.end);
  return hasStayedThere || (isAt(start, lines, place.start) && isAt(end, lines, place.end));
}

const sameList = <item>(
  one: readonly item[] | undefined,
  other: readonly item[] | undefined,
  same: (one: item, other: item) => boolean = Object.is,
): boolean =>
  one === other || (one?.length === other?.length && one?.every((each, i) => same(each, other?.[i] as item)) === true);

/** Whether two findings differ in their offsets at most. */
const saysTheSame = (one: Finding, other: Finding): boolean =>
  one === other ||
  (one.code === other.code &&
    one.severity === other.severity &&
    one.file === other.file &&
    one.told === other.told &&
    sameList(one.variants, other.variants) &&
    sameList(one.related, other.related, (a, b) => a.told === b.told && a.file === b.file) &&
    sameList(
      one.fixes,
      other.fixes,
      (a, b) => a.told === b.told && sameList(a.edits, b.edits, (c, d) => c.text === d.text && c.file === d.file),
    ));

export function diagnosticCache(documents: Documents): DiagnosticCache {
  const cache = new WeakMap<Told, Cached>();
  /** The last look at the list of each file. */
  const looks = new Map<string, Look>();
  const lists = new Map<string, { readonly list: readonly Diagnostic[]; readonly number: string }>();
  let last = 0;
  return {
    of(address, findings, rows, help) {
      // Of a file that nobody types in nothing is cached.
      if (documents.get(address) === undefined) {
        looks.delete(address);
        return findings.map((finding) => diagnosticOf(documents, finding, rows, help));
      }
      const before = looks.get(address);
      const look = new Map<string, Counted>();
      looks.set(address, look);
      const countedOf = (file: string): Counted => {
        let counted = look.get(file);
        if (counted === undefined) {
          const lines = documents.lines(file);
          const were = before?.get(file)?.lines;
          const leftAlone = were === undefined ? undefined : leftAloneIn(were, lines);
          counted = { spelled: documents.spelled(file), lines, leftAlone };
          look.set(file, counted);
        }
        return counted;
      };
      return findings.map((finding) => {
        const places = placesOf(finding);
        const known = cache.get(finding.told);
        if (known?.rows === rows && known.help === help && saysTheSame(known.finding, finding)) {
          const were = known.look === before ? placesOf(known.finding) : [];
          const isThere = (place: FilePlace, i: number): boolean =>
            standsAt(known.positions[i], place, countedOf(place.file), were[i]);
          if (places.every(isThere)) {
            known.finding = finding;
            known.look = look;
            return known.diagnostic;
          }
        }
        const diagnostic = diagnosticOf(documents, finding, rows, help);
        const positions = places.map((place) => positionOf(place, countedOf));
        cache.set(finding.told, { finding, look, rows, help, positions, diagnostic });
        return diagnostic;
      });
    },
    numberOf(address, list) {
      const before = lists.get(address);
      if (before !== undefined && sameList(before.list, list, deepEqual)) return before.number;
      last += 1;
      lists.set(address, { list, number: String(last) });
      return String(last);
    },
    evict(address) {
      lists.delete(address);
      looks.delete(address);
    },
  };
}
