// What every answer of the server works with: the connection, the texts, what the editor can do, and how a fault inside Fettle is
// kept from ending the server.

import {
  type CancellationToken,
  type ClientCapabilities,
  type Connection,
  LSPErrorCodes,
  type Position,
  ResponseError,
  type WorkDoneProgressReporter,
} from 'vscode-languageserver';
import type { InPieces } from '../../grammar/give-way.ts';
import type { PackedRows } from '../../grammar/languages.ts';
import { IN_ENGLISH, type Rows, told } from '../../grammar/told.ts';
import { type Analysis, withRecordedViews } from '../model/analysis.ts';
import type { ReadFile } from '../model/placed.ts';
import type { Documents } from '../workspace/documents.ts';
import { offsetAt } from '../workspace/lines.ts';
import type { StartOptions } from './messages.ts';
import { inPieces, nextTurn, within } from './turns.ts';

/** What the editor said that it can do, when it started the server. */
export interface Abilities {
  /** It asks for findings; they are then never pushed as well. */
  readonly pulls: boolean;
  readonly refreshesFindings: boolean;
  readonly refreshesHints: boolean;
  readonly refreshesLenses: boolean;
  readonly registersWatchers: boolean;
  readonly registersSettings: boolean;
  readonly hasSettings: boolean;
  readonly hasSnippets: boolean;
  /** A completion may say what it takes the place of when it is put in, and when it replaces the word. */
  readonly insertsOrReplaces: boolean;
  /** What all completions of a list have alike may be said once. */
  readonly hasListDefaults: boolean;
  readonly versionedEdits: boolean;
  /** An edit may make a file. */
  readonly createsFiles: boolean;
  readonly showsProgress: boolean;
  /** The code of a finding may be a link. */
  readonly linksCodes: boolean;
  /** It is Fettle's own client, which reads files for the server and has its commands. */
  readonly isOurs: boolean;
}

export function abilitiesOf(capabilities: ClientCapabilities, options: StartOptions): Abilities {
  const { textDocument, workspace } = capabilities;
  return {
    pulls: textDocument?.diagnostic !== undefined,
    refreshesFindings: workspace?.diagnostics?.refreshSupport === true,
    refreshesHints: workspace?.inlayHint?.refreshSupport === true,
    refreshesLenses: workspace?.codeLens?.refreshSupport === true,
    registersWatchers: workspace?.didChangeWatchedFiles?.dynamicRegistration === true,
    registersSettings: workspace?.didChangeConfiguration?.dynamicRegistration === true,
    hasSettings: workspace?.configuration === true,
    hasSnippets: textDocument?.completion?.completionItem?.snippetSupport === true,
    insertsOrReplaces: textDocument?.completion?.completionItem?.insertReplaceSupport === true,
    hasListDefaults: ['editRange', 'data'].every((each) =>
      textDocument?.completion?.completionList?.itemDefaults?.includes(each),
    ),
    versionedEdits: workspace?.workspaceEdit?.documentChanges === true,
    createsFiles:
      workspace?.workspaceEdit?.documentChanges === true &&
      workspace.workspaceEdit.resourceOperations?.includes('create') === true,
    showsProgress: capabilities.window?.workDoneProgress === true,
    linksCodes: textDocument?.publishDiagnostics?.codeDescriptionSupport === true,
    isOurs: options.clientReadsFiles === true,
  };
}

/** Milliseconds of work after which messages that wait are heard. */
const NOTICED = 2;

/** Characters that are read at once where somebody asks: those of a long spec with all that it uses. */
const READ_AT_ONCE = 150_000;

/** Milliseconds for which more than that is read on before an answer that can't wait is given from what stands round its place. */
const READ_ON = 30;

/** A question that the whole folder answers. */
export interface AskEvery {
  readonly what: string;
  readonly token: CancellationToken;
  /** Where the editor shows that it is being worked on. */
  readonly progress?: WorkDoneProgressReporter;
  /** A text that does not have this word in it, hyphens and all, has nothing to do with the question. */
  readonly word?: string;
}

/** Milliseconds after which somebody who waits is told so. */
const TOLD_AFTER = 400;

export interface Service {
  readonly connection: Connection;
  readonly documents: Documents;
  readonly abilities: () => Abilities;
  /** The words of the language that the editor speaks. */
  readonly rows: () => Rows;
  /** The same as they are packed, to go with a page that speaks by itself; undefined for English. */
  readonly words: () => PackedRows | undefined;
  /** Runs a piece of work; a fault in it is written down, with how to report it, and the other result is given. */
  guarded<result>(what: string, work: () => result, otherwise: result): result;
  /** Answers from the analysis of a file: at once, or, where much has to be read first, when that is done, piece by piece. */
  at<result>(uri: string, otherwise: result, work: (analysis: Analysis) => result): result | Promise<result>;
  /** The same with the recorded views for its own. */
  atRecorded<result>(uri: string, otherwise: result, work: (analysis: Analysis) => result): result | Promise<result>;
  /** Answers from what is read of a file, before anything is made of that, and where Fettle fails at it. */
  atRead<result>(uri: string, otherwise: result, work: (file: ReadFile) => result): result | Promise<result>;
  /** The same at once, for who knows that it was read. */
  atOnce<result>(uri: string, otherwise: result, work: (analysis: Analysis) => result): result;
  /**
   * Answers what can't wait, about a place in a file: from its analysis with the recorded views, or, while much of it has to be read first, from
   * what stands round the place; `isPart` tells that it is so.
   */
  atPlace<result>(
    asked: { readonly textDocument: { readonly uri: string }; readonly position: Position },
    otherwise: result,
    work: (analysis: Analysis, offset: number, isPart: boolean) => result,
  ): result;
  /** The analysis of a file as it is when it is made, piece by piece; with its views. */
  looking(uri: string): InPieces<Analysis | undefined>;
  offset(uri: string, position: { readonly line: number; readonly character: number }): number;
  /** What the editor may have done, by name. */
  readonly commands: Map<string, (given: readonly unknown[]) => Promise<void>>;
  /** The analyses of every open and known file and of what they use, in a steady order. */
  everyAnalysis(): readonly Analysis[];
  /**
   * Answers from all of them. What is not analysed yet is, a file a turn, so that keys, and that the question is taken back, are heard
   * in between; the answer itself is made in one turn.
   */
  fromEvery<result>(ask: AskEvery, otherwise: result, work: (all: readonly Analysis[]) => result): Promise<result>;
  /**
   * Resolves when nobody waits for an answer that the whole folder gives, undefined where nobody does: what is done for nobody in particular
   * waits so long.
   */
  unasked(): Promise<void> | undefined;
  /** What asks for the whole folder waits until these are done: its texts are still being read. */
  waitFor(reading: Promise<void>): void;
  /** Resolves when the texts of the folder are known. */
  folderRead(): Promise<void>;
}

/** Tells the log of a fault inside Fettle. */
export function reportFault(connection: Connection, what: string, error: unknown): void {
  const told = error instanceof Error ? (error.stack ?? error.message) : String(error);
  connection.console.error(
    `A fault inside Fettle while it worked on ${what}: ${told}\nYour spec is safe, and Fettle goes on. Please report this with the text that shows it.`,
  );
}

/** Lets what the editor is asked or told fail: that is the editor's affair, and no reason to stop. */
export function letFail(asked: Promise<unknown>): void {
  asked.catch(() => undefined);
}

/** Whether a text has a word in it, small or capital. */
function mentions(text: string | undefined, word: string): boolean {
  return text !== undefined && (text.includes(word) || text.toLowerCase().includes(word.toLowerCase()));
}

export function createService(
  connection: Connection,
  documents: Documents,
  abilities: () => Abilities,
  rows: () => Rows = () => IN_ENGLISH,
  words: () => PackedRows | undefined = () => undefined,
): Service {
  let reading: Promise<void> = Promise.resolve();
  const lookedAt = new Map<string, Promise<void>>();
  let asking = 0;
  const whenUnasked: (() => void)[] = [];
  const guarded = <result>(what: string, work: () => result, otherwise: result): result => {
    try {
      return work();
    } catch (error) {
      reportFault(connection, what, error);
      return otherwise;
    }
  };
  return {
    connection,
    documents,
    abilities,
    commands: new Map(),
    rows,
    words,
    guarded,
    at(uri, otherwise, work) {
      if (guarded(uri, () => isAtHand(uri), true)) return atOnce(uri, otherwise, work);
      return whenLookedAt(uri).then(() => atOnce(uri, otherwise, work));
    },
    atRecorded(uri, otherwise, work) {
      const recorded = (analysis: Analysis): typeof otherwise => work(withRecordedViews(analysis));
      if (guarded(uri, () => isAtHand(uri, refreshed), true)) return atOnce(uri, otherwise, recorded);
      return whenLookedAt(uri).then(() => atOnce(uri, otherwise, recorded));
    },
    atRead(uri, otherwise, work) {
      const answer = (): typeof otherwise =>
        guarded(
          uri,
          () => {
            const file = documents.analysis(uri)?.file;
            return file === undefined ? otherwise : work(file);
          },
          otherwise,
        );
      if (guarded(uri, () => isAtHand(uri, documents.analysing), true)) return answer();
      const reading = inPieces(documents.analysing(uri), () => false);
      return reading.catch((error) => reportFault(connection, uri, error)).then(answer);
    },
    atOnce,
    atPlace: ({ textDocument: { uri }, position }, otherwise, work) =>
      guarded(
        uri,
        () => {
          const place = offsetAt(documents.lines(uri), position);
          const there = isAtHand(uri, refreshed) ? { done: documents.analysis(uri) } : within(READ_ON, refreshed(uri));
          const analysis = there === undefined ? documents.near(uri, place) : there.done;
          return from(analysis, otherwise, (known) => work(withRecordedViews(known), place, there === undefined));
        },
        otherwise,
      ),
    looking,
    offset: (uri, position) => offsetAt(documents.lines(uri), position),
    async fromEvery({ what, token, progress, word }, otherwise, work) {
      let isShown = false;
      const show = (done: number, of: number): void => {
        if (!isShown) progress?.begin('Fettle', 0, told`Reading the specs of the folder`.in(rows()), true);
        isShown = true;
        if (of > 0) progress?.report(Math.round((100 * done) / of));
      };
      asking += 1;
      try {
        const timer = setTimeout(() => show(0, 0), TOLD_AFTER);
        await Promise.race([reading, takenBack(token)]);
        clearTimeout(timer);
        const addresses = [...documents.all().map((open) => open.address), ...documents.known()].filter(
          (address) => word === undefined || mentions(documents.read(address), word),
        );
        const asked = performance.now();
        for (const [i, address] of addresses.entries()) {
          const began = performance.now();
          try {
            await inPieces(documents.analysing(address), () => token.isCancellationRequested);
          } catch (error) {
            reportFault(connection, address, error);
          }
          if (performance.now() - began > NOTICED) await nextTurn();
          if (token.isCancellationRequested) throw new ResponseError(LSPErrorCodes.RequestCancelled, 'taken back');
          if (performance.now() - asked > TOLD_AFTER) show(i, addresses.length);
        }
        return guarded(what, () => work(analysesOf(addresses)), otherwise);
      } finally {
        if (isShown) progress?.done();
        asking -= 1;
        if (asking === 0) for (const tell of whenUnasked.splice(0)) tell();
      }
    },
    unasked: () => (asking === 0 ? undefined : new Promise((done) => whenUnasked.push(done))),
    waitFor(more) {
      reading = Promise.all([reading, more]).then(() => undefined);
    },
    folderRead: () => reading,
    everyAnalysis: () => analysesOf([...documents.all().map((open) => open.address), ...documents.known()]),
  };
  function atOnce<result>(uri: string, otherwise: result, work: (analysis: Analysis) => result): result {
    return guarded(uri, () => from(documents.analysis(uri), otherwise, work), otherwise);
  }
  /** What is answered from an analysis, where there is one. */
  function from<result>(
    analysis: Analysis | undefined,
    otherwise: result,
    work: (analysis: Analysis) => result,
  ): result {
    return analysis === undefined || analysis.failed ? otherwise : work(analysis);
  }
  function* looking(uri: string): InPieces<Analysis | undefined> {
    const analysis = yield* documents.analysing(uri);
    yield* analysis?.look() ?? [];
    return analysis;
  }
  /** The same with the recorded views. */
  function* refreshed(uri: string): InPieces<Analysis | undefined> {
    const analysis = yield* documents.analysing(uri);
    yield* analysis?.refresh() ?? [];
    return analysis;
  }
  /** Whether a file is analysed, or is by the next step: only what is long is given way in. */
  function isAtHand(uri: string, how: (uri: string) => InPieces<unknown> = looking): boolean {
    if (documents.charactersFor(uri) <= READ_AT_ONCE) {
      const work = documents.analysing(uri);
      // What it uses is known as it is read.
      while (work.next().done !== true) if (documents.charactersFor(uri) > READ_AT_ONCE) return false;
      return true;
    }
    return guarded(uri, () => how(uri).next().done === true, false);
  }
  /** Resolves when the file is analysed as it stands then, with its views; the same for all who wait for it. */
  function whenLookedAt(uri: string): Promise<void> {
    const address = documents.addressOf(uri);
    let there = lookedAt.get(address);
    if (there === undefined) {
      const work = async (): Promise<void> => {
        try {
          await inPieces(looking(uri), () => false);
        } catch (error) {
          reportFault(connection, uri, error);
        } finally {
          lookedAt.delete(address);
        }
      };
      there = work();
      lookedAt.set(address, there);
    }
    return there;
  }
  function takenBack(token: CancellationToken): Promise<never> {
    return new Promise((_, refuse) => {
      const refused = (): void => refuse(new ResponseError(LSPErrorCodes.RequestCancelled, 'taken back'));
      if (token.isCancellationRequested) refused();
      else token.onCancellationRequested(refused);
    });
  }
  function analysesOf(addresses: readonly string[]): readonly Analysis[] {
    const found = new Map<string, Analysis>();
    const waiting = [...addresses];
    for (const address of waiting) {
      if (found.has(address)) continue;
      const analysis = guarded(address, () => documents.analysis(address), undefined);
      if (analysis === undefined || analysis.failed) continue;
      found.set(address, analysis);
      waiting.push(...analysis.used.map((used) => used.file));
    }
    return [...found.values()].sort((a, b) => (a.file.file < b.file.file ? -1 : a.file.file > b.file.file ? 1 : 0));
  }
}
