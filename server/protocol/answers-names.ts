// Answers about names: where they are declared and used, and renaming them.
import {
  type Connection,
  type DocumentHighlight,
  DocumentHighlightKind,
  ErrorCodes,
  type Location,
  type Position,
  ResponseError,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import { type Told, told } from '../../grammar/told.ts';
import { movedUses } from '../features/moved-files.ts';
import { nameAt } from '../features/place-in-tree.ts';
import { definitions, placesOf, renameObjection, renameSpoils, sharing } from '../features/rename.ts';
import type { Analysis } from '../model/analysis.ts';
import type { FixEdit } from '../model/finding.ts';
import { placeOf } from '../model/placed.ts';
import { once } from '../model/questions.ts';
import { analyse } from '../workspace/analyse.ts';
import { libraryText } from '../workspace/library.ts';
import { resolveUse } from '../workspace/paths.ts';
import { locationOf, rangeOf, workspaceEdit } from './convert.ts';
import type { Service } from './service.ts';

export function answerNames(connection: Connection, service: Service): void {
  const { documents, at, atRecorded, atOnce, offset, guarded, fromEvery, everyAnalysis, abilities } = service;

  connection.onDefinition(({ textDocument, position }) =>
    at<Location[] | null>(textDocument.uri, null, (analysis) => {
      const here = offset(textDocument.uri, position);
      for (const placed of analysis.file.declarations) {
        const { path } = placed.declaration;
        if (path === undefined) continue;
        const place = placeOf(placed, path);
        if (here < place.start || here > place.end) continue;
        const target = resolveUse(analysis.file.file, path.value, documents.roots());
        if (target !== undefined && documents.read(target) !== undefined)
          return [locationOf(documents, { file: target, start: 0, end: 0 })];
      }
      return definitions(analysis, here).map((place) => locationOf(documents, place));
    }),
  );

  /** The name at a place, to be looked for in the texts of the folder. */
  const wordAt = async (uri: string, position: Position): Promise<{ readonly word?: string }> =>
    at<{ readonly word?: string }>(uri, {}, (analysis) => {
      const name = nameAt(analysis, offset(uri, position));
      return name === undefined ? {} : { word: name.text };
    });

  connection.onReferences(async ({ textDocument, position, context }, token, progress) =>
    fromEvery<Location[]>(
      { what: textDocument.uri, token, progress, ...(await wordAt(textDocument.uri, position)) },
      [],
      (all) =>
        atOnce<Location[]>(textDocument.uri, [], (analysis) => {
          const name = nameAt(analysis, offset(textDocument.uri, position));
          if (name === undefined) return [];
          return sharing(analysis, name, all)
            .flatMap((each) => placesOf(each, name))
            .filter((place) => context.includeDeclaration || !place.declares)
            .map((place) => locationOf(documents, place));
        }),
    ),
  );

  connection.onDocumentHighlight(({ textDocument, position }) =>
    atRecorded<DocumentHighlight[]>(textDocument.uri, [], (analysis) => {
      const name = nameAt(analysis, offset(textDocument.uri, position));
      return name === undefined
        ? []
        : placesOf(analysis, name).map((place) => ({
            range: rangeOf(documents.lines(textDocument.uri), place.start, place.end),
            kind: place.declares ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
          }));
    }),
  );

  connection.onPrepareRename(({ textDocument, position }) =>
    at(textDocument.uri, null, (analysis) => {
      const name = nameAt(analysis, offset(textDocument.uri, position));
      return name === undefined
        ? null
        : {
            range: rangeOf(documents.lines(textDocument.uri), name.place.start, name.place.end),
            placeholder: name.text,
          };
    }),
  );

  /** So many specs are checked with the new name in them: a word that is read in another way is read so in all of them. */
  const CHECKED = 20;

  /** Reads the specs with the new name in them: what they say may not change by it. */
  const spoils = (same: readonly Analysis[], edits: readonly FixEdit[], newName: string): Told | undefined => {
    const texts = new Map<string, string>();
    for (const edit of [...edits].sort((a, b) => b.start - a.start)) {
      const text = texts.get(edit.file) ?? documents.read(edit.file);
      if (text !== undefined) texts.set(edit.file, text.slice(0, edit.start) + edit.text + text.slice(edit.end));
    }
    const host = {
      resolve: (from: string, path: string) => resolveUse(from, path, documents.roots()),
      read: (file: string) => texts.get(file) ?? documents.read(file),
    };
    for (const before of same.slice(0, CHECKED)) {
      const text = host.read(before.file.file);
      if (text === undefined) continue;
      const after = once(() => analyse(before.file.file, text, host));
      const told = renameSpoils(before, after, newName);
      if (told !== undefined) return told;
    }
    return undefined;
  };

  connection.onRenameRequest(async ({ textDocument, position, newName }, token, progress) => {
    type Answer = WorkspaceEdit | { readonly objection: Told } | null;
    const ask = { what: textDocument.uri, token, progress };
    const answer = await fromEvery<Answer>(ask, null, (all) =>
      atOnce<Answer>(textDocument.uri, null, (analysis) => {
        const name = nameAt(analysis, offset(textDocument.uri, position));
        if (name === undefined) return null;
        const others = sharing(analysis, name, all);
        // The one that is looked at is checked whatever else is.
        const same = [
          ...others.filter((each) => each.file.file === analysis.file.file),
          ...others.filter((each) => each.file.file !== analysis.file.file),
        ];
        const ships = definitions(analysis, name.place.start).some((place) => libraryText(place.file) !== undefined);
        const objection = ships
          ? told`${name.text} ships with Fettle and keeps its name. Declare one of your own that is like it.`
          : renameObjection(same, name, newName);
        if (objection !== undefined) return { objection };
        const edits = same.flatMap((each) => placesOf(each, name)).map((place) => ({ ...place, text: newName }));
        const spoilt = spoils(same, edits, newName);
        if (spoilt !== undefined) return { objection: spoilt };
        return workspaceEdit(documents, edits, abilities().versionedEdits);
      }),
    );
    if (answer !== null && 'objection' in answer)
      throw new ResponseError(ErrorCodes.InvalidParams, answer.objection.in(service.rows()));
    return answer;
  });

  connection.workspace.onWillRenameFiles(({ files }) =>
    guarded(
      'files that get another name',
      () => {
        const moves = new Map(
          files.map((file) => [documents.addressOf(file.oldUri), documents.addressOf(file.newUri)]),
        );
        const edits = movedUses(everyAnalysis(), moves, (from, path) => resolveUse(from, path, documents.roots()));
        return edits.length === 0 ? null : workspaceEdit(documents, edits, false);
      },
      null,
    ),
  );
}
