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

/** The sources that a bundle needs besides those of its spec, the new names of those that clash, and those of its spec that it has no use for. */
export interface NeededSources {
  readonly added: readonly SourceLine[];
  readonly renamed: ReadonlyMap<ReadFile, ReadonlyMap<string, string>>;
  readonly idle: ReadonlySet<string>;
}

/** The sources of the other files that are named in what is taken along, each once, and the new names of those that clash. */
export function neededSources(analysis: Analysis, goes: Taken, head: Placed | undefined): NeededSources {
  const { used } = analysis;
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
  const isOwn = head === undefined || head.file === analysis.file.file;
  const from = used.find((each) => each.file === head?.file);
  const isWhole = from?.declarations.every(
    (placed) => ['spec', 'use', 'record'].includes(placed.declaration.word) || goes.get(from)?.has(placed) === true,
  );
  if (isOwn || isWhole !== false) return { added, renamed, idle: new Set() };
  const spoken = spokenOf(analysis, goes, head);
  const idle = new Set(sourcesOf(head).flatMap(({ name }) => (spoken.has(name) ? [] : [name])));
  return { added, renamed, idle };
}

/** The names of all sources that a bundle speaks of, where the spec that heads it is not the file's own. */
function spokenOf({ file, used }: Analysis, goes: Taken, head: Placed): ReadonlySet<string> {
  const pieces = [
    ...file.declarations,
    ...(goes.get(used.find((each) => each.file === head.file) ?? file) ?? []),
    head,
  ];
  return new Set(
    pieces
      .flatMap((placed) => [placed, ...placed.steps.filter((step) => step !== undefined)])
      .flatMap((placed) => usesOf(placed).sources.map((source) => source.text)),
  );
}

/**
 * The edits of the spec that heads a bundle: the sources of other files, and the variants where another file says them. Of a spec of which
 * not all goes along, the sources that nothing is said to come from are left out.
 */
export function headEdits(
  head: Placed,
  { added, idle }: { readonly added: readonly SourceLine[]; readonly idle: ReadonlySet<string> },
  variants: readonly string[],
): readonly Edit[] {
  const { declaration } = head;
  const { body } = declaration;
  const statements = body?.statements ?? [];
  const cut = statements.flatMap((each): readonly Edit[] => {
    if (each.kind !== 'source' || !idle.has(each.name.text)) return [];
    return [{ ...placeOf(head, each), text: '' }];
  });
  const saysVariants = statements.some((each) => each.word === 'variants');
  const lines = [
    ...(variants.length === 0 || saysVariants ? [] : [`variants ${variants.join(', ')}`]),
    ...added.map(({ name, title }) => {
      const text = title === undefined ? '' : ` "${title.replace(/[\\"]/g, '\\$&')}"`;
      return `source ${name}${text}`;
    }),
  ];
  if (lines.length === 0) return cut;
  if (body === undefined) {
    const at = placeOf(head, declaration).end;
    return [...cut, { start: at, end: at, text: ` {\n${lines.join('\n')}\n}` }];
  }
  const lastSource = statements.filter((each) => each.kind === 'source').at(-1);
  const own = lastSource?.end ?? body.end - 1;
  const at = placeOf(head, { start: own, end: own }).start;
  return [...cut, { start: at, end: at, text: `\n${lines.join('\n')}\n` }];
}
