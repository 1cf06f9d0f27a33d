// Mistakes and reorderings of the bench in the samples, as a builder writes them: each mistake is found by the finding that is named, no
// right work is reddened. Common practice, no source, but for what the specs say themselves. How a case is written stands at the head of
// bench-cases.txt; bench-cases-otherwise.txt has the same mistakes made at another place or in another way.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Finding } from '../../server/model/finding.ts';
import { analyseText } from '../annotated.ts';

const folder = join(import.meta.dirname, '../../samples');
const files = Object.fromEntries(
  readdirSync(folder)
    .filter((name) => name.endsWith('.fettle'))
    .map((name) => [name, readFileSync(join(folder, name), 'utf8')]),
);

interface Hunk {
  /** Words of lines that come before, one after the other. */
  readonly behind: readonly string[];
  readonly old: string[];
  readonly fresh: string[];
}

interface Case {
  readonly kind: 'fault' | 'right';
  readonly sample: string;
  readonly what: string;
  code: string;
  readonly hunks: Hunk[];
}

function read(text: string): readonly Case[] {
  const cases: Case[] = [];
  for (const line of text.split('\n')) {
    const head = /^(fault|right) ([\w-]+): (.*)$/.exec(line);
    const last = cases.at(-1);
    if (head !== null)
      cases.push({
        kind: head[1] === 'fault' ? 'fault' : 'right',
        sample: head[2] ?? '',
        what: head[3] ?? '',
        code: '',
        hunks: [],
      });
    else if (last === undefined || line === '' || line.startsWith('#')) continue;
    else if (line.startsWith('= ')) last.code = line.slice(2);
    else if (line.startsWith('@ ')) last.hunks.push({ behind: line.slice(2).trim().split(' >> '), old: [], fresh: [] });
    else {
      let hunk = last.hunks.at(-1);
      const isOld = line.startsWith('<');
      if (hunk === undefined || (isOld && hunk.fresh.length > 0)) {
        hunk = { behind: [], old: [], fresh: [] };
        last.hunks.push(hunk);
      }
      (isOld ? hunk.old : hunk.fresh).push(line.slice(2));
    }
  }
  return cases;
}

function changed(text: string, hunks: readonly Hunk[]): string {
  const lines = text.split('\n');
  for (const { behind, old, fresh } of hunks) {
    let from = 0;
    for (const words of behind) {
      const at = lines.findIndex((line, i) => i >= from && line.includes(words));
      if (at < 0) throw new Error(`no line with ${words}`);
      from = at + 1;
    }
    const first = old.length === 0 || behind.length === 0 ? from : from - 1;
    const at = lines.findIndex(
      (_line, i) => i >= first && old.every((line, k) => lines[i + k]?.trim() === line.trim()),
    );
    if (at < 0) throw new Error(`not there: ${old.join(' | ')}`);
    lines.splice(old.length === 0 ? from : at, old.length, ...fresh);
  }
  return lines.join('\n');
}

const findings = (sample: string, text: string): readonly Finding[] =>
  analyseText(text, files, `${sample}.fettle`).findings;

/** What a finding says, whatever it is counted from. */
const plain = ({ code, message }: Finding): string => `${code} ${message.replace(/\d+/g, '#')}`;

/** What is said of a sample as it stands. */
const known = new Map<string, readonly string[]>();

/** The codes of what is said of a changed text and not of the sample as it stands. */
function fresh({ sample, hunks }: Case): readonly { readonly code: string; readonly severity: string }[] {
  const own = files[`${sample}.fettle`] ?? '';
  const before = known.get(sample) ?? findings(sample, own).map(plain);
  known.set(sample, before);
  const left = [...before];
  return findings(sample, changed(own, hunks)).filter((each) => {
    const at = left.indexOf(plain(each));
    if (at >= 0) left.splice(at, 1);
    return at < 0 && each.code !== 'name/unused';
  });
}

const cases = ['bench-cases.txt', 'bench-cases-otherwise.txt'].flatMap((name) =>
  read(readFileSync(join(import.meta.dirname, name), 'utf8')),
);
const of = (kind: Case['kind']): readonly (readonly [string, string, Case])[] =>
  cases.flatMap((each) => (each.kind === kind ? [[each.sample, each.what, each] as const] : []));

test('there are many of both', () => {
  expect(of('fault').length).toBeGreaterThan(200);
  expect(of('right').length).toBeGreaterThan(30);
});

describe('mistakes', () => {
  test.each(of('fault'))('%s: %s', (_sample, _what, each) => {
    expect(fresh(each).map(({ code }) => code)).toContain(each.code);
  });
});

describe('right work in another order', () => {
  test.each(of('right'))('%s: %s', (_sample, _what, each) => {
    expect(fresh(each).filter(({ severity }) => severity !== 'information')).toEqual([]);
  });
});
