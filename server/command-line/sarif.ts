// Findings as SARIF 2.1.0, for anything that reads it.
import { CHECKS } from '../checks/catalog.ts';
import { type CheckedFile, indexFor, placeIn } from './check.ts';
import { shownAddress } from './specs.ts';
import type { Streams } from './streams.ts';

const LEVEL = { error: 'error', warning: 'warning', information: 'note' } as const;

/** A path as a relative reference: slashes forward, each part encoded. */
function reference(path: string): string {
  return path.split(/[\\/]/).map(encodeURIComponent).join('/');
}

/** The first sentence of a help page. */
function shortText(page: string): string {
  return (
    page
      .split('\n')
      .find((line) => line.trim() !== '' && !line.startsWith('#'))
      ?.trim() ?? ''
  );
}

/** One run with every rule, and a result for each finding. */
export function sarif(checked: readonly CheckedFile[], streams: Streams): unknown {
  const rules = CHECKS.map((check) => ({
    id: check.code,
    shortDescription: { text: shortText(check.page) },
    help: { text: check.page, markdown: check.page },
    defaultConfiguration: { level: LEVEL[check.severity] },
  }));
  const results = checked.flatMap((file) =>
    file.findings.map((finding) => {
      const region = (index: CheckedFile['index'], place: { readonly start: number; readonly end: number }): object => {
        const [start, end] = [placeIn(index, place.start), placeIn(index, place.end)];
        return { startLine: start.line, startColumn: start.column, endLine: end.line, endColumn: end.column };
      };
      const ruleIndex = rules.findIndex((rule) => rule.id === finding.code);
      return {
        ruleId: finding.code,
        ...(ruleIndex < 0 ? {} : { ruleIndex }),
        level: LEVEL[finding.severity],
        message: { text: finding.message },
        locations: [
          {
            physicalLocation: {
              artifactLocation: { uri: reference(file.spec.shown) },
              region: region(file.index, finding),
            },
          },
        ],
        ...(finding.related.length === 0
          ? {}
          : {
              relatedLocations: finding.related.map((each, id) => ({
                id,
                message: { text: each.message },
                physicalLocation: {
                  artifactLocation: { uri: reference(shownAddress(each.file, streams)) },
                  region: region(indexFor(each.file, file), each),
                },
              })),
            }),
        ...(finding.variants === undefined ? {} : { properties: { variants: finding.variants } }),
      };
    }),
  );
  return {
    $schema: 'https://json.schemastore.org/sarif-2.1.0.json',
    version: '2.1.0',
    runs: [{ tool: { driver: { name: 'fettle', rules } }, columnKind: 'utf16CodeUnits', results }],
  };
}
