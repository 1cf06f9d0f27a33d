// Answers about what a step needs and what needs it, as what editors call a call hierarchy.
import { type CallHierarchyItem, type Connection, SymbolKind } from 'vscode-languageserver';
import type { Told } from '../../grammar/told.ts';
import { type Need, neededBy, needing, type StepItem, stepsAt } from '../features/step-needs.ts';
import type { FilePlace } from '../model/finding.ts';
import { locationOf } from './convert.ts';
import type { Service } from './service.ts';

/** What goes with a step: the file that was asked about, since a step may stand in a file that it uses. */
interface Asked {
  readonly from: string;
}

export function answerSteps(connection: Connection, { documents, at, offset, rows }: Service): void {
  const itemOf = (step: StepItem, from: string, why: readonly Told[] = []): CallHierarchyItem => {
    const whole = locationOf(documents, step.whole);
    const asked: Asked = { from };
    return {
      name: step.name,
      detail: [step.title, why.map((each) => each.in(rows())).join('; '), step.sequence]
        .filter((each) => each !== '')
        .join(' · '),
      kind: SymbolKind.Function,
      uri: whole.uri,
      range: whole.range,
      selectionRange: locationOf(documents, step.nameAt).range,
      data: asked,
    };
  };
  const ranges = ({ places }: Need): CallHierarchyItem['range'][] =>
    places.map((place) => locationOf(documents, place).range);
  const placeOf = (item: CallHierarchyItem): FilePlace => ({
    file: documents.addressOf(item.uri),
    start: offset(item.uri, item.range.start),
    end: offset(item.uri, item.range.end),
  });
  const fileOf = (item: CallHierarchyItem): string => (item.data as Asked | undefined)?.from ?? item.uri;

  connection.languages.callHierarchy.onPrepare(({ textDocument: { uri }, position }) =>
    at(uri, null, (analysis) => {
      const found = stepsAt(analysis, offset(uri, position)).map((step) => itemOf(step, uri));
      return found.length === 0 ? null : found;
    }),
  );
  connection.languages.callHierarchy.onOutgoingCalls(({ item }) =>
    at(fileOf(item), [], (analysis) =>
      neededBy(analysis, placeOf(item)).map((need) => ({
        to: itemOf(need.step, fileOf(item), need.why),
        fromRanges: ranges(need),
      })),
    ),
  );
  connection.languages.callHierarchy.onIncomingCalls(({ item }) =>
    at(fileOf(item), [], (analysis) =>
      needing(analysis, placeOf(item)).map((need) => ({
        from: itemOf(need.step, fileOf(item), need.why),
        fromRanges: ranges(need),
      })),
    ),
  );
}
