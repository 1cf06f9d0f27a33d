// The statements that stand in the braces of declarations. Actions of a step stand in actions.ts.
import type { StatementRow } from '../vocabulary.ts';

const EVERYWHERE = ['spec', 'engine', 'part', 'size', 'fastener', 'supply', 'grades', 'drive', 'valve-timing', 'limit', 'sequence', 'step', 'job', 'record'] as const;

export const STATEMENTS: readonly StatementRow[] = [
  // everywhere
  { word: 'note', in: EVERYWHERE, shape: 'text', repeats: true, help: 'A remark for the reader.', example: 'note "Keep it level."' },
  { word: 'allow', in: EVERYWHERE, shape: 'allow', repeats: true, help: 'Silences one check in these braces; the reason is required.', example: 'allow torque/low-preload because "Soft gasket, as the maker says."' },
  { word: 'when', in: EVERYWHERE, shape: 'when', repeats: true, refers: ['variant'], help: 'What is inside holds for these variants alone.', example: 'when van { covers oil-pump }' },
  { word: 'per', in: ['spec', 'part', 'fastener', 'supply', 'drive', 'valve-timing', 'engine', 'grades', 'size', 'sequence', 'step', 'limit'], shape: 'per', refers: ['source'], help: 'Where the values here come from, when they do not say so themselves.', example: 'per manual "2-14"' },

  // spec
  { word: 'revision', in: ['spec'], shape: 'number', help: 'A whole number that rises with every change that matters.', example: 'revision 3' },
  { word: 'variants', in: ['spec'], shape: 'names', help: 'The vehicles or versions that differ; `when` picks them.', example: 'variants saloon, van' },
  { word: 'source', in: ['spec'], shape: 'source', repeats: true, help: 'Where figures come from: a manual, a drawing, the shop.', example: 'source manual "Workshop manual, second printing"' },
  { word: 'units', in: ['spec'], shape: 'choice', choices: { metric: 'millimetres and newton metres are shown first', inch: 'inches and pound-feet are shown first' }, help: 'Which units are shown first.', example: 'units metric' },
  { word: 'draft', in: ['spec'], shape: 'flag', help: 'Work in progress: only contradictions are shown as errors, what is missing is information.', example: 'draft' },

  // engine
  { word: 'cylinders', in: ['engine'], shape: 'cylinders', choices: { inline: 'all in one row', flat: 'two rows that lie opposite each other', vee: 'two rows at an angle, which follows', radial: 'in a star round the crankshaft' }, unit: ['angle'], help: 'How many cylinders, and how they lie.', example: 'cylinders 4 inline' },
  { word: 'bank', in: ['engine'], shape: 'bank', repeats: true, choices: { left: 'left, seen from the front', right: 'right, seen from the front' }, help: 'Which cylinders lie in the left or right bank, seen from the front.', example: 'bank left 1, 3' },
  { word: 'front', in: ['engine'], shape: 'choice', choices: { 'free-end': 'the end away from the flywheel', 'flywheel-end': 'the end with the flywheel' }, help: 'Which end of the engine is called the front.', example: 'front free-end' },
  { word: 'cycle', in: ['engine'], shape: 'choice', choices: { 'four-stroke': 'fires every second turn', 'two-stroke': 'fires every turn' }, help: 'Four-stroke or two-stroke.', example: 'cycle four-stroke' },
  { word: 'rotation', in: ['engine'], shape: 'choice', choices: { clockwise: 'seen from the front', anticlockwise: 'seen from the front' }, help: 'Which way the crankshaft turns, seen from the front.', example: 'rotation clockwise' },
  { word: 'bore', in: ['engine'], shape: 'value', unit: ['length'], help: 'Diameter of the cylinders.', example: 'bore block.bore' },
  { word: 'stroke', in: ['engine'], shape: 'value', unit: ['length'], help: 'How far the piston travels: twice the throw.', example: 'stroke 83.20 mm' },
  { word: 'rod-length', in: ['engine'], shape: 'value', unit: ['length'], help: 'Connecting rod, centre to centre.', example: 'rod-length 138.00 mm' },
  { word: 'block-height', in: ['engine'], shape: 'value', unit: ['length'], help: 'From the crankshaft centre line to the face of the block.', example: 'block-height 216.40 ±0.05 mm' },
  { word: 'compression-height', in: ['engine'], shape: 'value', unit: ['length'], help: 'From the piston pin centre to the crown.', example: 'compression-height 36.50 mm' },
  { word: 'chamber', in: ['engine'], shape: 'value', unit: ['volume'], help: 'Volume of the combustion chamber in the head.', example: 'chamber 41.0 ±0.5 cc' },
  { word: 'dish', in: ['engine'], shape: 'value', unit: ['volume'], help: 'Volume of the hollow in the piston crown, valve reliefs included.', example: 'dish 2.0 cc' },
  { word: 'dome', in: ['engine'], shape: 'value', unit: ['volume'], help: 'Volume by which the piston crown rises into the chamber.', example: 'dome 3.5 cc' },
  { word: 'gasket-bore', in: ['engine'], shape: 'value', unit: ['length'], help: 'Diameter of the hole in the head gasket.', example: 'gasket-bore 80.0 mm' },
  { word: 'gasket-thickness', in: ['engine'], shape: 'value', unit: ['length'], help: 'Head gasket when it is tightened down.', example: 'gasket-thickness 1.20 mm' },
  { word: 'crankpin', in: ['engine'], shape: 'crankpin', repeats: true, unit: ['angle'], help: 'The cylinders that share a crankpin, and its angle in the direction of rotation.', example: 'crankpin 1, 4 at 0 deg' },
  { word: 'firing-order', in: ['engine'], shape: 'firing-order', help: 'The order in which the cylinders fire.', example: 'firing-order 1-3-4-2' },
  { word: 'redline', in: ['engine'], shape: 'value', unit: ['speed'], help: 'The highest speed that the engine is built for.', example: 'redline 6200 rpm' },
  { word: 'interference', in: ['engine'], shape: 'flag', help: 'Valves meet pistons when the timing is out.', example: 'interference' },

  // part
  { word: 'places', in: ['part'], shape: 'places', help: 'The places of this part that can be named: upper and lower shells, left and right heads.', example: 'places upper 1..5, lower 1..5' },
  { word: 'dimension', in: ['part'], shape: 'dimension', repeats: true, unit: ['length', 'angle'], help: 'A diameter, a length, a height; its count is for one part.', example: 'dimension main-journal x5 56.170..56.190 mm' },
  { word: 'feature', in: ['part'], shape: 'names', repeats: true, help: 'A place without a size, for rules to point at.', example: 'feature tang-slot' },
  { word: 'wall', in: ['part'], shape: 'value', unit: ['length'], help: 'Thickness of a bearing shell, which counts on both sides.', example: 'wall 1.991..1.995 mm' },
  { word: 'figure', in: ['part'], shape: 'figure', repeats: true, unit: ['any'], help: 'Anything else with a unit: the rate of a spring, a mass, a length under load.', example: 'figure spring-rate 32 N/mm' },
  { word: 'size', in: ['part'], shape: 'size', repeats: true, unit: ['length'], help: 'A repair size: its dimensions, and by how much it differs from standard.', example: 'size under-25 undersize 0.25 mm { wall 2.116..2.120 mm }' },
  { word: 'mark', in: ['part'], shape: 'mark', repeats: true, unit: ['angle'], help: 'A timing mark: where it stands when the marks of its drive agree, or which mark it meets.', example: "mark dot at 6 o'clock" },
  { word: 'orient', in: ['part'], shape: 'orient', repeats: true, unit: ['angle'], choices: { front: 'toward the front of the engine', rear: 'toward the rear', up: 'away from the sump', down: 'toward the sump', left: 'seen from the front', right: 'seen from the front', inlet: 'toward the inlet side', exhaust: 'toward the exhaust side' }, help: 'Which way round it goes.', example: 'orient arrow toward front' },
  { word: 'teeth', in: ['part'], shape: 'number', help: 'How many teeth the wheel or belt has.', example: 'teeth 18' },
  { word: 'links', in: ['part'], shape: 'number', help: 'How many links the chain has.', example: 'links 56' },
  { word: 'pitch', in: ['part'], shape: 'value', unit: ['length'], help: 'From one link or tooth to the next.', example: 'pitch 9.525 mm' },
  { word: 'fixed-to', in: ['part'], shape: 'names', refers: ['part'], help: 'The part that it turns with.', example: 'fixed-to crankshaft' },
  { word: 'held-back', in: ['part'], shape: 'text', help: 'Under spring load: held back with this while it is fitted, let go later.', example: 'held-back "3 mm pin"' },
  { word: 'covers', in: ['part'], shape: 'covers', repeats: true, refers: ['part'], help: 'What can no longer be reached or seen once this part is on.', example: 'covers crank-sprocket' },
  { word: 'matched', in: ['part'], shape: 'flag', help: 'Stays with its own cylinder, lobe or saddle.', example: 'matched' },
  { word: 'single-use', in: ['part', 'fastener'], shape: 'flag', help: 'Must be new whenever it has been off.', example: 'single-use' },
  { word: 'secured-by', in: ['part', 'fastener'], shape: 'choice', choices: { 'split-pin': 'a split pin through nut and bolt', 'tab-washer': 'a tab bent against the flat', wire: 'locking wire', staking: 'metal staked into the thread', circlip: 'a spring ring in its groove', locknut: 'a second nut' }, help: 'How it is kept from coming undone.', example: 'secured-by tab-washer' },
  { word: 'on-order', in: ['part', 'fastener', 'supply'], shape: 'text', help: 'It has not come yet.', example: 'on-order "promised for the 14th"' },
  { word: 'mass', in: ['part'], shape: 'value', unit: ['mass'], help: 'What one of it weighs.', example: 'mass 412 g' },
  { word: 'number', in: ['part', 'fastener', 'supply'], shape: 'text', help: 'What the supplier calls it.', example: 'number "BR-4471"' },

  // size
  { word: 'dimension', in: ['size'], shape: 'dimension', repeats: true, unit: ['length'], help: 'The dimension of this repair size.', example: 'dimension main-journal 55.920..55.940 mm' },
  { word: 'wall', in: ['size'], shape: 'value', unit: ['length'], help: 'The wall of this repair size.', example: 'wall 2.116..2.120 mm' },
  { word: 'figure', in: ['size'], shape: 'figure', repeats: true, unit: ['any'], help: 'A figure of this repair size.', example: 'figure groove-width 2.02 mm' },
  { word: 'number', in: ['size'], shape: 'text', help: 'What the supplier calls this size.', example: 'number "BR-4471-25"' },

  // fastener
  { word: 'thread', in: ['fastener'], shape: 'thread', help: 'The thread; a plain M10 has the coarse pitch.', example: 'thread M10x1.25' },
  { word: 'class', in: ['fastener'], shape: 'class', help: 'Strength class or grade, as marked on the head.', example: 'class 10.9' },
  { word: 'tensile', in: ['fastener'], shape: 'value', unit: ['pressure'], help: 'Tensile strength, where the maker states it instead of a class.', example: 'tensile 1100 MPa' },
  { word: 'length', in: ['fastener'], shape: 'value', unit: ['length'], help: 'Length under the head.', example: 'length 92 mm' },
  { word: 'hole-depth', in: ['fastener'], shape: 'value', unit: ['length'], help: 'Depth of the tapped hole from the face that the head sits on.', example: 'hole-depth 98 mm' },
  { word: 'into', in: ['fastener'], shape: 'choice', choices: { steel: 'a steel thread', iron: 'cast iron', aluminium: 'aluminium: needs more thread' }, help: 'What it is screwed into.', example: 'into iron' },
  { word: 'surface', in: ['fastener'], shape: 'choice', choices: { black: 'plain black finish', zinc: 'zinc plated', phosphate: 'phosphate finish', cadmium: 'cadmium plated' }, help: 'The finish of the thread.', example: 'surface zinc' },
  { word: 'fitted', in: ['fastener'], shape: 'choice', choices: { dry: 'clean and dry', oiled: 'engine oil on threads and under the head', moly: 'molybdenum grease', threadlocker: 'threadlocker', sealant: 'sealant on the thread' }, help: 'How the thread is fitted. It belongs to the torque.', example: 'fitted oiled' },
  { word: 'nut-factor', in: ['fastener'], shape: 'number', help: 'K in T = K·F·d, where it is known.', example: 'nut-factor 0.16' },
  { word: 'friction', in: ['fastener'], shape: 'number', help: 'Friction coefficient of thread and head, where it is known.', example: 'friction 0.12' },
  { word: 'joint', in: ['fastener'], shape: 'choice', choices: { structural: 'carries the load: caps, heads, flywheel', gasketed: 'clamps a soft gasket', cover: 'holds a cover', plug: 'closes a hole', stud: 'is screwed in and stays' }, help: 'What kind of joint it makes.', example: 'joint structural' },
  { word: 'clamps', in: ['fastener'], shape: 'clamps', refers: ['part'], help: 'What it clamps, to what.', example: 'clamps cylinder-head, head-gasket to block' },
  { word: 'each', in: ['fastener'], shape: 'each', refers: ['part'], help: 'So many for each of this part.', example: 'each connecting-rod' },
  { word: 'reuse', in: ['fastener'], shape: 'reuse', unit: ['length'], help: 'May go back while it is no longer than this.', example: 'reuse to 92.4 mm' },
  { word: 'torque', in: ['fastener'], shape: 'torque', unit: ['torque', 'angle'], help: 'The stages of tightening: torques, then further angles.', example: 'torque 30 N.m, 60 N.m, 90 deg' },
  { word: 'stretch', in: ['fastener'], shape: 'value', unit: ['length'], help: 'How much longer it is when it is tight.', example: 'stretch 0.14..0.16 mm' },
  { word: 'retorque', in: ['fastener'], shape: 'retorque', unit: ['torque', 'angle'], help: 'Tightened again later.', example: 'retorque 65 N.m after "first warm-up, cold again"' },
  { word: 'tightening-order', in: ['fastener'], shape: 'tightening-order', refers: ['part'], help: 'Drawn as the bolts lie, front to the left, rows split by /: which one is tightened when.', example: 'tightening-order\n    9 5 1 4 8 /\n    10 6 2 3 7' },

  // supply
  { word: 'kind', in: ['supply'], shape: 'choice', choices: { oil: 'engine oil', lubricant: 'assembly lubricant', grease: 'grease', coolant: 'coolant', fuel: 'fuel', sealant: 'sealant', threadlocker: 'threadlocker', cleaner: 'cleaner or solvent', abrasive: 'lapping or honing compound', other: 'anything else' }, help: 'What sort of supply it is.', example: 'kind sealant' },
  { word: 'amount', in: ['supply'], shape: 'value', unit: ['volume', 'mass', 'length'], help: 'How much the job takes.', example: 'amount 4.2 L' },
  { word: 'close-within', in: ['supply'], shape: 'value', unit: ['time'], help: 'The joint must be closed within this time.', example: 'close-within 10 min' },
  { word: 'cure', in: ['supply'], shape: 'value', unit: ['time'], help: 'How long it cures before it may be filled or run.', example: 'cure 2 h' },

  // drive
  { word: 'chain', in: ['drive'], shape: 'wrap', refers: ['part'], help: 'The chain, and the wheels in the order that it meets them.', example: 'chain timing-chain over crank-sprocket, cam-sprocket' },
  { word: 'belt', in: ['drive'], shape: 'wrap', refers: ['part'], help: 'The belt, and the wheels in the order that it meets them; a wheel that its back runs on is `on-back`.', example: 'belt timing-belt over crank-pulley, idler on-back, cam-pulley' },
  { word: 'mesh', in: ['drive'], shape: 'mesh', repeats: true, refers: ['part'], help: 'Two gears that mesh.', example: 'mesh crank-gear with cam-gear' },
  { word: 'ratio', in: ['drive'], shape: 'ratio-of', repeats: true, refers: ['part'], help: 'Turns of the first shaft to turns of the second.', example: 'ratio crankshaft to camshaft 2:1' },
  { word: 'centre-distance', in: ['drive'], shape: 'centre-distance', repeats: true, unit: ['length'], refers: ['part'], help: 'How far apart two wheels are, and in which direction the second lies from the first.', example: "centre-distance crank-sprocket to cam-sprocket 135.4 mm\n    at 12 o'clock" },
  { word: 'marks-agree', in: ['drive'], shape: 'marks-agree', choices: { compression: 'the piston comes up to fire', overlap: 'exhaust closes while inlet opens' }, help: 'At which top dead centre the timing marks agree.', example: 'marks-agree at tdc 1 on compression' },
  { word: 'marked-link', in: ['drive'], shape: 'marked-link', repeats: true, refers: ['part'], help: 'Which link of the chain meets which mark, counted clockwise from the front.', example: 'marked-link 1 at crank-sprocket.dot' },
  { word: 'tensioner', in: ['drive'], shape: 'names', repeats: true, refers: ['part'], help: 'What keeps the chain or belt tight.', example: 'tensioner chain-tensioner' },

  // valve-timing
  { word: 'inlet', in: ['valve-timing'], shape: 'events', unit: ['angle'], help: 'When the inlet valve opens and closes.', example: 'inlet opens 12 deg btdc closes 48 deg abdc' },
  { word: 'exhaust', in: ['valve-timing'], shape: 'events', unit: ['angle'], help: 'When the exhaust valve opens and closes.', example: 'exhaust opens 50 deg bbdc closes 14 deg atdc' },
  { word: 'lift', in: ['valve-timing'], shape: 'value', unit: ['length'], help: 'Lift at the valve, or at the lobe where a rocker ratio is given.', example: 'lift 10.2 mm' },
  { word: 'measured-at', in: ['valve-timing'], shape: 'value', unit: ['length'], help: 'The lift at which the events are measured.', example: 'measured-at 1.27 mm' },
  { word: 'rocker-ratio', in: ['valve-timing'], shape: 'number', help: 'Lift at the valve for one unit of lift at the lobe.', example: 'rocker-ratio 1.5' },
  { word: 'stated', in: ['valve-timing'], shape: 'stated', repeats: true, unit: ['angle'], choices: { 'inlet-duration': 'how long the inlet valve is open', 'exhaust-duration': 'how long the exhaust valve is open', 'inlet-centre': 'where inlet lift is highest, after top dead centre', 'exhaust-centre': 'where exhaust lift is highest, before top dead centre', separation: 'mean of the two centres', overlap: 'how long both are open' }, help: 'A figure that the maker prints; it is worked out from the events and compared.', example: 'stated inlet-duration 240 deg' },

  // sequence, step, job
  { word: 'phase', in: ['sequence'], shape: 'choice', choices: { teardown: 'taking apart', inspect: 'looking and crack testing', clean: 'cleaning', machine: 'repair and machining', assemble: 'putting together', install: 'into the vehicle', 'run-in': 'first start and run-in', store: 'storage' }, help: 'Which part of the work this sequence is.', example: 'phase assemble' },
  { word: 'starts-with', in: ['sequence'], shape: 'names', repeats: true, refers: ['part'], help: 'What stands on the stand before the first step.', example: 'starts-with block' },
  { word: 'after', in: ['sequence', 'step'], shape: 'names', repeats: true, refers: ['step', 'sequence'], help: 'What must have been done before.', example: 'after prove-timing' },
  { word: 'begins', in: ['job'], shape: 'begins', choices: { whole: 'on an assembled engine', bare: 'with nothing fitted', after: 'as a sequence left it' }, refers: ['sequence'], help: 'How the engine stands when the job begins.', example: 'begins whole' },
  { word: 'sequences', in: ['job'], shape: 'names', refers: ['sequence'], help: 'The sequences of this job, in order.', example: 'sequences strip-front, refit-front' },

  // record
  { word: 'variant', in: ['record', 'job'], shape: 'names', refers: ['variant'], help: 'Which variant this engine is.', example: 'variant van' },
  { word: 'engine-number', in: ['record'], shape: 'text', help: 'The number stamped on the engine.', example: 'engine-number "QL-0417"' },
  { word: 'fitted', in: ['record'], shape: 'record-fitted', repeats: true, refers: ['part', 'fastener', 'supply', 'grades'], help: 'What went in: batch, repair size, grade.', example: 'fitted main-shell size under-25 "batch 7731"' },
  { word: 'found', in: ['record'], shape: 'found', repeats: true, refers: ['part', 'fastener'], choices: { scrap: 'not to be used again', repair: 'to be repaired', reuse: 'good to go back' }, help: 'What was found when it came apart.', example: 'found piston 3 "skirt scuffed" scrap' },
  { word: 'measured', in: ['record'], shape: 'measured', repeats: true, unit: ['any'], refers: ['limit'], help: 'What was measured.', example: 'measured crank-end-play 0.11 mm on 2026-03-02' },
  { word: 'done', in: ['record'], shape: 'done', repeats: true, refers: ['step'], help: 'A step that was done.', example: 'done fit-camshaft on 2026-03-04 by "RT"' },
  { word: 'deviation', in: ['record'], shape: 'done', repeats: true, refers: ['step'], help: 'Where the work differed from the spec, and why.', example: 'deviation fit-cam-plate "One bolt replaced, same class."' },
  { word: 'log', in: ['record'], shape: 'log', repeats: true, help: 'Readings while the engine ran.', example: 'log 2026-03-09 14:10 oil-pressure 4.1 bar' },
  { word: 'photo', in: ['record'], shape: 'photo', repeats: true, refers: ['part'], help: 'A picture, by its place in this folder.', example: 'photo "photos/liner-4.jpg" of block' },
  { word: 'signed', in: ['record'], shape: 'signed', help: 'Who answers for the work.', example: 'signed "RT" on 2026-03-10' },
];
