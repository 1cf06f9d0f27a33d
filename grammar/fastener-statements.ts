// Reads what is said of fasteners: what they go into and clamp, the thread and the class, torque in stages, the order of tightening.
import type { IToken } from 'chevrotain';
import { nearest } from './nearest.ts';
import { PartStatements } from './part-statements.ts';
import { blank, K, type Start } from './statement-start.ts';
import * as say from './syntax-messages.ts';
import * as t from './tokens.ts';
import { told } from './told.ts';
import type * as tree from './tree.ts';
import { list } from './value-parser.ts';
import { isStageWord, type StageWord, usualForm } from './vocabulary.ts';

type OrderHead = { -readonly [key in 'each' | 'stage' | 'over']?: tree.TighteningOrder[key] };

export abstract class FastenerStatements extends PartStatements {
  /** Whether one of the choices is ahead, or what may be meant for one. */
  protected isChoiceAhead(start: Start): boolean {
    if (!this.isNameAhead()) return false;
    const word = usualForm(this.nameText(this.LA(1)));
    const choices = this.choicesOf(start);
    return choices.includes(word) || nearest(word, choices) !== undefined;
  }

  protected readonly into = this.RULE('into', (start: Start): tree.Statement => {
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

  protected readonly thread = this.RULE('thread', (start: Start): tree.Statement => {
    const token = this.CONSUME(t.ThreadToken);
    return {
      kind: 'thread',
      ...this.base(start ?? blank),
      designation: this.payload(token),
      designationSpan: this.span(token),
    };
  });

  protected readonly strengthClass = this.RULE('strengthClass', (start: Start): tree.Statement => {
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

  protected readonly clamps = this.RULE('clamps', (start: Start): tree.Statement => {
    let to: tree.Reference | undefined;
    const clamped = this.SUBRULE(this.references);
    this.OPTION(() => {
      this.CONSUME(K('to'));
      to = this.SUBRULE(this.reference);
    });
    return { kind: 'clamps', ...this.base(start ?? blank), clamped, ...(to === undefined ? {} : { to }) };
  });

  protected readonly eachStatement = this.RULE('eachStatement', (start: Start): tree.Statement => {
    const others: tree.Reference[] = [];
    const of = this.SUBRULE(this.reference);
    this.MANY(() => {
      this.CONSUME(t.Comma);
      others.push(this.SUBRULE1(this.reference));
    });
    return { kind: 'each', ...this.base(start ?? blank), of, ...(others.length === 0 ? {} : { others }) };
  });

  protected readonly reuse = this.RULE('reuse', (start: Start): tree.Statement => {
    this.CONSUME(K('to'));
    const length = this.SUBRULE(this.value, { ARGS: [[]] });
    return { kind: 'reuse', ...this.base(start ?? blank), length };
  });

  protected readonly torque = this.RULE('torque', (start: Start): tree.Statement => {
    const stages: tree.Stage[] = [];
    this.AT_LEAST_ONE_SEP({ SEP: t.Comma, DEF: () => stages.push(this.SUBRULE(this.stage)) });
    return { kind: 'torque', ...this.base(start ?? blank), stages };
  });

  protected readonly stage = this.RULE(
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

  protected stageWord(): StageWord | undefined {
    const word = usualForm(this.peek(1).payload ?? '');
    return isStageWord(word) && !this.is(t.Dot, 2) ? word : undefined;
  }

  protected readonly drawUp = this.RULE('drawUp', (start: Start): tree.Statement => {
    let bolt: tree.Text | undefined;
    const value = this.SUBRULE(this.value, { ARGS: [['with']] });
    this.OPTION(() => {
      this.CONSUME(K('with'));
      bolt = this.SUBRULE(this.text);
    });
    return { kind: 'draw-up', ...this.base(start ?? blank), value, ...(bolt === undefined ? {} : { with: bolt }) };
  });

  protected readonly retorque = this.RULE('retorque', (start: Start): tree.Statement => {
    let after: tree.Text | undefined;
    const stage = this.SUBRULE(this.stage);
    this.OPTION(() => {
      this.CONSUME(K('after'));
      after = this.SUBRULE(this.text);
    });
    return { kind: 'retorque', ...this.base(start ?? blank), stage, ...(after === undefined ? {} : { after }) };
  });

  protected readonly tighteningOrder = this.RULE('tighteningOrder', (start: Start): tree.Statement => {
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
  protected readonly sharedOrder = this.RULE('sharedOrder', (): tree.SharedOrder => {
    let turns: readonly tree.Whole[] = [];
    const word = this.CONSUME(K('with'));
    const fastener = this.SUBRULE(this.name);
    this.OPTION(() => {
      this.CONSUME(K('at'));
      turns = list(this.SUBRULE(this.wholes));
    });
    return { ...this.sinceToken(word), fastener, turns };
  });
}
