// What the copies of Fettle (anew.ts) have in common, since no text that is read changes it: the parser's library, the kinds of token, and
// what the library works out of the rules before it reads anything.
import * as library from 'chevrotain';

export * as tokens from '../grammar/tokens.ts';

/** What a parser of the library knows of its rules, once it has looked at them; its types keep it back. */
interface Analysed {
  readonly className: string;
  selfAnalysisDone: boolean;
  gastProductionsCache: unknown;
  lookAheadFuncsCache: unknown;
}

const analysed = new Map<string, Analysed>();

/** The rules are the same in every copy: they are gone through once. What a parser keeps of what it reads is its own. */
class AnalysedOnce extends library.EmbeddedActionsParser {
  protected override performSelfAnalysis(): void {
    const own = this as unknown as Analysed;
    const before = analysed.get(own.className);
    if (before === undefined) {
      super.performSelfAnalysis();
      analysed.set(own.className, {
        className: own.className,
        selfAnalysisDone: true,
        gastProductionsCache: own.gastProductionsCache,
        lookAheadFuncsCache: own.lookAheadFuncsCache,
      });
    } else Object.assign(own, before);
  }
}

export const chevrotain = { ...library, EmbeddedActionsParser: AnalysedOnce };
