// A step that a record has as done twice, without a word that it was: written down twice, or done again.
import { told } from '../../../grammar/told.ts';
import type { Done } from '../../../grammar/tree.ts';
import type { DeclarationCheck } from '../check.ts';
import page from './done-twice.md';
import { doneIn } from './left-to-do.ts';
import { recordStatements } from './measurements.ts';

/** The step and its places, as one word. */
const what = ({ step }: Done): string =>
  [step.owner.text, ...step.places.map((each) => `${each.name?.text ?? ''} ${each.from ?? ''} ${each.to ?? ''}`)].join(
    '|',
  );

export const recordDoneTwice: DeclarationCheck = {
  code: 'record/done-twice',
  severity: 'information',
  scope: 'declaration',
  words: ['record'],
  page,
  run(placed, view, report) {
    const first = new Map<string, Done>();
    for (const done of doneIn(recordStatements(placed, view), 'done')) {
      const before = first.get(what(done));
      if (before === undefined) first.set(what(done), done);
      else if (done.again !== true)
        report(
          placed,
          done.step.owner,
          told`${told.named(done.step.owner.text, 'step')} is here twice. If it was done twice, say so and why: done ${told.named(done.step.owner.text, 'step')} again "…".`,
          {
            related: [{ placed, span: before.step.owner, message: told`done here first` }],
            fixes: [
              {
                title: told`Say that it was done again`,
                edits: [{ placed, span: { start: endOf(done), end: endOf(done) }, text: ' again "why"' }],
              },
            ],
          },
        );
    }
  },
};

/** Where the step and its places end. */
function endOf({ step }: Done): number {
  return step.places.at(-1)?.end ?? step.owner.end;
}
