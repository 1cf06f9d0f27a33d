// What an editor is given of findings, over edits of the texts that they stand in: it is what is made of them anew, and goes under the same
// number only where it holds the same.
import { expect, test } from 'vitest';
import { IN_ENGLISH, told } from '../../grammar/told.ts';
import { type Finding, said, titled } from '../../server/model/finding.ts';
import { diagnosticOf } from '../../server/protocol/convert.ts';
import { diagnosticCache } from '../../server/protocol/diagnostic-cache.ts';
import { createDocuments } from '../../server/workspace/documents.ts';
import { positionAt } from '../../server/workspace/lines.ts';
import { dice, type Roll } from '../dice.ts';

const OWN = 'file:///a/own.fettle';
const OTHER = 'file:///a/other.fettle';
const FILES = [OWN, OTHER];

/** A text of some thousand lines of unlike length, which is held in several pieces. */
const textOf = (roll: Roll): string =>
  Array.from({ length: 1500 }, () => `# ${'x'.repeat(roll(12))}${roll(20) === 0 ? '\r' : ''}\n`).join('');

const SENTENCES = Array.from({ length: 12 }, (_, i) => told`This is finding ${i}.`);

interface Place {
  readonly file: string;
  readonly start: number;
  readonly end: number;
}

/** Stretches of the texts that stay what they are while something is typed round them. */
interface Pinned {
  readonly file: string;
  start: number;
  end: number;
}

function findingOf(at: readonly Pinned[], i: number, severity: Finding['severity']): Finding {
  const place = (pinned: Pinned | undefined): Place => ({
    file: pinned?.file ?? OWN,
    start: pinned?.start ?? 0,
    end: pinned?.end ?? 0,
  });
  const sentence = SENTENCES[i] ?? told`More.`;
  const [own, related, fix] = at;
  return {
    code: `area/${i % 3}`,
    severity,
    ...place(own),
    ...said(sentence),
    ...(i % 4 === 0 ? { variants: ['road'] } : {}),
    related: i % 2 === 0 ? [{ ...place(related), ...said(sentence) }] : [],
    fixes: i % 3 === 0 ? [{ ...titled(sentence), edits: [{ ...place(fix), text: 'y' }] }] : [],
  };
}

/** Moves what stands behind an edit; what it reaches into is pinned anew by chance. */
function move(
  all: readonly Pinned[],
  file: string,
  edit: { start: number; end: number; by: number },
  length: number,
  roll: Roll,
): void {
  for (const each of all) {
    if (each.file !== file || each.end < edit.start) continue;
    if (each.start >= edit.end) {
      each.start += edit.by;
      each.end += edit.by;
      continue;
    }
    each.start = roll(length);
    each.end = Math.min(length, each.start + roll(40));
  }
}

test.each([1, 2, 3, 4, 5, 6])('after random edits (%i)', (seed) => {
  const roll = dice(seed);
  const documents = createDocuments();
  for (const file of FILES) documents.open(file, 1, textOf(roll));
  const kept = diagnosticCache(documents);
  const pinned = SENTENCES.map(() =>
    [OWN, FILES[roll(2)] ?? OWN, FILES[roll(2)] ?? OWN].map((file): Pinned => {
      const start = roll(documents.lines(file).length);
      return { file, start, end: start + roll(30) };
    }),
  );
  const all = pinned.flat();
  let version = 1;
  let before: { readonly text: string; readonly number: string } | undefined;
  let same = 0;
  let there = SENTENCES.map(() => true);
  for (let round = 0; round < 300; round += 1) {
    const file = FILES[roll(4) === 0 ? 1 : 0] ?? OWN;
    const lines = documents.lines(file);
    const start = roll(lines.length);
    const end = Math.min(lines.length, start + (roll(3) === 0 ? roll(60) : 0));
    const put = ['x', 'xyz', '\n', 'a\nb', '\r', ''][roll(6)] ?? '';
    version += 1;
    documents.change(file, version, [
      { range: { start: positionAt(lines, start), end: positionAt(lines, end) }, text: put },
    ]);
    move(
      all,
      file,
      { start, end, by: documents.lines(file).length - lines.length },
      documents.lines(file).length,
      roll,
    );
    // Now and then others are found, and some weigh otherwise.
    if (roll(4) === 0) there = SENTENCES.map(() => roll(9) > 0);
    const severity = roll(30) === 0 ? 'warning' : 'error';
    const findings = pinned.flatMap((at, i) => (there[i] === true ? [findingOf(at, i, severity)] : []));
    const given = kept.of(OWN, findings, IN_ENGLISH, undefined);
    const anew = findings.map((finding) => diagnosticOf(documents, finding, IN_ENGLISH, undefined));
    expect(given).toEqual(anew);
    const now = { text: JSON.stringify(given), number: kept.numberOf(OWN, given) };
    if (before !== undefined) expect(now.number === before.number).toBe(now.text === before.text);
    if (now.number === before?.number) same += 1;
    before = now;
  }
  expect(same).toBeGreaterThan(0);
});
