// What can no longer be measured where it is written, though no line says that it is covered: what stands over the face of the block under a
// head, clearances behind the sump, lash under the rocker cover, the gap of rings that are in their bore. Common practice, no source.
import { told } from '../../grammar/told.ts';
import { isA, type TradeKind } from '../model/trade-names.ts';
import type { Limit, Part, View } from '../model/view.ts';
import { type Act, pointAt } from './act.ts';
import { coversOf } from './at-the-bench.ts';
import { coveredWhere } from './covers.ts';
import { ON, type PartState } from './part-state.ts';
import { overRingsIn } from './shut-in.ts';
import { coverOf, type State, say } from './state.ts';

/** Measured over the face of the block: protrusion of pistons and liners, and how far pistons stand down. */
const OVER_FACE = /protrusion|stand-?proud|(?:^|-)deck(?:-|$)|nip/i;
/** Clay and solder are pressed flat by the head itself. */
const UNDER_HEAD = /clay|solder|putty|plastic/i;
/** Measured at the face of the head: how deep valves and chambers lie, how flat it is. */
const AT_HEAD_FACE = /recess|chamber-volume|valve-depth|flatness|warp/i;
/** What goes into a bore has to be out of it. */
const IN_BORE = /bore gauge|telescop/i;
const WEIGHED = /\bscales?\b|balance/i;
const AT_CENTRES = /\bv(?:ee)?[ -]?blocks?|between centres|\blathe\b|balanc(?:er|ing)/i;
const OF_SHAPE = new Set(['taper', 'out-of-round']);

const nameOf = (limit: Limit): string => (limit.of ?? limit.each)?.owner.text ?? '';

/** The head that is over the face of the block. */
function overFace(state: State, limit: Limit, tool: string): PartState | undefined {
  if (UNDER_HEAD.test(tool)) return undefined;
  if (limit.sort !== 'protrusion' && !OVER_FACE.test(limit.name)) return undefined;
  if (isA(nameOf(limit), 'injector', 'chamber', 'valve', 'head')) return undefined;
  return state.parts
    .ofKind('head')
    .find(({ mate, on, lifted }) => !lifted && mate !== undefined && on.every((each) => each === ON));
}

/** The head that is on, of what is measured at its own face. */
function overHeadFace({ parts }: State, limit: Limit): PartState | undefined {
  const isAtFace = limit.sort === 'flatness' || AT_HEAD_FACE.test(limit.name);
  if (!isAtFace || !isA(nameOf(limit), 'head', 'valve', 'chamber')) return undefined;
  return parts.ofKind('head').find(isOnEngine);
}

const isOnEngine = ({ mate, on, lifted }: PartState): boolean =>
  !lifted && mate !== undefined && on.every((each) => each === ON);

/** The shaft or rod that lies in the bore which a gauge is to go into. */
function overBore({ parts }: State, limit: Limit, tool: string): PartState | undefined {
  if (limit.sort !== 'oil-clearance' || !IN_BORE.test(tool)) return undefined;
  const of = limit.of ?? limit.each;
  const name = of?.owner.text ?? '';
  if (!isA(name, 'crankshaft', 'rod')) return undefined;
  const isRod = isA(name, 'rod') || /pin/i.test(of?.feature?.text ?? '');
  return parts.ofKind(isRod ? 'rod' : 'crankshaft').find(isOnEngine);
}

/** A nozzle is screwed onto the tester, and sprays into the open. */
const isNozzleTest = (limit: Limit, tool: string): boolean =>
  /tester|test (?:bench|stand|pump)/i.test(tool) && /pressure|opening|leak/i.test(limit.name);

/** What is weighed, balanced, loaded or turned between centres, once it is on: the part itself is in its own way. */
function overBench({ parts }: State, limit: Limit, tool: string): PartState | undefined {
  const part = parts.get(nameOf(limit));
  if (part === undefined || !isOnEngine(part)) return undefined;
  if (limit.sort === 'spring-load' && isA(part.part, 'valve-spring')) return part;
  if (isNozzleTest(limit, tool) && isA(part.part, 'injector')) return part;
  if (limit.sort === 'unbalance' || AT_CENTRES.test(tool)) return part;
  // In its bearings no micrometer gets round a main journal.
  const isMain = isA(part.part, 'crankshaft') && /main/i.test((limit.of ?? limit.each)?.feature?.text ?? '');
  if (isMain && OF_SHAPE.has(limit.sort ?? '') && parts.ofKind('main-cap').some(isOnEngine)) return part;
  if (!WEIGHED.test(tool) || !/mass|weight/i.test(limit.name)) return undefined;
  // A piston on a rod that is still on the bench is weighed with it.
  const base = parts.get(part.mate ?? '');
  return base?.mate === undefined && !isA(part.mate ?? '', 'crankshaft', 'block', 'case', 'head') ? undefined : part;
}

/** The piston in a cylinder that is measured across. */
function overCylinder({ parts }: State, limit: Limit, tool: string): PartState | undefined {
  const of = limit.of ?? limit.each;
  const said = `${limit.name} ${of?.feature?.text ?? ''}`;
  if (!IN_BORE.test(tool) || !/bore|taper|round/i.test(said) || /main|cam|lifter|tappet|guide/i.test(said))
    return undefined;
  const part = parts.get(nameOf(limit));
  if (part === undefined || !isA(part.part, 'block', 'liner', 'barrel', 'cylinder') || !part.on.includes(ON))
    return undefined;
  return parts
    .ofKind('piston')
    .find(
      (each) =>
        isOnEngine(each) && (each.mate === part.part.name || isA(parts.get(each.mate ?? '')?.mate ?? '', 'crankshaft')),
    );
}

/** The liner over the seat whose depth is measured. */
function overSeat({ parts }: State, limit: Limit): PartState | undefined {
  const part = /seat-depth|recess-depth|counterbore/i.test(limit.name) ? parts.get(nameOf(limit)) : undefined;
  return part !== undefined && isA(part.part, 'liner') && isOnEngine(part) ? part : undefined;
}

/** A cover over the gears, where the spec says no more than that their marks are hidden. */
function overTeeth(state: State, limit: Limit): PartState | undefined {
  if (limit.sort !== 'backlash') return undefined;
  const wheel = nameOf(limit);
  return state.parts
    .ofKind('timing-cover', 'timing-case')
    .find((each) => isOnEngine(each) && coversOf(state.view, each.part).some(({ name }) => name === wheel));
}

/** What is said to be over the caps, or the bolts of the caps, of a journal whose clearance is measured. */
function overCaps(state: State, limit: Limit): PartState | undefined {
  if (limit.sort !== 'oil-clearance' && limit.sort !== 'side-clearance') return undefined;
  const of = limit.of ?? limit.each;
  const name = of?.owner.text ?? '';
  const isRod = isA(name, 'rod') || /pin/i.test(of?.feature?.text ?? '');
  if (!isRod && !isA(name, 'crankshaft')) return undefined;
  const kind: TradeKind = isRod ? 'rod-cap' : 'main-cap';
  const caps = state.parts.ofKind(kind).map(({ part }) => part.name);
  const bolts = caps.flatMap((cap) => state.clampedBy.get(cap).map(({ fastener }) => fastener.name));
  for (const each of [...caps, ...bolts]) {
    const cover = coverOf(state, each);
    if (cover?.mate !== undefined) return cover;
  }
  return undefined;
}

/** The cover of the valve gear. */
function overLash(state: State, limit: Limit): PartState | undefined {
  if (limit.sort !== 'valve-lash') return undefined;
  const covers = state.parts.ofKind('rocker-cover');
  // Of several covers some may be off.
  return covers.length > 0 &&
    covers.every(({ on, lifted, mate }) => !lifted && mate !== undefined && on.every((each) => each === ON))
    ? covers[0]
    : undefined;
}

/** The bore that the rings are in, on their pistons: the gap is measured with a ring alone in its bore. */
function overGap(state: State, limit: Limit): PartState | undefined {
  if (limit.sort !== 'ring-gap') return undefined;
  const ring = state.parts.get(nameOf(limit));
  return ring === undefined ? undefined : overRingsIn(state, ring);
}

/** The ring itself, on its piston on the bench. */
function onPiston(state: State, limit: Limit): PartState | undefined {
  if (limit.sort !== 'ring-gap') return undefined;
  const ring = state.parts.get(nameOf(limit));
  if (ring === undefined || ring.lifted || ring.mate === undefined || !isA(ring.mate, 'piston')) return undefined;
  return isA(ring.part, 'ring') && ring.on.every((each) => each === ON) ? ring : undefined;
}

/** What stops a measurement when it goes on, told from names alone: of work that was done, and not carried out in the head. */
export function isShutInBy(view: View, limit: Limit, tools: string, part: Part, mate = ''): boolean {
  const of = limit.of ?? limit.each;
  const name = of?.owner.text ?? '';
  const said = `${limit.name} ${of?.feature?.text ?? ''}`;
  const isGearCover = limit.sort === 'backlash' && isA(part, 'timing-cover', 'timing-case');
  if (coversOf(view, part).some((each) => each.name === name && (each.feature === undefined || isGearCover)))
    return true;
  if (isA(part, 'head'))
    return (
      (limit.sort === 'protrusion' || OVER_FACE.test(limit.name)) &&
      !UNDER_HEAD.test(tools) &&
      !isA(name, 'injector', 'chamber', 'valve', 'head')
    );
  if (isA(part, 'rocker-cover')) return limit.sort === 'valve-lash';
  const isWeighed = WEIGHED.test(tools) && /mass|weight/i.test(limit.name);
  if (isWeighed && part.name === name && isA(mate, 'crankshaft', 'block', 'case', 'head')) return true;
  const isRod = isA(name, 'rod') || /pin/i.test(of?.feature?.text ?? '');
  const isOfBearing = limit.sort === 'oil-clearance' && IN_BORE.test(tools) && isA(name, 'crankshaft', 'rod');
  if (isA(part, 'crankshaft')) return isOfBearing && !isRod;
  // With its rod a piston goes into its bore.
  const isRodIn = isA(part, 'rod') && isA(mate, 'crankshaft');
  if (isRodIn && isOfBearing && isRod) return true;
  if (!isRodIn && !(isA(part, 'piston') && isA(mate, 'block', 'liner', 'barrel', 'cylinder'))) return false;
  return (
    limit.sort === 'ring-gap' ||
    (IN_BORE.test(tools) &&
      isA(name, 'block', 'liner', 'barrel', 'cylinder') &&
      /bore|taper|round/i.test(said) &&
      !/main|cam|lifter|tappet|guide/i.test(said))
  );
}

/** Says that a limit can't be measured, or set, here: something went on before that is in the way. */
export function sayIfOutOfReach(state: State, limit: Limit, word: 'measure' | 'adjust', act: Act): void {
  const ways =
    word === 'measure'
      ? [
          overFace,
          overCaps,
          overGap,
          onPiston,
          overLash,
          overHeadFace,
          overBore,
          overBench,
          overCylinder,
          overSeat,
          overTeeth,
        ]
      : [overLash];
  const { statement } = act;
  const tool = statement.kind === 'action' ? (statement.withText?.value ?? '') : '';
  for (const way of ways) {
    const over = way(state, limit, tool);
    const by = over?.fittedBy.find((each) => each !== undefined);
    // What a finding says already is not said again here.
    if (over === undefined || by === undefined || state.saidSteps.has(act.step.name)) continue;
    if (state.unsure) return;
    over.lifted = true;
    say(
      state,
      word === 'measure' ? 'sequence/measured-late' : 'sequence/covered',
      act,
      way === overFace
        ? told`${told.thing(limit)} is measured over the face of the block, and ${told.thing(over.part)} went on in step ${told.thing(by.step)}. Measure it before the head goes on.`
        : way === overGap
          ? told`${told.thing(limit)} is measured with the ring alone in its bore, and ${told.thing(over.part)} went in with its rings in step ${told.thing(by.step)}. Measure it before they go onto the piston.`
          : way === onPiston
            ? told`${told.thing(limit)} is measured with the ring alone in its bore, and ${told.thing(over.part)} went onto ${told.named(over.mate ?? '', 'part')} in step ${told.thing(by.step)}. Measure it before the rings go onto the piston.`
            : way === overBench
              ? told`${told.thing(limit)} is measured on the bench, and ${told.thing(over.part)} went on in step ${told.thing(by.step)}. Measure it before.`
              : word === 'measure'
                ? told`${told.thing(limit)} can no longer be measured here: ${coveredWhere(over)} and is in the way. Measure it before ${told.thing(over.part)} goes on.`
                : told`${told.thing(limit)} can no longer be set here: ${coveredWhere(over)} and is in the way. Set it before ${told.thing(over.part)} goes on.`,
      {
        related: pointAt(by, told`${told.thing(over.part)} goes on here`),
        // Within one step the rings may only be written before their gap.
        ...(way === onPiston && by.step === act.step ? { severity: 'information' as const } : {}),
      },
    );
    return;
  }
}
