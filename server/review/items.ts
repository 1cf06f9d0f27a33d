// What a variant sees of a spec as a flat list: each declaration with its facts, steps with the sequence that they stand in.
import type { Declaration, Statement } from '../../grammar/tree.ts';
import type { Analysis } from '../model/analysis.ts';
import type { BuiltView } from '../model/build-view.ts';
import type { FilePlace } from '../model/finding.ts';
import { holdsFor, type Placed, placeOf, type ReadFile, statementsFor } from '../model/placed.ts';
import { type Fact, factsOf, outsideFacts } from './facts.ts';
import { writtenText } from './written.ts';

export interface Item {
  /** The word of the declaration, or `file` for what stands outside all of them. */
  readonly word: string;
  readonly name: string;
  /** `fastener.head-bolt`, `engine`, `sequence.long-block.step.fit-head`. */
  readonly key: string;
  readonly placed: Placed | undefined;
  readonly facts: readonly Fact[];
  readonly sequence: string | undefined;
  /** The steps of a sequence, in the order of the work. */
  readonly steps: readonly string[];
  /** It stands in the file that is reviewed, not in one that it uses. */
  readonly own: boolean;
  readonly place: FilePlace;
  /** Its head as written. */
  readonly head: string;
}

/** A declaration as a variant sees it: what its view says of it, or what is written, where it is nothing that a view holds. */
interface Seen {
  readonly placed: Placed;
  readonly declaration: Declaration;
  readonly statements: readonly Statement[];
}

function headOf({ placed, declaration }: Seen): string {
  const end = declaration.body?.start ?? declaration.end;
  return writtenText(placed, { start: declaration.start, end }).replace(/\s*\{$/, '');
}

function nameOf({ declaration }: Seen, own: boolean): string {
  const { word, name, path } = declaration;
  if (word === 'engine' || (word === 'spec' && own)) return '';
  return (word === 'use' ? path?.value : name?.text) ?? '';
}

/** The name of the spec itself, which other specs and records go by. */
function specName({ placed, declaration }: Seen): readonly Fact[] {
  if (declaration.name === undefined) return [];
  const { text } = declaration.name;
  return [
    {
      ...{ path: 'name', word: 'name', node: { value: text }, text, place: placeOf(placed, declaration.name) },
      ...{ ordered: false, label: undefined, statement: undefined },
    },
  ];
}

function itemOf(seen: Seen, own: boolean, sequence?: string, steps: readonly string[] = []): Item {
  const { placed, declaration } = seen;
  const { word } = declaration;
  const name = nameOf(seen, own);
  const key = [...(sequence === undefined ? [] : ['sequence', sequence]), word, ...(name === '' ? [] : [name])].join(
    '.',
  );
  const facts = factsOf(placed, declaration, seen.statements);
  return {
    ...{ word, name, key, placed, sequence, steps, own },
    facts: [
      ...(word === 'spec' && own ? specName(seen) : []),
      ...facts.filter((fact) => word !== 'use' || fact.word !== 'path'),
    ],
    place: placeOf(placed, declaration.name ?? declaration.wordSpan),
    head: headOf(seen),
  };
}

/** Words of declarations that a view holds as things, or as its engine and specs. */
const IN_VIEW: ReadonlySet<string> = new Set([
  ...['part', 'fastener', 'supply', 'grades', 'drive', 'valve-timing', 'limit', 'sequence', 'step', 'job'],
  ...['spec', 'engine', 'when'],
]);

/** The files of the specs that a spec is built on: it says all that they say, and that it uses them goes without saying. */
function basesIn(analysis: Analysis): ReadonlySet<string> {
  const specs = [analysis.file, ...analysis.used].flatMap((file) =>
    file.declarations.filter((placed) => placed.declaration.word === 'spec'),
  );
  const named = new Set(specs.map((spec) => spec.declaration.extends?.text));
  return new Set(specs.filter((spec) => named.has(spec.declaration.name?.text)).map((spec) => spec.file));
}

function usesBase({ declaration }: Placed, bases: ReadonlySet<string>): boolean {
  const name = declaration.path?.value.split('/').at(-1);
  return declaration.word === 'use' && name !== undefined && [...bases].some((file) => file.split('/').at(-1) === name);
}

/** What a view sees, in no order that means anything, and beside that what no view holds: records and uses. */
function seenIn(analysis: Analysis, view: BuiltView): readonly Seen[] {
  const written = (placed: Placed): Seen => ({
    placed,
    declaration: placed.declaration,
    statements: statementsFor(placed.declaration.body?.statements, view.variant),
  });
  const bases = basesIn(analysis);
  const rest = [analysis.file, ...analysis.used].flatMap((file) =>
    file.declarations.filter(
      (placed) => !IN_VIEW.has(placed.declaration.word) && holdsFor(placed, view.variant) && !usesBase(placed, bases),
    ),
  );
  const engines = view.engines.map((placed) => (view.engine?.placed === placed ? view.engine : written(placed)));
  return [
    ...[
      ...view.specs.filter(({ file }) => !bases.has(file)).map(written),
      ...engines,
      ...view.parts,
      ...view.fasteners,
      ...view.supplies,
      ...view.grades,
    ],
    ...[...view.drives, ...view.valveTimings, ...view.limits, ...view.jobs, ...rest.map(written)],
  ];
}

/** What stands outside all declarations of a file. */
function outsideOf(file: ReadFile, own: boolean): Item {
  const facts = file.sections.flatMap((section) => [
    ...section.loose.flatMap((loose) => outsideFacts({ file: file.file, ...loose })),
    ...section.every.flatMap(outsideFacts),
  ]);
  const place = { file: file.file, start: 0, end: 0 };
  const name = own ? '' : (file.file.split('/').at(-1) ?? '');
  return {
    word: 'file',
    name,
    key: 'file',
    placed: undefined,
    facts,
    sequence: undefined,
    steps: [],
    own,
    place,
    head: '',
  };
}

/** All of a spec, with the files that it uses, as a variant sees it. Two of one name are told apart by their number. */
export function itemsOf(analysis: Analysis, view: BuiltView): readonly Item[] {
  const isOwn = (placed: Placed): boolean => placed.file === analysis.file.file;
  const items = [
    ...[analysis.file, ...analysis.used].map((file) => outsideOf(file, file === analysis.file)),
    ...seenIn(analysis, view).map((seen) => itemOf(seen, isOwn(seen.placed))),
    ...view.sequences.flatMap((sequence) => [
      itemOf(
        sequence,
        isOwn(sequence.placed),
        undefined,
        sequence.steps.map((step) => step.name),
      ),
      ...sequence.steps.map((step) => itemOf(step, isOwn(step.placed), sequence.name)),
    ]),
  ];
  const seen = new Map<string, number>();
  const numbered = items.map((item) => {
    const id = idOf(item);
    const number = (seen.get(id) ?? 0) + 1;
    seen.set(id, number);
    return number === 1 ? item : { ...item, name: `${item.name} (${number})` };
  });
  // A sequence and the steps behind it name each other as they are called here.
  let own: Item | undefined;
  return numbered.map((item, i) => {
    if (item.word === 'step' && own !== undefined) return { ...item, sequence: own.name };
    own = item.word === 'sequence' ? item : undefined;
    const steps = numbered.slice(i + 1, i + 1 + item.steps.length).map((step) => step.name);
    return item.steps.length === 0 ? item : { ...item, steps };
  });
}

/** What an item is found again by: its word and its name, wherever it stands. */
export function idOf(item: Item): string {
  return `${item.word} ${item.name}`;
}
