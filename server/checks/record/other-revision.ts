// A record that was worked to another revision than its spec has now.
import { told } from '../../../grammar/told.ts';
import type { Placed } from '../../model/placed.ts';
import { statementsFor } from '../../model/placed.ts';
import { question } from '../../model/view-questions.ts';
import type { DeclarationCheck } from '../check.ts';
import { concerns } from '../name/unknown.ts';
import { change } from '../support.ts';
import { signedIn } from './left-to-do.ts';
import { recordStatements } from './measurements.ts';
import page from './other-revision.md';

/** The revision that a spec says it is, with its place. */
export function revisionOf(spec: Placed, variant: string | undefined) {
  const statement = statementsFor(spec.declaration.body?.statements, variant).find((each) => each.word === 'revision');
  if (statement?.kind !== 'number' || !/^\d{1,9}$/.test(statement.number.text)) return undefined;
  return { number: Number(statement.number.text), span: statement };
}

/** Its number alone: where a line in front of it grows, it says what it said. */
const revisionNumber = question((view, spec: Placed): number | undefined => revisionOf(spec, view.variant)?.number);

export const recordOtherRevision: DeclarationCheck = {
  code: 'record/other-revision',
  severity: 'warning',
  scope: 'declaration',
  words: ['record'],
  page,
  run(placed, view, report) {
    const { declaration } = placed;
    const { revision } = declaration;
    if (revision === undefined || !concerns(placed, view)) return;
    const name = declaration.of?.owner.text;
    const spec = view.specs.find((each) => each.declaration.name?.text === name);
    if (spec === undefined || (revisionNumber(view, spec) ?? revision.value) === revision.value) return;
    const now = revisionOf(spec, view.variant);
    if (now === undefined) return;
    const signed = signedIn(recordStatements(placed, view)) !== undefined;
    const called = told.named(name ?? '', 'spec');
    const related = [{ placed: spec, span: now.span, message: told`The revision of ${called}.` }];
    if (signed)
      report(
        placed,
        revision,
        told`This engine was built to revision ${revision.value} of ${called}; the spec is at revision ${now.number} now, and the record is held against that.`,
        { severity: 'information', related },
      );
    else
      report(
        placed,
        revision,
        told`This job was begun to revision ${revision.value} of ${called}, and the spec is at revision ${now.number}. See what changed before the work goes on, then write revision ${now.number}.`,
        { related, fixes: [change(placed, revision, String(now.number))] },
      );
  },
};
