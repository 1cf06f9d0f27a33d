// A variant that the spec does not name.
import type { Name } from '../../../grammar/tree.ts';
import type { BuiltView } from '../../model/build-view.ts';
import type { Placed } from '../../model/placed.ts';
import { usesOf } from '../../model/references.ts';
import type { DeclarationCheck, Extra, Report } from '../check.ts';
import { didYouMean, insert, inWords } from '../support.ts';
import page from './unknown-variant.md';

/** The variants that the specs of a view name. */
function variantsOf(view: BuiltView): readonly string[] {
  return view.specs.flatMap((spec) =>
    (spec.declaration.body?.statements ?? []).flatMap((each) =>
      each.kind === 'names' && each.word === 'variants' ? each.names.map((name) => name.text) : [],
    ),
  );
}

/** Adds the variant to the list of the spec of the same file. */
function declareFix(name: string, placed: Placed, view: BuiltView): NonNullable<Extra['fixes']> {
  const spec = view.specs.find((each) => each.file === placed.file);
  const body = spec?.declaration.body;
  if (spec === undefined || body === undefined) return [];
  const listed = body.statements.find((each) => each.kind === 'names' && each.word === 'variants');
  const last = listed?.kind === 'names' ? listed.names.at(-1) : undefined;
  const title = `Add ${name} to the variants of the spec`;
  return last === undefined
    ? [insert(spec, body.start + 1, `\n  variants ${name}`, title)]
    : [insert(spec, last.end, `, ${name}`, title)];
}

function say(placed: Placed, names: readonly Name[], view: BuiltView, report: Report): void {
  if (names.length === 0) return;
  const variants = variantsOf(view);
  const known =
    variants.length === 0
      ? 'This spec names no variants: add a variants line to the spec'
      : `The variants are ${inWords(variants)}`;
  for (const name of names) {
    if (variants.includes(name.text)) continue;
    const near = didYouMean(name, variants, placed);
    report(placed, name, `There is no variant ${name.text}. ${known}.${near.sentence}`, {
      fixes: [...near.fixes, ...declareFix(name.text, placed, view)],
    });
  }
}

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
