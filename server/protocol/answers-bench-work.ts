// Answers for the hours at the bench and at the desk before it: what another figure would do, a table from a manual, the revision, the
// lines of a record.
import { type Connection, MessageType, ShowMessageNotification } from 'vscode-languageserver';
import { told } from '../../grammar/told.ts';
import { fromTable } from '../features/pasted-table.ts';
import { raiseRevision } from '../features/raise-revision.ts';
import { doneLine, measuredLine } from '../features/record-lines.ts';
import { choices, outcomes, valuesNow } from '../features/what-if.ts';
import type { Analysis } from '../model/analysis.ts';
import { edited } from '../model/edited.ts';
import type { FixEdit } from '../model/finding.ts';
import { messageIn } from '../review/change.ts';
import { reviewSpecs } from '../review/review.ts';
import { analyse } from '../workspace/analyse.ts';
import type { Host } from '../workspace/api.ts';
import { resolveUse } from '../workspace/paths.ts';
import { oldAnalysis } from './answers-review.ts';
import { workspaceEdit } from './convert.ts';
import type { ServerAnswers } from './messages.ts';
import { answering } from './own-answers.ts';
import { letFail, type Service } from './service.ts';

/** Writes a step as done, or a value as measured, into a record. */
export const RECORD_DONE = 'fettle.recordDone';
export const RECORD_MEASURED = 'fettle.recordMeasured';

export function answerBenchWork(connection: Connection, service: Service): void {
  const { documents, at, guarded, abilities, rows } = service;
  const answer = answering(connection, { guarded });
  const host: Host = {
    resolve: (from, path) => resolveUse(from, path, documents.roots()),
    read: (file) => documents.read(file),
  };

  answer('fettle/whatIf', ({ uri, name, text }) =>
    at(uri, null, (analysis) => {
      const all = choices(analysis);
      const told = all.map((each) => ({ name: each.name, title: each.title, text: each.text ?? null }));
      const chosen = all.find((each) => each.name === name);
      const read = documents.read(uri);
      if (chosen === undefined || read === undefined) return { choices: told, outcomes: [] };
      // What stands is put into words first: the second reading may move what the first one kept.
      const [now, known] = [valuesNow(analysis, service.rows()), [...analysis.findings]];
      const tried = analyse(analysis.file.file, edited(read, chosen.edits(text ?? chosen.text ?? '')), host);
      return {
        choices: told,
        outcomes: outcomes(now, known, tried, chosen.text === undefined ? chosen.name : undefined, service.rows()),
      };
    }),
  );

  answer('fettle/table', ({ uri, text }) =>
    at<ServerAnswers['fettle/table']['result']>(
      uri,
      null,
      (analysis) => fromTable(text, new Set(analysis.views.flatMap((view) => [...view.things.keys()]))) ?? null,
    ),
  );

  answer('fettle/raiseRevision', (params) =>
    at(params.uri, null, (now) => {
      const old = oldAnalysis(params, service, new Set());
      const critical = reviewSpecs(old, now).filter((each) => each.weight === 'critical');
      const raise = raiseRevision(
        now,
        old,
        critical.map((each) => each.message),
      );
      return raise === undefined
        ? null
        : {
            from: raise.from,
            to: raise.to,
            critical: critical.map((each) => messageIn(each, (said) => said.in(rows()))),
            edit: workspaceEdit(documents, raise.edits, abilities().versionedEdits),
          };
    }),
  );

  const write = async (uri: string, line: (analysis: Analysis) => FixEdit | undefined): Promise<void> => {
    const edit = await at<FixEdit | undefined>(uri, undefined, line);
    const applied =
      edit === undefined
        ? undefined
        : await connection.workspace.applyEdit(workspaceEdit(documents, [edit], abilities().versionedEdits));
    if (applied?.applied === true) return;
    letFail(
      connection.sendNotification(ShowMessageNotification.type, {
        type: MessageType.Warning,
        message: told`Nothing was written into the record: give a figure with its unit, as in 0.11 mm.`.in(
          service.rows(),
        ),
      }),
    );
  };
  onCommand(RECORD_DONE, async ([uri, record, step]) => {
    if (typeof uri === 'string' && typeof record === 'string' && typeof step === 'string')
      await write(uri, (analysis) => doneLine(analysis, record, step));
  });
  onCommand(RECORD_MEASURED, async ([uri, record, limit, value]) => {
    if (typeof uri === 'string' && typeof record === 'string' && typeof limit === 'string' && typeof value === 'string')
      await write(uri, (analysis) => measuredLine(analysis, record, limit, value));
  });

  function onCommand(name: string, work: (given: readonly unknown[]) => Promise<void>): void {
    service.commands.set(name, work);
  }
}
