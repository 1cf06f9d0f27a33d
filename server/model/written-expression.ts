// The sum of a limit as its spec writes it.
import type { Limit } from './view.ts';

/** The expression of a limit as it is written. */
export function writtenExpression(limit: Limit): string {
  const expression = limit.expression;
  return expression === undefined
    ? ''
    : limit.placed.section.text.slice(expression.start, expression.end).replace(/\s+/g, ' ');
}
