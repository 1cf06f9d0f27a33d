// Reads the statements in the braces of a declaration: a rule for each shape of the vocabulary, each family of them in a file of its own.
import { nearest } from './nearest.ts';
import { RecordStatements } from './record-statements.ts';
import { blank, K, type Start } from './statement-start.ts';
import * as say from './syntax-messages.ts';
import * as t from './tokens.ts';
import { told } from './told.ts';
import type * as tree from './tree.ts';
import { Unreadable } from './value-parser.ts';
import { type Shape, type StatementWord, statementRow, statementsOf, usualForm } from './vocabulary.ts';

/** What of a limit stands before its braces. */
const LIMIT_CLAUSES = [
  ...['each', 'of', 'kind', 'measured', 'readings', 'within', 'over', 'for-each', 'wear-limit', 'otherwise', 'per'],
];

export class StatementParser extends RecordStatements {
  /** `drop dimension skirt`, `drop single-use`; in a table of grades the name of a row. */
  protected readonly drop = this.RULE('drop', (start: Start): tree.Statement => {
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

  protected readonly gradeRow = this.RULE('gradeRow', (): tree.Statement => {
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

  protected readonly rules: Readonly<Record<Shape, (start: Start) => tree.Statement>> = {
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
        const outer = this.wanted;
        this.wanted = row.unit ?? [];
        try {
          statement = this.subrule(
            shapes.indexOf(row.shape),
            rule as never,
            { ARGS: [start] } as never,
          ) as unknown as tree.Statement;
        } finally {
          // A statement with a fault is left by an exception; what it wanted is nothing to the next.
          this.wanted = outer;
        }
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
