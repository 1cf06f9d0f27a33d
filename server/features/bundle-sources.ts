// Which spec heads a bundle, and the sources that it must name for what comes from other files. A source of another file that has the name
// of one of the spec's own, and is not the same, gets a new name.
import type { Analysis } from '../model/analysis.ts';
import type { Placed, ReadFile } from '../model/placed.ts';
import { placeOf } from '../model/placed.ts';
import { usesOf } from '../model/references.ts';
import type { Edit } from './bundle-edits.ts';

export interface SourceLine {
  readonly name: string;
  readonly title: string | undefined;
}

type Taken = ReadonlyMap<ReadFile, ReadonlySet<Placed>>;

function specOf(file: ReadFile): Placed | undefined {
  return file.declarations.find((placed) => placed.declaration.word === 'spec');
}

function sourcesOf(spec: Placed | undefined): readonly SourceLine[] {
  return (spec?.declaration.body?.statements ?? []).flatMap((each) =>
    each.kind === 'source' ? [{ name: each.name.text, title: each.title?.value }] : [],
  );
}

/** The spec that heads the bundle: the file's own, else the one that its job or record is of, else that of what is taken along first. */
export function headSpec({ file, used }: Analysis, goes: Taken): Placed | undefined {
  const own = specOf(file);
  if (own !== undefined) return own;
  const of = file.declarations.flatMap(({ declaration }) =>
    declaration.word === 'job' || declaration.word === 'record' ? (declaration.of?.owner.text ?? []) : [],
  );
  const specs = used.flatMap((each) => specOf(each) ?? []);
  return (
    specs.find((spec) => of.includes(spec.declaration.name?.text ?? '')) ??
    specs.find((spec) => used.some((each) => each.file === spec.file && (goes.get(each)?.size ?? 0) > 0))
  );
}

/** The sources of the other files that are named in what is taken along, each once, and the new names of those that clash. */
export function neededSources(
  { used }: Analysis,
  goes: Taken,
  head: Placed | undefined,
): { readonly added: readonly SourceLine[]; readonly renamed: ReadonlyMap<ReadFile, ReadonlyMap<string, string>> } {
  const there = new Map(sourcesOf(head).map((source) => [source.name, source.title]));
  const added: SourceLine[] = [];
  const renamed = new Map<ReadFile, Map<string, string>>();
  for (const file of used) {
    if (head?.file === file.file) continue;
    const spec = specOf(file);
    const hasPer = spec?.declaration.body?.statements.some((each) => each.kind === 'per') ?? false;
    const pieces = [...(goes.get(file) ?? [])].flatMap((placed) => [
      placed,
      ...placed.steps.filter((step) => step !== undefined),
    ]);
    if (pieces.length === 0) continue;
    const named = new Set([
      ...pieces.flatMap((placed) => usesOf(placed).sources.map((source) => source.text)),
      ...(hasPer && spec !== undefined ? usesOf(spec).sources.map((source) => source.text) : []),
    ]);
    for (const source of sourcesOf(spec)) {
      if (!named.has(source.name)) continue;
      if (!there.has(source.name)) {
        there.set(source.name, source.title);
        added.push(source);
      } else if (there.get(source.name) !== source.title) {
        let name = source.name;
        for (let i = 2; there.has(name) && there.get(name) !== source.title; i += 1) name = `${source.name}-${i}`;
        if (!there.has(name)) added.push({ name, title: source.title });
        there.set(name, source.title);
        const names = renamed.get(file) ?? new Map<string, string>();
        names.set(source.name, name);
        renamed.set(file, names);
      }
    }
  }
  return { added, renamed };
}

/** The edits that put sources into a spec. */
export function sourceEdits(spec: Placed, added: readonly SourceLine[]): readonly Edit[] {
  if (added.length === 0) return [];
  const lines = added
    .map(({ name, title }) => {
      const text = title === undefined ? '' : ` "${title.replace(/[\\"]/g, '\\$&')}"`;
      return `\nsource ${name}${text}`;
    })
    .join('');
  const { body } = spec.declaration;
  const lastSource = body?.statements.filter((each) => each.kind === 'source').at(-1);
  if (body === undefined) {
    const { declaration } = spec;
    const at = placeOf(spec, declaration).end;
    return [{ start: at, end: at, text: ` {${lines}\n}` }];
  }
  const own = lastSource?.end ?? body.end - 1;
  const at = placeOf(spec, { start: own, end: own }).start;
  return [{ start: at, end: at, text: `${lines}\n` }];
}
