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

/** Every help page that has one in this language beside it: `torque/missing.de.md` says what `torque/missing.md` says. */
export function pagesIn(root, language) {
  const checks = join(root, 'server', 'checks');
  const rows = {};
  for (const name of readdirSync(checks, { recursive: true }).filter((each) => each.endsWith(`.${language}.md`))) {
    const said = readFileSync(join(checks, name), 'utf8');
    const english = readFileSync(join(checks, name.replace(`.${language}.md`, '.md')), 'utf8');
    rows[english] = said;
    rows[firstOfPage(english)] = firstOfPage(said);
  }
  return rows;
}

/** What a help page says first, without its heading and examples: as catalog.ts has it. */
function firstOfPage(page) {
  return page.replace(/^#[^\n]*\n+/, '').split(/\n\s*\n/)[0] ?? '';
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
