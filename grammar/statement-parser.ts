// Reads the statements in the braces of a declaration: one rule for each shape of the vocabulary.

import type { IToken } from 'chevrotain';
import { nearest } from './nearest.ts';
import * as say from './syntax-messages.ts';
import * as t from './tokens.ts';
import { told } from './told.ts';
import type * as tree from './tree.ts';
import { list, Unreadable, ValueParser } from './value-parser.ts';
import {
  type ActionWord,
  isStageWord,
  RESERVED,
  type Shape,
  type StageWord,
  type StatementRow,
  type StatementWord,
  statementRow,
  statementsOf,
  usualForm,
} from './vocabulary.ts';

/** What every statement has: its keyword. */
interface Start {
  readonly row: StatementRow;
  readonly word: StatementWord | '';
  readonly wordSpan: tree.Span;
  readonly start: number;
  readonly end: number;
}

const K = t.keyword;
const EVENT_WORDS = ['btdc', 'atdc', 'bbdc', 'abdc', 'tdc', 'bdc'];
/** What of a limit stands before its braces. */
const LIMIT_CLAUSES = [
  ...['each', 'of', 'kind', 'measured', 'readings', 'within', 'over', 'for-each', 'wear-limit', 'otherwise', 'per'],
];
const TURNING = ['clockwise', 'anticlockwise'];

/** Clauses that only some actions have: elsewhere their words may be places. */
const CLAUSES_OF_ACTION: ReadonlyMap<string, readonly string[]> = new Map([
  ['fit', ['at', 'part-way']],
  ['tighten', ['again']],
]);
const NONE: readonly string[] = [];
const AGAIN: readonly string[] = ['again'];
/** What may follow a value in `run` and `crank`. */
const AFTER_RUN = ['at', 'for', 'under', 'until'];

type RunClauses = { -readonly [key in 'at' | 'for' | 'under' | 'until' | 'untilText']?: tree.Run[key] };
type Position = { -readonly [key in keyof tree.CrankPosition]?: tree.CrankPosition[key] };
type OrderHead = { -readonly [key in 'each' | 'stage' | 'over']?: tree.TighteningOrder[key] };
type Clauses = { -readonly [key in keyof tree.Action]?: tree.Action[key] };

export class StatementParser extends ValueParser {
  /** Positions where the canonical layout begins a new line for a clause. */
  protected clauseStarts: number[] = [];

  private placed(start: Start): Start {
    return { ...start, end: (this.LA(0).endOffset ?? 0) + 1 };
  }

  private base(start: Start): { word: StatementWord | ''; wordSpan: tree.Span; start: number; end: number } {
    const { word, wordSpan } = start;
    return { word, wordSpan, start: start.start, end: this.placed(start).end };
  }

  protected readonly per = this.RULE('per', (): tree.Per => {
    const word = this.CONSUME(K('per'));
    this.ACTION(() => this.clauseStarts.push(word.startOffset));
    const source = this.SUBRULE(this.name);
    let place: tree.Text | undefined;
    this.OPTION(() => {
      place = this.SUBRULE(this.text);
    });
    return { ...this.sinceToken(word), source, ...(place === undefined ? {} : { place }) };
  });

  /** One of a few fixed words. An unknown one is taken and said. */
  protected readonly choice = this.RULE('choice', (what: string, choices: readonly string[]): tree.Choice => {
    const token = this.CONSUME(t.AnyWord);
    const word = this.RECORDING_PHASE ? '' : usualForm(this.nameText(token));
    const known = choices?.includes(word) ?? false;
    if (!known && !this.RECORDING_PHASE) {
      const near = nearest(word, choices);
      this.fault(
        'syntax/unexpected',
        this.span(token),
        say.choiceUnknown(what, token.image, choices, near),
        near === undefined
          ? []
          : [{ title: told`Change ${token.image} to ${near}`, edits: [{ text: near, ...this.span(token) }] }],
      );
    }
    return { word, known, ...this.span(token) };
  });

  private choicesOf(start: Start): readonly string[] {
    return Object.keys(start?.row?.choices ?? {});
  }

  // --- one rule for each shape ---

  private readonly flag = this.RULE(
    'flag',
    (start: Start): tree.Statement => ({ kind: 'flag', ...this.base(start ?? blank) }),
  );

  private readonly choiceStatement = this.RULE('choiceStatement', (start: Start): tree.Statement => {
    const choice = this.SUBRULE(this.choice, { ARGS: [start?.word, this.choicesOf(start)] });
    return { kind: 'choice', ...this.base(start ?? blank), choice };
  });

  private readonly valueStatement = this.RULE('valueStatement', (start: Start): tree.Statement => {
    const value = this.SUBRULE(this.value, { ARGS: [[]] });
    return { kind: 'value', ...this.base(start ?? blank), value };
  });

  private readonly wall = this.RULE('wall', (start: Start): tree.Statement => {
    let wearLimit: tree.Value | undefined;
    const value = this.SUBRULE(this.value, { ARGS: [['wear-limit']] });
    this.OPTION(() => {
      wearLimit = this.SUBRULE(this.wearLimit);
    });
    return { kind: 'value', ...this.base(start ?? blank), value, ...(wearLimit === undefined ? {} : { wearLimit }) };
  });

  private readonly liftAt = this.RULE('liftAt', (start: Start): tree.Statement => {
    let at: tree.Choice | undefined;
    const value = this.SUBRULE(this.value, { ARGS: [['at']] });
    this.OPTION(() => {
      this.CONSUME(K('at'));
      at = this.SUBRULE(this.choice, { ARGS: ['where the lift is measured', this.choicesOf(start)] });
    });
    return { kind: 'value', ...this.base(start ?? blank), value, ...(at === undefined ? {} : { at }) };
  });

  private readonly rockerRatio = this.RULE('rockerRatio', (start: Start): tree.Statement => {
    let to: tree.NumberText | undefined;
    const number = this.SUBRULE(this.signedNumber);
    this.OPTION(() => {
      this.CONSUME(t.Colon);
      to = this.SUBRULE1(this.signedNumber);
    });
    return { kind: 'number', ...this.base(start ?? blank), number, ...(to === undefined ? {} : { to }) };
  });

  private readonly phaser = this.RULE('phaser', (start: Start): tree.Statement => {
    let parked: tree.Choice | undefined;
    const range = this.SUBRULE(this.value, { ARGS: [['parked']] });
    this.OPTION(() => {
      this.CONSUME(K('parked'));
      parked = this.SUBRULE(this.choice, { ARGS: ['where it is parked', this.choicesOf(start)] });
    });
    return { kind: 'phaser', ...this.base(start ?? blank), range, ...(parked === undefined ? {} : { parked }) };
  });

  private readonly see = this.RULE('see', (start: Start): tree.Statement => {
    let place: tree.Text | undefined;
    const source = this.SUBRULE(this.name);
    this.OPTION(() => {
      place = this.SUBRULE(this.text);
    });
    return { kind: 'see', ...this.base(start ?? blank), source, ...(place === undefined ? {} : { place }) };
  });

  /** `otherwise "fit the next shim", "send it out"`. */
  protected readonly otherwise = this.RULE('otherwise', (): tree.Text[] => {
    const texts: tree.Text[] = [];
    this.CONSUME(K('otherwise'));
    this.AT_LEAST_ONE_SEP({ SEP: t.Comma, DEF: () => texts.push(this.SUBRULE(this.text)) });
    return texts;
  });

  private readonly numberStatement = this.RULE('numberStatement', (start: Start): tree.Statement => {
    const number = this.SUBRULE(this.signedNumber);
    if (!this.RECORDING_PHASE && this.is(t.UnitToken)) {
      const unit = this.LA(1);
      this.fault('syntax/unexpected', this.span(unit), told`${start.word} is a bare number and has no unit.`, [
        { title: told`Take out ${unit.image}`, edits: [{ text: '', ...this.span(unit) }] },
      ]);
      this.take();
    }
    return { kind: 'number', ...this.base(start ?? blank), number };
  });

  private readonly textStatement = this.RULE('textStatement', (start: Start): tree.Statement => {
    const text = this.SUBRULE(this.text);
    return { kind: 'text', ...this.base(start ?? blank), text };
  });

  private readonly namesStatement = this.RULE('namesStatement', (start: Start): tree.Statement => {
    const names = this.SUBRULE(this.names);
    return { kind: 'names', ...this.base(start ?? blank), names };
  });

  private readonly perStatement = this.RULE('perStatement', (start: Start): tree.Statement => {
    const source = this.SUBRULE(this.name);
    let place: tree.Text | undefined;
    this.OPTION(() => {
      place = this.SUBRULE(this.text);
    });
    const base = this.base(start ?? blank);
    return {
      kind: 'per',
      ...base,
      per: { start: base.start, end: base.end, source, ...(place === undefined ? {} : { place }) },
    };
  });

  private readonly allow = this.RULE('allow', (start: Start): tree.Statement => {
    const code = this.CONSUME(t.CodeToken);
    let because: tree.Text | undefined;
    this.OPTION(() => {
      this.CONSUME(K('because'));
      because = this.SUBRULE(this.text);
    });
    if (!this.RECORDING_PHASE && because === undefined)
      this.fault('syntax/unexpected', this.span(code), say.becauseMissing());
    return {
      kind: 'allow',
      ...this.base(start ?? blank),
      code: { text: this.payload(code), ...this.span(code) },
      ...(because === undefined ? {} : { because }),
    };
  });

  private readonly when = this.RULE('when', (start: Start): tree.Statement => {
    const variants = this.SUBRULE(this.names);
    const body = this.SUBRULE(this.body);
    return { kind: 'when', ...this.base(start ?? blank), variants, body };
  });

  private readonly source = this.RULE('source', (start: Start): tree.Statement => {
    const name = this.SUBRULE(this.name);
    let title: tree.Text | undefined;
    this.OPTION(() => {
      title = this.SUBRULE(this.text);
    });
    return { kind: 'source', ...this.base(start ?? blank), name, ...(title === undefined ? {} : { title }) };
  });

  private readonly cylinders = this.RULE('cylinders', (start: Start): tree.Statement => {
    const count = this.SUBRULE(this.whole);
    let layout: tree.Choice | undefined;
    let angle: tree.PlainValue | undefined;
    this.OPTION({
      GATE: () => this.isNameAhead() && this.statementAhead() === undefined,
      DEF: () => {
        layout = this.SUBRULE(this.choice, { ARGS: [start?.word, this.choicesOf(start)] });
      },
    });
    this.OPTION1({
      GATE: () => this.is(t.NumberToken),
      DEF: () => {
        angle = this.SUBRULE(this.plainValue, { ARGS: [[]] });
      },
    });
    return {
      kind: 'cylinders',
      ...this.base(start ?? blank),
      count,
      ...(layout === undefined ? {} : { layout }),
      ...(angle === undefined ? {} : { angle }),
    };
  });

  private readonly bank = this.RULE('bank', (start: Start): tree.Statement => {
    const side = this.SUBRULE(this.choice, { ARGS: [start?.word, this.choicesOf(start)] });
    const cylinders = this.SUBRULE(this.wholes);
    return { kind: 'bank', ...this.base(start ?? blank), side, cylinders };
  });

  private readonly crankpin = this.RULE('crankpin', (start: Start): tree.Statement => {
    const cylinders = this.SUBRULE(this.wholes);
    this.CONSUME(K('at'));
    const angle = this.SUBRULE(this.plainValue, { ARGS: [[]] });
    return { kind: 'crankpin', ...this.base(start ?? blank), cylinders, angle };
  });

  private readonly firingOrder = this.RULE('firingOrder', (start: Start): tree.Statement => {
    const order: tree.Whole[] = [];
    this.OR([
      {
        ALT: () => {
          const token = this.CONSUME(t.OrderToken);
          this.ACTION(() => {
            for (const piece of this.payload(token).split('-'))
              order.push({ value: Number(piece), ...this.span(token) });
          });
        },
      },
      { ALT: () => this.AT_LEAST_ONE_SEP({ SEP: t.Minus, DEF: () => order.push(this.SUBRULE(this.whole)) }) },
    ]);
    if (!this.RECORDING_PHASE && order.length === 1) order.push(...this.restOfOrder(order[0]));
    return { kind: 'firing-order', ...this.base(start ?? blank), order };
  });

  /** `firing-order 1 3 4 2` and `1, 3, 4, 2`, which are meant for 1-3-4-2. */
  private restOfOrder(first: tree.Whole | undefined): readonly tree.Whole[] {
    const rest: tree.Whole[] = [];
    for (;;) {
      const comma = this.is(t.Comma) ? 1 : 0;
      if (first === undefined || !this.isBareWholeAhead(comma + 1)) break;
      if (comma === 1) this.take();
      const token = this.take();
      rest.push({ value: Number(token.payload), ...this.span(token) });
    }
    const last = rest[rest.length - 1];
    if (first === undefined || last === undefined) return rest;
    const text = [first, ...rest].map((each) => each.value).join('-');
    const span = { start: first.start, end: last.end };
    this.fault('syntax/unexpected', span, say.orderWritten(text), [
      { title: told`Write ${text}`, edits: [{ ...span, text }] },
    ]);
    return rest;
  }

  /** A place that is no statement of this block: where one could be read, the place before it is missing. */
  private isPlaceAhead(): boolean {
    if (!this.isNameAhead()) return this.isBareWholeAhead();
    return this.isNameRatherThanStatement() || !this.statementReadsFrom(() => this.tryStatement());
  }

  /** `into block`, behind the places that go into it; `in block` is meant for it. */
  private partOfPlaces(): tree.Name | undefined {
    if (this.RECORDING_PHASE) return undefined;
    const isInto = this.isWord('into');
    if (!isInto && !(this.peek(1).image === 'in' && this.isNameAhead(2))) return undefined;
    const word = this.span(this.take());
    if (!isInto)
      this.fault('syntax/unexpected', word, say.intoMeant(), [
        { title: told`Write into`, edits: [{ ...word, text: 'into' }] },
      ]);
    return this.SUBRULE1(this.name);
  }

  private readonly places = this.RULE('places', (start: Start): tree.Statement => {
    const places: tree.PlacesOf[] = [];
    this.inPlaces = true;
    try {
      this.AT_LEAST_ONE_SEP({
        SEP: t.Comma,
        DEF: () => {
          if (!this.RECORDING_PHASE && !this.isPlaceAhead()) {
            const next = usualForm(this.LA(1).image ?? '');
            const what = RESERVED.has(next) ? say.placeReserved(next) : say.placeMissing(this.payload(this.LA(0)));
            this.fault('syntax/unexpected', this.span(RESERVED.has(next) ? this.LA(1) : this.LA(0)), what);
            throw new Unreadable();
          }
          const group = list(this.SUBRULE(this.placeGroup));
          const part = this.partOfPlaces();
          places.push(...group.map((place) => (part === undefined ? place : { ...place, into: part })));
        },
      });
    } finally {
      this.inPlaces = false;
    }
    return { kind: 'places', ...this.base(start ?? blank), places };
  });

  private readonly dimension = this.RULE('dimension', (start: Start): tree.Statement => {
    let count: tree.Whole | undefined;
    let value: tree.Value | undefined;
    let wearLimit: tree.Value | undefined;
    this.OPTION(() => {
      count = this.SUBRULE(this.count);
    });
    const name = this.SUBRULE(this.name);
    this.OPTION1(() => {
      count = this.SUBRULE1(this.count);
    });
    this.OPTION2({
      GATE: () => this.valueAhead(),
      DEF: () => {
        value = this.SUBRULE(this.value, { ARGS: [['wear-limit']] });
      },
    });
    this.OPTION3(() => {
      count = this.SUBRULE2(this.count);
    });
    this.OPTION4(() => {
      wearLimit = this.SUBRULE(this.wearLimit);
    });
    return {
      kind: 'dimension',
      ...this.base(start ?? blank),
      name,
      ...(count === undefined ? {} : { count }),
      ...(value === undefined ? {} : { value }),
      ...(wearLimit === undefined ? {} : { wearLimit }),
    };
  });

  protected readonly wearLimit = this.RULE('wearLimit', (): tree.Value => {
    const word = this.CONSUME(K('wear-limit'));
    this.ACTION(() => this.clauseStarts.push(word.startOffset));
    return this.SUBRULE(this.value, { ARGS: [[]] });
  });

  /** Whether a value may begin here: a number, a sign, an open limit, a reference that is no statement. */
  protected valueAhead(): boolean {
    if (this.is(t.NumberToken) || this.is(t.Minus) || this.is(t.Plus) || this.is(t.OpenBracket)) return true;
    if (this.isWord('at-least') || this.isWord('at-most') || this.isWord('engine')) return true;
    return this.isPlaceWordAhead();
  }

  private readonly figure = this.RULE('figure', (start: Start): tree.Statement => {
    let wearLimit: tree.Value | undefined;
    const name = this.SUBRULE(this.name);
    const value = this.SUBRULE(this.value, { ARGS: [['wear-limit']] });
    this.OPTION(() => {
      wearLimit = this.SUBRULE(this.wearLimit);
    });
    return {
      kind: 'figure',
      ...this.base(start ?? blank),
      name,
      value,
      ...(wearLimit === undefined ? {} : { wearLimit }),
    };
  });

  private readonly size = this.RULE('size', (start: Start): tree.Statement => {
    let direction: 'undersize' | 'oversize' | undefined;
    let step: tree.Value | undefined;
    let body: tree.Body | undefined;
    const name = this.SUBRULE(this.name);
    this.OPTION(() => {
      this.OR([
        {
          ALT: () => {
            this.CONSUME(K('undersize'));
            direction = 'undersize';
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('oversize'));
            direction = 'oversize';
          },
        },
      ]);
      step = this.SUBRULE(this.value, { ARGS: [[]] });
    });
    this.OPTION1(() => {
      const outer = this.block;
      this.block = 'size';
      try {
        body = this.SUBRULE(this.body);
      } finally {
        this.block = outer;
      }
    });
    return {
      kind: 'size',
      ...this.base(start ?? blank),
      name,
      ...(direction === undefined ? {} : { direction }),
      ...(step === undefined ? {} : { step }),
      ...(body === undefined ? {} : { body }),
    };
  });

  private readonly mark = this.RULE('mark', (start: Start): tree.Statement => {
    let at: tree.PlainValue | undefined;
    let against: tree.Reference | undefined;
    const name = this.SUBRULE(this.name);
    this.MANY(() =>
      this.OR([
        {
          ALT: () => {
            this.CONSUME(K('at'));
            at = this.SUBRULE(this.plainValue, { ARGS: [['against']] });
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('against'));
            against = this.SUBRULE(this.plainReference);
          },
        },
      ]),
    );
    return {
      kind: 'mark',
      ...this.base(start ?? blank),
      name,
      ...(at === undefined ? {} : { at }),
      ...(against === undefined ? {} : { against }),
    };
  });

  private readonly orient = this.RULE('orient', (start: Start): tree.Statement => {
    const rules: tree.OrientRule[] = [];
    this.AT_LEAST_ONE_SEP({
      SEP: t.Comma,
      DEF: () => rules.push(this.SUBRULE(this.orientRule, { ARGS: [this.choicesOf(start)] })),
    });
    return { kind: 'orient', ...this.base(start ?? blank), rules };
  });

  private readonly orientRule = this.RULE('orientRule', (directions: readonly string[]): tree.OrientRule => {
    const feature = this.SUBRULE(this.name);
    let direction: tree.Choice | undefined;
    let target: tree.Reference | undefined;
    let at: tree.PlainValue | undefined;
    let from: tree.Reference | undefined;
    const places: tree.Place[] = [];
    this.OR([
      {
        ALT: () => {
          this.CONSUME(K('toward'));
          target = this.SUBRULE(this.plainReference);
          this.ACTION(() => {
            const word = usualForm(target?.owner.text ?? '');
            if (target?.feature === undefined && directions.includes(word)) {
              direction = { start: target?.start ?? 0, end: target?.end ?? 0, word, known: true };
              target = undefined;
            }
          });
        },
      },
      {
        ALT: () => {
          this.CONSUME(K('at'));
          at = this.SUBRULE(this.plainValue, { ARGS: [['for', 'from']] });
          this.OPTION1(() => {
            this.CONSUME(K('from'));
            from = this.SUBRULE1(this.plainReference);
          });
        },
      },
    ]);
    this.OPTION(() => {
      this.CONSUME(K('for'));
      places.push(...list(this.SUBRULE(this.placeGroup)));
      this.MANY({
        GATE: () =>
          this.is(t.Comma) &&
          (this.isBareWholeAhead(2) ||
            (this.isPlaceWordAhead(2) && !this.isWord('toward', 3) && !this.isWord('at', 3))),
        DEF: () => {
          this.CONSUME(t.Comma);
          places.push(...list(this.SUBRULE1(this.placeGroup)));
        },
      });
    });
    return {
      start: feature?.start ?? 0,
      end: (this.LA(0).endOffset ?? 0) + 1,
      feature,
      places,
      ...(direction === undefined ? {} : { direction }),
      ...(target === undefined ? {} : { target }),
      ...(at === undefined ? {} : { at }),
      ...(from === undefined ? {} : { from }),
    };
  });

  private readonly covers = this.RULE('covers', (start: Start): tree.Statement => {
    const covered = this.SUBRULE(this.references);
    return { kind: 'covers', ...this.base(start ?? blank), covered };
  });

  private readonly referenceStatement = this.RULE('referenceStatement', (start: Start): tree.Statement => {
    const reference = this.SUBRULE(this.reference);
    return { kind: 'reference', ...this.base(start ?? blank), reference };
  });

  /** Whether one of the choices is ahead, or what may be meant for one. */
  private isChoiceAhead(start: Start): boolean {
    if (!this.isNameAhead()) return false;
    const word = usualForm(this.nameText(this.LA(1)));
    const choices = this.choicesOf(start);
    return choices.includes(word) || nearest(word, choices) !== undefined;
  }

  private readonly into = this.RULE('into', (start: Start): tree.Statement => {
    let part: tree.Reference | undefined;
    let material: tree.Choice | undefined;
    this.OPTION({
      GATE: () => !this.isChoiceAhead(start) || this.isPlaceWordAhead(2),
      DEF: () => {
        part = this.SUBRULE(this.plainReference);
      },
    });
    this.OPTION1({
      GATE: () => part === undefined || (this.isPlaceWordAhead() && this.isChoiceAhead(start)),
      DEF: () => {
        material = this.SUBRULE(this.choice, { ARGS: [start?.word, this.choicesOf(start)] });
      },
    });
    return {
      kind: 'into',
      ...this.base(start ?? blank),
      ...(part === undefined ? {} : { part }),
      ...(material === undefined ? {} : { material }),
    };
  });

  private readonly thread = this.RULE('thread', (start: Start): tree.Statement => {
    const token = this.CONSUME(t.ThreadToken);
    return {
      kind: 'thread',
      ...this.base(start ?? blank),
      designation: this.payload(token),
      designationSpan: this.span(token),
    };
  });

  private readonly strengthClass = this.RULE('strengthClass', (start: Start): tree.Statement => {
    const token = this.OR([{ ALT: () => this.CONSUME(t.NumberToken) }, { ALT: () => this.CONSUME(t.Word) }]);
    return {
      kind: 'class',
      ...this.base(start ?? blank),
      class: {
        ...this.span(token),
        text: token.tokenType === t.NumberToken ? this.payload(token) : this.nameText(token),
      },
    };
  });

  private readonly clamps = this.RULE('clamps', (start: Start): tree.Statement => {
    let to: tree.Reference | undefined;
    const clamped = this.SUBRULE(this.references);
    this.OPTION(() => {
      this.CONSUME(K('to'));
      to = this.SUBRULE(this.reference);
    });
    return { kind: 'clamps', ...this.base(start ?? blank), clamped, ...(to === undefined ? {} : { to }) };
  });

  private readonly eachStatement = this.RULE('eachStatement', (start: Start): tree.Statement => {
    const others: tree.Reference[] = [];
    const of = this.SUBRULE(this.reference);
    this.MANY(() => {
      this.CONSUME(t.Comma);
      others.push(this.SUBRULE1(this.reference));
    });
    return { kind: 'each', ...this.base(start ?? blank), of, ...(others.length === 0 ? {} : { others }) };
  });

  private readonly reuse = this.RULE('reuse', (start: Start): tree.Statement => {
    this.CONSUME(K('to'));
    const length = this.SUBRULE(this.value, { ARGS: [[]] });
    return { kind: 'reuse', ...this.base(start ?? blank), length };
  });

  private readonly torque = this.RULE('torque', (start: Start): tree.Statement => {
    const stages: tree.Stage[] = [];
    this.AT_LEAST_ONE_SEP({ SEP: t.Comma, DEF: () => stages.push(this.SUBRULE(this.stage)) });
    return { kind: 'torque', ...this.base(start ?? blank), stages };
  });

  private readonly stage = this.RULE(
    'stage',
    (): tree.Stage =>
      this.OR<tree.Stage>({
        IGNORE_AMBIGUITIES: true,
        DEF: [
          {
            GATE: () => this.stageWord() !== undefined,
            ALT: () => {
              const token = this.CONSUME(t.Word);
              return { kind: usualForm(this.payload(token)) as StageWord, ...this.span(token) };
            },
          },
          {
            ALT: () => {
              const first = this.LA(1);
              const value = this.SUBRULE(this.plainValue, { ARGS: [['after']] });
              return { kind: 'value', ...this.sinceToken(first), value };
            },
          },
        ],
      }),
  );

  private stageWord(): StageWord | undefined {
    const word = usualForm(this.peek(1).payload ?? '');
    return isStageWord(word) && !this.is(t.Dot, 2) ? word : undefined;
  }

  private readonly drawUp = this.RULE('drawUp', (start: Start): tree.Statement => {
    let bolt: tree.Text | undefined;
    const value = this.SUBRULE(this.value, { ARGS: [['with']] });
    this.OPTION(() => {
      this.CONSUME(K('with'));
      bolt = this.SUBRULE(this.text);
    });
    return { kind: 'draw-up', ...this.base(start ?? blank), value, ...(bolt === undefined ? {} : { with: bolt }) };
  });

  private readonly retorque = this.RULE('retorque', (start: Start): tree.Statement => {
    let after: tree.Text | undefined;
    const stage = this.SUBRULE(this.stage);
    this.OPTION(() => {
      this.CONSUME(K('after'));
      after = this.SUBRULE(this.text);
    });
    return { kind: 'retorque', ...this.base(start ?? blank), stage, ...(after === undefined ? {} : { after }) };
  });

  private readonly tighteningOrder = this.RULE('tighteningOrder', (start: Start): tree.Statement => {
    const head: OrderHead = {};
    let circle = false;
    const shared: tree.SharedOrder[] = [];
    const rows: tree.Whole[][] = [[]];
    const commas: tree.Span[] = [];
    const add = (token: IToken): void => {
      const pieces = this.payload(token)
        .split('/')
        .map((piece) => piece.trim().split(/[\s.]+/));
      // Several may be read as one number (`4/5`, `4 5`): each stands at its own digits.
      const written = [...token.image.matchAll(/\d+/g)];
      const whole = this.span(token);
      const isEachWritten = written.map(([digits]) => digits).join(' ') === pieces.flat().join(' ');
      let at = 0;
      pieces.forEach((piece, i) => {
        if (i > 0) rows.push([]);
        for (const digits of piece) {
          const start = whole.start + (written[at]?.index ?? 0);
          at += 1;
          const span = isEachWritten ? { start, end: start + digits.length } : whole;
          rows[rows.length - 1]?.push({ value: Number(digits), ...span });
        }
      });
    };
    this.MANY(() =>
      this.OR1([
        {
          ALT: () => {
            this.CONSUME(K('each'));
            head.each = this.SUBRULE(this.plainReference);
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('stage'));
            head.stage = this.SUBRULE(this.whole);
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('over'));
            head.over = this.SUBRULE1(this.plainReference);
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('circle'));
            circle = true;
          },
        },
        { ALT: () => shared.push(this.SUBRULE(this.sharedOrder)) },
      ]),
    );
    this.AT_LEAST_ONE(() =>
      this.OR([
        {
          ALT: () => {
            const token = this.CONSUME(t.NumberToken);
            this.ACTION(() => add(token));
          },
        },
        {
          ALT: () => {
            this.CONSUME(t.Slash);
            this.ACTION(() => {
              rows.push([]);
            });
          },
        },
        {
          ALT: () => {
            const comma = this.CONSUME(t.Comma);
            this.ACTION(() => commas.push(this.span(comma)));
          },
        },
      ]),
    );
    const [comma] = commas;
    if (comma !== undefined) {
      const edits = commas.map((each) => ({ ...each, text: '' }));
      this.fault('syntax/unexpected', comma, say.rowsWithBlanks(), [{ title: told`Take out the commas`, edits }]);
    }
    return {
      kind: 'tightening-order',
      ...this.base(start ?? blank),
      ...head,
      ...(shared.length === 0 ? {} : { with: shared }),
      circle,
      rows: rows.filter((row) => row.length > 0),
    };
  });

  /** `with head-bolt-short at 7, 8`. */
  private readonly sharedOrder = this.RULE('sharedOrder', (): tree.SharedOrder => {
    let turns: readonly tree.Whole[] = [];
    const word = this.CONSUME(K('with'));
    const fastener = this.SUBRULE(this.name);
    this.OPTION(() => {
      this.CONSUME(K('at'));
      turns = list(this.SUBRULE(this.wholes));
    });
    return { ...this.sinceToken(word), fastener, turns };
  });

  private readonly wrap = this.RULE('wrap', (start: Start): tree.Statement => {
    const wheels: tree.Wheel[] = [];
    const part = this.SUBRULE(this.name);
    this.CONSUME(K('over'));
    this.AT_LEAST_ONE_SEP({
      SEP: t.Comma,
      DEF: () => {
        const name = this.SUBRULE1(this.name);
        let onBack = false;
        this.OPTION(() => {
          this.CONSUME(K('on-back'));
          onBack = true;
        });
        wheels.push({ start: name?.start ?? 0, end: (this.LA(0).endOffset ?? 0) + 1, name, onBack });
      },
    });
    return { kind: 'wrap', ...this.base(start ?? blank), part, wheels };
  });

  private readonly mesh = this.RULE('mesh', (start: Start): tree.Statement => {
    const first = this.SUBRULE(this.name);
    this.CONSUME(K('with'));
    const second = this.SUBRULE1(this.name);
    return { kind: 'mesh', ...this.base(start ?? blank), first, second };
  });

  private readonly ratioOf = this.RULE('ratioOf', (start: Start): tree.Statement => {
    const first = this.SUBRULE(this.name);
    this.CONSUME(K('to'));
    const second = this.SUBRULE1(this.name);
    const one = this.SUBRULE(this.signedNumber);
    this.CONSUME(t.Colon);
    const two = this.SUBRULE1(this.signedNumber);
    return {
      kind: 'ratio-of',
      ...this.base(start ?? blank),
      first,
      second,
      ratio: { kind: 'ratio', start: one?.start ?? 0, end: two?.end ?? 0, first: one, second: two },
    };
  });

  private readonly centreDistance = this.RULE('centreDistance', (start: Start): tree.Statement => {
    let at: tree.PlainValue | undefined;
    const from = this.SUBRULE(this.name);
    this.CONSUME(K('to'));
    const to = this.SUBRULE1(this.name);
    const value = this.SUBRULE(this.value, { ARGS: [['at']] });
    this.OPTION(() => {
      this.CONSUME(K('at'));
      at = this.SUBRULE(this.plainValue, { ARGS: [[]] });
    });
    return {
      kind: 'centre-distance',
      ...this.base(start ?? blank),
      from,
      to,
      value,
      ...(at === undefined ? {} : { at }),
    };
  });

  /** `tdc 1 on compression`, after `at`. */
  private readonly deadCentre = this.RULE('deadCentre', (choices: readonly string[]): tree.DeadCentre => {
    let stroke: tree.Choice | undefined;
    const word = this.CONSUME(K('tdc'));
    const cylinder = this.SUBRULE(this.whole);
    this.OPTION(() => {
      this.CONSUME(K('on'));
      stroke = this.SUBRULE(this.choice, { ARGS: ['the stroke', choices] });
    });
    return { ...this.sinceToken(word), cylinder, ...(stroke === undefined ? {} : { stroke }) };
  });

  /** `on compression`, behind a cylinder. */
  private readonly stroke = this.RULE('stroke', (choices: readonly string[]): tree.Choice => {
    this.CONSUME(K('on'));
    return this.SUBRULE(this.choice, { ARGS: ['the stroke', choices] });
  });

  /** `tdc 1 on compression`, `10 deg btdc 1 on compression`, `bdc 1`, after `at`. */
  private readonly crankPosition = this.RULE('crankPosition', (choices: readonly string[]): tree.CrankPosition => {
    const position: Position = {};
    this.OR({
      IGNORE_AMBIGUITIES: true,
      DEF: [
        {
          GATE: () => this.isWord('tdc'),
          ALT: () => {
            position.tdc = this.SUBRULE(this.deadCentre, { ARGS: [choices] });
          },
        },
        {
          GATE: () => this.isBottomAhead(),
          ALT: () => {
            position.from = this.SUBRULE(this.choice, { ARGS: ['where it is counted from', EVENT_WORDS] });
            position.cylinder = this.SUBRULE(this.whole);
            this.OPTION(() => {
              position.stroke = this.SUBRULE(this.stroke, { ARGS: [choices] });
            });
          },
        },
        {
          ALT: () => {
            position.angle = this.SUBRULE(this.plainValue, { ARGS: [EVENT_WORDS] });
            this.OPTION1({
              GATE: () => EVENT_WORDS.includes(usualForm(this.peek(1).payload ?? '')),
              DEF: () => {
                position.from = this.SUBRULE1(this.choice, { ARGS: ['where it is counted from', EVENT_WORDS] });
                this.ACTION(() => this.sayWhichSide(position.angle, position.from));
                this.OPTION2(() => {
                  position.cylinder = this.SUBRULE1(this.whole);
                  this.OPTION3(() => {
                    position.stroke = this.SUBRULE1(this.stroke, { ARGS: [choices] });
                  });
                });
              },
            });
          },
        },
      ],
    });
    return position as tree.CrankPosition;
  });

  /** `15 deg tdc`: before it or after it? */
  private sayWhichSide(angle: tree.PlainValue | undefined, from: tree.Choice | undefined): void {
    if (angle === undefined || (from?.word !== 'tdc' && from?.word !== 'bdc')) return;
    const figures = angle.kind === 'quantity' ? [angle.number] : angle.kind === 'range' ? [angle.low, angle.high] : [];
    if (figures.every(({ text }) => Number(text) === 0)) return;
    const written = angle.kind === 'quantity' ? angle.number.text : `${figures.map(({ text }) => text).join('..')}`;
    const unit = 'unit' in angle && angle.unit !== undefined ? ` ${angle.unit.text}` : '';
    const message = say.whichSide(`${written}${unit}`, from.word);
    const fixes = [`b${from.word}`, `a${from.word}`].map((text) => ({
      title: told`Write ${text}`,
      edits: [{ start: from.start, end: from.end, text }],
    }));
    this.fault('syntax/unexpected', { start: angle.start, end: from.end }, message, fixes);
  }

  private isBottomAhead(): boolean {
    return usualForm(this.peek(1).payload ?? '') === 'bdc' && this.isBareWholeAhead(2);
  }

  private readonly timed = this.RULE('timed', (start: Start): tree.Statement => {
    this.CONSUME(K('at'));
    const position = this.SUBRULE(this.crankPosition, { ARGS: [this.choicesOf(start)] });
    return { kind: 'timed', ...this.base(start ?? blank), ...position };
  });

  private readonly marksAgree = this.RULE('marksAgree', (start: Start): tree.Statement => {
    this.CONSUME(K('at'));
    const tdc = this.SUBRULE(this.deadCentre, { ARGS: [this.choicesOf(start)] });
    return { kind: 'marks-agree', ...this.base(start ?? blank), tdc };
  });

  private readonly markedLink = this.RULE('markedLink', (start: Start): tree.Statement => {
    let eitherSide = false;
    const links = this.SUBRULE(this.wholes);
    this.OR([
      { ALT: () => this.CONSUME(K('at')) },
      {
        ALT: () => {
          this.CONSUME(K('either-side-of'));
          eitherSide = true;
        },
      },
    ]);
    const mark = this.SUBRULE(this.plainReference);
    return { kind: 'marked-link', ...this.base(start ?? blank), links, mark, eitherSide };
  });

  private readonly events = this.RULE('events', (start: Start): tree.Statement => {
    let opens: tree.ValveEvent | undefined;
    let closes: tree.ValveEvent | undefined;
    this.AT_LEAST_ONE(() =>
      this.OR([
        {
          ALT: () => {
            this.CONSUME(K('opens'));
            opens = this.SUBRULE(this.valveEvent);
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('closes'));
            closes = this.SUBRULE1(this.valveEvent);
          },
        },
      ]),
    );
    return {
      kind: 'events',
      ...this.base(start ?? blank),
      ...(opens === undefined ? {} : { opens }),
      ...(closes === undefined ? {} : { closes }),
    };
  });

  private readonly valveEvent = this.RULE('valveEvent', (): tree.ValveEvent => {
    const first = this.LA(1);
    const angle = this.OPTION({
      // At a dead centre no angle is said: `opens tdc`.
      GATE: () => !['tdc', 'bdc'].includes(usualForm(this.LA(1).payload ?? '')),
      DEF: () => this.SUBRULE(this.plainValue, { ARGS: [EVENT_WORDS] }),
    });
    const from = this.SUBRULE(this.choice, { ARGS: ['where it is counted from', EVENT_WORDS] });
    this.ACTION(() => this.sayWhichSide(angle, from));
    return { angle: angle ?? noAngle(from?.start ?? 0), from, ...this.sinceToken(first) };
  });

  private readonly stated = this.RULE('stated', (start: Start): tree.Statement => {
    const what = this.SUBRULE(this.choice, { ARGS: ['a stated figure', this.choicesOf(start)] });
    const value = this.SUBRULE(this.value, { ARGS: [[]] });
    return { kind: 'stated', ...this.base(start ?? blank), what, value };
  });

  private readonly action = this.RULE('action', (start: Start): tree.Statement => {
    const clauses: Clauses = {};
    let targets: readonly tree.Reference[] = [];
    this.stops = CLAUSES_OF_ACTION.get(start?.word ?? '') ?? NONE;
    try {
      targets = this.SUBRULE(this.references);
      this.MANY({
        GATE: () => this.actionClauseAhead(start),
        DEF: () => this.SUBRULE(this.actionClause, { ARGS: [start, clauses] }),
      });
    } finally {
      this.stops = NONE;
    }
    const word = (start?.word ?? '') as ActionWord;
    return { kind: 'action', ...this.base(start ?? blank), word, targets, together: false, ...clauses };
  });

  private actionClauseAhead(start: Start): boolean {
    if (this.is(t.NumberToken)) return start.word === 'fill';
    if (this.isWord('otherwise')) return this.is(t.TextToken, 2);
    if (CLAUSES_OF_ACTION.get(start.word)?.includes(this.peek(1).payload ?? '') === true) return true;
    return (
      ['into', 'onto', 'from', 'together', 'stage', 'with', 'by', 'for', 'to'].includes(this.peek(1).payload ?? '') &&
      this.statementAhead() === undefined
    );
  }

  private readonly actionClause = this.RULE('actionClause', (start: Start, clauses: Clauses): void => {
    const set = <key extends keyof Clauses>(key: key, value: Clauses[key]): void =>
      this.ACTION(() => {
        if (clauses[key] !== undefined)
          this.fault('syntax/unexpected', this.span(this.LA(0)), say.twice(key === 'mate' ? 'where it goes' : key));
        clauses[key] = value;
      });
    this.OR({
      IGNORE_AMBIGUITIES: true,
      DEF: [
        {
          ALT: () => {
            this.CONSUME(K('into'));
            const reference = this.SUBRULE(this.reference);
            set('mate', { word: 'into', reference });
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('onto'));
            const reference = this.SUBRULE1(this.reference);
            set('mate', { word: 'onto', reference });
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('from'));
            const reference = this.SUBRULE2(this.reference);
            set('mate', { word: 'from', reference });
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('together'));
            set('together', true);
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('stage'));
            const stage = this.SUBRULE(this.whole);
            set('stage', stage);
          },
        },
        {
          GATE: () => this.is(t.TextToken, 2),
          ALT: () => {
            this.CONSUME(K('with'));
            const text = this.SUBRULE(this.text);
            set('withText', text);
          },
        },
        {
          ALT: () => {
            this.CONSUME1(K('with'));
            const supply = this.SUBRULE3(this.plainReference);
            set('with', supply);
          },
        },
        {
          GATE: () => this.is(t.TextToken, 2),
          ALT: () => {
            this.CONSUME(K('by'));
            const text = this.SUBRULE1(this.text);
            set('byText', text);
          },
        },
        {
          ALT: () => {
            this.CONSUME1(K('by'));
            const method = this.SUBRULE(this.choice, { ARGS: ['the way', this.choicesOf(start)] });
            set('method', method);
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('for'));
            const text = this.SUBRULE2(this.text);
            set('forText', text);
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('to'));
            const size = this.SUBRULE(this.name);
            set('to', size);
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('again'));
            set('again', true);
          },
        },
        {
          ALT: () => {
            const otherwise = this.SUBRULE(this.otherwise);
            set('otherwise', otherwise);
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('at'));
            const temperature = this.SUBRULE1(this.value, { ARGS: [['by', 'into', 'onto', 'together']] });
            set('at', temperature);
          },
        },
        {
          ALT: () => {
            const partWay = this.SUBRULE(this.partWay);
            set('partWay', partWay);
          },
        },
        {
          GATE: () => start?.word === 'fill',
          ALT: () => {
            const amount = this.SUBRULE(this.value, { ARGS: [['with']] });
            set('amount', amount);
          },
        },
      ],
    });
  });

  /** `part-way`, `part-way 3 mm`. */
  private readonly partWay = this.RULE('partWay', (): NonNullable<tree.Action['partWay']> => {
    let short: tree.Value | undefined;
    const word = this.CONSUME(K('part-way'));
    this.OPTION({
      GATE: () => this.is(t.NumberToken),
      DEF: () => {
        short = this.SUBRULE(this.plainValue, { ARGS: [['into', 'onto', 'by', 'together']] });
      },
    });
    return { ...this.sinceToken(word), ...(short === undefined ? {} : { short }) };
  });

  private readonly set = this.RULE('set', (start: Start): tree.Statement => {
    const shaft = this.SUBRULE(this.name);
    let rest: Partial<tree.SetShaft> = {};
    this.OR({
      IGNORE_AMBIGUITIES: true,
      DEF: [
        {
          ALT: () => {
            this.CONSUME(K('at'));
            rest = this.SUBRULE(this.crankPosition, { ARGS: [this.choicesOf(start)] });
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('with'));
            const mark = this.SUBRULE1(this.name);
            this.CONSUME2(K('at'));
            const at = this.SUBRULE1(this.plainValue, { ARGS: [[]] });
            rest = { mark, at };
          },
        },
      ],
    });
    return { kind: 'set', ...this.base(start ?? blank), shaft, ...rest };
  });

  private readonly rotate = this.RULE('rotate', (start: Start): tree.Statement => {
    let direction: tree.Choice | undefined;
    const shaft = this.SUBRULE(this.name);
    const amount = this.SUBRULE(this.plainValue, { ARGS: [TURNING] });
    this.OPTION({
      GATE: () => this.isPlaceWordAhead(),
      DEF: () => {
        direction = this.SUBRULE(this.choice, { ARGS: ['the direction', TURNING] });
      },
    });
    return {
      kind: 'rotate',
      ...this.base(start ?? blank),
      shaft,
      amount,
      ...(direction === undefined ? {} : { direction }),
    };
  });

  private readonly confirm = this.RULE('confirm', (start: Start): tree.Statement => {
    let by: tree.Choice | undefined;
    let at: tree.PlainValue | undefined;
    const target = this.SUBRULE(this.plainReference);
    this.AT_LEAST_ONE(() =>
      this.OR([
        {
          ALT: () => {
            this.CONSUME(K('by'));
            by = this.SUBRULE(this.choice, { ARGS: ['the way to confirm', this.choicesOf(start)] });
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('at'));
            at = this.SUBRULE(this.plainValue, { ARGS: [['by']] });
          },
        },
      ]),
    );
    return {
      kind: 'confirm',
      ...this.base(start ?? blank),
      target,
      ...(by === undefined ? {} : { by }),
      ...(at === undefined ? {} : { at }),
    };
  });

  private readonly run = this.RULE('run', (start: Start): tree.Statement => {
    const rest: RunClauses = {};
    this.CONSUME(K('engine'));
    this.MANY(() =>
      this.OR([
        {
          ALT: () => {
            this.CONSUME(K('at'));
            rest.at = this.SUBRULE(this.plainValue, { ARGS: [AFTER_RUN] });
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('for'));
            rest.for = this.SUBRULE1(this.plainValue, { ARGS: [AFTER_RUN] });
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('under'));
            rest.under = this.SUBRULE(this.choice, { ARGS: ['the load', this.choicesOf(start)] });
          },
        },
        { ALT: () => this.SUBRULE(this.until, { ARGS: [rest] }) },
      ]),
    );
    return { kind: 'run', ...this.base(start ?? blank), ...rest };
  });

  /** `until 82 degC`, `until "oil pressure shows"`. */
  private readonly until = this.RULE('until', (into: RunClauses): void => {
    this.CONSUME(K('until'));
    this.OR([
      {
        ALT: () => {
          const text = this.SUBRULE(this.text);
          this.ACTION(() => {
            into.untilText = text;
          });
        },
      },
      {
        GATE: () => !this.is(t.TextToken),
        ALT: () => {
          const value = this.SUBRULE(this.plainValue, { ARGS: [AFTER_RUN] });
          this.ACTION(() => {
            into.until = value;
          });
        },
      },
    ]);
  });

  private readonly crank = this.RULE('crank', (start: Start): tree.Statement => {
    const rest: RunClauses = {};
    this.CONSUME(K('engine'));
    this.MANY(() =>
      this.OR([
        {
          ALT: () => {
            this.CONSUME(K('for'));
            rest.for = this.SUBRULE(this.plainValue, { ARGS: [AFTER_RUN] });
          },
        },
        { ALT: () => this.SUBRULE(this.until, { ARGS: [rest] }) },
      ]),
    );
    return { kind: 'crank', ...this.base(start ?? blank), ...rest };
  });

  private readonly followOn = this.RULE('followOn', (start: Start): tree.Statement => {
    let names: readonly tree.Name[] = [];
    let text: tree.Text | undefined;
    this.OR([
      {
        ALT: () => {
          text = this.SUBRULE(this.text);
        },
      },
      {
        ALT: () => {
          names = list(this.SUBRULE(this.names));
        },
      },
    ]);
    return { kind: 'follow-on', ...this.base(start ?? blank), names, ...(text === undefined ? {} : { text }) };
  });

  private readonly wait = this.RULE('wait', (start: Start): tree.Statement => {
    const time = this.SUBRULE(this.value, { ARGS: [[]] });
    return { kind: 'wait', ...this.base(start ?? blank), time };
  });

  private readonly begins = this.RULE('begins', (start: Start): tree.Statement => {
    let sequence: tree.Name | undefined;
    let how: tree.Begins['how'] = 'bare';
    this.OR([
      {
        ALT: () => {
          this.CONSUME(K('after'));
          how = 'after';
          sequence = this.SUBRULE(this.name);
        },
      },
      {
        GATE: () => !this.isWord('after'),
        ALT: () => {
          const choice = this.SUBRULE(this.choice, { ARGS: [start?.word, this.choicesOf(start)] });
          if (choice?.word === 'whole') how = 'whole';
          if (choice?.known === false && !this.RECORDING_PHASE) throw new Unreadable();
        },
      },
    ]);
    return { kind: 'begins', ...this.base(start ?? blank), how, ...(sequence === undefined ? {} : { sequence }) };
  });

  // --- record ---

  private readonly onDate = this.RULE('onDate', (): tree.DateText => {
    this.CONSUME(K('on'));
    const date = this.SUBRULE(this.date);
    if (!this.RECORDING_PHASE && !date.valid) this.fault('syntax/unexpected', date, say.badDate(date.text));
    return date;
  });

  private readonly recordFitted = this.RULE('recordFitted', (start: Start): tree.Statement => {
    const rest: { size?: tree.Name; grade?: tree.Name; text?: tree.Text } = {};
    const part = this.SUBRULE(this.reference);
    this.MANY(() =>
      this.OR([
        {
          ALT: () => {
            this.CONSUME(K('size'));
            rest.size = this.SUBRULE(this.name);
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('grade'));
            rest.grade = this.SUBRULE1(this.name);
          },
        },
        {
          ALT: () => {
            rest.text = this.SUBRULE(this.text);
          },
        },
      ]),
    );
    return { kind: 'record-fitted', ...this.base(start ?? blank), part, ...rest };
  });

  private readonly found = this.RULE('found', (start: Start): tree.Statement => {
    const part = this.SUBRULE(this.reference, { ARGS: [this.choicesOf(start)] });
    let text: tree.Text | undefined;
    let verdict: tree.Choice | undefined;
    this.OPTION(() => {
      text = this.SUBRULE(this.text);
    });
    this.OPTION1({
      GATE: () => this.isPlaceWordAhead(),
      DEF: () => {
        verdict = this.SUBRULE(this.choice, { ARGS: ['what was found', this.choicesOf(start)] });
      },
    });
    this.OPTION2({
      GATE: () => text === undefined,
      DEF: () => {
        text = this.SUBRULE1(this.text);
      },
    });
    return {
      kind: 'found',
      ...this.base(start ?? blank),
      part,
      ...(text === undefined ? {} : { text }),
      ...(verdict === undefined ? {} : { verdict }),
    };
  });

  private readonly measuredStatement = this.RULE('measuredStatement', (start: Start): tree.Statement => {
    const rest: { with?: tree.Text; on?: tree.DateText; by?: tree.Text } = {};
    let value: tree.Value | undefined;
    const limit = this.SUBRULE(this.plainReference);
    this.OPTION({
      GATE: () => this.valueAhead(),
      DEF: () => {
        this.inMeasured = true;
        try {
          value = this.SUBRULE(this.value, { ARGS: [['with', 'on', 'by']] });
        } finally {
          this.inMeasured = false;
        }
      },
    });
    this.MANY(() =>
      this.OR([
        {
          ALT: () => {
            this.CONSUME(K('with'));
            rest.with = this.SUBRULE(this.text);
          },
        },
        {
          ALT: () => {
            rest.on = this.SUBRULE(this.onDate);
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('by'));
            rest.by = this.SUBRULE1(this.text);
          },
        },
      ]),
    );
    return {
      kind: 'measured',
      ...this.base(start ?? blank),
      limit,
      ...(value === undefined ? {} : { value }),
      ...rest,
    };
  });

  private readonly done = this.RULE('done', (start: Start): tree.Statement => {
    const rest: { on?: tree.DateText; by?: tree.Text; text?: tree.Text; again?: true } = {};
    // `again` is no place of the step.
    const step = this.SUBRULE(this.reference, { ARGS: [start?.word === 'done' ? AGAIN : NONE] });
    this.MANY(() =>
      this.OR([
        {
          GATE: () => start?.word === 'done',
          ALT: () => {
            this.CONSUME(K('again'));
            rest.again = true;
          },
        },
        {
          ALT: () => {
            rest.text = this.SUBRULE(this.text);
          },
        },
        {
          ALT: () => {
            rest.on = this.SUBRULE(this.onDate);
          },
        },
        {
          ALT: () => {
            this.CONSUME(K('by'));
            rest.by = this.SUBRULE1(this.text);
          },
        },
      ]),
    );
    return { kind: 'done', ...this.base(start ?? blank), step, ...rest };
  });

  /** `on 2026-03-04` and `by "QL"`. */
  private readonly onOrBy = this.RULE('onOrBy', (into: { on?: tree.DateText; by?: tree.Text }): void => {
    this.OR([
      {
        ALT: () => {
          const on = this.SUBRULE(this.onDate);
          this.ACTION(() => {
            into.on = on;
          });
        },
      },
      {
        ALT: () => {
          this.CONSUME(K('by'));
          const by = this.SUBRULE(this.text);
          this.ACTION(() => {
            into.by = by;
          });
        },
      },
    ]);
  });

  private readonly agreed = this.RULE('agreed', (start: Start): tree.Statement => {
    const rest: { on?: tree.DateText; by?: tree.Text } = {};
    const text = this.SUBRULE(this.text);
    this.MANY(() => this.SUBRULE(this.onOrBy, { ARGS: [rest] }));
    return { kind: 'agreed', ...this.base(start ?? blank), text, ...rest };
  });

  private readonly witnessed = this.RULE('witnessed', (start: Start): tree.Statement => {
    const rest: { on?: tree.DateText; by?: tree.Text } = {};
    const step = this.SUBRULE(this.reference);
    this.MANY(() => this.SUBRULE(this.onOrBy, { ARGS: [rest] }));
    return { kind: 'witnessed', ...this.base(start ?? blank), step, ...rest };
  });

  private readonly log = this.RULE('log', (start: Start): tree.Statement => {
    const readings: tree.Reading[] = [];
    let on: tree.DateText | undefined;
    let time: { hour: number; minute: number } | undefined;
    let text: tree.Text | undefined;
    let at: tree.Value | undefined;
    this.OPTION(() => {
      on = this.SUBRULE(this.date);
    });
    this.OPTION1(() => {
      const hour = Number(this.payload(this.CONSUME(t.NumberToken)));
      this.CONSUME(t.Colon);
      time = { hour, minute: Number(this.payload(this.CONSUME1(t.NumberToken))) };
    });
    this.OPTION4(() => {
      this.CONSUME(K('at'));
      at = this.SUBRULE1(this.plainValue, { ARGS: [[]] });
    });
    this.OPTION2(() => {
      text = this.SUBRULE(this.text);
    });
    this.OPTION3({
      GATE: () => this.isPlaceWordAhead(),
      DEF: () => {
        this.AT_LEAST_ONE_SEP({
          SEP: t.Comma,
          DEF: () => {
            const name = this.SUBRULE(this.name);
            const value = this.SUBRULE(this.plainValue, { ARGS: [[]] });
            readings.push({ start: name?.start ?? 0, end: value?.end ?? 0, name, value });
          },
        });
      },
    });
    this.OPTION5(() => {
      this.CONSUME1(K('at'));
      at = this.SUBRULE3(this.plainValue, { ARGS: [[]] });
    });
    return {
      kind: 'log',
      ...this.base(start ?? blank),
      readings,
      ...(on === undefined ? {} : { on }),
      ...(time === undefined ? {} : { time }),
      ...(at === undefined ? {} : { at }),
      ...(text === undefined ? {} : { text }),
    };
  });

  private readonly photo = this.RULE('photo', (start: Start): tree.Statement => {
    let of: tree.Reference | undefined;
    const path = this.SUBRULE(this.text);
    this.OPTION(() => {
      this.CONSUME(K('of'));
      of = this.SUBRULE(this.reference);
    });
    return { kind: 'photo', ...this.base(start ?? blank), path, ...(of === undefined ? {} : { of }) };
  });

  private readonly signed = this.RULE('signed', (start: Start): tree.Statement => {
    let on: tree.DateText | undefined;
    const by = this.SUBRULE(this.text);
    this.OPTION(() => {
      on = this.SUBRULE(this.onDate);
    });
    return { kind: 'signed', ...this.base(start ?? blank), by, ...(on === undefined ? {} : { on }) };
  });

  /** `drop dimension skirt`, `drop single-use`; in a table of grades the name of a row. */
  private readonly drop = this.RULE('drop', (start: Start): tree.Statement => {
    const token = this.CONSUME(t.AnyWord);
    const word = usualForm(this.payload(token));
    let what = { word, ...this.span(token) };
    let name: tree.Name | undefined;
    const row = this.RECORDING_PHASE ? undefined : statementRow(this.block, word);
    const isClause = this.block === 'limit' && LIMIT_CLAUSES.includes(word);
    const isRow = this.block === 'grades' && row === undefined;
    if (isRow) {
      name = { text: this.nameText(token), ...this.span(token) };
      what = { word: 'grade', ...this.span(token) };
    } else if (!this.RECORDING_PHASE && !isClause && (row === undefined || word === 'drop' || word === 'when')) {
      const choices = statementsOf(this.block).map((each) => each.word);
      const near = nearest(word, this.block === 'limit' ? [...choices, ...LIMIT_CLAUSES] : choices);
      const fix =
        near === undefined
          ? []
          : [{ title: told`Change ${token.image} to ${near}`, edits: [{ text: near, ...this.span(token) }] }];
      this.fault('syntax/unexpected', this.span(token), say.dropUnknown(this.block, token.image, near), fix);
      throw new Unreadable();
    }
    this.OPTION({
      GATE: () =>
        !isRow &&
        this.isNameAhead() &&
        (this.statementAhead() === undefined || !this.statementReadsFrom(() => this.tryStatement())),
      DEF: () => {
        name = this.SUBRULE(this.name);
      },
    });
    return { kind: 'drop', ...this.base(start ?? blank), what, ...(name === undefined ? {} : { name }) };
  });

  private readonly gradeRow = this.RULE('gradeRow', (): tree.Statement => {
    const name = this.SUBRULE(this.name);
    const brings: tree.BroughtSize[] = [];
    const value = this.SUBRULE(this.value, { ARGS: [['with']] });
    this.OPTION({
      GATE: () => this.isWord('with') && this.isNameAhead(2),
      DEF: () => {
        this.CONSUME(K('with'));
        this.AT_LEAST_ONE_SEP({
          SEP: t.Comma,
          DEF: () => {
            const size = this.SUBRULE1(this.name);
            const is = this.SUBRULE(this.plainValue, { ARGS: [[]] });
            brings.push({ start: size?.start ?? 0, end: is?.end ?? 0, name: size, value: is });
          },
        });
      },
    });
    return {
      kind: 'grade',
      word: 'grade',
      wordSpan: { start: name?.start ?? 0, end: name?.end ?? 0 },
      start: name?.start ?? 0,
      end: (this.LA(0).endOffset ?? 0) + 1,
      name,
      value,
      ...(brings.length === 0 ? {} : { brings }),
    };
  });

  private readonly rules: Readonly<Record<Shape, (start: Start) => tree.Statement>> = {
    flag: this.flag,
    choice: this.choiceStatement,
    value: this.valueStatement,
    number: this.numberStatement,
    text: this.textStatement,
    names: this.namesStatement,
    per: this.perStatement,
    allow: this.allow,
    when: this.when,
    source: this.source,
    cylinders: this.cylinders,
    bank: this.bank,
    crankpin: this.crankpin,
    'firing-order': this.firingOrder,
    places: this.places,
    dimension: this.dimension,
    figure: this.figure,
    size: this.size,
    mark: this.mark,
    orient: this.orient,
    covers: this.covers,
    thread: this.thread,
    class: this.strengthClass,
    clamps: this.clamps,
    each: this.eachStatement,
    reuse: this.reuse,
    torque: this.torque,
    retorque: this.retorque,
    'tightening-order': this.tighteningOrder,
    wrap: this.wrap,
    mesh: this.mesh,
    'ratio-of': this.ratioOf,
    'centre-distance': this.centreDistance,
    'marks-agree': this.marksAgree,
    'marked-link': this.markedLink,
    events: this.events,
    stated: this.stated,
    action: this.action,
    set: this.set,
    rotate: this.rotate,
    confirm: this.confirm,
    run: this.run,
    crank: this.crank,
    wall: this.wall,
    'lift-at': this.liftAt,
    'rocker-ratio': this.rockerRatio,
    phaser: this.phaser,
    see: this.see,
    agreed: this.agreed,
    witnessed: this.witnessed,
    'follow-on': this.followOn,
    'draw-up': this.drawUp,
    reference: this.referenceStatement,
    timed: this.timed,
    into: this.into,
    wait: this.wait,
    begins: this.begins,
    'record-fitted': this.recordFitted,
    found: this.found,
    measured: this.measuredStatement,
    done: this.done,
    log: this.log,
    photo: this.photo,
    signed: this.signed,
    drop: this.drop,
  };

  /** One statement, its keyword first, and the source after it. The shape of its row says by which rule it is read. */
  protected readonly statement = this.RULE('statement', (): tree.Statement => {
    let statement: tree.Statement | undefined;
    if (this.RECORDING_PHASE) {
      this.OR({
        IGNORE_AMBIGUITIES: true,
        DEF: [
          ...Object.values(this.rules).map((rule, i) => ({
            ALT: () => {
              if (i === 0) this.CONSUME(t.AnyWord);
              this.subrule(i, rule as never, { ARGS: [undefined] } as never);
            },
          })),
          { ALT: () => this.subrule(100, this.gradeRow as never) },
        ],
      });
    } else {
      const row = this.statementAhead();
      if (row === undefined) statement = this.subrule(100, this.gradeRow as never) as unknown as tree.Statement;
      else {
        const token = this.take();
        const word = row.word as StatementWord;
        const start: Start = { row, word, wordSpan: this.span(token), ...this.span(token) };
        const shapes = Object.keys(this.rules);
        const rule = this.rules[row.shape];
        statement = this.subrule(
          shapes.indexOf(row.shape),
          rule as never,
          { ARGS: [start] } as never,
        ) as unknown as tree.Statement;
      }
    }
    let per: tree.Per | undefined;
    this.OPTION({
      GATE: () =>
        this.block !== 'spec' && statement?.kind !== 'per' && statement?.kind !== 'when' && statement?.kind !== 'drop',
      DEF: () => {
        per = this.SUBRULE(this.per);
      },
    });
    if (statement === undefined) return { kind: 'broken', word: '', wordSpan: { start: 0, end: 0 }, start: 0, end: 0 };
    return per === undefined ? statement : ({ ...statement, per, end: per.end } as tree.Statement);
  });

  /** The braces of a declaration or of an inner block, with what is in them. */
  protected readonly body: (idxInCallingRule?: number, ...args: never[]) => tree.Body = this.RULE(
    'body',
    (): tree.Body => {
      const open = this.CONSUME(t.Open);
      const statements: tree.Statement[] = [];
      this.MANY({ GATE: () => false, DEF: () => this.SUBRULE(this.statement) });
      if (!this.RECORDING_PHASE) this.readStatements(statements);
      this.OPTION(() => {
        this.CONSUME(t.Close);
      });
      return { statements, ...this.sinceToken(open) };
    },
  ) as never;

  /** Reads statements up to the closing brace; given by the declaration parser, which knows how to go on after an error. */
  protected readStatements(_into: tree.Statement[]): void {
    throw new Error('no statements can be read here');
  }
}

/** No degrees at all, at the place of what stands without any. */
function noAngle(at: number): tree.PlainValue {
  const span = { start: at, end: at };
  return {
    kind: 'quantity',
    number: { text: '0', ...span },
    unit: { text: 'deg', parts: [{ unit: 'deg', power: 1 }], ...span },
    ...span,
  };
}

const blank: Start = {
  row: { word: '', in: [], shape: 'flag', help: '', example: '' },
  word: '',
  wordSpan: { start: 0, end: 0 },
  start: 0,
  end: 0,
};
