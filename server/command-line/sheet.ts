// `fettle sheet`: the bench sheet as one page.
import { resolve } from 'node:path';
import { sheetPage } from '../sheet/page.tsx';
import { writeWhole } from './format.ts';
import { analyseSpec, readSpec, shownPath, wantedVariant } from './specs.ts';
import { CannotDo, type Streams } from './streams.ts';

/** Runs `sheet`. Without a variant, the first one is taken and said. */
export function sheet(
  path: string,
  options: { readonly variant?: string; readonly output: string },
  streams: Streams,
): number {
  const analysis = analyseSpec(readSpec(path, streams));
  const wanted = wantedVariant(analysis, options.variant);
  const view = analysis.views.find((each) => wanted === undefined || each.variant === wanted);
  if (view === undefined) throw new CannotDo('There is nothing to put on a sheet here.');
  if (wanted === undefined && analysis.variants.length > 1)
    streams.err(`For ${view.variant}; --variant gives another (${analysis.variants.join(', ')}).\n`);
  const target = resolve(streams.folder, options.output);
  if (target === resolve(streams.folder, path))
    throw new CannotDo('The sheet would overwrite the spec. Give another --output.');
  writeWhole(target, sheetPage(view, analysis.findings.filter((finding) => finding.severity === 'error').length));
  streams.out(`${shownPath(target, streams.folder)}\n`);
  return 0;
}
