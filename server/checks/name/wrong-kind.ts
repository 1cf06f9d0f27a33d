// A thing of one kind where another kind is wanted: a fastener that is fitted, a part that is tightened, a dimension where a mark
// is wanted.
import type { Placed } from '../../model/placed.ts';
import { type Use, usesOf } from '../../model/references.ts';
import type { Part, View } from '../../model/view.ts';
import type { DeclarationCheck, Report } from '../check.ts';
import { inWords, kindWord, withArticle } from '../support.ts';
import { concerns, useHolds } from './unknown.ts';
import page from './wrong-kind.md';

/** What stands behind the dot, in words. */
function featureKind(part: Part, feature: string): string {
  if (part.dimensions.has(feature)) return 'a dimension';
  if (part.figures.has(feature)) return 'a figure';
  if (part.marks.has(feature)) return 'a mark';
  if (part.features.has(feature)) return 'a feature without a size';
  return part.statements.some((each) => each.word === feature) ? 'a value' : 'the way that it points';
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
        `${part.name} is a part and has no one size: name the dimension, as in ${part.name}.${[...part.dimensions.keys()][0] ?? 'diameter'}.`,
      );
    return;
  }
  const kind = featureKind(part, feature.text);
  const wrong =
    (use.wants === 'mark' && kind !== 'a mark' && kind !== 'the way that it points') ||
    (use.wants === 'value' && kind !== 'a dimension' && kind !== 'a figure' && kind !== 'a value');
  if (!wrong) return;
  report(
    placed,
    feature,
    use.wants === 'mark'
      ? `${feature.text} of ${part.name} is ${kind}; ${use.word} wants a mark. Write mark ${feature.text} at its angle or clock position in ${part.name}.`
      : `${feature.text} of ${part.name} is ${kind}; a sum wants a dimension or a figure.`,
    {
      related: [
        {
          placed: part.placed,
          span: part.declaration.name ?? part.declaration.wordSpan,
          message: `${part.name} is declared here`,
        },
      ],
    },
  );
}

/** Says where one use of a name names another kind of thing than is wanted. */
export function sayWrongKind(placed: Placed, use: Use, view: View, report: Report): void {
  const thing = view.things.get(use.name.text);
  if (thing?.kind === 'part' && use.kinds.includes('part')) sayFeature(placed, use, thing, report);
  if (thing === undefined || (use.kinds as readonly string[]).includes(thing.kind) || use.kinds[0] === 'spec') return;
  // A table of grades stands for the part that it chooses.
  if (thing.kind === 'grades' && use.kinds.includes('part')) return;
  const hint =
    use.word === 'fit' && thing.kind === 'fastener'
      ? ` Write tighten ${thing.name}.`
      : use.word === 'tighten' && thing.kind === 'part'
        ? ` Name the bolt that holds ${thing.name}.`
        : '';
  const wanted = use.kinds.filter((kind) => kind !== 'grades').map((kind) => withArticle(kindWord(kind)));
  report(
    placed,
    use.name,
    `${thing.name} is ${withArticle(kindWord(thing.kind))}; ${use.word} wants ${inWords(wanted, 'or')}.${hint}`,
    {
      related: [
        {
          placed: thing.placed,
          span: thing.declaration.name ?? thing.declaration.wordSpan,
          message: `${thing.name} is declared here`,
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
    if (placed.declaration.word === 'record' || !concerns(placed, view.variant)) return;
    for (const use of usesOf(placed).uses) if (useHolds(use, view.variant)) sayWrongKind(placed, use, view, report);
  },
};
