// Findings as SARIF 2.1.0, for anything that reads it. What they are is decided in check-file.ts.
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { CHECKS } from '../checks/catalog.ts';
import { addressOf } from '../workspace/disk.ts';
import type { Stretch, ToldFinding } from './check-file.ts';
import { type Checked, hasFailed } from './check-file.ts';

const LEVEL = { error: 'error', warning: 'warning', information: 'note' } as const;

/** Below the folder that the command runs in, a relative reference; elsewhere, a whole address. */
function artifact(shown: string): object {
  const whole = /^(?:[\\/]|[A-Za-z]:)/.test(shown);
  return { uri: whole ? addressOf(shown) : shown.split(/[\\/]/).map(encodeURIComponent).join('/') };
}

function physical(place: Stretch): object {
  return { artifactLocation: artifact(place.file), region: region(place) };
}

function region({ start, end }: Stretch): object {
  return { startLine: start.line, startColumn: start.column, endLine: end.line, endColumn: end.column };
}

/** The first sentence of a help page. */
function shortText(page: string): string {
  const lines = page.split('\n').slice(1);
  const from = lines.findIndex((line) => line.trim() !== '');
  const to = lines.findIndex((line, i) => i > from && line.trim() === '');
  const paragraph = lines.slice(Math.max(0, from), to < 0 ? undefined : to).join(' ');
  return /^.*?[.:](?=\s|$)/.exec(paragraph)?.[0].replace(/:$/, '.') ?? paragraph;
}

const RULES = CHECKS.map((check) => ({
  id: check.code,
  shortDescription: { text: shortText(check.page) },
  help: { text: check.page, markdown: check.page },
  defaultConfiguration: { level: LEVEL[check.severity] },
}));

function fixJson(fix: ToldFinding['fixes'][number]): object {
  const files = [...new Set(fix.edits.map((edit) => edit.file))];
  return {
    description: { text: literal(fix.title) },
    artifactChanges: files.map((file) => ({
      artifactLocation: artifact(file),
      replacements: fix.edits
        .filter((edit) => edit.file === file)
        .map((edit) => ({ deletedRegion: region(edit), insertedContent: { text: edit.text } })),
    })),
  };
}

/**
 * What a finding is known by when the lines above it come and go: its code, its file, the line that it stands in, and which one of those
 * it is. `times` counts them, file by file.
 */
function fingerprint({ code, file, source }: ToldFinding, times: Map<string, number>): string {
  const what = [code, file.split('\\').join('/'), source.text.trim()].join('\n');
  const time = (times.get(what) ?? 0) + 1;
  times.set(what, time);
  return bytesToHex(sha256(utf8ToBytes(`${what}\n${time}`))).slice(0, 32);
}

function result(finding: ToldFinding, known: string): object {
  const ruleIndex = RULES.findIndex((rule) => rule.id === finding.code);
  const fixes = finding.fixes.filter((fix) => fix.edits.length > 0);
  return {
    ruleId: finding.code,
    ...(ruleIndex < 0 ? {} : { ruleIndex }),
    level: LEVEL[finding.severity],
    message: { text: literal(finding.message), arguments: finding.args.map((each) => each.text) },
    locations: [{ physicalLocation: physical(finding) }],
    partialFingerprints: { 'findingInLine/v1': known },
    ...(finding.related.length === 0
      ? {}
      : {
          relatedLocations: finding.related.map((each, id) => ({
            id,
            message: { text: literal(each.message) },
            physicalLocation: physical(each),
          })),
        }),
    ...(fixes.length === 0 ? {} : { fixes: fixes.map(fixJson) }),
    properties: {
      ...(finding.variants === undefined ? {} : { variants: finding.variants }),
      template: finding.template,
      arguments: finding.args,
    },
  };
}

/** A text of a message as it is: in SARIF a brace begins the place of an argument, and two stand for one (SARIF 2.1.0, 3.11.5). */
function literal(text: string): string {
  return text.replace(/[{}]/g, '$&$&');
}

/** One run with every rule, and a result for each finding. */
export function sarif({ files }: Checked, version: string): object {
  return {
    $schema: 'https://json.schemastore.org/sarif-2.1.0.json',
    version: '2.1.0',
    runs: [
      {
        tool: { driver: { name: 'fettle', version, rules: RULES } },
        columnKind: 'utf16CodeUnits',
        invocations: [{ executionSuccessful: !hasFailed(files) }],
        results: files.flatMap(({ findings }) => {
          const times = new Map<string, number>();
          return findings.map((finding) => result(finding, fingerprint(finding, times)));
        }),
      },
    ],
  };
}
