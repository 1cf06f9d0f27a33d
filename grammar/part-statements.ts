// Reads what is said of a part: its places, dimensions and sizes, marks, which way round it goes, what it covers.
import { EngineStatements } from './engine-statements.ts';
import { blank, K, type Start } from './statement-start.ts';
import * as say from './syntax-messages.ts';
import * as t from './tokens.ts';
import { told } from './told.ts';
import type * as tree from './tree.ts';
import { list, Unreadable } from './value-parser.ts';
import { RESERVED, usualForm } from './vocabulary.ts';

export abstract class PartStatements extends EngineStatements {
  /** A place that is no statement of this block: where one could be read, the place before it is missing. */
  protected isPlaceAhead(): boolean {
    if (!this.isNameAhead()) return this.isBareWholeAhead();
    return this.isNameRatherThanStatement() || !this.statementReadsFrom(() => this.tryStatement());
  }

  /** `into block`, behind the places that go into it; `in block` is meant for it. */
  protected partOfPlaces(): tree.Name | undefined {
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

  protected readonly places = this.RULE('places', (start: Start): tree.Statement => {
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

  protected readonly dimension = this.RULE('dimension', (start: Start): tree.Statement => {
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

  protected readonly size = this.RULE('size', (start: Start): tree.Statement => {
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

  protected readonly mark = this.RULE('mark', (start: Start): tree.Statement => {
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

  protected readonly orient = this.RULE('orient', (start: Start): tree.Statement => {
    const rules: tree.OrientRule[] = [];
    this.AT_LEAST_ONE_SEP({
      SEP: t.Comma,
      DEF: () => rules.push(this.SUBRULE(this.orientRule, { ARGS: [this.choicesOf(start)] })),
    });
    return { kind: 'orient', ...this.base(start ?? blank), rules };
  });

  protected readonly orientRule = this.RULE('orientRule', (directions: readonly string[]): tree.OrientRule => {
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

  protected readonly covers = this.RULE('covers', (start: Start): tree.Statement => {
    const covered = this.SUBRULE(this.references);
    return { kind: 'covers', ...this.base(start ?? blank), covered };
  });

  protected readonly timed = this.RULE('timed', (start: Start): tree.Statement => {
    this.CONSUME(K('at'));
    const position = this.SUBRULE(this.crankPosition, { ARGS: [this.choicesOf(start)] });
    return { kind: 'timed', ...this.base(start ?? blank), ...position };
  });
}
