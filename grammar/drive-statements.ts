// Reads what is said of a drive: what goes round its wheels, what meshes, ratios, where its marks agree.
import { FastenerStatements } from './fastener-statements.ts';
import { blank, K, type Start } from './statement-start.ts';
import * as t from './tokens.ts';
import type * as tree from './tree.ts';

export abstract class DriveStatements extends FastenerStatements {
  protected readonly wrap = this.RULE('wrap', (start: Start): tree.Statement => {
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

  protected readonly mesh = this.RULE('mesh', (start: Start): tree.Statement => {
    const first = this.SUBRULE(this.name);
    this.CONSUME(K('with'));
    const second = this.SUBRULE1(this.name);
    return { kind: 'mesh', ...this.base(start ?? blank), first, second };
  });

  protected readonly ratioOf = this.RULE('ratioOf', (start: Start): tree.Statement => {
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

  protected readonly centreDistance = this.RULE('centreDistance', (start: Start): tree.Statement => {
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

  protected readonly marksAgree = this.RULE('marksAgree', (start: Start): tree.Statement => {
    this.CONSUME(K('at'));
    const tdc = this.SUBRULE(this.deadCentre, { ARGS: [this.choicesOf(start)] });
    return { kind: 'marks-agree', ...this.base(start ?? blank), tdc };
  });

  protected readonly markedLink = this.RULE('markedLink', (start: Start): tree.Statement => {
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
}
