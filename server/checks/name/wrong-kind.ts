// A thing of one kind where another kind is wanted: a fastener that is fitted, a part that is tightened, a dimension where a mark
// is wanted.
import { told } from '../../../grammar/told.ts';
import { oneOfKind } from '../../model/kind-words.ts';
import type { Placed } from '../../model/placed.ts';
import { usesOf } from '../../model/references.ts';
import type { Use } from '../../model/uses.ts';
import type { Part, View } from '../../model/view.ts';
import type { DeclarationCheck, Report } from '../check.ts';
import { inWords } from '../support.ts';
import { concerns, useHolds } from './unknown.ts';
import page from './wrong-kind.md';

const KINDS = {
  dimension: told`a dimension`,
  figure: told`a figure`,
  mark: told`a mark`,
  bare: told`a feature without a size`,
  value: told`a value`,
  way: told`the way that it points`,
};

/** What stands behind the dot. */
function featureKind(part: Part, feature: string): keyof typeof KINDS {
  if (part.dimensions.has(feature)) return 'dimension';
  if (part.figures.has(feature)) return 'figure';
  if (part.marks.has(feature)) return 'mark';
  if (part.features.has(feature)) return 'bare';
  return part.statements.some((each) => each.word === feature) ? 'value' : 'way';
}

/** A mark where a size is wanted, a size where a mark is wanted. An oriented feature may serve as a mark. */
function sayFeature(placed: Placed, use: Use, part: Part, report: Report): void {
  const feature = use.feature;
  if (part.broken || (feature !== undefined && !part.featureNames.has(feature.text))) return;
  if (feature === undefined) {
    if (use.wants === 'value')
      report(
        placed,
        use.name,
        told`${told.thing(part)} is a part and has no one size: name the dimension, as in ${told.thing(part)}.${[...part.dimensions.keys()][0] ?? 'diameter'}.`,
      );
    return;
  }
  const kind = featureKind(part, feature.text);
  const wrong =
    (use.wants === 'mark' && kind !== 'mark' && kind !== 'way') ||
    (use.wants === 'value' && kind !== 'dimension' && kind !== 'figure' && kind !== 'value');
  if (!wrong) return;
  report(
    placed,
    feature,
    use.wants === 'mark'
      ? told`${told.named(feature.text)} of ${told.thing(part)} is ${KINDS[kind]}; ${use.word} wants a mark. Write mark ${told.named(feature.text)} at its angle or clock position in ${told.thing(part)}.`
      : told`${told.named(feature.text)} of ${told.thing(part)} is ${KINDS[kind]}; a sum wants a dimension or a figure.`,
    {
      related: [
        {
          placed: part.placed,
          span: part.declaration.name ?? part.declaration.wordSpan,
          message: told`${told.thing(part)} is declared here`,
        },
      ],
    },
  );
}

/** Says where one use of a name names another kind of thing than is wanted. */
export function sayWrongKind(placed: Placed, use: Use, view: View, report: Report): void {
  if (use.isFree === true) return;
  const thing = view.things.get(use.name.text);
  if (thing?.kind === 'part' && use.kinds.includes('part')) sayFeature(placed, use, thing, report);
  if (thing === undefined || (use.kinds as readonly string[]).includes(thing.kind) || use.kinds[0] === 'spec') return;
  // A table of grades stands for the part that it chooses.
  if (thing.kind === 'grades' && use.kinds.includes('part')) return;
  const hint =
    use.word === 'fit' && thing.kind === 'fastener'
      ? told` Write tighten ${told.thing(thing)}.`
      : use.word === 'tighten' && thing.kind === 'part'
        ? told` Name the bolt that holds ${told.thing(thing)}.`
        : told.nothing;
  const wanted = use.kinds.filter((kind) => kind !== 'grades').map((kind) => oneOfKind(kind));
  report(
    placed,
    use.name,
    told`${told.thing(thing)} is ${oneOfKind(thing.kind)}; ${use.word} wants ${inWords(wanted, 'or')}.${hint}`,
    {
      related: [
        {
          placed: thing.placed,
          span: thing.declaration.name ?? thing.declaration.wordSpan,
          message: told`${told.thing(thing)} is declared here`,
        },
      ],
    },
  );
}

export const wrongKind: DeclarationCheck = {
  code: 'name/wrong-kind',
  severity: 'error',
  scope: 'declaration',
  page,
  run(placed, view, report) {
    if (placed.declaration.word === 'record' || !concerns(placed, view)) return;
    for (const use of usesOf(placed).uses) if (useHolds(use, view)) sayWrongKind(placed, use, view, report);
  },
};
