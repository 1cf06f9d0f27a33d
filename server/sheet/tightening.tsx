// How a fastener is tightened: stages in both units, large; how it is fitted; the order as the bolts lie. What is said stands in
// tightening-said.ts.

import { spoken } from '../../grammar/spoken.ts';
import { told } from '../../grammar/told.ts';
import { workOutFastener } from '../model/fastener-sums.ts';
import { countOfFastener } from '../model/feature-places.ts';
import type { Fastener, View } from '../model/view.ts';
import { PictureOf } from '../pictures/drawing.tsx';
import { boltLayout, tighteningOrder } from '../pictures/tightening-order.tsx';
import { bothUnits, sourceText } from './figures.ts';
import { Boxes, Field, From } from './pieces.tsx';
import { named, several } from './plain-words.ts';
import { type SaidStage, saidTightening, type Tightened } from './tightening-said.ts';

interface TighteningProps {
  readonly fastener: Fastener;
  /** Up to this stage; undefined for all. */
  readonly stage: number | undefined;
  readonly tightened: Tightened;
  /** The places that the step is done for. */
  readonly labels: readonly string[];
  readonly view: View;
}

/** The torque large, the same in the other unit behind it. */
function InBothUnits({ text }: { text: string }) {
  const [, own = text, other, when] = /^([^,(]*?)(?: (\([^)]*\)))?(,.*)?$/s.exec(text) ?? [];
  return (
    <>
      {own}
      {other === undefined ? null : <span class="label"> {other}</span>}
      {when === undefined ? null : <span class="when">{when}</span>}
    </>
  );
}

/** The figures of one stage. */
function StageFigure({ said, isOne }: { said: SaidStage; isOne: boolean }) {
  return (
    <span class="figure">
      {isOne ? '' : `${said.number}. `}
      <InBothUnits text={said.text} />
    </span>
  );
}

/** The stages of a fastener in the column of figures, with their boxes before it: one a stage, or one a stage and place. */
export function Stages({ fastener, stage, tightened, labels }: Omit<TighteningProps, 'view'>) {
  const said = saidTightening(fastener, stage, tightened);
  const isOne = fastener.stages.length < 2 || said.isAgain;
  const now = said.stages.filter((each) => each.when === 'now');
  if (now.length === 0) return <Boxes labels={labels} />;
  if (labels.length > 0)
    return (
      <ul class="stages">
        {now.map((each) => (
          <li key={each.number}>
            <Boxes labels={labels} /> <StageFigure said={each} isOne={isOne} />
          </li>
        ))}
      </ul>
    );
  return (
    <div class="stages together">
      <Boxes labels={now.length === 1 ? [] : now.map((each) => String(each.number))} />
      <ul>
        {now.map((each) => (
          <li key={each.number}>
            <StageFigure said={each} isOne={isOne} />
          </li>
        ))}
      </ul>
    </div>
  );
}

/** More bolts than these are not measured one by one on a sheet. */
const MOST_LENGTHS = 48;

/** Lengths to write down of bolts that are stretched or go in again by their length. */
function Lengths({ fastener, labels, view }: Pick<TighteningProps, 'fastener' | 'labels' | 'view'>) {
  const isStretched = fastener.statements.some((each) => each.kind === 'value' && each.word === 'stretch');
  const goesAgain = fastener.statements.some((each) => each.kind === 'reuse');
  const count = countOfFastener(fastener, view);
  if ((!isStretched && !goesAgain) || count > MOST_LENGTHS) return null;
  const each = Math.max(1, fastener.count);
  const bolts =
    labels.length * each === count && labels.length > 0
      ? labels.flatMap((label) => Array.from({ length: each }, (_, i) => (each === 1 ? label : `${label}, ${i + 1}`)))
      : Array.from({ length: count }, (_, i) => String(i + 1));
  return (
    <>
      <p class="fields">
        <span class="label">{isStretched ? spoken`length free` : spoken`length`}</span>
        {bolts.map((bolt) => (
          <Field label={bolt} key={bolt} />
        ))}
      </p>
      {isStretched ? (
        <p class="fields">
          <span class="label">{spoken`length tight`}</span>
          {bolts.map((bolt) => (
            <Field label={bolt} key={bolt} />
          ))}
        </p>
      ) : null}
    </>
  );
}

/** Bolts of several kinds in one drawn order. */
function sharedWith(fastener: Fastener, view: View): readonly string[] {
  return fastener.orders.flatMap((order) => [
    ...(order.with ?? []).map(({ fastener: other, turns }) =>
      turns.length === 0
        ? spoken`in one order with the ${several(named(other.text, view))}`
        : spoken`in one order with the ${several(named(other.text, view))} at ${turns.map((each) => each.value).join(', ')}`,
    ),
    ...(order.over === undefined ? [] : [spoken`one ${named(order.over.owner.text, view)} after the other`]),
  ]);
}

/** The clamp load that the last torque gives, as a band; undefined where it is not worked out. */
function clampLoad(fastener: Fastener): string | undefined {
  const last = workOutFastener(fastener)
    .stages.filter((stage) => stage.preload !== undefined)
    .at(-1);
  if (last?.preload === undefined) return undefined;
  const kilo = (newton: number): string => (newton / 1000).toFixed(newton < 10_000 ? 1 : 0);
  const share = last.share === undefined ? '' : spoken`, about ${Math.round(last.share.nominal * 100)} % of proof load`;
  return spoken`worked out to clamp with ${kilo(last.preload.low)} to ${kilo(last.preload.high)} kN${share}`;
}

/** What else belongs to a fastener where it is tightened. */
export function Tightening({ fastener, stage, tightened, labels, view }: TighteningProps) {
  const said = saidTightening(fastener, stage, tightened);
  const torque = fastener.statements.find((each) => each.kind === 'torque');
  const source = sourceText(torque?.per);
  const count = countOfFastener(fastener, view);
  const how = [
    fastener.thread,
    fastener.strengthClass === undefined ? undefined : spoken`class ${fastener.strengthClass}`,
    ...fastener.statements.flatMap((each) =>
      each.kind === 'value' && each.word === 'tensile' ? [spoken`tensile ${bothUnits(each.value)}`] : [],
    ),
    fastener.fitted === undefined ? undefined : spoken`fitted ${told.term(fastener.fitted)}`,
    fastener.each === undefined ? undefined : spoken`${count} in all`,
  ].filter((each) => each !== undefined);
  const isDone = said.stages.length > 0 && said.stages.at(-1)?.when === 'now' && !said.isAgain;
  const clamp = isDone ? clampLoad(fastener) : undefined;
  const had = said.stages.filter((each) => each.when === 'had');
  const orders = said.isAgain
    ? []
    : fastener.orders.filter((each) => each.stage === undefined || stage === undefined || each.stage.value === stage);
  const pictures = orders.flatMap((order) => {
    const drawn = { ...fastener, orders: [order], stages: labels.length > 0 ? [] : fastener.stages };
    const picture = boltLayout(drawn, view) === undefined ? undefined : tighteningOrder(drawn, view);
    return picture === undefined ? [] : [{ order, picture }];
  });
  return (
    <div class="mind">
      <div>
        <p>
          {how.join(', ')}
          {source === '' ? null : <span class="label"> ({source})</span>}
          {torque === undefined ? null : <From placed={fastener.placed} span={torque} changed />}
        </p>
        {clamp === undefined ? null : <p class="label">{clamp}</p>}
        {had.length === 0 ? null : (
          <p>{spoken`Has had ${had.map((each) => spoken`stage ${each.number}: ${each.text}`).join('; ')}.`}</p>
        )}
        {[...said.remarks, ...(said.isAgain ? [] : sharedWith(fastener, view))].map((text) => (
          <p key={text}>{text.charAt(0).toUpperCase() + text.slice(1)}</p>
        ))}
        <Lengths fastener={fastener} labels={labels} view={view} />
      </div>
      {pictures.map(({ order, picture }) => (
        <figure class="picture" key={order.start}>
          <PictureOf picture={picture} />
        </figure>
      ))}
    </div>
  );
}
