// How many there are of a part, against the cylinders, the valves, the journals that it goes with, and halves and nuts against their other
// halves and studs. Only what has to come out even is said: an engine may have one spring or two to a valve, and no engine seven to eight.
// Common practice, no source.
import { told } from '../../../grammar/told.ts';
import type { Span } from '../../../grammar/tree.ts';
import { parseThread } from '../../mechanics/threads.ts';
import { eachPartOfKind } from '../../model/by-kind.ts';
import { isA, type TradeKind } from '../../model/trade-names.ts';
import type { Fastener, Part, View } from '../../model/view.ts';
import { clampedIn } from '../../rehearsal/at-the-bench.ts';
import { type Extra, nameSpan, type Report, type ThingCheck } from '../check.ts';
import { change } from '../support.ts';
import page from './counts.md';

/** As many as cylinders, or a multiple: of all parts of the kind together. */
const PER_CYLINDER = [
  ...(['piston', 'rod', 'rod-cap', 'piston-pin', 'liner', 'injector', 'spark-plug', 'glow-plug', 'valve'] as const),
  ...(['injector-washer', 'small-end', 'chamber'] as const),
] satisfies readonly TradeKind[];
/** Of these each part is counted by itself: rings, pipes to the injectors, studs that hold one cylinder. */
const RINGS =
  /^(?:(?:piston|top|first|second|third|middle|lower|oil|oil-control|compression|scraper)-ring|(?:injection|injector|delivery)-pipe|(?:cylinder|barrel)-stud)s?$/;
/** Comes out even on the valves. */
const PER_VALVE: readonly TradeKind[] = [
  ...(['valve-spring', 'spring-retainer', 'collet', 'stem-seal', 'rocker', 'lifter', 'pushrod', 'lash-shim'] as const),
];

/** Diameters in mm that are one. */
const SAME = 0.2;

const comesOut = (one: number, other: number): boolean => one % other === 0 || other % one === 0;

/** Where the count of a thing is written, else its name. */
const countSpan = (thing: Part | Fastener): Span => thing.declaration.count ?? nameSpan(thing.placed);

/** Writes the nearest count that comes out even. */
function putRight(thing: Part | Fastener, other: number): Extra {
  const { count } = thing.declaration;
  if (count === undefined) return {};
  const right = Math.max(1, Math.round(thing.count / other)) * other;
  return { fixes: [change(thing.placed, count, `x${right}`)] };
}

/** All of a kind together; undefined where one of them does not say how many there are. */
function allOf(kind: TradeKind, view: View): number | undefined {
  const parts = eachPartOfKind(view, kind);
  if (parts.length === 0 || (parts.length === 1 && parts[0]?.count === 1)) return undefined;
  return parts.reduce((sum, part) => sum + part.count, 0);
}

const firstOfKind = (kind: TradeKind, thing: Part, view: View): boolean =>
  eachPartOfKind(view, kind)[0]?.name === thing.name;

/** The cylinders, where all counts of a kind go by them. A rod of a radial engine carries the others, so that it has the only cap. */
function cylindersFor(kind: TradeKind | undefined, view: View): number | undefined {
  const engine = view.engine;
  if (engine === undefined || (engine.layout === 'radial' && kind === 'rod-cap')) return undefined;
  return engine.cylinders === 0 ? undefined : engine.cylinders;
}

function sayCylinders(thing: Part | Fastener, count: number, cylinders: number, report: Report): void {
  report(
    thing.placed,
    countSpan(thing),
    count === thing.count
      ? told`${told.thing(thing)} is there ${count} times, which does not come out even on ${cylinders} cylinders. See which of the two is wrong.`
      : told`${told.thing(thing)} and its like are there ${count} times, which does not come out even on ${cylinders} cylinders. See which of them is wrong.`,
    count === thing.count ? putRight(thing, cylinders) : {},
  );
}

/** Pistons, rods, plugs: by the cylinders. */
function byCylinders(thing: Part | Fastener, view: View, report: Report): void {
  if (thing.kind === 'fastener') {
    if (
      !(isA(thing, 'spark-plug', 'glow-plug') || RINGS.test(thing.name)) ||
      thing.each !== undefined ||
      thing.eachOf.length > 0
    )
      return;
    const cylinders = cylindersFor(undefined, view);
    if (cylinders !== undefined && thing.count > 1 && !comesOut(thing.count, cylinders))
      sayCylinders(thing, thing.count, cylinders, report);
    return;
  }
  if (RINGS.test(thing.name)) {
    const cylinders = cylindersFor(undefined, view);
    if (cylinders !== undefined && thing.count > 1 && thing.count % cylinders !== 0)
      sayCylinders(thing, thing.count, cylinders, report);
    return;
  }
  const kind = PER_CYLINDER.find((each) => isA(thing, each));
  if (kind === undefined || !firstOfKind(kind, thing, view)) return;
  const cylinders = cylindersFor(kind, view);
  const count = allOf(kind, view);
  if (cylinders !== undefined && count !== undefined && count % cylinders !== 0)
    sayCylinders(thing, count, cylinders, report);
}

/** Springs, collets, lifters: by the valves. */
function byValves(thing: Part, view: View, report: Report): void {
  if (thing.count === 1 || !PER_VALVE.some((kind) => isA(thing, kind))) return;
  const valves = allOf('valve', view);
  const cylinders = cylindersFor(undefined, view);
  // Valves that do not come out even themselves are said, and no more.
  if (valves === undefined || (cylinders !== undefined && valves % cylinders !== 0)) return;
  if (comesOut(thing.count, valves)) return;
  report(
    thing.placed,
    countSpan(thing),
    told`${told.thing(thing)} is there ${thing.count} times, which does not come out even on ${valves} valves. See which of the two is wrong.`,
    putRight(thing, valves),
  );
}

/** The journals that the crankshaft says it runs in. */
function mainJournals(view: View): number | undefined {
  const cranks = eachPartOfKind(view, 'crankshaft');
  const count = cranks.length === 1 ? cranks[0]?.dimensions.get('main-journal')?.count : undefined;
  return count === undefined || count === 1 ? undefined : count;
}

/** Whether the block, or what stands for it, has as many bearing bores. */
function boresAgree(journals: number, view: View): boolean {
  return eachPartOfKind(view, 'block').some((block) => block.dimensions.get('main-bore')?.count === journals);
}

/** Upper and lower shells, and main caps, by the journals. */
function byJournals(thing: Part, view: View, report: Report): void {
  if (isA(thing, 'shell') && !isA(thing, 'thrust', 'cam-bearing')) {
    const half = (name: string): number | undefined => thing.places.find((group) => group.name === name)?.count;
    const [upper, lower] = [half('upper'), half('lower')];
    if (upper === undefined || lower === undefined || upper === lower) return;
    report(
      thing.placed,
      nameSpan(thing.placed),
      told`${told.thing(thing)} has ${upper} upper and ${lower} lower places, and the halves of a bearing go in pairs. See which of the two is wrong.`,
    );
    return;
  }
  if (!isA(thing, 'main-cap') || thing.count === 1 || eachPartOfKind(view, 'main-cap').length !== 1) return;
  const journals = mainJournals(view);
  // An end that runs in a plate or a half of the case has no cap, and no bore in the block.
  if (journals === undefined || journals === thing.count || !boresAgree(journals, view)) return;
  report(
    thing.placed,
    countSpan(thing),
    told`${told.thing(thing)} is there ${thing.count} times, and the crankshaft runs in ${journals} main bearings. See which of the two is wrong.`,
    putRight(thing, journals),
  );
}

/** The fasteners that clamp a part, each once. */
const clampersOf = ({ name }: Part, view: View): readonly Fastener[] => [
  ...new Set(clampedIn(view, name).filter((each) => view.things.get(each.name) === each)),
];

/** The bolts of caps: as many for each. */
function byCaps(thing: Part, view: View, report: Report): void {
  if (!isA(thing, 'cap') || thing.count === 1 || thing.places.some((group) => group.name !== undefined)) return;
  const bolts = clampersOf(thing, view);
  const [first] = bolts;
  if (first === undefined || bolts.some((bolt) => bolt.each !== undefined || bolt.eachOf.length > 0)) return;
  if (bolts.some((bolt) => bolt.clamps.some((clamp) => clamp.part === thing.name && clamp.places.length > 0))) return;
  const count = bolts.reduce((sum, bolt) => sum + bolt.count, 0);
  if (count % thing.count === 0 || count < thing.count) return;
  report(
    first.placed,
    countSpan(first),
    told`${count} of ${told.thing(first)} do not come out even on ${thing.count} of ${told.thing(thing)}. See which of the two is wrong.`,
    bolts.length === 1 ? putRight(first, thing.count) : {},
  );
}

/** A bearing cap that a single bolt would hold, and which would turn about it. */
function byOneBolt(thing: Part, view: View, report: Report): void {
  if (!isA(thing, 'main-cap', 'rod-cap', 'cam-cap')) return;
  const bolts = clampersOf(thing, view);
  const [first] = bolts;
  if (first === undefined || bolts.length > 1 || first.each !== thing.name || first.count > 1) return;
  if (first.eachOf.length > 1) return;
  report(
    first.placed,
    countSpan(first),
    told`One ${told.thing(first)} for each ${told.thing(thing)}: a bearing cap is held on both sides. See how many there are.`,
  );
}

/** `exhaust-nut` goes on `exhaust-stud`: one on each. */
function byStuds(thing: Fastener, view: View, report: Report): void {
  const stem = /^(.+)-nut$/.exec(thing.name)?.[1];
  const stud = stem === undefined ? undefined : view.things.get(`${stem}-stud`);
  if (stud?.kind !== 'fastener' || stud.thread === undefined || thing.thread === undefined) return;
  const [own, its] = [parseThread(thing.thread), parseThread(stud.thread)];
  // A stud may have another pitch at its other end.
  if (own !== undefined && its !== undefined && Math.abs(own.diameter - its.diameter) > SAME) {
    report(
      thing.placed,
      nameSpan(thing.placed),
      told`${told.thing(thing)} is ${own.designation}, and ${told.thing(stud)} is ${its.designation}: it does not go on. See which of the two is wrong.`,
      {
        related: [
          { placed: stud.placed, span: nameSpan(stud.placed), message: told`${told.thing(stud)} is declared here` },
        ],
      },
    );
    return;
  }
  if (stud.each !== thing.each || stud.count === thing.count) return;
  if (stud.thread !== thing.thread || stud.count === 1 || thing.count === 1) return;
  report(
    thing.placed,
    countSpan(thing),
    told`${told.thing(thing)} is there ${thing.count} times, and ${told.thing(stud)}, which has its thread, ${stud.count} times. See which of the two is wrong.`,
    {
      ...putRight(thing, stud.count),
      related: [{ placed: stud.placed, span: countSpan(stud), message: told`${told.thing(stud)} is declared here` }],
    },
  );
}

export const counts: ThingCheck<'part' | 'fastener'> = {
  code: 'engine/counts',
  severity: 'warning',
  scope: 'thing',
  of: ['part', 'fastener'],
  page,
  run(thing, view, report) {
    if (thing.kind === 'fastener' && !thing.broken) {
      byCylinders(thing, view, report);
      byStuds(thing, view, report);
    }
    if (thing.kind !== 'part' || thing.broken) return;
    byCylinders(thing, view, report);
    byValves(thing, view, report);
    byJournals(thing, view, report);
    byCaps(thing, view, report);
    byOneBolt(thing, view, report);
  },
};
