// What `npm test` runs: everything under tests/ that needs neither a browser nor an installed editor.
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';
import { markdownAsText } from './markdown-as-text.ts';

/** Files that put something else in a module's place, change the folder, or count what a process does: each has a process of its own. */
const ALONE = [
  'tests/command-line/git-barred.test.ts',
  'tests/command-line/write.test.ts',
  'tests/grammar/lookahead.test.ts',
  'tests/growth/**/*.test.ts',
  'tests/workspace/contained.test.ts',
  'tests/workspace/let-go.test.ts',
];

/** What takes longest, the longest first. Begun last, one of them would keep a core at work while the other has nothing left to do. */
const LONG = [
  'workspace/kept',
  'workspace/fresh',
  'checks/properties',
  'review/properties',
  'pages/german',
  'workspace/level',
  'workspace/variants',
  'features/reach-job',
  'command-line/second-start',
  'command-line/installed',
  'protocol/soak',
  'rehearsal/bench-cases',
  'rehearsal/mutations',
];

/** Those that stand alone, then the long ones, then the rest as the runner has them. */
class LongFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ project, moduleId }: TestSpecification): number => {
      // One of these between the others would end the process that they share.
      if (project.name === 'alone') return -1;
      const at = LONG.findIndex((name) => moduleId.endsWith(`/tests/${name}.test.ts`));
      return at < 0 ? LONG.length : at;
    };
    return (await super.sort(files)).sort((one, other) => rank(one) - rank(other));
  }
}

const base = {
  root: fileURLToPath(new URL('..', import.meta.url)),
  plugins: [markdownAsText()],
};
/** What is kept for the next start is not kept in the home of who runs the tests. */
const FETTLE_CACHE = fileURLToPath(new URL('../node_modules/.cache/fettle', import.meta.url));
const OTHERS = ['tests/workbench/**', 'node_modules/**'];
const testTimeout = 240_000;
/**
 * The engine compiles a function for speed later than it would by itself. Most of what tests run is run a few times, often in a copy of Fettle
 * that is let go of right after (`anew.ts`): compiling took as long as running.
 */
const execArgv = ['--interrupt-budget=600000'];

export default defineConfig({
  ...base,
  test: {
    // By itself the runner leaves one core idle, which is half of a small machine.
    maxWorkers: '100%',
    env: { FETTLE_CACHE },
    sequence: { sequencer: LongFirst },
    projects: [
      { ...base, test: { name: 'alone', include: ALONE, exclude: OTHERS, testTimeout, execArgv } },
      {
        ...base,
        // The rest read Fettle's modules once in a process, not once in a file.
        test: {
          name: 'together',
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: [...OTHERS, ...ALONE],
          testTimeout,
          execArgv,
          isolate: false,
        },
      },
    ],
  },
});
