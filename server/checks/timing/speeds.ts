// Shafts that a drive turns two ways, or not at all.
import { type Told, told } from '../../../grammar/told.ts';
import { type Exact, toNumber } from '../../mechanics/exact.ts';
import type { TwoAnswers } from '../../mechanics/gears.ts';
import { crankshaftOf, shaftOf, speedOf, speedsOf } from '../../model/drive-sums.ts';
import type { Drive, View } from '../../model/view.ts';
import { question } from '../../model/view-questions.ts';
import { nameSpan, type ThingCheck } from '../check.ts';
import notDrivenPage from './not-driven.md';
import twoAnswersPage from './two-answers.md';

function shown(speed: Exact): Told {
  const size = speed.abs();
  const turns = size.d === 1n ? `${size.n}` : `${size.n}/${size.d}`;
  if (turns === '1') return toNumber(speed) < 0 ? told`1 turn the other way` : told`1 turn the same way`;
  return toNumber(speed) < 0 ? told`${turns} turns the other way` : told`${turns} turns the same way`;
}

const allTwoAnswers = question((view, _subject: 'drives'): ReadonlyMap<string, readonly TwoAnswers[]> => {
  const all = new Map<string, TwoAnswers[]>();
  for (const answer of speedsOf(view)?.twoAnswers ?? []) {
    const own = all.get(answer.by);
    if (own === undefined) all.set(answer.by, [answer]);
    else own.push(answer);
  }
  return all;
});

/** The shafts that a drive turns otherwise than another way round does. */
const twoAnswersBy = question(
  (view, name: string): readonly TwoAnswers[] => allTwoAnswers(view, 'drives').get(name) ?? [],
);

/** Whether all that drives say could be read. */
const areAllRead = question((view, _subject: 'drives'): boolean => view.drives.every((drive) => !drive.broken));

/** The first shaft of a drive that nothing turns, in the order in which drives name them. */
const notDrivenBy = question((view, drive: Drive): string | undefined => {
  const place = notDrivenPlaces(view, 'drives');
  const named = [...shaftsOf(drive, view)].flatMap((shaft) => {
    const at = place.get(shaft);
    return at === undefined ? [] : [{ shaft, at }];
  });
  return named.sort((one, other) => one.at - other.at)[0]?.shaft;
});

const notDrivenPlaces = question(
  (view, _subject: 'drives'): ReadonlyMap<string, number> =>
    new Map((speedsOf(view)?.notDriven ?? []).map((shaft, i) => [shaft, i])),
);

function wheelsOf(drive: Drive): readonly string[] {
  return [
    ...drive.wraps.flatMap((wrap) => wrap.wheels.map((wheel) => wheel.part)),
    ...drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
  ];
}

const shaftsOf = (drive: Drive, view: View): ReadonlySet<string> =>
  new Set(wheelsOf(drive).map((name) => shaftOf(view, name)));

export const twoAnswers: ThingCheck<'drive'> = {
  code: 'timing/two-answers',
  severity: 'error',
  scope: 'thing',
  of: ['drive'],
  page: twoAnswersPage,
  run(thing, view, report) {
    if (thing.broken) return;
    const said = new Set<string>();
    for (const answer of twoAnswersBy(view, thing.name)) {
      if (said.has(answer.shaft)) continue;
      said.add(answer.shaft);
      report(
        thing.placed,
        nameSpan(thing.placed),
        told`Two ways round the drive turn ${told.named(answer.shaft, 'part')} differently: for one turn of ${told.named(crankshaftOf(view) ?? '', 'part')}, ${shown(answer.first)} by the one, ${shown(answer.second)} by the other. Look at the tooth counts and at what is in mesh.`,
      );
    }
  },
};

export const notDriven: ThingCheck<'drive'> = {
  code: 'timing/not-driven',
  severity: 'error',
  scope: 'thing',
  of: ['drive'],
  page: notDrivenPage,
  run(thing, view, report) {
    if (thing.broken) return;
    const wheels = wheelsOf(thing);
    // A wheel that is not known or has no teeth given leaves open what turns what.
    const open = wheels.some((name) => {
      const part = view.things.get(name);
      return part?.kind !== 'part' || part.broken || part.teeth === undefined;
    });
    const known = areAllRead(view, 'drives');
    const own = shaftsOf(thing, view);
    if (known && !open) {
      const shaft = notDrivenBy(view, thing);
      if (shaft !== undefined) {
        report(
          thing.placed,
          nameSpan(thing.placed),
          told`Nothing turns ${told.named(shaft, 'part')}: ${told.thing(thing)} names it, and no way leads to it from ${told.named(crankshaftOf(view) ?? '', 'part')}. Is a fixed-to, a mesh or a chain missing?`,
          { missing: true },
        );
        return;
      }
    }
    const isTurned = (shaft: string): boolean => crankshaftOf(view) === undefined || speedOf(view, shaft) !== undefined;
    const stated = thing.ratios.find((ratio) => {
      const second = shaftOf(view, ratio.second);
      return !own.has(second) && !isTurned(second);
    });
    if (stated !== undefined && known && wheels.length > 0)
      report(
        thing.placed,
        nameSpan(thing.placed),
        told`Nothing turns ${told.named(stated.second, 'part')}: ${told.thing(thing)} states its ratio, and no wheel of a drive is fixed to it.`,
        { missing: true },
      );
  },
};
