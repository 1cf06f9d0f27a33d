// Follows `use` from file to file. A path that leaves the workspace folder is not followed.
import type { InPieces } from '../../grammar/give-way.ts';
import { type Told, told } from '../../grammar/told.ts';
import { type Finding, said } from '../model/finding.ts';
import { MOST_FILES } from '../model/most.ts';
import { type Placed, placeOf, type ReadFile } from '../model/placed.ts';
import { readingFile } from '../model/read-file.ts';
import type { Host } from './api.ts';
import { LIBRARIES, libraryAddress, libraryText } from './library.ts';

export interface ImportFinding {
  readonly finding: Finding;
}

function finding(code: string, placed: Placed, what: Told): ImportFinding {
  const at = placeOf(placed, placed.declaration.path ?? placed.declaration.wordSpan);
  return { finding: { code, severity: 'error', ...at, ...said(what), related: [], fixes: [] } };
}

function tooMany(placed: Placed, target: string): ImportFinding {
  return finding(
    'name/too-many-files',
    placed,
    told`This leads to more than the ${MOST_FILES} files that are read for one spec: ${target.split('/').pop() ?? target} and all behind it are not, and nothing is said of what may stand there. Use fewer files, or put what belongs together into one.`,
  );
}

/** The `use` lines of a file, those inside a `when` too. */
function usesIn(file: ReadFile): readonly Placed[] {
  return file.notable
    .filter(({ section }) => section.word === 'use' || section.word === 'when')
    .flatMap(({ declarations }) => declarations.filter((placed) => placed.declaration.word === 'use'));
}

/** Every file that a file uses, directly or not, in the order met; what is wrong with its own `use` lines; whether any was not found. */
export interface Imports {
  readonly used: readonly ReadFile[];
  readonly findings: readonly ImportFinding[];
  readonly incomplete: boolean;
}

/** Reads what a file uses, in pieces. */
export function* findingImports(root: ReadFile, host: Host): InPieces<Imports> {
  const used = new Map<string, ReadFile>();
  const findings: ImportFinding[] = [];
  let incomplete = false;
  let isCircleSaid = false;
  let areTooMany = false;
  /** `start` is the `use` line of the root that the trail began with. */
  const follow = function* (from: ReadFile, trail: readonly string[], start: Placed | undefined): InPieces<void> {
    for (const placed of usesIn(from)) {
      const path = placed.declaration.path?.value;
      if (path === undefined) continue;
      // That nothing stands in the quotes is told of all texts (name/empty).
      if (path.trim() === '') {
        incomplete = true;
        continue;
      }
      const own = from === root;
      const library = libraryAddress(path);
      const target = library ?? host.resolve(from.file, path);
      if (target === undefined) {
        incomplete = true;
        if (own)
          findings.push(
            finding(
              'name/import-outside',
              placed,
              told`${path} lies outside this folder. A spec uses only files of its own workspace folder: copy the file into it.`,
            ),
          );
        continue;
      }
      if (target === root.file || trail.includes(target)) {
        if (own || target === root.file) {
          if (!isCircleSaid)
            findings.push(
              finding(
                'name/import-cycle',
                start ?? placed,
                told`These files use each other in a circle: ${told.list(
                  [...trail, target].map((name) => name.split('/').pop() ?? name),
                  'then',
                )}. Put what both need into a third file.`,
              ),
            );
          isCircleSaid = true;
        }
        continue;
      }
      if (used.has(target)) continue;
      if (used.size >= MOST_FILES) {
        incomplete = true;
        if (!areTooMany) findings.push(tooMany(start ?? placed, target));
        areTooMany = true;
        continue;
      }
      const text = library === undefined ? (host.readWritten?.(target) ?? host.read(target)) : libraryText(library);
      if (text === undefined) {
        incomplete = true;
        if (own)
          findings.push(
            finding(
              'name/import-not-found',
              placed,
              library === undefined
                ? told`There is no file ${path} here. Check its name, and that it lies in this folder.`
                : told`Fettle has no library ${path.slice(path.indexOf(':') + 1)}. There are ${told.list(LIBRARIES, ',')}.`,
            ),
          );
        continue;
      }
      const read = yield* readingFile(target, text, host.supersedes);
      used.set(target, read);
      yield* follow(read, [...trail, target], start ?? placed);
    }
  };
  yield* follow(root, [root.file], undefined);
  return { used: [...used.values()], findings, incomplete };
}
