// What a fastener declaration says, as data.
import type { Reference, Statement, TighteningOrder, Value } from '../../grammar/tree.ts';
import { isStageWord } from '../../grammar/vocabulary.ts';
import type { Common, Without } from './gathered.ts';
import { plausible } from './most.ts';
import { isSameWhole } from './same-whole.ts';
import { angleUnitIn } from './stage-kind.ts';
import { choiceIn, flagIn, namesIn, textIn } from './statements.ts';
import type { Fastener, FastenerStage } from './view.ts';

function stageOf(stage: {
  readonly kind: string;
  readonly value?: Value;
  readonly start: number;
  readonly end: number;
}): FastenerStage {
  const span = { start: stage.start, end: stage.end };
  if (isStageWord(stage.kind)) return { kind: stage.kind, value: undefined, span };
  const unit = angleUnitIn(stage.value);
  return { kind: unit === 'angle' ? 'angle' : unit === 'torque' ? 'torque' : 'unreadable', value: stage.value, span };
}

/** What is clamped to; a slip that names what is clamped once more, which name/itself tells, says nothing. */
function otherThan(clamped: readonly Reference[], to: Reference | undefined): Reference | undefined {
  const isClamped = clamped.some((each) => to !== undefined && isSameWhole(each, to));
  return isClamped ? undefined : to;
}

/** A fastener, for the statements that hold in one variant. */
export function fastenerOf(common: Common, statements: readonly Statement[]): Without<Fastener> {
  const clamps: Fastener['clamps'][number][] = [];
  let to: Fastener['to'];
  const eachOf: Reference[] = [];
  const orders: TighteningOrder[] = [];
  let into: { readonly part: string | undefined; readonly material: string | undefined } | undefined;
  let drawUp: Fastener['drawUp'];
  let thread: string | undefined;
  let strengthClass: string | undefined;
  const stages: FastenerStage[] = [];
  for (const statement of statements) {
    if (statement.kind === 'clamps') {
      const onto = otherThan(statement.clamped, statement.to);
      for (const reference of statement.clamped)
        clamps.push({ part: reference.owner.text, places: reference.places, reference, to: onto });
      if (onto !== undefined) to = { part: onto.owner.text, reference: onto };
    }
    if (statement.kind === 'each') eachOf.push(statement.of, ...(statement.others ?? []));
    if (statement.kind === 'tightening-order') orders.push(statement);
    if (statement.kind === 'draw-up') drawUp = { value: statement.value, with: statement.with?.value };
    if (statement.kind === 'into')
      into = {
        part: statement.part?.owner.text,
        material: statement.material?.known === true ? statement.material.word : undefined,
      };
    if (statement.kind === 'thread') thread = statement.designation;
    if (statement.kind === 'class') strengthClass = statement.class.text;
    if (statement.kind === 'torque') stages.push(...statement.stages.map(stageOf));
  }
  return {
    kind: 'fastener',
    ...common,
    count: Math.max(1, plausible(common.declaration.count?.value) ?? 1),
    like: namesIn(statements, 'like')[0]?.text,
    each: eachOf[0]?.owner.text,
    eachOf,
    thread,
    strengthClass,
    clamps,
    to,
    stages,
    joint: choiceIn(statements, 'joint'),
    fitted: choiceIn(statements, 'fitted'),
    surface: choiceIn(statements, 'surface'),
    into: into?.material,
    intoPart: into?.part,
    drawUp,
    orders,
    singleUse: flagIn(statements, 'single-use'),
    securedBy: choiceIn(statements, 'secured-by'),
    onOrder: textIn(statements, 'on-order'),
  };
}
