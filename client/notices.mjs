// The licences of what others wrote and the bundles hold, gathered while building from the bundler's own account of what went in.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** The folder of the package that a file belongs to, from the root of the project; undefined for a file of ours. */
function packageFolder(file) {
  return /^(?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+(?=\/)/.exec(file)?.[0];
}

/** The texts of a package's licence and notices, by the names of their files. Throws where it has none. */
function licenceTexts(folder) {
  const names = readdirSync(folder)
    .filter((name) => /^(?:licen[cs]e|copying|notice)(?:[.-][\w.-]*)?$/i.test(name))
    .sort();
  const texts = names.map((name) => readFileSync(join(folder, name), 'utf8').replaceAll('\r\n', '\n').trim());
  if (!names.some((name) => !/^notice/i.test(name))) throw new Error(`no text of a licence lies in ${folder}`);
  return texts;
}

/** The notices for bundles, from the bundler's metafiles: each package once, by name, with the texts that must go with it. */
export function noticesFor(root, metafiles) {
  const files = metafiles.flatMap((each) =>
    Object.values(each.outputs).flatMap((output) =>
      Object.entries(output.inputs).flatMap(([file, { bytesInOutput }]) => (bytesInOutput > 0 ? [file] : [])),
    ),
  );
  const folders = [...new Set(files.flatMap((file) => packageFolder(file) ?? []))];
  const packages = new Map();
  for (const folder of folders) {
    const at = join(root, folder);
    if (!existsSync(join(at, 'package.json'))) throw new Error(`${folder} has no package.json`);
    const { name, version, license } = JSON.parse(readFileSync(join(at, 'package.json'), 'utf8'));
    if (typeof license !== 'string') throw new Error(`${folder} does not name its licence`);
    packages.set(`${name} ${version}`, { title: `${name} ${version} (${license})`, texts: licenceTexts(at) });
  }
  const parts = [...packages.keys()].sort().map((key) => {
    const { title, texts } = packages.get(key);
    return `${'='.repeat(78)}\n${title}\n${'='.repeat(78)}\n\n${texts.join('\n\n')}\n`;
  });
  const head = 'Fettle holds work of others. Each is named here with its licence, as its licence asks.\n';
  return [head, ...parts].join('\n');
}
