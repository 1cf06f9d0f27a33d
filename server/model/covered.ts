// What a part covers, thing by thing: a drive stands for its wheels with their marks, its chain or belt, its tensioners, and the bolts
// that hold them.
import { type Entry, keyed } from './keyed.ts';
import type { Drive, Fastener, Part, View } from './view.ts';

/** One thing that can't be reached, or one mark or opening that can't be seen. */
export interface Covered {
  readonly name: string;
  readonly kind: 'part' | 'fastener';
  /** A mark, an opening or another feature of a part; undefined where all of it is covered. */
  readonly feature: string | undefined;
  /** The drive that it belongs to, where that is what is said to be covered. */
  readonly drive: string | undefined;
}

/** The parts of a drive: wheels, chains, belts, tensioners. */
export function partsOfDrive(drive: Drive): readonly string[] {
  const names = [
    ...drive.wraps.flatMap(({ part, wheels }) => [part, ...wheels.map((wheel) => wheel.part)]),
    ...drive.meshes.flatMap(({ first, second }) => [first, second]),
    ...drive.tensioners,
  ];
  return [...new Set(names)];
}

const drivesOf = keyed(
  (view) => view.drives,
  (view, drive: Drive) =>
    view.things.get(drive.name) === drive ? partsOfDrive(drive).map((part): Entry<string> => [part, drive.name]) : [],
);

/** By drive: the fasteners that clamp a part of it, in the order written. */
const boltsOfDrive = keyed(
  (view) => view.fasteners,
  (view, { name, clamps }: Fastener) =>
    [...new Set(clamps.flatMap(({ part }) => drivesOf(view, part)))].map((drive): Entry<string> => [drive, name]),
);

function ofDrive(drive: Drive, view: View): readonly Covered[] {
  const parts = partsOfDrive(drive);
  return [
    ...parts.map((name): Covered => ({ name, kind: 'part', feature: undefined, drive: drive.name })),
    ...boltsOfDrive(view, drive.name).map(
      (name): Covered => ({ name, kind: 'fastener', feature: undefined, drive: drive.name }),
    ),
  ];
}

/** All that a part covers once it is on, each thing once. What is not declared is left out. */
export function coveredBy(part: Part, view: View): readonly Covered[] {
  const all = part.covers.flatMap((cover): readonly Covered[] => {
    const thing = view.things.get(cover.part);
    if (thing?.kind === 'drive') return ofDrive(thing, view);
    if (thing?.kind !== 'part' && thing?.kind !== 'fastener') return [];
    return [{ name: thing.name, kind: thing.kind, feature: cover.mark, drive: undefined }];
  });
  const seen = new Set<string>();
  return all.filter(({ name, feature }) => {
    const key = `${name}.${feature ?? ''}`;
    if (name === part.name || seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
