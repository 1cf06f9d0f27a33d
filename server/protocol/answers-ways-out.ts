// Answers that offer ways out of findings, and other ways to write what is marked.
import {
  type CancellationToken,
  type CodeAction,
  type CodeActionContext,
  CodeActionKind,
  type CodeActionParams,
  type Connection,
} from 'vscode-languageserver';
import { told } from '../../grammar/told.ts';
import { type Action, actions, mendAll } from '../features/actions.ts';
import { reworks } from '../features/rework.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Finding } from '../model/finding.ts';
import { resolveUse } from '../workspace/paths.ts';
import { diagnosticOf, workspaceEdit } from './convert.ts';
import { namesElsewhere, specsOf } from './elsewhere.ts';
import { reportFault, type Service } from './service.ts';
import { intoSharedFile } from './shared-file.ts';
import { actionsOf, tryWays } from './tried-actions.ts';
import { inPieces, nextTurn } from './turns.ts';

const FIX_ALL = `${CodeActionKind.SourceFixAll}.fettle`;

/** Findings in the marked stretch for which ways out are tried. */
const MOST_TRIED_FOR = 2;

/** What is asked for, in the text as it is analysed. */
interface Marked {
  readonly uri: string;
  readonly analysis: Analysis;
  readonly start: number;
  readonly end: number;
  readonly context: CodeActionContext;
}

/** Whether a kind of way is asked for: by itself, by what it is one of, or all kinds. */
const isWanted = ({ only }: CodeActionContext, kind: string): boolean =>
  only === undefined || only.some((each) => kind === each || kind.startsWith(`${each}.`));

const kindOf = (action: Action): string =>
  action.finding === undefined ? CodeActionKind.RefactorRewrite : CodeActionKind.QuickFix;

const findingsAt = ({ analysis, start, end }: Marked): readonly Finding[] =>
  analysis.findings.filter((finding) => finding.end >= start && finding.start <= end);

function codeAction({ documents, rows, abilities }: Service, action: Action): CodeAction {
  return {
    title: action.told.in(rows()),
    kind: kindOf(action),
    isPreferred: action.preferred,
    ...(action.finding === undefined ? {} : { diagnostics: [diagnosticOf(documents, action.finding, rows())] }),
    edit: workspaceEdit(documents, action.edits, abilities().versionedEdits),
  };
}

/** The ways out of a finding that mend it; undefined where the text changed or the question was taken back meanwhile. */
async function mending(
  service: Service,
  { uri, analysis }: Marked,
  finding: Finding,
  token: CancellationToken,
): Promise<readonly Action[] | undefined> {
  const { documents } = service;
  const text = documents.read(uri);
  if (text === undefined) return undefined;
  const host = {
    resolve: (from: string, path: string) => resolveUse(from, path, documents.roots()),
    read: (file: string) => documents.read(file),
  };
  const work = tryWays(analysis, finding, {
    text,
    host,
    files: () => specsOf(service),
    elsewhere: (name) => namesElsewhere(service, analysis, name),
  });
  for (;;) {
    const { done, value } = work.next();
    if (done === true) return actionsOf(finding, value);
    await nextTurn();
    if (token.isCancellationRequested || documents.made(uri) !== analysis) return undefined;
  }
}

/** What needs no trying, or was not tried. */
function untried({ analysis, start, end, context }: Marked, tried: readonly Finding[]): readonly Action[] {
  return actions(analysis, start, end).filter(
    (action) =>
      isWanted(context, kindOf(action)) &&
      (action.finding === undefined || action.forAll === true || !tried.includes(action.finding)),
  );
}

/** Other ways to write what is marked. */
function rewritten(service: Service, { analysis, start, end, context }: Marked): CodeAction[] {
  const { documents, rows, abilities } = service;
  const found = reworks(analysis, start, end).flatMap(({ told: said, kind, edits }): CodeAction[] => {
    const own = kind === 'extract' ? CodeActionKind.RefactorExtract : CodeActionKind.RefactorRewrite;
    if (!isWanted(context, own)) return [];
    return [{ title: said.in(rows()), kind: own, edit: workspaceEdit(documents, edits, abilities().versionedEdits) }];
  });
  if (isWanted(context, CodeActionKind.RefactorExtract)) found.push(...intoSharedFile(service, analysis, start));
  return found;
}

/** All that has one way out, asked for by name alone, as editors do when a file is saved. */
function mendingAll({ documents, rows, abilities }: Service, { analysis, context }: Marked): CodeAction[] {
  const isAsked = context.only?.some(
    (only) => FIX_ALL.startsWith(only) && only.startsWith(CodeActionKind.SourceFixAll),
  );
  if (isAsked !== true) return [];
  const { edits, count } = mendAll(analysis);
  if (count === 0) return [];
  const title = told`Mend all that has one way out`.in(rows());
  return [{ title, kind: FIX_ALL, edit: workspaceEdit(documents, edits, abilities().versionedEdits) }];
}

/** The help page of each finding. It opens in Fettle's own client alone. */
function explaining({ documents, rows, abilities }: Service, marked: Marked): CodeAction[] {
  if (!abilities().isOurs || !isWanted(marked.context, CodeActionKind.QuickFix)) return [];
  const here = findingsAt(marked);
  const codes = [...new Set(here.map((finding) => finding.code))];
  return codes.map((code) => ({
    title: told`Explain ${code}`.in(rows()),
    kind: CodeActionKind.QuickFix,
    diagnostics: here.filter((each) => each.code === code).map((each) => diagnosticOf(documents, each, rows())),
    command: { title: told`Explain ${code}`.in(rows()), command: 'fettle.explain', arguments: [code] },
  }));
}

function answered(service: Service, marked: Marked, offered: readonly Action[]): CodeAction[] {
  return [
    ...offered.map((action) => codeAction(service, action)),
    ...rewritten(service, marked),
    ...mendingAll(service, marked),
    ...explaining(service, marked),
  ];
}

async function waysOut(
  connection: Connection,
  service: Service,
  { textDocument: { uri }, range, context }: CodeActionParams,
  token: CancellationToken,
): Promise<CodeAction[]> {
  const { documents, at, offset } = service;
  const analysis = await at<Analysis | undefined>(uri, undefined, (each) => each);
  if (analysis === undefined) return [];
  // An editor asks with each step of the cursor: others are heard meanwhile, and a newer text has it left off.
  const isOld = (): boolean => token.isCancellationRequested || documents.made(uri) !== analysis;
  if (!(await inPieces(analysis.check(), isOld))) return [];
  const marked: Marked = { uri, analysis, start: offset(uri, range.start), end: offset(uri, range.end), context };
  const here = findingsAt(marked);
  const found: Action[] = [];
  // A whole file that is marked asks for everything at once: then only what is at hand is told.
  const tried = isWanted(context, CodeActionKind.QuickFix) && here.length <= MOST_TRIED_FOR ? here : [];
  for (const finding of tried) {
    try {
      const ways = await mending(service, marked, finding, token);
      if (ways === undefined) return [];
      found.push(...ways);
    } catch (error) {
      reportFault(connection, uri, error);
    }
  }
  return at<CodeAction[]>(uri, [], () => answered(service, marked, [...found, ...untried(marked, tried)]));
}

export function answerWaysOut(connection: Connection, service: Service): void {
  connection.onCodeAction((asked, token) => waysOut(connection, service, asked, token));
}
