// What the two clients have in common stands in one bundle only, that of the browser, where everything must be in one file; the client
// of the desktop loads it from there. Each module in it is made when it is first asked for, so that nothing of the browser's runs on the desktop.
import { join, relative } from 'node:path';
import { build } from 'esbuild';

const posix = (path) => path.split('\\').join('/');

/** The modules (paths from the root) that all of these bundles hold. */
export async function commonModules(root, bundles) {
  const held = await Promise.all(
    bundles.map(async ({ from, to, ...how }) => {
      const { metafile } = await build({
        ...how,
        outfile: to,
        absWorkingDir: root,
        entryPoints: [from],
        bundle: true,
        write: false,
        metafile: true,
        logLevel: 'silent',
      });
      return new Set(Object.keys(metafile.inputs).filter((path) => path !== from));
    }),
  );
  const [first, ...others] = held;
  return [...first].filter((path) => others.every((each) => each.has(path))).sort();
}

/** The text of the bundle that holds them: what the entry exports, and `shared`, a function by number for each common module. */
export function holderText(entry, exported, common) {
  const ways = exported.map(
    (name) => `exports.${name} = (...given) => require(${JSON.stringify(`./${entry}`)}).${name}(...given);`,
  );
  const shared = common.map((path) => `() => require(${JSON.stringify(`./${path}`)})`);
  return [...ways, `exports.shared = [${shared.join(',\n')}];`].join('\n');
}

/** Lets a bundle take the common modules from `holder` in place of holding them itself. */
export function takenFrom(holder, root, common) {
  const numbers = new Map(common.map((path, number) => [path, number]));
  return {
    name: 'taken-from-the-other-client',
    setup(making) {
      making.onResolve({ filter: /.*/ }, async (asked) => {
        if (asked.pluginData === holder || asked.kind === 'entry-point') return undefined;
        if (asked.path === holder) return { path: holder, external: true };
        const { importer, kind, namespace, resolveDir, path } = asked;
        const found = await making.resolve(path, { importer, kind, namespace, resolveDir, pluginData: holder });
        const number = found.external ? undefined : numbers.get(posix(relative(root, found.path)));
        return number === undefined ? undefined : { path: String(number), namespace: 'shared' };
      });
      making.onLoad({ filter: /.*/, namespace: 'shared' }, (asked) => ({
        contents: `module.exports = require(${JSON.stringify(holder)}).shared[${asked.path}]();`,
        resolveDir: join(root, 'client'),
      }));
    },
  };
}
