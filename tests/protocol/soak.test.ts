// Hundreds of edits over specs that use each other: after each hundred the findings told are those of a fresh reading. The long run,
// of twenty thousand in a process whose memory is watched, is soak-long.ts.
import { test } from 'vitest';
import { inMemory } from './editor.ts';
import { keptUp, startSoak } from './soak.ts';

const ROUNDS = 6;

test('findings never lag behind the texts', { timeout: 300_000 }, async () => {
  const editor = await inMemory();
  const soak = await startSoak(editor, 7);
  for (let round = 1; round <= ROUNDS; round += 1) await keptUp(editor, soak, round);
  await editor.end();
});
