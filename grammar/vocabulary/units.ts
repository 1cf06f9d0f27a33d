// How units are written: every spelling with its usual form. What a unit is worth stands in server/mechanics/units.ts.
import { apart } from '../characters.ts';
import type { UnitPart } from '../tree.ts';

/** Usual form of each simple unit, its kind in words, and how else it is written (capitals aside). */
interface UnitRow {
  readonly unit: string;
  readonly kind: string;
  readonly help: string;
  readonly also: readonly string[];
}

const SIMPLE: readonly UnitRow[] = [
  { unit: 'mm', kind: 'length', help: 'millimetre', also: ['millimetre', 'millimetres', 'millimeter', 'millimeters'] },
  {
    unit: 'um',
    kind: 'length',
    help: 'micrometre, a thousandth of a millimetre',
    also: ['µm', 'μm', 'micron', 'microns'],
  },
  { unit: 'cm', kind: 'length', help: 'centimetre', also: [] },
  { unit: 'm', kind: 'length', help: 'metre', also: ['metre', 'metres', 'meter', 'meters'] },
  { unit: 'in', kind: 'length', help: 'inch, 25.4 mm', also: ['inch', 'inches'] },
  { unit: 'ft', kind: 'length', help: 'foot, 12 in', also: ['foot', 'feet'] },
  { unit: 'thou', kind: 'length', help: 'a thousandth of an inch', also: ['mil', 'mils'] },
  { unit: 'deg', kind: 'angle', help: 'degree', also: ['°', 'degree', 'degrees', 'degs'] },
  { unit: 'rad', kind: 'angle', help: 'radian', also: [] },
  { unit: 'turn', kind: 'angle', help: 'a whole turn, 360 deg', also: ['turns'] },
  { unit: 'N', kind: 'force', help: 'newton', also: [] },
  { unit: 'kN', kind: 'force', help: 'kilonewton', also: [] },
  { unit: 'lbf', kind: 'force', help: 'pound-force', also: [] },
  { unit: 'kgf', kind: 'force', help: 'kilogram-force', also: ['kp'] },
  { unit: 'ozf', kind: 'force', help: 'ounce-force', also: [] },
  { unit: 'dN', kind: 'force', help: 'decinewton', also: [] },
  { unit: 'daN', kind: 'force', help: 'decanewton', also: [] },
  { unit: 'Pa', kind: 'pressure', help: 'pascal', also: [] },
  { unit: 'kPa', kind: 'pressure', help: 'kilopascal', also: [] },
  { unit: 'MPa', kind: 'pressure', help: 'megapascal', also: [] },
  { unit: 'GPa', kind: 'pressure', help: 'gigapascal', also: [] },
  { unit: 'bar', kind: 'pressure', help: '100 kPa', also: ['bars'] },
  { unit: 'mbar', kind: 'pressure', help: 'millibar', also: [] },
  { unit: 'psi', kind: 'pressure', help: 'pound-force per square inch', also: [] },
  { unit: 'inHg', kind: 'pressure', help: 'conventional inch of mercury, 3386.389 Pa', also: [] },
  { unit: 'mmHg', kind: 'pressure', help: 'conventional millimetre of mercury', also: [] },
  { unit: 'atm', kind: 'pressure', help: 'standard atmosphere, 101.325 kPa', also: [] },
  { unit: 'cc', kind: 'volume', help: 'cubic centimetre', also: ['cm3', 'cm³', 'ccm', 'cu-cm'] },
  { unit: 'mL', kind: 'volume', help: 'millilitre', also: ['millilitre', 'millilitres', 'milliliter', 'milliliters'] },
  { unit: 'L', kind: 'volume', help: 'litre', also: ['litre', 'litres', 'liter', 'liters'] },
  { unit: 'in3', kind: 'volume', help: 'cubic inch', also: ['in³', 'cu-in', 'ci', 'cid'] },
  { unit: 'mm3', kind: 'volume', help: 'cubic millimetre', also: ['mm³'] },
  { unit: 'US-fl-oz', kind: 'volume', help: 'US fluid ounce', also: [] },
  { unit: 'US-pt', kind: 'volume', help: 'US pint', also: [] },
  { unit: 'US-qt', kind: 'volume', help: 'US quart', also: [] },
  { unit: 'US-gal', kind: 'volume', help: 'US gallon', also: [] },
  { unit: 'imp-fl-oz', kind: 'volume', help: 'imperial fluid ounce', also: [] },
  { unit: 'imp-pt', kind: 'volume', help: 'imperial pint', also: [] },
  { unit: 'imp-qt', kind: 'volume', help: 'imperial quart', also: [] },
  { unit: 'imp-gal', kind: 'volume', help: 'imperial gallon', also: [] },
  { unit: 'mm2', kind: 'area', help: 'square millimetre', also: ['mm²', 'sq-mm'] },
  { unit: 'cm2', kind: 'area', help: 'square centimetre', also: ['cm²', 'sq-cm'] },
  { unit: 'in2', kind: 'area', help: 'square inch', also: ['in²', 'sq-in'] },
  { unit: 'g', kind: 'mass', help: 'gram', also: ['gram', 'grams', 'gm'] },
  { unit: 'kg', kind: 'mass', help: 'kilogram', also: ['kilo', 'kilos'] },
  { unit: 'oz', kind: 'mass', help: 'ounce', also: ['ounce', 'ounces'] },
  { unit: 'lb', kind: 'mass', help: 'pound', also: ['lbs', 'pound', 'pounds'] },
  { unit: 'degC', kind: 'temperature', help: 'degree Celsius', also: ['°C', '℃'] },
  { unit: 'degF', kind: 'temperature', help: 'degree Fahrenheit', also: ['°F', '℉'] },
  { unit: 'K', kind: 'temperature', help: 'kelvin', also: [] },
  { unit: 's', kind: 'time', help: 'second', also: ['sec', 'secs', 'second', 'seconds'] },
  { unit: 'min', kind: 'time', help: 'minute', also: ['mins', 'minute', 'minutes'] },
  { unit: 'h', kind: 'time', help: 'hour', also: ['hr', 'hrs', 'hour', 'hours'] },
  { unit: 'rpm', kind: 'speed', help: 'turns a minute', also: ['r/min', 'rev/min', '1/min'] },
  { unit: 'km', kind: 'distance', help: 'kilometre run', also: [] },
  { unit: 'mi', kind: 'distance', help: 'mile run', also: ['mile', 'miles'] },
  { unit: 'W', kind: 'power', help: 'watt', also: [] },
  { unit: 'kW', kind: 'power', help: 'kilowatt', also: [] },
  { unit: 'hp', kind: 'power', help: 'horsepower, 550 ft.lbf/s', also: ['bhp'] },
  { unit: 'PS', kind: 'power', help: 'metric horsepower', also: ['CV'] },
  { unit: '%', kind: 'share', help: 'per cent', also: ['percent'] },
  { unit: 'ksi', kind: 'pressure', help: 'a thousand psi', also: [] },
  { unit: 'tonf', kind: 'force', help: 'ton-force, 2240 lbf', also: [] },
  { unit: 'A', kind: 'current', help: 'ampere', also: ['amp', 'amps', 'ampere', 'amperes'] },
  { unit: 'V', kind: 'voltage', help: 'volt', also: ['volt', 'volts'] },
  { unit: 'Hz', kind: 'frequency', help: 'hertz, once a second', also: ['hertz'] },
];

/** Torques and others that have usual names of their own as compounds. */
const COMPOUND = new Map<string, { readonly usual: string; readonly parts: readonly UnitPart[] }>();
function compound(usual: string, parts: readonly (readonly [string, number])[], also: readonly string[]): void {
  const reading = { usual, parts: parts.map(([unit, power]) => ({ unit, power })) };
  for (const spelling of [usual, ...also]) COMPOUND.set(spelling, reading);
}
compound(
  'N.m',
  [
    ['N', 1],
    ['m', 1],
  ],
  ['Nm', 'N-m', 'newton-metre', 'newton-metres', 'newton-meter', 'newton-meters'],
);
compound(
  'N.cm',
  [
    ['N', 1],
    ['cm', 1],
  ],
  ['Ncm'],
);
compound(
  'dN.m',
  [
    ['dN', 1],
    ['m', 1],
  ],
  ['dNm'],
);
compound(
  'daN.m',
  [
    ['daN', 1],
    ['m', 1],
  ],
  ['daNm'],
);
compound(
  'lbf.ft',
  [
    ['lbf', 1],
    ['ft', 1],
  ],
  [
    'ft-lb',
    'ft-lbs',
    'ft-lbf',
    'lb-ft',
    'lbs-ft',
    'lbf-ft',
    'lb.ft',
    'ft.lb',
    'ft.lbf',
    'ft.lbs',
    'lbft',
    'ftlb',
    'ftlbs',
    'foot-pound',
    'foot-pounds',
    'pound-feet',
  ],
);
compound(
  'lbf.in',
  [
    ['lbf', 1],
    ['in', 1],
  ],
  [
    'in-lb',
    'in-lbs',
    'in-lbf',
    'lb-in',
    'lbs-in',
    'lbf-in',
    'lb.in',
    'in.lb',
    'in.lbf',
    'in.lbs',
    'lbin',
    'inlb',
    'inlbs',
    'inch-pound',
    'inch-pounds',
    'pound-inches',
  ],
);
compound(
  'ozf.in',
  [
    ['ozf', 1],
    ['in', 1],
  ],
  ['oz-in', 'in-oz', 'ozf-in', 'oz.in', 'in.oz'],
);
compound(
  'kgf.m',
  [
    ['kgf', 1],
    ['m', 1],
  ],
  ['kg-m', 'm-kg', 'kgm', 'mkg', 'kg.m', 'kgfm', 'kgf-m', 'kpm', 'kp.m', 'kp-m', 'mkp'],
);
compound(
  'kgf.cm',
  [
    ['kgf', 1],
    ['cm', 1],
  ],
  ['kg-cm', 'cm-kg', 'kgcm', 'kg.cm', 'kgfcm', 'kgf-cm', 'kpcm', 'kp.cm'],
);
compound(
  'kgf/cm2',
  [
    ['kgf', 1],
    ['cm2', -1],
  ],
  ['kg/cm2', 'kgf/cm²', 'kg/cm²', 'kp/cm2'],
);
compound(
  'tonf/in2',
  [
    ['tonf', 1],
    ['in2', -1],
  ],
  ['tonf/in²', 'ton/in2', 'ton/in²', 'tons/in2', 'ton/sq-in', 'tons/sq-in', 'tsi'],
);
compound('/K', [['K', -1]], ['1/K', '/degC', '1/degC', '/°C', '1/°C']);
compound(
  'lbf/in',
  [
    ['lbf', 1],
    ['in', -1],
  ],
  ['lb/in', 'lbs/in'],
);
compound(
  'lbf/in2',
  [
    ['lbf', 1],
    ['in2', -1],
  ],
  ['lb/in2', 'lb/in²', 'lbf/in²', 'lb/sq-in'],
);

/** Spellings that mix words and dots in a way no unit is written; read as meant, with a finding. */
export const MISWRITTEN: readonly (readonly [RegExp, string])[] = [
  [/^N[ \t\u00a0]+m(?![\p{L}\d])\.?/iu, 'N.m'],
  [/^(?:ft|foot)\.?[ \t\u00a0]*[-.]?[ \t\u00a0]*(?:lbs?f?)(?:\.(?!\.)|(?![\p{L}\d-]))/iu, 'lbf.ft'],
  [/^(?:lbs?f?)\.?[ \t\u00a0]*[-.]?[ \t\u00a0]*(?:ft|foot)(?:\.(?!\.)|(?![\p{L}\d-]))/iu, 'lbf.ft'],
  [/^in(?:ch)?\.?[ \t\u00a0]*[-.]?[ \t\u00a0]*(?:lbs?f?)(?:\.(?!\.)|(?![\p{L}\d-]))/iu, 'lbf.in'],
  [/^(?:lbs?f?)\.?[ \t\u00a0]*[-.]?[ \t\u00a0]*in(?:\.(?!\.)|(?![\p{L}\d-]))/iu, 'lbf.in'],
  [/^in\.(?![\p{L}\d.])/iu, 'in'],
  [/^ft\.(?![\p{L}\d.])/iu, 'ft'],
  [/^lbs?\.(?![\p{L}\d.])/iu, 'lb'],
  [/^oz\.(?![\p{L}\d.])/iu, 'oz'],
  [/^(?:deg|mm|cm|min|sec|hrs?)\.(?![\p{L}\d.])/iu, ''],
  [/^cu\.?[ \t\u00a0]*in(?:\.(?!\.)|(?![\p{L}\d-]))/iu, 'in3'],
];

const exact = new Map<string, string>();
const folded = new Map<string, string | undefined>();
function learn(spelling: string, usual: string): void {
  exact.set(spelling, usual);
  // One letter may be the name of something: these are units in their own capitals alone.
  if (spelling === 'A' || spelling === 'V') return;
  const small = spelling.toLowerCase();
  const before = folded.get(small);
  folded.set(small, folded.has(small) && before !== usual ? undefined : usual);
}
for (const row of SIMPLE) for (const spelling of [row.unit, ...row.also]) learn(spelling, row.unit);
for (const [spelling, row] of COMPOUND) learn(spelling, row.usual);

/** A unit read: its usual form and its parts. */
export interface UnitReading {
  readonly usual: string;
  readonly parts: readonly UnitPart[];
}

const readings = new Map<string, UnitReading | undefined>();

function readWhole(spelling: string): UnitReading | undefined {
  const usual = exact.get(spelling) ?? folded.get(spelling.toLowerCase());
  if (usual === undefined) return undefined;
  return COMPOUND.get(usual) ?? { usual, parts: [{ unit: usual, power: 1 }] };
}

function readCompound(text: string): UnitReading | undefined {
  const pieces = text.split(/([.·⋅∙•/])/u);
  const parts: UnitPart[] = [];
  let usual = '';
  for (let i = 0; i < pieces.length; i += 2) {
    const divided = i > 0 && pieces[i - 1] === '/';
    const piece = readWhole(pieces[i] ?? '');
    if (piece === undefined) return undefined;
    usual += (i === 0 ? '' : divided ? '/' : '.') + piece.usual;
    for (const part of piece.parts) parts.push({ unit: part.unit, power: divided ? -part.power : part.power });
  }
  return { usual, parts };
}

/** Reads a unit, simple or built with `.`, `·` and `/`. Undefined when it is none that is known. */
export function readUnit(text: string): UnitReading | undefined {
  if (text.length > 40) return undefined;
  if (!readings.has(text)) {
    const dotted = text.replace(/[·⋅∙•]/gu, '.');
    const reading = readWhole(text) ?? readWhole(dotted) ?? (/[./]/.test(dotted) ? readCompound(dotted) : undefined);
    if (readings.size > 5000) readings.clear();
    readings.set(apart(text), reading);
  }
  return readings.get(text);
}

/** Every simple unit and named compound in its usual form, with its kind and a line of help. */
export const UNITS: readonly {
  readonly unit: string;
  readonly kind: string;
  readonly help: string;
  readonly also: readonly string[];
}[] = [
  ...SIMPLE,
  { unit: 'N.m', kind: 'torque', help: 'newton metre', also: ['Nm'] },
  { unit: 'lbf.ft', kind: 'torque', help: 'pound-foot, as the trade says foot-pound', also: ['ft-lb', 'lb-ft'] },
  { unit: 'lbf.in', kind: 'torque', help: 'pound-inch, a twelfth of a pound-foot', also: ['in-lb', 'lb-in'] },
  { unit: 'ozf.in', kind: 'torque', help: 'ounce-inch', also: ['oz-in'] },
  { unit: 'kgf.m', kind: 'torque', help: 'kilogram-force metre; kg-m in old manuals', also: ['kg-m'] },
  { unit: 'kgf.cm', kind: 'torque', help: 'kilogram-force centimetre', also: ['kg-cm'] },
  { unit: 'dN.m', kind: 'torque', help: 'decinewton metre', also: [] },
  { unit: 'daN.m', kind: 'torque', help: 'decanewton metre', also: [] },
  { unit: 'g.mm', kind: 'unbalance', help: 'gram millimetre', also: [] },
  {
    unit: 'tonf/in2',
    kind: 'pressure',
    help: 'ton-force per square inch; tons per square inch in old books',
    also: ['tsi'],
  },
  { unit: '/K', kind: 'expansion', help: 'so much of its length for each kelvin', also: ['1/K', '/degC'] },
  { unit: 'N/mm', kind: 'spring-rate', help: 'newton per millimetre', also: [] },
  { unit: 'lbf/in', kind: 'spring-rate', help: 'pound-force per inch', also: ['lb/in'] },
  { unit: 'kgf/cm2', kind: 'pressure', help: 'kilogram-force per square centimetre', also: ['kg/cm2'] },
];

/** The usual unit of a kind, for offering where one is missing. */
export const USUAL_UNIT: Readonly<Record<string, string>> = {
  length: 'mm',
  angle: 'deg',
  torque: 'N.m',
  force: 'N',
  pressure: 'bar',
  volume: 'cc',
  area: 'mm2',
  mass: 'g',
  temperature: 'degC',
  time: 'min',
  speed: 'rpm',
  distance: 'km',
  'spring-rate': 'N/mm',
  unbalance: 'g.mm',
  current: 'A',
  voltage: 'V',
  frequency: 'Hz',
  power: 'kW',
  share: '%',
};
