// What `npm run test:workbench` runs: the extension in a real editor in a real browser. Takes minutes, and installs
// what it needs into a cache folder on its first run.
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: fileURLToPath(new URL('../..', import.meta.url)),
  test: {
    include: ['tests/workbench/**/*.test.ts'],
    // Works through every job of every sample, which takes longer than all the rest: `npm run test:pages` has it.
    exclude: ['tests/workbench/pages/every-job.test.ts'],
    globalSetup: ['tests/workbench/prepare.ts'],
    fileParallelism: false,
    maxWorkers: 1,
    // Each test goes on from where the one before it left the editor.
    bail: 1,
    testTimeout: 120_000,
    hookTimeout: 180_000,
  },
});
