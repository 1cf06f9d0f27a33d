// Answers about the work on a thing and what covers what: implementation, and what editors call a type hierarchy.
import { type Connection, SymbolKind, type TypeHierarchyItem } from 'vscode-languageserver';
import { type CoverItem, coveredBy, coversOver, partAt, workOn } from '../features/who-does-it.ts';
import { locationOf } from './convert.ts';
import type { Service } from './service.ts';

/** What goes with a part: the file that was asked about, since a part may stand in a file that it uses. */
interface Asked {
  readonly from: string;
}

export function answerCovers(connection: Connection, { documents, at, offset }: Service): void {
  connection.onImplementation(({ textDocument: { uri }, position }) =>
    at(uri, null, (analysis) => workOn(analysis, offset(uri, position)).map((place) => locationOf(documents, place))),
  );

  const itemOf = (part: CoverItem, from: string): TypeHierarchyItem => {
    const { uri, range } = locationOf(documents, part.whole);
    const asked: Asked = { from };
    return {
      name: part.name,
      kind: SymbolKind.Class,
      ...(part.title === '' ? {} : { detail: part.title }),
      uri,
      range,
      selectionRange: locationOf(documents, part.nameAt).range,
      data: asked,
    };
  };
  const fileOf = (item: TypeHierarchyItem): string => (item.data as Asked | undefined)?.from ?? item.uri;
  connection.languages.typeHierarchy.onPrepare(({ textDocument: { uri }, position }) =>
    at(uri, null, (analysis) => {
      const part = partAt(analysis, offset(uri, position));
      return part === undefined ? null : [itemOf(part, uri)];
    }),
  );
  // Above a part stands what lies over it, as on the engine.
  connection.languages.typeHierarchy.onSupertypes(({ item }) =>
    at(fileOf(item), [], (analysis) => coversOver(analysis, item.name).map((each) => itemOf(each, fileOf(item)))),
  );
  connection.languages.typeHierarchy.onSubtypes(({ item }) =>
    at(fileOf(item), [], (analysis) => coveredBy(analysis, item.name).map((each) => itemOf(each, fileOf(item)))),
  );
}
