// A thing of one kind where another kind is wanted: a fastener that is fitted, a part that is tightened.
import { usesOf } from '../../model/references.ts';
import type { DeclarationCheck } from '../check.ts';
import { inWords, kindWord, withArticle } from '../support.ts';
import { useHolds } from './unknown.ts';
import page from './wrong-kind.md';

export const wrongKind: DeclarationCheck = {
  code: 'name/wrong-kind',
  severity: 'error',
  scope: 'declaration',
  page,
  run(placed, view, report) {
    if (placed.declaration.word === 'record') return;
    for (const use of usesOf(placed).uses) {
      const thing = view.things.get(use.name.text);
      if (
        thing === undefined ||
        !useHolds(use, view.variant) ||
        (use.kinds as readonly string[]).includes(thing.kind) ||
        use.kinds[0] === 'spec'
      )
        continue;
      // A table of grades stands for the part that it chooses.
      if (thing.kind === 'grades' && use.kinds.includes('part')) continue;
      const hint =
        use.word === 'fit' && thing.kind === 'fastener'
          ? ` Write tighten ${thing.name}.`
          : use.word === 'tighten' && thing.kind === 'part'
            ? ` Name the bolt that holds ${thing.name}.`
            : '';
      report(
        placed,
        use.name,
        `${thing.name} is ${withArticle(kindWord(thing.kind))}; ${use.word} wants ${inWords(
          use.kinds.filter((kind) => kind !== 'grades').map((kind) => withArticle(kindWord(kind))),
          'or',
        )}.${hint}`,
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
  },
};
