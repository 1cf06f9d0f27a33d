// What was measured, on the sheet of a record: each value at its place, beside the limit that it is held against, and how it stands. What was
// measured again later stands there too, with how it stood then.

import { speak, spoken } from '../../grammar/spoken.ts';
import { type Told, told } from '../../grammar/told.ts';
import type { Statement, Value } from '../../grammar/tree.ts';
import { type Judged, measurementsIn, type Standing } from '../checks/record/measurements.ts';
import type { BuiltView } from '../model/build-view.ts';
import type { Placed } from '../model/placed.ts';
import { placesText, plainValueText } from './action-text.ts';
import { limitText } from './bounds.ts';

type MeasuredStatement = Extract<Statement, { readonly kind: 'measured' }>;

const SAID: Readonly<Record<Standing, Told>> = {
  inside: told`inside`,
  worn: told`worn`,
  slip: told`A SLIP?`,
  outside: told`OUTSIDE`,
  'wrong-kind': told`ANOTHER KIND OF UNIT`,
};

/** From what matters least to what matters most. */
const WORST: readonly Standing[] = ['inside', 'worn', 'slip', 'wrong-kind', 'outside'];

interface Written {
  readonly places: string;
  readonly text: string;
  readonly standing: Standing | undefined;
}

function writtenIn(value: Value, own: readonly Judged[]): readonly Written[] {
  if (value.kind !== 'by-place') return [{ places: '', text: plainValueText(value), standing: own[0]?.standing }];
  return value.entries.map((entry) => ({
    places: placesText(entry.places),
    text: plainValueText(entry.value),
    standing: own.find((each) => each.entry === entry)?.standing,
  }));
}

/** How a measurement stands as a whole: the worst of its values, and whether it was measured again. */
function standsAs(own: readonly Judged[]): string {
  const standing = own
    .flatMap((each) => each.standing ?? [])
    .sort((one, other) => WORST.indexOf(other) - WORST.indexOf(one))[0];
  if (standing === undefined) return '';
  return own.every((each) => each.again) ? spoken`${SAID[standing]}, measured again` : speak(SAID[standing]);
}

interface MeasuredProps {
  readonly record: Placed;
  readonly view: BuiltView;
  readonly said: readonly Statement[];
  readonly title: (statement: MeasuredStatement) => string;
  readonly how: (statement: MeasuredStatement) => string;
}

export function MeasuredTable({ record, view, said, title, how }: MeasuredProps) {
  const rows = said.flatMap((each) => (each.kind === 'measured' && each.value !== undefined ? [each] : []));
  if (rows.length === 0) return null;
  const judged = measurementsIn(record, view);
  return (
    <section>
      <h3>{spoken`Measured`}</h3>
      <table class="measured">
        <thead>
          <tr>
            {[spoken`What`, spoken`Within`, spoken`Measured`, spoken`Stands`, spoken`How and when`].map((column) => (
              <th scope="col" key={column}>
                {column}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => {
            const limit = view.things.get(row.limit.owner.text);
            const own = judged.filter((each) => each.statement === row);
            const stands = standsAs(own);
            return (
              <tr key={row.start}>
                <th scope="row">{title(row)}</th>
                <td class="whole">{limit?.kind === 'limit' ? limitText(limit, view) : ''}</td>
                <td>
                  {row.value === undefined
                    ? null
                    : writtenIn(row.value, own).map((each) => (
                        <span
                          class={each.standing === 'inside' ? 'value' : `value ${each.standing ?? ''}`}
                          key={each.places}
                        >
                          {each.places === '' ? null : <span class="label">{each.places} </span>}
                          {each.text}{' '}
                        </span>
                      ))}
                </td>
                <td>{/^\p{Lu}/u.test(stands) ? <strong>{stands}</strong> : stands}</td>
                <td>{how(row)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

/** `34 values measured: 33 inside, 1 OUTSIDE.` Of what was measured again the last counts. Empty where nothing was. */
export function measuredInShort(record: Placed, view: BuiltView): string {
  const last = measurementsIn(record, view).filter((each) => !each.again);
  if (last.length === 0) return '';
  const counts = WORST.map((standing) => [standing, last.filter((each) => each.standing === standing).length] as const);
  const parts = counts.flatMap(([standing, count]) => (count === 0 ? [] : [spoken`${count} ${SAID[standing]}`]));
  const how = parts.length === 0 ? '' : `: ${parts.join(', ')}`;
  return last.length === 1
    ? spoken`${last.length} value measured${how}.`
    : spoken`${last.length} values measured${how}.`;
}
