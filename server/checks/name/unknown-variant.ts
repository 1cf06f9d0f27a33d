// A variant that the spec does not name.

import { among, nearestAmong } from '../../../grammar/nearest.ts';
import { told } from '../../../grammar/told.ts';
import type { Name } from '../../../grammar/tree.ts';
import type { BuiltView } from '../../model/build-view.ts';
import type { DeclarationIndex } from '../../model/declaration-index.ts';
import { MOST_VARIANTS } from '../../model/most.ts';
import type { Placed } from '../../model/placed.ts';
import { usesOf } from '../../model/references.ts';
import { question } from '../../model/view-questions.ts';
import type { DeclarationCheck, Extra, SpecCheck } from '../check.ts';
import { insert, inWords, meaning } from '../support.ts';
import tooManyPage from './too-many-variants.md';
import page from './unknown-variant.md';

/** Other places of the same name that a finding points at. */
const MOST_POINTED = 5;

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

/** Where a declaration names variants. */
function namesOf(placed: Placed): readonly Name[] {
  return placed.declaration.word === 'when'
    ? (placed.declaration.variants ?? [])
    : usesOf(placed).variants.map((each) => each.name);
}

const namesVariants = (placed: Placed): boolean => namesOf(placed).length > 0;

interface Place {
  readonly placed: Placed;
  readonly name: Name;
}

/** Every variant that no spec names, with the places where it stands, in the order written. */
function unknownIn(index: DeclarationIndex, known: ReadonlySet<string>): ReadonlyMap<string, readonly Place[]> {
  const found = new Map<string, Place[]>();
  const places = index
    .those(namesVariants)
    .flatMap((placed) => namesOf(placed).map((name): Place => ({ placed, name })))
    .filter(({ name }) => !known.has(name.text));
  const at = ({ placed, name }: Place): number => placed.section.start + name.start;
  for (const place of places.sort((one, other) => at(one) - at(other)))
    found.set(place.name.text, [...(found.get(place.name.text) ?? []), place]);
  return found;
}

export const tooManyVariants: DeclarationCheck = {
  code: 'name/too-many-variants',
  severity: 'error',
  scope: 'declaration',
  words: ['spec'],
  page: tooManyPage,
  run(placed, _view, report) {
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

export const unknownVariant: SpecCheck = {
  code: 'name/unknown-variant',
  severity: 'error',
  scope: 'spec',
  page,
  ahead: (_view, _file, index) => index.lookingFor(namesVariants),
  run({ view, index, report }) {
    const known = knownVariants(view, 'variants');
    const variants = allVariants(view, 'variants');
    // They may be named where nobody could look.
    if (view.incomplete && variants.length === 0) return;
    const there =
      variants.length === 0
        ? told`This spec names no variants: add a variants line to the spec`
        : told`The variants are ${inWords(variants)}`;
    // One slip of a name is one finding, however often it stands there.
    for (const [text, places] of unknownIn(index, known.set)) {
      const [first, ...others] = places;
      if (first === undefined) continue;
      const near = nearestAmong(text, known.among);
      const { sentence, fixes } = meaning(first.name, near, first.placed);
      const all = fixes.map((fix) => ({
        ...fix,
        edits: places.map(({ placed, name }) => ({ placed, span: name, text: near ?? text })),
      }));
      report(first.placed, first.name, told`There is no variant ${told.named(text)}. ${there}.${sentence}`, {
        fixes: [...all, ...declareFix(text, first.placed, view)],
        related: others
          .slice(0, MOST_POINTED)
          .map(({ placed, name }) => ({ placed, span: name, message: told`it stands here too` })),
      });
    }
  },
};
