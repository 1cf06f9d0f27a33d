// A limit where it is written: its bounds large, boxes for what is measured, what to do where it lies outside.

import { useContext } from 'preact/hooks';
import { speak, spoken } from '../../grammar/spoken.ts';
import { told } from '../../grammar/told.ts';
import { inWords } from '../checks/support.ts';
import { ZERO } from '../mechanics/exact.ts';
import { unitText } from '../mechanics/units.ts';
import { placeText, shownNumber, shownUnit, workOutLimit } from '../model/limit-sums.ts';
import type { Limit, View } from '../model/view.ts';
import { sumText, valueText } from './action-text.ts';
import { boundsSaid, comesTo } from './bounds.ts';
import { sourceText } from './figures.ts';
import { Field, Filled, From, placeLabels } from './pieces.tsx';
import { calledBy, named } from './plain-words.ts';

const VERDICT = { inside: told`inside`, outside: told`OUTSIDE`, select: told`select or measure` } as const;

/** What goes into a sum, as it is called: `lash-shim.thickness 3` is `lash shim thickness`. */
function inputWords(name: string, view: View): string {
  const [owner = '', feature] = name.replace(/ (\S+ )?\d+$/, '').split('.');
  return `${named(owner, view)}${feature === undefined ? '' : ` ${feature.replace(/[-_]/g, ' ')}`}`;
}

/** What the sizes of the parts come to, place by place where they differ. */
function workedOut(limit: Limit, view: View): readonly string[] {
  return workOutLimit(limit, view).map((result) => {
    const unit = shownUnit(result);
    const places = result.bounds?.places ?? 3;
    const { low, high } = result.worked.stack.interval;
    const zero = result.worked.zero ?? ZERO;
    const [from, to] = [shownNumber(low, unit, places, zero), shownNumber(high, unit, places, zero)];
    const place = placeText(result.place);
    const range = `${from === to ? from : spoken`${from} to ${to}`} ${unitText(unit)}`.trim();
    if (result.worked.toMeasure) {
      const from = [...new Set([...result.worked.inputs.keys()].map((name) => inputWords(name, view)))];
      const sum = limit.expression === undefined ? '' : sumText(limit.expression, calledBy(view));
      const known =
        from.length === 1
          ? spoken`once ${inWords(from)} is known: ${sum}, ${range} at most`
          : spoken`once ${inWords(from)} are known: ${sum}, ${range} at most`;
      return `${place === '' ? '' : `${place}: `}${known}`;
    }
    return `${place === '' ? '' : `${place}: `}${range}${result.verdict === undefined ? '' : `, ${speak(VERDICT[result.verdict])}`}`;
  });
}

/** More readings at one place than this have no room on a sheet. */
const MOST_READINGS = 12;

/** A measured value has its blank at each place: the stretch of 28 studs is 28 figures. */
const MOST_BLANKS = 64;

/** What stands in the box of a limit that is measured once. */
const ONCE = told`measured`;

/** The places that a limit is written for. */
function writtenPlaces(limit: Limit, labels: readonly string[], view: View): readonly string[] {
  const own = placeLabels(limit.each, view, MOST_BLANKS);
  return own.length > 0 ? own : labels.length > 0 ? labels : [speak(ONCE)];
}

/** Boxes for the measured values of a limit. */
export function Fields({ limit, labels, view }: { limit: Limit; labels: readonly string[]; view: View }) {
  const filled = useContext(Filled);
  const valueAt = (place: string): string =>
    filled?.measured(limit.name, place) ?? (place === speak(ONCE) ? (filled?.measured(limit.name, '') ?? '') : '');
  return (
    <p class="fields">
      {writtenPlaces(limit, labels, view).flatMap((place) =>
        Array.from({ length: Math.min(limit.readings, MOST_READINGS) }, (_, i) => (
          <Field
            label={limit.readings === 1 ? place : spoken`${place}, reading ${i + 1}`}
            value={i === 0 ? valueAt(place) : ''}
            key={`${place} ${i}`}
          />
        )),
      )}
    </p>
  );
}

/** The bounds of a limit, in the column of figures, and what the sizes of the parts come to. */
export function Bounds({ limit, view }: { limit: Limit; view: View }) {
  const source = sourceText(limit.placed.declaration.per);
  const wornSum = comesTo(limit.wearLimit, limit, view);
  const { figure, rule } = boundsSaid(limit, view);
  const worked = workedOut(limit, view);
  return (
    <div class="bounds">
      <p class="figure">{figure}</p>
      <p class="with">
        {rule === '' ? null : <span class="label">{rule} </span>}
        {limit.wearLimit === undefined ? null : (
          <>
            {spoken`wear limit`} <strong>{valueText(limit.wearLimit)}</strong>
            {wornSum === undefined ? '' : ` ${wornSum}`}{' '}
          </>
        )}
        {source === '' ? null : <span class="label">({source}) </span>}
        {worked.length === 0 ? null : <span class="sizes">{spoken`sizes: ${worked.join('; ')}`}</span>}
      </p>
      <From placed={limit.placed} span={undefined} />
      {limit.within === undefined ? null : <From placed={limit.placed} span={limit.within} changed />}
    </div>
  );
}

export function Otherwise({ limit }: { limit: Limit }) {
  return (
    <>
      {limit.otherwise.map((text, i) => (
        <p class="mind" key={text.start}>
          {i === 0 ? spoken`If outside: ${text.value}` : spoken`If still outside: ${text.value}`}
        </p>
      ))}
    </>
  );
}

/** A clearance that follows from sizes, to be written where its last part goes on. */
export function Clearance({ limit, view }: { limit: Limit; view: View }) {
  return (
    <li class="action wide">
      <div class="what">
        <span class="do">{spoken`If measured, ${named(limit.name, view)}`}</span>
        <Fields limit={limit} labels={[]} view={view} />
        <Otherwise limit={limit} />
      </div>
      <div class="figures">
        <Bounds limit={limit} view={view} />
      </div>
    </li>
  );
}
