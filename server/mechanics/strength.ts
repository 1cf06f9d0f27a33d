// Strength of fasteners by class or grade: proof, yield and tensile stress. What load that gives on a thread is here too; preload is in preload.ts.

import type { Thread } from './threads.ts';

/**
 * Stresses in MPa: `proof` is what a bolt holds without lasting stretch, `yield` and `tensile` are the minima. `assumed` says, where proof
 * is not the standard's own figure, what was taken for it.
 */
export type Strength = {
  readonly name: string;
  readonly proof: number;
  readonly yield: number;
  readonly tensile: number;
  readonly source: 'ISO 898-1' | 'SAE J429' | 'ISO 3506-1' | 'stated';
  readonly assumed?: string;
};

type Row = readonly [proof: number, yieldStress: number, tensile: number];

/** ISO 898-1:2009 Table 3, MPa. Proof stresses follow from published proof loads; yield and tensile minima are from memory. */
const ISO_898: Readonly<Record<string, Row>> = {
  '4.6': [225, 240, 400],
  '4.8': [310, 340, 420],
  '5.6': [280, 300, 500],
  '5.8': [380, 420, 520],
  '6.8': [440, 480, 600],
  '8.8': [580, 640, 800],
  '9.8': [650, 720, 900],
  '10.9': [830, 940, 1040],
  '12.9': [970, 1100, 1220],
};
const ABOVE_16: Row = [600, 660, 830];

/** SAE J429 Table 1, thousands of psi, with the largest diameter in inches that each row holds for. From memory; grades 2 and 5 also read. */
const SAE_J429: Readonly<
  Record<string, readonly (readonly [upTo: number, proof: number, yieldStress: number, tensile: number])[]>
> = {
  '1': [[1.5, 33, 36, 60]],
  '2': [
    [0.75, 55, 57, 74],
    [1.5, 33, 36, 60],
  ],
  '4': [[1.5, 65, 100, 115]],
  '5': [
    [1, 85, 92, 120],
    [1.5, 74, 81, 105],
  ],
  '5.2': [[1, 85, 92, 120]],
  '7': [[1.5, 105, 115, 133]],
  '8': [[1.5, 120, 130, 150]],
  '8.2': [[1, 120, 130, 150]],
};

/** ISO 3506-1 austenitic property classes, MPa: 0.2 % proof stress and tensile strength. From memory. */
const ISO_3506: ReadonlyMap<string, readonly [yieldStress: number, tensile: number]> = new Map([
  ['50', [210, 500]],
  ['70', [450, 700]],
  ['80', [600, 800]],
]);

/** 1000 psi in MPa. */
const KSI = 6.894757293168361;

/**
 * The strength of a class (`8.8`, `10.9`), a grade (`grade-5`, `grade 8`) or a stainless class (`A2-70`) at a diameter in mm.
 * `undefined` for a class that is not known, or that its standard does not have in this size (9.8 above 16 mm, a grade above 1 1/2 in).
 */
export function strengthOf(className: string, diameter: number): Strength | undefined {
  const name = className.trim().toLowerCase();
  const grade = /^(?:sae[ -]?)?(?:grade|gr\.?)[ -]?(\d(?:\.\d)?)$/.exec(name)?.[1];
  if (grade !== undefined) return graded(grade, diameter);
  const stainless = /^(a[1-5])-(50|70|80)$/.exec(name);
  const steel = ISO_3506.get(stainless?.[2] ?? '');
  if (stainless && steel) {
    const [yieldStress, tensile] = steel;
    const assumed = 'the 0.2 % proof stress, since ISO 3506-1 gives no proof load';
    return {
      name: `${stainless[1]?.toUpperCase()}-${stainless[2]}`,
      proof: yieldStress,
      yield: yieldStress,
      tensile,
      source: 'ISO 3506-1',
      assumed,
    };
  }
  const bolt = BOLT_OF_NUT.get(name);
  if (bolt !== undefined) return ofNut(name, bolt, diameter);
  const row = name === '8.8' && diameter > 16 ? ABOVE_16 : Object.hasOwn(ISO_898, name) ? ISO_898[name] : undefined;
  if (row === undefined || !(diameter > 0) || diameter > 39 || (name === '9.8' && diameter > 16)) return undefined;
  return { name, proof: row[0], yield: row[1], tensile: row[2], source: 'ISO 898-1' };
}

/** The bolt that a nut of each class is for, ISO 898-2: the nut holds what loads that bolt to its tensile strength. From memory. */
const BOLT_OF_NUT: ReadonlyMap<string, string> = new Map([
  ['5', '5.8'],
  ['6', '6.8'],
  ['8', '8.8'],
  ['9', '9.8'],
  ['10', '10.9'],
  ['12', '12.9'],
]);

/** What a nut's class says of the bolt or stud that it goes on. */
function ofNut(nut: string, bolt: string, diameter: number): Strength | undefined {
  const strength = strengthOf(bolt, diameter);
  return strength === undefined
    ? undefined
    : {
        ...strength,
        name: `${bolt} (nut of class ${nut})`,
        assumed: `a bolt of class ${bolt}, for which a nut of class ${nut} is made`,
      };
}

let sortedNames: readonly string[] | undefined;

/** The names of all classes and grades, for a list to choose from. Sorted when it is asked for: the rules of sorting take long to load. */
export function strengthNames(): readonly string[] {
  sortedNames ??= [
    ...Object.keys(ISO_898),
    ...Object.keys(SAE_J429).map((grade) => `grade-${grade}`),
    ...['A2-50', 'A2-70', 'A2-80', 'A4-50', 'A4-70', 'A4-80'],
  ].sort(new Intl.Collator('en', { numeric: true }).compare);
  return sortedNames;
}

/** Part of the tensile strength that is taken for proof where the maker states tensile strength alone. Common practice, no source. */
export const PROOF_SHARE_OF_TENSILE = 0.75;
/** Likewise for yield. Common practice, no source. */
const YIELD_SHARE_OF_TENSILE = 0.85;

/** From a maker's tensile strength (MPa) alone; `undefined` for nothing or less. */
export function strengthFromTensile(tensile: number): Strength | undefined {
  if (!(tensile > 0) || !Number.isFinite(tensile)) return undefined;
  return {
    name: `tensile ${Math.round(tensile)} MPa`,
    proof: tensile * PROOF_SHARE_OF_TENSILE,
    yield: tensile * YIELD_SHARE_OF_TENSILE,
    tensile,
    source: 'stated',
    assumed: '75 % of the stated tensile strength',
  };
}

/** Proof load in N: stress area · proof stress. */
export function proofLoad(thread: Pick<Thread, 'stressArea'>, strength: Pick<Strength, 'proof'>): number {
  return thread.stressArea * strength.proof;
}

/** Least load in N at which a bolt of this class may break. */
export function breakingLoad(thread: Pick<Thread, 'stressArea'>, strength: Pick<Strength, 'tensile'>): number {
  return thread.stressArea * strength.tensile;
}

function graded(grade: string, diameter: number): Strength | undefined {
  const rows = Object.hasOwn(SAE_J429, grade) ? SAE_J429[grade] : undefined;
  const row = rows?.find(([upTo]) => diameter > 0 && diameter <= upTo * 25.4 + 1e-9);
  if (row === undefined) return undefined;
  const [, proof, yieldStress, tensile] = row;
  return {
    name: `grade-${grade}`,
    proof: proof * KSI,
    yield: yieldStress * KSI,
    tensile: tensile * KSI,
    source: 'SAE J429',
  };
}
