// How a fastener is tightened: stages in both units, how it is fitted, and the order as the bolts lie.
import type { Whole } from '../../grammar/tree.ts';
import type { Fastener, FastenerStage, View } from '../model/view.ts';
import { bothUnits, sourceText } from './figures.ts';
import { Boxes, Called, From } from './pieces.tsx';

/** A stage in words. */
export function stageText(stage: FastenerStage): string {
  if (stage.kind === 'slacken') return 'slacken off again';
  if (stage.kind === 'hand-tight') return 'hand-tight';
  if (stage.kind === 'contact') return 'until it seats';
  return stage.kind === 'angle' ? `${bothUnits(stage.value)} further` : bothUnits(stage.value);
}

/** All of a fastener, where it is so many for each of a part. */
export function countOf(fastener: Fastener, view: View): number {
  const each = fastener.each === undefined ? undefined : view.things.get(fastener.each);
  return fastener.count * (each?.kind === 'part' ? Math.max(1, each.count) : 1);
}

/** What a wrench alone does not say: new ones, the thread that leans the other way, what is done later. */
function remarks(fastener: Fastener): readonly string[] {
  return [
    ...(fastener.thread?.includes('left-hand') === true ? ['LEFT-HAND THREAD: tightens anticlockwise'] : []),
    ...(fastener.singleUse ? ['use new ones'] : []),
    ...fastener.statements.flatMap((each) => {
      if (each.kind === 'reuse') return [`may go in again up to ${bothUnits(each.length)} long`];
      if (each.kind === 'retorque')
        return [
          `again later: ${each.stage.value === undefined ? each.stage.kind : bothUnits(each.stage.value)}${each.after === undefined ? '' : `, after ${each.after.value}`}`,
        ];
      return each.kind === 'value' && each.word === 'stretch' ? [`to a stretch of ${bothUnits(each.value)}`] : [];
    }),
    ...(fastener.securedBy === undefined ? [] : [`then secured by ${fastener.securedBy.replace('-', ' ')}`]),
  ];
}

/** Rows of numbered circles as the bolts lie, front to the left; short rows stand in the middle. */
function OrderDrawing({ rows, of }: { rows: readonly (readonly Whole[])[]; of: string }) {
  const most = Math.max(1, ...rows.map((row) => row.length));
  const [step, radius] = [42, 14];
  const [width, height] = [most * step + 34, rows.length * step];
  const said = rows.map((row, i) => `row ${i + 1}: ${row.map((each) => each.value).join(', ')}`).join('; ');
  return (
    <figure class="order">
      <svg viewBox={`0 0 ${width} ${height}`} width={width} height={height} role="img" aria-label={`${of}, ${said}`}>
        <path
          d={`M 12 ${height / 2 - 7} L 3 ${height / 2} L 12 ${height / 2 + 7} M 3 ${height / 2} L 26 ${height / 2}`}
          fill="none"
          stroke="#111"
          stroke-width="1.5"
        />
        {rows.flatMap((row, i) =>
          row.map((each, j) => {
            const x = 34 + ((j + 0.5) * (most * step)) / row.length;
            const y = (i + 0.5) * step;
            return (
              <g key={`${i} ${j}`}>
                <circle cx={x} cy={y} r={radius} fill="#fff" stroke="#111" stroke-width="1.5" />
                <text x={x} y={y + 5} text-anchor="middle" font-size="14">
                  {each.value}
                </text>
              </g>
            );
          }),
        )}
      </svg>
      <figcaption>Tighten in this order, {of}. Front to the left.</figcaption>
    </figure>
  );
}

interface TighteningProps {
  readonly fastener: Fastener;
  /** One stage alone. */
  readonly stage: number | undefined;
  /** The places that the step is done for. */
  readonly labels: readonly string[];
  readonly view: View;
}

/** The stages of a fastener to tick, all or the one that is asked for, with what else belongs to it. */
export function Tightening({ fastener, stage, labels, view }: TighteningProps) {
  const torque = fastener.statements.find((each) => each.kind === 'torque');
  const order = fastener.statements.find((each) => each.kind === 'tightening-order');
  const source = sourceText(torque?.per);
  const stages = fastener.stages.map((each, i) => ({ text: stageText(each), number: i + 1 }));
  const shown = stage === undefined ? stages : stages.filter((each) => each.number === stage);
  const how = [
    fastener.thread,
    fastener.strengthClass === undefined ? undefined : `class ${fastener.strengthClass}`,
    fastener.fitted === undefined ? undefined : `fitted ${fastener.fitted}`,
  ].filter((each) => each !== undefined);
  return (
    <div class="torque">
      <p>
        <strong>
          {fastener.each === undefined ? countOf(fastener, view) : fastener.count} × <Called thing={fastener} />
        </strong>
        {fastener.each === undefined ? '' : ` for each ${fastener.each}, ${countOf(fastener, view)} in all;`}
        {how.length === 0 ? '' : ` ${how.join(', ')}`}
        {source === '' ? null : <span class="label"> ({source})</span>}
        {torque === undefined ? null : <From placed={fastener.placed} span={torque} changed />}
      </p>
      {shown.length === 0 ? null : (
        <ul class="stages">
          {shown.map(({ text, number }) => (
            <li key={number}>
              <Boxes labels={labels} /> {stages.length > 1 ? `${number}. ` : ''}
              <strong>{text}</strong>
            </li>
          ))}
        </ul>
      )}
      {remarks(fastener).map((text) => (
        <p class="mind" key={text}>
          {text}
        </p>
      ))}
      {order?.kind === 'tightening-order' ? (
        <OrderDrawing
          rows={order.rows}
          of={order.each === undefined ? fastener.name : `${fastener.name} on each ${order.each.owner.text}`}
        />
      ) : null}
    </div>
  );
}
