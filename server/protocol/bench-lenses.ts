// Lenses for the work at the bench: "Done" and "Enter a measurement" in a record that is being written, and at the steps and limits of its
// spec while that record is open; what if, at the engine and at repair sizes.
import type { CodeLens, Command } from 'vscode-languageserver';
import { type Rows, type Told, told } from '../../grammar/told.ts';
import { type Open, openRecords } from '../features/record-lines.ts';
import { choices } from '../features/what-if.ts';
import type { Analysis } from '../model/analysis.ts';
import { placeOf } from '../model/placed.ts';
import { asWords } from '../pictures/words.ts';
import { RECORD_DONE } from './answers-bench-work.ts';
import { rangeOf } from './convert.ts';
import type { MeasurementAsked } from './messages.ts';
import type { Service } from './service.ts';

/** Jobs that may be begun that are offered in a record. */
const MOST_OFFERED = 3;

export function benchLenses(service: Service, uri: string, analysis: Analysis): readonly CodeLens[] {
  const { documents, abilities } = service;
  const rows = service.rows();
  const lens = (start: number, command: Command): CodeLens => ({
    range: rangeOf(documents.lines(uri), start, start),
    command,
  });
  const called = ({ name, title }: Open): string => title ?? asWords(name);
  const done = (title: Told, record: string, name: string, step: Open): Command => ({
    title: title.in(rows),
    command: RECORD_DONE,
    arguments: [record, name, step.name],
  });
  // Only Fettle's own client asks for the figure.
  const measure = (title: Told, record: string, name: string, limits: readonly Open[]): Command => ({
    title: title.in(rows),
    command: 'fettle.enterMeasurement',
    arguments: [
      record,
      name,
      limits.map(
        (each): MeasurementAsked => ({
          name: each.name,
          title: called(each),
          places: each.places,
          within: each.within ?? '',
        }),
      ),
    ],
  });
  const { isOurs } = abilities();

  const inRecord = openRecords(analysis).flatMap(({ name, start, steps, limits, isBegun }) => [
    ...steps
      .slice(0, isBegun ? 1 : MOST_OFFERED)
      .map((step) => lens(start, done(told`Done: ${called(step)}`, uri, name, step))),
    ...(isOurs && limits.length > 0 ? [lens(start, measure(told`Enter a measurement`, uri, name, limits))] : []),
  ]);

  const own = analysis.file.file;
  const inSpec = documents.all().flatMap((open) => {
    if (open.address === own) return [];
    const other = service.guarded(open.address, () => documents.analysis(open.address), undefined);
    if (other === undefined || other.failed || !other.used.some((each) => each.file === own)) return [];
    const record = documents.spelled(open.address);
    return openRecords(other).flatMap(({ name, steps, limits }) => [
      ...steps
        .filter((step) => step.place.file === own)
        .map((step) => lens(step.place.start, done(told`Done, in ${name}`, record, name, step))),
      ...(isOurs ? limits : [])
        .filter((limit) => limit.place.file === own)
        .map((limit) => lens(limit.place.start, measure(told`Enter a measurement, in ${name}`, record, name, [limit]))),
    ]);
  });
  return [...inRecord, ...inSpec, ...(isOurs ? whatIfLenses(uri, analysis, lens, rows) : [])];
}

function whatIfLenses(
  uri: string,
  analysis: Analysis,
  lens: (start: number, command: Command) => CodeLens,
  rows: Rows,
): readonly CodeLens[] {
  const known = choices(analysis);
  const named = new Set(known.filter((each) => each.text === null || each.text === undefined).map((each) => each.name));
  return analysis.file.declarations.flatMap((placed) => {
    const { declaration } = placed;
    if (declaration.word === 'engine')
      return known.some((each) => each.text !== undefined)
        ? [
            lens(placeOf(placed, declaration.wordSpan).start, {
              title: told`What if…`.in(rows),
              command: 'fettle.whatIf',
              arguments: [uri],
            }),
          ]
        : [];
    return (declaration.body?.statements ?? []).flatMap((each) =>
      each.kind === 'size' && named.has(each.name.text)
        ? [
            lens(placeOf(placed, each).start, {
              title: told`What if ${each.name.text} is fitted`.in(rows),
              command: 'fettle.whatIf',
              arguments: [uri, each.name.text],
            }),
          ]
        : [],
    );
  });
}
