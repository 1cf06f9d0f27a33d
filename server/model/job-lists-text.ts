// The lists of a job in words and as a table of values with commas between.
import type { JobLists, ToBuy, ToSend, WrenchSpan } from './job-lists.ts';

/** The lists of one job, with its name. */
export interface NamedLists {
  readonly job: string | undefined;
  readonly title: string | undefined;
  readonly lists: JobLists;
}

const called = ({ name, title }: Pick<ToBuy, 'name' | 'title'>): string =>
  title === undefined ? name : `${title} (${name})`;

function buyText(item: ToBuy): string {
  const many = item.count === undefined ? '' : `${item.count} × `;
  const amount = item.amount === undefined ? '' : `: ${item.amount}`;
  const number = item.number === undefined ? '' : `, number ${item.number}`;
  const order = item.onOrder === undefined ? '' : `, on order: ${item.onOrder}`;
  const why = item.why === 'used up' || item.why === 'chosen' ? '' : `, ${whyText(item)}`;
  const grades = gradesText(item);
  return `${many}${called(item)}${amount}${number}${why}${order}${grades === '' ? '' : `, ${grades}`}`;
}

/** `chosen by piston-protrusion: one-notch or two-notch`: what is bought once it is measured. */
export function gradesText({ grades }: ToBuy): string {
  if (grades === undefined) return '';
  const [last = '', ...others] = [...grades.names].reverse();
  const which = others.length === 0 ? last : `${others.reverse().join(', ')} or ${last}`;
  return `chosen${grades.by === undefined ? '' : ` by ${grades.by}`}: ${which}`;
}

function whyText({ why, onOrder }: ToBuy): string {
  if (why === 'single-use') return 'new each time';
  return onOrder === undefined ? 'renewed' : 'not here yet';
}

/** What is asked for of someone who machines it. */
export function sendText({ what, size, asked, by, heatTreated, step }: ToSend): string {
  const to = size === undefined ? '' : ` to ${size}`;
  const figure = asked === undefined ? '' : `, ${asked}`;
  const treated = heatTreated === undefined ? '' : '; heat-treated: ask whether it is to be hardened again';
  return `${what}${to}${figure}${by === undefined ? '' : `: ${by}`}${treated} (step ${step})`;
}

/** The span of the torque wrench, with the bolts that ask for its ends. */
function wrenchText({ least, leastOf, most, mostOf }: WrenchSpan, bolt: (name: string) => string): string {
  return leastOf === mostOf && least === most
    ? `Torque wrench: ${least} (${bolt(leastOf)})`
    : `Torque wrench: ${least} (${bolt(leastOf)}) to ${most} (${bolt(mostOf)})`;
}

/** The tools with the wrench and the gauges that the stages ask for. `bolt`: what a fastener of this name is called. */
export function toolTexts(
  { wrench, byAngle, byStretch, tools }: JobLists,
  bolt: (name: string) => string = (name) => name,
): readonly string[] {
  return [
    ...(wrench === undefined ? [] : [wrenchText(wrench, bolt)]),
    ...(byAngle.length === 0 ? [] : [`Angle gauge: ${byAngle.map(bolt).join(', ')}`]),
    ...(byStretch.length === 0 ? [] : [`Stretch gauge: ${byStretch.map(bolt).join(', ')}`]),
    ...tools,
  ];
}

function section(title: string, items: readonly string[]): string {
  return `${title}\n${items.length === 0 ? '  nothing\n' : items.map((item) => `  ${item}\n`).join('')}`;
}

/** The lists of one or more jobs in words. */
export function listsText(all: readonly NamedLists[]): string {
  return all
    .map(({ job, title, lists }) => {
      const head = job === undefined ? '' : `Job: ${title ?? job}${title === undefined ? '' : ` (${job})`}\n`;
      const { buy, send } = lists;
      return `${head}${section('To buy', buy.map(buyText))}${section('To send out', send.map(sendText))}${section('Tools', toolTexts(lists))}`;
    })
    .join('\n');
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
      [item.why, item.onOrder === undefined ? '' : `on order: ${item.onOrder}`, gradesText(item)]
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
    ...toolTexts(lists).map((text) => [job, 'tool', text, undefined, undefined, undefined, undefined, undefined]),
  ]);
  const head = ['job', 'list', 'name', 'title', 'count', 'amount', 'number', 'note'];
  return [head, ...rows].map((row) => `${row.map(cell).join(',')}\n`).join('');
}
