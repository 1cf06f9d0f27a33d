// A name that one variant does not have and another has: the finding says for which it is there. A check sees one variant alone, so that this
// is said where their findings come together.
import { told } from '../../grammar/told.ts';
import { type Finding, said } from '../model/finding.ts';
import { holdsFor, type ReadFile } from '../model/placed.ts';
import { textOf } from '../model/text-of.ts';

/** Where it is said that a name is unknown. */
const UNKNOWN: ReadonlySet<string> = new Set(['name/unknown', 'record/unknown']);

/** Says of each name that is unknown for some variants for which of the others it is declared. */
export function tellOtherVariants(
  findings: Finding[],
  read: ReadFile,
  files: readonly ReadFile[],
  variants: readonly string[],
): void {
  const unknown = [...findings.entries()].filter(
    ([, each]) => each.variants !== undefined && UNKNOWN.has(each.code) && each.file === read.file,
  );
  if (unknown.length === 0) return;
  const declared = new Map<string, Set<string>>();
  for (const file of files)
    for (const top of file.declarations)
      for (const placed of [top, ...top.steps]) {
        const name = placed?.declaration.name?.text;
        if (placed === undefined || name === undefined || placed.when.length === 0) continue;
        const known = declared.get(name) ?? new Set();
        for (const variant of variants) if (holdsFor(placed, variant)) known.add(variant);
        declared.set(name, known);
      }
  for (const [at, finding] of unknown) {
    const names = declared.get(textOf(read, finding.start, finding.end));
    const others = variants.filter((each) => names?.has(each) === true && finding.variants?.includes(each) !== true);
    if (others.length === 0) continue;
    const name = told.named(textOf(read, finding.start, finding.end));
    const [here, there] = [finding.variants ?? [], others].map((each) => told.list([...each], 'and'));
    const sentence =
      others.length === 1
        ? told`${name} is not there for ${here ?? ''}: it is declared for ${there ?? ''} alone.`
        : told`${name} is not there for ${here ?? ''}: it is declared for ${there ?? ''}.`;
    findings[at] = { ...finding, ...said(sentence) };
  }
}
