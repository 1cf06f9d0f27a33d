import { isDeepStrictEqual } from 'node:util';
import { expect } from 'vitest';

/**
 * Holds something large against another. Where both are the same a stricter comparison says so in a fraction of the time that the runner's own
 * takes; where they are not, that one says what differs.
 */
export function expectSame(found: unknown, wanted: unknown, about?: string): void {
  if (!isDeepStrictEqual(found, wanted)) expect(found, about).toEqual(wanted);
}
