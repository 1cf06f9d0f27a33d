// A first spec for flat engines: a case in two halves, no main caps, barrels one by one.
import {
  CAM_BOLT,
  CAM_DRIVE,
  CAM_DRIVE_OF,
  END_PLAY,
  mainLimit,
  ROD_BOLT,
  ROD_LIMIT,
  rodParts,
  timingSteps,
} from './first-block.ts';
import type { Layout } from './layouts.ts';

/** All declarations behind the engine. */
export function flatSpec({ cylinders }: Layout): string {
  const mains = cylinders / 2 + 1;
  return `part left-case "Crankcase, left half" {
  dimension main-bore x${mains} 58.300..58.312 mm
  feature tang-slot
}

part right-case "Crankcase, right half" {
  fitted sealant
  covers main-shell
}

part crankshaft {
  dimension main-journal x${mains} 54.270..54.290 mm
    wear-limit 54.240 mm
  dimension crankpin x${cylinders} 48.550..48.568 mm
    wear-limit 48.520 mm
}

part main-shell "Main bearing shell" {
  places left 1..${mains} into left-case, right 1..${mains} into right-case
  single-use
  fitted oiled
  wall 1.991..1.995 mm
  orient tang toward left-case.tang-slot
}

${rodParts(cylinders, 'up')}

${CAM_DRIVE}

part barrel x${cylinders} {
  dimension bore 76.700..76.718 mm
}

part barrel-gasket x${cylinders} {
  single-use
}

part cylinder-head x2 {
  places left, right
}

part sump

part sump-gasket {
  single-use
}

fastener case-bolt x${mains * 4} {
  thread M10x1.5
  class 8.8
  fitted oiled
  joint structural
  clamps right-case to left-case
  torque 20 N.m, 40 N.m
}

${ROD_BOLT}

${CAM_BOLT}

fastener head-nut x${cylinders * 4} {
  thread M10x1.5
  class 8
  fitted oiled
  joint structural
  clamps cylinder-head, barrel to left-case
  torque 10 N.m, 32 N.m
}

fastener sump-bolt x14 {
  thread M6
  class 8.8
  joint cover
  clamps sump, sump-gasket to left-case
  torque 9 N.m
}

supply assembly-lube "Assembly lubricant" {
  kind lubricant
}

supply case-sealant "Case sealant" {
  kind sealant
}

${CAM_DRIVE_OF}

${mainLimit('left-case')}

${ROD_LIMIT}

${END_PLAY}

limit piston-clearance each piston
  kind piston-clearance
  = barrel.bore - piston.skirt
  within 0.030..0.060 mm

sequence long-block "Long block" {
  phase assemble
  starts-with left-case
  step lay-in-left-half "Lay the crankshaft in" {
    fit rod-shell upper into connecting-rod
    fit rod-shell lower into rod-cap
    lubricate rod-shell with assembly-lube
    fit connecting-rod onto crankshaft
    fit rod-cap onto connecting-rod
    tighten rod-bolt
    fit main-shell left into left-case
    fit main-shell right into right-case
    lubricate main-shell with assembly-lube
    lubricate camshaft with assembly-lube
    fit crankshaft into left-case
    fit camshaft into left-case
  }
  step close-case {
    seal right-case with case-sealant
    fit right-case onto left-case
    tighten case-bolt
    measure crank-end-play with "dial gauge"
  }
${timingSteps()}
  step fit-pistons each piston {
    tool "ring compressor"
    fit piston-ring-set onto piston
    lubricate piston-pin with assembly-lube
    fit piston onto connecting-rod
    fit piston-pin into piston
    fit barrel-gasket onto left-case
    fit barrel onto left-case
    caution "Ring edges cut."
  }
  step fit-heads {
    fit cylinder-head left, right onto barrel
    tighten head-nut
  }
  step fit-sump {
    fit sump-gasket onto left-case
    fit sump onto left-case
    tighten sump-bolt
  }
}
`;
}
