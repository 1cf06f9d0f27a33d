// What to mind when a part goes on: which way round, how it is fitted, where the marks of a drive stand. Words alone.
import type { Place } from '../../grammar/tree.ts';
import { workOutDrive } from '../model/drive-sums.ts';
import type { Drive, Part, View } from '../model/view.ts';
import { placesText, positionText, valueText } from './action-text.ts';
import { spaced } from './pieces.tsx';
import { named, seeText, thingWords } from './plain-words.ts';

/** How a part goes in, as the bench says it. */
const FITTED: ReadonlyMap<string, string> = new Map([
  ['dry', 'clean and dry'],
  ['sealant', 'with sealant'],
  ['threadlocker', 'with threadlocker'],
]);

/** A part that has not come yet, among its notes. */
export const ON_ORDER = 'ON ORDER';

const DIRECTIONS: ReadonlyMap<string, string> = new Map([
  ['front', 'toward the front'],
  ['rear', 'toward the rear'],
  ['left', 'toward the left'],
  ['right', 'toward the right'],
  ['up', 'up'],
  ['down', 'down'],
  ['inlet', 'toward the inlet side'],
  ['exhaust', 'toward the exhaust side'],
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
                ? (DIRECTIONS.get(direction.word) ?? `toward ${direction.word}`)
                : target !== undefined
                  ? `toward ${thingWords(target, view, true)}`
                  : `at ${valueText(rule.at)}${from === undefined ? '' : ` from ${thingWords(from, view, true)}`}`;
            const where = rule.places.length === 0 || places.length > 0 ? '' : ` (${placesText(rule.places)})`;
            return `${spaced(rule.feature.text).toLowerCase()} ${toward}${where}`;
          }),
  );
  return [
    ...rules,
    ...(part.fitted === undefined ? [] : [FITTED.get(part.fitted) ?? part.fitted]),
    ...(part.timed === undefined ? [] : [`with the crankshaft at ${positionText(part.timed)}`]),
    ...(part.matched ? ['back in its own place'] : []),
    ...(part.singleUse ? ['a new one'] : []),
    ...(part.onOrder ? [ON_ORDER] : []),
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
              ? ` against ${thingWords(mark.against, view, true)}`
              : mark.at !== undefined
                ? ` at ${valueText(mark.at)}`
                : undefined;
          return where === undefined ? [] : [`${spaced(mark.name).toLowerCase()} of the ${named(name, view)}${where}`];
        });
  });
  const links = drive.markedLinks.map(
    (each) =>
      `link ${each.links.join(' and ')} ${each.eitherSide ? 'either side of' : 'at'} ${each.mark === undefined ? '' : `the ${each.mark} of `}the ${named(each.part, view)}`,
  );
  const agree = drive.marksAgree;
  const when =
    agree === undefined
      ? ''
      : `With cylinder ${agree.cylinder} at top dead centre${agree.stroke === undefined ? '' : ` on ${agree.stroke}`}: `;
  const back = workOutDrive(drive, view).linksReturn;
  const said = byLinks ? [...marks, ...links] : marks;
  return (
    <>
      {said.length === 0 ? null : <p class="mind">{`${when}${said.join('; ')}.`}</p>}
      {byLinks || links.length === 0 ? null : (
        <p class="mind">
          The marked links have moved on{back === undefined ? '' : ` and are back only after ${back} turns`}: the marks
          on the wheels count.
        </p>
      )}
    </>
  );
}
