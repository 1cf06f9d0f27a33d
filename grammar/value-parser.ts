// Reads names, references, values and expressions. Statements and declarations build on it (statement-parser.ts,
// declaration-parser.ts). Nothing is ever made up: what is not there stays undefined.

import { EmbeddedActionsParser, type IToken, type TokenType } from 'chevrotain';
import type { Fault, FaultCode, Fix } from './fault.ts';
import { unitsMeant } from './hints.ts';
import { OneTokenAhead } from './lookahead.ts';
import * as say from './syntax-messages.ts';
import type { Token } from './tokens.ts';
import * as t from './tokens.ts';
import { type Told, told } from './told.ts';
import type * as tree from './tree.ts';
import { readUnit } from './vocabulary/units.ts';
import { type Block, CLAUSES, type StatementRow, statementRow } from './vocabulary.ts';

const CLAUSE_WORDS: ReadonlySet<string> = new Set(CLAUSES.flatMap((row) => (row.yields === true ? [] : [row.word])));
const FUNCTIONS = new Set(['min', 'max', 'mean', 'spread']);

/** A shorter word is taken for a place: `left` is near `lift`. */
const SHORTEST_MISSPELT = 5;

/** How deep one name may be looked through for a statement that begins with it. */
const DEEPEST_LOOK = 3;

/** Raised where a statement can't go on and its fault is already noted. */
export class Unreadable extends Error {}

const wholeOf = (text: string | undefined): number | undefined =>
  text !== undefined && /^\d{1,9}$/.test(text) ? Number(text) : undefined;

/** A count or the number of a place, however long: that there are not so many is said by the checks. */
const countOf = (text: string | undefined): number | undefined =>
  text !== undefined && /^\d+$/.test(text) ? Math.min(Number(text), Number.MAX_SAFE_INTEGER) : undefined;

/** Several readings of one place, as the range from the least to the greatest. */
function ofReadings(readings: readonly tree.NumberText[]): tree.PlainValue {
  const sorted = [...readings].sort((a, b) => Number(a.text) - Number(b.text));
  const [low, high] = [sorted[0], sorted[sorted.length - 1]];
  const [first, last] = [readings[0], readings[readings.length - 1]];
  const none = { text: '', start: 0, end: 0 };
  return {
    kind: 'range',
    start: first?.start ?? 0,
    end: last?.end ?? 0,
    low: low ?? none,
    high: high ?? none,
    readings,
  };
}

/** While the rules are recorded, a rule gives no list. */
export function list<item>(items: readonly item[]): readonly item[] {
  return Array.isArray(items) ? items : [];
}

/** Chevrotain's own, which its types keep back. */
interface LexerState {
  exportLexerState(): number;
  importLexerState(at: number): void;
}

export class ValueParser extends EmbeddedActionsParser {
  protected faults: Fault[] = [];
  protected block: Block = 'spec';
  /** True in the braces of `change part piston { … }`. */
  protected inChange = false;
  /** Words that are no places here, though they might be elsewhere. */
  protected stops: readonly string[] = [];
  /** True in `places`. */
  protected inPlaces = false;
  /** True in the values of `measured`, where a place may have several readings. */
  protected inMeasured = false;
  private looks = 0;
  private readonly startsStatement = new Map<number, boolean>();

  constructor(skipValidations: boolean) {
    super(t.ALL_TOKENS, {
      maxLookahead: 1,
      lookaheadStrategy: new OneTokenAhead(),
      recoveryEnabled: false,
      skipValidations,
      errorMessageProvider: say.PROVIDER,
    });
  }

  // --- small helpers, no rules ---

  /** Where reading stands, as a number to go back to. */
  protected get at(): number {
    return (this as unknown as LexerState).exportLexerState();
  }

  protected goTo(at: number): void {
    (this as unknown as LexerState).importLexerState(at);
  }

  /** Takes the next token, whatever it is. */
  protected take(): Token {
    const token = this.peek(1);
    this.goTo(this.at + 1);
    return token;
  }

  protected begin(tokens: readonly Token[], block: Block): void {
    this.input = tokens as Token[];
    this.faults = [];
    this.block = block;
    this.inChange = false;
    this.stops = [];
    this.inPlaces = false;
    this.inMeasured = false;
    this.looks = 0;
    this.startsStatement.clear();
  }

  protected peek(ahead: number): Token {
    return this.LA(ahead) as Token;
  }

  protected is(type: TokenType, ahead = 1): boolean {
    return this.LA(ahead).tokenType === type;
  }

  protected isWord(word: string, ahead = 1): boolean {
    return this.LA(ahead).tokenType === t.KEYWORD_KINDS.get(word);
  }

  protected payload(token: IToken): string {
    return (token as Token).payload ?? '';
  }

  protected span(from: IToken | undefined, to: IToken | undefined = from): tree.Span {
    return { start: from?.startOffset ?? 0, end: (to?.endOffset ?? to?.startOffset ?? -1) + 1 };
  }

  /** From the start of a token to the end of the token read last. */
  protected sinceToken(from: IToken | undefined): tree.Span {
    return this.span(from, this.LA(0));
  }

  protected fault(code: FaultCode, span: tree.Span, message: Told, fixes: readonly Fix[] = []): void {
    if (this.looks === 0) this.faults.push({ code, start: span.start, end: span.end, message, fixes });
  }

  protected get looking(): boolean {
    return this.looks > 0;
  }

  /** A word that can be a name here: no reserved word. */
  protected isNameAhead(ahead = 1): boolean {
    return this.peek(ahead).tokenType === t.Word || (this.peek(ahead).tokenType.CATEGORIES ?? []).includes(t.Word);
  }

  /** Whether the word ahead would begin a statement of this block. */
  protected statementAhead(ahead = 1): StatementRow | undefined {
    const token = this.peek(ahead);
    if (t.KEYWORD_KINDS.get(token.payload) !== token.tokenType) return undefined;
    const row = statementRow(this.block, token.payload);
    return row?.inChange === true && !this.inChange ? undefined : row;
  }

  /** Whether a word that gives way to a name is followed by what its statement needs. */
  private isFollowed({ shape, choices }: StatementRow, ahead: number): boolean {
    const next = ahead + 1;
    switch (shape) {
      case 'flag':
        return !this.is(t.Comma, next) && !this.is(t.NumberToken, next);
      case 'choice':
        return Object.hasOwn(choices ?? {}, this.peek(next).payload ?? '');
      case 'text':
      case 'agreed':
        return this.is(t.TextToken, next);
      case 'timed':
        return this.isWord('at', next);
      case 'crank':
        return this.isWord('engine', next);
      case 'value':
      case 'number':
      case 'draw-up':
      case 'phaser':
        return this.is(t.NumberToken, next) || this.isWord('at-least', next) || this.isWord('at-most', next);
      case 'follow-on':
        return this.is(t.TextToken, next) || this.isPlainNameAhead(next);
      default:
        return this.isPlainNameAhead(next);
    }
  }

  /** A name that begins no statement here, and is no clause. */
  private isPlainNameAhead(ahead: number): boolean {
    return (
      this.isNameAhead(ahead) && this.statementAhead(ahead) === undefined && !CLAUSE_WORDS.has(this.peek(ahead).payload)
    );
  }

  /** A word that can only be a place: no clause word, and no statement of this block. */
  protected isPlaceWordAhead(ahead = 1): boolean {
    if (!this.isNameAhead(ahead) || CLAUSE_WORDS.has(this.peek(ahead).payload)) return false;
    if (this.stops.includes(this.peek(ahead).payload)) return false;
    if (this.peek(ahead).payload === 'otherwise' && this.is(t.TextToken, ahead + 1)) return false;
    const row = this.statementAhead(ahead);
    return row === undefined || (row.yields === true && !this.isFollowed(row, ahead));
  }

  protected isBareWholeAhead(ahead = 1): boolean {
    return (
      this.is(t.NumberToken, ahead) &&
      countOf(this.peek(ahead).payload) !== undefined &&
      (!this.is(t.UnitToken, ahead + 1) || this.isInOfPlaces(ahead + 1))
    );
  }

  /** `places upper 1..5 in block`, meant for into: behind a number the word looks like the unit. */
  protected isInOfPlaces(ahead = 1): boolean {
    return this.inPlaces && this.peek(ahead).image === 'in' && this.isNameAhead(ahead + 1);
  }

  /**
   * Tries to read a statement from the token at hand without leaving a trace.
   * True when one reads whole and ends where another may begin.
   */
  protected statementReadsFrom(read: () => boolean): boolean {
    const at = this.at;
    const known = this.startsStatement.get(at);
    if (known !== undefined) return known;
    if (this.looks >= DEEPEST_LOOK) return false;
    this.looks += 1;
    const errors = this.errors.length;
    let reads = false;
    try {
      reads = read();
    } catch (error) {
      if (!(error instanceof Unreadable) && !isReadingError(error)) throw error;
    } finally {
      this.looks -= 1;
      this.errors.length = errors;
      this.goTo(at);
    }
    this.startsStatement.set(at, reads);
    return reads;
  }

  /** Reads a statement on trial; given by the statement parser. */
  protected tryStatement(): boolean {
    return false;
  }

  /** Whether the name ahead begins no statement, or one whose word gives way to a name. */
  protected isNameRatherThanStatement(): boolean {
    const row = this.statementAhead();
    return row === undefined || row.yields === true;
  }

  // --- names and references ---

  protected readonly name = this.RULE('name', (): tree.Name => {
    if (
      !this.RECORDING_PHASE &&
      this.isNameAhead() &&
      !this.isNameRatherThanStatement() &&
      this.statementReadsFrom(() => this.tryStatement())
    ) {
      const before = this.payload(this.LA(0));
      const row = statementRow(this.block, before);
      this.fault(
        'syntax/unexpected',
        this.span(this.LA(0)),
        row?.unit === undefined ? say.nameMissing(before, this.payload(this.LA(1))) : say.valueMissing(row, 'a value'),
      );
      throw new Unreadable();
    }
    const token = this.CONSUME(t.Word);
    return { text: this.nameText(token), ...this.span(token) };
  });

  /** A keyword that is used as a name keeps the spelling it was written with. */
  protected nameText(token: IToken): string {
    return token.tokenType === t.Word ? this.payload(token) : (token.image ?? '').normalize('NFC');
  }

  protected readonly names = this.RULE('names', (): tree.Name[] => {
    const names: tree.Name[] = [];
    this.AT_LEAST_ONE_SEP({ SEP: t.Comma, DEF: () => names.push(this.SUBRULE(this.name)) });
    return names;
  });

  /** `crankshaft`, `crankshaft.main-journal`, `engine.squish`; no places. */
  protected readonly plainReference = this.RULE('plainReference', (): tree.Reference => {
    const owner = this.OR<tree.Name>([
      {
        GATE: () => this.isWord('engine'),
        ALT: () => {
          const token = this.CONSUME(t.keyword('engine'));
          return { text: 'engine', ...this.span(token) };
        },
      },
      { ALT: () => this.SUBRULE(this.name) },
    ]);
    let feature: tree.Name | undefined;
    this.OPTION(() => {
      this.CONSUME(t.Dot);
      const token = this.CONSUME(t.AnyWord);
      feature = { text: this.nameText(token), ...this.span(token) };
    });
    const end = feature?.end ?? owner.end;
    return { start: owner.start, end, owner, places: [], ...(feature === undefined ? {} : { feature }) };
  });

  /** Whether a value or a text is ahead that no place has behind it. */
  private isValueAhead(ahead: number): boolean {
    if (this.is(t.TextToken, ahead) || this.is(t.CountToken, ahead)) return true;
    return this.is(t.NumberToken, ahead) && !this.isBareWholeAhead(ahead);
  }

  /**
   * In a step, a word with a name or a text after it is a misspelt action rather than a place; in other braces, one that is near a
   * statement word, with a value after it or a name and a value. (In a record a value stands behind a place.)
   */
  private isUnknownStatementAhead(): boolean {
    if (this.block === 'step') return this.isPlaceWordAhead(2) || this.is(t.TextToken, 2);
    const { payload } = this.peek(1);
    if (this.block === 'record' || payload.length < SHORTEST_MISSPELT) return false;
    const isThread = /^M\d/i.test(this.peek(2).payload);
    const isFollowed = this.isValueAhead(2) || (this.isPlaceWordAhead(2) && (isThread || this.isValueAhead(3)));
    return isFollowed && say.nearStatement(this.block, payload) !== undefined;
  }

  /** A reference with the places that follow it; the words in `verdicts` are no places here. */
  protected readonly reference = this.RULE('reference', (verdicts: readonly string[] = []): tree.Reference => {
    const plain = this.SUBRULE(this.plainReference);
    const places: tree.Place[] = [];
    this.MANY({
      GATE: () =>
        this.isBareWholeAhead() ||
        (this.isPlaceWordAhead() &&
          !this.isUnknownStatementAhead() &&
          !verdicts.includes(this.peek(1).payload.toLowerCase())),
      DEF: () => places.push(...list(this.SUBRULE(this.placeGroup))),
    });
    return places.length === 0 ? plain : { ...plain, places, end: places[places.length - 1]?.end ?? plain.end };
  });

  /** `upper`, `upper 1..5`, `1, 2`, `1..4`. */
  protected readonly placeGroup = this.RULE('placeGroup', (): tree.Place[] => {
    const groups: tree.Place[] = [];
    let name: tree.Name | undefined;
    this.OPTION({
      GATE: () => this.isNameAhead(),
      DEF: () => {
        const token = this.CONSUME(t.Word);
        name = { text: this.nameText(token), ...this.span(token) };
      },
    });
    this.OPTION1({
      GATE: () => this.isBareWholeAhead(),
      DEF: () => {
        groups.push(this.SUBRULE(this.placeNumbers, { ARGS: [name] }));
        this.MANY({
          GATE: () => this.is(t.Comma) && this.isBareWholeAhead(2) && !this.is(t.Colon, 3),
          DEF: () => {
            this.CONSUME(t.Comma);
            groups.push(this.SUBRULE1(this.placeNumbers, { ARGS: [name, true] }));
          },
        });
      },
    });
    if (groups.length > 0) return groups;
    return name === undefined ? [] : [{ start: name.start, end: name.end, name }];
  });

  /** `upper 1..5`, and behind a comma `7` alone, which is an upper one as well. */
  protected readonly placeNumbers = this.RULE('placeNumbers', (name?: tree.Name, isNext = false): tree.Place => {
    const first = this.CONSUME(t.NumberToken);
    let to = countOf(this.payload(first));
    const from = to;
    this.OPTION(() => {
      this.CONSUME(t.Dots);
      const last = this.CONSUME1(t.NumberToken);
      to = countOf(this.payload(last));
      if (to === undefined && !this.RECORDING_PHASE)
        this.fault('syntax/unexpected', this.span(last), say.wholeNumberWanted(last.image));
    });
    if (!this.RECORDING_PHASE && this.is(t.Minus) && this.isBareWholeAhead(2)) {
      const dash = this.take();
      const second = this.take();
      to = countOf(second.payload);
      this.sayRangeMeant(this.span(dash), this.span(first, second), this.payload(first), second.payload);
    }
    const span = {
      start: isNext ? first.startOffset : (name?.start ?? first.startOffset),
      end: (this.LA(0).endOffset ?? 0) + 1,
    };
    return {
      ...span,
      ...(name === undefined ? {} : { name }),
      ...(from === undefined ? {} : { from }),
      ...(to === undefined ? {} : { to }),
    };
  });

  protected readonly references = this.RULE('references', (): tree.Reference[] => {
    const references: tree.Reference[] = [];
    this.AT_LEAST_ONE_SEP({ SEP: t.Comma, DEF: () => references.push(this.SUBRULE(this.reference)) });
    return references;
  });

  protected readonly text = this.RULE('text', (): tree.Text => {
    const token = this.CONSUME(t.TextToken);
    return { value: this.payload(token), ...this.span(token) };
  });

  protected readonly whole = this.RULE('whole', (): tree.Whole => {
    const token = this.CONSUME(t.NumberToken);
    const value = wholeOf(this.payload(token));
    if (value === undefined && !this.RECORDING_PHASE) {
      this.fault('syntax/unexpected', this.span(token), say.wholeNumberWanted(token.image));
      throw new Unreadable();
    }
    return { value: value ?? 0, ...this.span(token) };
  });

  /** Whole numbers with commas between; `1,4` glued is read as the list that it is. */
  protected readonly wholes = this.RULE('wholes', (): tree.Whole[] => {
    const wholes: tree.Whole[] = [];
    this.AT_LEAST_ONE_SEP({
      SEP: t.Comma,
      DEF: () => {
        if (!this.RECORDING_PHASE && this.is(t.NumberToken) && this.peek(1).glued !== undefined) {
          const token = this.CONSUME(t.NumberToken) as Token;
          for (const piece of token.glued ?? []) wholes.push({ value: wholeOf(piece) ?? 0, ...this.span(token) });
        } else wholes.push(this.SUBRULE(this.whole));
      },
    });
    return wholes;
  });

  protected readonly count = this.RULE('count', (): tree.Whole => {
    const token = this.CONSUME(t.CountToken);
    return { value: countOf(this.payload(token)) ?? 0, ...this.span(token) };
  });

  protected readonly date = this.RULE('date', (): tree.DateText => {
    if (!this.RECORDING_PHASE && this.is(t.OrderToken) && /^\d{4}-\d{1,2}-\d{1,2}$/.test(this.peek(1).payload))
      return this.shortDate();
    const token = this.CONSUME(t.DateToken);
    const text = this.payload(token);
    const [year = 0, month = 0, day = 0] = text.split('-').map(Number);
    const days =
      month === 2
        ? year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0)
          ? 29
          : 28
        : [4, 6, 9, 11].includes(month)
          ? 30
          : 31;
    return { text, valid: month >= 1 && month <= 12 && day >= 1 && day <= days, ...this.span(token) };
  });

  /** `2026-3-4`, which is meant for 2026-03-04. */
  private shortDate(): tree.DateText {
    const token = this.take();
    const text = token.payload.replace(/-(\d)(?!\d)/g, '-0$1');
    const fix = { title: told`Write ${text}`, edits: [{ text, ...this.span(token) }] };
    this.fault('syntax/unexpected', this.span(token), say.dateMeant(text), [fix]);
    return { text, valid: true, ...this.span(token) };
  }

  /** A number with its sign. */
  protected readonly signedNumber = this.RULE('signedNumber', (): tree.NumberText => {
    let sign: IToken | undefined;
    this.OPTION(() => {
      sign = this.OR([{ ALT: () => this.CONSUME(t.Minus) }, { ALT: () => this.CONSUME(t.Plus) }]);
    });
    const token = this.CONSUME(t.NumberToken);
    const text = this.payload(token);
    return { text: sign?.tokenType === t.Minus ? `-${text}` : text, ...this.span(sign ?? token, token) };
  });

  // --- values ---

  /** What the values of the statement that is read are counted in; empty where nothing is said of it. */
  protected wanted: readonly string[] = [];

  /** The unit after a number; a word that is no keyword here is an unknown unit. */
  protected unit(follow: readonly string[]): tree.UnitText | undefined {
    if (this.is(t.UnitToken)) {
      const token = this.take();
      const reading = readUnit(this.payload(token));
      return {
        text: this.payload(token),
        ...this.span(token),
        ...(reading === undefined ? {} : { parts: reading.parts }),
      };
    }
    if (!this.isUnknownUnitAhead(follow)) return undefined;
    const first = this.take();
    while (
      (this.is(t.Dot) || this.is(t.Slash)) &&
      this.peek(1).touches &&
      this.isNameAhead(2) &&
      this.peek(2).touches
    ) {
      this.take();
      this.take();
    }
    const last = this.LA(0);
    const text = first === last ? first.image : `${first.image}.${last.image}`;
    const meant = unitsMeant(text);
    const near = meant === undefined ? say.nearUnit(text, this.wanted) : undefined;
    const offered = meant?.units ?? (near === undefined ? [] : [near]);
    this.fault(
      'unit/unknown',
      this.span(first, last),
      meant === undefined ? say.unknownUnit(text, near) : say.unitMeant(text, meant.units, meant.why),
      offered.map((unit) => ({
        title: told`Change ${text} to ${unit}`,
        edits: [{ text: unit, ...this.span(first, last) }],
      })),
    );
    return { text, ...this.span(first, last) };
  }

  private isUnknownUnitAhead(follow: readonly string[]): boolean {
    if (!this.isNameAhead()) return false;
    const token = this.peek(1);
    if (CLAUSE_WORDS.has(token.payload) && token.tokenType !== t.Word) return false;
    if (follow.includes(token.payload) || this.statementAhead() !== undefined) return false;
    // The next row of a table of grades, and the next reading of a log.
    if (
      this.block === 'grades' &&
      (this.is(t.NumberToken, 2) || this.isWord('at-least', 2) || this.isWord('at-most', 2))
    )
      return false;
    return true;
  }

  protected readonly plainValue = this.RULE('plainValue', (follow: readonly string[] = []): tree.PlainValue => {
    const first = this.LA(1);
    const value = this.OR<tree.PlainValue>({
      IGNORE_AMBIGUITIES: true,
      DEF: [
        {
          GATE: () => this.isWord('at-least'),
          ALT: () => {
            this.CONSUME(t.keyword('at-least'));
            return this.SUBRULE(this.openLimit, { ARGS: ['at-least'] });
          },
        },
        {
          GATE: () => this.isWord('at-most'),
          ALT: () => {
            this.CONSUME(t.keyword('at-most'));
            return this.SUBRULE1(this.openLimit, { ARGS: ['at-most'] });
          },
        },
        {
          GATE: () => this.isNameAhead() || this.isWord('engine') || this.is(t.OpenBracket),
          ALT: () => {
            // What follows the value is no place of the last name in it: `block.turn btdc 1`.
            const outer = this.stops;
            this.stops = [...outer, ...follow];
            try {
              const expression = this.SUBRULE(this.expression);
              return { kind: 'expression', start: expression.start, end: expression.end, expression };
            } finally {
              this.stops = outer;
            }
          },
        },
        { ALT: () => this.SUBRULE(this.numberValue, { ARGS: [follow] }) },
      ],
    });
    let restated: tree.PlainValue | undefined;
    this.OPTION({
      GATE: () => value.kind !== 'clock' && value.kind !== 'ratio' && value.kind !== 'expression',
      DEF: () => {
        this.CONSUME(t.OpenBracket);
        restated = this.SUBRULE1(this.numberValue, { ARGS: [[]] });
        this.CONSUME(t.CloseBracket);
      },
    });
    if (this.RECORDING_PHASE) return value;
    const span = this.sinceToken(first);
    return restated === undefined ? { ...value, ...span } : ({ ...value, ...span, restated } as tree.PlainValue);
  });

  protected readonly openLimit = this.RULE('openLimit', (side: 'at-least' | 'at-most'): tree.OpenLimit => {
    const word = this.LA(0);
    const value = this.SUBRULE(this.expression);
    return { kind: 'open', side, value, start: word.startOffset ?? 0, end: value?.end ?? 0 };
  });

  /** Behind `+0.02`: `-0.01`, or `/-0.01`, or `/0`. */
  private isSecondToleranceAhead(): boolean {
    const at = this.is(t.Slash, 3) ? 4 : 3;
    if (this.is(t.Plus, at) || this.is(t.Minus, at)) return this.is(t.NumberToken, at + 1);
    return at === 4 && this.is(t.NumberToken, at);
  }

  /** Everything that begins with a number: quantity, range, tolerance, clock. */
  protected readonly numberValue = this.RULE('numberValue', (follow: readonly string[]): tree.PlainValue => {
    const number = this.SUBRULE(this.signedNumber);
    let value: tree.PlainValue = { kind: 'quantity', ...number, number };
    this.OR({
      IGNORE_AMBIGUITIES: true,
      DEF: [
        {
          GATE: () => this.is(t.Dots) || (this.is(t.UnitToken) && this.is(t.Dots, 2)),
          ALT: () => {
            this.OPTION({
              GATE: () => this.is(t.UnitToken),
              DEF: () => {
                const unit = this.CONSUME(t.UnitToken);
                this.ACTION(() =>
                  this.fault('syntax/unexpected', this.span(unit), say.oneUnitForRange(unit.image), [
                    { title: told`Take out the first ${unit.image}`, edits: [{ text: '', ...this.span(unit) }] },
                  ]),
                );
              },
            });
            this.CONSUME(t.Dots);
            const high = this.SUBRULE1(this.signedNumber);
            value = { kind: 'range', start: number.start, end: high?.end ?? 0, low: number, high };
          },
        },
        {
          GATE: () => this.is(t.PlusMinus),
          ALT: () => {
            this.CONSUME(t.PlusMinus);
            const plus = this.SUBRULE2(this.signedNumber);
            value = {
              kind: 'tolerance',
              start: number.start,
              end: plus?.end ?? 0,
              nominal: number,
              plus,
              minus: plus === undefined ? plus : { ...plus, text: `-${plus.text}` },
            };
          },
        },
        {
          GATE: () =>
            (this.is(t.Plus) || this.is(t.Minus)) && this.is(t.NumberToken, 2) && this.isSecondToleranceAhead(),
          ALT: () => {
            const one = this.SUBRULE3(this.signedNumber);
            let slash: IToken | undefined;
            this.OPTION2(() => {
              slash = this.CONSUME(t.Slash);
            });
            const two = this.SUBRULE4(this.signedNumber);
            this.ACTION(() => {
              const oneIsPlus = !one.text.startsWith('-');
              value = {
                kind: 'tolerance',
                start: number.start,
                end: two.end,
                nominal: number,
                plus: oneIsPlus ? one : two,
                minus: oneIsPlus ? two : one,
                ...(slash === undefined ? {} : { slash: this.span(slash) }),
              };
            });
          },
        },
        {
          GATE: () => this.is(t.Minus) && this.is(t.NumberToken, 2),
          ALT: () => {
            const dash = this.CONSUME(t.Minus);
            const second = this.CONSUME(t.NumberToken);
            this.ACTION(() => {
              value = this.hyphenated(number, dash, second);
            });
          },
        },
        {
          GATE: () => this.is(t.OClock) || this.is(t.Colon),
          ALT: () => {
            let minute = 0;
            this.OPTION1(() => {
              this.CONSUME(t.Colon);
              minute = Number(this.payload(this.CONSUME1(t.NumberToken)));
            });
            this.CONSUME(t.OClock);
            value = {
              kind: 'clock',
              start: number?.start ?? 0,
              end: (this.LA(0).endOffset ?? 0) + 1,
              hour: Number(number?.text),
              minute,
            };
            this.ACTION(() => {
              const { hour, start, end } = value as tree.Clock;
              if (!(Number.isInteger(hour) && hour >= 0 && hour <= 12 && minute >= 0 && minute < 60)) {
                this.fault('syntax/unexpected', { start, end }, say.noSuchHour());
                throw new Unreadable();
              }
            });
          },
        },
        { ALT: () => undefined },
      ],
    });
    if (this.RECORDING_PHASE || (value as tree.PlainValue).kind === 'clock') return value;
    if (value.kind === 'quantity' && this.isWord('to') && this.is(t.NumberToken, 2)) {
      const word = this.take();
      const high = this.SUBRULE5(this.signedNumber);
      const span = { start: number.start, end: high.end };
      this.sayRangeMeant(this.span(word), span, number.text, high.text);
      value = { kind: 'range', ...span, low: number, high };
    }
    const readings = value.kind === 'quantity' && this.inMeasured ? this.moreReadings() : [];
    if (readings.length > 0) value = ofReadings([number, ...readings]);
    const unit = this.unit(follow);
    if (unit !== undefined) value = { ...value, end: unit.end, unit } as tree.PlainValue;
    if (value.kind === 'quantity' && this.is(t.NumberToken) && this.is(t.Minutes, 2)) {
      const minutes = this.take();
      const mark = this.take();
      value = { ...value, end: mark.startOffset + 1, minutes: { text: this.payload(minutes), ...this.span(minutes) } };
      this.sayMinutes(number.text, this.payload(minutes), { start: number.start, end: mark.startOffset + 1 });
    }
    return value;
  });

  /** `32°75'` and `32.5°30'`, which are no angles. */
  private sayMinutes(degrees: string, minutes: string, span: tree.Span): void {
    const isWhole = /^-?\d+$/.test(degrees);
    if (isWhole && Number(minutes) < 60) return;
    const over = Number(minutes);
    const sign = degrees.startsWith('-') ? '-' : '';
    const meant = isWhole
      ? `${sign}${Math.abs(Number(degrees)) + Math.floor(over / 60)}°${over % 60 === 0 ? '' : `${over % 60}'`}`
      : undefined;
    const isShown = meant !== undefined && Number.isInteger(over);
    this.fault(
      'syntax/unexpected',
      span,
      isWhole ? say.minutesOfDegree(minutes, isShown ? meant : undefined) : say.minutesOrDecimals(degrees),
      isShown ? [{ title: told`Write ${meant}`, edits: [{ ...span, text: meant }] }] : [],
    );
    throw new Unreadable();
  }

  /** Readings behind the first of a place: `, 81.02, 81.01`; not the number of the next place. */
  private moreReadings(): readonly tree.NumberText[] {
    const more: tree.NumberText[] = [];
    while (this.is(t.Comma) && this.is(t.NumberToken, 2) && !this.placeColonAhead(2)) {
      this.take();
      more.push(this.SUBRULE2(this.signedNumber));
    }
    return more;
  }

  /** `53.970-53.990 mm` (is `..` meant?) and `1-1/2 in`. */
  private hyphenated(first: tree.NumberText, dash: IToken, second: IToken): tree.PlainValue {
    const text = this.payload(second);
    const span = { start: first.start, end: this.span(second).end };
    if (
      /^\d+$/.test(first.text) &&
      /^\d+\/\d+$/.test(text) &&
      Number(text.split('/')[0]) < Number(text.split('/')[1])
    ) {
      const mixed = `${first.text} ${text}`;
      this.fault('syntax/unexpected', span, say.mixedNumber(mixed), [
        { title: told`Write ${mixed}`, edits: [{ ...span, text: mixed }] },
      ]);
      return { kind: 'quantity', ...span, number: { ...span, text: mixed } };
    }
    this.sayRangeMeant(this.span(dash), span, first.text, text);
    return { kind: 'range', ...span, low: first, high: { text, ...this.span(second) } };
  }

  private sayRangeMeant(at: tree.Span, whole: tree.Span, low: string, high: string): void {
    const range = `${low}..${high}`;
    this.fault('syntax/unexpected', at, say.rangeMeant(range), [
      { title: told`Write ${range}`, edits: [{ ...whole, text: range }] },
    ]);
  }

  /** A value, or values that differ from place to place. */
  protected readonly value = this.RULE('value', (follow: readonly string[] = []): tree.Value => {
    const entries: tree.PlaceEntry[] = [];
    const first = this.LA(1);
    let single: tree.PlainValue | undefined;
    this.OR({
      IGNORE_AMBIGUITIES: true,
      DEF: [
        {
          GATE: () => this.placeColonAhead(1),
          ALT: () => {
            this.AT_LEAST_ONE({
              GATE: () => entries.length === 0 || this.placeColonAhead(2),
              DEF: () => {
                this.OPTION({
                  GATE: () => entries.length > 0,
                  DEF: () => {
                    this.CONSUME(t.Comma);
                  },
                });
                const from = this.LA(1);
                const places = this.SUBRULE(this.placeGroup);
                this.CONSUME(t.Colon);
                const value = this.SUBRULE(this.plainValue, { ARGS: [follow] });
                entries.push({ ...this.sinceToken(from), places, value });
              },
            });
          },
        },
        {
          ALT: () => {
            const from = this.LA(1);
            single = this.SUBRULE1(this.plainValue, { ARGS: [follow] });
            this.OPTION1({
              GATE: () => this.isWord('for') && (this.isNameAhead(2) || this.isBareWholeAhead(2)),
              DEF: () => {
                entries.push(this.SUBRULE(this.forPlaces, { ARGS: [single as tree.PlainValue, from] }));
                this.MANY({
                  GATE: () => this.is(t.Comma),
                  DEF: () => {
                    this.CONSUME1(t.Comma);
                    const next = this.LA(1);
                    const value = this.SUBRULE2(this.plainValue, { ARGS: [follow] });
                    entries.push(this.SUBRULE1(this.forPlaces, { ARGS: [value, next] }));
                  },
                });
              },
            });
          },
        },
      ],
    });
    if (entries.length > 0) return { kind: 'by-place', ...this.sinceToken(first), entries };
    return single ?? { kind: 'quantity', ...this.span(first), number: { text: '', ...this.span(first) } };
  });

  protected readonly forPlaces = this.RULE('forPlaces', (value: tree.PlainValue, from: IToken): tree.PlaceEntry => {
    this.CONSUME(t.keyword('for'));
    const places = [...list(this.SUBRULE(this.placeGroup))];
    this.MANY({
      GATE: () => this.is(t.Comma) && this.isPlaceWordAhead(2) && !this.is(t.Colon, 3),
      DEF: () => {
        this.CONSUME(t.Comma);
        places.push(...list(this.SUBRULE1(this.placeGroup)));
      },
    });
    return { ...this.sinceToken(from), places, value };
  });

  private placeColonAhead(ahead: number): boolean {
    const at = ahead === 2 && this.is(t.Comma) ? 2 : ahead === 2 ? 0 : 1;
    if (at === 0) return false;
    if (this.isNameAhead(at))
      return (
        this.is(t.Colon, at + 1) ||
        (this.isBareWholeAhead(at + 1) &&
          (this.is(t.Colon, at + 2) || (this.is(t.Dots, at + 2) && this.is(t.Colon, at + 4))))
      );
    if (!this.isBareWholeAhead(at)) return false;
    if (this.is(t.Colon, at + 1)) return !(this.is(t.NumberToken, at + 2) && this.is(t.OClock, at + 3));
    return this.is(t.Dots, at + 1) && this.isBareWholeAhead(at + 2) && this.is(t.Colon, at + 3);
  }

  // --- expressions ---

  protected readonly expression = this.RULE('expression', (): tree.Expression => {
    let left = this.SUBRULE(this.term);
    this.MANY(() => {
      const operator = this.OR([{ ALT: () => this.CONSUME(t.Plus) }, { ALT: () => this.CONSUME(t.Minus) }]);
      const right = this.SUBRULE1(this.term);
      left = this.binary(operator, left, right);
    });
    return left;
  });

  protected readonly term = this.RULE('term', (): tree.Expression => {
    let left = this.SUBRULE(this.factor);
    this.MANY(() => {
      const operator = this.OR([{ ALT: () => this.CONSUME(t.Times) }, { ALT: () => this.CONSUME(t.Slash) }]);
      const right = this.SUBRULE1(this.factor);
      left = this.binary(operator, left, right);
    });
    return left;
  });

  private binary(operator: IToken, left: tree.Expression, right: tree.Expression): tree.Expression {
    const sign =
      operator.tokenType === t.Plus
        ? '+'
        : operator.tokenType === t.Minus
          ? '-'
          : operator.tokenType === t.Times
            ? '*'
            : '/';
    return { kind: 'binary', operator: sign, left, right, start: left?.start ?? 0, end: right?.end ?? 0 };
  }

  protected readonly factor = this.RULE(
    'factor',
    (): tree.Expression =>
      this.OR<tree.Expression>({
        IGNORE_AMBIGUITIES: true,
        DEF: [
          {
            ALT: () => {
              const minus = this.CONSUME(t.Minus);
              const operand = this.SUBRULE(this.factor);
              return { kind: 'negated', operand, start: minus.startOffset, end: operand?.end ?? 0 };
            },
          },
          {
            ALT: () => {
              const open = this.CONSUME(t.OpenBracket);
              const inner = this.SUBRULE(this.expression);
              this.CONSUME(t.CloseBracket);
              return { ...inner, ...this.sinceToken(open) };
            },
          },
          {
            ALT: () => {
              const token = this.CONSUME(t.NumberToken);
              const number = { text: this.payload(token), ...this.span(token) };
              if (this.RECORDING_PHASE) return { kind: 'quantity', ...number, number };
              const unit = this.is(t.UnitToken) ? this.unit([]) : undefined;
              return {
                kind: 'quantity',
                ...number,
                end: unit?.end ?? number.end,
                number,
                ...(unit === undefined ? {} : { unit }),
              };
            },
          },
          {
            GATE: () => FUNCTIONS.has(this.peek(1).payload) && this.is(t.OpenBracket, 2),
            ALT: () => {
              const token = this.CONSUME(t.Word);
              const operands: tree.Expression[] = [];
              this.CONSUME1(t.OpenBracket);
              this.AT_LEAST_ONE_SEP({ SEP: t.Comma, DEF: () => operands.push(this.SUBRULE1(this.expression)) });
              this.CONSUME1(t.CloseBracket);
              return {
                kind: 'call',
                ...this.sinceToken(token),
                name: { text: this.payload(token), ...this.span(token) },
                operands,
              };
            },
          },
          {
            ALT: () => {
              const reference = this.SUBRULE(this.reference);
              return { kind: 'reference', start: reference?.start ?? 0, end: reference?.end ?? 0, reference };
            },
          },
        ],
      }),
  );
}

/** Whether an error is Chevrotain's own word for a text that does not fit. */
export function isReadingError(error: unknown): boolean {
  return error instanceof Error && /^(MismatchedToken|NoViableAlt|EarlyExit|NotAllInputParsed)/.test(error.name);
}
