// The one way from text to findings. Editor, command, sheet and tests all take it.
import type { Fault } from '../../grammar/fault.ts';
import { type Section, toFile } from '../../grammar/sections.ts';
import type { Written } from '../../grammar/written.ts';
import { CHECKS } from '../checks/catalog.ts';
import type { Check, Report } from '../checks/check.ts';
import { alterations } from '../checks/source/altered.ts';
import type { BuiltView } from '../model/build-view.ts';
import { type Derivation, derive, derivedSpec } from '../model/derived.ts';
import type { Finding, FixEdit, QuickFix, Related, Severity } from '../model/finding.ts';
import { keptByFile, letGoOf } from '../model/kept-by-file.ts';
import { MOST_VARIANTS } from '../model/most.ts';
import { notableSections } from '../model/notable-sections.ts';
import { type Placed, placeOf, type ReadFile, type ReadSection } from '../model/placed.ts';
import { readFile } from '../model/read-file.ts';
import type { Thing } from '../model/view.ts';
import { silence } from './allows.ts';
import type { Analysis, Host } from './api.ts';
import { atTheTop, checkFailed, contained, eachFaultOnce, FAULT, fileFailed, tellingFaults } from './contained.ts';
import { findingOf, type Settle, settling } from './derived-findings.ts';
import { findImports, type ImportFinding } from './imports.ts';
import { LISTS, type Parsed, type Raw } from './kept-findings.ts';
import { placesOf } from './kept-places.ts';
import { keptRaws, onlyVariants } from './kept-sections.ts';
import { keptViews } from './kept-views.ts';

const THING_CHECKS = CHECKS.filter((check) => check.scope === 'thing');

const DECLARATION_CHECKS = CHECKS.filter((check) => check.scope === 'declaration');

const ENGINE_CHECKS = CHECKS.filter((check) => check.scope === 'engine');

const SPEC_CHECKS = CHECKS.filter((check) => check.scope === 'spec');

/** Where what the checks report goes at the moment. */
let reported: Raw[] = [];

function reporterOf(check: Check): Report {
  return (placed, span, message, extra = {}) => {
    reported.push({
      code: check.code,
      severity: extra.severity ?? check.severity,
      parsed: placed.parsed,
      span,
      message,
      extra,
    });
  };
}

/** One for each check, made once: a declaration is looked at by a hundred checks, and most have nothing to say. */
const REPORTERS = new Map(CHECKS.map((check) => [check, reporterOf(check)]));

const reporter = (check: Check): Report => REPORTERS.get(check) ?? reporterOf(check);

/** Has what is reported meanwhile put into a list. */
function reportingInto(list: Raw[], work: () => void): void {
  const outer = reported;
  reported = list;
  try {
    work();
  } finally {
    reported = outer;
  }
}

/** What a declaration is in a view. One that shares its name with another, or a table of grades of a part, is only in the lists. */
function thingAt(view: BuiltView, placed: Placed): Thing | undefined {
  const named = view.things.get(placed.declaration.name?.text ?? '');
  if (named?.placed === placed) return named;
  for (const list of LISTS) {
    if (list === 'engines') continue;
    const things: readonly Thing[] = view[list];
    const found = things.find((thing) => thing.placed === placed);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** A check that failed, told at the declaration that it looked at. */
function faultOf(check: Check, placed: Placed, why: string): Raw {
  const { parsed, declaration } = placed;
  const span = declaration.name ?? declaration.wordSpan;
  return { code: FAULT, severity: 'error', parsed, span, message: checkFailed(check, why), extra: {} };
}

/** Checks one declaration: what is found is reported into the list. */
function checkPlaced(placed: Placed, seen: BuiltView, into: Raw[]): void {
  reportingInto(into, () => {
    const attempt = (check: Check, work: () => void): void =>
      contained(work, (why) => {
        reported.push(faultOf(check, placed, why));
      });
    for (const each of DECLARATION_CHECKS) attempt(each, () => each.run(placed, seen, reporter(each)));
    const thing = thingAt(seen, placed);
    if (thing !== undefined)
      for (const each of THING_CHECKS) attempt(each, () => each.run(thing, seen, reporter(each)));
    const engine = seen.engine;
    if (engine?.placed === placed)
      for (const each of ENGINE_CHECKS) attempt(each, () => each.run(engine, seen, reporter(each)));
  });
}

function place(
  raw: Raw,
  where: (tree: Parsed) => Placed | undefined,
  draft: boolean,
  file: string,
): Finding | undefined {
  const placed = where(raw.parsed);
  if (placed === undefined || placed.file !== file) return undefined;
  const at = placeOf(placed, raw.span);
  const related: Related[] = (raw.extra.related ?? []).flatMap((each) => {
    const there = where(each.placed.parsed);
    return there === undefined ? [] : [{ ...placeOf(there, each.span), message: each.message }];
  });
  const fixes: QuickFix[] = (raw.extra.fixes ?? []).map((fix) => ({
    title: fix.title,
    edits: fix.edits.flatMap((edit): FixEdit[] => {
      const there = where(edit.placed.parsed);
      return there === undefined ? [] : [{ ...placeOf(there, edit.span), text: edit.text }];
    }),
  }));
  const severity = draft && (raw.extra.missing === true || raw.severity === 'warning') ? 'information' : raw.severity;
  return { code: raw.code, severity, ...at, message: raw.message, related, fixes };
}

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
    message: fault.message,
    related: [],
    fixes: fault.fixes.map((fix) => ({
      title: fix.title,
      edits: fix.edits.map((edit) => ({ ...at(edit.start, edit.end), text: edit.text })),
    })),
  };
}

const keyOf = (finding: Finding): string =>
  `${finding.code} ${finding.file} ${finding.start} ${finding.end} ${finding.severity} ${finding.message}`;

/** Findings of all variants that agree are one; others name theirs. */
function mergeVariants(
  perView: readonly { readonly variant: string | undefined; readonly findings: readonly Finding[] }[],
): Finding[] {
  const merged = new Map<string, { finding: Finding; variants: Set<string | undefined> }>();
  for (const { variant, findings } of perView) {
    for (const finding of findings) {
      const key = keyOf(finding);
      const known = merged.get(key);
      if (known === undefined) merged.set(key, { finding, variants: new Set([variant]) });
      else known.variants.add(variant);
    }
  }
  return [...merged.values()].map(({ finding, variants }) => {
    if (variants.size === perView.length) return finding;
    const names = [...variants].filter((name) => name !== undefined);
    return { ...finding, variants: names };
  });
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
    for (const section of notableSections(file)) {
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

interface KeptBase {
  readonly file: ReadFile;
  readonly used: readonly ReadFile[];
  readonly incomplete: boolean;
  readonly found: readonly Finding[];
}

const keptBases = keptByFile<KeptBase>();
/** The bases that are being looked at: specs may be built on each other in a circle, which is said elsewhere. */
const atHand = new Set<string>();

/** What is found in a base alone; kept as long as it and what it uses are the same. */
function foundInBase(base: ReadFile, host: Host): readonly Finding[] {
  const { used, incomplete } = findImports(base, host);
  const kept = keptBases.get(base.file);
  const isSame =
    kept?.file === base &&
    kept.incomplete === incomplete &&
    kept.used.length === used.length &&
    kept.used.every((each, i) => each === used[i]);
  if (kept !== undefined && isSame) return kept.found;
  if (atHand.has(base.file)) return [];
  atHand.add(base.file);
  const found = everyFinding.get(analyse(base.file, base.text, host)) ?? [];
  atHand.delete(base.file);
  keptBases.set(base.file, { file: base, used, incomplete, found });
  return found;
}

/** How the findings of a file that is built on another are settled; undefined for any other file. */
function settleFor(read: ReadFile, files: readonly ReadFile[], derived: Derivation, host: Host): Settle | undefined {
  const base = derived.bases.get(read.file);
  const spec = derivedSpec(read);
  if (base === undefined || spec === undefined) return undefined;
  const specOfBase = base.declarations.find((placed) => placed.declaration.word === 'spec');
  return settling({ file: read, spec, files, ofBase: foundInBase(base, host), base: specOfBase });
}

/**
 * Checks one file with what it uses. Any text can be analysed; the same text and files give the same findings.
 * Trees and the findings of single declarations are kept from call to call.
 */
export function analyse(file: string, text: string | Written, host: Host): Analysis {
  return tellingFaults(host.tellFault, () =>
    contained(
      () => analyseWhole(file, text, host),
      (why) => {
        // What was kept may be half of one reading and half of another.
        letGoOf(file);
        return onlyRead(file, text, why);
      },
    ),
  );
}

/** What is left of a file in which Fettle itself failed: what was read, and what is wrong with the writing. Throws where even that fails. */
function onlyRead(file: string, text: string | Written, why: string): Analysis {
  const read = readFile(file, text);
  const faults = notableSections(read).flatMap((section) => (section.hasFaults ? faultsIn(section, file) : []));
  const findings = [atTheTop(file, fileFailed(why, true)), ...faults];
  return { file: read, used: [], variants: [], views: [], findings, failed: true };
}

function analyseWhole(file: string, text: string | Written, host: Host): Analysis {
  const read = readFile(file, text, host.supersedes);
  const { used, findings: importFindings, incomplete } = findImports(read, host);
  const derived = derive([read, ...used]);
  const files = derived?.files ?? [read, ...used];
  const own = files[0] ?? read;
  const settle = derived === undefined ? undefined : settleFor(read, [read, ...used], derived, host);
  const variants = variantsOf(files);
  const seen = keptViews(files, variants.length === 0 ? [undefined] : variants, incomplete, host.supersedes === true);
  onlyVariants(
    file,
    seen.map(({ view }) => view.variant),
  );
  const where = placesOf(files);
  const unsettled: Finding[] = [];
  const failed: Finding[] = [];
  const findings: Finding[] = mergeVariants(
    seen.map(({ view, before, changes }) => {
      const raws = [...keptRaws(view, own, before, changes, checkPlaced)];
      reportingInto(raws, () => {
        for (const check of SPEC_CHECKS)
          contained(
            () => check.run({ view, file: own, files, report: reporter(check) }),
            (why) => {
              failed.push(atTheTop(file, checkFailed(check, why)));
            },
          );
      });
      const found = raws.flatMap((raw) => {
        const finding = place(raw, where, view.draft, file);
        const placed = where(raw.parsed);
        if (settle === undefined || finding === undefined || placed === undefined) return finding ?? [];
        unsettled.push(finding);
        return settle(finding, placed, raw, view.variant) ?? [];
      });
      return { variant: view.variant, findings: found };
    }),
  );
  for (const section of notableSections(read)) if (section.hasFaults) findings.push(...faultsIn(section, file));
  findings.push(...importFindings.map((each: ImportFinding) => each.finding));
  findings.push(...alterations(read));
  const faults = (derived?.faults.get(file) ?? []).map(findingOf);
  // What is said of a change itself says more than what follows from it.
  const isSaid = (one: Finding): boolean => faults.some((each) => each.code === one.code && each.start === one.start);
  const all = faults.length === 0 ? findings : [...findings.filter((each) => !isSaid(each)), ...faults];
  const left = [...eachFaultOnce([...failed, ...silence(all, read)])];
  left.sort((a, b) => a.start - b.start || a.end - b.end || (a.code < b.code ? -1 : a.code > b.code ? 1 : 0));
  const analysis = { file: read, used, variants, views: seen.map(({ view }) => view), findings: left };
  everyFinding.set(analysis, settle === undefined ? all : [...all, ...unsettled]);
  return analysis;
}
