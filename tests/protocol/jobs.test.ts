// The jobs of a spec as tests: each in each variant, red at the action that does not hold.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { ServerAnswers } from '../../server/protocol/messages.ts';
import { type Editor, inMemory } from './editor.ts';

type Jobs = NonNullable<ServerAnswers['fettle/jobs']['result']>;

const TEXT = `spec s "S" {
  revision 1
  variants car, van
}

part block

part lid

part guard

sequence build {
  phase assemble
  starts-with block
  step one {
    fit lid onto block
    when van { fit guard onto lid }
  }
  step two {
    fit guard onto lid
  }
}

sequence off {
  phase teardown
  step three {
    remove lid
  }
}

job whole "The whole build" of s {
  begins bare
  sequences build
}

job lid-off of s {
  begins whole
  sequences off
}
`;

let editor: Editor;
beforeAll(async () => {
  editor = await inMemory();
  await editor.start();
});
afterAll(() => editor.end());

test('each job in each variant, and the line that does not hold', async () => {
  await editor.open(TEXT);
  const told = await editor.ask<Jobs>('fettle/jobs', { uri: 'file:///shop/a.fettle' });
  const of = (job: string, variant: string) => told.jobs.find((each) => each.job === job && each.variant === variant);
  expect(told.jobs).toHaveLength(4);
  expect(of('whole', 'car')).toMatchObject({ title: 'The whole build', holds: true });
  const van = of('whole', 'van');
  expect(van?.holds).toBe(false);
  expect(van?.found[0]).toMatchObject({ code: 'sequence/fitted-twice', severity: 'error' });
  const line = TEXT.split('\n').findLastIndex((each) => each.includes('fit guard onto lid'));
  expect(van?.found[0]?.range.start.line).toBe(line);
  expect(van?.range.start.line).toBe(TEXT.split('\n').findIndex((each) => each.startsWith('job whole')));
});

test('what is silenced in the spec stays silent here', async () => {
  const uri = 'file:///shop/allowed.fettle';
  await editor.open(TEXT.replace('step two {', 'step two {\n    allow sequence/fitted-twice because "A trial."'), uri);
  const told = await editor.ask<Jobs>('fettle/jobs', { uri });
  expect(told.jobs.filter((each) => each.job === 'whole').map((each) => each.holds)).toEqual([true, true]);
});

test('a spec without jobs has its sequences, one that can not be read says why, one without work has none', async () => {
  await editor.open(
    'part lid\n\nsequence a {\n  starts-with lid\n  step b {\n    clean lid\n  }\n}\n',
    'file:///shop/b.fettle',
  );
  const plain = await editor.ask<Jobs>('fettle/jobs', { uri: 'file:///shop/b.fettle' });
  expect(plain.jobs.map((each) => [each.job, each.variant])).toEqual([[null, null]]);
  await editor.open('part lid {\n  mass 9,5 kg\n}\n', 'file:///shop/c.fettle');
  const broken = await editor.ask<Jobs>('fettle/jobs', { uri: 'file:///shop/c.fettle' });
  expect([broken.fault?.code, broken.jobs]).toEqual(['syntax/decimal-comma', []]);
});
