// The tables at the end of the bench sheet: limits, fasteners, what is chosen by measurement. The sums are in the model.
import { inWords } from '../checks/support.ts';
import { ZERO } from '../mechanics/exact.ts';
import { unitText } from '../mechanics/units.ts';
import { workOutFastener } from '../model/fastener-sums.ts';
import { placeText, shownNumber, shownUnit, workOutLimit } from '../model/limit-sums.ts';
import { writtenExpression } from '../model/values.ts';
import type { Fastener, Limit, View } from '../model/view.ts';
import { boundsText, referenceText, valueText } from './action-text.ts';
import { sourceText } from './figures.ts';
import { Blank, Called, From, placeLabels } from './pieces.tsx';
import { countOf, stageText } from './tightening-said.ts';

function Head({ columns }: { columns: readonly string[] }) {
  return (
    <thead>
      <tr>
        {columns.map((column) => (
          <th scope="col" key={column}>
            {column}
          </th>
        ))}
      </tr>
    </thead>
  );
}

const VERDICT = { inside: 'inside', outside: 'OUTSIDE', select: 'select or measure' } as const;

/** What the sizes of the parts come to, place by place where they differ. */
function workedOut(limit: Limit, view: View): readonly string[] {
  return workOutLimit(limit, view).map((result) => {
    const unit = shownUnit(result);
    const places = result.bounds?.places ?? 3;
    const { low, high } = result.worked.stack.interval;
    const zero = result.worked.zero ?? ZERO;
    const [from, to] = [shownNumber(low, unit, places, zero), shownNumber(high, unit, places, zero)];
    const place = placeText(result.place);
    const range = `${from === to ? from : `${from} to ${to}`} ${unitText(unit)}`.trim();
    if (result.worked.toMeasure) {
      const from = [...result.worked.inputs.keys()].map((name) => name.replace(/ (\S+ )?\d+$/, ''));
      return `${place === '' ? '' : `${place}: `}once ${inWords([...new Set(from)])} ${from.length === 1 ? 'is' : 'are'} known: ${writtenExpression(limit)}, ${range} at most`;
    }
    return `${place === '' ? '' : `${place}: `}${range}${result.verdict === undefined ? '' : `, ${VERDICT[result.verdict]}`}`;
  });
}

/** Every limit with its bounds, what the parts come to, and room to write. */
export function LimitTable({ view }: { view: View }) {
  if (view.limits.length === 0) return null;
  return (
    <section>
      <h2>Table of limits</h2>
      <div class="table">
        <table>
          <Head columns={['What', 'Within', 'Wear limit', 'From the sizes of the parts', 'Measured']} />
          <tbody>
            {view.limits.map((limit) => {
              const source = sourceText(limit.placed.declaration.per);
              const places = placeLabels(limit.each, view);
              return (
                <tr key={limit.name}>
                  <th scope="row">
                    <Called thing={limit} />
                    {source === '' ? null : <span class="label"> ({source})</span>}
                    <From placed={limit.placed} span={undefined} />
                  </th>
                  <td>
                    {boundsText(limit)}
                    <From placed={limit.placed} span={limit.within} changed />
                  </td>
                  <td>
                    {valueText(limit.wearLimit)}
                    {limit.wearLimit === undefined ? null : (
                      <From placed={limit.placed} span={limit.wearLimit} changed />
                    )}
                  </td>
                  <td>{workedOut(limit, view).join('; ')}</td>
                  <td class="write">
                    {(places.length === 0 ? [''] : places).map((place) => (
                      <Blank label={place} key={place} />
                    ))}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </section>
  );
}

/** The clamp load that the last torque gives, as a band; empty where it is not worked out. */
function clampLoad(fastener: Fastener): string {
  const last = workOutFastener(fastener)
    .stages.filter((stage) => stage.preload !== undefined)
    .at(-1);
  if (last?.preload === undefined) return '';
  const kilo = (newton: number): string => (newton / 1000).toFixed(newton < 10_000 ? 1 : 0);
  const share = last.share === undefined ? '' : `, about ${Math.round(last.share.nominal * 100)} % of proof load`;
  return `${kilo(last.preload.low)} to ${kilo(last.preload.high)} kN${share}`;
}

/** Every fastener with its stages and the clamp load that they are worked out to give. */
export function FastenerTable({ view }: { view: View }) {
  if (view.fasteners.length === 0) return null;
  return (
    <section>
      <h2>Fasteners</h2>
      <div class="table">
        <table>
          <Head
            columns={[
              'Which',
              'How many',
              'Thread, class',
              'Fitted',
              'Stages',
              'Clamp load at the last torque, worked out',
            ]}
          />
          <tbody>
            {view.fasteners.map((fastener) => {
              const torque = fastener.statements.find((each) => each.kind === 'torque');
              const source = sourceText(torque?.per);
              return (
                <tr key={fastener.name}>
                  <th scope="row">
                    <Called thing={fastener} />
                    {source === '' ? null : <span class="label"> ({source})</span>}
                    <From placed={fastener.placed} span={undefined} />
                  </th>
                  <td>{countOf(fastener, view)}</td>
                  <td>{[fastener.thread, fastener.strengthClass].filter((each) => each !== undefined).join(', ')}</td>
                  <td>{fastener.fitted ?? ''}</td>
                  <td>
                    {fastener.stages.map(stageText).join(', then ')}
                    {torque === undefined ? null : <From placed={fastener.placed} span={torque} changed />}
                  </td>
                  <td>{clampLoad(fastener)}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </section>
  );
}

/** What is chosen by a measurement: which grade for which range. */
export function GradeTables({ view }: { view: View }) {
  if (view.grades.length === 0) return null;
  return (
    <section>
      <h2>Chosen by measurement</h2>
      {view.grades.map((grades) => (
        <table key={grades.name}>
          <caption>
            <Called thing={grades} />
            {grades.by === undefined ? '' : `, by ${referenceText(grades.by)}`}
          </caption>
          <Head columns={['Measured', 'Use', 'Chosen']} />
          <tbody>
            {grades.rows.map((row) => (
              <tr key={row.name.text}>
                <td>{valueText(row.value)}</td>
                <th scope="row">{row.name.text}</th>
                <td class="write" />
              </tr>
            ))}
          </tbody>
        </table>
      ))}
    </section>
  );
}
