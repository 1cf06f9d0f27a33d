// Twenty thousand edits (see soak.ts) against the bundled server in a process of its own, as `npm run soak`. After each hundred the
// findings told are those of a fresh reading, and what the process holds at the end is about what it held when it had warmed up.
import { expect, test } from 'vitest';
import { inProcess } from './editor.ts';
import { keptUp, startSoak } from './soak.ts';

/** Hundreds of edits; SOAK_ROUNDS asks for fewer. */
const ROUNDS = Number(process.env['SOAK_ROUNDS'] ?? 200);
const SEED = Number(process.env['SOAK_SEED'] ?? 1);
/** What a process may hold at the end, of what it held after a fifth of the edits, when what it keeps for taking back is full. */
const MOST_GROWTH = 1.3;

test('a long day at the editor', { timeout: 3_600_000 }, async () => {
  const editor = await inProcess();
  const held: number[] = [];
  const look = async (when: string): Promise<void> => {
    const megabytes = (await editor.memory()) / 2 ** 20;
    held.push(megabytes);
    process.stdout.write(
      `${when}: the server holds ${megabytes.toFixed(1)} MB after ${Math.round(performance.now() / 1000)} s\n`,
    );
  };
  const soak = await startSoak(editor, SEED);
  await look('start');
  for (let round = 1; round <= ROUNDS; round += 1) {
    await keptUp(editor, soak, round);
    if (round % (ROUNDS / 10) === 0) await look(`${round * 100} edits`);
  }
  const [, , warm = 0] = held;
  expect(held.at(-1)).toBeLessThan(warm * MOST_GROWTH);
  await editor.end();
});
