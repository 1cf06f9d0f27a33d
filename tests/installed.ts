// The program as the build makes it, in a folder of its own: the file that is started, and what it starts.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { buildShared, sharedOf } from '../client/build-shared.mjs';

/** Writes it below a folder; gives the path of the file that is started. */
export async function writeInstalled(folder: string): Promise<string> {
  const { program, wayIn } = await buildShared(sharedOf(join(import.meta.dirname, '..')));
  mkdirSync(join(folder, 'dist'));
  writeFileSync(join(folder, 'package.json'), '{ "version": "7.8.9" }');
  writeFileSync(join(folder, 'dist', 'fettle-all.js'), program);
  const file = join(folder, 'dist', 'fettle.js');
  writeFileSync(file, wayIn);
  return file;
}
