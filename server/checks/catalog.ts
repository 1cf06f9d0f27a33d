// The list of all checks. A new check has a line here.
import { type Told, told } from '../../grammar/told.ts';
import type { Check, PageOnly } from './check.ts';
import { counts } from './engine/counts.ts';
import { banks, crankpins, firingOrderIncomplete } from './engine/cylinder-numbers.ts';
import { firingOrderCrank } from './engine/firing-order-crank.ts';
import { firingOrderMissing } from './engine/firing-order-missing.ts';
import { firingUneven } from './engine/firing-uneven.ts';
import { impossible } from './engine/impossible.ts';
import faultPage from './fettle/fault.md';
import morePage from './fettle/more.md';
import { designDiffers } from './limit/design-differs.ts';
import { gradeOutside } from './limit/grade-outside.ts';
import { gradesCheck } from './limit/grades.ts';
import { noValue } from './limit/no-value.ts';
import { otherPart } from './limit/other-part.ts';
import { outside } from './limit/outside.ts';
import { select } from './limit/select.ts';
import { sizePartner } from './limit/size-partner.ts';
import { sizeStep } from './limit/size-step.ts';
import { tradeRangeCheck } from './limit/trade-range.ts';
import { wearFar } from './limit/wear-far.ts';
import { wearInside } from './limit/wear-inside.ts';
import { wearSide } from './limit/wear-side.ts';
import { duplicate } from './name/duplicate.ts';
import { empty } from './name/empty.ts';
import importCyclePage from './name/import-cycle.md';
import importNotFoundPage from './name/import-not-found.md';
import importOutsidePage from './name/import-outside.md';
import { itself } from './name/itself.ts';
import { someVariants } from './name/some-variants.ts';
import tooDeepPage from './name/too-deep.md';
import tooManyFilesPage from './name/too-many-files.md';
import { unknown } from './name/unknown.ts';
import { tooManyVariants, unknownVariant } from './name/unknown-variant.ts';
import { unused } from './name/unused.ts';
import { wrongKind } from './name/wrong-kind.ts';
import { missing as orientationMissing } from './orientation/missing.ts';
import { pair } from './orientation/pair.ts';
import { gapsClose, gapsInLine } from './orientation/ring-gaps.ts';
import { conflict, rodPair } from './orientation/rules.ts';
import { wrongWay } from './orientation/wrong-way.ts';
import { recordDays } from './record/days.ts';
import { recordDoneTwice } from './record/done-twice.ts';
import { recordOutside, recordSlip, recordWorn } from './record/held-against.ts';
import { recordOrder } from './record/order.ts';
import { recordOtherRevision } from './record/other-revision.ts';
import { recordOutstanding } from './record/outstanding.ts';
import { recordUnknown } from './record/unknown.ts';
import { recordWrongGrade } from './record/wrong-grade.ts';
import { rehearsedChecks } from './sequence/rehearsed.ts';
import { wrongSupply } from './sequence/wrong-supply.ts';
import { wrongTool } from './sequence/wrong-tool.ts';
import { sourceAltered } from './source/altered.ts';
import { sourceMissing, sourceUnknown } from './source/sources.ts';
import decimalCommaPage from './syntax/decimal-comma.md';
import strayCharacterPage from './syntax/stray-character.md';
import unclosedPage from './syntax/unclosed.md';
import unexpectedPage from './syntax/unexpected.md';
import { backSide } from './timing/back-side.ts';
import { lengthCheck } from './timing/length.ts';
import { linksSpacing } from './timing/links-spacing.ts';
import { oddLinksCheck } from './timing/odd-links.ts';
import { ratio } from './timing/ratio.ts';
import { notDriven, twoAnswers } from './timing/speeds.ts';
import { tensioner } from './timing/tensioner.ts';
import { engagementCheck } from './torque/engagement.ts';
import { leftHand } from './torque/left-hand.ts';
import { lowPreload } from './torque/low-preload.ts';
import { missing as torqueMissing } from './torque/missing.ts';
import { noClass } from './torque/no-class.ts';
import { overProof } from './torque/over-proof.ts';
import { reuseLength } from './torque/reuse-length.ts';
import { singleUseUnsaid } from './torque/single-use-unsaid.ts';
import { angleFirst, stagesNotRising } from './torque/stages.ts';
import { orderFromEnd, orderRound, tighteningOrder } from './torque/tightening-order.ts';
import { unknownClass } from './torque/unknown-class.ts';
import { unlistedThread } from './torque/unlisted-thread.ts';
import { amount } from './unit/amount.ts';
import { impossibleFigure } from './unit/impossible.ts';
import { missing as unitMissing } from './unit/missing.ts';
import { rangeReversed } from './unit/range-reversed.ts';
import { restatedDiffers, restatedNear } from './unit/restated-differs.ts';
import { sumHere } from './unit/sum-here.ts';
import { suspect } from './unit/suspect.ts';
import { tooMany } from './unit/too-many.ts';
import unitUnknownPage from './unit/unknown.md';
import { wrongKind as unitWrongKind } from './unit/wrong-kind.ts';
import { statedDiffers } from './valve-timing/stated-differs.ts';
import { unusual } from './valve-timing/unusual.ts';

/** A code that is reported by the reader, by the imports, or where Fettle itself failed. */
const page = (code: string, text: string): PageOnly => ({ code, severity: 'error', scope: 'page', page: text });

export const CHECKS: readonly Check[] = [
  page('syntax/unexpected', unexpectedPage),
  page('syntax/unclosed', unclosedPage),
  page('syntax/decimal-comma', decimalCommaPage),
  page('syntax/stray-character', strayCharacterPage),
  unknown,
  wrongKind,
  duplicate,
  itself,
  empty,
  unknownVariant,
  someVariants,
  tooManyVariants,
  unused,
  page('name/import-not-found', importNotFoundPage),
  page('name/import-cycle', importCyclePage),
  page('name/import-outside', importOutsidePage),
  page('name/too-many-files', tooManyFilesPage),
  page('name/too-deep', tooDeepPage),
  unitMissing,
  tooMany,
  page('unit/unknown', unitUnknownPage),
  unitWrongKind,
  sumHere,
  impossibleFigure,
  restatedDiffers,
  restatedNear,
  rangeReversed,
  torqueMissing,
  stagesNotRising,
  angleFirst,
  tighteningOrder,
  orderFromEnd,
  orderRound,
  singleUseUnsaid,
  firingOrderIncomplete,
  firingOrderMissing,
  crankpins,
  banks,
  counts,
  ratio,
  oddLinksCheck,
  backSide,
  overProof,
  lowPreload,
  noClass,
  unknownClass,
  unlistedThread,
  leftHand,
  engagementCheck,
  suspect,
  amount,
  firingOrderCrank,
  firingUneven,
  impossible,
  statedDiffers,
  unusual,
  lengthCheck,
  linksSpacing,
  outside,
  select,
  noValue,
  sizeStep,
  otherPart,
  sizePartner,
  gradesCheck,
  gradeOutside,
  designDiffers,
  reuseLength,
  wearInside,
  wearSide,
  wearFar,
  tradeRangeCheck,
  twoAnswers,
  notDriven,
  tensioner,
  gapsInLine,
  gapsClose,
  conflict,
  orientationMissing,
  rodPair,
  wrongWay,
  pair,
  ...rehearsedChecks,
  wrongSupply,
  wrongTool,
  recordUnknown,
  recordOutside,
  recordSlip,
  recordWorn,
  recordWrongGrade,
  recordOutstanding,
  recordOrder,
  recordDays,
  recordDoneTwice,
  recordOtherRevision,
  sourceUnknown,
  sourceMissing,
  sourceAltered,
  page('fettle/fault', faultPage),
  page('fettle/more', morePage),
];

/** What stands above the examples of a page. */
const ABOVE_EXAMPLES: ReadonlyMap<string, Told> = new Map([
  ['Gives the finding:', told`Gives the finding:`],
  ['Does not:', told`Does not:`],
]);

/** A help page as a value, so that it can be told in another language: paragraph by paragraph, with its examples as they stand. */
export function pageTold(page: string): Told {
  const blocks = page.split(/(^```\w*\n[\s\S]*?^```$)/m);
  return told.row(
    blocks.flatMap((block) =>
      block.startsWith('```')
        ? [told.named(block)]
        : block
            .split(/(\s*\n\s*\n\s*|\s+$|^\s+)/)
            .map((piece) =>
              piece.trim() === '' ? told.named(piece) : (ABOVE_EXAMPLES.get(piece) ?? told.term(piece)),
            ),
    ),
  );
}

/** What a help page says first, without its heading and examples. */
export function firstOfPage(page: string): string {
  return page.replace(/^#[^\n]*\n+/, '').split(/\n\s*\n/)[0] ?? '';
}

/** The help page of a code; undefined for a code that there is not. */
export function helpPage(code: string): string | undefined {
  return CHECKS.find((check) => check.code === code)?.page;
}
