// A spec that is built on another as one that stands alone: the base's declarations with the changes made, as text. Used where base and
// changes can't both go along.
import { HOLE } from '../../grammar/section.ts';
import type { Span, Statement } from '../../grammar/tree.ts';
import type { Analysis } from '../model/analysis.ts';
import { derive, derivedSpec } from '../model/derived.ts';
import type { Placed, ReadFile } from '../model/placed.ts';
import { edited } from './bundle-edits.ts';

export interface Flattened {
  readonly text: string;
  /** The files that it still uses, by the path that the text names them with. */
  readonly uses: ReadonlyMap<string, string>;
}

/** The stretches of a spec's head that only hold changes: `extends …`, the holes, and a `when` round nothing else. */
function cutsOfHead(spec: Placed): readonly Span[] {
  const { declaration, section } = spec;
  const base = declaration.extends;
  const word = base === undefined ? -1 : section.text.toLowerCase().lastIndexOf('extends', base.start);
  const cuts: Span[] = base === undefined ? [] : [{ start: word, end: base.end }];
  const isEmpty = (each: Statement): boolean =>
    each.kind === 'hole' || (each.kind === 'when' && each.body.statements.every(isEmpty));
  const look = (statements: readonly Statement[]): void => {
    for (const each of statements)
      if (isEmpty(each)) cuts.push({ start: each.start, end: each.end });
      else if (each.kind === 'when') look(each.body.statements);
  };
  look(declaration.body?.statements ?? []);
  return cuts;
}

function textOfHead(spec: Placed): string {
  const { text } = spec.section;
  const cuts = cutsOfHead(spec).map((span) => ({ ...span, text: '' }));
  return edited(text, { start: 0, end: text.length }, cuts).replaceAll(HOLE, '');
}

/** A declaration with its steps in their places, in the `when` round it. A job of the base is one of the spec that it goes into. */
function textOf(placed: Placed, spec: string, bases: ReadonlySet<string>): string {
  let hole = 0;
  const of = placed.declaration.of?.owner;
  const { text } = placed.section;
  const named =
    of !== undefined && bases.has(of.text)
      ? edited(text, { start: 0, end: text.length }, [{ start: of.start, end: of.end, text: spec }])
      : text;
  const own = named.replaceAll(HOLE, () => {
    const step = placed.steps[hole];
    hole += 1;
    return step === undefined ? '' : step.section.text;
  });
  return placed.when.reduceRight((inner, names) => `when ${names.join(', ')} {\n${inner}\n}`, own.trim());
}

/** What stands outside the declarations of a file: its notes, and what is silenced in all of it. */
function outsideOf(file: ReadFile): readonly string[] {
  return file.sections.flatMap((section) =>
    [...section.declarations, ...section.whens, ...section.loose].flatMap(({ section: at, parsed }) =>
      parsed.outside.map((each) => at.text.slice(each.start, each.end)),
    ),
  );
}

/** The file of an analysis without its base; undefined where it is built on none, or that can't be found. */
export function flattened(analysis: Analysis): Flattened | undefined {
  const files = [analysis.file, ...analysis.used];
  const derivation = derivedSpec(analysis.file) === undefined ? undefined : derive(files);
  const own = derivation?.files[0];
  const bases: ReadFile[] = [];
  for (let base = derivation?.bases.get(analysis.file.file); base !== undefined && !bases.includes(base); ) {
    bases.push(base);
    base = derivation?.bases.get(base.file);
  }
  if (own === undefined || bases.length === 0) return undefined;
  const uses = new Map(
    analysis.used
      .filter((file) => !bases.includes(file))
      .map((file, i) => [`used-${i + 1}.fettle`, file.file] as const),
  );
  const specIn = (file: ReadFile): string =>
    file.declarations.find(({ declaration }) => declaration.word === 'spec')?.declaration.name?.text ?? '';
  const names = new Set(bases.map(specIn));
  const pieces = own.declarations
    .filter((placed) => placed.declaration.word !== 'use')
    .map((placed) =>
      placed.declaration.word === 'spec' ? textOfHead(placed) : textOf(placed, specIn(analysis.file), names),
    );
  const lines = [
    ...[...uses.keys()].map((path) => `use "${path}"`),
    ...[...new Set([analysis.file, ...bases].flatMap(outsideOf))],
    ...pieces,
  ];
  return { text: `${lines.join('\n\n')}\n`, uses };
}
