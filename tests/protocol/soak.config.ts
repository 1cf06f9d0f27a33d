// What `npm run soak` runs: the long soak alone.
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';
import { markdownAsText } from '../markdown-as-text.ts';

export default defineConfig({
  root: fileURLToPath(new URL('../..', import.meta.url)),
  plugins: [markdownAsText()],
  test: { include: ['tests/protocol/soak-long.ts'], disableConsoleIntercept: true },
});
