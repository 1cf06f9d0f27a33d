// `fettle values`: every value that is worked out. The sums are in the model, their text in features/values-text.ts.
import { told } from '../../grammar/told.ts';
import { recordValues } from '../features/record-values.ts';
import { valuesForPeople } from '../features/values-people.ts';
import { valuesJson } from '../features/values-text.ts';
import { inPlay } from '../model/in-play.ts';
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
  if (format !== 'text' && format !== 'json')
    throw new CannotDo(told`The format is text or json, not ${format ?? ''}.`);
  const analysis = analyseSpec(readSpec(path, streams));
  const view = viewFor(analysis, options.variant, streams);
  // What a library has besides is nobody's.
  const isShown = inPlay(view, analysis.file.file);
  const ofRecords = recordValues(analysis, view);
  if (format === 'json') {
    const unused = view.fasteners.filter((each) => !isShown(each)).map((each) => `fastener.${each.name}.`);
    const rows = valuesOf(view).filter(({ name }) => !unused.some((each) => name.startsWith(each)));
    streams.out(data(valuesJson([...rows, ...ofRecords])));
  } else streams.out(lines(valuesForPeople(view, isShown, ofRecords)));
  return 0;
}
