// A first spec to change: a draft for an engine layout, with every kind of declaration once. Its figures are placeholders that
// agree with each other; none is a real engine's.
import { lookUp } from '../../grammar/look-up.ts';

export interface Layout {
  readonly cylinders: number;
  readonly layout: 'inline' | 'flat' | 'vee';
  /** Degrees between the banks of a vee. */
  readonly angle?: number;
}

/** Crankpins and firing order that go together, for the layouts that are common. */
const CRANKS: Readonly<
  Record<string, { readonly pins: readonly (readonly [string, number])[]; readonly order: string }>
> = {
  '1 inline': { pins: [['1', 0]], order: '' },
  '2 inline': { pins: [['1, 2', 0]], order: '1-2' },
  '3 inline': {
    pins: [
      ['1', 0],
      ['2', 240],
      ['3', 120],
    ],
    order: '1-3-2',
  },
  '4 inline': {
    pins: [
      ['1, 4', 0],
      ['2, 3', 180],
    ],
    order: '1-3-4-2',
  },
  '6 inline': {
    pins: [
      ['1, 6', 0],
      ['2, 5', 120],
      ['3, 4', 240],
    ],
    order: '1-5-3-6-2-4',
  },
  '2 flat': {
    pins: [
      ['1', 0],
      ['2', 180],
    ],
    order: '1-2',
  },
  '4 flat': {
    pins: [
      ['1', 0],
      ['2', 180],
      ['3', 180],
      ['4', 0],
    ],
    order: '1-3-2-4',
  },
  '8 vee 90': {
    pins: [
      ['1, 2', 0],
      ['3, 4', 270],
      ['5, 6', 90],
      ['7, 8', 180],
    ],
    order: '1-8-4-3-6-5-7-2',
  },
};

/** Reads a layout as in `cylinders`: `4 inline`, `8 vee 90 deg`, `2 flat`; a bare word takes the usual number. Undefined for anything else. */
export function readLayout(text: string): Layout | undefined {
  const match = /^(?:(\d{1,2})\s+)?(inline|flat|vee)(?:\s+(\d{1,3})(?:\s*(?:deg|°))?)?$/i.exec(text.trim());
  if (match === null) return undefined;
  const layout = (match[2] ?? 'inline').toLowerCase() as Layout['layout'];
  const cylinders = match[1] === undefined ? (layout === 'vee' ? 8 : 4) : Number(match[1]);
  if (cylinders < 1 || cylinders > 18 || (layout !== 'inline' && cylinders % 2 !== 0)) return undefined;
  const angle = match[3] === undefined ? (cylinders === 8 ? 90 : 60) : Number(match[3]);
  return layout === 'vee' ? { cylinders, layout, angle } : { cylinders, layout };
}

/** Whether a text can be the name of a spec. */
export function isSpecName(name: string): boolean {
  return (
    /^\p{L}[\p{L}\p{M}\p{N}]*(?:[-_][\p{L}\p{M}\p{N}]+)*$/u.test(name) &&
    !/^(?:spec|engine|part|fastener|supply|grades|drive|valve-timing|limit|sequence|step|job|record|use|when)$/i.test(
      name,
    ) &&
    !/^x\d+$/i.test(name)
  );
}

/** The text of a first spec, in canonical layout: a draft that checks without an error. */
export function firstSpec(name: string, layout: Layout): string {
  const { cylinders } = layout;
  const mains = layout.layout === 'inline' ? cylinders + 1 : cylinders / 2 + 1;
  const heads = layout.layout === 'inline' ? 1 : 2;
  const key = `${cylinders} ${layout.layout}${layout.layout === 'vee' ? ` ${layout.angle}` : ''}`;
  const crank = lookUp(CRANKS, key);
  const lie = layout.layout === 'vee' ? `vee ${layout.angle} deg` : layout.layout;
  const bolts = Math.max(2, Math.ceil(cylinders / heads)) * 2 + 2;
  const boltOrder = tighteningRows(bolts / 2);
  const headPlaces = heads === 2 ? '\n  places left, right' : '';
  return `# A first spec to change. Every figure here is a placeholder:
# put in what the maker's manual says, and say where it comes from.
# The word draft keeps Fettle quiet about what is still missing.
# Take it out when the spec is whole.

spec ${name} "${title(name)}" {
  revision 1
  source manual "The maker's workshop manual"
  draft
  per manual
}

engine {
  cylinders ${cylinders} ${lie}
  cycle four-stroke
  rotation clockwise
  bore block.bore
  stroke 81.30 mm
  rod-length 136.70 mm
  block-height 212.90 ±0.05 mm
  compression-height 35.20 mm
  chamber 39.5 ±0.5 cc
  gasket-thickness 1.10 mm
${crank === undefined ? '' : crank.pins.map(([who, angle]) => `  crankpin ${who} at ${angle} deg\n`).join('') + (crank.order === '' ? '' : `  firing-order ${crank.order}\n`)}  redline 6000 rpm
}

part block "Cylinder block" {
  dimension main-bore x${mains} 58.300..58.312 mm
  dimension bore x${cylinders} 76.700..76.718 mm
  feature tang-slot
}

part crankshaft {
  dimension main-journal x${mains} 54.270..54.290 mm
    wear-limit 54.240 mm
}

part main-cap x${mains} {
  matched
  orient arrow toward front
}

part main-shell "Main bearing shell" {
  places upper 1..${mains}, lower 1..${mains}
  single-use
  wall 1.991..1.995 mm
  orient tang toward block.tang-slot
}

part piston x${cylinders} {
  dimension skirt 76.660..76.670 mm
  orient arrow toward front
}

part camshaft {
  mark dowel at 3 o'clock
}

part crank-sprocket {
  teeth 20
  fixed-to crankshaft
  mark dot at 12 o'clock
}

part cam-sprocket {
  teeth 40
  fixed-to camshaft
  mark dot at 6 o'clock
}

part timing-chain {
  single-use
  links 62
  pitch 9.525 mm
}

part head-gasket${heads === 2 ? ' x2' : ''} {${headPlaces}
  single-use
}

part cylinder-head${heads === 2 ? ' x2 {\n  places left, right\n}' : ''}

part sump

fastener main-bolt x${mains * 2} {
  thread M10x1.5
  class 10.9
  fitted oiled
  joint structural
  clamps main-cap to block
  torque 20 N.m, 65 N.m
}

fastener cam-sprocket-bolt x1 {
  thread M10x1.25
  class 10.9
  fitted threadlocker
  joint structural
  clamps cam-sprocket to camshaft
  torque 65 N.m
}

fastener head-bolt x${bolts * heads} {
  thread M10x1.25
  class 10.9
  fitted oiled
  single-use
  joint structural
  clamps cylinder-head, head-gasket to block
  torque 30 N.m, 60 N.m, 90 deg
  tightening-order${heads === 2 ? ' each cylinder-head' : ''}
${boltOrder}
}

fastener sump-bolt x14 {
  thread M6
  class 8.8
  joint cover
  clamps sump to block
  torque 9 N.m
}

supply assembly-lube "Assembly lubricant" {
  kind lubricant
}

drive cam-drive "Camshaft drive" {
  chain timing-chain over crank-sprocket, cam-sprocket
  ratio crankshaft to camshaft 2:1
  marks-agree at tdc 1 on compression
}

limit main-oil-clearance each crankshaft.main-journal
  kind oil-clearance
  = block.main-bore - 2 * main-shell.wall - crankshaft.main-journal
  within 0.020..0.062 mm
  wear-limit 0.080 mm

limit crank-end-play of crankshaft
  kind end-play
  measured
  within 0.05..0.20 mm

limit piston-clearance each piston
  kind piston-clearance
  = block.bore - piston.skirt
  within 0.030..0.060 mm

sequence long-block "Long block" {
  phase assemble
  starts-with block
  step lay-crankshaft "Lay the crankshaft" {
    lubricate main-shell with assembly-lube
    fit main-shell upper into block
    fit main-shell lower into main-cap
    fit crankshaft into block
    fit main-cap onto block
    tighten main-bolt
    measure crank-end-play with "dial gauge"
  }
  step fit-pistons each piston {
    tool "ring compressor"
    fit piston into block
    caution "Ring edges cut. Keep fingers out of the bore."
  }
  step fit-camshaft {
    lubricate camshaft with assembly-lube
    fit camshaft into block
  }
  step fit-timing-set {
    set crankshaft at tdc 1 on compression
    set camshaft with dowel at 3 o'clock
    fit crank-sprocket, cam-sprocket, timing-chain together
    align cam-drive
    tighten cam-sprocket-bolt
  }
  step prove-timing {
    rotate crankshaft 2 turns
    confirm cam-drive by marks
  }
  step fit-head {
    fit head-gasket onto block
    fit cylinder-head onto block
    tighten head-bolt
  }
  step fit-sump {
    fit sump onto block
    tighten sump-bolt
  }
}
`;
}

function title(name: string): string {
  const words = name.replace(/[-_]/g, ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Two rows tightened from the middle outward. */
function tighteningRows(perRow: number): string {
  const middle = (perRow - 1) / 2;
  const places = Array.from({ length: perRow * 2 }, (_, i) => ({ row: i < perRow ? 0 : 1, at: i % perRow }));
  const sorted = [...places].sort(
    (a, b) => Math.abs(a.at - middle) - Math.abs(b.at - middle) || a.at - b.at || a.row - b.row,
  );
  const number = (row: number, at: number): number =>
    sorted.findIndex((place) => place.row === row && place.at === at) + 1;
  const row = (which: number): string => Array.from({ length: perRow }, (_, at) => number(which, at)).join(' ');
  return `    ${row(0)} /\n    ${row(1)}`;
}
