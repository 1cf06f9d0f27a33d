// Where values come from: a source that is not declared, and how many torques and limits have none.
import { among } from '../../../grammar/nearest.ts';
import { told } from '../../../grammar/told.ts';
import type { BuiltView } from '../../model/build-view.ts';
import type { Placed } from '../../model/placed.ts';
import { usesOf } from '../../model/references.ts';
import type { Fastener, Thing } from '../../model/view.ts';
import { question } from '../../model/view-questions.ts';
import type { DeclarationCheck, Extra, SpecCheck } from '../check.ts';
import { didYouMeanAmong, insert, inWords } from '../support.ts';
import missingPage from './missing.md';
import unknownPage from './unknown.md';

/** The sources that a spec names. */
const sourcesOf = question(
  (_view, { declaration }: Placed): ReadonlySet<string> =>
    new Set((declaration.body?.statements ?? []).flatMap((each) => (each.kind === 'source' ? [each.name.text] : []))),
);

/** The sources that all specs name. */
const allSources = question((view, _subject: 'sources') => {
  const names = [...new Set(view.specs.flatMap((spec) => [...sourcesOf(view, spec)]))];
  return { names, set: new Set(names), among: among(names) };
});

/** Where one more source is named in a spec. */
const endOfSources = question((_view, { declaration }: Placed): number | undefined => {
  if (declaration.body === undefined) return undefined;
  const last = declaration.body.statements.filter((each) => each.kind === 'source').at(-1);
  return last?.end ?? declaration.body.start + 1;
});

export const sourceUnknown: DeclarationCheck = {
  code: 'source/unknown',
  severity: 'error',
  scope: 'declaration',
  page: unknownPage,
  run(placed, view, report) {
    const { sources } = usesOf(placed);
    if (sources.length === 0) return;
    const known = allSources(view, 'sources');
    const unknown = sources.filter((source) => !known.set.has(source.text));
    if (unknown.length === 0) return;
    for (const source of unknown) {
      const near = didYouMeanAmong(source, known.among, placed);
      const has =
        known.names.length === 0
          ? told`This spec names no sources: write source NAME "title" in it`
          : told`The sources are ${inWords(known.names)}`;
      const declare = declareFix(source.text, placed, view);
      report(placed, source, told`There is no source ${told.named(source.text)}. ${has}.${near.sentence}`, {
        fixes: [...near.fixes, ...declare],
      });
    }
  },
};

/** Puts the source into the spec of the same file, its title to be filled in. */
function declareFix(name: string, placed: Placed, view: BuiltView): NonNullable<Extra['fixes']> {
  const spec = view.specs.find((each) => each.file === placed.file);
  const at = spec === undefined ? undefined : endOfSources(view, spec);
  if (spec === undefined || at === undefined) return [];
  return [insert(spec, at, `\n  source ${name} "${name}"`, told`Name ${name} as a source in the spec`)];
}

/** Whether a fastener says nowhere what its torque comes from. */
const isTorqueUnsaid = question(
  (_view, { statements }: Fastener) =>
    !statements.some((each) => each.kind === 'per') &&
    statements.some((each) => each.kind === 'torque' && each.per === undefined),
);

export const sourceMissing: SpecCheck = {
  code: 'source/missing',
  severity: 'information',
  scope: 'spec',
  page: missingPage,
  run({ view, file, report }) {
    const spec = view.specs.find((placed) => placed.file === file.file);
    if (spec === undefined || (spec.declaration.body?.statements ?? []).some((each) => each.kind === 'per')) return;
    const isOwn = ({ placed }: Thing): boolean => placed.file === file.file;
    const torques = view.fasteners.filter((each) => isOwn(each) && isTorqueUnsaid(view, each)).length;
    const limits = view.limits.filter((each) => isOwn(each) && each.declaration.per === undefined).length;
    if (torques + limits === 0) return;
    const counted = inWords([
      ...(torques === 1 ? [told`1 torque`] : torques > 1 ? [told`${torques} torques`] : []),
      ...(limits === 1 ? [told`1 limit`] : limits > 1 ? [told`${limits} limits`] : []),
    ]);
    report(
      spec,
      spec.declaration.name ?? spec.declaration.wordSpan,
      torques + limits === 1
        ? told`${counted} does not say where it comes from. Write per SOURCE "page" after the value, or once in the spec.`
        : told`${counted} do not say where they come from. Write per SOURCE "page" after the value, or once in the spec.`,
    );
  },
};
