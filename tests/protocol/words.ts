// Each word of the vocabulary by the place where it stands: what it is written with, what is offered behind it, and which name of its line
// takes a new name. A word that is new in the vocabulary needs a row here.
import type { Block } from '../../grammar/vocabulary.ts';

/** A spec with a thing of each kind that the rows name. */
export const BASE = `spec bench "Bench engine" {
  revision 3
  variants saloon, van
  source manual "Workshop manual"
}

engine {
  cylinders 4 inline
  cycle four-stroke
  front free-end
}

part block {
  dimension bore x4 78.40..78.42 mm
  feature oil-gallery, tang-slot
}

part crankshaft {
  dimension main-journal x5 56.17..56.19 mm
  size under-25 undersize 0.25 mm {
    dimension main-journal 55.92..55.94 mm
  }
}

part camshaft {
  feature oil-hole
}

part piston x4 {
  dimension skirt 78.35..78.36 mm
}

part connecting-rod x4

part main-shell {
  places upper 1..5 into block, lower 1..5 into block
  wall 1.991..1.995 mm
}

part cylinder-head

part head-gasket

part sump

part oil-pump

part valve-guide

part bush {
  feature oil-hole
}

part cooling-jacket {
  bled
}

part battery

part sump-guard

part fuel-pipe

part crank-sprocket {
  teeth 18
  fixed-to crankshaft
  mark dot at 7 o'clock
}

part cam-sprocket {
  teeth 36
  fixed-to camshaft
  mark dot at 1 o'clock
}

part timing-chain {
  links 56
}

part chain-tensioner {
  held-back "3 mm pin"
}

fastener head-bolt x10 {
  thread M10x1.25
  class 10.9
  clamps cylinder-head, head-gasket to block
  torque 30 N.m, 90 deg
}

supply sealant {
  kind sealant
}

supply assembly-lube

supply engine-oil

limit end-play of crankshaft
  kind end-play
  measured
  within 0.05..0.20 mm

limit lash each camshaft
  kind valve-lash
  measured
  within 0.20..0.25 mm

grades shim by lash {
  thin 2.00..2.05 mm
  thick 2.05..2.10 mm
}

drive cam-drive {
  chain timing-chain over crank-sprocket, cam-sprocket
  tensioner chain-tensioner
}

sequence whole {
  phase assemble
  starts-with block

  step fit-crankshaft {
    fit crankshaft into block
  }

  step prove-timing {
    confirm cam-drive by marks
  }
}

sequence strip {
  phase strip

  step drain-it {
    remove sump
  }
}

`;
/** What stands round a line of each block. */
export const HEADS: Readonly<Record<Block, readonly [string, string]>> = {
  spec: ['spec other "Other" {\n  ', '\n}\n'],
  engine: ['engine {\n  ', '\n}\n'],
  part: ['part thing {\n  ', '\n}\n'],
  size: ['part thing {\n  dimension d 3 mm\n  size over oversize 0.25 mm {\n    ', '\n  }\n}\n'],
  fastener: ['fastener bolt {\n  ', '\n}\n'],
  supply: ['supply stuff {\n  ', '\n}\n'],
  grades: ['grades disc by lash {\n  ', '\n}\n'],
  drive: ['drive second-drive {\n  ', '\n}\n'],
  'valve-timing': ['valve-timing grind on camshaft {\n  ', '\n}\n'],
  limit: ['limit play of block\n  measured\n  within 1..2 mm {\n    ', '\n  }\n'],
  sequence: ['sequence more {\n  ', '\n}\n'],
  step: ['sequence more {\n  step one {\n    ', '\n  }\n}\n'],
  job: ['job repair of bench {\n  ', '\n}\n'],
  record: ['record build of bench revision 3 {\n  ', '\n}\n'],
};

/** Block, line, what is offered behind its word, and the name in it that is renamed. */
export const STATEMENT_ROWS: readonly (readonly [Block, string, readonly string[], string?])[] = [
  ['part', 'note "Keep it level."', []],
  ['part', 'allow torque/low-preload because "Soft gasket, as the maker says."', ['torque/low-preload']],
  ['part', 'when van { covers oil-pump }', ['van'], 'van'],
  ['part', 'per manual "2-14"', ['manual'], 'manual'],
  ['spec', 'per manual "2-14"', ['manual'], 'manual'],
  ['fastener', 'per manual "2-14"', ['manual'], 'manual'],
  ['supply', 'per manual "2-14"', ['manual'], 'manual'],
  ['drive', 'per manual "2-14"', ['manual'], 'manual'],
  ['valve-timing', 'per manual "2-14"', ['manual'], 'manual'],
  ['engine', 'per manual "2-14"', ['manual'], 'manual'],
  ['grades', 'per manual "2-14"', ['manual'], 'manual'],
  ['size', 'per manual "2-14"', ['manual'], 'manual'],
  ['sequence', 'per manual "2-14"', ['manual'], 'manual'],
  ['step', 'per manual "2-14"', ['manual'], 'manual'],
  ['limit', 'per manual "2-14"', ['manual'], 'manual'],
  ['spec', 'revision 3', []],
  ['spec', 'variants saloon, van', []],
  ['spec', 'source manual "Workshop manual, second printing"', []],
  ['spec', 'units metric', ['metric']],
  ['spec', 'draft', []],
  ['engine', 'cylinders 4 inline', ['inline', 'flat']],
  ['engine', 'bank left 1, 3', ['left']],
  ['engine', 'front free-end', ['free-end']],
  ['engine', 'cycle four-stroke', ['four-stroke']],
  ['engine', 'rotation clockwise', ['clockwise']],
  ['engine', 'bore block.bore', ['block.bore'], 'block'],
  ['engine', 'stroke 83.20 mm', []],
  ['engine', 'rod-length 138.00 mm', []],
  ['engine', 'block-height 216.40 ±0.05 mm', []],
  ['engine', 'compression-height 36.50 mm', []],
  ['engine', 'chamber 41.0 ±0.5 cc', []],
  ['engine', 'dish 2.0 cc', []],
  ['engine', 'dome 3.5 cc', []],
  ['engine', 'gasket-bore 80.0 mm', ['block.bore']],
  ['engine', 'gasket-thickness 1.20 mm', []],
  ['engine', 'crankpin 1, 4 at 0 deg', ['at']],
  ['engine', 'firing-order 1-3-4-2', ['1-3-4-2']],
  ['engine', 'redline 6200 rpm', []],
  ['engine', 'interference', []],
  ['part', 'places upper 1..5 into block, lower 1..5 into sump', [], 'block'],
  ['part', 'dimension main-journal x5 56.170..56.190 mm', ['wear-limit']],
  ['part', 'feature tang-slot', []],
  ['part', 'wall 1.991..1.995 mm', ['wear-limit']],
  ['part', 'figure spring-rate 32 N/mm', ['wear-limit']],
  ['part', 'size under-25 undersize 0.25 mm { wall 2.116..2.120 mm }', ['undersize', 'oversize']],
  ['part', "mark dot at 6 o'clock", ['at', 'against']],
  ['part', 'orient arrow toward front', ['toward', 'at']],
  ['part', 'teeth 18', []],
  ['part', 'links 56', []],
  ['part', 'pitch 9.525 mm', []],
  ['part', 'fixed-to crankshaft', ['crankshaft'], 'crankshaft'],
  ['part', 'held-back "3 mm pin"', []],
  ['part', 'covers crank-sprocket', ['crank-sprocket'], 'crank-sprocket'],
  ['part', 'clear-of oil-pump, sump', ['oil-pump'], 'oil-pump'],
  ['part', 'out-through block.bore', ['block'], 'block'],
  ['part', 'fitted oiled', ['oiled']],
  ['part', 'bled', []],
  ['part', 'timed at 10 deg btdc 1 on compression', ['at']],
  ['part', 'driven-by camshaft', ['camshaft'], 'camshaft'],
  ['part', 'matched', []],
  ['part', 'single-use', []],
  ['part', 'heat-treated', []],
  ['fastener', 'single-use', []],
  ['part', 'secured-by tab-washer', ['tab-washer']],
  ['fastener', 'secured-by tab-washer', ['tab-washer']],
  ['part', 'on-order "promised for the 14th"', []],
  ['fastener', 'on-order "promised for the 14th"', []],
  ['supply', 'on-order "promised for the 14th"', []],
  ['part', 'mass 412 g', []],
  ['part', 'number "BR-4471"', []],
  ['fastener', 'number "BR-4471"', []],
  ['supply', 'number "BR-4471"', []],
  ['size', 'dimension main-journal 55.920..55.940 mm', ['wear-limit']],
  ['size', 'wall 2.116..2.120 mm', ['wear-limit']],
  ['size', 'figure groove-width 2.02 mm', ['wear-limit']],
  ['size', 'number "BR-4471-25"', []],
  ['fastener', 'like head-bolt', ['head-bolt'], 'head-bolt'],
  ['fastener', 'thread M10x1.25', ['M10x1.25']],
  ['fastener', 'class 10.9', ['10.9']],
  ['fastener', 'tensile 1100 MPa', []],
  ['fastener', 'length 92 mm', []],
  ['fastener', 'shank 8.2 mm', []],
  ['fastener', 'thread-length 22 mm', []],
  ['fastener', 'hole-depth 98 mm', []],
  ['fastener', 'into block iron', ['block'], 'block'],
  ['fastener', 'surface zinc', ['zinc']],
  ['fastener', 'fitted oiled', ['oiled']],
  ['fastener', 'nut-factor 0.16', []],
  ['fastener', 'friction 0.12', []],
  ['fastener', 'joint structural', ['structural']],
  ['fastener', 'clamps cylinder-head, head-gasket to block', ['cylinder-head'], 'cylinder-head'],
  ['fastener', 'each connecting-rod', ['connecting-rod'], 'connecting-rod'],
  ['fastener', 'reuse to 92.4 mm', ['to']],
  ['fastener', 'torque 30 N.m, 60 N.m, 90 deg', ['0 N.m', '0 deg']],
  ['fastener', 'draw-up 300 N.m with "old bolt"', ['with']],
  ['fastener', 'stretch 0.14..0.16 mm', []],
  ['fastener', 'retorque 65 N.m after "first warm-up, cold again"', ['after']],
  ['fastener', 'tightening-order 9 5 1 4 8 / 10 6 2 3 7', ['circle']],
  ['supply', 'kind sealant', ['sealant']],
  ['supply', 'amount 4.2 L', []],
  ['supply', 'close-within 10 min', []],
  ['supply', 'cure 2 h', []],
  ['drive', 'chain timing-chain over crank-sprocket, cam-sprocket', ['timing-chain'], 'timing-chain'],
  ['drive', 'belt timing-chain over crank-sprocket, cam-sprocket', ['timing-chain'], 'timing-chain'],
  ['drive', 'mesh crank-sprocket with cam-sprocket', ['crank-sprocket'], 'crank-sprocket'],
  ['drive', 'ratio crankshaft to camshaft 2:1', ['crankshaft'], 'crankshaft'],
  [
    'drive',
    "centre-distance crank-sprocket to cam-sprocket 135.4 mm at 12 o'clock",
    ['crank-sprocket'],
    'crank-sprocket',
  ],
  ['drive', 'marks-agree at tdc 1 on compression', ['at']],
  ['drive', 'marked-link 1 at crank-sprocket.dot', [], 'crank-sprocket'],
  ['drive', 'tensioner chain-tensioner', ['chain-tensioner'], 'chain-tensioner'],
  ['valve-timing', 'inlet opens 12 deg btdc closes 48 deg abdc', ['opens']],
  ['valve-timing', 'exhaust opens 50 deg bbdc closes 14 deg atdc', ['opens']],
  ['valve-timing', 'lift 10.2 mm at valve', ['at']],
  ['valve-timing', 'measured-at 1.27 mm', []],
  ['valve-timing', 'rocker-ratio 1.5:1', []],
  ['valve-timing', 'phaser 50 deg parked retarded', ['parked']],
  ['valve-timing', 'stated inlet-duration 240 deg', ['inlet-duration']],
  ['sequence', 'phase assemble', ['assemble']],
  ['sequence', 'starts-with block', ['block'], 'block'],
  ['sequence', 'after prove-timing', ['prove-timing'], 'prove-timing'],
  ['step', 'after prove-timing', ['prove-timing'], 'prove-timing'],
  ['job', 'begins whole', ['whole', 'bare']],
  ['job', 'sequences strip, whole', ['strip'], 'strip'],
  ['job', 'condition "Engine cold, battery disconnected."', []],
  ['job', 'follow-on "Check the coolant level after a day."', ['whole', 'strip']],
  ['part', 'see manual "5-10, figure 3"', ['manual'], 'manual'],
  ['fastener', 'see manual "5-10, figure 3"', ['manual'], 'manual'],
  ['limit', 'see manual "5-10, figure 3"', ['manual'], 'manual'],
  ['sequence', 'see manual "5-10, figure 3"', ['manual'], 'manual'],
  ['step', 'see manual "5-10, figure 3"', ['manual'], 'manual'],
  ['job', 'see manual "5-10, figure 3"', ['manual'], 'manual'],
  ['record', 'variant van', ['van'], 'van'],
  ['job', 'variant van', ['van'], 'van'],
  ['record', 'engine-number "QL-0417"', []],
  ['record', 'customer "Quarry Lane Haulage"', []],
  ['record', 'distance 611000 km', []],
  ['record', 'running-hours 8200 h', []],
  ['record', 'complaint "Low oil pressure when hot."', []],
  ['record', 'agreed "New liners, up to the sum named." on 2026-03-01', ['on', 'by']],
  ['record', 'fitted main-shell size under-25 "batch 7731"', ['main-shell'], 'main-shell'],
  ['record', 'found piston 3 "skirt scuffed" scrap', ['piston'], 'piston'],
  ['record', 'measured end-play 0.11 mm on 2026-03-02', ['end-play'], 'end-play'],
  ['record', 'done fit-crankshaft on 2026-03-04 by "RT"', ['fit-crankshaft'], 'fit-crankshaft'],
  ['record', 'witnessed prove-timing by "QL" on 2026-03-04', ['prove-timing'], 'prove-timing'],
  ['record', 'deviation fit-crankshaft "One bolt replaced, same class."', ['fit-crankshaft'], 'fit-crankshaft'],
  ['record', 'log 2026-03-09 14:10 oil-pressure 4.1 bar', []],
  ['record', 'photo "photos/liner-4.jpg" of block', [], 'block'],
  ['record', 'signed "RT" on 2026-03-10', ['on']],
  ['step', 'trial', []],
  ['step', 'fit camshaft into block', ['camshaft'], 'camshaft'],
  ['step', 'push-home valve-guide', ['valve-guide'], 'valve-guide'],
  ['step', 'line-up bush.oil-hole with camshaft.oil-hole', ['bush'], 'bush'],
  ['step', 'remove sump', ['sump'], 'sump'],
  ['step', 'tighten head-bolt stage 2', ['head-bolt'], 'head-bolt'],
  ['step', 'snug head-bolt', ['head-bolt'], 'head-bolt'],
  ['step', 'loosen head-bolt', ['head-bolt'], 'head-bolt'],
  ['step', 'renew head-gasket, head-bolt', ['head-gasket'], 'head-gasket'],
  ['step', 'secure head-bolt', ['head-bolt'], 'head-bolt'],
  ['step', 'lubricate main-shell with assembly-lube', ['main-shell'], 'main-shell'],
  ['step', 'seal sump with sealant', ['sump'], 'sump'],
  ['step', 'clean block', ['block'], 'block'],
  ['step', 'inspect crankshaft for "cracks at the fillets"', ['crankshaft'], 'crankshaft'],
  ['step', 'measure end-play with "dial gauge"', ['end-play'], 'end-play'],
  ['step', 'adjust lash by "screw and locknut"', ['lash'], 'lash'],
  ['step', 'machine crankshaft.main-journal to under-25 by "grinding"', ['crankshaft'], 'crankshaft'],
  ['step', 'hold-back chain-tensioner', ['chain-tensioner'], 'chain-tensioner'],
  ['step', 'release chain-tensioner', ['chain-tensioner'], 'chain-tensioner'],
  ['step', 'mask crankshaft', ['crankshaft'], 'crankshaft'],
  ['step', 'unmask crankshaft', ['crankshaft'], 'crankshaft'],
  ['step', 'pin crankshaft with "timing pin"', ['crankshaft'], 'crankshaft'],
  ['step', 'unpin crankshaft', ['crankshaft'], 'crankshaft'],
  ['step', 'set crankshaft at tdc 1 on compression', ['crankshaft'], 'crankshaft'],
  ['step', 'align cam-drive', ['cam-drive'], 'cam-drive'],
  ['step', 'rotate crankshaft 2 turns', ['crankshaft'], 'crankshaft'],
  ['step', 'confirm cam-drive by marks', ['cam-drive'], 'cam-drive'],
  ['step', 'drain sump', ['sump'], 'sump'],
  ['step', 'fill sump with engine-oil 3.6 L', ['sump'], 'sump'],
  ['step', 'bleed cooling-jacket', ['cooling-jacket'], 'cooling-jacket'],
  ['step', 'prime oil-pump', ['oil-pump'], 'oil-pump'],
  ['step', 'connect fuel-pipe', ['fuel-pipe'], 'fuel-pipe'],
  ['step', 'disconnect battery', ['battery'], 'battery'],
  ['step', 'plug block.oil-gallery', ['block'], 'block'],
  ['step', 'unplug block.oil-gallery', ['block'], 'block'],
  ['step', 'support engine with "hoist"', ['engine']],
  ['step', 'lift engine with "hoist"', ['engine']],
  ['step', 'crank engine for 20 s until "oil pressure shows"', ['engine']],
  ['step', 'run engine at 2000 rpm for 20 min', ['engine']],
  ['step', 'wait 2 h', []],
  ['step', 'tool "ring compressor"', []],
  ['step', 'caution "Ring edges cut."', []],
  ['sequence', 'caution "Ring edges cut."', []],
  ['part', 'caution "Ring edges cut."', []],
  ['fastener', 'caution "Ring edges cut."', []],
  ['job', 'caution "Ring edges cut."', []],
  ['step', 'hold-point "Second person checks the timing marks."', []],
];

/** The words inside statements: the line up to behind the word, and what is offered there. */
export const CLAUSE_ROWS: readonly (readonly [
  word: string,
  block: Block | 'limit-head' | 'head',
  line: string,
  offers: readonly string[],
])[] = [
  ['wear-limit', 'part', 'dimension depth 3 mm wear-limit', []],
  ['within', 'limit-head', 'measured within', []],
  ['measured', 'limit-head', 'measured', ['within', 'at-least', 'at-most']],
  ['kind', 'limit-head', 'kind', ['oil-clearance', 'end-play']],
  ['at-least', 'limit-head', 'measured at-least', []],
  ['at-most', 'limit-head', 'measured at-most', []],
  ['each', 'limit-head', 'each', ['piston']],
  ['of', 'limit-head', 'of', ['block']],
  ['on', 'record', 'done fit-crankshaft on', []],
  ['by', 'step', 'confirm cam-drive by', ['marks']],
  ['per', 'part', 'mass 3 kg per', ['manual']],
  ['because', 'part', 'allow unit/missing because', []],
  ['undersize', 'part', 'size under-50 undersize', []],
  ['oversize', 'part', 'size over-50 oversize', []],
  ['at', 'step', 'set crankshaft at', ['tdc', 'bdc']],
  ['against', 'part', 'mark notch against', ['crank-sprocket']],
  ['toward', 'part', 'orient arrow toward', ['front', 'rear', 'block']],
  ['for', 'step', 'run engine for', []],
  ['to', 'step', 'machine crankshaft.main-journal to', ['under-25']],
  ['over', 'drive', 'chain timing-chain over', ['crank-sprocket', 'cam-sprocket']],
  ['on-back', 'drive', 'belt timing-chain over crank-sprocket, cam-sprocket on-back', []],
  ['with', 'step', 'lubricate main-shell with', ['assembly-lube']],
  ['tdc', 'step', 'set crankshaft at tdc', []],
  ['either-side-of', 'drive', 'marked-link 1, 2 either-side-of', ['crank-sprocket.dot']],
  ['opens', 'valve-timing', 'inlet opens', []],
  ['closes', 'valve-timing', 'inlet opens 12 deg btdc closes', []],
  ['after', 'sequence', 'after', ['whole', 'strip']],
  ['before', 'head', 'spec light extends bench {\n  insert step look before', ['fit-crankshaft']],
  ['extends', 'head', 'spec light extends', ['bench']],
  ['into', 'step', 'fit crankshaft into', ['block']],
  ['onto', 'step', 'fit sump onto', ['block']],
  ['from', 'step', 'remove sump from', ['block']],
  ['together', 'step', 'fit crankshaft, main-shell into block together', []],
  ['stage', 'step', 'tighten head-bolt stage', ['1', '2']],
  ['revision', 'head', 'record first of bench revision', []],
  ['size', 'record', 'fitted crankshaft size', ['under-25']],
  ['grade', 'record', 'fitted shim grade', ['thin', 'thick']],
  ['again', 'step', 'tighten head-bolt again', []],
  ['until', 'step', 'run engine until', []],
  ['under', 'step', 'run engine under', ['load']],
  ['part-way', 'step', 'fit valve-guide into cylinder-head part-way', []],
  ['circle', 'fastener', 'tightening-order circle', []],
  ['for-each', 'limit-head', 'measured within 0.1..0.2 mm for-each', []],
  ['otherwise', 'limit-head', 'measured within 0.1..0.2 mm otherwise', []],
  ['readings', 'limit-head', 'measured readings', []],
  ['parked', 'valve-timing', 'phaser 50 deg parked', ['retarded', 'advanced']],
];

/** The words that begin a declaration, with what is offered behind the word or its name. */
export const DECLARATION_ROWS: readonly (readonly [word: string, line: string, offers: readonly string[]])[] = [
  ['spec', 'spec light extends', ['bench']],
  ['engine', 'engine {\n ', ['cylinders', 'firing-order', 'bore']],
  ['part', 'part lid {\n ', ['covers', 'orient', 'dimension']],
  ['fastener', 'fastener stud {\n ', ['thread', 'clamps', 'torque']],
  ['supply', 'supply paste {\n ', ['kind', 'cure']],
  ['grades', 'grades disc by', ['lash', 'end-play']],
  ['drive', 'drive pump-drive {\n ', ['chain', 'belt', 'ratio']],
  ['valve-timing', 'valve-timing grind on', ['camshaft']],
  ['limit', 'limit float of', ['block', 'crankshaft']],
  ['sequence', 'sequence more {\n ', ['step', 'phase', 'starts-with']],
  ['step', 'sequence more {\n  step one {\n   ', ['fit', 'tighten', 'confirm']],
  ['job', 'job repair of', ['bench']],
  ['record', 'record first of', ['bench']],
  ['use', 'use "', ['fettle:metric-bolts']],
  ['when', 'when', ['saloon', 'van']],
  ['change', 'spec light extends bench {\n  change', ['part', 'fastener', 'step']],
  ['drop', 'spec light extends bench {\n  drop', ['part', 'fastener', 'step']],
  ['insert', 'spec light extends bench {\n  insert', ['step']],
];

/** The stages of a torque that have no figure. */
export const STAGE_ROWS: readonly string[] = ['slacken', 'hand-tight', 'contact', 'tight', 'next-slot'];
