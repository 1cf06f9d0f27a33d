// The one way from text to findings. Editor, command, sheet and tests all take it.
import type { Fault } from '../../grammar/fault.ts';
import { atOnce, type InPieces } from '../../grammar/give-way.ts';
import { type Section, toFile } from '../../grammar/section.ts';
import type { Written } from '../../grammar/written.ts';
import { alterations } from '../checks/source/altered.ts';
import { type BuiltView, buildingView, buildView } from '../model/build-view.ts';
import { type Derivation, derive, derivedSpec } from '../model/derived.ts';
import { evictFile, fileCache } from '../model/file-cache.ts';
import { type Finding, type Severity, said, titled } from '../model/finding.ts';
import { MOST_VARIANTS } from '../model/most.ts';
import type { ReadFile, ReadSection } from '../model/placed.ts';
import { isOnce, onceInPieces, trackingInPieces } from '../model/questions.ts';
import { readFile, readingFile } from '../model/read-file.ts';
import { silence } from './allows.ts';
import type { Analysis, Host } from './api.ts';
import { type Checking, newChecking } from './checking.ts';
import { checkingOnce } from './checking-once.ts';
import { atTheTop, containedInPieces, eachFaultOnce, fileFailed } from './contained.ts';
import { type Attribute, attributing, findingOf } from './derived-findings.ts';
import { findingImports, type ImportFinding } from './imports.ts';
import { tellOtherVariants } from './other-variants.ts';
import { FINDINGS_OF_PIECE, mergingVariants, place } from './placed-findings.ts';

function faultFinding(fault: Fault, section: Section, file: string): Finding {
  const severity: Severity = 'error';
  const at = (start: number, end: number): { file: string; start: number; end: number } => ({
    file,
    start: toFile(section, start),
    end: toFile(section, end),
  });
  return {
    code: fault.code,
    severity,
    ...at(fault.start, fault.end),
    ...said(fault.message),
    related: [],
    fixes: fault.fixes.map((fix) => ({
      ...titled(fix.title),
      edits: fix.edits.map((edit) => ({ ...at(edit.start, edit.end), text: edit.text })),
    })),
  };
}

function faultsIn(read: ReadSection, file: string): readonly Finding[] {
  const readable = [...read.every, ...read.whens].flatMap(({ section, parsed }) =>
    parsed.faults.map((fault) => faultFinding(fault, section, file)),
  );
  const loose = read.loose.flatMap(({ section, parsed }) =>
    parsed.faults.map((fault) => faultFinding(fault, section, file)),
  );
  return [...readable, ...loose];
}

function variantsOf(files: readonly ReadFile[]): readonly string[] {
  for (const file of files) {
    for (const section of file.notable) {
      if (section.section.word !== 'spec' && section.section.word !== 'when') continue;
      for (const { declaration } of section.declarations) {
        if (declaration.word !== 'spec') continue;
        const names =
          declaration.body?.statements.flatMap((each) =>
            each.kind === 'names' && each.word === 'variants' ? each.names.map((name) => name.text) : [],
          ) ?? [];
        if (names.length > 0) return [...new Set(names)].slice(0, MOST_VARIANTS);
      }
    }
  }
  return [];
}

/** What is found before any of it is silenced, each where it is written: what a spec that is built on this one is held against. */
const everyFinding = new WeakMap<Analysis, readonly Finding[]>();

interface CachedBase {
  readonly file: ReadFile;
  readonly used: readonly ReadFile[];
  readonly incomplete: boolean;
  readonly found: readonly Finding[];
}

const cachedBases = fileCache<CachedBase>();
/** What is found in a base alone; cached as long as it and what it uses are the same. `above` are the files that are built on it. */
function* foundInBase(base: ReadFile, host: Host, above: readonly string[]): Generator<void, readonly Finding[]> {
  const { used, incomplete } = yield* findingImports(base, host);
  const cached = cachedBases.get(base.file);
  const isSame =
    cached?.file === base &&
    cached.incomplete === incomplete &&
    cached.used.length === used.length &&
    cached.used.every((each, i) => each === used[i]);
  if (cached !== undefined && isSame) return cached.found;
  // Specs may be built on each other in a circle, which is said elsewhere.
  if (above.includes(base.file)) return [];
  const analysis = yield* beginning(base.file, base.text, host, above);
  yield* analysis.check();
  const found = everyFinding.get(analysis) ?? analysis.findings;
  cachedBases.set(base.file, { file: base, used, incomplete, found });
  return found;
}

/** How the findings of a file that is built on another are attributed to the file or its base; undefined for any other file. */
function* attributionFor(
  read: ReadFile,
  files: readonly ReadFile[],
  derived: Derivation,
  host: Host,
  above: readonly string[],
): Generator<void, Attribute | undefined> {
  const base = derived.bases.get(read.file);
  const spec = derivedSpec(read);
  if (base === undefined || spec === undefined) return undefined;
  const specOfBase = base.declarations.find((placed) => placed.declaration.word === 'spec');
  const ofBase = yield* foundInBase(base, host, [...above, read.file]);
  return attributing({ file: read, spec, files, ofBase, base: specOfBase });
}

/** What is found in open texts, and in the few files that others asked for last. */
const ofOpen = fileCache<Checking>();
const ofLast = fileCache<Checking>(8);

function checkingOf(file: string, { supersedes }: Host): Checking {
  const cached = supersedes === true ? ofOpen : ofLast;
  let checking = cached.get(file);
  if (checking === undefined) {
    checking = newChecking();
    cached.set(file, checking);
  }
  return checking;
}

/**
 * Checks one file with what it uses. Any text can be analysed; the same text and files give the same findings.
 * Trees and what is found are cached from call to call.
 */
export function analyse(file: string, text: string | Written, host: Host): Analysis {
  const analysis = atOnce(analysing(file, text, host));
  // Who does not say that earlier analyses are good no more may come back to this one after the next.
  if (host.supersedes !== true) atOnce(analysis.check());
  return analysis;
}

/** The same in pieces, but for the findings: those are still to be worked out. */
export function analysing(file: string, text: string | Written, host: Host): InPieces<Analysis> {
  return beginning(file, text, host, []);
}

/** An analysis whose findings are still to be worked out. `above` are the files that are built on this one, for which it is looked at. */
function beginning(file: string, text: string | Written, host: Host, above: readonly string[]): InPieces<Analysis> {
  return containedInPieces(host.tellFault, analysingWhole(file, text, host, above), (why) => {
    // What was cached may be half of one reading and half of another.
    evictFile(file);
    return onlyRead(file, text, why);
  });
}

/** What is said of a file in which Fettle itself failed: that, and what is wrong with the writing. */
function failure(read: ReadFile, why: string): readonly Finding[] {
  const faults = read.notable.flatMap((section) => (section.hasFaults ? faultsIn(section, read.file) : []));
  return [atTheTop(read.file, fileFailed(why, true)), ...faults];
}

/** What is left of a file in which Fettle itself failed: what was read. Throws where even that fails. */
function onlyRead(file: string, text: string | Written, why: string): Analysis {
  const read = readFile(file, text);
  const findings = failure(read, why);
  return {
    file: read,
    used: [],
    variants: [],
    views: [],
    recordedViews: () => [],
    *refresh() {},
    findings,
    known: findings,
    *look() {},
    *check() {},
    failed: true,
  };
}

function* analysingWhole(
  file: string,
  text: string | Written,
  host: Host,
  above: readonly string[],
): InPieces<Analysis> {
  const reading = readingFile(file, text, host.supersedes);
  const read = yield* host.atRest === true ? onceInPieces(reading) : reading;
  const { used, findings: importFindings, incomplete: areLacking } = yield* findingImports(read, host);
  const derived = derive([read, ...used]);
  const incomplete = areLacking || derived?.isCut === true;
  const files = derived?.files ?? [read, ...used];
  const variants = variantsOf(files);
  const named = variants.length === 0 ? [undefined] : variants;
  const lookedAtOnce = isOnce() || host.atRest === true ? checkingOnce() : undefined;
  const checkingNow = (): Checking => lookedAtOnce ?? checkingOf(file, host);
  function* find(): Generator<void, Found> {
    const attribute =
      derived === undefined ? undefined : yield* attributionFor(read, [read, ...used], derived, host, above);
    const checking = checkingNow();
    const unattributed: Finding[] = [];
    const failed: Finding[] = [];
    const perVariant = yield* checking.check(files, named, incomplete);
    const placed: { readonly variant: string | undefined; readonly findings: readonly Finding[] }[] = [];
    for (const { variant, draft, raws, failed: whatFailed } of perVariant) {
      for (const told of whatFailed) failed.push(atTheTop(file, told));
      const there: Finding[] = [];
      let gone = 0;
      for (const raw of raws) {
        gone += 1;
        if (gone % FINDINGS_OF_PIECE === 0) yield;
        const finding = place(raw, draft, file);
        if (finding === undefined) continue;
        if (attribute === undefined) {
          there.push(finding);
          continue;
        }
        unattributed.push(finding);
        const attributed = attribute(finding, raw.placed, () => checking.lookedUp(raw.placed, variant));
        if (attributed !== undefined) there.push(attributed);
      }
      placed.push({ variant, findings: there });
    }
    const findings: Finding[] = yield* mergingVariants(placed);
    tellOtherVariants(findings, read, files, variants);
    for (const section of read.notable) {
      if (!section.hasFaults) continue;
      for (const finding of faultsIn(section, file)) findings.push(finding);
      yield;
    }
    findings.push(...importFindings.map((each: ImportFinding) => each.finding));
    findings.push(...alterations(read));
    const faults = (derived?.faults.get(file) ?? []).map(findingOf);
    // What is said of a change itself says more than what follows from it.
    const isSaid = (one: Finding): boolean => faults.some((each) => each.code === one.code && each.start === one.start);
    const all = faults.length === 0 ? findings : [...findings.filter((each) => !isSaid(each)), ...faults];
    const left = [...eachFaultOnce([...failed, ...silence(all, read)])];
    left.sort((a, b) => a.start - b.start || a.end - b.end || (a.code < b.code ? -1 : a.code > b.code ? 1 : 0));
    return { left, every: attribute === undefined ? all : [...all, ...unattributed] };
  }

  function refreshing(): InPieces<void> {
    const work = trackingInPieces(checkingNow().refresh(files, named, incomplete));
    return containedInPieces(host.tellFault, work, () => evictFile(file));
  }

  let found: Found | undefined;
  let views: readonly BuiltView[] | undefined;
  const analysis: Analysis = {
    file: read,
    used,
    variants,
    get views() {
      views ??= lookedAtOnce?.viewsOf(files, named) ?? named.map((variant) => buildView(files, variant, incomplete));
      return views;
    },
    *look() {
      if (views !== undefined) return;
      const made: BuiltView[] = [];
      for (const variant of named) made.push(yield* buildingView(files, variant, incomplete));
      views ??= made;
    },
    recordedViews() {
      atOnce(refreshing());
      return checkingNow().viewsOf(files, named) ?? analysis.views;
    },
    *refresh() {
      yield* refreshing();
      if (checkingNow().viewsOf(files, named) === undefined) yield* analysis.look();
    },
    get findings() {
      for (const _ of analysis.check());
      return found?.left ?? [];
    },
    get known() {
      return found?.left ?? [];
    },
    *check() {
      if (found !== undefined) return;
      // What is cached from edit to edit is tracked, whoever asks for it.
      const work = lookedAtOnce === undefined ? trackingInPieces(find()) : onceInPieces(find());
      const now = yield* containedInPieces(host.tellFault, work, (why) => {
        evictFile(file);
        const left = failure(read, why);
        return { left, every: left };
      });
      // Somebody else may have come to the end in between.
      found ??= now;
      everyFinding.set(analysis, found.every);
    },
  };
  return analysis;
}

/** What is found in a file: what is left of it, and all of it before any is silenced. */
interface Found {
  readonly left: readonly Finding[];
  readonly every: readonly Finding[];
}
