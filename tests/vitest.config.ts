// What `npm test` runs: everything under tests/ that needs neither a browser nor an installed editor.
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';
import { markdownAsText } from './markdown-as-text.ts';

export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  plugins: [markdownAsText()],
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    exclude: ['tests/workbench/**'],
    testTimeout: 240_000,
    // By itself the runner leaves one core idle, which is half of a small machine.
    maxWorkers: '100%',
  },
});
