// Reads one declaration: its head and its braces, and goes on after an error at the next statement word of the block.

import { EOF } from 'chevrotain';
import type { Fault } from './fault.ts';
import {
  type Around,
  type LeftOver,
  leftOverInBraces,
  leftOverInHead,
  leftOverOutside,
  meantInStatement,
  nameOfWords,
} from './left-over.ts';
import { lookUp } from './look-up.ts';
import { nearest } from './nearest.ts';
import { StatementParser } from './statement-parser.ts';
import * as say from './syntax-messages.ts';
import type { Token } from './tokens.ts';
import * as t from './tokens.ts';
import { type Told, told } from './told.ts';
import type * as tree from './tree.ts';
import { isReadingError, Unreadable } from './value-parser.ts';
import { type Block, CHANGE_WORDS, CLAUSES, statementRow } from './vocabulary.ts';

const NAMELESS = new Set(['engine', 'use', 'when']);
const BLOCKS: ReadonlySet<string> = new Set([
  'spec',
  'engine',
  'part',
  'fastener',
  'supply',
  'grades',
  'drive',
  'valve-timing',
  'limit',
  'sequence',
  'step',
  'job',
  'record',
]);
/** The clauses that the head of each declaration may have, titles and counts apart. */
const HEAD_CLAUSES: Readonly<Record<string, readonly string[]>> = {
  limit: ['each', 'of', 'kind', '=', 'measured', 'within', 'wear-limit', 'otherwise', 'per'],
  grades: ['by', 'per'],
  'valve-timing': ['on', 'per'],
  step: ['each'],
  job: ['of'],
  record: ['of', 'revision'],
  supply: ['per'],
  spec: ['extends'],
  insert: ['each', 'after', 'before'],
};
const LIMIT_KINDS = Object.keys(CLAUSES.find((row) => row.word === 'kind')?.choices ?? {});

/** The number of the first call from a head; calls from statements have numbers below and above. */
const HEAD_CALLS = 150;
/** While the rules are recorded each call stands behind a token of its own. */
const SECTION_WORDS = [
  t.Open,
  t.Close,
  t.Comma,
  t.Colon,
  t.Equals,
  t.Plus,
  t.Minus,
  t.Times,
  t.Slash,
  t.Dots,
  t.Dot,
  t.PlusMinus,
  t.OClock,
  t.Minutes,
];

type Head = { -readonly [key in keyof tree.Declaration]?: tree.Declaration[key] };
type LimitHead = { -readonly [key in keyof tree.LimitClauses]?: tree.LimitClauses[key] };

/** Where an unexpected word may be the rest of a comment that mail has wrapped. */
export type AfterComment = (offset: number) => boolean;

export interface ReadDeclaration {
  readonly declaration?: tree.Declaration;
  /** `note` and `allow` that stand outside every declaration. */
  readonly outside: readonly tree.Statement[];
  readonly statementStarts: readonly number[];
  readonly clauseStarts: readonly number[];
}

export class DeclarationParser extends StatementParser {
  private statementStarts: number[] = [];
  private hole = 0;
  private outside: tree.Statement[] = [];
  private afterComment: AfterComment = () => false;

  constructor(skipValidations: boolean) {
    super(skipValidations);
    this.performSelfAnalysis();
  }

  /** Reads the tokens of one section. `word` is its reserved word, undefined for text before the first declaration. */
  readSection(
    tokens: readonly Token[],
    word: string | undefined,
    inSequence: boolean,
    afterComment: AfterComment,
  ): ReadDeclaration & { readonly faults: readonly Fault[] } {
    this.begin([...tokens], BLOCKS.has(word ?? '') ? (word as Block) : 'spec');
    this.statementStarts = [];
    this.clauseStarts = [];
    this.hole = 0;
    this.outside = [];
    this.afterComment = afterComment;
    const declaration = this.section(word, inSequence) as tree.Declaration | undefined;
    return {
      ...(declaration === undefined ? {} : { declaration }),
      outside: this.outside,
      faults: this.faults,
      statementStarts: this.statementStarts,
      clauseStarts: [...new Set(this.clauseStarts)],
    };
  }

  private atEnd(): boolean {
    return this.is(EOF);
  }

  /** The rule that every reading begins with. It calls the others as its own, at numbers that no other call has. */
  private readonly section: (...args: unknown[]) => unknown = this.RULE(
    'section',
    (word: string | undefined, inSequence: boolean): tree.Declaration | undefined => {
      if (this.RECORDING_PHASE) {
        this.OR(
          [
            this.text,
            this.count,
            this.names,
            this.reference,
            this.plainReference,
            this.name,
            this.whole,
            this.expression,
            this.value,
            this.per,
            this.wearLimit,
            this.body,
            this.plainValue,
            this.otherwise,
          ].map((rule, i) => ({
            ALT: () => {
              this.CONSUME(SECTION_WORDS[i] ?? t.Word);
              this.subrule(HEAD_CALLS + i, rule as never);
            },
          })) as never,
        );
        return undefined;
      }
      let declaration: tree.Declaration | undefined;
      if (word !== undefined && !this.atEnd()) {
        declaration = this.declaration(word as tree.DeclarationWord);
        if (word === 'step' && !inSequence) this.fault('syntax/unexpected', declaration.wordSpan, say.stepOutside());
      }
      this.readOutside();
      return declaration;
    },
  ) as never;

  /** Calls a rule from the head of a declaration. */
  private rule<result>(rule: unknown, ...args: readonly unknown[]): result {
    return this.subrule(HEAD_CALLS, rule as never, { ARGS: args } as never) as unknown as result;
  }

  /** The head and braces. */
  private declaration(word: tree.DeclarationWord): tree.Declaration {
    const keyword = this.take();
    const head: Head = {};
    const clauses: LimitHead = {};
    let broken = false;
    this.statementStarts.push(keyword.startOffset);
    const kind = CHANGE_WORDS.has(word) ? this.readChanged(word, head) : word;
    if (word === 'when')
      broken = !this.attempt(() => {
        head.variants = this.readNames();
      });
    else if (!NAMELESS.has(kind)) {
      if (this.isNameAhead()) head.name = this.readName();
      else {
        const said = kind === word ? word : `${word} ${kind}`;
        const until = this.LA(0);
        const found = this.takeNoName() ?? (this.atEnd() ? undefined : say.shown(this.peek(1)));
        this.fault('syntax/unexpected', this.span(keyword, until), say.headNameMissing(said, found));
        broken = true;
      }
    }
    const clausesOf = word === 'insert' ? word : kind;
    while (word !== 'drop' && !this.atEnd() && !this.is(t.Open) && !this.is(t.Close) && !this.isForFileAhead()) {
      if (this.isBraceMissing(kind, clausesOf)) break;
      if (!this.readHeadPart(clausesOf, head, clauses)) broken = true;
    }
    if (word === 'use' && head.path === undefined && !broken) {
      this.fault('syntax/unexpected', this.span(keyword), say.pathMissing());
      broken = true;
    }
    if (kind === 'limit' && word !== 'drop') head.limit = clauses as tree.LimitClauses;
    let body: tree.Body | undefined;
    if (word !== 'drop') {
      if (this.is(t.Open) && word !== 'use') body = word === 'when' ? this.readWhenBody() : this.rule(this.body);
      else if (this.isBraceMissing(kind, clausesOf)) body = this.readBodyWithoutBrace(word === 'sequence');
    }
    const declaration = {
      ...head,
      word,
      wordSpan: this.span(keyword),
      ...this.sinceToken(keyword),
      ...(body === undefined ? {} : { body }),
      broken,
    } as tree.Declaration;
    this.sayOfChange(declaration);
    return declaration;
  }

  /** The word after `change`, `drop` or `insert`; gives the kind of thing whose statements may follow. */
  private readChanged(word: string, head: Head): tree.DeclarationWord {
    const token = this.take();
    const kind = token.payload as tree.DeclarationWord;
    head.changed = { word: kind, ...this.span(token) };
    if (word === 'insert' && kind !== 'step')
      this.fault('syntax/unexpected', this.span(token), say.insertStepsAlone(kind));
    if (BLOCKS.has(kind)) this.block = kind as Block;
    this.inChange = word === 'change' && kind !== 'step';
    return kind;
  }

  /** What is missing in a change that reads whole, and changes without a base. */
  private sayOfChange(declaration: tree.Declaration): void {
    const { word, name, changed, broken, body } = declaration;
    if (word === 'spec' && this.hole > 0 && declaration.extends === undefined && !broken)
      this.fault('syntax/unexpected', name ?? declaration.wordSpan, say.changeNeedsBase());
    if (broken || name === undefined || changed === undefined) return;
    if (word === 'insert' && changed.word === 'step' && declaration.beside === undefined)
      this.fault('syntax/unexpected', name, say.insertWhere(name.text));
    const saysNothing =
      body === undefined &&
      declaration.title === undefined &&
      declaration.count === undefined &&
      declaration.each === undefined &&
      declaration.of === undefined &&
      declaration.on === undefined &&
      declaration.by === undefined &&
      declaration.per === undefined &&
      Object.keys(declaration.limit ?? {}).length === 0;
    if (word === 'change' && saysNothing) this.fault('syntax/unexpected', name, say.changesNothing(changed.word));
  }

  /** Whether a statement of this declaration is ahead, and one more brace is closed after it than is opened. */
  private isBraceMissing(word: string, clausesOf: string): boolean {
    if (!BLOCKS.has(word) || this.statementAhead() === undefined) return false;
    if (lookUp(HEAD_CLAUSES, clausesOf)?.includes(this.peek(1).payload) === true) return false;
    let open = 0;
    let hasBraces = false;
    for (let ahead = 1; !this.is(EOF, ahead); ahead += 1) {
      if (this.is(t.Open, ahead)) open += 1;
      if (this.is(t.Close, ahead)) open -= 1;
      hasBraces ||= this.is(t.Open, ahead) || this.is(t.Close, ahead);
    }
    return open < 0 || (!hasBraces && !this.isForFileAhead());
  }

  /** Statements whose opening brace was forgotten: reads them as if it were there. */
  private readBodyWithoutBrace(stepsFollow: boolean): tree.Body {
    const first = this.peek(1);
    const before = this.span(this.LA(0)).end;
    const statements: tree.Statement[] = [];
    const faults = this.faults.length;
    this.readStatements(statements);
    const last = this.span(this.LA(0)).end;
    const isClosed = this.is(t.Close);
    if (isClosed) this.take();
    const isOne = isClosed || stepsFollow;
    const edits = [
      { start: before, end: before, text: ' {' },
      ...(isOne ? [] : [{ start: last, end: last, text: '\n}' }]),
    ];
    const message = say.braceMissing(first.payload);
    const fix = { title: isOne ? told`Put the { in` : told`Put the braces in`, edits };
    this.faults.splice(faults, 0, { code: 'syntax/unexpected', ...this.span(first), message, fixes: [fix] });
    return { statements, ...this.sinceToken(first) };
  }

  private around(): Around {
    return {
      token: this.peek(1),
      at: (ahead) => this.peek(ahead + 1),
      isName: (ahead) => this.isNameAhead(ahead + 1),
      afterComment: this.afterComment(this.peek(1).startOffset),
    };
  }

  /** Says what is ahead, with the ways out. */
  private sayIs(found: LeftOver, span: tree.Span = found.span ?? this.span(this.peek(1))): void {
    this.fault('syntax/unexpected', span, found.message, found.fixes);
  }

  /** Runs a rule; on an error notes it and says false. */
  private attempt(read: () => void): boolean {
    const from = this.at;
    try {
      read();
      return true;
    } catch (error) {
      if (error instanceof Unreadable) return false;
      if (!isReadingError(error)) throw error;
      const found = this.peek(1);
      const wanted = error instanceof Error ? error.message : '';
      const lead = this.LA(0) as Token;
      this.fault(
        'syntax/unexpected',
        this.atEnd() ? this.span(lead) : this.span(found),
        wanted === 'a name' && t.KEYWORD_KINDS.has(lead.payload) && this.is(t.Open)
          ? say.headNameMissing(lead.payload, undefined)
          : say.expectedHere(say.shown(found), wanted, undefined),
      );
      if (this.at === from && !this.atEnd() && !this.is(t.Open) && !this.is(t.Close)) this.take();
      return false;
    }
  }

  /** What stands where a name must and begins with a figure, as `2bolt` does: it is taken, with all that touches it. */
  private takeNoName(): string | undefined {
    if (!this.is(t.NumberToken)) return undefined;
    let written = this.take().image;
    while (!this.atEnd() && this.peek(1).touches && !this.is(t.Open)) written += this.take().image;
    return written;
  }

  private readName(): tree.Name {
    const token = this.take();
    return { text: this.nameText(token), ...this.span(token) };
  }

  private readNames(): tree.Name[] {
    return this.rule(this.names);
  }

  /** One part of a head: title, count, or a clause that this declaration may have. False when it could not be read. */
  private readHeadPart(word: string, head: Head, clauses: LimitHead): boolean {
    const token = this.peek(1);
    if (this.is(t.TextToken)) {
      const text = this.rule<tree.Text>(this.text);
      if (word === 'use') head.path = text;
      else if (head.title === undefined) head.title = text;
      else return this.said(token, say.twice('the title'));
      return true;
    }
    if (this.is(t.CountToken) && word !== 'use') {
      if (head.count !== undefined) return this.said(token, say.twice('the count'));
      head.count = this.rule<tree.Whole>(this.count);
      return true;
    }
    const clause = this.is(t.Equals) ? '=' : token.payload;
    if (lookUp(HEAD_CLAUSES, word)?.includes(clause) === true) {
      const isInHead = (clause === 'each' || clause === 'of') && this.clauseStarts.length === 0;
      if (word === 'limit' && !isInHead) this.clauseStarts.push(token.startOffset);
      return this.readClause(clause, head, clauses);
    }
    if (word === 'use') return this.sayHowUseIsWritten(head);
    if (/^[x×]$/i.test(token.image)) {
      const span = this.span(this.take());
      this.sayIs(
        {
          message: say.countMissing(),
          fixes: [{ title: told`Take out the ${token.image}`, edits: [{ ...span, text: '' }] }],
        },
        span,
      );
      return false;
    }
    const several = this.nameOfSeveralWords(head, lookUp(HEAD_CLAUSES, word) ?? []);
    if (several !== undefined) return several;
    const near = nearest(token.payload ?? '', lookUp(HEAD_CLAUSES, word) ?? []);
    const isOfSpec = head.changed !== undefined && statementRow('spec', token.payload) !== undefined;
    const ofSpec = { message: say.beforeChanges(token.payload), fixes: [] };
    this.sayIs(isOfSpec ? ofSpec : leftOverInHead(this.around(), word, near));
    this.take();
    while (
      !this.atEnd() &&
      !this.is(t.Open) &&
      !this.is(t.Close) &&
      !this.is(t.TextToken) &&
      !this.is(t.CountToken) &&
      lookUp(HEAD_CLAUSES, word)?.includes(this.is(t.Equals) ? '=' : this.peek(1).payload) !== true
    )
      this.take();
    return false;
  }

  /** `use a.fettle` without quotes, `use "a.fettle", "b.fettle"`. */
  private sayHowUseIsWritten(head: Head): boolean {
    const first = this.peek(1);
    if (head.path !== undefined && this.is(t.Comma) && this.is(t.TextToken, 2)) {
      const span = this.span(first);
      this.sayIs({
        message: say.oneFileEach(),
        fixes: [{ title: told`Write use`, edits: [{ ...span, text: '\nuse' }] }],
      });
      while (!this.atEnd()) this.take();
      return false;
    }
    while (!this.atEnd() && !this.is(t.TextToken)) this.take();
    const span = this.span(first, this.LA(0));
    const path = this.input.filter((token) => token.startOffset >= span.start && token.startOffset < span.end);
    const isPath = head.path === undefined && path.every((token, i) => i === 0 || (token as Token).touches);
    const text = `"${path.map((token) => token.image).join('')}"`;
    const fixes = isPath ? [{ title: told`Put it in quotes`, edits: [{ ...span, text }] }] : [];
    this.sayIs({ message: say.pathMissing(), fixes }, span);
    return false;
  }

  /** `part cylinder head {`: the name is read as the one word that is meant, and that is said. */
  private nameOfSeveralWords(head: Head, clauses: readonly string[]): boolean | undefined {
    const before = this.span(this.LA(0));
    if (head.name === undefined || head.name.end !== before.end) return undefined;
    const several = nameOfWords(this.around(), -1, clauses);
    if (several === undefined) return undefined;
    const { start } = head.name;
    for (let i = 0; i < several.more; i += 1) this.take();
    const span = { start, end: this.span(this.LA(0)).end };
    this.sayIs(several, span);
    head.name = { ...span, text: several.name };
    return false;
  }

  private said(token: Token, message: Told): boolean {
    this.fault('syntax/unexpected', this.span(token), message);
    if (this.peek(1) === token) this.take();
    return true;
  }

  private readClause(clause: string, head: Head, clauses: LimitHead): boolean {
    return this.attempt(() => {
      const word = this.take();
      if (clause === 'of') head.of = this.rule<tree.Reference>(this.reference);
      else if (clause === 'each') head.each = this.rule<tree.Reference>(this.reference);
      else if (clause === 'by') head.by = this.rule<tree.Reference>(this.plainReference);
      else if (clause === 'extends') head.extends = this.rule<tree.Name>(this.name);
      else if (clause === 'after' || clause === 'before') {
        const step = this.rule<tree.Name>(this.name);
        head.beside = { word: clause, step, ...this.sinceToken(word) };
      } else if (clause === 'on') head.on = this.rule<tree.Name>(this.name);
      else if (clause === 'revision') head.revision = this.rule<tree.Whole>(this.whole);
      else if (clause === '=') clauses.expression = this.rule<tree.Expression>(this.expression);
      else if (clause === 'measured') {
        if (this.isBareWholeAhead() && this.isWord('readings', 2)) {
          clauses.readings = this.rule<tree.Whole>(this.whole);
          this.take();
        }
        clauses.measured = this.sinceToken(word);
      } else if (clause === 'kind') clauses.kind = this.rule<tree.Choice>(this.choice, 'kind', LIMIT_KINDS);
      else if (clause === 'within') this.readBounds(clauses);
      else if (clause === 'otherwise') {
        this.goTo(this.at - 1);
        clauses.otherwise = this.rule<tree.Text[]>(this.otherwise);
      } else if (clause === 'per') {
        this.goTo(this.at - 1);
        head.per = this.rule<tree.Per>(this.per);
      } else {
        this.goTo(this.at - 1);
        clauses.wearLimit = this.rule<tree.Value>(this.wearLimit);
      }
    });
  }

  /** The bounds of a limit, with the length or the size that they are for. */
  private readBounds(clauses: LimitHead): void {
    clauses.within = this.rule<tree.Value>(this.value, ['wear-limit', 'over', 'for-each', 'otherwise']);
    if (this.isWord('over')) {
      this.take();
      clauses.over = this.rule<tree.Value>(this.value, ['wear-limit', 'otherwise']);
    }
    if (this.isWord('at')) {
      this.take();
      clauses.at = this.rule<tree.Value>(this.value, ['wear-limit', 'otherwise']);
    }
    if (!this.isWord('for-each')) return;
    const word = this.take();
    const size = this.rule<tree.PlainValue>(this.plainValue, ['of']);
    if (!this.isWord('of')) {
      this.fault('syntax/unexpected', this.sinceToken(word), say.forEachOfWhat());
      throw new Unreadable();
    }
    this.take();
    const of = this.rule<tree.Reference>(this.plainReference);
    clauses.forEach = { size, of, ...this.sinceToken(word) };
  }

  /** `when` round declarations: they are sections of their own. */
  private readWhenBody(): tree.Body {
    const open = this.take();
    const statements: tree.Statement[] = [];
    while (!this.atEnd() && !this.is(t.Close)) {
      if (this.is(t.Hole)) statements.push(this.readHole());
      else if (this.isForFileAhead()) {
        this.statementStarts.push(this.peek(1).startOffset);
        this.attempt(() => {
          statements.push(this.subrule(203, this.statement as never) as unknown as tree.Statement);
        });
      } else {
        this.sayOutside();
        let depth = 0;
        while (!this.atEnd() && !this.is(t.Hole) && !(depth === 0 && (this.is(t.Close) || this.isForFileAhead()))) {
          if (this.is(t.Open)) depth += 1;
          if (this.is(t.Close)) depth -= 1;
          this.take();
        }
      }
    }
    if (this.is(t.Close)) this.take();
    return { statements, ...this.sinceToken(open) };
  }

  private readHole(): tree.StepHole {
    const token = this.take();
    this.statementStarts.push(token.startOffset);
    const hole = this.hole;
    this.hole += 1;
    return { kind: 'hole', word: 'hole', wordSpan: this.span(token), ...this.span(token), hole };
  }

  // --- statements and going on after an error ---

  private isBoundary(): boolean {
    return (
      this.atEnd() ||
      this.is(t.Close) ||
      this.is(t.Hole) ||
      this.statementAhead() !== undefined ||
      (this.block === 'grades' && this.isNameAhead())
    );
  }

  protected override tryStatement(): boolean {
    if (this.block === 'grades' && this.statementAhead() === undefined) return false;
    this.subrule(201, this.statement as never);
    return this.isBoundary();
  }

  protected override readStatements(into: tree.Statement[]): void {
    while (!this.atEnd() && !this.is(t.Close)) {
      if (this.is(t.Hole)) {
        into.push(this.readHole());
        continue;
      }
      const from = this.at;
      const token = this.peek(1);
      const row = this.statementAhead();
      if (row === undefined && !(this.block === 'grades' && this.isNameAhead())) {
        const word = this.sayLeftOver();
        if (word !== undefined) into.push({ kind: 'broken', word, wordSpan: this.span(token), ...this.span(token) });
        this.take();
        this.goOn(token.tokenType === t.Open ? 1 : 0);
        continue;
      }
      const starts = this.statementStarts.length;
      this.statementStarts.push(token.startOffset);
      try {
        into.push(this.subrule(200, this.statement as never) as unknown as tree.Statement);
        if (!this.isBoundary()) this.statementStarts.push(this.peek(1).startOffset);
      } catch (error) {
        this.statementStarts.length = starts + 1;
        if (!(error instanceof Unreadable)) {
          if (!isReadingError(error)) throw error;
          this.sayCannotRead(error as Error, row?.word ?? 'a row', token);
        }
        into.push({
          kind: 'broken',
          word: row?.word ?? 'grade',
          wordSpan: this.span(token),
          ...this.sinceToken(token),
        });
        if (this.at === from) this.take();
        this.goOn(0);
      }
    }
  }

  private sayCannotRead(error: Error, word: string, keyword: Token): void {
    const row = t.KEYWORD_KINDS.get(word) === undefined ? undefined : this.rowOf(keyword);
    const found = this.peek(1);
    const meant = row === undefined ? undefined : meantInStatement(this.around(), row);
    if (meant !== undefined) this.sayIs(meant);
    else if (this.isBoundary() && row !== undefined)
      this.fault('syntax/unexpected', this.sinceToken(keyword), say.valueMissing(row, error.message));
    else
      this.fault(
        'syntax/unexpected',
        this.atEnd() ? this.sinceToken(keyword) : this.span(found),
        say.expectedHere(say.shown(found), error.message, row),
      );
  }

  private rowOf(token: Token): ReturnType<typeof this.statementAhead> {
    const at = this.at;
    this.goTo(this.input.indexOf(token) - 1);
    const row = this.statementAhead();
    this.goTo(at);
    return row;
  }

  /** Says that what is next begins no statement. Gives the statement word that is meant, where one is near. */
  private sayLeftOver(): string | undefined {
    const found = leftOverInBraces(this.around(), this.block);
    this.sayIs(found);
    return found.near;
  }

  /** On to the next statement word of this block, over whole braces. */
  private goOn(openBraces: number): void {
    let depth = openBraces;
    while (!this.atEnd()) {
      if (depth === 0 && (this.is(t.Close) || this.is(t.Hole) || this.statementAhead() !== undefined)) return;
      if (depth === 0 && this.block === 'grades' && this.isNameAhead() && this.is(t.NumberToken, 2)) return;
      if (this.is(t.Open)) depth += 1;
      if (this.is(t.Close)) depth -= 1;
      this.take();
    }
  }

  /** `note` and `allow` may stand outside every declaration too. */
  private isForFileAhead(): boolean {
    return this.isWord('allow') || (this.isWord('note') && this.is(t.TextToken, 2));
  }

  private readOutside(): void {
    this.block = 'spec';
    while (!this.atEnd()) {
      this.statementStarts.push(this.peek(1).startOffset);
      if (
        this.isForFileAhead() &&
        this.attempt(() => {
          this.outside.push(this.subrule(202, this.statement as never) as unknown as tree.Statement);
        })
      )
        continue;
      if (this.atEnd()) return;
      if (this.is(t.Hole)) {
        this.fault('syntax/unexpected', this.span(this.take()), say.changeOutside());
        this.hole += 1;
        continue;
      }
      this.sayOutside();
      const braces = this.is(t.Close);
      this.take();
      if (!braces) while (!this.atEnd() && !this.is(t.Hole) && !this.isForFileAhead()) this.take();
    }
  }

  private sayOutside(): void {
    const token = this.peek(1);
    if (this.is(t.Close)) {
      this.fault('syntax/unexpected', this.span(token), say.strayBrace(), [
        { title: told`Take out the }`, edits: [{ text: '', ...this.span(token) }] },
      ]);
      return;
    }
    this.sayIs(leftOverOutside(this.around()));
  }
}
