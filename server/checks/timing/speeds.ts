// Shafts that a drive turns two ways, or not at all.
import { type Exact, toNumber } from '../../mechanics/exact.ts';
import { crankshaftOf, shaftOf, speedsOf } from '../../model/drive-sums.ts';
import { nameSpan, type ThingCheck } from '../check.ts';
import notDrivenPage from './not-driven.md';
import twoAnswersPage from './two-answers.md';

function shown(speed: Exact): string {
  const size = speed.abs();
  return `${size.d === 1n ? `${size.n}` : `${size.n}/${size.d}`} turn${size.n === size.d ? '' : 's'} ${toNumber(speed) < 0 ? 'the other way' : 'the same way'}`;
}

export const twoAnswers: ThingCheck = {
  code: 'timing/two-answers',
  severity: 'error',
  scope: 'thing',
  page: twoAnswersPage,
  run(thing, view, report) {
    if (thing.kind !== 'drive' || thing.broken) return;
    const said = new Set<string>();
    for (const answer of speedsOf(view)?.twoAnswers ?? []) {
      if (answer.by !== thing.name || said.has(answer.shaft)) continue;
      said.add(answer.shaft);
      report(
        thing.placed,
        nameSpan(thing.placed),
        `Two ways round the drive turn ${answer.shaft} differently: for one turn of ${crankshaftOf(view)}, ${shown(answer.first)} by the one, ${shown(answer.second)} by the other. Look at the tooth counts and at what is in mesh.`,
      );
    }
  },
};

export const notDriven: ThingCheck = {
  code: 'timing/not-driven',
  severity: 'error',
  scope: 'thing',
  page: notDrivenPage,
  run(thing, view, report) {
    if (thing.kind !== 'drive' || thing.broken) return;
    const wheels = [
      ...thing.wraps.flatMap((wrap) => wrap.wheels.map((wheel) => wheel.part)),
      ...thing.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
    ];
    // A wheel that is not known or has no teeth given leaves open what turns what.
    const open = wheels.some((name) => {
      const part = view.things.get(name);
      return part?.kind !== 'part' || part.broken || part.teeth === undefined;
    });
    const known = view.drives.every((drive) => !drive.broken);
    const own = new Set(wheels.map((name) => shaftOf(view, name)));
    if (known && !open) {
      const shaft = (speedsOf(view)?.notDriven ?? []).find((each) => own.has(each));
      if (shaft !== undefined) {
        report(
          thing.placed,
          nameSpan(thing.placed),
          `Nothing turns ${shaft}: ${thing.name} names it, and no way leads to it from ${crankshaftOf(view)}. Is a fixed-to, a mesh or a chain missing?`,
          { missing: true },
        );
        return;
      }
    }
    const stated = thing.ratios.find(
      (ratio) =>
        !own.has(shaftOf(view, ratio.second)) && !(speedsOf(view)?.speeds.has(shaftOf(view, ratio.second)) ?? true),
    );
    if (stated !== undefined && known && wheels.length > 0)
      report(
        thing.placed,
        nameSpan(thing.placed),
        `Nothing turns ${stated.second}: ${thing.name} states its ratio, and no wheel of a drive is fixed to it.`,
        { missing: true },
      );
  },
};
