// A first spec for a radial of one row: a master rod with link rods on one crankpin, rolling bearings, and a cam ring.
import { END_PLAY } from './first-block.ts';
import type { Layout } from './layouts.ts';

/** All declarations behind the engine. */
export function radialSpec({ cylinders }: Layout): string {
  const links = cylinders - 1;
  // A ring of (n - 1) / 2 lobes turns backward, once in n - 1 turns of the crankshaft.
  const ratio = cylinders - 1;
  return `part crankcase {
  dimension bearing-bore x2 90.000..90.022 mm
}

part crankcase-front "Front half of the crankcase" {
  fitted sealant
  covers master-rod, main-bearing
}

part crankshaft {
  dimension crankpin 48.550..48.568 mm
    wear-limit 48.520 mm
}

part main-bearing "Main bearing, rolling" {
  places rear into crankcase, front into crankcase-front
  fitted oiled
}

part master-rod "Master rod, of cylinder 1" {
  matched
  dimension big-end 48.600..48.616 mm
  fitted oiled
  orient number toward front
}

part link-rod x${links} {
  matched
  orient number toward front
}

part knuckle-pin x${links} {
  dimension diameter 16.000..16.008 mm
  fitted oiled
  secured-by circlip
}

part piston x${cylinders} {
  dimension skirt 76.600..76.610 mm
  orient arrow toward front
}

part piston-pin x${cylinders}

part piston-ring-set x${cylinders}

part barrel x${cylinders} {
  dimension bore 76.700..76.718 mm
}

part barrel-gasket x${cylinders} {
  single-use
}

part cylinder-head x${cylinders}

part crank-gear {
  teeth 16
  fixed-to crankshaft
  mark dot at 12 o'clock
}

part cam-ring "Cam ring, ${(cylinders - 1) / 2} lobes to a track" {
  fitted oiled
}

part cam-gear {
  teeth ${16 * ratio}
  fixed-to cam-ring
  mark dot against crank-gear.dot
}

fastener case-bolt x${cylinders * 2} {
  thread M8
  class 8.8
  fitted oiled
  joint structural
  clamps crankcase-front to crankcase
  torque 10 N.m, 20 N.m
  tightening-order circle
    ${circle(cylinders * 2)}
}

fastener barrel-nut x4 {
  each barrel
  thread M8
  class 8
  fitted oiled
  joint structural
  clamps barrel to crankcase
  torque 10 N.m, 20 N.m
}

fastener head-bolt x4 {
  each cylinder-head
  thread M8
  class 8.8
  fitted oiled
  joint structural
  clamps cylinder-head to barrel
  torque 10 N.m, 22 N.m
}

supply assembly-lube "Assembly lubricant" {
  kind lubricant
}

supply case-sealant "Case sealant" {
  kind sealant
}

drive cam-drive "Drive of the cam ring" {
  mesh crank-gear with cam-gear
  ratio crankshaft to cam-ring ${ratio}:1
  marks-agree at tdc 1 on compression
}

limit master-rod-clearance of master-rod
  kind oil-clearance
  = master-rod.big-end - crankshaft.crankpin
  within 0.030..0.070 mm
  wear-limit 0.090 mm

${END_PLAY}

limit piston-clearance each piston
  kind piston-clearance
  = barrel.bore - piston.skirt
  within 0.085..0.120 mm

sequence power-section "Power section" {
  phase assemble
  starts-with crankcase
  step build-rods "Link rods onto the master rod" {
    lubricate knuckle-pin with assembly-lube
    fit link-rod onto master-rod
    fit knuckle-pin into link-rod
    secure knuckle-pin
  }
  step lay-crankshaft "Lay the crankshaft" {
    lubricate main-bearing, master-rod with assembly-lube
    fit main-bearing rear into crankcase
    fit master-rod onto crankshaft
    fit crankshaft into crankcase
    fit main-bearing front into crankcase-front
    seal crankcase-front with case-sealant
    fit crankcase-front onto crankcase
    tighten case-bolt
    measure crank-end-play with "dial gauge"
  }
  step time-cam-ring {
    lubricate cam-ring with assembly-lube
    fit crank-gear onto crankshaft
    set crankshaft at tdc 1 on compression
    fit cam-ring onto crankcase-front
    fit cam-gear onto cam-ring
    align cam-drive
  }
  step prove-timing {
    rotate crankshaft ${ratio} turns
    confirm cam-drive by marks
  }
  step fit-pistons "Pistons and barrels" each piston {
    tool "ring compressor"
    fit piston-ring-set onto piston
    lubricate piston-pin with assembly-lube
    fit piston
    fit piston-pin into piston
    fit barrel-gasket onto crankcase
    fit barrel onto crankcase
    tighten barrel-nut
    caution "Ring edges cut."
  }
  step fit-heads {
    fit cylinder-head onto barrel
    tighten head-bolt
  }
}
`;
}

/** Bolts round a circle, each next one about opposite the last. */
function circle(count: number): string {
  const order: number[] = [];
  const half = count / 2;
  for (let i = 0; i < half; i += 1) order.push(i, i + half);
  const turn = new Map(order.map((bolt, at) => [bolt, at + 1]));
  return Array.from({ length: count }, (_, bolt) => turn.get(bolt)).join(' ');
}
