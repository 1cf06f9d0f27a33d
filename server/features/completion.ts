// What may be written at the cursor: words of the block, names by kind and place, features after a dot, units after a number.
import { lex } from '../../grammar/lexer.ts';
import { UNITS } from '../../grammar/vocabulary/units.ts';
import {
  ACTIONS,
  type Block,
  CLAUSES,
  DECLARATIONS,
  type NameKind,
  statementRow,
  statementsOf,
} from '../../grammar/vocabulary.ts';
import { CHECKS } from '../checks/catalog.ts';
import type { Analysis } from '../model/analysis.ts';
import { ENGINE_FIGURES } from '../model/engine-sums.ts';
import type { Thing } from '../model/view.ts';
import { blockAt, placedAt } from './place-in-tree.ts';

export interface Completion {
  readonly label: string;
  readonly kind: 'word' | 'name' | 'feature' | 'unit' | 'choice' | 'code';
  readonly detail: string;
  readonly help?: string;
  /** A snippet with gaps, where it is more than the label. */
  readonly snippet?: string;
  /** Smaller comes first. */
  readonly rank: number;
}

const NAME_CLAUSES: Readonly<Record<string, readonly NameKind[]>> = {
  into: ['part'],
  onto: ['part'],
  from: ['part'],
  to: ['part'],
  of: ['part', 'spec'],
  each: ['part'],
  over: ['part'],
  toward: ['part'],
  against: ['part'],
  on: ['part'],
  by: ['limit'],
};

/** The words from the last statement word up to the cursor, and what stands just before it. */
function before(
  text: string,
  offset: number,
): {
  readonly words: readonly string[];
  readonly last: string;
  readonly afterDot: boolean;
  readonly afterNumber: boolean;
  readonly owner: string | undefined;
} {
  const from = Math.max(0, offset - 400);
  const piece = text.slice(from, offset);
  const typed = /[\p{L}\p{N}_-]*$/u.exec(piece)?.[0] ?? '';
  const left = piece.slice(0, piece.length - typed.length);
  const { tokens } = lex(left, { unclosedTexts: [], holes: [] });
  const words = tokens.map((token) => token.payload);
  const last = tokens[tokens.length - 1];
  const afterDot = last?.tokenType.name === 'Dot';
  return {
    words,
    last: last?.payload ?? '',
    afterDot,
    afterNumber: last?.tokenType.name === 'Number',
    owner: afterDot ? tokens[tokens.length - 2]?.image : undefined,
  };
}

function statementSnippet(word: string, example: string): string | undefined {
  const rest = example.slice(word.length).trim();
  if (rest === '' || rest.includes('\n') || rest.includes('{')) return undefined;
  return `${word} \${1:${rest.replace(/[$}\\]/g, '\\$&')}}`;
}

function things(analysis: Analysis): readonly Thing[] {
  return [...(analysis.views[0]?.things.values() ?? [])];
}

function names(analysis: Analysis, kinds: readonly NameKind[], first: ReadonlySet<string>): Completion[] {
  return things(analysis)
    .filter((thing) => (kinds as readonly string[]).includes(thing.kind))
    .map((thing) => ({
      label: thing.name,
      kind: 'name',
      detail: thing.title ?? thing.kind,
      rank: first.has(thing.name) ? 0 : 1,
    }));
}

/** Parts that no step fits yet, and fasteners that none tightens: they come first. */
function notUsedYet(analysis: Analysis): ReadonlySet<string> {
  const view = analysis.views[0];
  if (view === undefined) return new Set();
  const done = new Set(
    view.steps.flatMap((step) =>
      step.statements.flatMap((each) =>
        each.kind === 'action' && (each.word === 'fit' || each.word === 'tighten')
          ? each.targets.map((target) => target.owner.text)
          : [],
      ),
    ),
  );
  return new Set([...view.parts, ...view.fasteners].map((thing) => thing.name).filter((name) => !done.has(name)));
}

function features(analysis: Analysis, owner: string, marksOnly: boolean): Completion[] {
  if (owner === 'engine')
    return Object.keys(ENGINE_FIGURES).map((name) => ({
      label: name,
      kind: 'feature',
      detail: 'worked out from the engine',
      rank: 0,
    }));
  const thing = things(analysis).find((each) => each.name === owner);
  if (thing?.kind !== 'part') return [];
  const from = marksOnly ? [...thing.marks.keys()] : [...thing.featureNames];
  return from.map((name) => ({ label: name, kind: 'feature', detail: `of ${owner}`, rank: 0 }));
}

function words(block: Block | undefined): Completion[] {
  if (block === undefined) {
    return DECLARATIONS.filter((row) => row.word !== 'step').map((row) => ({
      label: row.word,
      kind: 'word',
      detail: 'declaration',
      help: row.help,
      rank: 0,
    }));
  }
  const rows = statementsOf(block).map((row): Completion => {
    const snippet = statementSnippet(row.word, row.example);
    return {
      label: row.word,
      kind: 'word',
      detail: ACTIONS.includes(row) ? 'action' : 'statement',
      help: `${row.help}\n\n${row.example}`,
      rank: 1,
      ...(snippet === undefined ? {} : { snippet }),
    };
  });
  return block === 'sequence'
    ? [
        {
          label: 'step',
          kind: 'word',
          detail: 'step',
          help: 'One step of a sequence.',
          snippet: `step \${1:name} {\n  $0\n}`,
          rank: 0,
        },
        ...rows,
      ]
    : rows;
}

/** The completions at an offset. */
export function completions(analysis: Analysis, offset: number): readonly Completion[] {
  const text = analysis.file.text;
  const seen = before(text, offset);
  if (seen.afterDot && seen.owner !== undefined)
    return features(analysis, seen.owner, seen.words.includes('confirm') || seen.words.includes('marked-link'));
  if (seen.afterNumber)
    return UNITS.map((row) => ({
      label: row.unit,
      kind: 'unit',
      detail: row.kind,
      help: row.help,
      rank: ['mm', 'N.m', 'deg', 'in', 'lbf.ft'].includes(row.unit) ? 0 : 1,
    }));
  const block = blockAt(analysis, offset);
  const placed = placedAt(analysis, offset);
  if (seen.last === 'per')
    return (analysis.views[0]?.specs ?? []).flatMap((spec) =>
      (spec.declaration.body?.statements ?? []).flatMap((each): Completion[] =>
        each.kind === 'source'
          ? [{ label: each.name.text, kind: 'name', detail: each.title?.value ?? 'source', rank: 0 }]
          : [],
      ),
    );
  if (seen.last === 'when' || seen.last === 'variant')
    return analysis.variants.map((name) => ({ label: name, kind: 'name', detail: 'variant', rank: 0 }));
  if (seen.last === 'allow')
    return CHECKS.map((check) => ({ label: check.code, kind: 'code', detail: check.severity, rank: 0 }));
  const row = block === undefined ? undefined : statementRow(block, seen.last);
  if (row !== undefined) {
    const choices = Object.entries(row.choices ?? {}).map(
      ([label, help]): Completion => ({ label, kind: 'choice', detail: row.word, help, rank: 0 }),
    );
    const named = row.refers === undefined ? [] : names(analysis, row.refers, notUsedYet(analysis));
    if (row.shape === 'choice' || row.shape === 'begins') return choices;
    if (named.length > 0 || choices.length > 0)
      return [
        ...named,
        ...(row.shape === 'cylinders' || row.shape === 'stated' || row.shape === 'bank' ? choices : []),
      ];
  }
  const statement =
    block === undefined
      ? undefined
      : [...seen.words]
          .reverse()
          .map((word) => statementRow(block, word))
          .find((each) => each !== undefined);
  if (seen.last === ',' && statement?.refers !== undefined)
    return names(analysis, statement.refers, notUsedYet(analysis));
  // After a comma the list of this statement goes on; no new statement begins there.
  if (seen.last === ',') return [];
  if (seen.last === 'with' && statement !== undefined) return names(analysis, ['supply'], new Set());
  if (seen.last === 'toward')
    return [
      ...Object.entries(statement?.choices ?? {}).map(
        ([label, help]): Completion => ({ label, kind: 'choice', detail: 'direction', help, rank: 0 }),
      ),
      ...names(analysis, ['part'], new Set()),
    ];
  if ((seen.last === 'by' || seen.last === 'on') && statement?.choices !== undefined)
    return Object.entries(statement.choices).map(([label, help]) => ({
      label,
      kind: 'choice',
      detail: statement.word,
      help,
      rank: 0,
    }));
  const kinds = NAME_CLAUSES[seen.last];
  if (kinds !== undefined) return names(analysis, kinds, new Set());
  if (placed?.declaration.word === 'limit' && block === undefined) {
    const clauses = CLAUSES.filter((each) =>
      ['each', 'of', 'kind', 'measured', 'within', 'wear-limit', 'per', 'at-least', 'at-most'].includes(each.word),
    ).map((each): Completion => ({ label: each.word, kind: 'word', detail: 'clause', help: each.help, rank: 0 }));
    if (seen.last === 'kind')
      return Object.entries(CLAUSES.find((each) => each.word === 'kind')?.choices ?? {}).map(([label, help]) => ({
        label,
        kind: 'choice',
        detail: 'kind',
        help,
        rank: 0,
      }));
    if (['=', '+', '-', '*', '/', '('].includes(seen.last))
      return [
        ...names(analysis, ['part', 'limit'], new Set()),
        { label: 'engine', kind: 'name', detail: 'values of the engine', rank: 0 },
      ];
    return [...clauses, ...words(undefined)];
  }
  return words(block);
}
