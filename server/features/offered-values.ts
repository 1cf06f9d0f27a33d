// What is offered where a statement wants a value, a number or a path, and not a name or a word: threads, classes, orders, stages, dates,
// repair sizes, files to use.
import { told } from '../../grammar/told.ts';
import type { LimitClauses } from '../../grammar/tree.ts';
import type { ValueKind } from '../../grammar/vocabulary.ts';
import { strengthNames, strengthOf } from '../mechanics/strength.ts';
import { METRIC_PITCHES } from '../mechanics/thread-tables.ts';
import { parseThread } from '../mechanics/threads.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Thing } from '../model/view.ts';
import { pathBetween } from './moved-files.ts';
import type { Completion } from './offered.ts';
import { thingsOfKind } from './offered-names.ts';
import { thingOf } from './place-in-tree.ts';
import { placesTold } from './word-hover.ts';

/** Diameters in mm that engines are held together with. */
const USUAL_DIAMETERS = [5, 6, 7, 8, 10, 12, 14, 16, 18, 20, 22, 24];
const INCH_SIZES = ['1/4', '5/16', '3/8', '7/16', '1/2', '9/16', '5/8', '3/4'];

export function threads(inch: boolean): readonly Completion[] {
  const metric = USUAL_DIAMETERS.flatMap((diameter) =>
    (METRIC_PITCHES.get(diameter) ?? []).filter((pitch) => pitch > 0).map((pitch) => `M${diameter}x${pitch}`),
  );
  const unified = INCH_SIZES.flatMap((size) => [`${size} UNC`, `${size} UNF`]);
  const rows = (names: readonly string[], rank: number): Completion[] =>
    names.flatMap((label, order) => {
      const thread = parseThread(label);
      if (thread === undefined) return [];
      const help = told`Pitch ${Number(thread.pitch.toFixed(3))} mm, stress area ${thread.stressArea.toFixed(1)} mm².`;
      return [{ label, kind: 'choice', detail: told`thread`, help, rank, order }];
    });
  return [...rows(metric, inch ? 1 : 0), ...rows(unified, inch ? 0 : 1)];
}

/** Those of inch threads are named by a grade. */
export function classes(inch: boolean): readonly Completion[] {
  return strengthNames().flatMap((label, order): Completion[] => {
    const strength = strengthOf(label, 10);
    const help =
      strength === undefined
        ? told`A strength class.`
        : told`Proof ${Math.round(strength.proof)} MPa, yield ${Math.round(strength.yield)} MPa, tensile ${Math.round(strength.tensile)} MPa.`;
    return [
      {
        label,
        kind: 'choice',
        detail: told`strength class`,
        help,
        rank: label.startsWith('grade-') === inch ? 0 : 1,
        order,
      },
    ];
  });
}

/** Orders that are usual for so many cylinders. Common practice, no source; the crankshaft decides, and the check holds it against that. */
const USUAL_ORDERS: ReadonlyMap<number, readonly string[]> = new Map([
  [2, ['1-2']],
  [3, ['1-2-3', '1-3-2']],
  [4, ['1-3-4-2', '1-2-4-3', '1-4-3-2']],
  [5, ['1-2-4-5-3']],
  [6, ['1-5-3-6-2-4', '1-4-2-5-3-6', '1-2-3-4-5-6', '1-6-5-4-3-2']],
  [8, ['1-8-4-3-6-5-7-2', '1-5-4-8-6-3-7-2', '1-3-7-2-6-5-4-8']],
]);

export function firingOrders(analysis: Analysis): readonly Completion[] {
  const engine = analysis.views.find((view) => view.engine !== undefined)?.engine;
  const cylinders = engine?.statements.flatMap((each) => (each.kind === 'cylinders' ? [each.count.value] : []))[0];
  const orders =
    cylinders === undefined
      ? [...USUAL_ORDERS.values()].flat()
      : (USUAL_ORDERS.get(cylinders) ?? [Array.from({ length: Math.min(cylinders, 24) }, (_, i) => i + 1).join('-')]);
  const help = told`An order that is usual; the crankpins decide whether it fits.`;
  return orders.map((label) => ({ label, kind: 'choice', detail: told`firing order`, help, rank: 0 }));
}

/** The stages of a fastener by number, with what each says. */
export function stagesOf(analysis: Analysis, name: string): readonly Completion[] {
  const thing = thingOf(analysis, name);
  if (thing?.kind !== 'fastener') return [];
  return thing.stages.map((stage, i) => ({
    label: String(i + 1),
    kind: 'choice',
    detail: told`stage`,
    help: thing.placed.section.text.slice(stage.span.start, stage.span.end),
    rank: 0,
  }));
}

/** A day as records have it: `2026-03-04`. */
export function dayOf(now: Date): string {
  const two = (number: number): string => String(number).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

export function today(): readonly Completion[] {
  const label = dayOf(new Date());
  return [{ label, kind: 'choice', detail: told`today`, help: told`The day of today.`, rank: 0 }];
}

export function sizesOf(thing: Thing | undefined): readonly Completion[] {
  if (thing?.kind !== 'part') return [];
  return [...thing.sizes].map(([label, statement]) => ({
    label,
    kind: 'feature',
    detail: told`repair size of ${thing.name}`,
    help: thing.placed.section.text.slice(statement.start, statement.end),
    rank: 0,
  }));
}

export function gradesOf(thing: Thing | undefined): readonly Completion[] {
  if (thing?.kind !== 'grades') return [];
  return thing.rows.map((row) => ({
    label: row.name.text,
    kind: 'feature',
    detail: told`grade of ${thing.name}`,
    help: told`A grade of ${thing.name}.`,
    rank: 0,
  }));
}

/** The named places of a part, or of the part that a fastener is for. */
export function placesOfThing(analysis: Analysis, name: string): readonly Completion[] {
  const thing = thingOf(analysis, name);
  const part = thing?.kind === 'fastener' && thing.each !== undefined ? thingOf(analysis, thing.each) : thing;
  if (part?.kind !== 'part') return [];
  return part.places.flatMap(({ name: label, count, into }): Completion[] =>
    label === undefined
      ? []
      : [
          {
            label,
            kind: 'feature',
            detail: told`place of ${part.name}`,
            help: told`${told.capital(placesTold(count, into))}.`,
            rank: 0,
          },
        ],
  );
}

/** Sizes of all parts as a value of the engine names them, those called like the statement first. */
export function sizesFor(analysis: Analysis, word: string): readonly Completion[] {
  const parts = analysis.views.flatMap((view) => thingsOfKind(view, 'part').map((part) => [part.name, part] as const));
  return [...new Map(parts).values()].flatMap((thing) =>
    thing.kind !== 'part'
      ? []
      : [...thing.dimensions.keys()].map((name) => ({
          label: `${thing.name}.${name}`,
          kind: 'feature' as const,
          detail: told`size`,
          help: thing.placed.section.text.slice(
            thing.dimensions.get(name)?.statement.start ?? 0,
            thing.dimensions.get(name)?.statement.end ?? 0,
          ),
          rank: word.includes(name) || name.includes(word) ? 0 : 1,
        })),
  );
}

const KIND_UNITS: ReadonlyMap<string, readonly ValueKind[]> = new Map<string, readonly ValueKind[]>([
  ['compression', []],
  ['spring-load', ['force', 'mass']],
  ['volume', ['volume']],
  ['unbalance', ['unbalance', 'mass']],
  ['valve-lash', ['length']],
  ['other', ['any']],
]);

/** The kinds of unit that the bounds of a limit have, by its kind; all where none is said. */
export function kindsOfLimit(limit: LimitClauses | undefined): readonly ValueKind[] {
  const kind = limit?.kind?.word;
  return kind === undefined ? ['any'] : (KIND_UNITS.get(kind) ?? ['length', 'angle']);
}

/** The files and libraries that a `use` may name from this file. */
export function usable(file: string, files: readonly string[], libraries: readonly string[]): readonly Completion[] {
  const paths = files.flatMap((each) => (each === file ? [] : (pathBetween(file, each) ?? [])));
  return [
    ...paths.map(
      (label): Completion => ({
        label,
        kind: 'choice',
        detail: told`spec`,
        help: told`A spec of this folder.`,
        rank: label.startsWith('..') ? 1 : 0,
      }),
    ),
    ...libraries.map(
      (name): Completion => ({
        label: `fettle:${name}`,
        kind: 'choice',
        detail: told`library`,
        help: told`Declarations that ship with Fettle.`,
        rank: 2,
      }),
    ),
  ];
}
