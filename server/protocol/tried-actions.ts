// Ways out are tried before they are offered: the spec is read with one made, and it stands only if its finding is gone and no other came.
import { told } from '../../grammar/told.ts';
import { type Action, fixesOf } from '../features/actions.ts';
import { possibleWays } from '../features/possible-ways.ts';
import { type Elsewhere, useLine } from '../features/use-line.ts';
import type { PossibleWay } from '../features/way-pieces.ts';
import type { Analysis } from '../model/analysis.ts';
import { edited } from '../model/edited.ts';
import type { Finding } from '../model/finding.ts';
import { analyse } from '../workspace/analyse.ts';
import type { Host } from '../workspace/api.ts';

/** Ways that are tried for one finding, and that are offered. */
const MOST_TRIED = 24;
const MOST_OFFERED = 2;

/** What ways are tried with. */
export interface Trial {
  readonly text: string;
  readonly host: Host;
  /** The files of the folder, for a path that is written wrongly. */
  readonly files?: () => readonly string[];
  /** The names that other files declare, for one that is not known here. */
  readonly elsewhere?: (name: string) => readonly Elsewhere[];
}

function count({ findings }: Analysis, which: (finding: Finding) => boolean): number {
  return findings.filter((each) => each.severity !== 'information' && which(each)).length;
}

/** Whether a finding is gone after an edit, and nothing else came. */
export function mends(before: Analysis, after: Analysis, finding: Finding): boolean {
  const same = ({ code, message }: Finding): boolean => code === finding.code && message === finding.message;
  const times = (analysis: Analysis): number => analysis.findings.filter(same).length;
  // Where the same is said of the same place in other words, it is not mended.
  const stays = after.findings.some(
    (each) =>
      each.code === finding.code &&
      each.file === finding.file &&
      each.start === finding.start &&
      each.severity !== 'information',
  );
  const codes = new Set(after.findings.map((each) => each.code));
  return (
    times(after) < times(before) &&
    !stays &&
    [...codes].every(
      (code) => count(after, (each) => each.code === code) <= count(before, (each) => each.code === code),
    )
  );
}

/** A name that another file declares, brought in by a `use` line. */
function broughtIn(analysis: Analysis, finding: Finding, { text, elsewhere }: Trial): readonly PossibleWay[] {
  if (finding.code !== 'name/unknown') return [];
  const name = text.slice(finding.start, finding.end);
  const paths = new Set(elsewhere?.(name).flatMap((each) => (each.name === name ? [each.path] : [])));
  return [...paths].slice(0, MOST_OFFERED).flatMap((path) => {
    const edit = useLine(analysis, path);
    return edit === undefined ? [] : [{ told: told`Use "${path}", which has ${name}`, edits: [edit] }];
  });
}

/**
 * The ways out of a finding that mend it: those that come with it, and else those that may be right. One that changes another file is not
 * tried. Where none mends it, those that come with it are given as they are. A yield stands between two tries.
 */
export function* tryWays(analysis: Analysis, finding: Finding, trial: Trial): Generator<void, readonly PossibleWay[]> {
  const { file } = analysis.file;
  const own: readonly PossibleWay[] = fixesOf(analysis, finding);
  const good: PossibleWay[] = [];
  for (const way of [...broughtIn(analysis, finding, trial), ...own]) {
    yield;
    const elsewhere = way.edits.some((edit) => edit.file !== file);
    if (elsewhere || mends(analysis, analyse(file, edited(trial.text, way.edits), trial.host), finding)) good.push(way);
  }
  if (good.length > 0) return good;
  for (const way of possibleWays(analysis, finding, trial.files).slice(0, MOST_TRIED)) {
    yield;
    if (mends(analysis, analyse(file, edited(trial.text, way.edits), trial.host), finding)) good.push(way);
    if (good.length === MOST_OFFERED) break;
  }
  return good.length > 0 ? good : own;
}

/** The same at once. */
export function triedWays(analysis: Analysis, finding: Finding, trial: Trial): readonly PossibleWay[] {
  const work = tryWays(analysis, finding, trial);
  for (;;) {
    const { done, value } = work.next();
    if (done === true) return value;
  }
}

/** A tried way as the editor offers it. */
export function actionsOf(finding: Finding, ways: readonly PossibleWay[]): readonly Action[] {
  return ways.map((way, i) => ({ ...way, finding, preferred: i === 0 }));
}
