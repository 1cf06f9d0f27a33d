// Two halves of one bearing, a rod and its cap, whose numbers are told to different sides: they are stamped on one side, when they are one.
import { told } from '../../../grammar/told.ts';
import type { OrientRule } from '../../../grammar/tree.ts';
import { thoseThat } from '../../model/those-that.ts';
import { isA } from '../../model/trade-names.ts';
import type { Part } from '../../model/view.ts';
import type { ThingCheck } from '../check.ts';
import page from './pair.md';

/** What is on both halves, and on one side of them. */
const STAMP =
  /^(?:(?:match|pair|forge|forging|cast|casting|punch|centre-punch|paint|cap|rod)-)?(?:number|stamp|mark|dot|pip|punch|letter|tang|tang-slot|notch|boss|chamfer)s?$/i;

function stampOf(part: Part): readonly OrientRule[] {
  return part.statements.flatMap((each) =>
    each.kind === 'orient'
      ? each.rules.filter((rule) => STAMP.test(rule.feature.text) && rule.places.length === 0)
      : [],
  );
}

/** Where a rule points, as written behind the name of the feature. */
function pointsTo(part: Part, rule: OrientRule): string {
  return part.placed.section.text.slice(rule.feature.end, rule.end).replace(/\s+/g, ' ').trim();
}

const rodsIn = thoseThat(
  (view) => view.parts,
  (part) => isA(part, 'rod'),
);

export const pair: ThingCheck<'part'> = {
  code: 'orientation/pair',
  severity: 'warning',
  scope: 'thing',
  of: ['part'],
  page,
  run(thing, view, report) {
    if (thing.broken || !isA(thing, 'rod-cap')) return;
    const rods = rodsIn(view);
    const [rod] = rods;
    if (rod === undefined || rods.length > 1) return;
    for (const rule of stampOf(thing)) {
      const other = stampOf(rod).find((each) => each.feature.text === rule.feature.text);
      if (other === undefined) continue;
      const [own, its] = [pointsTo(thing, rule), pointsTo(rod, other)];
      if (own === its) continue;
      report(
        thing.placed,
        rule,
        told`${told.named(rule.feature.text)} of ${told.thing(thing)} points ${own}, and that of ${told.thing(rod)} ${its}: a cap goes on with its ${told.named(rule.feature.text)} on the side of the rod's. Put one of the two right.`,
        { related: [{ placed: rod.placed, span: other, message: told`${told.thing(rod)} is told here` }] },
      );
    }
  },
};
