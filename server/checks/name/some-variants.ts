// What has to be the same in all variants or said for each, and is said for some: a redline for the van, and none for the saloon.
import { told } from '../../../grammar/told.ts';
import type { Statement } from '../../../grammar/tree.ts';
import { statementsFor } from '../../model/placed.ts';
import type { DeclarationCheck } from '../check.ts';
import { inWords } from '../support.ts';
import page from './some-variants.md';

/** What every engine, part or bolt has, where one of it says so; a dish, a cover or a second ring one variant may have alone. */
const ONE_FOR_EACH: Readonly<Record<string, ReadonlySet<string>>> = {
  engine: new Set([
    ...['stroke', 'bore', 'rod-length', 'block-height', 'compression-height', 'redline', 'firing-order', 'chamber'],
  ]),
  part: new Set(['teeth', 'links', 'pitch', 'wall']),
  fastener: new Set(['thread', 'class', 'length', 'torque']),
};

export const someVariants: DeclarationCheck = {
  code: 'name/some-variants',
  severity: 'warning',
  scope: 'declaration',
  page,
  run(placed, view, report) {
    const { word, body, broken } = placed.declaration;
    const words = new Map(Object.entries(ONE_FOR_EACH)).get(word);
    // What stands in a when as a whole is of those variants alone.
    if (words === undefined || body === undefined || broken || placed.when.length > 0) return;
    if (!body.statements.some(({ kind }) => kind === 'when')) return;
    const { variant } = view;
    if (variant === undefined) return;
    const said = new Set(statementsFor(body.statements, variant).map((each: Statement) => each.word));
    // A bolt that takes its thread from another, and a torque beside a stretch, say it that way.
    if (said.has('like') || said.has('stretch')) return;
    const isSaid = new Set<string>();
    for (const when of body.statements) {
      if (when.kind !== 'when' || when.variants.some((each) => each.text === variant)) continue;
      for (const each of when.body.statements) {
        if (!words.has(each.word) || said.has(each.word) || isSaid.has(each.word)) continue;
        isSaid.add(each.word);
        report(
          placed,
          each,
          told`${told.named(each.word)} is said for ${inWords(when.variants.map((name) => told.named(name.text)))} here, and nothing says it for ${told.named(variant)}. Say it there too, or outside the when.`,
          { missing: true },
        );
      }
    }
  },
};
