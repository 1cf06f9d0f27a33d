// Reads what is said in a record: what was fitted, found, measured, done, agreed, witnessed and logged.
import { blank, K, NONE, type Start } from './statement-start.ts';
import { StepStatements } from './step-statements.ts';
import * as say from './syntax-messages.ts';
import * as t from './tokens.ts';
import type * as tree from './tree.ts';

const AGAIN: readonly string[] = ['again'];

export abstract class RecordStatements extends StepStatements {
  protected readonly onDate = this.RULE('onDate', (): tree.DateText => {
    this.CONSUME(K('on'));
    const date = this.SUBRULE(this.date);
    if (!this.RECORDING_PHASE && !date.valid) this.fault('syntax/unexpected', date, say.badDate(date.text));
    return date;
  });

  protected readonly recordFitted = this.RULE('recordFitted', (start: Start): tree.Statement => {
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

  protected readonly found = this.RULE('found', (start: Start): tree.Statement => {
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

  protected readonly measuredStatement = this.RULE('measuredStatement', (start: Start): tree.Statement => {
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

  protected readonly done = this.RULE('done', (start: Start): tree.Statement => {
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
  protected readonly onOrBy = this.RULE('onOrBy', (into: { on?: tree.DateText; by?: tree.Text }): void => {
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

  protected readonly agreed = this.RULE('agreed', (start: Start): tree.Statement => {
    const rest: { on?: tree.DateText; by?: tree.Text } = {};
    const text = this.SUBRULE(this.text);
    this.MANY(() => this.SUBRULE(this.onOrBy, { ARGS: [rest] }));
    return { kind: 'agreed', ...this.base(start ?? blank), text, ...rest };
  });

  protected readonly witnessed = this.RULE('witnessed', (start: Start): tree.Statement => {
    const rest: { on?: tree.DateText; by?: tree.Text } = {};
    const step = this.SUBRULE(this.reference);
    this.MANY(() => this.SUBRULE(this.onOrBy, { ARGS: [rest] }));
    return { kind: 'witnessed', ...this.base(start ?? blank), step, ...rest };
  });

  protected readonly log = this.RULE('log', (start: Start): tree.Statement => {
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

  protected readonly photo = this.RULE('photo', (start: Start): tree.Statement => {
    let of: tree.Reference | undefined;
    const path = this.SUBRULE(this.text);
    this.OPTION(() => {
      this.CONSUME(K('of'));
      of = this.SUBRULE(this.reference);
    });
    return { kind: 'photo', ...this.base(start ?? blank), path, ...(of === undefined ? {} : { of }) };
  });

  protected readonly signed = this.RULE('signed', (start: Start): tree.Statement => {
    let on: tree.DateText | undefined;
    const by = this.SUBRULE(this.text);
    this.OPTION(() => {
      on = this.SUBRULE(this.onDate);
    });
    return { kind: 'signed', ...this.base(start ?? blank), by, ...(on === undefined ? {} : { on }) };
  });
}
