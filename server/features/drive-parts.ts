// The parts of a drive: its chains, belts and wheels, and the shafts that they turn with. No state.
import { shaftOf } from '../model/drive-sums.ts';
import type { Drive, View } from '../model/view.ts';

/** Chains, belts, wheels and gears, in the order written. */
export function turningParts(drive: Drive): readonly string[] {
  return [
    ...drive.wraps.flatMap((wrap) => [wrap.part, ...wrap.wheels.map((wheel) => wheel.part)]),
    ...drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
  ];
}

/** Those, and the shafts. */
export function partsAndShafts(drives: readonly Drive[], view: View): ReadonlySet<string> {
  const parts = drives.flatMap(turningParts);
  return new Set([...parts, ...parts.map((name) => shaftOf(view, name))]);
}
