// Writes the files of this folder that are made from the table of words. Run by `npm run generate` after a change
// of the table; a test fails while the written files are out of step.
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const here = (name) => fileURLToPath(new URL(name, import.meta.url));
const { outputFiles } = await build({
  entryPoints: [here('highlighting.ts')],
  bundle: true,
  format: 'esm',
  write: false,
});
const { highlightingFile } = await import(
  `data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString('base64')}`
);
writeFileSync(here('fettle.tmLanguage.json'), highlightingFile());
console.log('grammar/fettle.tmLanguage.json is in step with the table of words.');
