// The one way from text to findings. Editor, command, sheet and tests all take it.

import type { Fault } from '../../grammar/fault.ts';
import { type Section, toFile } from '../../grammar/sections.ts';
import type { Span } from '../../grammar/tree.ts';
import { CHECKS } from '../checks/catalog.ts';
import type { Check, Extra, Report } from '../checks/check.ts';
import { type BuiltView, buildView } from '../model/build-view.ts';
import type { FilePlace, Finding, FixEdit, QuickFix, Related, Severity } from '../model/finding.ts';
import { type Placed, placeOf, type ReadFile, type ReadSection } from '../model/placed.ts';
import { readFile } from '../model/read-file.ts';
import { usesOf } from '../model/references.ts';
import type { Thing, View } from '../model/view.ts';
import type { Analysis, Host } from './api.ts';
import { findImports, type ImportFinding } from './imports.ts';

type Parsed = Placed['parsed'];

/** A finding before its places are worked out: everything is told by tree and own offsets, so that a shift costs nothing. */
interface Raw {
  readonly code: string;
  readonly severity: Severity;
  readonly parsed: Parsed;
  readonly span: Span;
  readonly message: string;
  readonly extra: Extra;
}

/** The findings of one thing, and what was looked up to make them. */
interface Kept {
  readonly raws: readonly Raw[];
  readonly looked: readonly (readonly [string, Parsed | undefined])[];
  readonly engine: Parsed | undefined | false;
  readonly specs: readonly Parsed[] | undefined;
  readonly flags: readonly (readonly [Flag, unknown])[];
  /** The lists of the view that were gone through, each by the number of its content. */
  readonly lists: readonly (readonly [ListName, number])[];
}

const keptByTree = new WeakMap<Parsed, Map<string, Kept>>();
const LISTS = [
  'parts',
  'fasteners',
  'supplies',
  'grades',
  'drives',
  'valveTimings',
  'limits',
  'sequences',
  'jobs',
  'steps',
  'engines',
] as const;
type ListName = (typeof LISTS)[number];
const FLAGS = ['draft', 'incomplete', 'perhaps'] as const;
type Flag = (typeof FLAGS)[number];

/** The content of each list, numbered anew whenever a tree in it is another: lists of one number hold the same trees. */
const lastContents = new Map<string, { readonly trees: readonly Parsed[]; readonly number: number }>();
const numbersByView = new WeakMap<View, Map<ListName, number>>();
let contents = 0;

function treesOf(view: BuiltView, list: ListName): readonly Parsed[] {
  return list === 'engines'
    ? view.engines.map((placed) => placed.parsed)
    : view[list].map((thing) => thing.placed.parsed);
}

function contentNumber(view: BuiltView, list: ListName): number {
  let numbers = numbersByView.get(view);
  if (numbers === undefined) {
    numbers = new Map();
    numbersByView.set(view, numbers);
  }
  const known = numbers.get(list);
  if (known !== undefined) return known;
  const key = `${view.specs[0]?.file ?? view.engines[0]?.file ?? ''} ${view.variant ?? ''} ${list}`;
  const trees = treesOf(view, list);
  const last = lastContents.get(key);
  const same =
    last !== undefined && last.trees.length === trees.length && last.trees.every((tree, i) => tree === trees[i]);
  if (!same) contents += 1;
  const number = same ? last.number : contents;
  if (!same) lastContents.set(key, { trees, number });
  numbers.set(list, number);
  return number;
}

/** A view that notes what is looked up in it. */
function watched(view: BuiltView): {
  readonly view: BuiltView;
  readonly looked: Map<string, Parsed | undefined>;
  engine: Parsed | undefined | false;
  specs: readonly Parsed[] | undefined;
  readonly flags: Map<Flag, unknown>;
  readonly lists: Map<ListName, number>;
} {
  const notes = {
    looked: new Map<string, Parsed | undefined>(),
    engine: false as Parsed | undefined | false,
    specs: undefined as readonly Parsed[] | undefined,
    flags: new Map<Flag, unknown>(),
    lists: new Map<ListName, number>(),
    view,
  };
  const things = new Proxy(view.things, {
    get(target, key) {
      if (key === 'get' || key === 'has') {
        return (name: string) => {
          const thing = target.get(name);
          notes.looked.set(name, thing?.placed.parsed);
          return key === 'get' ? thing : thing !== undefined;
        };
      }
      // All things were gone through: that is every list.
      for (const list of LISTS) notes.lists.set(list, contentNumber(view, list));
      const value = Reflect.get(target, key) as unknown;
      return typeof value === 'function' ? (value as (...args: unknown[]) => unknown).bind(target) : value;
    },
  });
  const proxy = new Proxy(view, {
    get(target, key) {
      if (key === 'things') return things;
      if (key === 'specs') notes.specs = target.specs.map((spec) => spec.parsed);
      if (FLAGS.includes(key as Flag)) notes.flags.set(key as Flag, target[key as Flag]);
      if (key === 'engine') notes.engine = target.engine?.placed.parsed;
      if (LISTS.includes(key as ListName)) notes.lists.set(key as ListName, contentNumber(target, key as ListName));
      return Reflect.get(target, key) as unknown;
    },
  });
  return Object.assign(notes, { view: proxy });
}

function stillHolds(kept: Kept, view: BuiltView): boolean {
  if (kept.flags.some(([flag, value]) => view[flag] !== value)) return false;
  if (kept.engine !== false && kept.engine !== view.engine?.placed.parsed) return false;
  if (
    kept.specs !== undefined &&
    (kept.specs.length !== view.specs.length || kept.specs.some((parsed, i) => view.specs[i]?.parsed !== parsed))
  )
    return false;
  if (kept.lists.some(([list, number]) => contentNumber(view, list) !== number)) return false;
  return kept.looked.every(([name, parsed]) => view.things.get(name)?.placed.parsed === parsed);
}

const THING_CHECKS = CHECKS.filter((check) => check.scope === 'thing');
const DECLARATION_CHECKS = CHECKS.filter((check) => check.scope === 'declaration');
const ENGINE_CHECKS = CHECKS.filter((check) => check.scope === 'engine');
const SPEC_CHECKS = CHECKS.filter((check) => check.scope === 'spec');

function collector(check: Check, into: Raw[]): Report {
  return (placed, span, message, extra = {}) => {
    into.push({
      code: check.code,
      severity: extra.severity ?? check.severity,
      parsed: placed.parsed,
      span,
      message,
      extra,
    });
  };
}

function checkOne(
  placed: Placed,
  view: BuiltView,
  run: (placed: Placed, seen: BuiltView, into: Raw[]) => void,
): readonly Raw[] {
  let byVariant = keptByTree.get(placed.parsed);
  if (byVariant === undefined) {
    byVariant = new Map();
    keptByTree.set(placed.parsed, byVariant);
  }
  const key = view.variant ?? '';
  const known = byVariant.get(key);
  if (known !== undefined && stillHolds(known, view)) return known.raws;
  const notes = watched(view);
  const raws: Raw[] = [];
  run(placed, notes.view, raws);
  byVariant.set(key, {
    raws,
    looked: [...notes.looked],
    engine: notes.engine,
    specs: notes.specs,
    flags: [...notes.flags],
    lists: [...notes.lists],
  });
  return raws;
}

function holdsIn(placed: Placed, view: View): boolean {
  return view.variant === undefined || placed.when.every((names) => names.includes(view.variant ?? ''));
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

function rawsOf(view: BuiltView, file: ReadFile, files: readonly ReadFile[]): readonly Raw[] {
  const raws: Raw[] = [];
  const check = (placed: Placed, seen: BuiltView, into: Raw[]): void => {
    for (const each of DECLARATION_CHECKS) each.run(placed, seen, collector(each, into));
    const thing = thingAt(view, placed);
    if (thing !== undefined) for (const each of THING_CHECKS) each.run(thing, seen, collector(each, into));
    const engine = view.engine;
    if (engine?.placed === placed) for (const each of ENGINE_CHECKS) each.run(engine, seen, collector(each, into));
  };
  for (const section of file.sections) {
    for (const placed of section.every) {
      if (holdsIn(placed, view)) for (const raw of checkOne(placed, view, check)) raws.push(raw);
    }
    for (const placed of section.whens) for (const raw of checkOne(placed, view, check)) raws.push(raw);
  }
  for (const check of SPEC_CHECKS) check.run({ view, file, files, report: collector(check, raws) });
  return raws;
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

/** Where the tree of each declaration stands now. Made when it is first asked for: a spec without findings never asks. */
function placesOf(files: readonly ReadFile[]): (tree: Parsed) => Placed | undefined {
  let places: Map<Parsed, Placed> | undefined;
  return (tree) => {
    if (places === undefined) {
      places = new Map();
      for (const file of files)
        for (const { every, whens } of file.sections)
          for (const placed of [...every, ...whens]) places.set(placed.parsed, placed);
    }
    return places.get(tree);
  };
}

const keyOf = (finding: Finding): string =>
  `${finding.code} ${finding.start} ${finding.end} ${finding.severity} ${finding.message}`;

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

interface AllowAt extends FilePlace {
  readonly code: string;
  /** Where it is written: its code, and the whole of it. The stretch itself is what it covers. */
  readonly at: FilePlace;
  readonly whole: FilePlace;
}

function allowsIn(read: ReadSection, file: ReadFile): readonly AllowAt[] {
  const inside = [...read.every, ...read.whens].flatMap((placed) =>
    usesOf(placed).allows.map((allow) => ({
      code: allow.code.text,
      ...placeOf(placed, allow.covers),
      at: placeOf(placed, allow.code),
      whole: placeOf(placed, allow.span),
    })),
  );
  const outside = [...read.declarations, ...read.whens, ...read.loose].flatMap(({ section, parsed }) =>
    parsed.outside.flatMap((each) => {
      if (each.kind !== 'allow') return [];
      const at = (span: Span): FilePlace => ({
        file: file.file,
        start: toFile(section, span.start),
        end: toFile(section, span.end),
      });
      const covers = { file: file.file, start: 0, end: file.text.length + 1 };
      return [{ code: each.code.text, ...covers, at: at(each.code), whole: at(each) }];
    }),
  );
  return [...inside, ...outside];
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

/** Takes out what an `allow` silences; an `allow` that silences nothing is a finding of its own. */
function silence(findings: readonly Finding[], file: ReadFile): Finding[] {
  const allows = file.sections.filter((section) => section.hasAllows).flatMap((section) => allowsIn(section, file));
  if (allows.length === 0) return [...findings];
  const used = new Set<(typeof allows)[number]>();
  const left = findings.filter((finding) => {
    const hits = allows.filter(
      (allow) => allow.code === finding.code && finding.start >= allow.start && finding.start <= allow.end,
    );
    for (const hit of hits) used.add(hit);
    return hits.length === 0;
  });
  for (const allow of allows) {
    if (used.has(allow)) continue;
    const known = CHECKS.some((check) => check.code === allow.code);
    left.push({
      code: 'name/unused',
      severity: 'warning',
      ...allow.at,
      related: [],
      fixes: [{ title: 'Take out this allow', edits: [{ ...allow.whole, text: '' }] }],
      message: known
        ? `This allow silences nothing: ${allow.code} is not found here.`
        : `There is no check ${allow.code}: this allow silences nothing.`,
    });
  }
  return left;
}

function variantsOf(files: readonly ReadFile[]): readonly string[] {
  for (const file of files) {
    for (const placed of file.declarations) {
      if (placed.declaration.word !== 'spec') continue;
      const names =
        placed.declaration.body?.statements.flatMap((each) =>
          each.kind === 'names' && each.word === 'variants' ? each.names.map((name) => name.text) : [],
        ) ?? [];
      if (names.length > 0) return [...new Set(names)];
    }
  }
  return [];
}

/**
 * Checks one file with what it uses. Any text can be analysed; the same text and files give the same findings.
 * Trees and the findings of single declarations are kept from call to call.
 */
export function analyse(file: string, text: string, host: Host): Analysis {
  const read = readFile(file, text);
  const { used, findings: importFindings, incomplete } = findImports(read, host);
  const files = [read, ...used];
  const variants = variantsOf(files);
  const views = (variants.length === 0 ? [undefined] : variants).map((variant) =>
    buildView(files, variant, incomplete),
  );
  const where = placesOf(files);
  const findings: Finding[] = mergeVariants(
    views.map((view) => ({
      variant: view.variant,
      findings: rawsOf(view, read, files).flatMap((raw) => place(raw, where, view.draft, file) ?? []),
    })),
  );
  for (const section of read.sections) if (section.hasFaults) findings.push(...faultsIn(section, file));
  findings.push(...importFindings.map((each: ImportFinding) => each.finding));
  const left = silence(findings, read);
  left.sort((a, b) => a.start - b.start || a.end - b.end || (a.code < b.code ? -1 : a.code > b.code ? 1 : 0));
  return { file: read, used, variants, views, findings: left };
}
