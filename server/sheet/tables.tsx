// The tables at the end of the bench sheet: limits, fasteners, what is chosen by measurement. The sums are in the model.
import { inWords } from '../checks/support.ts';
import { ZERO } from '../mechanics/exact.ts';
import { unitText } from '../mechanics/units.ts';
import { workOutFastener } from '../model/fastener-sums.ts';
import { countOfFastener } from '../model/feature-places.ts';
import { placeText, shownNumber, shownUnit, workOutLimit } from '../model/limit-sums.ts';
import { writtenExpression } from '../model/values.ts';
import type { Fastener, Limit, Step, View } from '../model/view.ts';
import { referenceText, valueText } from './action-text.ts';
import { limitText } from './bounds.ts';
import type { JobScope } from './clearances.ts';
import { bothUnits, sourceText } from './figures.ts';
import { Blank, Called, From, placeLabels, spaced } from './pieces.tsx';
import { stageText } from './tightening-said.ts';

interface ScopedProps {
  readonly view: View;
  readonly scope: JobScope;
}

/** Values that a fastener says by a word, in words. */
function valuesSaid(fastener: Fastener, word: string, before: string): readonly string[] {
  return fastener.statements.flatMap((each) =>
    each.kind === 'value' && each.word === word ? [`${before}${bothUnits(each.value)}`] : [],
  );
}

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
export function LimitTable({ view, scope, numbers }: ScopedProps & { numbers: ReadonlyMap<Step, string> }) {
  if (scope.limits.length === 0) return null;
  const writtenAt = new Map(
    [...scope.clearances].flatMap(([step, limits]) => limits.map((each) => [each.name, step] as const)),
  );
  for (const step of numbers.keys())
    for (const each of step.statements)
      if (each.kind === 'action' && each.word === 'measure')
        for (const { owner } of each.targets) if (!writtenAt.has(owner.text)) writtenAt.set(owner.text, step);
  return (
    <section>
      <h3>Table of limits</h3>
      <div class="table">
        <table>
          <Head columns={['What', 'Within', 'Wear limit', 'From the sizes of the parts', 'Measured']} />
          <tbody>
            {scope.limits.map((limit) => {
              const source = sourceText(limit.placed.declaration.per);
              const places = placeLabels(limit.each, view);
              const at = writtenAt.get(limit.name);
              return (
                <tr key={limit.name}>
                  <th scope="row">
                    {limit.title ?? spaced(limit.name)}
                    {source === '' ? null : <span class="label"> ({source})</span>}
                    <From placed={limit.placed} span={undefined} />
                  </th>
                  <td>
                    <strong>{limitText(limit, view)}</strong>
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
                    {at === undefined
                      ? (places.length === 0 ? [''] : places).map((place) => <Blank label={place} key={place} />)
                      : `at step ${numbers.get(at)}`}
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
export function FastenerTable({ view, scope }: ScopedProps) {
  const fasteners = view.fasteners.filter((each) => scope.names.has(each.name));
  if (fasteners.length === 0) return null;
  return (
    <section>
      <h3>Fasteners</h3>
      <div class="table">
        <table>
          <Head columns={['Which', 'How many', 'Thread, class', 'Fitted', 'Stages', 'Clamp load, worked out']} />
          <tbody>
            {fasteners.map((fastener) => {
              const torque = fastener.statements.find((each) => each.kind === 'torque');
              const source = sourceText(torque?.per);
              return (
                <tr key={fastener.name}>
                  <th scope="row">
                    {fastener.title ?? spaced(fastener.name)}
                    {source === '' ? null : <span class="label"> ({source})</span>}
                    <From placed={fastener.placed} span={undefined} />
                  </th>
                  <td>{countOfFastener(fastener, view)}</td>
                  <td>
                    {[fastener.thread, fastener.strengthClass, ...valuesSaid(fastener, 'tensile', 'tensile ')]
                      .filter((each) => each !== undefined)
                      .join(', ')}
                  </td>
                  <td>{fastener.fitted ?? ''}</td>
                  <td>
                    {[...fastener.stages.map(stageText), ...valuesSaid(fastener, 'stretch', 'to a stretch of ')].join(
                      ', then ',
                    )}
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
export function GradeTables({ view, scope }: ScopedProps) {
  const isOurs = (name: string | undefined): boolean =>
    name === undefined || scope.names.has(name) || scope.limits.some((each) => each.name === name);
  const tables = view.grades.filter((each) => isOurs(each.by?.owner.text));
  if (tables.length === 0) return null;
  return (
    <section>
      <h3>Chosen by measurement</h3>
      {tables.map((grades) => (
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

/** The parts that a job works on and that have a number to order them by. */
export function PartTable({ view, scope }: ScopedProps) {
  const rows = [...view.parts, ...view.fasteners, ...view.supplies].flatMap((thing) => {
    if (!scope.names.has(thing.name)) return [];
    return thing.statements.flatMap((each) =>
      each.kind === 'text' && each.word === 'number'
        ? [{ thing, number: each.text.value, per: sourceText(each.per) }]
        : [],
    );
  });
  if (rows.length === 0) return null;
  return (
    <section>
      <h3>Parts by number</h3>
      <table>
        <Head columns={['Number', 'Which', 'How many', 'Source']} />
        <tbody>
          {rows.map(({ thing, number, per }) => (
            <tr key={thing.name}>
              <td>
                <strong>{number}</strong>
              </td>
              <th scope="row">
                <Called thing={thing} />
              </th>
              <td>
                {thing.kind === 'fastener'
                  ? countOfFastener(thing, view)
                  : thing.kind === 'part'
                    ? Math.max(1, thing.count)
                    : ''}
              </td>
              <td>{per}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
