// What a sum is made of, by its length: a sum is as deep as it is long, so nothing that goes through one calls itself for each term.
import type { Binary, Expression, Quantity, ReferenceTerm } from './tree.ts';

/** A sum or a product by its length: its first term, and each further one with the sign before it. */
export interface Terms {
  readonly first: Expression;
  readonly further: readonly Binary[];
}

const isSum = ({ operator }: Binary): boolean => operator === '+' || operator === '-';

/** The terms of a sum, or of a product. */
export function termsOf(whole: Binary): Terms {
  const further: Binary[] = [];
  let first: Expression = whole;
  while (first.kind === 'binary' && isSum(first) === isSum(whole)) {
    further.push(first);
    first = first.left;
  }
  return { first, further: further.reverse() };
}

/** All figures and names in an expression, in the order in which they stand. */
export function leavesOf(expression: Expression | undefined): readonly (Quantity | ReferenceTerm)[] {
  const leaves: (Quantity | ReferenceTerm)[] = [];
  const left: Expression[] = expression === undefined ? [] : [expression];
  for (let next = left.pop(); next !== undefined; next = left.pop()) {
    if (next.kind === 'binary') left.push(next.right, next.left);
    else if (next.kind === 'negated') left.push(next.operand);
    else if (next.kind === 'call') for (const operand of [...next.operands].reverse()) left.push(operand);
    else leaves.push(next);
  }
  return leaves;
}
