// Finds, reads and analyses the specs that a command is given: files, and every .fettle file below folders.

import { existsSync, statSync } from 'node:fs';
import { isAbsolute, relative, resolve } from 'node:path';
import { type Told, told } from '../../grammar/told.ts';
import type { BuiltView } from '../model/build-view.ts';
import type { View } from '../model/view.ts';
import { analyse } from '../workspace/analyse.ts';
import type { Analysis } from '../workspace/api.ts';
import { addressOf, diskHost, fettleFilesBelow, pathOf, readText } from '../workspace/disk.ts';
import { workspaceFolder } from '../workspace/workspace-folder.ts';
import { CannotDo, remark, type Streams } from './streams.ts';

export interface Spec {
  readonly path: string;
  /** As the user named it: relative to where the command runs. */
  readonly shown: string;
  readonly text: string;
  /** The folder that no `use` of it leaves. */
  readonly folder: string;
}

/** A file to be read, with the folder that was named and that it was found in. */
export interface Wanted {
  readonly path: string;
  readonly given: string | undefined;
}

/** The specs that could be read, and what to say of the rest. */
export interface Found {
  readonly specs: readonly Spec[];
  readonly unreadable: readonly Told[];
}

/** How a path is shown: from the folder that the command runs in, where it lies below it. */
export function shownPath(path: string, folder: string): string {
  const short = relative(folder, path);
  return short === '' ? '.' : short.startsWith('..') || isAbsolute(short) ? path : short;
}

/** The files at some paths, in order, each once. What is not there is told beside them. */
export function filesAt(
  paths: readonly string[],
  streams: Pick<Streams, 'folder'>,
): { readonly files: readonly Wanted[]; readonly unreadable: readonly Told[] } {
  const files = new Map<string, string | undefined>();
  const unreadable: Told[] = [];
  for (const path of paths) {
    const full = resolve(streams.folder, path);
    if (!existsSync(full)) {
      unreadable.push(told`There is no file or folder ${path}. Check how it is written.`);
      continue;
    }
    if (!statSync(full).isDirectory()) {
      if (!files.has(full)) files.set(full, undefined);
      continue;
    }
    const closed: string[] = [];
    const found = fettleFilesBelow(full, (folder) => closed.push(folder));
    for (const each of closed) unreadable.push(told`${shownPath(each, streams.folder)} may not be read by you.`);
    if (found.length === 0 && closed.length === 0)
      unreadable.push(told`There is no .fettle file in ${path}. Name another folder, or make a spec with fettle new.`);
    for (const file of found) if (!files.has(file)) files.set(file, full);
  }
  return { files: [...files].map(([path, given]) => ({ path, given })), unreadable };
}

/** One file, read; or what to say of it. */
export function specIn({ path, given }: Wanted, folder: string): Spec | { readonly unreadable: Told } {
  const shown = shownPath(path, folder);
  const read = readText(path);
  if ('why' in read) return { unreadable: told`${shown} ${read.why}.` };
  return { path, shown, text: read.text, folder: workspaceFolder(path, given) };
}

/** The specs at some paths, in order, each once. What can't be read is told beside them. */
export function specsAt(paths: readonly string[], streams: Streams): Found {
  const { files, unreadable } = filesAt(paths, streams);
  const read = files.map((each) => specIn(each, streams.folder));
  return {
    specs: read.flatMap((each) => ('unreadable' in each ? [] : [each])),
    unreadable: [...unreadable, ...read.flatMap((each) => ('unreadable' in each ? [each.unreadable] : []))],
  };
}

/** One spec. Throws CannotDo where it can't be read. */
export function readSpec(path: string, streams: Streams): Spec {
  const full = resolve(streams.folder, path);
  const shown = shownPath(full, streams.folder);
  const read = readText(full);
  if ('why' in read) throw new CannotDo(told`${shown} ${read.why}. Name a .fettle file.`);
  return { path: full, shown, text: read.text, folder: workspaceFolder(full) };
}

/** Analyses a spec as the editor does. */
export function analyseSpec(spec: Spec): Analysis {
  return analyse(addressOf(spec.path), spec.text, diskHost([addressOf(spec.folder)]));
}

/** How the address of a finding's other place is shown. */
export function shownAddress(address: string, streams: Pick<Streams, 'folder'>): string {
  const path = pathOf(address);
  return path === undefined ? address : shownPath(path, streams.folder);
}

/** Whether two paths are the same file, links followed. */
export function sameFile(one: string, other: string): boolean {
  try {
    const [a, b] = [statSync(one), statSync(other)];
    return a.ino === b.ino && a.dev === b.dev;
  } catch {
    return false; // One of them is not there yet.
  }
}

/** What a variant sees: the one asked for, else the first, which is said where there are several. Throws CannotDo. */
export function viewFor(analysis: Analysis, variant: string | undefined, streams: Streams): BuiltView {
  const { variants } = analysis;
  if (variant !== undefined && !variants.includes(variant)) {
    const has = variants.length === 0 ? told`this spec has none` : told`there are ${variants.join(', ')}`;
    throw new CannotDo(told`There is no variant ${variant}: ${has}.`);
  }
  const view = analysis.views.find((each) => variant === undefined || each.variant === variant);
  if (view === undefined) throw new CannotDo(told`There is nothing in this file to work with. Check it first.`);
  if (variant === undefined && variants.length > 1)
    remark(streams, told`for ${view.variant ?? ''}; --variant gives another (${variants.join(', ')}).`);
  return view;
}

/** Refuses a job that a view does not have. Throws CannotDo. */
export function mustKnowJob(view: View, job: string | undefined): void {
  if (job === undefined) return;
  const known = view.jobs.find((each) => each.name === job);
  const isOfAnother =
    view.variant !== undefined &&
    known !== undefined &&
    known.variants.length > 0 &&
    !known.variants.includes(view.variant);
  if (isOfAnother)
    throw new CannotDo(
      told`${job} is a job of ${known.variants.join(', ')}, and this is ${view.variant ?? ''}. Give the variant with --variant.`,
    );
  if (known !== undefined) return;
  const has =
    view.jobs.length === 0 ? told`there are none` : told`there are ${view.jobs.map((each) => each.name).join(', ')}`;
  throw new CannotDo(told`There is no job ${job} here: ${has}.`);
}
