// Reads what is done in a step, and what is said of a job: actions with their clauses, setting and turning a shaft, a proof, running the
// engine, waiting.
import { DriveStatements } from './drive-statements.ts';
import { blank, K, NONE, type Start } from './statement-start.ts';
import * as say from './syntax-messages.ts';
import * as t from './tokens.ts';
import type * as tree from './tree.ts';
import { list, Unreadable } from './value-parser.ts';
import type { ActionWord } from './vocabulary.ts';

const TURNING = ['clockwise', 'anticlockwise'];

/** Clauses that only some actions have: elsewhere their words may be places. */
const CLAUSES_OF_ACTION: ReadonlyMap<string, readonly string[]> = new Map([
  ['fit', ['at', 'part-way']],
  ['tighten', ['again']],
]);

/** What may follow a value in `run` and `crank`. */
const AFTER_RUN = ['at', 'for', 'under', 'until'];

type RunClauses = { -readonly [key in 'at' | 'for' | 'under' | 'until' | 'untilText']?: tree.Run[key] };

type Clauses = { -readonly [key in keyof tree.Action]?: tree.Action[key] };

export abstract class StepStatements extends DriveStatements {
  protected readonly action = this.RULE('action', (start: Start): tree.Statement => {
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

  protected actionClauseAhead(start: Start): boolean {
    if (this.is(t.NumberToken)) return start.word === 'fill';
    if (this.isWord('otherwise')) return this.is(t.TextToken, 2);
    if (CLAUSES_OF_ACTION.get(start.word)?.includes(this.peek(1).payload ?? '') === true) return true;
    return (
      ['into', 'onto', 'from', 'together', 'stage', 'with', 'by', 'for', 'to'].includes(this.peek(1).payload ?? '') &&
      this.statementAhead() === undefined
    );
  }

  protected readonly actionClause = this.RULE('actionClause', (start: Start, clauses: Clauses): void => {
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
  protected readonly partWay = this.RULE('partWay', (): NonNullable<tree.Action['partWay']> => {
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

  protected readonly set = this.RULE('set', (start: Start): tree.Statement => {
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

  protected readonly rotate = this.RULE('rotate', (start: Start): tree.Statement => {
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

  protected readonly confirm = this.RULE('confirm', (start: Start): tree.Statement => {
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

  protected readonly run = this.RULE('run', (start: Start): tree.Statement => {
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
  protected readonly until = this.RULE('until', (into: RunClauses): void => {
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

  protected readonly crank = this.RULE('crank', (start: Start): tree.Statement => {
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

  protected readonly followOn = this.RULE('followOn', (start: Start): tree.Statement => {
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

  protected readonly wait = this.RULE('wait', (start: Start): tree.Statement => {
    const time = this.SUBRULE(this.value, { ARGS: [[]] });
    return { kind: 'wait', ...this.base(start ?? blank), time };
  });

  protected readonly begins = this.RULE('begins', (start: Start): tree.Statement => {
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
}
