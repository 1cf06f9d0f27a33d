// Marked links that are not as far apart as the marks of their wheels, where the directions of the centres are known; links that are not there.
import { told } from '../../../grammar/told.ts';
import { linksBetweenMarks } from '../../mechanics/chain.ts';
import { linksBetween } from '../../mechanics/chain-path.ts';
import { toNumber } from '../../mechanics/exact.ts';
import { directionOf, loopRound } from '../../model/drive-geometry.ts';
import { measureOf } from '../../model/measure.ts';
import type { Drive, Part, View } from '../../model/view.ts';
import type { ThingCheck } from '../check.ts';
import { change } from '../support.ts';
import { lengthFault } from './length.ts';
import page from './links-spacing.md';

/** Links that a spacing may miss by. */
const ALLOWED = 0.5;

type Marked = Drive['markedLinks'][number];

/** Where on the chain a mark is, counted in links: between its two where they stand either side of it. */
function linkAt(marked: Marked, links: number): number | undefined {
  const [first, second] = marked.links;
  if (first === undefined) return undefined;
  if (second === undefined) return marked.eitherSide ? undefined : first;
  return Math.abs(second - first) <= links / 2 ? (first + second) / 2 : (first + second + links) / 2;
}

function partOf(view: View, name: string): Part | undefined {
  const thing = view.things.get(name);
  return thing?.kind === 'part' ? thing : undefined;
}

interface Wheels {
  readonly loop: Part;
  readonly links: number;
  readonly range: { readonly least: number; readonly most: number };
}

/** How many links lie clockwise from the mark of one wheel to that of the other; undefined where something is not known. */
function between(drive: Drive, view: View, first: Marked, second: Marked): Wheels | undefined {
  const wrap = drive.wraps[0];
  const loop = wrap === undefined ? undefined : partOf(view, wrap.part);
  const links = loop?.links ?? loop?.teeth;
  const pitch = loop?.pitch === undefined || loop.pitch.kind === 'by-place' ? undefined : measureOf(loop.pitch);
  const [one, two] = [partOf(view, first.part), partOf(view, second.part)];
  if (
    wrap === undefined ||
    drive.wraps.length !== 1 ||
    wrap.wheels.length !== 2 ||
    loop === undefined ||
    links === undefined ||
    pitch === undefined
  )
    return undefined;
  if (
    !wrap.wheels.some((wheel) => wheel.part === first.part) ||
    !wrap.wheels.some((wheel) => wheel.part === second.part)
  )
    return undefined;
  const distance = drive.statements.find(
    (each) =>
      each.kind === 'centre-distance' &&
      [each.from.text, each.to.text].includes(first.part) &&
      [each.from.text, each.to.text].includes(second.part),
  );
  if (distance?.kind !== 'centre-distance' || distance.value.kind === 'by-place') return undefined;
  const [centre, toward] = [measureOf(distance.value), directionOf(distance.at)];
  const [firstMark, secondMark] = [
    directionOf(one?.marks.get(first.mark ?? '')?.at),
    directionOf(two?.marks.get(second.mark ?? '')?.at),
  ];
  if (
    one?.teeth === undefined ||
    two?.teeth === undefined ||
    centre === undefined ||
    toward === undefined ||
    firstMark === undefined ||
    secondMark === undefined
  )
    return undefined;
  const range = linksBetweenMarks({
    kind: wrap.sort,
    first: one.teeth,
    second: two.teeth,
    centre: toNumber(centre.interval.nominal) / toNumber(pitch.interval.nominal),
    direction: distance.from.text === first.part ? toward : toward + 180,
    firstMark,
    secondMark,
    links,
  });
  return range === undefined ? undefined : { loop, links, range };
}

/** As `between`, for any number of wheels whose centres are known. */
function betweenMany(drive: Drive, view: View, first: Marked, second: Marked): Wheels | undefined {
  const wrap = drive.wraps[0];
  if (wrap === undefined || wrap.wheels.length === 2) return between(drive, view, first, second);
  const loop = partOf(view, wrap.part);
  const links = loop?.links ?? loop?.teeth;
  const round = loopRound(drive, view);
  if (loop === undefined || links === undefined || round === undefined) return undefined;
  const at = (marked: Marked): { wheel: number; mark: number } | undefined => {
    const wheel = round.parts.indexOf(marked.part);
    const mark = directionOf(partOf(view, marked.part)?.marks.get(marked.mark ?? '')?.at);
    return wheel < 0 || mark === undefined ? undefined : { wheel, mark };
  };
  const [from, to] = [at(first), at(second)];
  if (from === undefined || to === undefined) return undefined;
  const range = linksBetween(round.path, round.wheels, links, from, to);
  return range === undefined ? undefined : { loop, links, range };
}

/** By how many links two marked links are too far apart, or too near; nothing where they may be right. */
function missOf(drive: Drive, view: View, first: Marked, second: Marked): Missed | undefined {
  const found = betweenMany(drive, view, first, second);
  if (found === undefined) return undefined;
  const { links, range } = found;
  const [from, to] = [linkAt(first, links), linkAt(second, links)];
  if (from === undefined || to === undefined) return undefined;
  const written = (((to - from) % links) + links) % links;
  const off =
    [written - links, written, written + links]
      .map((each) => (each < range.least ? each - range.least : each > range.most ? each - range.most : 0))
      .sort((one, other) => Math.abs(one) - Math.abs(other))[0] ?? 0;
  return Math.abs(off) <= ALLOWED ? undefined : { ...found, off, written, to };
}

interface Missed extends Wheels {
  readonly off: number;
  readonly written: number;
  readonly to: number;
}

function say(drive: Drive, view: View, first: Marked, second: Marked, report: Parameters<ThingCheck['run']>[2]): void {
  const missed = missOf(drive, view, first, second);
  if (missed === undefined || second.statement.kind !== 'marked-link' || first.statement.kind !== 'marked-link') return;
  const { links, range, off, written, to } = missed;
  const [start, end] = [second.statement.links[0], second.statement.links[second.statement.links.length - 1]];
  if (start === undefined || end === undefined) return;
  const teeth = Math.max(1, Math.round(Math.abs(off)));
  const spaced = Number(((range.least + range.most) / 2).toFixed(1));
  const right = ((((to - Math.sign(off) * teeth - 1) % links) + links) % links) + 1;
  const single = second.links.length === 1 && Number.isInteger(right);
  const span = { start: start.start, end: end.end };
  const has =
    range.most - range.least < 1
      ? told`about ${spaced}`
      : told`${Math.ceil(range.least - ALLOWED)} to ${Math.floor(range.most + ALLOWED)}`;
  report(
    drive.placed,
    span,
    told`From the mark on ${told.named(first.part, 'part')} clockwise to that on ${told.named(second.part, 'part')} lie ${has} links; these marked links are ${Number(written.toFixed(1))} apart: ${
      teeth === 1 ? told`the timing would be 1 tooth out` : told`the timing would be ${teeth} teeth out`
    }.${single ? told` Link ${right} would be right.` : told.nothing} Links are counted clockwise, from the front.`,
    {
      related: [{ placed: drive.placed, span: first.statement, message: told`The other marked link.` }],
      fixes: single ? [change(drive.placed, span, String(right))] : [],
    },
  );
}

/** Marked links that the chain does not have; true where there are some. */
function sayNoSuchLink(drive: Drive, view: View, report: Parameters<ThingCheck['run']>[2]): boolean {
  const [wrap, second] = drive.wraps;
  const loop = wrap === undefined || second !== undefined ? undefined : partOf(view, wrap.part);
  const links = loop?.links ?? loop?.teeth;
  if (loop === undefined || links === undefined) return false;
  let isSaid = false;
  for (const { statement } of drive.markedLinks) {
    if (statement.kind !== 'marked-link') continue;
    for (const link of statement.links) {
      if (link.value >= 1 && link.value <= links) continue;
      isSaid = true;
      report(
        drive.placed,
        link,
        told`There is no link ${link.value}: ${told.thing(loop)} has ${links}, counted from 1.`,
        {
          related: [
            {
              placed: loop.placed,
              span: loop.declaration.name ?? loop.declaration.wordSpan,
              message: told`${told.thing(loop)} is declared here.`,
            },
          ],
        },
      );
    }
  }
  return isSaid;
}

/** Marks of gears that meet stand on the line of their centres, to half a tooth or so and the eye. Judgement; no source. */
const OFF_LINE = 40;

/** A mark that is to meet that of the next gear and points away from it. */
function sayOffLine(drive: Drive, view: View, report: Parameters<ThingCheck['run']>[2]): void {
  for (const distance of drive.statements) {
    if (distance.kind !== 'centre-distance' || distance.at === undefined) continue;
    const toward = directionOf(distance.at);
    const ends = [distance.from.text, distance.to.text] as const;
    const meshes = drive.meshes.some(({ first, second }) => ends.includes(first) && ends.includes(second));
    if (toward === undefined || !meshes) continue;
    for (const [own, other, out] of [
      [ends[0], ends[1], toward],
      [ends[1], ends[0], toward + 180],
    ] as const) {
      const against = [...(partOf(view, other)?.marks.values() ?? [])].find(
        ({ against }) => against?.owner.text === own,
      );
      const mark = partOf(view, own)?.marks.get(against?.against?.feature?.text ?? '');
      const stands = directionOf(mark?.at);
      if (stands === undefined) continue;
      const off = Math.abs(((((stands - out) % 360) + 540) % 360) - 180);
      if (off <= OFF_LINE) continue;
      report(
        drive.placed,
        distance.at,
        told`The mark of ${told.named(own, 'part')} that meets one of ${told.named(other, 'part')} points ${Math.round(off)} degrees away from it, as their centres lie here. See whether the direction or the mark is wrong.`,
      );
      return;
    }
  }
}

export const linksSpacing: ThingCheck<'drive'> = {
  code: 'timing/links-spacing',
  severity: 'error',
  scope: 'thing',
  of: ['drive'],
  page,
  run(thing, view, report) {
    if (thing.broken) return;
    sayOffLine(thing, view, report);
    if (sayNoSuchLink(thing, view, report)) return;
    if (lengthFault(thing, view) !== undefined) return;
    const [first, ...others] = thing.markedLinks;
    if (first === undefined) return;
    const wrong = others.filter(
      (second) => second.part !== first.part && missOf(thing, view, first, second) !== undefined,
    );
    const [one, two] = wrong;
    // Where several miss the first and agree with one another, it is the first that is out.
    if (one !== undefined && two !== undefined && missOf(thing, view, one, two) === undefined)
      say(thing, view, one, first, report);
    else for (const second of wrong) say(thing, view, first, second, report);
  },
};
