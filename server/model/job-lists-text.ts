// The lists of a job in words and as a table of values with commas between.
import { type Argument, type Told, textOf, told } from '../../grammar/told.ts';
import type { JobLists, ToBuy, ToSend, WrenchSpan } from './job-lists.ts';

/** The lists of one job, with its name. */
export interface NamedLists {
  readonly job: string | undefined;
  readonly title: string | undefined;
  readonly lists: JobLists;
}

const called = ({ name, title }: Pick<ToBuy, 'name' | 'title'>): string =>
  title === undefined ? name : `${title} (${name})`;

function buyText(item: ToBuy): Told {
  const many = item.count === undefined ? '' : `${item.count} × `;
  const amount = item.amount === undefined ? '' : `: ${item.amount}`;
  const grades = gradesText(item);
  return commas([
    `${many}${called(item)}${amount}`,
    ...(item.number === undefined ? [] : [told`number ${item.number}`]),
    ...(item.why === 'used up' || item.why === 'chosen' ? [] : [whyText(item)]),
    ...(item.onOrder === undefined ? [] : [told`on order: ${item.onOrder}`]),
    ...(grades === undefined ? [] : [grades]),
  ]);
}

/** `chosen by piston-protrusion: one-notch or two-notch`: what is bought once it is measured. `called`: what is said for a name. */
export function gradesText({ grades }: ToBuy, called?: (name: string) => string): Told | undefined {
  if (grades === undefined) return undefined;
  const which = told.list([...grades.names], 'or');
  if (grades.by === undefined) return told`chosen: ${which}`;
  return told`chosen by ${called === undefined ? told.named(grades.by) : called(grades.by)}: ${which}`;
}

/** Several, with commas between. */
function commas(pieces: readonly Argument[]): Told {
  return told.row(pieces.flatMap((piece, i) => (i === 0 ? [piece] : [', ', piece])));
}

function whyText({ why, onOrder }: ToBuy): Told {
  if (why === 'single-use') return told`new each time`;
  return onOrder === undefined ? told`renewed` : told`not here yet`;
}

/** What is asked for of someone who machines it. */
export function sendText({ what, size, asked, by, heatTreated, step }: ToSend): Told {
  const to = size === undefined ? told.asIs(what) : told.row([what, ' ', told`to ${size}`]);
  const figure = asked === undefined ? to : told`${to}, ${asked}`;
  const how = by === undefined ? figure : told`${figure}: ${by}`;
  const treated = heatTreated === undefined ? how : told`${how}; heat-treated: ask whether it is to be hardened again`;
  return told`${treated} (step ${step})`;
}

/** The span of the torque wrench, with the bolts that ask for its ends. */
function wrenchText({ least, leastOf, most, mostOf }: WrenchSpan, bolt: (name: string) => string): Told {
  return leastOf === mostOf && least === most
    ? told`Torque wrench: ${least} (${bolt(leastOf)})`
    : told`Torque wrench: ${least} (${bolt(leastOf)}) to ${most} (${bolt(mostOf)})`;
}

/** The tools with the wrench and the gauges that the stages ask for. `bolt`: what a fastener of this name is called. */
export function toolTexts(
  { wrench, byAngle, byStretch, tools }: JobLists,
  bolt: (name: string) => string = (name) => name,
): readonly Argument[] {
  return [
    ...(wrench === undefined ? [] : [wrenchText(wrench, bolt)]),
    ...(byAngle.length === 0 ? [] : [told`Angle gauge: ${byAngle.map(bolt).join(', ')}`]),
    ...(byStretch.length === 0 ? [] : [told`Stretch gauge: ${byStretch.map(bolt).join(', ')}`]),
    ...tools,
  ];
}

function section(title: Told, items: readonly Argument[]): readonly Argument[] {
  const lines = items.length === 0 ? [told`nothing`] : items;
  return [title, '\n', ...lines.flatMap((item) => ['  ', item, '\n'])];
}

/** The lists of one or more jobs in words. */
export function listsText(all: readonly NamedLists[]): Told {
  return told.row(
    all.flatMap(({ job, title, lists }, i) => [
      ...(i === 0 ? [] : ['\n']),
      ...(job === undefined ? [] : [told`Job: ${title === undefined ? job : `${title} (${job})`}`, '\n']),
      ...section(told`To buy`, lists.buy.map(buyText)),
      ...section(told`To send out`, lists.send.map(sendText)),
      ...section(told`Tools`, toolTexts(lists)),
    ]),
  );
}

/** A cell that no spreadsheet takes for a sum, and in quotes where it must be. */
function cell(text: string | number | undefined): string {
  const plain = String(text ?? '').replace(/\s+/g, ' ');
  const safe = /^[=+\-@]/.test(plain) ? `'${plain}` : plain;
  return /[",]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** The lists as lines of values with commas between, the first with their names. */
export function listsCsv(all: readonly NamedLists[]): string {
  const rows = all.flatMap(({ job, lists }) => [
    ...lists.buy.map((item) => [
      job,
      'buy',
      item.name,
      item.title,
      item.count,
      item.amount,
      item.number,
      [item.why, item.onOrder === undefined ? '' : `on order: ${item.onOrder}`, gradesText(item)?.text ?? '']
        .filter((each) => each !== '' && each !== 'chosen')
        .join('; '),
    ]),
    ...lists.send.map((item) => [
      job,
      'send out',
      item.what,
      item.size,
      undefined,
      item.asked,
      undefined,
      [item.by, `step ${item.step}`].filter((each) => each !== undefined).join('; '),
    ]),
    ...toolTexts(lists).map((text) => [
      job,
      'tool',
      textOf(text),
      undefined,
      undefined,
      undefined,
      undefined,
      undefined,
    ]),
  ]);
  const head = ['job', 'list', 'name', 'title', 'count', 'amount', 'number', 'note'];
  return [head, ...rows].map((row) => `${row.map(cell).join(',')}\n`).join('');
}
