// A first spec for engines with a block and main caps: in line and vee.
import type { Layout } from './layouts.ts';

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

/** Rods, shells, pistons and their limits, as all layouts but the radial have them. */
export function rodParts(cylinders: number, markToward: 'left' | 'up'): string {
  return `part connecting-rod x${cylinders} {
  matched
  dimension big-end 51.600..51.612 mm
  feature notch
  orient forge-mark toward ${markToward}
}

part rod-cap x${cylinders} "Connecting rod cap" {
  matched
  orient number toward connecting-rod.notch
}

part rod-shell "Connecting rod bearing shell" {
  places upper 1..${cylinders} into connecting-rod, lower 1..${cylinders} into rod-cap
  single-use
  fitted oiled
  wall 1.498..1.502 mm
}

part piston x${cylinders} {
  dimension skirt 76.660..76.670 mm
  orient arrow toward front
}

part piston-pin x${cylinders}

part piston-ring-set x${cylinders}`;
}

export const ROD_BOLT = `fastener rod-bolt x2 {
  each connecting-rod
  thread M8x1
  class 10.9
  fitted oiled
  single-use
  joint structural
  clamps rod-cap to connecting-rod
  torque 15 N.m, 90 deg
}`;

export const ROD_LIMIT = `limit rod-oil-clearance each connecting-rod
  kind oil-clearance
  = connecting-rod.big-end - 2 * rod-shell.wall - crankshaft.crankpin
  within 0.020..0.066 mm
  wear-limit 0.080 mm`;

export const END_PLAY = `limit crank-end-play of crankshaft
  kind end-play
  measured
  within 0.05..0.20 mm`;

/** The clearance of the main bearings; `into` is what has their bores. */
export const mainLimit = (into: string): string => `limit main-oil-clearance each crankshaft.main-journal
  kind oil-clearance
  = ${into}.main-bore - 2 * main-shell.wall - crankshaft.main-journal
  within 0.020..0.062 mm
  wear-limit 0.080 mm`;

/** The drive of one camshaft and what proves it. */
export const CAM_DRIVE = `part camshaft {
  fitted oiled
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
}`;

/** The steps that put the camshaft in time and prove it. */
export function timingSteps(): string {
  return `  step fit-timing-set {
    set crankshaft at tdc 1 on compression
    set camshaft with dowel at 3 o'clock
    fit crank-sprocket, cam-sprocket, timing-chain together
    align cam-drive
    tighten cam-sprocket-bolt
  }
  step prove-timing {
    rotate crankshaft 2 turns
    confirm cam-drive by marks
  }`;
}

/** The steps from the rods to the proved camshaft drive, into the part that holds them. */
function middleSteps(into: string): string {
  return `  step build-pistons {
    lubricate piston-pin with assembly-lube
    fit piston onto connecting-rod
    fit piston-pin into piston
    fit piston-ring-set onto piston
    fit rod-shell upper into connecting-rod
    fit rod-shell lower into rod-cap
    lubricate rod-shell with assembly-lube
  }
  step fit-pistons each piston {
    tool "ring compressor"
    fit connecting-rod into ${into}
    fit rod-cap onto connecting-rod
    tighten rod-bolt
    caution "Ring edges cut. Keep fingers out of the bore."
  }
  step fit-camshaft {
    lubricate camshaft with assembly-lube
    fit camshaft into ${into}
  }
${timingSteps()}`;
}

export const CAM_BOLT = `fastener cam-sprocket-bolt x1 {
  thread M10x1.25
  class 10.9
  fitted threadlocker
  joint structural
  clamps cam-sprocket to camshaft
  torque 65 N.m
}`;

export const CAM_DRIVE_OF = `drive cam-drive "Camshaft drive" {
  chain timing-chain over crank-sprocket, cam-sprocket
  ratio crankshaft to camshaft 2:1
  marks-agree at tdc 1 on compression
}`;

/** All declarations behind the engine. */
export function blockSpec({ cylinders, layout }: Layout): string {
  const mains = layout === 'inline' ? cylinders + 1 : cylinders / 2 + 1;
  const heads = layout === 'inline' ? 1 : 2;
  const bolts = Math.max(2, Math.ceil(cylinders / heads)) * 2 + 2;
  const two = heads === 2 ? ' x2 {\n  places left, right\n}' : '';
  return `part block "Cylinder block" {
  dimension main-bore x${mains} 58.300..58.312 mm
  dimension bore x${cylinders} 76.700..76.718 mm
  feature tang-slot
}

part crankshaft {
  dimension main-journal x${mains} 54.270..54.290 mm
    wear-limit 54.240 mm
  dimension crankpin x${cylinders} 48.550..48.568 mm
    wear-limit 48.520 mm
}

part main-cap x${mains} {
  matched
  orient arrow toward front
}

part main-shell "Main bearing shell" {
  places upper 1..${mains} into block, lower 1..${mains} into main-cap
  single-use
  fitted oiled
  wall 1.991..1.995 mm
  orient tang toward block.tang-slot
}

${rodParts(cylinders, 'left')}

${CAM_DRIVE}

part head-gasket${heads === 2 ? ' x2' : ''} {${heads === 2 ? '\n  places left, right' : ''}
  single-use
}

part cylinder-head${two}

part sump

part sump-gasket {
  single-use
}

fastener main-bolt x${mains * 2} {
  thread M10x1.5
  class 10.9
  fitted oiled
  joint structural
  clamps main-cap to block
  torque 20 N.m, 65 N.m
}

${ROD_BOLT}

${CAM_BOLT}

fastener head-bolt x${bolts * heads} {
  thread M10x1.25
  class 10.9
  fitted oiled
  single-use
  joint structural
  clamps cylinder-head, head-gasket to block
  torque 30 N.m, 60 N.m, 90 deg
  tightening-order${heads === 2 ? ' each cylinder-head' : ''}
${tighteningRows(bolts / 2)}
}

fastener sump-bolt x14 {
  thread M6
  class 8.8
  joint cover
  clamps sump, sump-gasket to block
  torque 9 N.m
}

supply assembly-lube "Assembly lubricant" {
  kind lubricant
}

${CAM_DRIVE_OF}

${mainLimit('block')}

${ROD_LIMIT}

${END_PLAY}

limit piston-clearance each piston
  kind piston-clearance
  = block.bore - piston.skirt
  within 0.030..0.060 mm

sequence long-block "Long block" {
  phase assemble
  starts-with block
  step lay-crankshaft "Lay the crankshaft" {
    fit main-shell upper into block
    fit main-shell lower into main-cap
    lubricate main-shell with assembly-lube
    fit crankshaft into block
    fit main-cap onto block
    tighten main-bolt
    measure crank-end-play with "dial gauge"
  }
${middleSteps('block')}
  step fit-head {
    fit head-gasket onto block
    fit cylinder-head onto block
    tighten head-bolt
  }
  step fit-sump {
    fit sump-gasket onto block
    fit sump onto block
    tighten sump-bolt
  }
}
`;
}
