// Reads statements of a simple shape, which many words have: a flag, a choice, a value, a number, a text, names, a source; and what all
// others stand on.
import { nearest } from './nearest.ts';
import { blank, K, type Start } from './statement-start.ts';
import * as say from './syntax-messages.ts';
import * as t from './tokens.ts';
import { told } from './told.ts';
import type * as tree from './tree.ts';
import { ValueParser } from './value-parser.ts';
import { type StatementWord, usualForm } from './vocabulary.ts';

export abstract class PlainStatements extends ValueParser {
  /** The braces of a declaration or of an inner block, with what is in them. */
  protected abstract readonly body: (idxInCallingRule?: number, ...args: never[]) => tree.Body;

  /** Positions where the canonical layout begins a new line for a clause. */
  protected clauseStarts: number[] = [];

  protected placed(start: Start): Start {
    return { ...start, end: (this.LA(0).endOffset ?? 0) + 1 };
  }

  protected base(start: Start): { word: StatementWord | ''; wordSpan: tree.Span; start: number; end: number } {
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

  protected choicesOf(start: Start): readonly string[] {
    return Object.keys(start?.row?.choices ?? {});
  }

  protected readonly flag = this.RULE(
    'flag',
    (start: Start): tree.Statement => ({ kind: 'flag', ...this.base(start ?? blank) }),
  );

  protected readonly choiceStatement = this.RULE('choiceStatement', (start: Start): tree.Statement => {
    const choice = this.SUBRULE(this.choice, { ARGS: [start?.word, this.choicesOf(start)] });
    return { kind: 'choice', ...this.base(start ?? blank), choice };
  });

  protected readonly valueStatement = this.RULE('valueStatement', (start: Start): tree.Statement => {
    const value = this.SUBRULE(this.value, { ARGS: [[]] });
    return { kind: 'value', ...this.base(start ?? blank), value };
  });

  protected readonly numberStatement = this.RULE('numberStatement', (start: Start): tree.Statement => {
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

  protected readonly textStatement = this.RULE('textStatement', (start: Start): tree.Statement => {
    const text = this.SUBRULE(this.text);
    return { kind: 'text', ...this.base(start ?? blank), text };
  });

  protected readonly namesStatement = this.RULE('namesStatement', (start: Start): tree.Statement => {
    const names = this.SUBRULE(this.names);
    return { kind: 'names', ...this.base(start ?? blank), names };
  });

  protected readonly perStatement = this.RULE('perStatement', (start: Start): tree.Statement => {
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

  protected readonly referenceStatement = this.RULE('referenceStatement', (start: Start): tree.Statement => {
    const reference = this.SUBRULE(this.reference);
    return { kind: 'reference', ...this.base(start ?? blank), reference };
  });

  protected readonly see = this.RULE('see', (start: Start): tree.Statement => {
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

  protected readonly allow = this.RULE('allow', (start: Start): tree.Statement => {
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

  protected readonly when = this.RULE('when', (start: Start): tree.Statement => {
    const variants = this.SUBRULE(this.names);
    const body = this.SUBRULE(this.body);
    return { kind: 'when', ...this.base(start ?? blank), variants, body };
  });

  protected readonly source = this.RULE('source', (start: Start): tree.Statement => {
    const name = this.SUBRULE(this.name);
    let title: tree.Text | undefined;
    this.OPTION(() => {
      title = this.SUBRULE(this.text);
    });
    return { kind: 'source', ...this.base(start ?? blank), name, ...(title === undefined ? {} : { title }) };
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

  protected readonly wall = this.RULE('wall', (start: Start): tree.Statement => {
    let wearLimit: tree.Value | undefined;
    const value = this.SUBRULE(this.value, { ARGS: [['wear-limit']] });
    this.OPTION(() => {
      wearLimit = this.SUBRULE(this.wearLimit);
    });
    return { kind: 'value', ...this.base(start ?? blank), value, ...(wearLimit === undefined ? {} : { wearLimit }) };
  });

  protected readonly figure = this.RULE('figure', (start: Start): tree.Statement => {
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
}
