// The kinds of thing that a unit can measure, their trade names, and the exponents that tell them apart. No factor lives here.

export type Dimension = {
  readonly length: number;
  readonly mass: number;
  readonly time: number;
  readonly angle: number;
  readonly temperature: number;
  readonly current: number;
};

/** Whether two are one: a length is no angle, whatever its unit. */
export function isSameDimension(first: Dimension, second: Dimension): boolean {
  return (
    first.length === second.length &&
    first.mass === second.mass &&
    first.time === second.time &&
    first.angle === second.angle &&
    first.temperature === second.temperature &&
    first.current === second.current
  );
}

export type UnitKind =
  | 'length'
  | 'angle'
  | 'torque'
  | 'force'
  | 'pressure'
  | 'volume'
  | 'area'
  | 'mass'
  | 'temperature'
  | 'time'
  | 'speed'
  | 'distance'
  | 'spring-rate'
  | 'power'
  | 'share'
  | 'ratio'
  | 'count'
  | 'velocity'
  | 'acceleration'
  | 'unbalance'
  | 'inertia'
  | 'density'
  | 'flow'
  | 'current'
  | 'voltage'
  | 'frequency'
  | 'expansion';

const names: Readonly<Record<UnitKind, string>> = {
  length: 'a length',
  angle: 'an angle',
  torque: 'a torque',
  force: 'a force',
  pressure: 'a pressure',
  volume: 'a volume',
  area: 'an area',
  mass: 'a mass',
  temperature: 'a temperature',
  time: 'a time',
  speed: 'a speed of turning',
  distance: 'a distance run',
  'spring-rate': 'a spring rate',
  power: 'a power',
  share: 'a share',
  ratio: 'a plain ratio',
  count: 'a count',
  velocity: 'a speed of travel',
  acceleration: 'an acceleration',
  unbalance: 'an unbalance',
  inertia: 'a moment of inertia',
  density: 'a density',
  flow: 'a flow',
  current: 'a current',
  voltage: 'a voltage',
  frequency: 'a frequency',
  expansion: 'an expansion by heat',
};

/** With its article, as a message says it: `a length`, `an angle`. */
export function kindName(kind: UnitKind): string {
  return names[kind];
}

/** One text for each dimension, to compare and look up by. */
export function dimensionKey(dimension: Dimension): string {
  return `${dimension.length},${dimension.mass},${dimension.time},${dimension.angle},${dimension.temperature},${dimension.current}`;
}
