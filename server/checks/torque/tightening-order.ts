// The drawn order of tightening: each number once, and from the middle outward.
import { type Argument, told } from '../../../grammar/told.ts';
import type { TighteningOrder } from '../../../grammar/tree.ts';
import { isWhole, type NumberFaults, numberFaults } from '../../mechanics/firing-order.ts';
import { acrossTheCircle, fromTheMiddle } from '../../mechanics/tightening-pattern.ts';
import type { Fastener, View } from '../../model/view.ts';
import type { Extra, Report, ThingCheck } from '../check.ts';
import { inWords } from '../support.ts';
import fromEndPage from './order-from-end.md';
import roundPage from './order-round.md';
import page from './tightening-order.md';

/** How many bolts the drawing must show: all, or those for each part where it is drawn for each, or where the count is for each. */
function wanted(fastener: Fastener, order: TighteningOrder, view: View): readonly number[] {
  if (order.over !== undefined) {
    const part = view.things.get(order.over.owner.text);
    return part?.kind === 'part' ? [part.count] : [];
  }
  if (order.with !== undefined) {
    const others = order.with.map((each) => view.things.get(each.fastener.text));
    const counts = others.map((other) => (other?.kind === 'fastener' ? other.count : Number.NaN));
    const all = counts.reduce((sum, count) => sum + count, fastener.count);
    return Number.isNaN(all) ? [] : [all];
  }
  if (order.each === undefined) return [fastener.count];
  if (fastener.each === order.each.owner.text) return [fastener.count];
  const part = view.things.get(order.each.owner.text);
  if (part?.kind !== 'part') return [];
  return fastener.count % part.count === 0 ? [fastener.count / part.count, fastener.count] : [fastener.count];
}

/** What the drawing shows, in words: the bolts, the caps, bolts of several kinds. */
function shownBy(fastener: Fastener, order: TighteningOrder): Argument {
  if (order.over !== undefined) return told.named(order.over.owner.text, 'part');
  const bolts = inWords([
    told.thing(fastener),
    ...(order.with ?? []).map((other) => told.named(other.fastener.text, 'fastener')),
  ]);
  return order.each === undefined ? bolts : told`${bolts} on each ${told.named(order.each.owner.text, 'part')}`;
}

type Fixes = NonNullable<Extra['fixes']>;

/** All of them numbered anew; undefined where more or fewer are drawn than there are. */
function renumbered({ placed }: Fastener, order: TighteningOrder, count: number): Fixes {
  const rows = order.rows;
  const [first, last] = [rows[0]?.[0], rows.at(-1)?.at(-1)];
  if (first === undefined || last === undefined || rows.flat().length !== count) return [];
  // Signs such as ½ are two numbers in one place: nobody can put one of them right alone.
  if (new Set(rows.flat().map((each) => each.start)).size !== count) return [];
  const numbers = fromTheMiddle(rows.map((row) => row.length));
  const edits = rows.flatMap((row, i) =>
    row.map((each, at) => ({ placed, span: each, text: String(numbers[i]?.[at] ?? each.value) })),
  );
  return [{ title: told`Number them from the middle outward: check it with the maker's manual`, edits }];
}

/** Where one number lacks and one is there twice, either of the two may be meant for it; and one beyond the count is meant for it. */
function numberFixes(fastener: Fastener, order: TighteningOrder, faults: NumberFaults, count: number): Fixes {
  const { placed } = fastener;
  const [missing] = faults.missing;
  const wrong = [...faults.twice, ...faults.beyond];
  if (missing === undefined || faults.missing.length > 1 || wrong.length !== 1)
    return renumbered(fastener, order, count);
  const isRows = order.rows.length > 1;
  const fixes = order.rows.flatMap((row, i) =>
    row.flatMap((each, at) =>
      wrong.includes(each.value)
        ? [
            {
              title: isRows
                ? told`Change the ${each.value} at place ${at + 1} of row ${i + 1} to ${missing}`
                : told`Change the ${each.value} at place ${at + 1} to ${missing}`,
              edits: [{ placed, span: each, text: String(missing) }],
            },
          ]
        : [],
    ),
  );
  return fixes;
}

export const tighteningOrder: ThingCheck<'fastener'> = {
  code: 'torque/tightening-order',
  severity: 'error',
  scope: 'thing',
  of: ['fastener'],
  page,
  run(thing, view, report) {
    if (thing.placed.declaration.broken) return;
    for (const order of thing.orders) {
      numbersOf(thing, order, view, report);
      stageOf(thing, order, report);
      turnsOf(thing, order, view, report);
    }
  },
};

/** Each number of a drawing once. */
function numbersOf(thing: Fastener, order: TighteningOrder, view: View, report: Report): void {
  const counts = wanted(thing, order, view);
  const count = counts[0];
  const numbers = order.rows.flat().map((each) => each.value);
  if (count === undefined || counts.some((each) => isWhole(numberFaults(numbers, each)))) return;
  const faults = numberFaults(numbers, count);
  const said = [
    ...(faults.missing.length > 0
      ? [
          faults.missing.length === 1
            ? told`${faults.missing[0] ?? 0} is missing`
            : told`${inWords(faults.missing)} are missing`,
        ]
      : []),
    ...(faults.twice.length > 0
      ? [
          faults.twice.length === 1
            ? told`${faults.twice[0] ?? 0} is there twice`
            : told`${inWords(faults.twice)} are there twice`,
        ]
      : []),
    ...(faults.beyond.length > 0 ? [told`there is no number ${inWords(faults.beyond, 'or')}`] : []),
  ];
  const again = order.rows
    .flat()
    .find((each) => faults.beyond.includes(each.value) || faults.twice.includes(each.value));
  report(
    thing.placed,
    again ?? order.wordSpan,
    told`The order must show each of 1 to ${count} once: there are ${count} of ${shownBy(thing, order)}. ${told.capital(inWords(said))}.`,
    { fixes: numberFixes(thing, order, faults, count) },
  );
}

/** An order for a stage that there is. */
function stageOf(thing: Fastener, { stage }: TighteningOrder, report: Report): void {
  const last = thing.stages.length;
  if (stage === undefined || last === 0 || (stage.value >= 1 && stage.value <= last)) return;
  report(
    thing.placed,
    stage,
    last === 1
      ? told`${told.thing(thing)} has one stage; there is no stage ${stage.value}.`
      : told`${told.thing(thing)} has ${last} stages; there is no stage ${stage.value}.`,
  );
}

/** As many figures for another kind of bolt as there are of it. */
function turnsOf(thing: Fastener, order: TighteningOrder, view: View, report: Report): void {
  for (const { fastener, turns } of order.with ?? []) {
    const other = view.things.get(fastener.text);
    if (other?.kind !== 'fastener' || turns.length === 0 || turns.length === other.count) continue;
    report(
      thing.placed,
      fastener,
      told`There are ${other.count} of ${told.thing(other)}, and ${turns.length} of the figures in the order are said to be theirs.`,
    );
  }
}

export const orderFromEnd: ThingCheck<'fastener'> = {
  code: 'torque/order-from-end',
  severity: 'warning',
  scope: 'thing',
  of: ['fastener'],
  page: fromEndPage,
  run(thing, _view, report) {
    for (const each of thing.orders) if (each.over !== undefined) sayCapsFromEnd(thing, each, report);
    const order = thing.orders.find((each) => !each.circle && each.over === undefined && each.rows.length === 2);
    if (order === undefined) return;
    const rows = order.rows;
    if (rows.some((row) => row.length < 4)) return;
    const first = rows
      .flatMap((row) =>
        row.map((each, at) => ({ number: each.value, fromEnd: Math.min(at, row.length - 1 - at), span: each })),
      )
      .find((each) => each.number === 1);
    if (first === undefined || first.fromEnd > 0) return;
    report(
      thing.placed,
      first.span,
      told`${told.thing(thing)} is tightened from an end: number 1 is the outermost. A face this long is tightened from the middle outward, so that it is not clamped hollow. See the maker's manual.`,
      { fixes: renumbered(thing, order, rows.flat().length) },
    );
  },
};

/** Caps one after the other from one end: the shaft is bowed before the middle is down. Common practice, no source. */
function sayCapsFromEnd(thing: Fastener, order: TighteningOrder, report: Report): void {
  const numbers = order.rows.flat();
  const first = numbers.find((each) => each.value === 1);
  if (first === undefined || numbers.length < 4 || order.rows.length > 1 || !goesRound(numbers, false)) return;
  report(
    thing.placed,
    first,
    told`${told.thing(thing)} goes from cap to cap from an end. Caps are pulled down from the middle outward, so that the shaft lies straight. See the maker's manual.`,
    { fixes: renumbered(thing, order, numbers.length) },
  );
}

/** Whether each number stands beside the one before it; `closed` where the last place is beside the first. */
function goesRound(numbers: readonly { readonly value: number }[], closed: boolean): boolean {
  const places = numbers.map((each, at) => [each.value, at] as const).sort(([one], [other]) => one - other);
  const steps = places.slice(1).map(([, at], i) => at - (places[i]?.[1] ?? 0));
  const one = (step: number): number => (closed ? (step + numbers.length) % numbers.length : step);
  return steps.every((step) => one(step) === 1) || steps.every((step) => one(-step) === 1);
}

export const orderRound: ThingCheck<'fastener'> = {
  code: 'torque/order-round',
  severity: 'warning',
  scope: 'thing',
  of: ['fastener'],
  page: roundPage,
  run(thing, _view, report) {
    for (const order of thing.orders) {
      const numbers = order.rows.flat();
      const [first] = numbers;
      if (order.circle !== true || first === undefined || numbers.length < 4 || !goesRound(numbers, true)) continue;
      if (
        !isWhole(
          numberFaults(
            numbers.map((each) => each.value),
            numbers.length,
          ),
        )
      )
        continue;
      const across = acrossTheCircle(numbers.length);
      const edits = numbers.map((each, at) => ({
        placed: thing.placed,
        span: each,
        text: String(across[at] ?? each.value),
      }));
      report(
        thing.placed,
        first,
        told`${told.thing(thing)} is tightened round the circle, each bolt beside the one before. A round joint is pulled down crosswise, so that it is not tilted. See the maker's manual.`,
        { fixes: [{ title: told`Number them crosswise: check it with the maker's manual`, edits }] },
      );
    }
  },
};
