// `fettle values`: every value that is worked out. The sums are in the model, their text in features/values-text.ts.
import { recordValues } from '../features/record-values.ts';
import { valuesJson, valuesText } from '../features/values-text.ts';
import { valuesOf } from '../model/values.ts';
import { data, lines } from './output.ts';
import { analyseSpec, readSpec, viewFor } from './specs.ts';
import { CannotDo, type Streams } from './streams.ts';

export interface ValuesOptions {
  readonly variant?: string;
  readonly format?: string;
}

/** Runs `values`. Without a variant, the first one is taken and said. */
export function values(path: string, options: ValuesOptions, streams: Streams): number {
  const format = options.format ?? 'text';
  if (format !== 'text' && format !== 'json') throw new CannotDo(`The format is text or json, not ${format}.`);
  const analysis = analyseSpec(readSpec(path, streams));
  const view = viewFor(analysis, options.variant, streams);
  const rows = [...valuesOf(view), ...recordValues(analysis, view)];
  streams.out(format === 'json' ? data(valuesJson(rows)) : lines(valuesText(rows)));
  return 0;
}
