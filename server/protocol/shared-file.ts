// The offer to put the kind of a bolt into a file that other specs use too. It makes that file, so it is made only where the editor can.
import { type CodeAction, CodeActionKind, type TextDocumentEdit } from 'vscode-languageserver';
import { sharedBolts } from '../features/shared-bolts.ts';
import type { Analysis } from '../model/analysis.ts';
import { resolveUse } from '../workspace/paths.ts';
import { workspaceEdit } from './convert.ts';
import type { Service } from './service.ts';

/** More files of that name than a folder has. */
const MOST = 20;

/** A file of the folder that is not there yet, by the name that a `use` here gives it; undefined where there is none. */
function freeFile(
  { documents }: Service,
  from: string,
): { readonly path: string; readonly address: string } | undefined {
  for (let more = 1; more <= MOST; more += 1) {
    const path = more === 1 ? 'common-fasteners.fettle' : `common-fasteners-${more}.fettle`;
    const address = resolveUse(from, path, documents.roots());
    if (typeof address === 'string' && documents.read(address) === undefined) return { path, address };
  }
  return undefined;
}

export function intoSharedFile(service: Service, analysis: Analysis, offset: number): readonly CodeAction[] {
  const { documents, abilities } = service;
  const shared = abilities().createsFiles ? sharedBolts(analysis, offset) : undefined;
  const file = shared === undefined ? undefined : freeFile(service, analysis.file.file);
  if (shared === undefined || file === undefined) return [];
  const edits = shared.edits(file.path);
  if (edits.length === 0) return [];
  const own = workspaceEdit(documents, edits, true);
  const uri = documents.spelled(file.address);
  const start = { line: 0, character: 0 };
  const text: TextDocumentEdit = {
    textDocument: { uri, version: null },
    edits: [{ range: { start, end: start }, newText: shared.text }],
  };
  return [
    {
      title: `Into ${file.path}, for other specs to use too: thread and class of ${shared.names}`,
      kind: CodeActionKind.RefactorExtract,
      edit: { documentChanges: [{ kind: 'create', uri }, text, ...(own.documentChanges ?? [])] },
    },
  ];
}
