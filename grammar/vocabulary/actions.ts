// The actions and remarks of a step.
import type { StatementRow } from '../vocabulary.ts';

const STEP = ['step'] as const;
const CONFIRM_WAYS = { marks: 'the timing marks stand where they must', links: 'the marked links stand at the marks', pins: 'the timing pins go in', 'dial-gauge': 'measured with a dial gauge', 'degree-wheel': 'measured with a degree wheel' };
const STROKE = { compression: 'the piston comes up to fire', overlap: 'exhaust closes while inlet opens' };

export const ACTIONS: readonly StatementRow[] = [
  { word: 'trial', in: STEP, shape: 'flag', help: 'The work of this step comes off again.', example: 'trial' },
  { word: 'fit', in: STEP, shape: 'action', repeats: true, refers: ['part', 'grades'], choices: { press: 'pressed in', heat: 'heated, or its mate cooled', twist: 'twisted in' }, help: 'Puts parts on or in.', example: 'fit camshaft into block' },
  { word: 'remove', in: STEP, shape: 'action', repeats: true, refers: ['part', 'fastener', 'grades'], help: 'Takes parts off.', example: 'remove sump' },
  { word: 'tighten', in: STEP, shape: 'action', repeats: true, refers: ['fastener'], help: 'Tightens to the last stage, or to the stage named.', example: 'tighten head-bolt stage 2' },
  { word: 'snug', in: STEP, shape: 'action', repeats: true, refers: ['fastener'], help: 'Runs it in until it just seats.', example: 'snug cam-sprocket-bolt' },
  { word: 'loosen', in: STEP, shape: 'action', repeats: true, refers: ['fastener'], help: 'Undoes it.', example: 'loosen cam-sprocket-bolt' },
  { word: 'renew', in: STEP, shape: 'action', repeats: true, refers: ['part', 'fastener'], help: 'A new one takes the place of the old, before it is fitted again.', example: 'renew head-gasket, head-bolt' },
  { word: 'secure', in: STEP, shape: 'action', repeats: true, refers: ['fastener', 'part'], help: 'Puts in the pin, bends the tab, twists the wire.', example: 'secure flywheel-bolt' },
  { word: 'lubricate', in: STEP, shape: 'action', repeats: true, refers: ['part', 'fastener'], help: 'Oils or greases before fitting.', example: 'lubricate main-shell with assembly-lube' },
  { word: 'seal', in: STEP, shape: 'action', repeats: true, refers: ['part', 'fastener'], help: 'Puts sealant on.', example: 'seal sump with sealant' },
  { word: 'clean', in: STEP, shape: 'action', repeats: true, refers: ['part', 'fastener'], help: 'Cleans.', example: 'clean block' },
  { word: 'inspect', in: STEP, shape: 'action', repeats: true, refers: ['part', 'fastener'], help: 'Looks for something.', example: 'inspect crankshaft for "cracks at the fillets"' },
  { word: 'measure', in: STEP, shape: 'action', repeats: true, refers: ['limit'], help: 'Measures a limit.', example: 'measure crank-end-play with "dial gauge"' },
  { word: 'adjust', in: STEP, shape: 'action', repeats: true, refers: ['limit'], help: 'Brings a limit into its bounds.', example: 'adjust valve-lash by "screw and locknut"' },
  { word: 'machine', in: STEP, shape: 'action', repeats: true, refers: ['part'], help: 'Machines a feature to a repair size.', example: 'machine crankshaft.main-journal to under-25 by "grinding"' },
  { word: 'hold-back', in: STEP, shape: 'action', repeats: true, refers: ['part'], help: 'Holds a spring-loaded part back.', example: 'hold-back chain-tensioner' },
  { word: 'release', in: STEP, shape: 'action', repeats: true, refers: ['part'], help: 'Lets a held-back part go.', example: 'release chain-tensioner' },
  { word: 'pin', in: STEP, shape: 'action', repeats: true, refers: ['part'], help: 'Holds a shaft with a timing pin.', example: 'pin crankshaft with "timing pin"' },
  { word: 'unpin', in: STEP, shape: 'action', repeats: true, refers: ['part'], help: 'Takes the timing pin out.', example: 'unpin crankshaft' },
  { word: 'set', in: STEP, shape: 'set', repeats: true, refers: ['part'], unit: ['angle'], choices: STROKE, help: 'Turns a shaft to a position.', example: 'set crankshaft at tdc 1 on compression' },
  { word: 'align', in: STEP, shape: 'action', repeats: true, refers: ['drive'], help: 'Puts a drive together with its marks and marked links in line.', example: 'align cam-drive' },
  { word: 'rotate', in: STEP, shape: 'rotate', repeats: true, refers: ['part'], unit: ['angle'], choices: { clockwise: 'seen from the front', anticlockwise: 'seen from the front' }, help: 'Turns a shaft by hand.', example: 'rotate crankshaft 2 turns' },
  { word: 'confirm', in: STEP, shape: 'confirm', repeats: true, refers: ['drive', 'part'], unit: ['angle'], choices: CONFIRM_WAYS, help: 'Proves that a drive or a mark stands where it must.', example: 'confirm cam-drive by marks' },
  { word: 'drain', in: STEP, shape: 'action', repeats: true, refers: ['part'], help: 'Lets oil or coolant out.', example: 'drain sump' },
  { word: 'fill', in: STEP, shape: 'action', repeats: true, refers: ['part'], unit: ['volume', 'mass'], help: 'Fills with a supply.', example: 'fill sump with engine-oil 3.6 L' },
  { word: 'bleed', in: STEP, shape: 'action', repeats: true, refers: ['part'], help: 'Lets the air out.', example: 'bleed cooling-jacket' },
  { word: 'prime', in: STEP, shape: 'action', repeats: true, refers: ['part'], help: 'Brings oil to where it is needed before the first start.', example: 'prime oil-pump' },
  { word: 'connect', in: STEP, shape: 'action', repeats: true, refers: ['part'], help: 'Connects a pipe, a cable, a plug.', example: 'connect fuel-pipe' },
  { word: 'disconnect', in: STEP, shape: 'action', repeats: true, refers: ['part'], help: 'Takes a pipe, a cable, a plug off.', example: 'disconnect battery' },
  { word: 'plug', in: STEP, shape: 'action', repeats: true, refers: ['part'], help: 'Closes an opening for the time of the work.', example: 'plug block.oil-gallery' },
  { word: 'unplug', in: STEP, shape: 'action', repeats: true, refers: ['part'], help: 'Opens it again.', example: 'unplug block.oil-gallery' },
  { word: 'support', in: STEP, shape: 'action', repeats: true, refers: ['part'], help: 'Takes the weight.', example: 'support engine with "hoist"' },
  { word: 'lift', in: STEP, shape: 'action', repeats: true, refers: ['part'], help: 'Lifts out or in.', example: 'lift engine with "hoist"' },
  { word: 'run', in: STEP, shape: 'run', repeats: true, unit: ['speed', 'time'], help: 'Runs the engine.', example: 'run engine at 2000 rpm for 20 min' },
  { word: 'wait', in: STEP, shape: 'wait', repeats: true, unit: ['time'], help: 'Waits: for sealant to cure, for the engine to cool.', example: 'wait 2 h' },
  { word: 'tool', in: STEP, shape: 'text', repeats: true, help: 'A tool to lay out for this step.', example: 'tool "ring compressor"' },
  { word: 'caution', in: ['step', 'sequence', 'part', 'fastener', 'job'], shape: 'text', repeats: true, help: 'What can hurt here.', example: 'caution "Ring edges cut."' },
  { word: 'hold-point', in: STEP, shape: 'text', repeats: true, help: 'Work stops here until someone has looked.', example: 'hold-point "Second person checks the timing marks."' },
];
