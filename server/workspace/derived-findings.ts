// Where the findings stand of a spec that is built on another. What the base has too is not said again; what comes of a change stands at
// the change, and points at the base. What is found is not decided here.
import { type Told, told } from '../../grammar/told.ts';
import { wordsPutIn } from '../../grammar/told-arguments.ts';
import type { DerivedFault } from '../model/derived-faults.ts';
import { declaredIn } from '../model/derived-names.ts';
import { type FilePlace, type Finding, said, titled } from '../model/finding.ts';
import { type Placed, placeOf, type ReadFile, statementsFor } from '../model/placed.ts';
import { usesOf } from '../model/references.ts';
import { blockOf } from '../model/statements.ts';
import { silencedIn } from './allows.ts';
import { indexLines, type LineIndex, positionAt } from './lines.ts';

export interface DerivedAttribution {
  /** The file of the spec, as it is written. */
  readonly file: ReadFile;
  /** The spec that extends another. */
  readonly spec: Placed;
  /** Every file as it is written. */
  readonly files: readonly ReadFile[];
  /** What is found in the base alone, each where it is written. */
  readonly ofBase: readonly Finding[];
  /** The spec of the base. */
  readonly base: Placed | undefined;
}

export type Attribute = (finding: Finding, placed: Placed, lookedUp: () => readonly string[]) => Finding | undefined;

const keyOf = (finding: Finding): string =>
  `${finding.code} ${finding.file} ${finding.start} ${finding.end} ${finding.message}`;

/** Names as they stand in what is put into a message. */
const NAMES = /[\p{L}][\p{L}\p{M}\p{N}]*(?:[-_][\p{L}\p{M}\p{N}]+)*/gu;

/** A part and what belongs to it, as they stand there. */
const FEATURES = new RegExp(`(${NAMES.source})\\.(${NAMES.source})`, 'gu');

interface Causes {
  /** By the name of what is changed. */
  readonly direct: ReadonlyMap<string, Placed>;
  /** By the names that a change, or what it takes the place of, speaks of. */
  readonly spokenOf: ReadonlyMap<string, Placed>;
}

function causesOf({ spec, files }: DerivedAttribution): Causes {
  const direct = new Map<string, Placed>();
  const spokenOf = new Map<string, Placed>();
  const bases = files.filter((file) => file.file !== spec.file).map(declaredIn);
  const note = (into: Map<string, Placed>, name: string, change: Placed): void => {
    if (!into.has(name)) into.set(name, change);
  };
  for (const change of spec.steps) {
    if (change === undefined) continue;
    const name = change.declaration.name?.text ?? blockOf(change.declaration);
    note(direct, name, change);
    const base = bases.map(({ byName }) => byName.get(name)?.[0]).find((placed) => placed !== undefined);
    for (const placed of base === undefined ? [change] : [change, base])
      for (const use of usesOf(placed).uses) note(spokenOf, use.name.text, change);
  }
  return { direct, spokenOf };
}

/** The change that a finding in the base comes of, as near as can be told. */
function causeOf(
  placed: Placed,
  said: Told,
  looked: () => readonly string[],
  { direct, spokenOf }: Causes,
): Placed | undefined {
  const own = placed.origin?.changes.at(-1);
  if (own !== undefined) return own;
  const words = wordsPutIn(said).join(' ');
  const named = words.match(NAMES) ?? [];
  const first = (names: Iterable<string>, among: ReadonlyMap<string, Placed>): Placed | undefined => {
    for (const name of names) {
      const change = among.get(name);
      if (change !== undefined) return change;
    }
    return undefined;
  };
  // `engine.chamber` names the change of the engine that says something of its chamber.
  for (const [, owner = '', feature = ''] of words.matchAll(FEATURES)) {
    const change = direct.get(owner);
    if (change !== undefined && saysOf(change, feature)) return change;
  }
  return first(named, direct) ?? first(looked(), direct) ?? first(named, spokenOf);
}

/** Whether a change says something of a dimension, a figure or a mark of that name. */
function saysOf({ declaration }: Placed, feature: string): boolean {
  return statementsFor(declaration.body?.statements, undefined).some(
    (each) => each.word === feature || ('name' in each && each.name?.text === feature),
  );
}

/** A file by its last name, as people call it. */
function called(file: string): string {
  const last = file.split(/[\\/]/).pop() ?? file;
  try {
    return decodeURIComponent(last);
  } catch {
    return last;
  }
}

const cachedLines = new WeakMap<ReadFile, LineIndex>();

/** The line of a place in a file, counted from 1. */
function lineIn(file: ReadFile, offset: number): number {
  let lines = cachedLines.get(file);
  if (lines === undefined) {
    lines = indexLines(file.text);
    cachedLines.set(file, lines);
  }
  return positionAt(lines, offset).line + 1;
}

const cachedSaid = new WeakMap<readonly Finding[], ReadonlySet<string>>();

/** What is said of a base; worked out once for as long as that is the same. */
function saidOf(findings: readonly Finding[]): ReadonlySet<string> {
  let keys = cachedSaid.get(findings);
  if (keys === undefined) {
    keys = new Set(findings.map(keyOf));
    cachedSaid.set(findings, keys);
  }
  return keys;
}

/** Makes of each finding what is said of it: nothing, itself, or itself at the change that it comes of. */
export function attributing(of: DerivedAttribution): Attribute {
  const { file, spec, files } = of;
  const ofBase = saidOf(of.ofBase);
  const ofBaseSpec = new Set(
    of.ofBase.flatMap((each) => {
      const name = of.base?.declaration.name;
      const at = name === undefined || of.base === undefined ? undefined : placeOf(of.base, name);
      return at !== undefined && each.file === at.file && each.start === at.start
        ? [`${each.code} ${each.message}`]
        : [];
    }),
  );
  let causes: Causes | undefined;
  const silencing = new Map<ReadFile, ReturnType<typeof silencedIn>>();
  const isSilencedIn = (there: ReadFile): ReturnType<typeof silencedIn> => {
    const known = silencing.get(there) ?? silencedIn(there);
    silencing.set(there, known);
    return known;
  };
  const byAddress = new Map(files.map((each) => [each.file, each]));
  const ownName = spec.declaration.name === undefined ? undefined : placeOf(spec, spec.declaration.name);
  return (finding, placed, lookedUp) => {
    const fixes = finding.fixes.filter((fix) => fix.edits.every((edit) => edit.file === file.file));
    if (finding.file === file.file) {
      const isOfSpec = ownName !== undefined && finding.start === ownName.start && finding.end === ownName.end;
      if (isOfSpec && ofBaseSpec.has(`${finding.code} ${finding.message}`)) return undefined;
      return { ...finding, fixes };
    }
    // A variant that this spec does not have is no fault of the base.
    if (ofBase.has(keyOf(finding)) || finding.code === 'name/unknown-variant') return undefined;
    const there = byAddress.get(finding.file);
    if (there !== undefined && isSilencedIn(there)(finding)) return undefined;
    causes ??= causesOf(of);
    const cause = causeOf(placed, finding.told, lookedUp, causes);
    const at: FilePlace =
      cause === undefined
        ? placeOf(spec, spec.declaration.extends ?? spec.declaration.wordSpan)
        : placeOf(cause, cause.declaration.name ?? cause.declaration.changed ?? cause.declaration.wordSpan);
    const where = called(finding.file);
    return {
      ...finding,
      ...at,
      ...said(
        there === undefined
          ? told`${finding.told} It stands in ${where}.`
          : told`${finding.told} It stands in ${where}, line ${lineIn(there, finding.start)}.`,
      ),
      related: [
        {
          file: finding.file,
          start: finding.start,
          end: finding.end,
          ...said(told`where ${where} says it`),
        },
        ...finding.related,
      ],
      fixes,
    };
  };
}

/** A fault of the changes themselves as a finding. */
export function findingOf({ code, placed, span, message, related, fix }: DerivedFault): Finding {
  return {
    code,
    severity: 'error',
    ...placeOf(placed, span),
    ...said(message),
    related: related === undefined ? [] : [{ ...placeOf(related.placed, related.span), ...said(related.message) }],
    fixes:
      fix === undefined ? [] : [{ ...titled(fix.title), edits: [{ ...placeOf(placed, fix.span), text: fix.text }] }],
  };
}
