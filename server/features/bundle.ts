// A file with all that it uses as one text. What is taken along is what the file names, directly or not; of a spec that a job or a record
// is of, all. Nothing is read from disk here, and the heading is made in checks/source/bundle-heading.ts.

import { endWithoutComments } from '../../grammar/comments.ts';
import { lex } from '../../grammar/lexer.ts';
import { toFile } from '../../grammar/section.ts';
import { type Told, told } from '../../grammar/told.ts';
import { withHeading } from '../checks/source/bundle-heading.ts';
import type { Analysis } from '../model/analysis.ts';
import type { FilePlace, Finding } from '../model/finding.ts';
import type { Placed, ReadFile } from '../model/placed.ts';
import { usesOf } from '../model/references.ts';
import { type Edit, edited, libraryEdits } from './bundle-edits.ts';
import { headEdits, headSpec, neededSources } from './bundle-sources.ts';

export type Bundled = { readonly text: string } | { readonly why: Told };

/** What the bundle needs to know of the world: how a file is named in the heading, and what is found in a text. */
export interface BundleHost {
  shown(file: string): string;
  /** Files that went into one before it came here. */
  wentInto?(file: string): readonly string[];
  analyse(text: string): readonly Finding[];
}

/** The declarations of the files that are used that go along, by file, in the order of each file. */
type Taken = ReadonlyMap<ReadFile, ReadonlySet<Placed>>;

function withSteps(placed: Placed): readonly Placed[] {
  return [placed, ...placed.steps.filter((step) => step !== undefined)];
}

/** What a file needs of those that it uses: all that is named from what is taken, until nothing new is. */
function taken({ file, used, views }: Analysis): Taken {
  const into = new Map<ReadFile, Set<Placed>>(used.map((each) => [each, new Set<Placed>()]));
  const fileOf = new Map<Placed, ReadFile>();
  const top = new Map<Placed, Placed>();
  for (const each of used)
    for (const placed of each.declarations) {
      fileOf.set(placed, each);
      for (const own of withSteps(placed)) top.set(own, placed);
    }
  const queue: Placed[] = [...file.declarations];
  const take = (placed: Placed | undefined): void => {
    const whole = placed === undefined ? undefined : top.get(placed);
    const from = whole === undefined ? undefined : fileOf.get(whole);
    if (whole === undefined || from === undefined || ['spec', 'use'].includes(whole.declaration.word)) return;
    const set = into.get(from);
    if (set === undefined || set.has(whole)) return;
    set.add(whole);
    queue.push(whole);
  };
  const takeFile = (spec: string): void => {
    const from = used.find((each) =>
      each.declarations.some(({ declaration }) => declaration.word === 'spec' && declaration.name?.text === spec),
    );
    for (const placed of from?.declarations ?? []) take(placed);
  };
  const own = file.declarations.map((placed) => placed.declaration.word);
  for (const view of views) {
    take(view.engine?.placed);
    // What is worked out in this view without being named by anything.
    for (const each of [...view.limits, ...view.drives, ...view.valveTimings]) take(each.placed);
    // Without a job all sequences are one piece of work, those of other files too.
    if (own.includes('sequence') && !own.includes('job')) for (const each of view.sequences) take(each.placed);
    for (const { first, second } of view.duplicates)
      if (first.file === file.file || second.file === file.file) {
        take(first);
        take(second);
      }
  }
  for (let placed = queue.shift(); placed !== undefined; placed = queue.shift()) {
    for (const each of withSteps(placed))
      for (const use of usesOf(each).uses) {
        if (use.kinds[0] === 'spec') takeFile(use.name.text);
        for (const view of views) {
          take(view.things.get(use.name.text)?.placed);
          for (const table of view.grades) if (table.name === use.name.text) take(table.placed);
        }
      }
  }
  return into;
}

/** Where a declaration begins and ends in its file: with the comment lines that stand straight before it, without those behind it. */
function stretchOf(placed: Placed, file: ReadFile): { readonly start: number; readonly end: number } {
  const { section } = placed;
  const { comments } = lex(section.text, section);
  const end = toFile(section, endWithoutComments(section.text, comments));
  const before = /(?:(?:^|(?<=[\r\n]))[ \t]*#[^\r\n]*(?:\r\n|\r|\n))+[ \t]*$/.exec(file.text.slice(0, section.start));
  return { start: before === null ? section.start : before.index, end };
}

/** The text of a declaration of a used file, in the `when` that stand round it. */
function pieceOf(placed: Placed, file: ReadFile, edits: readonly Edit[]): string {
  const text = edited(file.text, stretchOf(placed, file), edits);
  return placed.when.reduceRight((inner, names) => `when ${names.join(', ')} {\n${inner}\n}`, text);
}

/** The file's own text without its `use` lines. */
function ownText(
  { file }: Analysis,
  edits: readonly Edit[],
  stretch: { readonly start: number; readonly end: number },
): string {
  const cut = file.sections.flatMap((section): readonly Edit[] => {
    const uses = section.declarations.filter((placed) => placed.declaration.word === 'use');
    if (uses.length === 0) return [];
    const isWhole = uses.length === section.declarations.length && section.section.word === 'when';
    const places = isWhole ? section.whens.slice(0, 1) : uses;
    return places.map((placed) => {
      const end = toFile(
        placed.section,
        endWithoutComments(placed.section.text, lex(placed.section.text, placed.section).comments),
      );
      return { start: placed.section.start, end, text: '' };
    });
  });
  return edited(file.text, stretch, [...cut, ...edits]).trim();
}

/** What the file is called in its heading: its spec, or the job or record in it, with the revision. */
function titleOf(analysis: Analysis, head: Placed | undefined): string {
  const { declarations } = analysis.file;
  const own =
    declarations.find(({ declaration }) => declaration.word === 'spec') ??
    declarations.find(({ declaration }) => declaration.word === 'record' || declaration.word === 'job') ??
    head;
  const { name, of } = own?.declaration ?? {};
  const statement = head?.declaration.body?.statements.find((each) => each.word === 'revision');
  const revision =
    own?.declaration.revision?.value ?? (statement?.kind === 'number' ? statement.number.text : undefined);
  const of_ = of === undefined || own?.declaration.word === 'spec' ? '' : ` of ${of.owner.text}`;
  return `${name?.text ?? 'declarations'}${of_}${revision === undefined ? '' : `, revision ${revision}`}`;
}

function refusal(analysis: Analysis): Told | undefined {
  const { file, used, views } = analysis;
  if (views.some((view) => view.incomplete))
    return told`A file that is used is not there or not read, so the bundle would not hold all of it. Check the file first.`;
  const built = [file, ...used]
    .flatMap((each) => each.declarations)
    .find(({ declaration }) => declaration.word === 'spec' && declaration.extends !== undefined);
  if (built !== undefined)
    return told`${built.declaration.name?.text ?? told`A spec here`} is built on ${built.declaration.extends?.text ?? ''}: base and changes can't stand in one file. Send both files.`;
  return undefined;
}

function hasSequence(declarations: readonly Placed[]): boolean {
  return declarations.some(({ declaration }) => declaration.word === 'sequence');
}

function within(finding: FilePlace, start: number, end: number): boolean {
  return finding.start >= start && finding.start < end;
}

/** One text with all that a file uses, laid out, under a heading; or why there can be none. */
export function bundle(analysis: Analysis, host: BundleHost): Bundled {
  const why = refusal(analysis);
  if (why !== undefined) return { why };
  const goes = taken(analysis);
  const head = headSpec(analysis, goes);
  const sources = neededSources(analysis, goes, head);
  const files = analysis.used.filter((file) => (goes.get(file)?.size ?? 0) > 0 || head?.file === file.file);

  // Sequences of one phase run as written, and those of this file go on from those that it builds upon.
  const isBuiltUpon =
    hasSequence(analysis.file.declarations) && files.some((file) => hasSequence([...(goes.get(file) ?? [])]));

  const firstSequence = analysis.file.declarations.find(({ declaration }) => declaration.word === 'sequence');
  const specEnd = head?.file === analysis.file.file ? stretchOf(head, analysis.file).end : 0;
  const upTo = specEnd <= (firstSequence?.section.start ?? 0) ? specEnd : 0;

  const assemble = (
    allows: ReadonlyMap<Placed, readonly string[]>,
  ): {
    readonly text: string;
    readonly stretches: readonly {
      readonly placed: Placed;
      readonly file: ReadFile;
      readonly start: number;
      readonly end: number;
    }[];
  } => {
    const edits = head?.file === analysis.file.file ? headEdits(head, sources, analysis.variants) : [];
    const own = (start: number, end: number): string => ownText(analysis, edits, { start, end });
    const { length } = analysis.file.text;
    let text = `${own(0, isBuiltUpon ? upTo : length)}\n`;
    const stretches: { placed: Placed; file: ReadFile; start: number; end: number }[] = [];
    const add = (piece: string): { readonly start: number; readonly end: number } => {
      const start = text.length + 1;
      text += `\n${piece}\n`;
      return { start, end: text.length };
    };
    if (head !== undefined && head.file !== analysis.file.file) {
      const from = files.find((each) => each.file === head.file);
      if (from !== undefined) add(pieceOf(head, from, headEdits(head, sources, analysis.variants)));
    }
    for (const file of files)
      for (const placed of goes.get(file) ?? []) {
        const edits = libraryEdits(
          placed,
          file,
          head,
          sources.renamed.get(file) ?? new Map(),
          allows.get(placed) ?? [],
        );
        stretches.push({ placed, file, ...add(pieceOf(placed, file, edits)) });
      }
    if (isBuiltUpon) add(own(upTo, length));
    return { text, stretches };
  };

  // An `allow` for the whole of a used file goes into each declaration that needs it.
  const first = assemble(new Map());
  const allows = new Map<Placed, string[]>();
  const forFile = new Map(files.map((file) => [file, fileAllows(file)]));
  if ([...forFile.values()].some((each) => each.size > 0))
    for (const finding of host.analyse(first.text)) {
      const there = first.stretches.find((each) => within(finding, each.start, each.end));
      const allow = there === undefined ? undefined : forFile.get(there.file)?.get(finding.code);
      if (there === undefined || allow === undefined) continue;
      const known = allows.get(there.placed) ?? [];
      if (!known.includes(allow)) allows.set(there.placed, [...known, allow]);
    }
  const whole = allows.size === 0 ? first : assemble(allows);
  const made = [analysis.file, ...files]
    .flatMap(({ file }) => [file, ...(host.wentInto?.(file) ?? [])])
    .map((file) => host.shown(file));
  return { text: withHeading(titleOf(analysis, head), made, withoutIdleAllows(whole, host)) };
}

/** What an `allow` of a used file silences there may not be found here: such a line is left out. */
function withoutIdleAllows(
  { text, stretches }: { readonly text: string; readonly stretches: readonly { start: number; end: number }[] },
  host: BundleHost,
): string {
  if (!/\ballow\b/i.test(text)) return text;
  const cuts = host.analyse(text).flatMap((finding) => {
    const isOfUsed = stretches.some((each) => within(finding, each.start, each.end));
    const [fix] = finding.code === 'name/unused' && isOfUsed ? finding.fixes : [];
    return fix?.edits.every((edit) => edit.text === '') === true ? fix.edits : [];
  });
  return edited(text, { start: 0, end: text.length }, cuts);
}

/** The `allow` lines of a file that cover all of it, as written, by their code. */
function fileAllows(file: ReadFile): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  for (const section of file.sections)
    for (const { section: at, parsed } of [...section.declarations, ...section.whens, ...section.loose])
      for (const each of parsed.outside)
        if (each.kind === 'allow') found.set(each.code.text, at.text.slice(each.start, each.end));
  return found;
}
