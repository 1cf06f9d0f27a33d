// Marked links that are not as far apart as the marks of the two wheels, where the direction of the centres is known.
import type { Value } from '../../../grammar/tree.ts';
import { linksBetweenMarks } from '../../mechanics/chain.ts';
import { toNumber } from '../../mechanics/exact.ts';
import { kindOf } from '../../mechanics/units.ts';
import { measureOf } from '../../model/measure.ts';
import type { Drive, Part, View } from '../../model/view.ts';
import type { ThingCheck } from '../check.ts';
import { change } from '../support.ts';
import { lengthFault } from './length.ts';
import page from './links-spacing.md';

/** Links that a spacing may miss by. */
const ALLOWED = 0.5;

type Marked = Drive['markedLinks'][number];

/** Degrees clockwise from 12 o'clock, seen from the front. */
function direction(value: Value | undefined): number | undefined {
  if (value?.kind === 'clock') return (value.hour % 12) * 30 + value.minute / 2;
  const measure = value === undefined || value.kind === 'by-place' ? undefined : measureOf(value);
  return measure === undefined || kindOf(measure.unit) !== 'angle' ? undefined : toNumber(measure.interval.nominal);
}

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
  const [centre, toward] = [measureOf(distance.value), direction(distance.at)];
  const [firstMark, secondMark] = [
    direction(one?.marks.get(first.mark ?? '')?.at),
    direction(two?.marks.get(second.mark ?? '')?.at),
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

function say(drive: Drive, view: View, first: Marked, second: Marked, report: Parameters<ThingCheck['run']>[2]): void {
  const found = between(drive, view, first, second);
  if (found === undefined || second.statement.kind !== 'marked-link' || first.statement.kind !== 'marked-link') return;
  const { links, range } = found;
  const [from, to] = [linkAt(first, links), linkAt(second, links)];
  const [start, end] = [second.statement.links[0], second.statement.links[second.statement.links.length - 1]];
  if (from === undefined || to === undefined || start === undefined || end === undefined) return;
  const written = (((to - from) % links) + links) % links;
  const off =
    [written - links, written, written + links]
      .map((each) => (each < range.least ? each - range.least : each > range.most ? each - range.most : 0))
      .sort((one, other) => Math.abs(one) - Math.abs(other))[0] ?? 0;
  if (Math.abs(off) <= ALLOWED) return;
  const teeth = Math.max(1, Math.round(Math.abs(off)));
  const spaced = Number(((range.least + range.most) / 2).toFixed(1));
  const right = ((((to - Math.sign(off) * teeth - 1) % links) + links) % links) + 1;
  const single = second.links.length === 1 && Number.isInteger(right);
  const span = { start: start.start, end: end.end };
  const has =
    range.most - range.least < 1
      ? `about ${spaced}`
      : `${Math.ceil(range.least - ALLOWED)} to ${Math.floor(range.most + ALLOWED)}`;
  report(
    drive.placed,
    span,
    `From the mark on ${first.part} clockwise to that on ${second.part} lie ${has} links; these marked links are ${Number(written.toFixed(1))} apart: the camshaft would be ${teeth} ${teeth === 1 ? 'tooth' : 'teeth'} out.${single ? ` Link ${right} would be right.` : ''} Links are counted clockwise, from the front.`,
    {
      related: [{ placed: drive.placed, span: first.statement, message: 'The other marked link.' }],
      fixes: single ? [change(drive.placed, span, String(right))] : [],
    },
  );
}

export const linksSpacing: ThingCheck = {
  code: 'timing/links-spacing',
  severity: 'error',
  scope: 'thing',
  page,
  run(thing, view, report) {
    if (thing.kind !== 'drive' || thing.broken || lengthFault(thing, view) !== undefined) return;
    const first = thing.markedLinks[0];
    if (first === undefined) return;
    for (const second of thing.markedLinks.slice(1))
      if (second.part !== first.part) say(thing, view, first, second, report);
  },
};
