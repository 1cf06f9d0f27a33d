// Where values come from: a source that is not declared, and how many torques and limits have none.
import { usesOf } from '../../model/references.ts';
import type { SpecCheck } from '../check.ts';
import { didYouMean, inWords } from '../support.ts';
import missingPage from './missing.md';
import unknownPage from './unknown.md';

export const sourceUnknown: SpecCheck = {
  code: 'source/unknown', severity: 'error', scope: 'spec', page: unknownPage,
  run({ file, files, report }) {
    const known = files.flatMap((each) => each.declarations).flatMap((placed) => (placed.declaration.word !== 'spec' ? [] : (placed.declaration.body?.statements ?? []).flatMap((each) => (each.kind === 'source' ? [each.name.text] : []))));
    for (const placed of file.declarations.flatMap((each) => [each, ...each.steps])) {
      if (placed === undefined) continue;
      for (const source of usesOf(placed).sources) {
        if (known.includes(source.text)) continue;
        const near = didYouMean(source, known, placed);
        const has = known.length === 0 ? 'This spec names no sources: write source NAME "title" in it' : `The sources are ${inWords(known)}`;
        report(placed, source, `There is no source ${source.text}. ${has}.${near.sentence}`, { fixes: near.fixes });
      }
    }
  },
};

export const sourceMissing: SpecCheck = {
  code: 'source/missing', severity: 'information', scope: 'spec', page: missingPage,
  run({ view, file, report }) {
    const spec = view.specs.find((placed) => placed.file === file.file);
    if (spec === undefined || (spec.declaration.body?.statements ?? []).some((each) => each.kind === 'per')) return;
    const own = (statements: readonly { readonly kind: string }[]): boolean => statements.some((each) => each.kind === 'per');
    const torques = view.fasteners.filter((fastener) => fastener.placed.file === file.file && !own(fastener.statements) && fastener.statements.some((each) => each.kind === 'torque' && each.per === undefined)).length;
    const limits = view.limits.filter((limit) => limit.placed.file === file.file && limit.declaration.per === undefined).length;
    if (torques + limits === 0) return;
    const count = (many: number, one: string): string => `${many} ${one}${many === 1 ? '' : 's'}`;
    report(spec, spec.declaration.name ?? spec.declaration.wordSpan, `${inWords([...(torques > 0 ? [count(torques, 'torque')] : []), ...(limits > 0 ? [count(limits, 'limit')] : [])])} ${torques + limits === 1 ? 'does' : 'do'} not say where ${torques + limits === 1 ? 'it comes' : 'they come'} from. Write per SOURCE "page" after the value, or once in the spec.`);
  },
};
