// Packs the translations: the rows of a language, by their short keys, into one file that is read only where that language is asked for.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { rowKey } from '../grammar/row-key.mjs';

/** The languages that there are rows of. */
export function languagesIn(root) {
  return readdirSync(join(root, 'server', 'translations'), { withFileTypes: true })
    .filter((each) => each.isDirectory())
    .map((each) => each.name);
}

/** All rows of a language as they are written: what is said, by the English sentence. */
export function rowsIn(root, language) {
  const folder = join(root, 'server', 'translations', language);
  const rows = {};
  for (const name of readdirSync(folder)
    .filter((each) => each.endsWith('.json'))
    .sort())
    for (const [english, said] of Object.entries(JSON.parse(readFileSync(join(folder, name), 'utf8')))) {
      if (english in rows) throw new Error(`${language} has two rows for: ${english}`);
      rows[english] = said;
    }
  return rows;
}

/** The paragraphs of a help page, with its heading first and without its examples and what stands above them. */
function paragraphsOf(page) {
  return page
    .replace(/^```\w*\n[\s\S]*?^```$/gm, '')
    .split(/\n\s*\n/)
    .map((each) => each.trim())
    .filter((each) => each !== '' && each !== 'Gives the finding:' && each !== 'Does not:');
}

/** Every help page that has one in this language beside it, as paragraphs: `torque/missing.de.md` says what `torque/missing.md` says. */
export function pagePairs(root, language) {
  const checks = join(root, 'server', 'checks');
  return readdirSync(checks, { recursive: true })
    .filter((name) => name.endsWith(`.${language}.md`))
    .map((name) => ({
      name,
      english: paragraphsOf(readFileSync(join(checks, name.replace(`.${language}.md`, '.md')), 'utf8')),
      said: paragraphsOf(readFileSync(join(checks, name), 'utf8')),
    }));
}

/** The paragraphs of the help pages of a language, each by the English one. */
export function pagesIn(root, language) {
  const pairs = pagePairs(root, language).flatMap(({ english, said }) =>
    english.slice(1).map((paragraph, i) => [paragraph, said[i + 1] ?? paragraph]),
  );
  return Object.fromEntries(pairs);
}

/** The rows by their short keys. Throws where two sentences come to one key. */
export function packed(rows) {
  const table = {};
  for (const [english, said] of Object.entries(rows)) {
    const key = rowKey(english);
    if (key in table) throw new Error(`two sentences have the key ${key}: change a word of ${english}`);
    table[key] = said;
  }
  return table;
}
