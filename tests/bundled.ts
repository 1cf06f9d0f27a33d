// Fettle in one file, as tests start it or make copies of it: bundled from one of its sources and all that this imports.
import { join } from 'node:path';
import { type BuildOptions, build, type Plugin } from 'esbuild';

const HOW = {
  absWorkingDir: join(import.meta.dirname, '..'),
  bundle: true,
  loader: { '.md': 'text', '.fettle': 'text' },
  logLevel: 'silent',
} as const satisfies BuildOptions;
const NODE = { ...HOW, platform: 'node', format: 'cjs', target: 'node20' } as const satisfies BuildOptions;
const BROWSER = { ...HOW, platform: 'browser', format: 'iife', target: 'es2022' } as const satisfies BuildOptions;

/** Writes what begins with a source (`server/entry/command.ts`) to a file, for Node. */
export async function bundleTo(outfile: string, source: string): Promise<void> {
  await build({ ...NODE, entryPoints: [source], outfile });
}

/** The same for the worker of a browser. */
export async function bundleForBrowserTo(outfile: string, source: string): Promise<void> {
  await build({ ...BROWSER, entryPoints: [source], outfile });
}

/** What begins with a source, for Node, as text. */
export async function bundleOf(source: string, plugins: Plugin[] = []): Promise<string> {
  const { outputFiles } = await build({ ...NODE, entryPoints: [source], write: false, plugins });
  const [file] = outputFiles;
  if (file === undefined) throw new Error(`${source} was not bundled`);
  return file.text;
}
