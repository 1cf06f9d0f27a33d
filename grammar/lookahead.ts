// What the parser looks at before it chooses: the next token, and no more. The library works out path by path, and anew wherever a rule
// leads to another, which tokens tell alternatives apart; for one token the set of those that may come first is enough, and each rule is
// gone through once. It chooses as the library does with `maxLookahead: 1`, and is built in a fraction of the time.
import {
  Alternation,
  Alternative,
  type ILookaheadStrategy,
  type IOrAlt,
  type IProduction,
  LLkLookaheadStrategy,
  NonTerminal,
  Option,
  type OptionalProductionType,
  Repetition,
  RepetitionMandatory,
  RepetitionMandatoryWithSeparator,
  RepetitionWithSeparator,
  Rule,
  Terminal,
  type TokenType,
} from 'chevrotain';

/** The tokens that something may begin with, and whether it may be nothing at all. */
interface First {
  readonly tokens: ReadonlySet<TokenType>;
  readonly isEmpty: boolean;
}

/** A parser as the library calls what is made here. */
interface Looking {
  LA_FAST(howMuch: number): { readonly tokenTypeIdx: number };
}

type Alternatives = readonly IOrAlt<unknown>[];

const NOTHING: First = { tokens: new Set(), isEmpty: true };

/** Whether a token of each type is one of some, or of a kind that is one of them; by number of the type. */
function numbersOf(tokens: ReadonlySet<TokenType>): readonly boolean[] {
  const numbers: boolean[] = [];
  for (const { tokenTypeIdx, categoryMatches } of tokens) {
    if (tokenTypeIdx !== undefined) numbers[tokenTypeIdx] = true;
    for (const each of categoryMatches ?? []) numbers[each] = true;
  }
  return numbers;
}

export class OneTokenAhead extends LLkLookaheadStrategy {
  private readonly ofRule = new Map<Rule, First>();

  constructor() {
    super({ maxLookahead: 1 });
  }

  override buildLookaheadForAlternation({
    prodOccurrence,
    rule,
    hasPredicates,
  }: Parameters<ILookaheadStrategy['buildLookaheadForAlternation']>[0]): ReturnType<
    ILookaheadStrategy['buildLookaheadForAlternation']
  > {
    const found = productionIn(rule, Alternation, prodOccurrence);
    const firsts = (found?.definition ?? []).map((each) => this.firstOf([each]));
    const fits = firsts.map(({ tokens }) => numbersOf(tokens));
    if (hasPredicates)
      return function (this: Looking, alternatives: Alternatives = []) {
        const { tokenTypeIdx } = this.LA_FAST(1);
        for (let i = 0; i < fits.length; i += 1) {
          if (alternatives[i]?.GATE?.call(this) === false) continue;
          if (firsts[i]?.isEmpty === true || fits[i]?.[tokenTypeIdx] === true) return i;
        }
        return undefined;
      } as never;
    const chosen: number[] = [];
    let otherwise: number | undefined;
    for (const [i, numbers] of fits.entries()) {
      for (const number of numbers.keys()) if (numbers[number] === true) chosen[number] ??= i;
      if (firsts[i]?.isEmpty !== true) continue;
      otherwise = i;
      break;
    }
    return function (this: Looking) {
      return chosen[this.LA_FAST(1).tokenTypeIdx] ?? otherwise;
    } as never;
  }

  override buildLookaheadForOptional({
    prodOccurrence,
    prodType,
    rule,
  }: Parameters<ILookaheadStrategy['buildLookaheadForOptional']>[0]): () => boolean {
    const found = productionIn(rule, OPTIONAL[prodType], prodOccurrence);
    const { tokens, isEmpty } = found === undefined ? NOTHING : this.firstOf(found.definition);
    if (isEmpty) return () => true;
    const fits = numbersOf(tokens);
    return function (this: Looking) {
      return fits[this.LA_FAST(1).tokenTypeIdx] === true;
    } as never;
  }

  /** What a row of productions may begin with. */
  private firstOf(row: readonly IProduction[]): First {
    const tokens = new Set<TokenType>();
    for (const each of row) {
      const first = this.firstOfOne(each);
      for (const token of first.tokens) tokens.add(token);
      if (!first.isEmpty) return { tokens, isEmpty: false };
    }
    return { tokens, isEmpty: true };
  }

  private firstOfOne(one: IProduction): First {
    if (one instanceof Terminal) return { tokens: new Set([one.terminalType]), isEmpty: false };
    if (one instanceof NonTerminal) return this.firstOfRule(one.referencedRule);
    if (one instanceof Alternation) {
      const all = one.definition.map((each) => this.firstOf([each]));
      return {
        tokens: new Set(all.flatMap((each) => [...each.tokens])),
        isEmpty: all.some((each) => each.isEmpty),
      };
    }
    if (one instanceof Option || one instanceof Repetition || one instanceof RepetitionWithSeparator)
      return { tokens: this.firstOf(one.definition).tokens, isEmpty: true };
    if (one instanceof RepetitionMandatory || one instanceof RepetitionMandatoryWithSeparator)
      return this.firstOf(one.definition);
    return one instanceof Alternative || one instanceof Rule ? this.firstOf(one.definition) : NOTHING;
  }

  private firstOfRule(rule: Rule): First {
    let known = this.ofRule.get(rule);
    if (known === undefined) {
      known = this.firstOf(rule.definition);
      this.ofRule.set(rule, known);
    }
    return known;
  }
}

const OPTIONAL = {
  Option,
  Repetition,
  RepetitionMandatory,
  RepetitionMandatoryWithSeparator,
  RepetitionWithSeparator,
} as const satisfies Record<OptionalProductionType, unknown>;

interface WithDefinition extends IProduction {
  readonly definition: IProduction[];
  readonly idx?: number;
}

/** The production of a kind and a number in a rule, wherever it stands in it. */
function productionIn<kind extends WithDefinition>(
  rule: Rule,
  kind: new (...given: never[]) => kind,
  occurrence: number,
): kind | undefined {
  const waiting: IProduction[] = [...rule.definition];
  for (let one = waiting.pop(); one !== undefined; one = waiting.pop()) {
    if (one instanceof kind && one.idx === occurrence) return one;
    if (!(one instanceof Terminal) && !(one instanceof NonTerminal) && 'definition' in one)
      waiting.push(...(one as WithDefinition).definition);
  }
  return undefined;
}
