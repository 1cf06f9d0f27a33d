// The tables at the end of the bench sheet: limits that no step measures, what is chosen by measurement, parts by number.
import { spoken } from '../../grammar/spoken.ts';
import { countOfFastener } from '../model/feature-places.ts';
import type { Grades, Step, View } from '../model/view.ts';
import { valueText } from './action-text.ts';
import type { JobScope } from './clearances.ts';
import { sourceText } from './figures.ts';
import { Clearance } from './limit-lines.tsx';
import { spaced } from './pieces.tsx';
import { calledBy } from './plain-words.ts';

interface ScopedProps {
  readonly view: View;
  readonly scope: JobScope;
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

/** Limits that no step writes down: with their bounds, what the parts come to, and room to write. */
export function OtherLimits({ view, scope, numbers }: ScopedProps & { numbers: ReadonlyMap<Step, string> }) {
  const written = new Set([...scope.clearances.values()].flatMap((limits) => limits.map((each) => each.name)));
  for (const step of numbers.keys())
    for (const each of step.statements)
      if (each.kind === 'action' && each.word === 'measure')
        for (const { owner } of each.targets) written.add(owner.text);
  const limits = scope.limits.filter((each) => !written.has(each.name));
  if (limits.length === 0) return null;
  return (
    <section>
      <h3>{spoken`Limits that no step measures`}</h3>
      <ul class="lines">
        {limits.map((limit) => (
          <Clearance limit={limit} view={view} key={limit.name} />
        ))}
      </ul>
    </section>
  );
}

/** ` (thickness 1.25 mm)`: the sizes that a grade brings. */
function broughtText({ brings }: Grades['rows'][number]): string {
  const sizes = brings.map(({ name, value }) => `${name.text.replace(/[-_]/g, ' ')} ${valueText(value)}`);
  return sizes.length === 0 ? '' : ` (${sizes.join(', ')})`;
}

/** What is chosen by a measurement: which grade for which range. */
export function GradeTables({ view, scope }: ScopedProps) {
  const isOurs = (name: string | undefined): boolean =>
    name === undefined || scope.names.has(name) || scope.limits.some((each) => each.name === name);
  const tables = view.grades.filter((each) => isOurs(each.by?.owner.text));
  if (tables.length === 0) return null;
  return (
    <section>
      <h3>{spoken`Chosen by measurement`}</h3>
      {tables.map((grades) => (
        <table key={grades.name}>
          <caption>
            {grades.title ?? spaced(grades.name)}
            {grades.by === undefined ? '' : spoken`, by ${calledBy(view)(grades.by)}`}
          </caption>
          <Head columns={[spoken`Measured`, spoken`Use`, spoken`Chosen`]} />
          <tbody>
            {grades.rows.map((row) => (
              <tr key={row.name.text}>
                <td>{valueText(row.value)}</td>
                <th scope="row">{`${row.name.text}${broughtText(row)}`}</th>
                <td class="write" />
              </tr>
            ))}
          </tbody>
        </table>
      ))}
    </section>
  );
}

/** The parts that a job works on and that have a number to order them by. `said`: by name, those whose numbers are said already. */
export function PartTable({ view, scope, said }: ScopedProps & { said: ReadonlySet<string> }) {
  const rows = [...view.parts, ...view.fasteners, ...view.supplies].flatMap((thing) => {
    if (!scope.names.has(thing.name) || said.has(thing.name)) return [];
    return thing.statements.flatMap((each) =>
      each.kind === 'text' && each.word === 'number'
        ? [{ thing, number: each.text.value, per: sourceText(each.per) }]
        : [],
    );
  });
  if (rows.length === 0) return null;
  return (
    <section>
      <h3>{spoken`Parts by number`}</h3>
      <table>
        <Head columns={[spoken`Number`, spoken`Which`, spoken`How many`, spoken`Source`]} />
        <tbody>
          {rows.map(({ thing, number, per }) => (
            <tr key={thing.name}>
              <td>
                <strong>{number}</strong>
              </td>
              <th scope="row">{thing.title ?? spaced(thing.name)}</th>
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
