// What `npm run film` runs: the minute of moving pictures on the extension's first page. It is no test of the project and runs by hand, after a
// change of what it shows; it needs what the workbench tests need, and imagemagick and gifsicle.
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: fileURLToPath(new URL('../../..', import.meta.url)),
  test: {
    include: ['tests/workbench/film/*.film.ts'],
    globalSetup: ['tests/workbench/prepare.ts'],
    fileParallelism: false,
    maxWorkers: 1,
    bail: 1,
    testTimeout: 300_000,
    hookTimeout: 180_000,
  },
});
