// What is said about the thing under the cursor, as Markdown.

import { wordEnd } from '../../grammar/characters.ts';
import { HOLE } from '../../grammar/section.ts';
import { type Argument, IN_ENGLISH, textOf as inWords, type Rows, told } from '../../grammar/told.ts';
import type { Span } from '../../grammar/tree.ts';
import { UNITS } from '../../grammar/vocabulary/units.ts';
import { CHANGES, CLAUSES, DECLARATIONS, statementRow, usualForm } from '../../grammar/vocabulary.ts';
import { firstOfPage, helpPage } from '../checks/catalog.ts';
import type { Analysis } from '../model/analysis.ts';
import { tellingOf } from '../model/derived-origin.ts';
import type { Finding } from '../model/finding.ts';
import type { Placed } from '../model/placed.ts';
import { textOf } from '../model/text-of.ts';
import type { Thing } from '../model/view.ts';
import { figureName, figureText, sharedRows, verdictText } from './figures-text.ts';
import { hoverPicture } from './hover-picture.ts';
import { blockAt, type NameAt, nameAt, placedAt, statementBefore, thingOf, toOwn } from './place-in-tree.ts';
import { otherUnitText, quantityAt } from './quantities.ts';
import { measuredAt } from './record.ts';
import { standingAt } from './standing-text.ts';
import { stageLines } from './tightening-text.ts';
import {
  choiceTold,
  clockAt,
  figureTold,
  isWritersOwn,
  nameTold,
  type Said,
  statementsOfFeature,
  unitAt,
  useTold,
} from './word-hover.ts';

/** What is looked at, and in which language it is told. */
interface Asked {
  readonly analysis: Analysis;
  readonly rows: Rows;
}

export interface Hover {
  readonly markdown: string;
  readonly start: number;
  readonly end: number;
}

/** Text of a spec inside Markdown: nothing in it is markup. */
function plain(text: string): string {
  return text.replace(/[\\`*_{}[\]()#+\-.!<>|~&]/g, '\\$&').replace(/\s+/g, ' ');
}

/** What is said, as Markdown in the language asked for. */
function inPlain({ rows }: Pick<Asked, 'rows'>, said: Argument): string {
  return plain(inWords(said, rows));
}

function fenced(text: string): string {
  return `\n\n\`\`\`fettle\n${text.replace(/```/g, "'''")}\n\`\`\``;
}

/** The declaration as written, its first lines; of what stands inside it as a piece of its own (a step) the head alone. */
function shownDeclaration({ placed }: Pick<Thing, 'placed'>): string {
  const heads = placed.section.children.map((child) => `${(child.text.split(/[{\r\n]/)[0] ?? '').trim()} { … }`);
  let next = -1;
  const text = placed.section.text.replaceAll(HOLE, () => {
    next += 1;
    return heads[next] ?? '…';
  });
  const lines = text.trim().split(/\r?\n/);
  return lines.length > 14 ? `${lines.slice(0, 13).join('\n')}\n  # …` : lines.join('\n');
}

function figures(asked: Asked, prefix: string): string {
  const { analysis, rows: words } = asked;
  const rows = sharedRows(analysis, prefix).filter(
    ({ row }) => row.name === prefix || row.name.startsWith(`${prefix}.`),
  );
  if (rows.length === 0) return '';
  return `\n\n${rows
    .slice(0, 24)
    .map(({ row, variants, inchesFirst }) => {
      const { places } = row;
      // As finely as the bounds that it is held against.
      const end = (figure: number): string => (places === undefined ? figure.toPrecision(3) : figure.toFixed(places));
      const likely =
        row.statistical === undefined || row.low === row.high
          ? ''
          : inPlain(asked, told`, mostly ${end(row.statistical.low)} to ${end(row.statistical.high)}`);
      const verdict = verdictText(row);
      const shown = verdict === undefined ? '' : inPlain(asked, verdict);
      const said = verdict === undefined ? '' : row.verdict === 'outside' ? `: **${shown}**` : `: ${shown}`;
      const whose = variants.length === 0 ? '' : ` (${plain(variants.join(', '))})`;
      const working = row.working === undefined ? '' : `  \n  ${inPlain(asked, told.term(row.working))}`;
      const name = inPlain(asked, figureName(row, prefix));
      return `- ${name}${whose}: ${plain(inWords(figureText(row, inchesFirst), words))}${likely}${said}${working}`;
    })
    .join('\n')}`;
}

function listed(asked: Pick<Asked, 'rows'>, lines: readonly Argument[]): string {
  return lines.length === 0 ? '' : `\n\n${lines.map((line) => `- ${inPlain(asked, line)}`).join('\n')}`;
}

/** What the words of a hover are made of where no declaration is shown. */
function ofSaid(asked: Asked, { name, kind, lines, start, end }: Said): Hover {
  const said = kind === undefined ? inPlain(asked, name) : `**${inPlain(asked, name)}** (${inPlain(asked, kind)})`;
  const [only] = lines;
  const text = lines.length === 1 && only !== undefined ? `: ${inPlain(asked, only)}` : listed(asked, lines);
  return { markdown: `${said}${text}`, start, end };
}

/** On the word of a tightening: what this bolt comes to, under what the word is for. */
function ofTorque(asked: Asked, offset: number): string {
  const { analysis } = asked;
  const thing = thingOf(analysis, placedAt(analysis, offset)?.declaration.name?.text ?? '');
  return thing?.kind === 'fastener' ? listed(asked, stageLines(thing)) : '';
}

function ofThing(asked: Asked, thing: Thing): string {
  const title = thing.title === undefined ? '' : `: ${plain(thing.title)}`;
  const sums =
    thing.kind === 'fastener'
      ? listed(asked, stageLines(thing))
      : ['limit', 'drive', 'valve-timing'].includes(thing.kind)
        ? figures(asked, `${thing.kind}.${thing.name}`)
        : '';
  return `**${plain(thing.name)}** (${thing.kind === 'valve-timing' ? inPlain(asked, told`valve timing`) : thing.kind})${title}${sums}${fenced(shownDeclaration(thing))}${comesFrom(asked, thing)}`;
}

/** Of a thing that is taken from a base: its line there, and each statement that is changed, with what the base says. */
function comesFrom(asked: Asked, { placed, declaration, statements }: Thing): string {
  if (placed.origin === undefined) return '';
  const tell = tellingOf(asked.analysis);
  const { limit } = declaration;
  const spans = [
    ...[declaration.title, declaration.count, declaration.each, declaration.of, declaration.on],
    ...[limit?.kind, limit?.expression, limit?.within, limit?.wearLimit],
    ...(placed.declaration.word === 'step' ? [declaration.body] : statements),
  ].filter((span) => span !== undefined);
  const changes = spans.flatMap((span) => {
    const whence = tell(placed, span);
    const said = placed.section.text.slice(span.start, span.end).replace(/\s+/g, ' ');
    const what = said.length > 60 ? `${said.slice(0, 59)}…` : said;
    if (whence === undefined || whence.kind === 'base') return [];
    return [`- \`${what.replace(/`/g, "'")}\`: ${inPlain(asked, whence.told)}`];
  });
  const whole = tell(placed, declaration.name ?? declaration.wordSpan);
  return `\n\n${[...(whole === undefined ? [] : [inPlain(asked, whole.told)]), ...changes].join('\n')}`;
}

/** Where one statement of a thing comes from, on a line of its own. */
function statementFrom(asked: Asked, thing: Thing, span: Span): string {
  const whence = tellingOf(asked.analysis)(thing.placed, span);
  return whence === undefined ? '' : `\n\n${inPlain(asked, whence.told)}`;
}

/** What the help page of a finding says first, without its heading and examples. */
function helpOf({ code }: Finding, { rows }: Asked): string {
  return inWords(told.term(firstOfPage(helpPage(code) ?? '')), rows);
}

/** The fastener whose `torque` or order is under the cursor. */
function tightenedAt(analysis: Analysis, offset: number): Thing | undefined {
  const placed = placedAt(analysis, offset);
  if (placed === undefined || blockAt(analysis, offset) !== 'fastener') return undefined;
  const own = toOwn(placed.section, offset);
  const statement = statementBefore(placed.declaration.body?.statements ?? [], own);
  const onWord = statement !== undefined && statement.wordSpan.start <= own && own <= statement.wordSpan.end;
  return onWord && (statement.word === 'torque' || statement.word === 'tightening-order')
    ? thingOf(analysis, placed.declaration.name?.text ?? '')
    : undefined;
}

/** Under what is said of a thing, its picture. */
function withPicture(
  analysis: Analysis,
  offset: number,
  name: NameAt | undefined,
  other: Hover | undefined,
  rows: Rows,
): Hover | undefined {
  if (other === undefined) return other;
  const thing = name?.set === 'thing' ? thingOf(analysis, name.thing) : tightenedAt(analysis, offset);
  if (thing === undefined) return other;
  return { ...other, markdown: `${other.markdown}${hoverPicture(analysis, thing, rows)}` };
}

/**
 * The hover at an offset: what stands there, and under it the help on what is found there. Undefined where there is nothing to say.
 * `pictures`: for an editor that shows them.
 */
export function hover(
  analysis: Analysis,
  offset: number,
  pictures = false,
  rows: Rows = IN_ENGLISH,
): Hover | undefined {
  const asked: Asked = { analysis, rows };
  const name = nameAt(analysis, offset);
  const said = withStanding(asked, offset, withMeasured(asked, offset, hoverOfText(asked, offset, name)));
  const thing = pictures ? withPicture(analysis, offset, name, said, rows) : said;
  const findings = analysis.known.filter((finding) => finding.start <= offset && offset <= finding.end);
  const helps = [...new Map(findings.map((finding) => [finding.code, finding])).values()]
    .slice(0, 1)
    .flatMap((each) => {
      const help = helpOf(each, asked);
      return help === '' ? [] : [`*${each.code}*: ${help.replace(/\n/g, ' ')}`];
    });
  const first = findings[0];
  if (helps.length === 0 || first === undefined) return thing;
  return {
    markdown: [...(thing === undefined ? [] : [thing.markdown]), ...helps].join('\n\n---\n\n'),
    start: thing?.start ?? first.start,
    end: thing?.end ?? first.end,
  };
}

/** On a measured line of a record: how it stands against its limit, and under it what else there is. */
function withMeasured(asked: Asked, offset: number, other: Hover | undefined): Hover | undefined {
  const { analysis } = asked;
  const measured = measuredAt(analysis, offset);
  if (measured === undefined) return other;
  // A finding on the line says it already.
  const isFound = analysis.known.some(
    (finding) => finding.code.startsWith('record/') && finding.start <= offset && offset <= finding.end,
  );
  if (isFound) return other;
  const { start, end } = measured;
  const said = measured.lines.map((line) => inPlain(asked, line));
  const lines = said.length === 1 ? said.join('') : said.map((line) => `- ${line}`).join('\n');
  if (other === undefined) return { markdown: lines, start, end };
  return { ...other, markdown: `${lines}\n\n---\n\n${other.markdown}` };
}

/** On the name of a step, and on the word of an action: how the engine stands after it. */
function withStanding(asked: Asked, offset: number, other: Hover | undefined): Hover | undefined {
  const stands = other === undefined ? undefined : standingAt(asked.analysis, offset);
  if (other === undefined || stands === undefined) return other;
  const lines = stands.map((line) => `- ${inPlain(asked, line)}`).join('\n');
  return { ...other, markdown: `${other.markdown}\n\n---\n\n${inPlain(asked, told`After it:`)}\n${lines}` };
}

/** A figure of the engine, where its name is under the cursor. */
function engineFigure(asked: Asked, offset: number): Hover | undefined {
  const { analysis } = asked;
  const from = Math.max(0, offset - 60);
  for (const match of textOf(analysis.file, from, offset + 60).matchAll(/\bengine\.([a-z-]+)/g)) {
    const start = from + match.index;
    const end = start + match[0].length;
    if (offset < start || offset > end) continue;
    const found = figures(asked, match[0]);
    return found === '' ? undefined : { markdown: `**${plain(match[0])}**${found}`, start, end };
  }
  return undefined;
}

function ofRecord(name: NameAt, placed: Placed): Hover {
  const { title } = placed.declaration;
  const said = title === undefined ? '' : `: ${plain(title.value)}`;
  return {
    markdown: `**${plain(name.text)}** (record)${said}${fenced(shownDeclaration({ placed }))}`,
    start: name.place.start,
    end: name.place.end,
  };
}

function ofSpec(analysis: Analysis, name: string): string | undefined {
  const spec = analysis.views[0]?.specs.find((each) => each.declaration.name?.text === name);
  if (spec === undefined) return undefined;
  const title = spec.declaration.title === undefined ? '' : `: ${plain(spec.declaration.title.value)}`;
  return `**${plain(name)}** (spec)${title}${fenced(shownDeclaration({ placed: spec }))}`;
}

/** What a help page or a table says of the thing that a completion names. */
export function helpOnName(analysis: Analysis, name: string, rows: Rows): string | undefined {
  const thing = thingOf(analysis, name);
  return thing === undefined ? undefined : ofThing({ analysis, rows }, thing);
}

/** Letters of a word beyond which it is none of Fettle's. */
const WIDEST_WORD = 200;

function hoverOfText(asked: Asked, offset: number, name: NameAt | undefined): Hover | undefined {
  const { analysis } = asked;
  if (name !== undefined && name.set === 'thing') {
    const thing = thingOf(analysis, name.thing);
    if (thing !== undefined) return { markdown: ofThing(asked, thing), start: name.place.start, end: name.place.end };
  }
  if (name?.set === 'feature' && name.feature !== undefined) {
    const thing = thingOf(analysis, name.thing);
    const said = thing === undefined ? [] : statementsOfFeature(thing, name.feature);
    const [statement] = said;
    if (thing !== undefined && statement !== undefined) {
      const shown = said.map((each) => thing.placed.section.text.slice(each.start, each.end)).join('\n');
      return {
        markdown: `**${plain(name.feature)}** ${inPlain(asked, told`of ${told.thing(thing)}`)}${fenced(shown)}${statementFrom(asked, thing, statement)}`,
        start: name.place.start,
        end: name.place.end,
      };
    }
  }
  if (name?.set === 'spec') {
    const markdown = ofSpec(analysis, name.thing);
    if (markdown !== undefined) return { markdown, start: name.place.start, end: name.place.end };
  }
  const record = name?.set === 'record' ? placedAt(analysis, offset) : undefined;
  if (name !== undefined && record !== undefined) return ofRecord(name, record);
  const said =
    (name === undefined ? undefined : nameTold(analysis, name)) ??
    figureTold(analysis, offset) ??
    useTold(analysis, offset);
  if (said !== undefined) return ofSaid(asked, said);
  // What the writer says is no word of the language.
  if (isWritersOwn(analysis, offset)) return undefined;
  const figure = engineFigure(asked, offset);
  if (figure !== undefined) return figure;
  const clock = clockAt(analysis, offset);
  if (clock !== undefined) return ofSaid(asked, clock);
  const quantity = quantityAt(analysis, offset);
  if (quantity !== undefined) {
    const other = otherUnitText(quantity.value);
    if (other !== undefined) return { markdown: `= ${plain(other)}`, start: quantity.start, end: quantity.end };
  }
  // The word under the cursor, in the text round it.
  const from = Math.max(0, offset - WIDEST_WORD);
  const text = textOf(analysis.file, from, offset + WIDEST_WORD);
  let first = offset - from;
  while (first > 0 && /[\p{L}\p{N}_-]/u.test(text[first - 1] ?? '')) first -= 1;
  const written = text.slice(first, wordEnd(text, first));
  const start = from + first;
  const end = start + written.length;
  if (end <= start || offset > end) {
    const unit = unitAt(analysis, offset);
    return unit === undefined ? undefined : ofSaid(asked, unit);
  }
  const word = usualForm(written);
  if (word === 'engine' && placedAt(analysis, offset)?.declaration.word === 'engine')
    return { markdown: `**${inPlain(asked, told`The engine`)}**${figures(asked, 'engine')}`, start, end };
  const block = blockAt(analysis, offset);
  const row = block === undefined ? undefined : statementRow(block, word);
  const declaration = [...DECLARATIONS, ...CHANGES].find((each) => each.word === word);
  const choice = choiceTold(analysis, offset, word);
  if (choice !== undefined) return ofSaid(asked, { ...choice, start, end });
  const worked = word === 'torque' && block === 'fastener' ? ofTorque(asked, offset) : '';
  const example = (text: string): string =>
    text === word ? '' : `\n\n${inPlain(asked, told`As an example:`)}${fenced(text)}`;
  const help = (text: string): string => `**${word}**: ${inPlain(asked, told.term(text))}`;
  if (row !== undefined)
    return { markdown: `${help(row.help)}${worked === '' ? example(row.example) : worked}`, start, end };
  if (declaration !== undefined)
    return { markdown: `${help(declaration.help)}${example(declaration.example)}`, start, end };
  const clause = CLAUSES.find((each) => each.word === word);
  if (clause !== undefined) return { markdown: help(clause.help), start, end };
  const unit = UNITS.find((each) => each.unit === written);
  return unit === undefined
    ? undefined
    : ofSaid(asked, { name: unit.unit, kind: told.term(unit.kind), lines: [told.term(unit.help)], start, end });
}
