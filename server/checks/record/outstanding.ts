// What is left to do when a record is read: at the record while it is open, at the signature once it is signed.
import { type Argument, type Told, told } from '../../../grammar/told.ts';
import { placeText } from '../../model/limit-sums.ts';
import { type DeclarationCheck, nameSpan } from '../check.ts';
import { concerns } from '../name/unknown.ts';
import { inWords } from '../support.ts';
import { type LeftToDo, leftToDo, signedIn, variantUnsaid } from './left-to-do.ts';
import { recordStatements } from './measurements.ts';
import page from './outstanding.md';
import { unanswered } from './unanswered.ts';

function named(thing: { readonly name: string; readonly kind: string; readonly title: string | undefined }): Argument {
  return thing.title === undefined ? told.thing(thing) : told`${told.thing(thing)} (${thing.title})`;
}

/** `3 steps are not done, first fit-heads; 1 limit is not measured, valve-lash at 3 and 4`. */
function leftInWords({ steps, limits }: Pick<LeftToDo, 'steps' | 'limits'>): readonly Told[] {
  const [step, limit] = [steps[0], limits[0]];
  const parts: Told[] = [];
  if (step !== undefined)
    parts.push(
      steps.length === 1
        ? told`1 step is not done, ${named(step.step)}`
        : told`${steps.length} steps are not done, first ${named(step.step)}`,
    );
  if (limit !== undefined) {
    const places = inWords(limit.places.slice(0, 12).map((place) => told.place(placeText(place))));
    const name = limit.places.length === 0 ? named(limit.limit) : told`${named(limit.limit)} at ${places}`;
    parts.push(
      limits.length === 1
        ? told`1 limit is not measured, ${name}`
        : told`${limits.length} limits are not measured, first ${name}`,
    );
  }
  return parts;
}

/** More is told by `fettle record`. */
const MOST_SAID = 4;

export const recordOutstanding: DeclarationCheck = {
  code: 'record/outstanding',
  severity: 'warning',
  scope: 'declaration',
  words: ['record'],
  page,
  run(placed, view, report) {
    const { declaration } = placed;
    if (!concerns(placed, view) || view.incomplete) return;
    const statements = recordStatements(placed, view);
    if (declaration.broken || statements.some((each) => each.kind === 'broken')) return;
    const signed = signedIn(statements);
    const at = signed ?? nameSpan(placed);
    const variants = variantUnsaid(placed, view);
    if (variants.length > 0) {
      report(
        placed,
        at,
        told`The record does not say which variant this engine is. Write variant ${inWords(variants, 'or')}.`,
        { missing: true },
      );
      return;
    }
    const left = leftToDo(placed, view);
    const open = unanswered(placed, view);
    if (left.steps.length === 0 && left.limits.length === 0 && open.length === 0) return;
    const first = left.steps[0]?.step ?? left.limits[0]?.limit;
    const said = told.list([...leftInWords(left), ...open.slice(0, MOST_SAID).map((each) => each.text)], ';');
    report(
      placed,
      at,
      signed === undefined
        ? told`Still to do: ${said}.`
        : told`Signed with work outstanding: ${said}. Write it in, or say in a deviation line of the step why it was left.`,
      {
        missing: true,
        related:
          first === undefined
            ? []
            : [
                {
                  placed: first.placed,
                  span: nameSpan(first.placed),
                  message: told`${told.thing(first)} is described here.`,
                },
              ],
      },
    );
  },
};
