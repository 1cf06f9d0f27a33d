// What is said about the thing under the cursor, as Markdown.

import { wordEnd } from '../../grammar/characters.ts';
import { HOLE } from '../../grammar/sections.ts';
import type { Span } from '../../grammar/tree.ts';
import { UNITS } from '../../grammar/vocabulary/units.ts';
import { CHANGES, CLAUSES, DECLARATIONS, statementRow, usualForm } from '../../grammar/vocabulary.ts';
import { helpPage } from '../checks/catalog.ts';
import type { Analysis } from '../model/analysis.ts';
import { tellingOf } from '../model/derived-origin.ts';
import type { Finding } from '../model/finding.ts';
import { textOf } from '../model/text-of.ts';
import type { Thing } from '../model/view.ts';
import { figureName, figureText, sharedRows, verdictText } from './figures-text.ts';
import { hoverPicture } from './hover-picture.ts';
import { blockAt, nameAt, placedAt, statementBefore, thingOf, toOwn } from './place-in-tree.ts';
import { otherUnitText, quantityAt } from './quantities.ts';
import { measuredAt } from './record.ts';
import { standingAt } from './standing-text.ts';
import { stageLines } from './tightening-text.ts';
import { choiceTold, figureTold, nameTold, statementsOfFeature, type Told, unitAt } from './word-hover.ts';

export interface Hover {
  readonly markdown: string;
  readonly start: number;
  readonly end: number;
}

/** Text of a spec inside Markdown: nothing in it is markup. */
function plain(text: string): string {
  return text.replace(/[\\`*_{}[\]()#+\-.!<>|~&]/g, '\\$&').replace(/\s+/g, ' ');
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

function figures(analysis: Analysis, prefix: string): string {
  const rows = sharedRows(analysis, prefix.startsWith('engine') ? 'engine' : prefix).filter(
    ({ row }) => row.name === prefix || row.name.startsWith(`${prefix}.`),
  );
  if (rows.length === 0) return '';
  return `\n\n${rows
    .slice(0, 24)
    .map(({ row, variants }) => {
      const likely =
        row.statistical === undefined || row.low === row.high
          ? ''
          : `, mostly ${row.statistical.low.toPrecision(3)} to ${row.statistical.high.toPrecision(3)}`;
      const verdict = verdictText(row);
      const said = verdict === undefined ? '' : row.verdict === 'outside' ? `: **${verdict}**` : `: ${verdict}`;
      const whose = variants.length === 0 ? '' : ` (${plain(variants.join(', '))})`;
      const working = row.working === undefined ? '' : `  \n  ${plain(row.working)}`;
      return `- ${plain(figureName(row, prefix))}${whose}: ${plain(figureText(row))}${likely}${said}${working}`;
    })
    .join('\n')}`;
}

function listed(lines: readonly string[]): string {
  return lines.length === 0 ? '' : `\n\n${lines.map((line) => `- ${plain(line)}`).join('\n')}`;
}

/** What the words of a hover are made of where no declaration is shown. */
function ofTold({ name, kind, lines, start, end }: Told): Hover {
  const said = kind === 'count' ? plain(name) : `**${plain(name)}** (${plain(kind)})`;
  const [only] = lines;
  const text = lines.length === 1 && only !== undefined ? `: ${plain(only)}` : listed(lines);
  return { markdown: `${said}${text}`, start, end };
}

/** On the word of a tightening: what this bolt comes to, under what the word is for. */
function ofTorque(analysis: Analysis, offset: number): string {
  const thing = thingOf(analysis, placedAt(analysis, offset)?.declaration.name?.text ?? '');
  return thing?.kind === 'fastener' ? listed(stageLines(thing)) : '';
}

function ofThing(analysis: Analysis, thing: Thing): string {
  const kind = thing.kind === 'valve-timing' ? 'valve timing' : thing.kind;
  const title = thing.title === undefined ? '' : `: ${plain(thing.title)}`;
  const sums =
    thing.kind === 'fastener'
      ? listed(stageLines(thing))
      : ['limit', 'drive', 'valve-timing'].includes(thing.kind)
        ? figures(analysis, `${thing.kind}.${thing.name}`)
        : '';
  return `**${plain(thing.name)}** (${kind})${title}${sums}${fenced(shownDeclaration(thing))}${comesFrom(analysis, thing)}`;
}

/** Of a thing that is taken from a base: its line there, and each statement that is changed, with what the base says. */
function comesFrom(analysis: Analysis, { placed, declaration, statements }: Thing): string {
  if (placed.origin === undefined) return '';
  const tell = tellingOf(analysis);
  const { limit } = declaration;
  const spans = [
    ...[declaration.title, declaration.count, declaration.each, declaration.of, declaration.on],
    ...[limit?.kind, limit?.expression, limit?.within, limit?.wearLimit],
    ...(placed.declaration.word === 'step' ? [declaration.body] : statements),
  ].filter((span) => span !== undefined);
  const changes = spans.flatMap((span) => {
    const told = tell(placed, span);
    const said = placed.section.text.slice(span.start, span.end).replace(/\s+/g, ' ');
    const what = said.length > 60 ? `${said.slice(0, 59)}…` : said;
    return told === undefined || told.kind === 'base' ? [] : [`- \`${what.replace(/`/g, "'")}\`: ${plain(told.text)}`];
  });
  const whole = tell(placed, declaration.name ?? declaration.wordSpan);
  return `\n\n${[...(whole === undefined ? [] : [plain(whole.text)]), ...changes].join('\n')}`;
}

/** Where one statement of a thing comes from, on a line of its own. */
function statementFrom(analysis: Analysis, thing: Thing, span: Span): string {
  const told = tellingOf(analysis)(thing.placed, span);
  return told === undefined ? '' : `\n\n${plain(told.text)}`;
}

/** What the help page of a finding says first, without its heading and examples. */
function helpOf(finding: Finding): string {
  const page = helpPage(finding.code) ?? '';
  return page.replace(/^#[^\n]*\n+/, '').split(/\n\s*\n/)[0] ?? '';
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
function withPicture(analysis: Analysis, offset: number, other: Hover | undefined): Hover | undefined {
  const name = other === undefined ? undefined : nameAt(analysis, offset);
  const thing = name?.set === 'thing' ? thingOf(analysis, name.thing) : tightenedAt(analysis, offset);
  if (other === undefined || thing === undefined) return other;
  return { ...other, markdown: `${other.markdown}${hoverPicture(analysis, thing)}` };
}

/**
 * The hover at an offset: what stands there, and under it the help on what is found there. Undefined where there is nothing to say.
 * `pictures`: for an editor that shows them.
 */
export function hover(analysis: Analysis, offset: number, pictures = false): Hover | undefined {
  const said = withStanding(analysis, offset, withMeasured(analysis, offset, hoverOfText(analysis, offset)));
  const thing = pictures ? withPicture(analysis, offset, said) : said;
  const findings = analysis.known.filter((finding) => finding.start <= offset && offset <= finding.end);
  const helps = [...new Map(findings.map((finding) => [finding.code, finding])).values()]
    .slice(0, 1)
    .flatMap((each) => {
      const help = helpOf(each);
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
function withMeasured(analysis: Analysis, offset: number, other: Hover | undefined): Hover | undefined {
  const told = measuredAt(analysis, offset);
  // A finding on the line says it already.
  const isFound = analysis.known.some(
    (finding) => finding.code.startsWith('record/') && finding.start <= offset && offset <= finding.end,
  );
  if (told === undefined || isFound) return other;
  const lines = told.lines.map((line) => (told.lines.length === 1 ? plain(line) : `- ${plain(line)}`)).join('\n');
  if (other === undefined) return { markdown: lines, start: told.start, end: told.end };
  return { ...other, markdown: `${lines}\n\n---\n\n${other.markdown}` };
}

/** On the name of a step, and on the word of an action: how the engine stands after it. */
function withStanding(analysis: Analysis, offset: number, other: Hover | undefined): Hover | undefined {
  const told = other === undefined ? undefined : standingAt(analysis, offset);
  if (other === undefined || told === undefined) return other;
  return {
    ...other,
    markdown: `${other.markdown}\n\n---\n\nAfter it:\n${told.map((line) => `- ${plain(line)}`).join('\n')}`,
  };
}

/** A figure of the engine, where its name is under the cursor. */
function engineFigure(analysis: Analysis, offset: number): Hover | undefined {
  const from = Math.max(0, offset - 60);
  for (const match of textOf(analysis.file, from, offset + 60).matchAll(/\bengine\.([a-z-]+)/g)) {
    const start = from + match.index;
    const end = start + match[0].length;
    if (offset < start || offset > end) continue;
    const found = figures(analysis, match[0]);
    return found === '' ? undefined : { markdown: `**${plain(match[0])}**${found}`, start, end };
  }
  return undefined;
}

function ofSpec(analysis: Analysis, name: string): string | undefined {
  const spec = analysis.views[0]?.specs.find((each) => each.declaration.name?.text === name);
  if (spec === undefined) return undefined;
  const title = spec.declaration.title === undefined ? '' : `: ${plain(spec.declaration.title.value)}`;
  return `**${plain(name)}** (spec)${title}${fenced(shownDeclaration({ placed: spec }))}`;
}

/** What a help page or a table says of the thing that a completion names. */
export function helpOnName(analysis: Analysis, name: string): string | undefined {
  const thing = thingOf(analysis, name);
  return thing === undefined ? undefined : ofThing(analysis, thing);
}

/** Letters of a word beyond which it is none of Fettle's. */
const WIDEST_WORD = 200;

function hoverOfText(analysis: Analysis, offset: number): Hover | undefined {
  const name = nameAt(analysis, offset);
  if (name !== undefined && name.set === 'thing') {
    const thing = thingOf(analysis, name.thing);
    if (thing !== undefined)
      return { markdown: ofThing(analysis, thing), start: name.place.start, end: name.place.end };
  }
  if (name?.set === 'feature' && name.feature !== undefined) {
    const thing = thingOf(analysis, name.thing);
    const said = thing === undefined ? [] : statementsOfFeature(thing, name.feature);
    const [statement] = said;
    if (thing !== undefined && statement !== undefined) {
      const shown = said.map((each) => thing.placed.section.text.slice(each.start, each.end)).join('\n');
      return {
        markdown: `**${plain(name.feature)}** of ${plain(thing.name)}${fenced(shown)}${statementFrom(analysis, thing, statement)}`,
        start: name.place.start,
        end: name.place.end,
      };
    }
  }
  if (name?.set === 'spec') {
    const markdown = ofSpec(analysis, name.thing);
    if (markdown !== undefined) return { markdown, start: name.place.start, end: name.place.end };
  }
  const told = (name === undefined ? undefined : nameTold(analysis, name)) ?? figureTold(analysis, offset);
  if (told !== undefined) return ofTold(told);
  const figure = engineFigure(analysis, offset);
  if (figure !== undefined) return figure;
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
    return unit === undefined ? undefined : ofTold(unit);
  }
  const word = usualForm(written);
  if (word === 'engine' && placedAt(analysis, offset)?.declaration.word === 'engine')
    return { markdown: `**The engine**${figures(analysis, 'engine')}`, start, end };
  const block = blockAt(analysis, offset);
  const row = block === undefined ? undefined : statementRow(block, word);
  const declaration = [...DECLARATIONS, ...CHANGES].find((each) => each.word === word);
  const choice = choiceTold(analysis, offset, word);
  if (choice !== undefined) return ofTold({ ...choice, start, end });
  const worked = word === 'torque' && block === 'fastener' ? ofTorque(analysis, offset) : '';
  if (row !== undefined)
    return {
      markdown:
        worked === ''
          ? `**${word}**: ${plain(row.help)}${fenced(row.example)}`
          : `**${word}**: ${plain(row.help)}${worked}`,
      start,
      end,
    };
  if (declaration !== undefined)
    return { markdown: `**${word}**: ${plain(declaration.help)}${fenced(declaration.example)}`, start, end };
  const clause = CLAUSES.find((each) => each.word === word);
  if (clause !== undefined) return { markdown: `**${word}**: ${plain(clause.help)}`, start, end };
  const unit = UNITS.find((each) => each.unit === written);
  return unit === undefined
    ? undefined
    : { markdown: `**${plain(unit.unit)}**: ${plain(unit.help)} (${unit.kind})`, start, end };
}
