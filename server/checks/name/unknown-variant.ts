// A variant that the spec does not name.

import { among } from '../../../grammar/nearest.ts';
import { told } from '../../../grammar/told.ts';
import type { Name } from '../../../grammar/tree.ts';
import type { BuiltView } from '../../model/build-view.ts';
import { MOST_VARIANTS } from '../../model/most.ts';
import type { Placed } from '../../model/placed.ts';
import { usesOf } from '../../model/references.ts';
import { question } from '../../model/view-questions.ts';
import type { DeclarationCheck, Extra, Report } from '../check.ts';
import { didYouMeanAmong, insert, inWords } from '../support.ts';
import tooManyPage from './too-many-variants.md';
import page from './unknown-variant.md';

/** The variants that a spec names. */
const variantsOf = question(
  (_view, { declaration }: Placed): ReadonlySet<string> =>
    new Set(
      (declaration.body?.statements ?? []).flatMap((each) =>
        each.kind === 'names' && each.word === 'variants' ? each.names.map((name) => name.text) : [],
      ),
    ),
);

/** Adds the variant to the list of the spec of the same file. */
function declareFix(name: string, placed: Placed, view: BuiltView): NonNullable<Extra['fixes']> {
  const spec = view.specs.find((each) => each.file === placed.file);
  const body = spec?.declaration.body;
  if (spec === undefined || body === undefined) return [];
  const listed = body.statements.find((each) => each.kind === 'names' && each.word === 'variants');
  const last = listed?.kind === 'names' ? listed.names.at(-1) : undefined;
  const title = told`Add ${name} to the variants of the spec`;
  return last === undefined
    ? [insert(spec, body.start + 1, `\n  variants ${name}`, title)]
    : [insert(spec, last.end, `, ${name}`, title)];
}

/** The variants that all specs name. */
const allVariants = question((view, _subject: 'variants'): readonly string[] => [
  ...new Set(view.specs.flatMap((spec) => [...variantsOf(view, spec)])),
]);

const knownVariants = question((view, _subject: 'variants') => {
  const names = allVariants(view, 'variants');
  return { set: new Set(names), among: among(names) };
});

function say(placed: Placed, names: readonly Name[], view: BuiltView, report: Report): void {
  const known = knownVariants(view, 'variants');
  const unknown = names.filter((name) => !known.set.has(name.text));
  if (unknown.length === 0) return;
  const variants = allVariants(view, 'variants');
  // They may be named where nobody could look.
  if (view.incomplete && variants.length === 0) return;
  const there =
    variants.length === 0
      ? told`This spec names no variants: add a variants line to the spec`
      : told`The variants are ${inWords(variants)}`;
  for (const name of unknown) {
    const near = didYouMeanAmong(name, known.among, placed);
    report(placed, name, told`There is no variant ${told.named(name.text)}. ${there}.${near.sentence}`, {
      fixes: [...near.fixes, ...declareFix(name.text, placed, view)],
    });
  }
}

export const tooManyVariants: DeclarationCheck = {
  code: 'name/too-many-variants',
  severity: 'error',
  scope: 'declaration',
  page: tooManyPage,
  run(placed, _view, report) {
    if (placed.declaration.word !== 'spec') return;
    const names = (placed.declaration.body?.statements ?? []).flatMap((each) =>
      each.kind === 'names' && each.word === 'variants' ? each.names : [],
    );
    const first = names[MOST_VARIANTS];
    if (first === undefined) return;
    report(
      placed,
      first,
      told`${names.length} variants are too many to look at: the first ${MOST_VARIANTS} are, ${told.named(first.text)} and all behind it are not. Put what differs into a spec of its own that extends this one.`,
    );
  },
};

export const unknownVariant: DeclarationCheck = {
  code: 'name/unknown-variant',
  severity: 'error',
  scope: 'declaration',
  page,
  run(placed, view, report) {
    say(
      placed,
      placed.declaration.word === 'when'
        ? (placed.declaration.variants ?? [])
        : usesOf(placed).variants.map((each) => each.name),
      view,
      report,
    );
  },
};
