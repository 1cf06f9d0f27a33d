// `fettle values`: every value that is worked out.
import { valuesJson, valuesText } from '../features/values-text.ts';
import { valuesOf } from '../model/values.ts';
import { analyseSpec, readSpec, wantedVariant } from './specs.ts';
import { CannotDo, type Streams } from './streams.ts';

/** Runs `values`. Without a variant, the first one is taken and said. */
export function values(
  path: string,
  options: { readonly variant?: string; readonly format?: string },
  streams: Streams,
): number {
  const format = options.format ?? 'text';
  if (format !== 'text' && format !== 'json') throw new CannotDo(`The format is text or json, not ${format}.`);
  const analysis = analyseSpec(readSpec(path, streams));
  const wanted = wantedVariant(analysis, options.variant);
  const view = analysis.views.find((each) => wanted === undefined || each.variant === wanted);
  if (view === undefined) throw new CannotDo('There is nothing to work out here.');
  if (wanted === undefined && analysis.variants.length > 1)
    streams.err(`For ${view.variant}; --variant gives another (${analysis.variants.join(', ')}).\n`);
  const rows = valuesOf(view);
  streams.out(format === 'json' ? valuesJson(rows) : valuesText(rows));
  return 0;
}
