// What a variant sees of a spec as a flat list: each declaration with its facts, steps with the sequence that they stand in.
import type { Analysis } from '../model/analysis.ts';
import type { FilePlace } from '../model/finding.ts';
import { holdsFor, type Placed, placeOf, type ReadFile, statementsFor } from '../model/placed.ts';
import { type Fact, factsOf, outsideFacts, writtenText } from './facts.ts';

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

function headOf(placed: Placed): string {
  const { declaration } = placed;
  const end = declaration.body?.start ?? declaration.end;
  return writtenText(placed, { start: declaration.start, end }).replace(/\s*\{$/, '');
}

function nameOf(placed: Placed, own: boolean): string {
  const { word, name, path } = placed.declaration;
  if (word === 'engine' || (word === 'spec' && own)) return '';
  return (word === 'use' ? path?.value : name?.text) ?? '';
}

function itemOf(placed: Placed, variant: string | undefined, own: boolean, sequence: string | undefined): Item {
  const { declaration } = placed;
  const { word } = declaration;
  const name = nameOf(placed, own);
  const key = [...(sequence === undefined ? [] : ['sequence', sequence]), word, ...(name === '' ? [] : [name])].join(
    '.',
  );
  const facts = factsOf(placed, variant);
  const named: readonly Fact[] =
    word === 'spec' && own && declaration.name !== undefined
      ? [
          {
            ...{ path: 'name', word: 'name', node: { value: declaration.name.text }, text: declaration.name.text },
            ...{ place: placeOf(placed, declaration.name), ordered: false, label: undefined, statement: undefined },
          },
        ]
      : [];
  const steps = word === 'sequence' ? stepsOf(placed, variant).map((step) => step.declaration.name?.text ?? '') : [];
  return {
    ...{ word, name, key, placed, sequence, steps, own },
    facts: [...named, ...facts.filter((fact) => word !== 'use' || fact.word !== 'path')],
    place: placeOf(placed, declaration.name ?? declaration.wordSpan),
    head: headOf(placed),
  };
}

function stepsOf(sequence: Placed, variant: string | undefined): readonly Placed[] {
  return statementsFor(sequence.declaration.body?.statements, variant).flatMap((each) => {
    const step = each.kind === 'hole' ? sequence.steps[each.hole] : undefined;
    return step === undefined || !holdsFor(step, variant) ? [] : [step];
  });
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
export function itemsOf(analysis: Analysis, variant: string | undefined): readonly Item[] {
  const items = [analysis.file, ...analysis.used].flatMap((file) => {
    const own = file === analysis.file;
    const declared = file.declarations
      .filter((placed) => holdsFor(placed, variant) && placed.declaration.word !== 'when')
      .flatMap((placed) => {
        const item = itemOf(placed, variant, own, undefined);
        const inner = item.word === 'sequence' ? stepsOf(placed, variant) : [];
        return [item, ...inner.map((step) => itemOf(step, variant, own, item.name))];
      });
    return [outsideOf(file, own), ...declared];
  });
  const seen = new Map<string, number>();
  return items.map((item) => {
    const id = idOf(item);
    const number = (seen.get(id) ?? 0) + 1;
    seen.set(id, number);
    return number === 1 ? item : { ...item, name: `${item.name} (${number})` };
  });
}

/** What an item is found again by: its word and its name, wherever it stands. */
export function idOf(item: Item): string {
  return `${item.word} ${item.name}`;
}
