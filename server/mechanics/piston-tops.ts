// At which crank angle each piston reaches the top: from crankpins, banks and layout, in every sense that a spec may have meant.

export type EngineLayout =
  | { readonly kind: 'inline' }
  | { readonly kind: 'flat' }
  | { readonly kind: 'vee'; readonly angle: number }
  | { readonly kind: 'radial' };

/** The cylinders that share a pin, and the pin's angle in the direction of rotation. */
export type Crankpin = { readonly cylinders: readonly number[]; readonly angle: number };

/** `cycle` is 720 for a four-stroke, 360 for a two-stroke. Without `leftBank` of a vee both usual numberings count: odd and even, first and second half. */
export type CrankLayout = {
  readonly cylinders: number;
  readonly layout: EngineLayout;
  readonly cycle: 360 | 720;
  readonly crankpins: readonly Crankpin[];
  readonly leftBank?: readonly number[] | undefined;
};

/** In which sense the crank's angles and the bank angle were read; 1 as the language says. */
export type Senses = { readonly counting: 1 | -1; readonly bank: 1 | -1 };

/** Degrees of crank after cylinder 1's top, for each cylinder, not brought within a turn. */
export type Tops = { readonly after: ReadonlyMap<number, number>; readonly senses: Senses };

/** All readings, the language's own first. `undefined` where pins are missing or a cylinder is on none or on two. */
export function possibleTops(question: CrankLayout): readonly Tops[] | undefined {
  const pins = pinAngles(question);
  if (pins === undefined) return undefined;
  const all: Tops[] = [];
  for (const axes of axisAngles(question)) {
    for (const counting of [1, -1] as const) {
      for (const bank of [1, -1] as const)
        all.push({ after: topsOf(pins, axes, counting, bank), senses: { counting, bank } });
    }
  }
  return all;
}

/** 0 to less than 360. */
export function withinTurn(degrees: number): number {
  return ((degrees % 360) + 360) % 360;
}

/** An angle just short of a whole turn is none. */
export function levelled(degrees: number, alike: number): number {
  return degrees > 360 - alike ? 0 : degrees;
}

/** A pin at A degrees on in the direction of rotation is at its cylinder's axis when the crank has turned by the axis less A. */
function topsOf(
  pins: ReadonlyMap<number, number>,
  axes: ReadonlyMap<number, number>,
  counting: number,
  bank: number,
): ReadonlyMap<number, number> {
  const top = (cylinder: number): number => bank * (axes.get(cylinder) ?? 0) - counting * (pins.get(cylinder) ?? 0);
  const first = top(1);
  return new Map([...pins.keys()].map((cylinder) => [cylinder, top(cylinder) - first]));
}

/** Pin angle of each cylinder; a radial without pins has one, or one for each of two rows (odd and even) half a turn apart. */
function pinAngles({ crankpins, cylinders, layout }: CrankLayout): ReadonlyMap<number, number> | undefined {
  const angles = new Map<number, number>();
  for (const pin of crankpins) {
    for (const cylinder of pin.cylinders) {
      if (angles.has(cylinder) || !Number.isFinite(pin.angle)) return undefined;
      angles.set(cylinder, pin.angle);
    }
  }
  const radial = layout.kind === 'radial' && crankpins.length === 0;
  for (let cylinder = 1; cylinder <= cylinders; cylinder += 1) {
    if (radial) angles.set(cylinder, cylinders % 2 === 0 && cylinder % 2 === 0 ? 180 : 0);
    else if (!angles.has(cylinder) && cylinders > 1) return undefined;
    else if (!angles.has(cylinder)) angles.set(cylinder, 0);
  }
  return angles.size === cylinders ? angles : undefined;
}

/** Directions of the cylinders, degrees in the direction of rotation; several where the banks are not said. */
function axisAngles({ layout, cylinders, leftBank }: CrankLayout): readonly ReadonlyMap<number, number>[] {
  const numbers = Array.from({ length: cylinders }, (_, at) => at + 1);
  if (layout.kind === 'inline') return [new Map(numbers.map((cylinder) => [cylinder, 0]))];
  if (layout.kind === 'radial')
    return [new Map(numbers.map((cylinder) => [cylinder, ((cylinder - 1) * 360) / cylinders]))];
  const angle = layout.kind === 'flat' ? 180 : layout.angle;
  const withLeft = (isLeft: (cylinder: number) => boolean): ReadonlyMap<number, number> =>
    new Map(numbers.map((cylinder) => [cylinder, isLeft(cylinder) ? -angle / 2 : angle / 2]));
  if (leftBank !== undefined && leftBank.length > 0) return [withLeft((cylinder) => leftBank.includes(cylinder))];
  return [withLeft((cylinder) => cylinder % 2 === 1), withLeft((cylinder) => cylinder <= cylinders / 2)];
}
