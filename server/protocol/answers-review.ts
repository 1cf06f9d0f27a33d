// Answers what changed between a spec as it was and as it stands in the editor. What changed is worked out in server/review; the old
// text comes from the editor, since only it can reach a history.
import type { Connection } from 'vscode-languageserver';
import type { FilePlace } from '../model/finding.ts';
import { type Change, messageIn, type Say } from '../review/change.ts';
import { reviewSpecs } from '../review/review.ts';
import { analyse } from '../workspace/analyse.ts';
import type { Analysis, Host } from '../workspace/api.ts';
import { indexLines, type LineIndex, positionAt } from '../workspace/lines.ts';
import { resolveUse } from '../workspace/paths.ts';
import type { ReviewedChange, ReviewedPlace, ServerAnswers } from './messages.ts';
import type { Service } from './service.ts';

type Params = ServerAnswers['fettle/review']['params'];
type Result = ServerAnswers['fettle/review']['result'];

/** Keeps the old files apart from those of the same address as they stand now. */
const BEFORE = '#before';

const asBefore = (address: string): string => `${address}${BEFORE}`;
const plain = (address: string): string => (address.endsWith(BEFORE) ? address.slice(0, -BEFORE.length) : address);

const schemeOf = (uri: string): string => uri.slice(0, uri.indexOf(':'));

/** The analysis of a spec as it was, with what it used then. */
export function oldAnalysis({ uri, old }: Params, { documents }: Service, asked: Set<string>): Analysis {
  // A text of a history has an address of its own kind; what it uses lies where the spec lies now.
  const base = documents.addressOf(schemeOf(old.uri) === schemeOf(uri) ? old.uri : uri);
  const given = new Map(Object.entries(old.files ?? {}).map(([file, text]) => [documents.addressOf(file), text]));
  const host: Host = {
    resolve(from, path) {
      const found = resolveUse(plain(from), path, documents.roots());
      return found === undefined ? undefined : asBefore(found);
    },
    read(file) {
      const address = plain(file);
      asked.add(address);
      return given.get(address) ?? documents.read(address);
    },
  };
  return analyse(asBefore(base), old.text, host);
}

/** The lines of each file of an analysis, kept while one answer is made. */
function placer(analysis: Analysis, spelled: (address: string) => string): (place: FilePlace) => ReviewedPlace {
  const cache = new Map<string, LineIndex>();
  const linesOf = (file: string): LineIndex => {
    const known = cache.get(file);
    if (known !== undefined) return known;
    const read = [analysis.file, ...analysis.used].find((each) => each.file === file);
    const lines = indexLines(read?.text ?? '');
    cache.set(file, lines);
    return lines;
  };
  return ({ file, start, end }) => {
    const lines = linesOf(file);
    return { uri: spelled(file), range: { start: positionAt(lines, start), end: positionAt(lines, end) } };
  };
}

function reviewed(
  change: Change,
  old: (place: FilePlace) => ReviewedPlace,
  now: (place: FilePlace) => ReviewedPlace,
  say: Say,
): ReviewedChange {
  const { oldPlace, newPlace, said: _value, ...rest } = change;
  return {
    ...rest,
    message: messageIn(change, say),
    ...(oldPlace === undefined ? {} : { oldPlace: old(oldPlace) }),
    ...(newPlace === undefined ? {} : { newPlace: now(newPlace) }),
  };
}

function answer(params: Params, service: Service): Result {
  const { documents } = service;
  return service.atOnce<Result>(params.uri, null, (now) => {
    const asked = new Set<string>();
    const old = oldAnalysis(params, service, asked);
    const own = old.file.file;
    const before = placer(old, (file) => (file === own ? params.old.uri : documents.spelled(plain(file))));
    const after = placer(now, documents.spelled);
    return {
      changes: reviewSpecs(old, now).map((change) =>
        reviewed(change, before, after, (said) => said.in(service.rows())),
      ),
      uses: [...asked].map(documents.spelled),
    };
  });
}

export function answerReview(connection: Connection, service: Service): void {
  const handle = (params: Params): unknown =>
    service.guarded<Result>('fettle/review', () => answer(params, service), null);
  connection.onRequest('fettle/review', handle);
}
