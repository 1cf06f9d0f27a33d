// The nut factor K of T = K·F·d by how a fastener is fitted. Published values disagree, so each is a band that names its sources.

export type Surface = 'black' | 'zinc' | 'phosphate' | 'cadmium';
export type Fitted = 'dry' | 'oiled' | 'moly' | 'threadlocker' | 'sealant';

/** `usual` is what a single figure is worked out with, `low` and `high` the band; `said` names the condition and where the figures are from. */
export type NutFactor = { readonly low: number; readonly usual: number; readonly high: number; readonly said: string };

const SHIGLEY = 'Shigley, Table 8-15';
const BICKFORD = 'Bickford and Nassar, ch. 2 Table 1';
const PRACTICE = 'common practice, no source';

const DRY: Readonly<Record<Surface | 'unsaid', NutFactor>> = {
  // Bare steel: 0.20 in one book, 0.30 in the other.
  black: { low: 0.2, usual: 0.2, high: 0.3, said: `dry, black: ${BICKFORD} 0.20, ${SHIGLEY} 0.30` },
  zinc: { low: 0.2, usual: 0.2, high: 0.295, said: `dry, zinc plated: ${SHIGLEY} 0.20, ${BICKFORD} 0.295` },
  // Three published answers for oil-free cadmium; the lowest cell of the FAA table implies 0.1146.
  cadmium: {
    low: 0.11,
    usual: 0.16,
    high: 0.2,
    said: `dry, cadmium plated: ${SHIGLEY} 0.16, ${BICKFORD} 0.20, AC 43.13-1B Table 7-1 implies 0.11 to 0.17`,
  },
  phosphate: { low: 0.18, usual: 0.2, high: 0.24, said: `dry, phosphated: ${PRACTICE}` },
  unsaid: {
    low: 0.18,
    usual: 0.2,
    high: 0.24,
    said: 'dry: 0.20, with 0.18 to 0.24 as the torque tables of army manuals imply',
  },
};

const OTHERWISE: Readonly<Record<Exclude<Fitted, 'dry'>, NutFactor>> = {
  oiled: { low: 0.16, usual: 0.18, high: 0.2, said: `oiled: ${SHIGLEY} 0.18 lubricated, give or take 0.02` },
  moly: { low: 0.1, usual: 0.12, high: 0.14, said: `moly or anti-seize: ${SHIGLEY} 0.12, give or take 0.02` },
  threadlocker: { low: 0.15, usual: 0.18, high: 0.22, said: `threadlocker, wet when tightened: ${PRACTICE}` },
  sealant: { low: 0.15, usual: 0.18, high: 0.22, said: `sealant, wet when tightened: ${PRACTICE}` },
};

const OILED_CADMIUM: NutFactor = { low: 0.11, usual: 0.15, high: 0.18, said: `oiled, cadmium plated: ${PRACTICE}` };
const UNSAID: NutFactor = {
  low: 0.16,
  usual: 0.2,
  high: 0.24,
  said: 'as delivered, since nothing is said of oil: 0.20, with 0.16 oiled to 0.24 dry',
};

/** The band for a surface and for what the threads are fitted with; either may be unsaid. Zinc or black that is oiled counts as oiled. */
export function nutFactorFor(surface: Surface | undefined, fitted: Fitted | undefined): NutFactor {
  if (fitted === undefined) return surface === undefined ? UNSAID : DRY[surface];
  if (fitted === 'dry') return DRY[surface ?? 'unsaid'];
  if (fitted === 'oiled' && surface === 'cadmium') return OILED_CADMIUM;
  return OTHERWISE[fitted];
}

/** Part by which preload still scatters about a stated K: one joint is not like the next. Common practice, no source. */
const STATED_SCATTER = 0.1;

/** The band about a stated nut factor; `undefined` for one outside 0.03 to 1, which no joint has. */
export function statedNutFactor(value: number): NutFactor | undefined {
  if (!(value >= 0.03 && value <= 1)) return undefined;
  const said = `the stated nut factor ${value}, with a scatter of ${STATED_SCATTER * 100} %`;
  return { low: value * (1 - STATED_SCATTER), usual: value, high: value * (1 + STATED_SCATTER), said };
}
