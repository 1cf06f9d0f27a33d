// What to mind when a part goes on: which way round, how it is fitted, where the marks of a drive stand. Words alone.

import { speak, spoken } from '../../grammar/spoken.ts';
import { type Told, told } from '../../grammar/told.ts';
import type { Place } from '../../grammar/tree.ts';
import { workOutDrive } from '../model/drive-sums.ts';
import type { Drive, Part, View } from '../model/view.ts';
import { placesText, positionText, valueText } from './action-text.ts';
import { allOf, inText, named, seeText, thingWords } from './plain-words.ts';

/** How a part goes in, as the bench says it. */
const FITTED: ReadonlyMap<string, Told> = new Map([
  ['dry', told`clean and dry`],
  ['sealant', told`with sealant`],
  ['threadlocker', told`with threadlocker`],
]);

/** A part that has not come yet, among its notes. */
export const ON_ORDER = told`ON ORDER`;

const DIRECTIONS: ReadonlyMap<string, Told> = new Map([
  ['front', told`toward the front`],
  ['rear', told`toward the rear`],
  ['left', told`toward the left`],
  ['right', told`toward the right`],
  ['up', told`up`],
  ['down', told`down`],
  ['inlet', told`toward the inlet side`],
  ['exhaust', told`toward the exhaust side`],
]);

/** Whether what is said of some places of a part is said of one that is meant: `upper` is not said of `lower`. */
function isMeant(said: readonly Place[], meant: readonly Place[]): boolean {
  const names = new Set(meant.flatMap((place) => place.name?.text ?? []));
  return names.size === 0 || said.length === 0 || said.some(({ name }) => name === undefined || names.has(name.text));
}

/** Which way round a part goes, and what else to mind when it goes on. `places`: those that are meant, where not all are. */
export function fittingNotes(part: Part, view: View, places: readonly Place[] = []): readonly string[] {
  const rules = part.statements.flatMap((each) =>
    each.kind !== 'orient'
      ? []
      : each.rules
          .filter((rule) => isMeant(rule.places, places))
          .map((rule) => {
            const { direction, target, from } = rule;
            const toward =
              direction !== undefined
                ? speak(DIRECTIONS.get(direction.word) ?? told`toward ${direction.word}`)
                : target !== undefined
                  ? spoken`toward ${thingWords(target, view, true)}`
                  : from === undefined
                    ? spoken`at ${valueText(rule.at)}`
                    : spoken`at ${valueText(rule.at)} from ${thingWords(from, view, true)}`;
            const where = rule.places.length === 0 || places.length > 0 ? '' : ` (${placesText(rule.places)})`;
            return `${inText(rule.feature.text)} ${toward}${where}`;
          }),
  );
  return [
    ...rules,
    ...(part.fitted === undefined ? [] : [speak(FITTED.get(part.fitted) ?? told.term(part.fitted))]),
    ...(part.timed === undefined ? [] : [spoken`with the crankshaft at ${positionText(part.timed)}`]),
    ...(part.matched ? [spoken`back in its own place`] : []),
    ...(part.singleUse ? [spoken`a new one`] : []),
    ...(part.onOrder ? [speak(ON_ORDER)] : []),
    ...part.statements.flatMap((each) => (each.kind === 'see' ? [seeText(each)] : [])),
  ];
}

/**
 * Where the marks of a drive stand when they agree. Its marked links only where the chain is put on by them: after a turn they have
 * moved on, and the marks on the wheels alone count.
 */
export function DriveMarks({ drive, byLinks, view }: { drive: Drive; byLinks: boolean; view: View }) {
  const wheels = new Set([
    ...drive.wraps.flatMap((wrap) => wrap.wheels.map((wheel) => wheel.part)),
    ...drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
  ]);
  const marks = [...wheels].flatMap((name) => {
    const part = view.things.get(name);
    return part?.kind !== 'part'
      ? []
      : [...part.marks.values()].flatMap((mark) => {
          const where =
            mark.against !== undefined
              ? spoken` against ${thingWords(mark.against, view, true)}`
              : mark.at !== undefined
                ? spoken` at ${valueText(mark.at)}`
                : undefined;
          return where === undefined ? [] : [`${spoken`${inText(mark.name)} of the ${named(name, view)}`}${where}`];
        });
  });
  const links = drive.markedLinks.map((each) => {
    const numbers = speak(allOf(each.links));
    const part = spoken`the ${named(each.part, view)}`;
    const at = each.mark === undefined ? part : spoken`the ${each.mark} of ${part}`;
    return each.eitherSide ? spoken`link ${numbers} either side of ${at}` : spoken`link ${numbers} at ${at}`;
  });
  const agree = drive.marksAgree;
  const when =
    agree === undefined
      ? ''
      : agree.stroke === undefined
        ? spoken`With cylinder ${agree.cylinder} at top dead centre: `
        : spoken`With cylinder ${agree.cylinder} at top dead centre on ${told.term(agree.stroke)}: `;
  const back = workOutDrive(drive, view).linksReturn;
  const said = byLinks ? [...marks, ...links] : marks;
  return (
    <>
      {said.length === 0 ? null : <p class="mind">{`${when}${said.join('; ')}.`}</p>}
      {byLinks || links.length === 0 ? null : (
        <p class="mind">
          {back === undefined
            ? spoken`The marked links have moved on: the marks on the wheels count.`
            : spoken`The marked links have moved on and are back only after ${back} turns: the marks on the wheels count.`}
        </p>
      )}
    </>
  );
}
