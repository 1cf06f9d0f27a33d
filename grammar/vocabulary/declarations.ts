// The words that begin a declaration. They are reserved: never names.
import type { DeclarationRow } from './rows.ts';

export const DECLARATIONS = [
  {
    word: 'spec',
    help: 'Says what this file is about: its name, revision, variants and sources.',
    example: 'spec brindle-four "Brindle Four, long block" {\n  revision 1\n}',
  },
  {
    word: 'engine',
    help: 'What the engine is by design: cylinders, bore, stroke, crankpins, firing order.',
    example: 'engine {\n  cylinders 4 inline\n  cycle four-stroke\n}',
  },
  {
    word: 'part',
    help: 'One thing that goes into the engine: its places, sizes, marks, and which way round it goes.',
    example: 'part piston x4 {\n  orient arrow toward front\n}',
  },
  {
    word: 'fastener',
    help: 'A bolt, nut, stud or plug: thread, class, what it clamps, and how tight.',
    example: 'fastener sump-bolt x14 {\n  thread M6\n  clamps sump to block\n  torque 9 N.m\n}',
  },
  {
    word: 'supply',
    help: 'What is used up: oil, lubricant, sealant, coolant.',
    example: 'supply assembly-lube "Assembly lubricant"',
  },
  {
    word: 'grades',
    help: 'A table that chooses a part by a measurement.',
    example: 'grades shim by lash {\n  thin 2.00..2.05 mm\n  thick 2.05..2.10 mm\n}',
  },
  {
    word: 'drive',
    help: 'A timing relation: a chain, a belt or gears, with its ratio and marks.',
    example:
      'drive cam-drive {\n  chain timing-chain over crank-sprocket, cam-sprocket\n  ratio crankshaft to camshaft 2:1\n}',
  },
  {
    word: 'valve-timing',
    help: 'When the valves open and close, and how far.',
    example: 'valve-timing road-grind on camshaft {\n  inlet opens 12 deg btdc closes 48 deg abdc\n}',
  },
  {
    word: 'limit',
    help: 'A value that must lie within bounds: worked out from the parts, measured, or both.',
    example: 'limit crank-end-play of crankshaft\n  kind end-play\n  measured\n  within 0.05..0.20 mm',
  },
  {
    word: 'sequence',
    help: 'Steps in the order of work.',
    example: 'sequence long-block {\n  phase assemble\n  starts-with block\n}',
  },
  {
    word: 'step',
    help: 'One step of a sequence: a few actions that belong together.',
    example: 'step fit-camshaft {\n  fit camshaft into block\n}',
  },
  {
    word: 'job',
    help: 'A piece of work on this engine: how it begins and which sequences it runs.',
    example: 'job camshaft-change of brindle-four {\n  begins whole\n  sequences strip-front, refit-front\n}',
  },
  {
    word: 'record',
    help: 'One job done: what was measured, fitted and found, and who did it.',
    example: 'record build-118 of brindle-four revision 3 {\n  signed "RT" on 2026-03-10\n}',
  },
  {
    word: 'use',
    help: 'Makes the declarations of another file known here. The file must lie in the same workspace folder.',
    example: 'use "common-fasteners.fettle"',
  },
  { word: 'when', help: 'What is inside holds for these variants alone.', example: 'when van {\n  part sump-guard\n}' },
] as const satisfies readonly DeclarationRow[];
