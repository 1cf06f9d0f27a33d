// How a fastener is tightened: stages in both units, how it is fitted, and the order as the bolts lie.
import type { TighteningOrder, Whole } from '../../grammar/tree.ts';
import type { Fastener, View } from '../model/view.ts';
import { bothUnits, sourceText } from './figures.ts';
import { Boxes, Called, From } from './pieces.tsx';
import { countOf, retorqueText, stageText } from './tightening-said.ts';

const leaning = (fastener: Fastener): readonly string[] =>
  fastener.thread?.includes('left-hand') === true ? ['LEFT-HAND THREAD: tightens anticlockwise'] : [];

/** What a wrench alone does not say: new ones, the thread that leans the other way, what is done first and later. */
function remarks(fastener: Fastener): readonly string[] {
  const { drawUp } = fastener;
  return [
    ...leaning(fastener),
    ...(drawUp === undefined
      ? []
      : [
          `first pull up to ${bothUnits(drawUp.value)}${drawUp.with === undefined ? '' : ` with ${drawUp.with}`}, and slacken`,
        ]),
    ...(fastener.singleUse ? ['use new ones'] : []),
    ...fastener.statements.flatMap((each) => {
      if (each.kind === 'reuse') return [`may go in again up to ${bothUnits(each.length)} long`];
      if (each.kind === 'retorque') return [`again later: ${retorqueText(each)}`];
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

/** The first of a circle stands at the top, the others clockwise. */
function CircleDrawing({ turns, of }: { turns: readonly Whole[]; of: string }) {
  const [radius, size] = [14, Math.max(120, turns.length * 16 + 40)];
  const around = size / 2 - radius - 2;
  return (
    <figure class="order">
      <svg
        viewBox={`0 0 ${size} ${size}`}
        width={size}
        height={size}
        role="img"
        aria-label={`${of}, clockwise from the top: ${turns.map((each) => each.value).join(', ')}`}
      >
        {turns.map((each, i) => {
          const angle = (2 * Math.PI * i) / turns.length;
          const [x, y] = [size / 2 + around * Math.sin(angle), size / 2 - around * Math.cos(angle)];
          return (
            <g key={String(i)}>
              <circle cx={x.toFixed(1)} cy={y.toFixed(1)} r={radius} fill="#fff" stroke="#111" stroke-width="1.5" />
              <text x={x.toFixed(1)} y={(y + 5).toFixed(1)} text-anchor="middle" font-size="14">
                {each.value}
              </text>
            </g>
          );
        })}
      </svg>
      <figcaption>Tighten in this order, {of}.</figcaption>
    </figure>
  );
}

/** What a drawing shows: a bolt, with others where several kinds share it, or the caps that are done one after the other. */
function ofOrder(fastener: Fastener, order: TighteningOrder): string {
  const stage = order.stage === undefined ? '' : `, stage ${order.stage.value}`;
  if (order.over !== undefined) return `${fastener.name}, ${order.over.owner.text} by ${order.over.owner.text}${stage}`;
  const others = (order.with ?? []).map(
    ({ fastener: other, turns }) =>
      `${other.text}${turns.length === 0 ? '' : ` at ${turns.map((each) => each.value).join(', ')}`}`,
  );
  const each = order.each === undefined ? '' : ` on each ${order.each.owner.text}`;
  return `${[fastener.name, ...others].join(' and ')}${each}${stage}`;
}

function Order({ fastener, order }: { fastener: Fastener; order: TighteningOrder }) {
  const of = ofOrder(fastener, order);
  return order.circle ? (
    <CircleDrawing turns={order.rows.flat()} of={of} />
  ) : (
    <OrderDrawing rows={order.rows} of={of} />
  );
}

interface TighteningProps {
  readonly fastener: Fastener;
  /** One stage alone. */
  readonly stage: number | undefined;
  /** Tightened again: the retorque alone, where there is one. */
  readonly again: boolean;
  /** The places that the step is done for. */
  readonly labels: readonly string[];
  readonly view: View;
}

/** The stages of a fastener to tick, all or the one that is asked for, with what else belongs to it. */
export function Tightening({ fastener, stage, again, labels, view }: TighteningProps) {
  const torque = fastener.statements.find((each) => each.kind === 'torque');
  const source = sourceText(torque?.per);
  const retorque = fastener.statements.find((each) => each.kind === 'retorque');
  const isRetorque = again && retorque !== undefined;
  const stages = fastener.stages.map((each, i) => ({ text: stageText(each), number: i + 1 }));
  const shown = isRetorque
    ? [{ text: retorqueText(retorque), number: 1 }]
    : stage === undefined
      ? stages
      : stages.filter((each) => each.number === stage);
  const orders = fastener.orders.filter(
    (each) => stage === undefined || each.stage === undefined || each.stage.value === stage,
  );
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
        {fastener.each === undefined
          ? ''
          : ` for each ${fastener.eachOf.map((each) => each.owner.text).join(' and ')}, ${countOf(fastener, view)} in all;`}
        {how.length === 0 ? '' : ` ${how.join(', ')}`}
        {source === '' ? null : <span class="label"> ({source})</span>}
        {torque === undefined ? null : <From placed={fastener.placed} span={torque} changed />}
      </p>
      {shown.length === 0 ? null : (
        <ul class="stages">
          {shown.map(({ text, number }) => (
            <li key={number}>
              <Boxes labels={labels} /> {stages.length > 1 && !isRetorque ? `${number}. ` : ''}
              <strong>{text}</strong>
            </li>
          ))}
        </ul>
      )}
      {(isRetorque ? leaning(fastener) : remarks(fastener)).map((text) => (
        <p class="mind" key={text}>
          {text}
        </p>
      ))}
      {orders.map((order) => (
        <Order fastener={fastener} order={order} key={order.start} />
      ))}
    </div>
  );
}
