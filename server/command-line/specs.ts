// Finds and analyses the specs that a command is given: files, and every .fettle file below folders.
import { existsSync, statSync } from 'node:fs';
import { dirname, isAbsolute, join, relative, resolve } from 'node:path';
import { analyse } from '../workspace/analyse.ts';
import type { Analysis } from '../workspace/api.ts';
import { addressOf, diskHost, fettleFilesBelow, pathOf, readText } from '../workspace/disk.ts';
import { CannotDo, type Streams } from './streams.ts';

export interface Spec {
  readonly path: string;
  /** As the user named it: relative to where the command runs. */
  readonly shown: string;
  readonly text: string;
}

/** How a path is shown: from the folder that the command runs in, where it lies below it. */
export function shownPath(path: string, folder: string): string {
  const short = relative(folder, path);
  return short === '' ? '.' : short.startsWith('..') || isAbsolute(short) ? path : short;
}

/** The workspace folder of a file: the nearest folder upward that is a git work tree, else the file's own folder. */
export function workspaceFolder(path: string): string {
  for (let at = dirname(path); ; at = dirname(at)) {
    if (existsSync(join(at, '.git'))) return at;
    if (dirname(at) === at) return dirname(path);
  }
}

/** The specs at some paths, in order, each once. Says what can't be read. */
export function specsAt(paths: readonly string[], streams: Streams): readonly Spec[] {
  const files: string[] = [];
  for (const path of paths) {
    const full = resolve(streams.folder, path);
    let isFolder = false;
    try {
      isFolder = statSync(full).isDirectory();
    } catch {
      throw new CannotDo(`There is no file or folder ${path}. Check how it is written.`);
    }
    const found = isFolder ? fettleFilesBelow(full) : [full];
    if (isFolder && found.length === 0) throw new CannotDo(`There is no .fettle file in ${path}.`);
    files.push(...found);
  }
  return [...new Set(files)].map((path) => readSpec(path, streams));
}

export function readSpec(path: string, streams: Streams): Spec {
  const full = resolve(streams.folder, path);
  const shown = shownPath(full, streams.folder);
  const read = readText(full);
  if ('why' in read) throw new CannotDo(`${shown} ${read.why}.`);
  return { path: full, shown, text: read.text };
}

/** Analyses a spec as the editor does. */
export function analyseSpec(spec: Spec): Analysis {
  return analyse(addressOf(spec.path), spec.text, diskHost([addressOf(workspaceFolder(spec.path))]));
}

/** How the address of a finding's other place is shown. */
export function shownAddress(address: string, streams: Streams): string {
  const path = pathOf(address);
  return path === undefined ? address : shownPath(path, streams.folder);
}

/** Refuses a variant that the spec does not have. */
export function wantedVariant(analysis: Analysis, variant: string | undefined): string | undefined {
  if (variant === undefined) return undefined;
  if (analysis.variants.includes(variant)) return variant;
  const has = analysis.variants.length === 0 ? 'this spec has none' : `there are ${analysis.variants.join(', ')}`;
  throw new CannotDo(`There is no variant ${variant}: ${has}.`);
}
