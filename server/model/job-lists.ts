// What follows from the steps of a job: what has to be bought, what is sent out, which tools are laid out. Plain data; how it is shown
// stands elsewhere.
import type { Action, PlainValue, Statement, Value } from '../../grammar/tree.ts';
import { compare, toNumber } from '../mechanics/exact.ts';
import { kindOf } from '../mechanics/units.ts';
import { tableOf } from './brought-sizes.ts';
import { countOfFastener } from './feature-places.ts';
import { type Measure, measureOf, plainValues } from './measure.ts';
import { flagIn } from './statements.ts';
import { textOf } from './value-text.ts';
import type { Fastener, Part, Sequence, Supply, View } from './view.ts';

/** One thing to buy. */
export interface ToBuy {
  readonly name: string;
  readonly title: string | undefined;
  /** How many; undefined for a supply. */
  readonly count: number | undefined;
  readonly amount: string | undefined;
  /** What the supplier calls it. */
  readonly number: string | undefined;
  readonly why: 'single-use' | 'renewed' | 'used up' | 'chosen';
  /** What it is chosen by, and the grades that there are, where a table of grades chooses it. */
  readonly grades?: { readonly by: string | undefined; readonly names: readonly string[] };
  /** What is said of it where it is on order. */
  readonly onOrder: string | undefined;
}

/** One thing to send out, or to machine. */
export interface ToSend {
  readonly what: string;
  readonly size: string | undefined;
  /** The size that is asked for, as it is written. */
  readonly asked: string | undefined;
  readonly by: string | undefined;
  /** It is hardened: what is ground off may have to be hardened again. */
  readonly heatTreated?: true;
  readonly step: string;
}

/** The torques that a wrench must reach, each with the fastener that asks for it. */
export interface WrenchSpan {
  readonly least: string;
  readonly leastOf: string;
  readonly most: string;
  readonly mostOf: string;
}

export interface JobLists {
  readonly buy: readonly ToBuy[];
  readonly send: readonly ToSend[];
  readonly wrench: WrenchSpan | undefined;
  /** Fasteners with a stage that turns by an angle. */
  readonly byAngle: readonly string[];
  /** Fasteners that are tightened by how much longer they get. */
  readonly byStretch: readonly string[];
  readonly tools: readonly string[];
}

const GO_ON: ReadonlySet<string> = new Set(['fit', 'tighten', 'snug', 'renew']);

function numberOf(statements: readonly Statement[]): string | undefined {
  const found = statements.find((each) => each.kind === 'text' && each.word === 'number');
  return found?.kind === 'text' ? found.text.value : undefined;
}

function orderOf(thing: Part | Fastener | Supply): string | undefined {
  const found = thing.statements.find((each) => each.kind === 'text' && each.word === 'on-order');
  return found?.kind === 'text' ? found.text.value : undefined;
}

/** A value as it is written, place by place. */
function written(value: Value): string {
  return plainValues(value).map(textOf).join('; ');
}

function thingsIn(actions: readonly Action[], view: View): readonly (Part | Fastener)[] {
  const things = actions.flatMap((action) => action.targets.map((target) => view.things.get(target.owner.text)));
  return [...new Set(things.filter((thing) => thing?.kind === 'part' || thing?.kind === 'fastener'))];
}

function partsToBuy(actions: readonly Action[], view: View): readonly ToBuy[] {
  const renewed = new Set(
    thingsIn(
      actions.filter((each) => each.word === 'renew'),
      view,
    ),
  );
  const goingOn = thingsIn(
    actions.filter((each) => GO_ON.has(each.word)),
    view,
  );
  return goingOn.flatMap((thing): ToBuy[] => {
    const onOrder = orderOf(thing);
    if (!thing.singleUse && !renewed.has(thing) && onOrder === undefined) return [];
    return [
      {
        ...gradesOf(thing.name, view),
        name: thing.name,
        title: thing.title,
        count: thing.kind === 'part' ? Math.max(1, thing.count) : countOfFastener(thing, view),
        amount: undefined,
        number: numberOf(thing.statements),
        why: thing.singleUse ? 'single-use' : 'renewed',
        onOrder,
      },
    ];
  });
}

/** What chooses a part, where a table of grades of its name does. */
function gradesOf(name: string, view: View): Pick<ToBuy, 'grades'> {
  const table = tableOf(name, view);
  return table === undefined
    ? {}
    : { grades: { by: table.by?.owner.text, names: table.rows.map((row) => row.name.text) } };
}

/** Tables of grades that stand for a part themselves: which of it goes in is known once it is measured. */
function gradesToHave(actions: readonly Action[], view: View): readonly ToBuy[] {
  const names = new Set(
    actions.filter((each) => GO_ON.has(each.word)).flatMap((each) => each.targets.map(({ owner }) => owner.text)),
  );
  return view.grades.flatMap((table): ToBuy[] =>
    !names.has(table.name) || view.things.get(table.name)?.kind === 'part'
      ? []
      : [
          {
            ...gradesOf(table.name, view),
            name: table.name,
            title: table.title,
            count: undefined,
            amount: undefined,
            number: numberOf(table.statements),
            why: 'chosen',
            onOrder: undefined,
          },
        ],
  );
}

function suppliesToBuy(actions: readonly Action[], view: View): readonly ToBuy[] {
  const used = new Map<Supply, Set<string>>();
  for (const { with: reference, amount } of actions) {
    const supply = reference === undefined ? undefined : view.things.get(reference.owner.text);
    if (supply?.kind !== 'supply') continue;
    const amounts = used.get(supply) ?? new Set();
    if (amount !== undefined) amounts.add(written(amount));
    used.set(supply, amounts);
  }
  return [...used].map(([supply, amounts]): ToBuy => {
    const said = supply.statements.flatMap((each) =>
      each.kind === 'value' && each.word === 'amount' ? [written(each.value)] : [],
    );
    const all = said.length > 0 ? said : [...amounts];
    return {
      name: supply.name,
      title: supply.title,
      count: undefined,
      amount: all.length === 0 ? undefined : all.join(' and '),
      number: numberOf(supply.statements),
      why: 'used up',
      onOrder: orderOf(supply),
    };
  });
}

/** The size that a feature has in a repair size, or as standard where no size is named. */
function askedFor(part: Part | undefined, feature: string | undefined, size: string | undefined): string | undefined {
  if (part === undefined || feature === undefined) return undefined;
  const repair = size === undefined ? undefined : part.sizes.get(size);
  const inSize =
    repair?.kind === 'size'
      ? repair.body?.statements.find((each) => each.kind === 'dimension' && each.name.text === feature)
      : undefined;
  const value =
    inSize?.kind === 'dimension' ? inSize.value : size === undefined ? part.dimensions.get(feature)?.value : undefined;
  return value === undefined ? undefined : written(value);
}

function toSend(sequences: readonly Sequence[], view: View): readonly ToSend[] {
  return sequences.flatMap((sequence) =>
    sequence.steps.flatMap((step) =>
      step.statements.flatMap((each): ToSend[] =>
        each.kind !== 'action' || each.word !== 'machine'
          ? []
          : each.targets.map(({ owner, feature }): ToSend => {
              const part = view.things.get(owner.text);
              return {
                what: feature === undefined ? owner.text : `${owner.text}.${feature.text}`,
                size: each.to?.text,
                asked: askedFor(part?.kind === 'part' ? part : undefined, feature?.text, each.to?.text),
                by: each.byText?.value,
                ...(part?.kind === 'part' && flagIn(part.statements, 'heat-treated') ? { heatTreated: true } : {}),
                step: step.title ?? step.name,
              };
            }),
      ),
    ),
  );
}

interface Asked {
  readonly measure: Measure;
  readonly value: PlainValue;
  readonly of: string;
}

/** The stages that an action asks for: up to the one that is named, or the retorque alone. */
function stagesOf(action: Action, fastener: Fastener): readonly (Value | undefined)[] {
  const retorque = fastener.statements.find((each) => each.kind === 'retorque');
  if (action.again === true && retorque !== undefined) return [retorque.stage.value];
  const stages = fastener.stages.slice(0, action.stage?.value ?? fastener.stages.length);
  return [...stages.map((stage) => stage.value), fastener.drawUp?.value];
}

function wrenchSpan(asked: readonly Asked[]): WrenchSpan | undefined {
  const [first] = asked;
  if (first === undefined) return undefined;
  const least = asked.reduce((low, each) =>
    compare(each.measure.interval.low, low.measure.interval.low) < 0 ? each : low,
  );
  const most = asked.reduce((high, each) =>
    compare(each.measure.interval.high, high.measure.interval.high) > 0 ? each : high,
  );
  return { least: textOf(least.value), leastOf: least.of, most: textOf(most.value), mostOf: most.of };
}

/** A tool is what a step names as one, what something is measured or held with, and the pin of what is held back. */
function toolsOf(statements: readonly Statement[], view: View): readonly string[] {
  const tools = new Set<string>();
  for (const each of statements) {
    if (each.kind === 'text' && each.word === 'tool') tools.add(each.text.value);
    if (each.kind !== 'action') continue;
    if (each.withText !== undefined) tools.add(each.withText.value);
    else if (each.word === 'hold-back')
      for (const target of each.targets) for (const text of heldBackWith(view, target.owner.text)) tools.add(text);
  }
  return [...tools].sort((a, b) => (a < b ? -1 : 1));
}

/** What a part is held back with, as its declaration says. */
export function heldBackWith(view: View, name: string): readonly string[] {
  const part = view.things.get(name);
  return part?.kind !== 'part'
    ? []
    : part.statements.flatMap((each) => (each.kind === 'text' && each.word === 'held-back' ? [each.text.value] : []));
}

/** The lists of some sequences of work. */
export function listsOf(sequences: readonly Sequence[], view: View): JobLists {
  const statements = sequences.flatMap((sequence) => sequence.steps.flatMap((step) => step.statements));
  const actions = statements.filter((each) => each.kind === 'action');
  const asked: Asked[] = [];
  const byAngle = new Set<string>();
  const byStretch = new Set<string>();
  for (const action of actions) {
    if (action.word !== 'tighten') continue;
    for (const target of action.targets) {
      const fastener = view.things.get(target.owner.text);
      if (fastener?.kind !== 'fastener') continue;
      if (fastener.statements.some((each) => each.word === 'stretch')) byStretch.add(fastener.name);
      for (const value of plainStages(stagesOf(action, fastener))) {
        const measure = measureOf(value);
        const kind = measure === undefined ? undefined : kindOf(measure.unit);
        if (kind === 'angle') byAngle.add(fastener.name);
        if (measure !== undefined && kind === 'torque' && toNumber(measure.interval.high) > 0)
          asked.push({ measure, value, of: fastener.name });
      }
    }
  }
  return {
    buy: [...partsToBuy(actions, view), ...gradesToHave(actions, view), ...suppliesToBuy(actions, view)],
    send: toSend(sequences, view),
    wrench: wrenchSpan(asked),
    byAngle: [...byAngle],
    byStretch: [...byStretch],
    tools: toolsOf(statements, view),
  };
}

function plainStages(values: readonly (Value | undefined)[]): readonly PlainValue[] {
  return values.flatMap((value) => plainValues(value));
}
