// Gives out findings: pushed, or on asking where the editor asks; never both.
import {
  type Diagnostic,
  type DocumentDiagnosticReport,
  DocumentDiagnosticReportKind,
  type WorkspaceDocumentDiagnosticReport,
} from 'vscode-languageserver';
import type { Analysis } from '../model/analysis.ts';
import { atTheTop, fileFailed, whyOf } from '../workspace/contained.ts';
import { diagnosticOf } from './convert.ts';
import { diagnosticCache } from './diagnostic-cache.ts';
import { foremost } from './foremost.ts';
import { letFail, reportFault, type Service } from './service.ts';
import { type CheckWeights, weighed } from './settings.ts';
import { afterBurst, inPieces, nextTurn } from './turns.ts';

export interface Findings {
  /** A text changed: it is checked, and then what uses it. */
  changed(uri: string): void;
  /** Everything open or known is checked. */
  checkAll(): void;
  /** Checks weigh otherwise in this editor than before. */
  weighedAnew(): void;
  /** A file is neither open nor there any more. */
  gone(uri: string): void;
  /** Resolves when nothing waits to be checked. */
  settled(): Promise<void>;
}

/** Milliseconds without a change after which an editor that asks is told to ask again for what uses a changed file. */
const QUIET = 200;

/**
 * `lacking` is told which files a check asked for in vain; `help` is the address of the page that the codes are linked to;
 * `onTold` is called when findings of a file go to the editor.
 */
export function serveFindings(
  service: Service,
  lacking: (addresses: readonly string[]) => void,
  weights: () => CheckWeights = () => new Map(),
  help: () => string | undefined = () => undefined,
  onTold: () => void = () => undefined,
): Findings {
  const { connection, documents, abilities } = service;
  const waiting = new Set<string>();
  /** What was last pushed for a file that was not changed itself. */
  const pushed = new Map<string, readonly Diagnostic[]>();
  let onSettled: (() => void)[] = [];
  let markStale: ReturnType<typeof setTimeout> | undefined;

  const cache = diagnosticCache(documents);
  const diagnostics = (analysis: Analysis): Diagnostic[] =>
    cache.of(
      analysis.file.file,
      foremost(weighed(analysis.findings, weights()), analysis.file.file),
      service.rows(),
      help(),
    );

  /** A file that could not even be read: that is told at its top. */
  const failed = (address: string, why: string): Diagnostic[] => [
    diagnosticOf(documents, atTheTop(address, fileFailed(why, false)), service.rows(), help()),
  ];
  /** The findings of a file as the editor takes them; undefined for one that is not there. */
  const found = async (
    address: string,
    isLeftOff: () => boolean = () => false,
  ): Promise<readonly [analysis: Analysis | undefined, list: Diagnostic[]] | 'left off' | undefined> => {
    try {
      for (;;) {
        let analysis: Analysis | undefined;
        const reading = (function* () {
          analysis = yield* documents.analysing(address);
        })();
        if (!(await inPieces(reading, isLeftOff))) return 'left off';
        if (analysis === undefined) return undefined;
        const isOld = (): boolean => isLeftOff() || documents.made(address) !== analysis;
        if (await inPieces(analysis.check(), isOld)) return [analysis, diagnostics(analysis)];
        if (isLeftOff()) return 'left off';
      }
    } catch (error) {
      reportFault(connection, address, error);
      return [undefined, failed(address, whyOf(error))];
    }
  };

  const push = async (address: string, isChanged: boolean): Promise<void> => {
    // It waits again where it was changed meanwhile.
    const there = await found(address, () => waiting.has(address));
    if (there === 'left off') {
      if (isChanged) changedFiles.add(address);
      return;
    }
    const [, list] = there ?? [];
    const open = documents.get(address);
    if (list === undefined && open === undefined && !pushed.has(address)) return;
    // A file that was only looked at again is told of when its findings are others.
    const [before, now] = [pushed.get(address), list ?? []];
    if (!isChanged && before !== undefined && JSON.stringify(before) === JSON.stringify(now)) return;
    pushed.set(address, now);
    letFail(
      connection.sendDiagnostics({
        uri: documents.spelled(address),
        diagnostics: now,
        ...(open === undefined ? {} : { version: open.version }),
      }),
    );
    onTold();
  };

  const changedFiles = new Set<string>();
  let isAtWork = false;
  const work = afterBurst(() => {
    if (isAtWork) return;
    isAtWork = true;
    // Open files first, those that changed before those that use them; a turn for each, so that keys come in between.
    const rank = (address: string): number =>
      (documents.get(address) === undefined ? 2 : 0) + (changedFiles.has(address) ? 0 : 1);
    const next = [...waiting].sort((a, b) => rank(a) - rank(b))[0];
    const unasked = next === undefined || documents.get(next) !== undefined ? undefined : service.unasked();
    if (unasked !== undefined) {
      isAtWork = false;
      unasked.then(work, () => undefined);
      return;
    }
    const pushNext = async (address: string): Promise<void> => {
      waiting.delete(address);
      await push(address, changedFiles.delete(address));
      const missing = documents.missing(address);
      if (missing.length > 0) lacking(missing);
    };
    const goOn = (): void => {
      isAtWork = false;
      if (waiting.size > 0) work();
      else {
        for (const tell of onSettled) tell();
        onSettled = [];
      }
    };
    if (next === undefined) goOn();
    else
      pushNext(next).then(goOn, (error) => {
        reportFault(connection, next, error);
        goOn();
      });
  });
  const check = (address: string): void => {
    waiting.add(address);
    work();
  };
  const tellToAsk = (): void => {
    if (!abilities().refreshesFindings) return;
    clearTimeout(markStale);
    markStale = setTimeout(() => letFail(connection.languages.diagnostics.refresh()), QUIET);
  };

  // What is found has a number, so that an editor that has it already is told so in a word: an open file by what it says, any other by its
  // analysis, since nothing more is cached of it.
  let numbers = new WeakMap<Analysis, string>();
  let last = 0;
  const numberOf = (address: string, analysis: Analysis, items: readonly Diagnostic[]): string => {
    if (documents.get(address) !== undefined) return `open ${cache.numberOf(address, items)}`;
    cache.evict(address);
    const known = numbers.get(analysis);
    if (known !== undefined) return known;
    last += 1;
    numbers.set(analysis, String(last));
    return String(last);
  };
  connection.languages.diagnostics.on(async ({ textDocument, previousResultId }): Promise<DocumentDiagnosticReport> => {
    const address = documents.addressOf(textDocument.uri);
    const there = await found(address);
    const [analysis, items] = there === 'left off' ? [] : (there ?? []);
    if (items === undefined || analysis === undefined)
      return { kind: DocumentDiagnosticReportKind.Full, items: items ?? [] };
    onTold();
    const resultId = numberOf(address, analysis, items);
    const missing = documents.missing(textDocument.uri);
    if (missing.length > 0) lacking(missing);
    return previousResultId === resultId
      ? { kind: DocumentDiagnosticReportKind.Unchanged, resultId }
      : { kind: DocumentDiagnosticReportKind.Full, resultId, items };
  });
  connection.languages.diagnostics.onWorkspace(async ({ previousResultIds }, token) => {
    const before = new Map(previousResultIds.map(({ uri, value }) => [uri, value]));
    const items: WorkspaceDocumentDiagnosticReport[] = [];
    await service.folderRead();
    for (const address of documents.known()) {
      for (let unasked = service.unasked(); unasked !== undefined; unasked = service.unasked()) await unasked;
      if (token.isCancellationRequested) break;
      const uri = documents.spelled(address);
      const there = await found(address);
      const [analysis, list] = there === 'left off' ? [] : (there ?? []);
      if (list === undefined) continue;
      if (analysis === undefined) {
        items.push({ kind: DocumentDiagnosticReportKind.Full, uri, version: null, items: list });
        continue;
      }
      const resultId = numberOf(address, analysis, list);
      if (before.get(uri) === resultId)
        items.push({ kind: DocumentDiagnosticReportKind.Unchanged, uri, version: null, resultId });
      else {
        items.push({ kind: DocumentDiagnosticReportKind.Full, uri, version: null, resultId, items: list });
        await nextTurn();
      }
      before.delete(uri);
    }
    // What the editor still has of files that went.
    for (const uri of before.keys())
      if (documents.read(uri) === undefined)
        items.push({ kind: DocumentDiagnosticReportKind.Full, uri, version: null, items: [] });
    return { items };
  });

  return {
    weighedAnew() {
      // What the editor has already is another list now.
      numbers = new WeakMap();
      pushed.clear();
      if (abilities().pulls) tellToAsk();
      else
        for (const address of [...documents.all().map((open) => open.address), ...documents.known()]) {
          changedFiles.add(address);
          check(address);
        }
    },
    changed(uri) {
      const address = documents.addressOf(uri);
      const users = documents.dependents(address);
      if (abilities().pulls) {
        if (users.length > 0) tellToAsk();
        return;
      }
      changedFiles.add(address);
      check(address);
      for (const user of users) check(user);
    },
    checkAll() {
      if (abilities().pulls) {
        tellToAsk();
        return;
      }
      for (const { address } of documents.all()) check(address);
      for (const address of documents.known()) check(address);
    },
    gone(uri) {
      const address = documents.addressOf(uri);
      waiting.delete(address);
      changedFiles.delete(address);
      pushed.delete(address);
      cache.evict(address);
      if (!abilities().pulls) letFail(connection.sendDiagnostics({ uri: documents.spelled(address), diagnostics: [] }));
    },
    settled: () => (waiting.size === 0 && !isAtWork ? Promise.resolve() : new Promise((done) => onSettled.push(done))),
  };
}
