// A chain or belt over two wheels that is too short for their centre distance, or longer than a tensioner takes up.
import { told } from '../../../grammar/told.ts';
import type { Value } from '../../../grammar/tree.ts';
import { centreFor, oddLinks } from '../../mechanics/chain.ts';
import { toNumber } from '../../mechanics/exact.ts';
import { kindOf } from '../../mechanics/units.ts';
import { loopRound } from '../../model/drive-geometry.ts';
import { workOutDrive } from '../../model/drive-sums.ts';
import { measureOf } from '../../model/measure.ts';
import type { Drive, Part, View } from '../../model/view.ts';
import type { Report, ThingCheck } from '../check.ts';
import { figure } from '../figures.ts';
import page from './length.md';

/** Pitches that a loop may seem short by: rounding of the distance, and chains are made a little long. Judgement; no source. */
const SHORT_ALLOWED = 0.15;
/** Pitches of slack that nothing has to take up, and what bowed runs take up for each pitch of centre distance: both runs bowed by an eighth of their length. Judgement; no source. */
const SLACK_ALLOWED = 1;
const TAKEN_UP = 0.08;

export interface LengthFault {
  readonly way: 'short' | 'long';
  readonly by: number;
}

/** Whether the loop of a drive does not fit its two wheels, over the whole tolerance of their distance. */
export function lengthFault(drive: Drive, view: View): LengthFault | undefined {
  const length = workOutDrive(drive, view).length;
  if (length === undefined || (length.sort === 'chain' && oddLinks(length.links))) return undefined;
  const [least, most] = [Math.min(length.low, length.high), Math.max(length.low, length.high)];
  if (least - length.links > SHORT_ALLOWED) return { way: 'short', by: least - length.links };
  const centre = length.needed / 2;
  const allowed = drive.tensioners.length > 0 ? Math.max(SLACK_ALLOWED, TAKEN_UP * centre) : SLACK_ALLOWED;
  // A chain has an even number of links: the next even one above what is needed is never too long.
  const even = length.sort === 'chain' ? 2 * Math.ceil((most - SHORT_ALLOWED) / 2) : 0;
  return length.links > even && length.links - most > allowed ? { way: 'long', by: length.links - most } : undefined;
}

/** Pitches that a loop round several wheels may seem short by: their distances are nominal, and each is rounded. Judgement; no source. */
const SHORT_ROUND = 0.5;

/** Three wheels and more: only what geometry knows, that the loop does not reach round. Undefined where it may. */
function shortRound(drive: Drive, view: View): { readonly needed: number; readonly links: number } | undefined {
  const wrap = drive.wraps[0];
  if (wrap === undefined || wrap.wheels.length < 3) return undefined;
  const loop = view.things.get(wrap.part);
  const links = loop?.kind === 'part' ? (loop.links ?? loop.teeth) : undefined;
  const needed = loopRound(drive, view)?.path.length;
  return links === undefined || needed === undefined || needed - links <= SHORT_ROUND ? undefined : { needed, links };
}

/**
 * Of a loop round several wheels, not all of whose distances are known, the least that it can be long in pitches: the runs between wheels inside
 * it whose distance is known, and half of each of the two smallest; or no more than round two of them. Source: geometry of common tangents.
 */
function leastRound(drive: Drive, view: View): { readonly needed: number; readonly links: number } | undefined {
  const wrap = drive.wraps[0];
  const loop = wrap === undefined ? undefined : view.things.get(wrap.part);
  const pitch = loop?.kind !== 'part' || loop.pitch === undefined ? undefined : plainMeasure(loop.pitch);
  const links = loop?.kind === 'part' ? (loop.links ?? loop.teeth) : undefined;
  if (wrap === undefined || wrap.wheels.length < 3 || pitch === undefined || links === undefined) return undefined;
  const wheels = wrap.wheels.flatMap(({ part, onBack }) => {
    const wheel = view.things.get(part);
    return onBack || wheel?.kind !== 'part' || wheel.teeth === undefined
      ? []
      : [{ part, radius: wheel.teeth / (2 * Math.PI) }];
  });
  if (wheels.length < 2) return undefined;
  const radii = new Map(wheels.map(({ part, radius }) => [part, radius]));
  const runs = new Map<string, number>();
  let pair = 0;
  for (const each of drive.statements) {
    if (each.kind !== 'centre-distance') continue;
    const [one, two] = [radii.get(each.from.text), radii.get(each.to.text)];
    const distance = plainMeasure(each.value);
    if (one === undefined || two === undefined || distance === undefined) continue;
    const apart = distance / pitch;
    if (apart <= Math.abs(one - two)) continue;
    const run = Math.sqrt(apart ** 2 - (one - two) ** 2);
    runs.set(`${each.from.text} ${each.to.text}`, run);
    runs.set(`${each.to.text} ${each.from.text}`, run);
    pair = Math.max(pair, 2 * run + Math.PI * (one + two));
  }
  const round = wheels.reduce((all, { part }, i) => {
    const next = wheels[(i + 1) % wheels.length];
    return all + (runs.get(`${part} ${next?.part ?? ''}`) ?? 0);
  }, 0);
  const [least, second] = wheels.map(({ radius }) => radius).sort((one, other) => one - other);
  const needed = Math.max(pair, round + Math.PI * ((least ?? 0) + (second ?? 0)));
  return needed - links <= SHORT_ROUND ? undefined : { needed, links };
}

/** So many times the count that is written the least comes to where a digit is missing. What is nearer is told by the distances. Judgement; no source. */
const TOO_FEW = 3;

/**
 * The least that a loop can be long in pitches, whatever the distances are: round the two largest wheels inside it, which stand no nearer than
 * touching. Source: geometry of common tangents. Undefined where it may reach round, or nearly.
 */
function leastOfAll(drive: Drive, view: View): { readonly needed: number; readonly links: number } | undefined {
  const wrap = drive.wraps[0];
  const loop = wrap === undefined ? undefined : view.things.get(wrap.part);
  const links = loop?.kind === 'part' ? (loop.links ?? loop.teeth) : undefined;
  if (wrap === undefined || links === undefined) return undefined;
  const teeth = wrap.wheels.flatMap(({ part, onBack }) => {
    const wheel = view.things.get(part);
    return onBack || wheel?.kind !== 'part' || wheel.teeth === undefined ? [] : [wheel.teeth];
  });
  const [largest, next] = teeth.sort((one, other) => other - one);
  if (largest === undefined || next === undefined) return undefined;
  // Two runs of 2 √(r R) each, and half of each wheel.
  const needed = (2 * Math.sqrt(largest * next)) / Math.PI + (largest + next) / 2;
  return needed <= links * TOO_FEW ? undefined : { needed, links };
}

/** A count of links or teeth that no distance makes right. */
function sayTooFew(drive: Drive, view: View, report: Report): boolean {
  const found = leastOfAll(drive, view);
  const wrap = drive.wraps[0];
  const loop = wrap === undefined ? undefined : view.things.get(wrap.part);
  const count =
    loop?.kind === 'part' ? loop.statements.find((each) => each.word === 'links' || each.word === 'teeth') : undefined;
  if (found === undefined || wrap === undefined || loop?.kind !== 'part' || count?.kind !== 'number') return false;
  const links = wrap.sort === 'chain' ? told`links` : told`teeth`;
  report(
    loop.placed,
    count.number,
    told`${told.thing(loop)} has ${found.links} ${links} here, and round the two largest of its wheels alone, if they touched, go ${found.needed.toFixed(0)}. See whether a digit is missing.`,
  );
  return true;
}

/** A length in mm, the least of it. */
function plainMeasure(value: Value): number | undefined {
  const measure = value.kind === 'by-place' ? undefined : measureOf(value);
  return measure === undefined || kindOf(measure.unit) !== 'length' ? undefined : toNumber(measure.interval.low);
}

function sayShortRound(drive: Drive, view: View, report: Report): void {
  const whole = shortRound(drive, view);
  const found = whole ?? (loopRound(drive, view) === undefined ? leastRound(drive, view) : undefined);
  const wrap = drive.wraps[0];
  const loop = wrap === undefined ? undefined : view.things.get(wrap.part);
  const distance = drive.statements.find((each) => each.kind === 'centre-distance');
  if (found === undefined || wrap === undefined || loop?.kind !== 'part' || distance?.kind !== 'centre-distance')
    return;
  const links = wrap.sort === 'chain' ? told`links` : told`teeth`;
  const count = loop.statements.find((each) => each.word === 'links' || each.word === 'teeth');
  report(
    drive.placed,
    distance.value,
    whole === undefined
      ? told`Round its wheels at these distances ${told.thing(loop)} would need at least ${found.needed.toFixed(1)} ${links}, and it has ${found.links}: it does not reach round. See which distance or count is wrong.`
      : told`Round all its wheels at these distances ${told.thing(loop)} would need ${found.needed.toFixed(1)} ${links}, and it has ${found.links}: it does not reach round. See which distance, direction or count is wrong.`,
    {
      related:
        count?.kind === 'number'
          ? [{ placed: loop.placed, span: count.number, message: told`Here are the ${found.links} ${links}.` }]
          : [],
    },
  );
}

/** What pitch radii may seem to overlap by: rounding. Judgement; no source. */
const OVERLAP_ALLOWED = 0.97;

/** Two wheels of one chain or belt that stand nearer to each other than they are large; true where there are some. */
function sayOverlap(drive: Drive, view: View, report: Report): boolean {
  const partOf = (name: string): Part | undefined => {
    const thing = view.things.get(name);
    return thing?.kind === 'part' ? thing : undefined;
  };
  for (const each of drive.statements) {
    if (each.kind !== 'centre-distance' || each.value.kind === 'by-place') continue;
    const [one, two] = [partOf(each.from.text), partOf(each.to.text)];
    const wrap = drive.wraps.find(({ wheels }) =>
      [one, two].every((end) => wheels.some(({ part, onBack }) => part === end?.name && !onBack)),
    );
    const pitch = wrap === undefined ? undefined : partOf(wrap.part)?.pitch;
    const [distance, step] = [
      measureOf(each.value),
      pitch === undefined || pitch.kind === 'by-place' ? undefined : measureOf(pitch),
    ];
    if (one?.teeth === undefined || two?.teeth === undefined || distance === undefined || step === undefined) continue;
    if (kindOf(distance.unit) !== 'length' || kindOf(step.unit) !== 'length') continue;
    const radii = (toNumber(step.interval.nominal) * (one.teeth + two.teeth)) / (2 * Math.PI);
    if (toNumber(distance.interval.high) >= radii * OVERLAP_ALLOWED) continue;
    report(
      drive.placed,
      each.value,
      told`At this distance ${told.thing(one)} and ${told.thing(two)} would overlap: with ${one.teeth} and ${two.teeth} teeth of this pitch their radii come to ${figure(radii.toFixed(1), 'mm')}. See which distance, count or pitch is wrong.`,
    );
    return true;
  }
  return false;
}

export const lengthCheck: ThingCheck<'drive'> = {
  code: 'timing/length',
  severity: 'error',
  scope: 'thing',
  of: ['drive'],
  page,
  run(thing, view, report) {
    if (thing.broken) return;
    if (sayTooFew(thing, view, report) || sayOverlap(thing, view, report)) return;
    sayShortRound(thing, view, report);
    const fault = lengthFault(thing, view);
    const length = fault === undefined ? undefined : workOutDrive(thing, view).length;
    const wrap = thing.wraps[0];
    const statement = thing.statements.find((each) => each.kind === 'centre-distance');
    const loop = wrap === undefined ? undefined : view.things.get(wrap.part);
    if (
      fault === undefined ||
      length === undefined ||
      wrap === undefined ||
      statement?.kind !== 'centre-distance' ||
      loop?.kind !== 'part'
    )
      return;
    const [one, two] = wrap.wheels.map((wheel) => {
      const part = view.things.get(wheel.part);
      return part?.kind === 'part' ? part.teeth : undefined;
    });
    const links = length.sort === 'chain' ? told`links` : told`teeth`;
    const pitch = loop.pitch === undefined || loop.pitch.kind === 'by-place' ? undefined : measureOf(loop.pitch);
    const centre = one === undefined || two === undefined ? undefined : centreFor(length.sort, one, two, length.links);
    const fits =
      pitch === undefined || centre === undefined
        ? told.nothing
        : told` ${length.links} ${links} fit a distance of ${figure((centre * toNumber(pitch.interval.nominal)).toFixed(1), 'mm')}.`;
    const whole =
      length.sort === 'chain'
        ? 2 * Math.ceil((length.needed - SHORT_ALLOWED) / 2)
        : Math.ceil(length.needed - SHORT_ALLOWED);
    const by = Math.abs(length.needed - length.links).toFixed(1);
    const end = fault.way === 'short' ? told`${by} too few` : told`${by} more, which no tensioner takes up`;
    const count = loop.statements.find((each) => each.word === 'links' || each.word === 'teeth');
    report(
      thing.placed,
      statement.value,
      told`At this distance ${one ?? ''} and ${two ?? ''} teeth need ${length.needed.toFixed(2)} ${links} of ${told.named(wrap.part, 'part')}, so ${whole}; it has ${length.links}: ${end}.${fits}`,
      count?.kind === 'number'
        ? {
            related: [
              { placed: loop.placed, span: count.number, message: told`Here are the ${length.links} ${links}.` },
            ],
            fixes: [
              {
                title: told`Give ${told.named(wrap.part, 'part')} ${whole} ${links}`,
                edits: [{ placed: loop.placed, span: count.number, text: String(whole) }],
              },
            ],
          }
        : {},
    );
  },
};
