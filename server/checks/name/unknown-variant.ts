// A variant that the spec does not name.
import { usesOf } from '../../model/references.ts';
import type { SpecCheck } from '../check.ts';
import { didYouMean, inWords } from '../support.ts';
import page from './unknown-variant.md';

export const unknownVariant: SpecCheck = {
  code: 'name/unknown-variant', severity: 'error', scope: 'spec', page,
  run({ file, files, report }) {
    const variants = files.flatMap((each) => each.declarations).flatMap((placed) => (placed.declaration.word !== 'spec' ? [] : (placed.declaration.body?.statements ?? []).flatMap((each) => (each.kind === 'names' && each.word === 'variants' ? each.names.map((name) => name.text) : []))));
    const known = variants.length === 0 ? 'This spec names no variants: add a variants line to the spec' : `The variants are ${inWords(variants)}`;
    for (const placed of file.declarations.flatMap((each) => [each, ...each.steps])) {
      if (placed === undefined) continue;
      for (const { name } of usesOf(placed).variants) {
        if (variants.includes(name.text)) continue;
        const near = didYouMean(name, variants, placed);
        report(placed, name, `There is no variant ${name.text}. ${known}.${near.sentence}`, { fixes: near.fixes });
      }
    }
    for (const { section, parsed } of file.loose) {
      for (const name of parsed.declaration?.variants ?? []) {
        if (variants.includes(name.text) || parsed.declaration === undefined) continue;
        const placed = { file: file.file, section, parsed, declaration: parsed.declaration, when: [], steps: [] };
        const near = didYouMean(name, variants, placed);
        report(placed, name, `There is no variant ${name.text}. ${known}.${near.sentence}`, { fixes: near.fixes });
      }
    }
  },
};
