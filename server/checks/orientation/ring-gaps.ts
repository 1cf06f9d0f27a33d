// Where the gaps of compression rings stand: on one line, near each other, over the pin or on the thrust side.
// Rules of thumb, common practice, no source.
import { told } from '../../../grammar/told.ts';
import type { Place } from '../../../grammar/tree.ts';
import { toNumber } from '../../mechanics/exact.ts';
import { withinTurn } from '../../mechanics/piston-tops.ts';
import { kindOf } from '../../mechanics/units.ts';
import { type Entry, keyed } from '../../model/keyed.ts';
import { measureOf } from '../../model/measure.ts';
import { MOST_RING_GAPS } from '../../model/most.ts';
import { angleOf } from '../../model/pointing.ts';
import { isA } from '../../model/trade-names.ts';
import type { Part, View } from '../../model/view.ts';
import type { Pointer, Report, SpecCheck, SpecContext } from '../check.ts';
import gapsClosePage from './gaps-close.md';
import gapsInLinePage from './gaps-in-line.md';

interface Gap extends Pointer {
  readonly part: Part;
  readonly name: string;
  readonly degrees: number;
  readonly places: readonly Place[];
}

/** The word gap anywhere in a name: `top-gap`, `gap-2nd`, `topgap`. */
const GAP = /gap\d*$|(^|[-_])gaps?\d*([-_]|$)/i;
const NEAR = 45;
/** How near to the pin axis or the thrust side counts as over it. */
const OVER = 10;
/** Oil rings, their rails and expanders seal nothing against pressure; a pegged ring can't turn. */
const NO_SEAL = /oil|expander|rail|spacer|scraper|peg/i;

/** The gap of an oil ring in one piece, whose oil comes up past it. Rails and pegs stand as they must. */
const OIL = /oil/i;
const NOT_OIL = /expander|rail|spacer|peg/i;

const ALL = '';

const gapsOf = keyed(
  (view) => view.parts,
  (view, part: Part) => findGaps(part, view).map((gap): Entry<Gap> => [ALL, gap]),
);

const oilGapsOf = keyed(
  (view) => view.parts,
  (view, part: Part) =>
    OIL.test(part.name) && !NOT_OIL.test(part.name)
      ? findGaps(part, view, NOT_OIL).map((gap): Entry<Gap> => [ALL, gap])
      : [],
);

const ringsOf = keyed(
  (view) => view.parts,
  (_view, part: Part): readonly Entry<Part>[] => (isA(part, 'ring') ? [[ALL, part]] : []),
);

/** The gaps of all parts. */
const gapsIn = (view: View): readonly Gap[] => gapsOf(view, ALL);

function findGaps(part: Part, view: View, without = NO_SEAL): readonly Gap[] {
  if (without.test(part.name) || part.broken) return [];
  const gaps: Gap[] = [];
  for (const statement of part.statements) {
    if (statement.kind !== 'orient') continue;
    for (const rule of statement.rules) {
      if (
        !GAP.test(rule.feature.text) ||
        without.test(rule.feature.text) ||
        rule.at === undefined ||
        rule.at.kind === 'clock'
      )
        continue;
      const angle = angleOf(part, rule, view);
      if (angle === undefined) continue;
      const degrees = withinTurn(toNumber(angle));
      gaps.push({ part, name: rule.feature.text, degrees, places: rule.places, placed: part.placed, span: rule.at });
    }
  }
  return gaps;
}

/** Whether two rules can be about one cylinder: each without places is about all of them. */
function meet(one: Gap, other: Gap): boolean {
  if (one.part === other.part && one.name === other.name) return false;
  if (one.places.length === 0 || other.places.length === 0) return true;
  return one.places.some((first) =>
    other.places.some((second) => {
      if (first.name?.text !== second.name?.text) return false;
      if (first.from === undefined || second.from === undefined) return true;
      return first.from <= (second.to ?? second.from) && second.from <= (first.to ?? first.from);
    }),
  );
}

function apart(one: number, other: number): number {
  const between = Math.abs(one - other) % 360;
  return Math.min(between, 360 - between);
}

/** All pairs that meet, the later one second. Rings in parts of their own pair where there are as many of each. */
function pairs(view: View): readonly (readonly [Gap, Gap])[] {
  const all = gapsIn(view).slice(0, MOST_RING_GAPS);
  return all.flatMap((second, i) =>
    all
      .slice(0, i)
      .flatMap((first) =>
        first.part.count === second.part.count && meet(first, second) ? [[first, second] as const] : [],
      ),
  );
}

/** A gap that is told from a mark of which nobody knows where it stands: it can be held against those told from the same mark. */
interface FromMark extends Gap {
  readonly from: string;
}

const gapsFromMarks = keyed(
  (view) => view.parts,
  (view, part: Part): readonly Entry<FromMark>[] => {
    if (NO_SEAL.test(part.name) || part.broken) return [];
    return part.statements.flatMap((statement) => {
      if (statement.kind !== 'orient') return [];
      return statement.rules.flatMap((rule): readonly Entry<FromMark>[] => {
        const measure = rule.at === undefined || rule.at.kind === 'clock' ? undefined : measureOf(rule.at);
        if (rule.at === undefined || rule.from === undefined || measure === undefined) return [];
        if (!GAP.test(rule.feature.text) || NO_SEAL.test(rule.feature.text) || angleOf(part, rule, view) !== undefined)
          return [];
        const from = `${rule.from.owner.text}.${rule.from.feature?.text ?? ''}`;
        const degrees = withinTurn(toNumber(measure.interval.nominal));
        const { text: name } = rule.feature;
        return [[ALL, { part, name, degrees, places: rule.places, placed: part.placed, span: rule.at, from }]];
      });
    });
  },
);

function sayInLineFromMark(view: View, file: SpecContext['file'], report: Report): void {
  const all = gapsFromMarks(view, ALL).slice(0, MOST_RING_GAPS);
  for (const [i, second] of all.entries()) {
    if (second.placed.file !== file.file) continue;
    const first = all
      .slice(0, i)
      .find(
        (each) =>
          each.from === second.from &&
          each.part.count === second.part.count &&
          apart(each.degrees, second.degrees) === 0 &&
          meet(each, second),
      );
    if (first === undefined) continue;
    report(
      second.placed,
      second.span,
      told`The gaps of ${told.thing(first.part)} and ${told.thing(second.part)} stand on one line, both ${second.degrees} degrees from ${second.from}: gas blows straight through. See whether a figure slipped.`,
      { related: [{ placed: first.placed, span: first.span, message: told.asIs(first.name) }] },
    );
  }
}

function sayClose(view: View, file: SpecContext['file'], report: Report): void {
  const said = new Set<Gap>();
  for (const [first, second] of pairs(view)) {
    const between = apart(first.degrees, second.degrees);
    if (between === 0 || between >= NEAR || second.placed.file !== file.file || said.has(second)) continue;
    said.add(second);
    report(
      second.placed,
      second.span,
      told`${second.name} is ${between} degrees from ${first.name}. 120 degrees is common for three rings, and less than ${NEAR} is close.`,
      { related: [{ placed: first.placed, span: first.span, message: told.asIs(first.name) }] },
    );
  }
  // The thrust side of the bore, seen from above with 0 to the front: left as seen from the front where the engine turns clockwise.
  const thrust = view.engine?.rotation === undefined ? undefined : view.engine.rotation === 'clockwise' ? 90 : 270;
  for (const gap of gapsIn(view)) {
    if (gap.placed.file === file.file && !said.has(gap)) {
      const overPin = apart(gap.degrees, 0) <= OVER || apart(gap.degrees, 180) <= OVER;
      const overThrust = thrust !== undefined && apart(gap.degrees, thrust) <= OVER;
      if (overPin)
        report(
          gap.placed,
          gap.span,
          told`${gap.name} at ${gap.degrees} degrees lies over the pin axis (0 and 180). Turn it away.`,
        );
      else if (overThrust)
        report(
          gap.placed,
          gap.span,
          told`${gap.name} at ${gap.degrees} degrees lies on the thrust side (${thrust} for this direction of rotation). Turn it away.`,
        );
    }
  }
}

/** The gap of an oil ring under that of a compression ring: the gas finds its way straight down. Common practice, no source. */
function sayOilInLine(view: View, file: SpecContext['file'], report: Report): void {
  const others = gapsIn(view).slice(0, MOST_RING_GAPS);
  for (const gap of oilGapsOf(view, ALL).slice(0, MOST_RING_GAPS)) {
    if (gap.placed.file !== file.file) continue;
    const other = others.find(
      (each) => each.part.count === gap.part.count && meet(each, gap) && apart(each.degrees, gap.degrees) <= OVER,
    );
    if (other === undefined) continue;
    report(
      gap.placed,
      gap.span,
      told`${gap.name} at ${gap.degrees} degrees stands under ${other.name}, at ${other.degrees}: the gaps of all rings are spread round the bore. See whether a figure slipped.`,
      { related: [{ placed: other.placed, span: other.span, message: told.asIs(other.name) }] },
    );
  }
}

/** Degrees to a side that an exhaust port is wide, as a gap sees it. Judgement; no source. */
const PORT = 25;

/** Gaps of a two-stroke engine that run over the port to which a mark of the piston looks: the ends spring out and catch. Common practice, no source. */
function sayOverPort(view: View, file: SpecContext['file'], report: Report): void {
  if (view.engine?.cycle !== 'two-stroke') return;
  for (const part of ringsOf(view, ALL)) {
    if (part.placed.file !== file.file || part.broken) continue;
    for (const rule of part.statements.flatMap((each) => (each.kind === 'orient' ? each.rules : []))) {
      const from = rule.from === undefined ? undefined : view.things.get(rule.from.owner.text);
      const name = rule.from?.feature?.text;
      if (!GAP.test(rule.feature.text) || rule.at === undefined || from?.kind !== 'part' || name === undefined)
        continue;
      const measure = measureOf(rule.at);
      const own = from.statements
        .flatMap((each) => (each.kind === 'orient' ? each.rules : []))
        .find((each) => each.feature.text === name);
      const toward = own?.direction?.word;
      if (measure === undefined || kindOf(measure.unit) !== 'angle' || toward !== 'exhaust') continue;
      const degrees = withinTurn(toNumber(measure.interval.nominal));
      if (apart(degrees, 0) > PORT) continue;
      report(
        part.placed,
        rule.at,
        told`${told.named(rule.feature.text)} of ${told.thing(part)} stands ${apart(degrees, 0)} degrees from the exhaust side: its ends run over the port, spring out and catch. See whether a figure slipped.`,
      );
    }
  }
}

export const gapsInLine: SpecCheck = {
  code: 'orientation/gaps-in-line',
  severity: 'error',
  scope: 'spec',
  page: gapsInLinePage,
  run({ view, file, report }) {
    const said = new Set<Gap>();
    const all = gapsIn(view);
    const beyond = all.slice(MOST_RING_GAPS).find((gap) => gap.placed.file === file.file);
    if (beyond !== undefined)
      report(
        beyond.placed,
        beyond.span,
        told`${all.length} ring gaps are too many to hold against each other: the first ${MOST_RING_GAPS} are, this one and those behind it are not.`,
      );
    sayInLineFromMark(view, file, report);
    for (const [first, second] of pairs(view)) {
      if (apart(first.degrees, second.degrees) !== 0 || second.placed.file !== file.file || said.has(second)) continue;
      said.add(second);
      report(
        second.placed,
        second.span,
        told`${first.name} and ${second.name} stand on one line, both at ${second.degrees} degrees: gas blows straight through. Spread them, 120 degrees apart where there are three.`,
        { related: [{ placed: first.placed, span: first.span, message: told.asIs(first.name) }] },
      );
    }
  },
};

export const gapsClose: SpecCheck = {
  code: 'orientation/gaps-close',
  severity: 'information',
  scope: 'spec',
  page: gapsClosePage,
  run({ view, file, report }) {
    sayClose(view, file, report);
    sayOilInLine(view, file, report);
    sayOverPort(view, file, report);
  },
};
