// What the engine has compiled Fettle to is cached in a file, and the next start begins from it: that saves compiling two megabytes anew. A
// file is for one program, at one place, on one engine that is set in one way. It says for which kinds of work the functions are in it, and
// is written again only when a kind is missing. The engine does not look whether a file was damaged, so its sum stands at its head.
import { createHash, randomBytes } from 'node:crypto';
import { closeSync, openSync, readdirSync, renameSync, statSync, unlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { arch, platform, version, versions } from 'node:process';
import { cachedDataVersionTag } from 'node:v8';
import { Script } from 'node:vm';
import { type CacheFolder, isUsable, madeUsable, readOwn } from './cache-folder.ts';

/** Bytes before what the engine made: the sum of all that follows it, and the kinds of work. */
const HEAD = 512;
const SUM = 64;
/** No file of ours has more. */
const MOST = 64 << 20;
/** So many files there are at most: of the server and the command, for a few editors and installations. */
const FILES = 8;
/** Milliseconds after which a file that somebody began to write is left over. */
const LEFT_OVER = 3_600_000;

function sumOf(...parts: readonly (string | Uint8Array)[]): string {
  const sum = createHash('sha256');
  for (const part of parts) sum.update(part);
  return sum.digest('hex');
}

/** What a program is known by. */
export interface Known {
  /** Where its file lies. */
  readonly file: string;
  /** What differs where its text does. */
  readonly build: string;
}

/** The name of the file for a program on this engine, as the engine is set now: the place, the build, the engine. */
export function nameFor({ file, build }: Known): string {
  // An editor has each version of an extension in a folder of its own: to the next one it is the same place.
  const place = sumOf(file.replace(/-\d+\.\d+\.\d+[^/\\]*/g, ''));
  const engine = sumOf([version, versions.v8, arch, platform, cachedDataVersionTag()].join(' '));
  return `${place.slice(0, 12)}-${sumOf(build).slice(0, 12)}-${engine.slice(0, 12)}.code`;
}

interface CachedCode {
  readonly data: Buffer;
  readonly kinds: readonly string[];
}

/** What is cached in a file; undefined where there is none, or none that can be trusted. */
function read(folder: CacheFolder, name: string): CachedCode | undefined {
  try {
    if (!isUsable(folder)) return undefined;
    const bytes = readOwn(join(folder.path, name), MOST);
    if (bytes === undefined || bytes.length <= HEAD) return undefined;
    if (bytes.toString('latin1', 0, SUM) !== sumOf(bytes.subarray(SUM))) return undefined;
    return { data: bytes.subarray(HEAD), kinds: bytes.toString('latin1', SUM, HEAD).trim().split(' ') };
  } catch {
    return undefined;
  }
}

/** Takes away what is left of earlier builds at the same place, what is more than there should be, and what was never written to its end. */
function tidy(folder: string, name: string): void {
  const [place = '', build = ''] = name.split('-');
  const ours = readdirSync(folder).filter((each) =>
    /^[0-9a-f]{12}-[0-9a-f]{12}-[0-9a-f]{12}\.code(?:\.new-[0-9a-f]+)?$/.test(each),
  );
  const age = (each: string): number => Date.now() - statSync(join(folder, each)).mtimeMs;
  const isOld = (each: string): boolean => each.startsWith(`${place}-`) && !each.startsWith(`${place}-${build}-`);
  const whole = ours.filter((each) => each.endsWith('.code'));
  const old = whole.filter(isOld);
  const others = whole.filter((each) => each !== name && !isOld(each)).sort((a, b) => age(a) - age(b));
  const begun = ours.filter((each) => !each.endsWith('.code') && age(each) > LEFT_OVER);
  for (const each of [...old, ...others.slice(FILES - 1), ...begun]) unlinkSync(join(folder, each));
}

/** Stores what the engine made, whole or not at all. */
function write(folder: CacheFolder, name: string, { data, kinds }: CachedCode): void {
  const about = kinds.join(' ').padEnd(HEAD - SUM);
  if (about.length > HEAD - SUM || !madeUsable(folder)) return;
  const beside = join(folder.path, `${name}.new-${randomBytes(9).toString('hex')}`);
  try {
    const file = openSync(beside, 'wx', 0o600);
    try {
      writeFileSync(file, sumOf(about, data) + about);
      writeFileSync(file, data);
    } finally {
      closeSync(file);
    }
    renameSync(beside, join(folder.path, name));
  } catch (error) {
    unlinkSync(beside);
    throw error;
  }
  tidy(folder.path, name);
}

/** A program that is ready to run. */
export interface Compiled {
  /** What its text stands for. */
  readonly value: unknown;
  /** Whether it was begun from the cache. */
  readonly isFromCache: boolean;
  /** Stores what it was compiled to until now, where the cache holds none of this kind of work. Nothing that goes wrong is told. */
  store(kind: string): void;
}

/** Makes a program ready from its text, and from what is cached of it in a folder. */
export function compiled(known: Known, text: string, folder: CacheFolder | undefined): Compiled {
  const name = folder === undefined ? '' : nameFor(known);
  const cached = folder === undefined ? undefined : read(folder, name);
  const script = new Script(text, {
    filename: known.file,
    ...(cached === undefined ? {} : { cachedData: cached.data }),
  });
  const isFromCache = cached !== undefined && script.cachedDataRejected === false;
  const kinds = new Set(cached?.kinds);
  // What fits by its name and is rejected all the same would be rejected again.
  const isOpen = cached === undefined || isFromCache;
  return {
    value: script.runInThisContext(),
    isFromCache,
    store(kind) {
      if (folder === undefined || !isOpen || kinds.has(kind)) return;
      kinds.add(kind);
      try {
        // Were the engine set otherwise than it was, nothing would ever fit what it makes now.
        if (nameFor(known) === name) write(folder, name, { data: script.createCachedData(), kinds: [...kinds] });
      } catch {
        // The next start is as this one was.
      }
    },
  };
}
