// What `npm run test:pages` runs: the bench page, the sheet and the review in a real browser, without an editor.
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: fileURLToPath(new URL('../..', import.meta.url)),
  test: {
    include: ['tests/workbench/pages/*.test.ts'],
    globalSetup: ['tests/workbench/prepare-page.ts'],
    fileParallelism: false,
    maxWorkers: 1,
    testTimeout: 300_000,
    hookTimeout: 120_000,
  },
});
