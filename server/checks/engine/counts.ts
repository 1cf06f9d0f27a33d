// How many there are of a part, against the cylinders, the valves, the journals that it goes with, and halves and nuts against their other
// halves and studs. Only what has to come out even is said: an engine may have one spring or two to a valve, and no engine seven to eight.
// Common practice, no source.
import { told } from '../../../grammar/told.ts';
import type { Span } from '../../../grammar/tree.ts';
import { parseThread } from '../../mechanics/threads.ts';
import { eachPartOfKind } from '../../model/by-kind.ts';
import { isA, sealedBy, type TradeKind } from '../../model/trade-names.ts';
import type { Fastener, Part, View } from '../../model/view.ts';
import { clampedIn } from '../../rehearsal/at-the-bench.ts';
import { stepsMating } from '../../rehearsal/foresight.ts';
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

/** Of these no valve is without one. */
const ON_EACH_VALVE: readonly TradeKind[] = ['valve-spring', 'spring-retainer', 'collet'];

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

/** Springs, retainers and collets of which there are fewer than valves; of collets that are told to be halves, than two to a valve. */
function byEachValve(thing: Part, valves: number, view: View, report: Report): void {
  const kind = ON_EACH_VALVE.find((each) => isA(thing, each));
  if (kind === undefined || !firstOfKind(kind, thing, view)) return;
  const count = eachPartOfKind(view, kind).reduce((sum, part) => sum + part.count, 0);
  // Told in pairs they are counted so.
  const said = `${thing.title ?? ''} ${thing.name.replaceAll('-', ' ')}`;
  const halves = kind === 'collet' && /\bhal(?:f|ves)\b/i.test(said) && !/\b(?:pairs?|sets?)\b/i.test(said);
  const wanted = halves ? 2 * valves : valves;
  if (count >= wanted || eachPartOfKind(view, kind).some((part) => part.count === 1)) return;
  report(
    thing.placed,
    countSpan(thing),
    halves
      ? told`There are ${valves} valves and ${count} of ${told.thing(thing)}, which is a half: each valve is held by two. See which of the two is wrong.`
      : told`There are ${valves} valves and ${count} of ${told.thing(thing)}: each valve has its own. See which of the two is wrong.`,
    putRight(thing, wanted),
  );
}

/** What stands in or on what, one in each: the first that is there counts. */
const ONE_IN_EACH: readonly (readonly [one: TradeKind, each: readonly TradeKind[]])[] = [
  ['pushrod', ['lifter', 'rocker']],
  ['lash-shim', ['lifter']],
  ['knuckle-pin', ['link-rod']],
];

/** Pushrods stand in lifters, or under rockers where there are no lifters: one in each. */
function byOneInEach(thing: Part, view: View, report: Report): void {
  const row = thing.count === 1 ? undefined : ONE_IN_EACH.find(([one]) => isA(thing, one));
  if (row === undefined || !firstOfKind(row[0], thing, view)) return;
  const own = allOf(row[0], view);
  for (const kind of row[1]) {
    const others = allOf(kind, view);
    const [other] = eachPartOfKind(view, kind);
    if (own === undefined || others === undefined || other === undefined) continue;
    // What does not come out even on the valves is told as that.
    if (own !== others && (comesOut(own, others) || !PER_VALVE.includes(row[0])))
      report(
        thing.placed,
        countSpan(thing),
        told`There are ${own} of ${told.thing(thing)} and ${others} of ${told.thing(other)}, and one belongs to each. See which of the two is wrong.`,
        {
          ...putRight(thing, others),
          related: [
            { placed: other.placed, span: countSpan(other), message: told`${told.thing(other)} is declared here` },
          ],
        },
      );
    return;
  }
}

/** Springs, collets, lifters: by the valves. */
function byValves(thing: Part, view: View, report: Report): void {
  if (thing.count === 1 || !PER_VALVE.some((kind) => isA(thing, kind))) return;
  const valves = allOf('valve', view);
  const cylinders = cylindersFor(undefined, view);
  // Valves that do not come out even themselves are said, and no more.
  if (valves === undefined || (cylinders !== undefined && valves % cylinders !== 0)) return;
  if (comesOut(thing.count, valves)) {
    if (thing.count <= valves) byEachValve(thing, valves, view, report);
    return;
  }
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

/** Shells of other bearings than the mains. */
const NOT_MAIN =
  /(^|-)(rod|big-end|conrod|small-end|little-end|idler|balance|balancer|pump|rocker|jack|intermediate)(-|$)/;

const isMainShell = (part: Part): boolean =>
  isA(part, 'shell') && !isA(part, 'thrust', 'cam-bearing') && !NOT_MAIN.test(part.name.toLowerCase());

const uppersOf = (part: Part): number => part.places.find((group) => group.name === 'upper')?.count ?? 0;

/** The upper shells of all mains together, by the journals; those of the rods by the cylinders, two to a pin or one. */
function byShells(thing: Part, view: View, report: Report): void {
  const others = eachPartOfKind(view, 'shell');
  if (!isMainShell(thing)) return;
  const mains = others.filter(isMainShell);
  const journals = mainJournals(view);
  const uppers = mains.reduce((sum, part) => sum + uppersOf(part), 0);
  if (mains[0]?.name !== thing.name || mains.some((part) => uppersOf(part) === 0)) return;
  if (journals === undefined || uppers === journals || !boresAgree(journals, view)) return;
  report(
    thing.placed,
    nameSpan(thing.placed),
    told`${told.thing(thing)} has ${uppers} upper places, and the crankshaft runs in ${journals} main bearings. See which of the two is wrong.`,
  );
}

/** Upper and lower shells, and main caps, by the journals. */
function byJournals(thing: Part, view: View, report: Report): void {
  if (isA(thing, 'shell') && !isA(thing, 'thrust', 'cam-bearing')) {
    const half = (name: string): number | undefined => thing.places.find((group) => group.name === name)?.count;
    const [upper, lower] = [half('upper'), half('lower')];
    if (upper !== undefined && upper === lower) byShells(thing, view, report);
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

/** What lies in layers, or all of it under one bolt. */
const IN_LAYERS: readonly TradeKind[] = [
  ...(['gasket', 'washer', 'o-ring', 'seal', 'shim', 'key', 'dowel', 'collet', 'shell', 'thrust', 'bush'] as const),
  ...(['valve-spring', 'spring-retainer', 'ring', 'cap', 'wheel', 'pulley', 'injector', 'plug-lead'] as const),
];

/** Fewer bolts than pieces: one of those is held by none. */
function byPieces(thing: Fastener, view: View, report: Report): void {
  if (thing.each !== undefined || thing.eachOf.length > 0 || thing.joint === 'stud') return;
  for (const clamp of thing.clamps) {
    const part = view.things.get(clamp.part);
    if (part?.kind !== 'part' || part.count <= thing.count || clamp.places.length > 0) continue;
    if (isA(part, ...IN_LAYERS) || part.count === 1) continue;
    const bolts = clampersOf(part, view);
    if (bolts[0] !== thing || bolts.some((bolt) => bolt.each !== undefined || bolt.eachOf.length > 0)) continue;
    const count = bolts.reduce((sum, bolt) => sum + bolt.count, 0);
    if (count >= part.count) continue;
    report(
      thing.placed,
      countSpan(thing),
      told`${count} of ${told.thing(thing)} hold ${part.count} of ${told.thing(part)}: at least one is held by none. See which of the two is wrong.`,
      {
        severity: 'information',
        related: [{ placed: part.placed, span: countSpan(part), message: told`${told.thing(part)} is declared here` }],
      },
    );
    return;
  }
}

/** What a gasket or ring lies under or on: the part that it is clamped with, place by place, or is named after. */
function sealedPart(thing: Part, view: View): { readonly part: Part; readonly isSingle: boolean } | undefined {
  // Barrels stand apart: no gasket lies on two of them.
  for (const { mate } of stepsMating(view, thing.name)) {
    const part = view.things.get(mate);
    if (part?.kind === 'part' && part.count > 1 && isA(part, 'barrel', 'cylinder', 'liner'))
      return { part, isSingle: true };
  }
  for (const bolt of clampersOf(thing, view)) {
    const part = bolt.each === undefined ? undefined : view.things.get(bolt.each);
    if (part?.kind === 'part' && part !== thing && bolt.clamps.some((clamp) => clamp.part === part.name))
      return { part, isSingle: false };
  }
  const named = view.things.get(sealedBy(thing.name) ?? '');
  return named?.kind === 'part' ? { part: named, isSingle: false } : undefined;
}

/** Gaskets and rings by what they seal: as many to each. One for all of a row there may be. */
function byGaskets(thing: Part, view: View, report: Report): void {
  if (!isA(thing, 'gasket', 'o-ring')) return;
  const found = sealedPart(thing, view);
  if (found === undefined || found.part.count < 2 || found.part.broken) return;
  const { part, isSingle } = found;
  if (thing.count % part.count === 0 || (thing.count === 1 && !isSingle)) return;
  // One gasket under two covers: half as many.
  if (thing.count > 1 && comesOut(thing.count, part.count)) return;
  report(
    thing.placed,
    countSpan(thing),
    thing.count === 1
      ? told`There is one ${told.thing(thing)}, and ${part.count} of ${told.thing(part)}, which stand apart: each has its own. See which of the two is wrong.`
      : told`There are ${thing.count} of ${told.thing(thing)}, and ${part.count} of ${told.thing(part)}, which they seal. See which of the two is wrong.`,
    {
      ...putRight(thing, part.count),
      related: [{ placed: part.placed, span: countSpan(part), message: told`${told.thing(part)} is declared here` }],
    },
  );
}

/** So few bolts hold none of these. Judgement; no source. */
const FEWEST: readonly (readonly [kind: TradeKind, bolts: number])[] = [
  ['head', 3],
  ['sump', 3],
  ['timing-cover', 3],
  ['timing-case', 3],
  ['case-half', 3],
];

/** A head or a sump that hardly any bolt holds: a digit is missing. */
function byFewest(thing: Part, view: View, report: Report): void {
  const fewest = FEWEST.find(([kind]) => isA(thing, kind))?.[1];
  const bolts = fewest === undefined ? [] : clampersOf(thing, view).filter(({ joint }) => joint !== 'stud');
  const [first] = bolts;
  if (fewest === undefined || first === undefined) return;
  if (bolts.some((bolt) => bolt.eachOf.length > 0 || (bolt.each !== undefined && bolt.each !== thing.name))) return;
  const count = bolts.reduce((sum, bolt) => sum + (bolt.each === undefined ? bolt.count / thing.count : bolt.count), 0);
  if (count >= fewest) return;
  report(
    first.placed,
    countSpan(first),
    told`${first.count} of ${told.thing(first)} hold ${told.thing(thing)} here, and none is held by so few. See whether a digit is missing.`,
    { severity: 'information' },
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
      byPieces(thing, view, report);
    }
    if (thing.kind !== 'part' || thing.broken) return;
    byCylinders(thing, view, report);
    byValves(thing, view, report);
    byJournals(thing, view, report);
    byCaps(thing, view, report);
    byOneBolt(thing, view, report);
    byOneInEach(thing, view, report);
    byFewest(thing, view, report);
    byGaskets(thing, view, report);
  },
};
