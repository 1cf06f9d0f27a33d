// Reads what is said of an engine and of the timing of its valves: cylinders and banks, the crankpins, the firing order, where the crank
// stands, events and lifts.
import { PlainStatements } from './plain-statements.ts';
import { blank, K, type Start } from './statement-start.ts';
import * as say from './syntax-messages.ts';
import * as t from './tokens.ts';
import { told } from './told.ts';
import type * as tree from './tree.ts';
import { usualForm } from './vocabulary.ts';

const EVENT_WORDS = ['btdc', 'atdc', 'bbdc', 'abdc', 'tdc', 'bdc'];

type Position = { -readonly [key in keyof tree.CrankPosition]?: tree.CrankPosition[key] };

export abstract class EngineStatements extends PlainStatements {
  protected readonly cylinders = this.RULE('cylinders', (start: Start): tree.Statement => {
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

  protected readonly bank = this.RULE('bank', (start: Start): tree.Statement => {
    const side = this.SUBRULE(this.choice, { ARGS: [start?.word, this.choicesOf(start)] });
    const cylinders = this.SUBRULE(this.wholes);
    return { kind: 'bank', ...this.base(start ?? blank), side, cylinders };
  });

  protected readonly crankpin = this.RULE('crankpin', (start: Start): tree.Statement => {
    const cylinders = this.SUBRULE(this.wholes);
    this.CONSUME(K('at'));
    const angle = this.SUBRULE(this.plainValue, { ARGS: [[]] });
    return { kind: 'crankpin', ...this.base(start ?? blank), cylinders, angle };
  });

  protected readonly firingOrder = this.RULE('firingOrder', (start: Start): tree.Statement => {
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
  protected restOfOrder(first: tree.Whole | undefined): readonly tree.Whole[] {
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

  protected readonly stated = this.RULE('stated', (start: Start): tree.Statement => {
    const what = this.SUBRULE(this.choice, { ARGS: ['a stated figure', this.choicesOf(start)] });
    const value = this.SUBRULE(this.value, { ARGS: [[]] });
    return { kind: 'stated', ...this.base(start ?? blank), what, value };
  });

  /** `tdc 1 on compression`, after `at`. */
  protected readonly deadCentre = this.RULE('deadCentre', (choices: readonly string[]): tree.DeadCentre => {
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
  protected readonly stroke = this.RULE('stroke', (choices: readonly string[]): tree.Choice => {
    this.CONSUME(K('on'));
    return this.SUBRULE(this.choice, { ARGS: ['the stroke', choices] });
  });

  /** `tdc 1 on compression`, `10 deg btdc 1 on compression`, `bdc 1`, after `at`. */
  protected readonly crankPosition = this.RULE('crankPosition', (choices: readonly string[]): tree.CrankPosition => {
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
  protected sayWhichSide(angle: tree.PlainValue | undefined, from: tree.Choice | undefined): void {
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

  protected isBottomAhead(): boolean {
    return usualForm(this.peek(1).payload ?? '') === 'bdc' && this.isBareWholeAhead(2);
  }

  protected readonly events = this.RULE('events', (start: Start): tree.Statement => {
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

  protected readonly valveEvent = this.RULE('valveEvent', (): tree.ValveEvent => {
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

  protected readonly liftAt = this.RULE('liftAt', (start: Start): tree.Statement => {
    let at: tree.Choice | undefined;
    const value = this.SUBRULE(this.value, { ARGS: [['at']] });
    this.OPTION(() => {
      this.CONSUME(K('at'));
      at = this.SUBRULE(this.choice, { ARGS: ['where the lift is measured', this.choicesOf(start)] });
    });
    return { kind: 'value', ...this.base(start ?? blank), value, ...(at === undefined ? {} : { at }) };
  });

  protected readonly rockerRatio = this.RULE('rockerRatio', (start: Start): tree.Statement => {
    let to: tree.NumberText | undefined;
    const number = this.SUBRULE(this.signedNumber);
    this.OPTION(() => {
      this.CONSUME(t.Colon);
      to = this.SUBRULE1(this.signedNumber);
    });
    return { kind: 'number', ...this.base(start ?? blank), number, ...(to === undefined ? {} : { to }) };
  });

  protected readonly phaser = this.RULE('phaser', (start: Start): tree.Statement => {
    let parked: tree.Choice | undefined;
    const range = this.SUBRULE(this.value, { ARGS: [['parked']] });
    this.OPTION(() => {
      this.CONSUME(K('parked'));
      parked = this.SUBRULE(this.choice, { ARGS: ['where it is parked', this.choicesOf(start)] });
    });
    return { kind: 'phaser', ...this.base(start ?? blank), range, ...(parked === undefined ? {} : { parked }) };
  });
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
