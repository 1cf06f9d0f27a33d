// The ratio that the teeth give, held against the one that is stated and against what a four-stroke camshaft needs.
import { type ListArgument, type Told, told } from '../../../grammar/told.ts';
import { compare, type Exact, exact, over, ratioOf, toNumber } from '../../mechanics/exact.ts';
import { speedRatio } from '../../mechanics/gears.ts';
import { crankshaftOf, shaftOf, speedOf } from '../../model/drive-sums.ts';
import type { Drive, View } from '../../model/view.ts';
import type { ThingCheck } from '../check.ts';
import page from './ratio.md';

function shown(ratio: Exact): string {
  const [n, d] = [Number(ratio.n), Number(ratio.d)];
  return n < 1000 && d < 1000 ? `${n}:${d}` : `${toNumber(ratio).toFixed(3)}:1`;
}

/** The wheels that make a ratio, in words. */
function wheels(drive: Drive, view: View, first: string, second: string): ListArgument {
  const on = (shaft: string): Told | undefined => {
    const names = [
      ...drive.wraps.flatMap((wrap) => wrap.wheels.map((wheel) => wheel.part)),
      ...drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
    ];
    const name = names.find((each) => shaftOf(view, each) === shaft);
    const part = name === undefined ? undefined : view.things.get(name);
    return part?.kind === 'part' && part.teeth !== undefined
      ? told`${told.thing(part)} has ${part.teeth} teeth`
      : undefined;
  };
  return told.list(
    [on(first), on(second)].filter((each) => each !== undefined),
    ',',
  );
}

export const ratio: ThingCheck<'drive'> = {
  code: 'timing/ratio',
  severity: 'error',
  scope: 'thing',
  of: ['drive'],
  page,
  run(thing, view, report) {
    if (thing.broken) return;
    const crankshaft = crankshaftOf(view);
    if (crankshaft === undefined) return;
    const speeds = { get: (shaft: string) => speedOf(view, shaft) };
    const said = new Set<string>();
    const wrongFrom = new Set<string>();
    for (const stated of thing.ratios) {
      const [one, two] = [exact(stated.over[0]), exact(stated.over[1])];
      const [first, second] = [shaftOf(view, stated.first), shaftOf(view, stated.second)];
      const turns = speedRatio(speeds, second, first)?.abs();
      const want = one === undefined || two === undefined ? undefined : over(one, two);
      if (turns === undefined || want === undefined) continue;
      if (compare(turns, want) === 0) continue;
      said.add(second);
      // The wheel that several ratios are told from is at fault in all of them.
      if (wrongFrom.has(`${first} ${shown(over(turns, want) ?? turns)}`)) continue;
      wrongFrom.add(`${first} ${shown(over(turns, want) ?? turns)}`);
      const span = stated.statement.kind === 'ratio-of' ? stated.statement.ratio : stated.statement;
      report(
        thing.placed,
        span,
        told`The teeth give ${shown(turns)} and not ${stated.over[0]}:${stated.over[1]}: ${wheels(thing, view, first, second)}. Either a tooth count or the ratio is wrong.`,
      );
    }
    if (view.engine?.cycle !== 'four-stroke' || view.engine.layout === 'radial') return;
    for (const timing of view.valveTimings) {
      const shaft = timing.shaft === undefined ? undefined : shaftOf(view, timing.shaft);
      if (shaft === undefined || said.has(shaft)) continue;
      const driven = [
        ...thing.wraps.flatMap((wrap) => wrap.wheels.map((wheel) => wheel.part)),
        ...thing.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
      ].some((name) => shaftOf(view, name) === shaft);
      if (!driven) continue;
      const turns = speedRatio(speeds, shaft, crankshaft)?.abs();
      const two = ratioOf(2, 1);
      if (turns === undefined || two === undefined || compare(turns, two) === 0) continue;
      said.add(shaft);
      report(
        thing.placed,
        thing.declaration.name ?? thing.declaration.wordSpan,
        told`The camshaft of a four-stroke engine turns once for two turns of the crankshaft; here ${told.named(timing.shaft ?? '', 'part')} turns once for ${shown(turns)}. ${wheels(thing, view, crankshaft, shaft)}.`,
      );
    }
  },
};
