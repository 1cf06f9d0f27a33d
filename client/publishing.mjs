// What a package needs only when it is published: who publishes it and where its home is. That is not the project's to say, so it is read
// from .publishing.json at the top (kept out of git): { "publisher", "repository", "branch", "homepage", "bugs" }. Without it, packages are made
// for this shop alone.
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** The settings of the packing, each `undefined` where it was not said. Throws where the file is there and can't be read as such. */
export function publishingSettings(root) {
  const path = join(root, '.publishing.json');
  if (!existsSync(path)) return {};
  const said = JSON.parse(readFileSync(path, 'utf8'));
  const known = ['publisher', 'repository', 'branch', 'homepage', 'bugs'];
  const wrong = Object.entries(said).filter(([name, value]) => !known.includes(name) || typeof value !== 'string');
  if (wrong.length > 0)
    throw new Error(
      `.publishing.json says ${wrong.map(([name]) => name).join(', ')}, and knows ${known.join(', ')} only, each a text`,
    );
  return said;
}

/** Where the project can be found, as both kinds of manifest say it. */
function home({ repository, homepage, bugs }) {
  return {
    ...(repository && { repository: { type: 'git', url: `${repository}.git` } }),
    ...((homepage ?? repository) && { homepage: homepage ?? repository }),
    ...((bugs ?? repository) && { bugs: { url: bugs ?? `${repository}/issues` } }),
  };
}

/** All help pages on one, for editors that open a link: VS Code shows each beside the spec, and needs no such file. */
export const HELP_PAGE = 'dist/help.html';

/** The manifest of the packed extension: what an editor reads, and nothing of how the project is built. */
export function extensionManifest(manifest, settings) {
  const { private: _, scripts: _scripts, devDependencies: _needed, bin: _bin, files, ...rest } = manifest;
  return {
    ...rest,
    ...(settings.publisher && { publisher: settings.publisher }),
    ...home(settings),
    files: [...files.filter((path) => path !== HELP_PAGE), 'package.nls*.json'],
  };
}

/** What the command's package holds: all that is shipped, but what only an editor reads. A path may end in a pattern with `*`. */
export function commandFiles(manifest) {
  return manifest.files.filter((path) => !/^(?:client\/|dist\/client-|grammar\/.*\.json$)/.test(path));
}

/** The manifest of the command's package: nothing is built or needed where it is installed. */
export function commandManifest(manifest, settings) {
  const { name, version, description, license, keywords, engines, bin } = manifest;
  return {
    name,
    version,
    description,
    license,
    keywords,
    ...home(settings),
    engines: { node: engines.node },
    bin,
    files: commandFiles(manifest),
  };
}

/**
 * The links and pictures of a page that goes into a package: one to a file in the package stays, another leads to the project's home,
 * if one was named; else the words of a link stay without it, and a picture goes.
 * @param packed says of a path whether it is in the package
 */
export function packedLinks(text, packed, { repository, branch = 'main' }) {
  return text.replace(/(!?)\[([^\]]*)\]\(([^)\s]+)\)/g, (whole, picture, words, to) => {
    const [path] = to.split('#');
    if (/^[a-z]+:/.test(to) || path === '' || packed(path)) return whole;
    if (repository === undefined) return picture ? '' : words;
    return `${picture}[${words}](${repository}/${picture ? 'raw' : 'blob'}/${branch}/${to})`;
  });
}

/**
 * What stands in the way of publishing, a line each, in the order in which it is put right.
 * @param state `changed`: files that differ from the last commit; `tags`: the tags of the repository; `has`: says of a path whether it is there;
 *   `changelog`, `sizes`: their texts and the bytes of what was packed, by name
 */
export function missingForRelease(manifest, settings, { changed, tags, has, changelog, sizes }) {
  const lines = [];
  const want = (holds, line) => holds || lines.push(line);
  const { version } = manifest;
  want(
    changed.length === 0,
    `Not committed: ${changed.slice(0, 5).join(', ')}${changed.length > 5 ? ` and ${changed.length - 5} more` : ''}.`,
  );
  want(
    !tags.includes(`v${version}`),
    `Version ${version} is out already (tag v${version}): raise "version" in package.json.`,
  );
  want(
    new RegExp(`^## \\[${version.replaceAll('.', '\\.')}\\] - \\d{4}-\\d{2}-\\d{2}$`, 'm').test(changelog),
    `CHANGELOG.md has no heading "## [${version}] - YEAR-MONTH-DAY".`,
  );
  const unreleased = /^## Unreleased\n([\s\S]*?)(?=^## |(?![\s\S]))/m.exec(changelog)?.[1] ?? '';
  want(unreleased.trim() === '', 'CHANGELOG.md still has lines under "Unreleased": put them under the version.');
  for (const [name, why] of [
    ['publisher', 'the name under which the market place knows you'],
    ['repository', 'the address of the project, without .git'],
  ])
    want(settings[name] !== undefined, `.publishing.json does not say "${name}": ${why}.`);
  for (const name of ['repository', 'homepage', 'bugs'])
    want(
      settings[name] === undefined || /^https:\/\/\S+[^/]$/.test(settings[name]),
      `"${name}" in .publishing.json is no address that begins with https:// and ends without a stroke.`,
    );
  for (const path of ['client/media/icon.png', 'LICENSE', 'README.md', 'client/extension-readme.md'])
    want(has(path), `${path} is not there.`);
  for (const [name, most] of [['dist/fettle.vsix', 1_000_000]]) {
    want(sizes[name] !== undefined, `${name} was not made: npm run package.`);
    want(!(sizes[name] > most), `${name} holds ${sizes[name]} bytes, more than ${most}.`);
  }
  return lines;
}
