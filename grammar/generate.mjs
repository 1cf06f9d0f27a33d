// Writes the files of this folder that are made from the table of words. Run by `npm run generate` after a change
// of the table; a test fails while the written files are out of step.
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const here = (name) => fileURLToPath(new URL(name, import.meta.url));
/** The exports of a TypeScript file of this folder. */
async function load(name) {
  const { outputFiles } = await build({ entryPoints: [here(name)], bundle: true, format: 'esm', write: false });
  return import(`data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString('base64')}`);
}

const { highlightingFile } = await load('highlighting.ts');
writeFileSync(here('fettle.tmLanguage.json'), highlightingFile());
console.log('grammar/fettle.tmLanguage.json is in step with the table of words.');

const { withTables } = await load('reference-tables.ts');
writeFileSync(here('reference.md'), withTables(readFileSync(here('reference.md'), 'utf8')));
console.log('grammar/reference.md is in step with the table of words.');
