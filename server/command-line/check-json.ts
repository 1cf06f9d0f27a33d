// The findings of `fettle check --format json`. What they are is decided in check.ts.
import type { LineIndex } from '../workspace/lines.ts';
import { type Checked, type CheckedFile, indexFor, placeIn } from './check.ts';
import { shownAddress } from './specs.ts';
import type { Streams } from './streams.ts';

function from(index: LineIndex, place: { readonly start: number; readonly end: number }): object {
  return { start: placeIn(index, place.start), end: placeIn(index, place.end) };
}

function fileJson(file: CheckedFile, streams: Streams): object {
  return {
    file: file.spec.shown,
    findings: file.findings.map((finding) => ({
      code: finding.code,
      severity: finding.severity,
      message: finding.message,
      help: `fettle explain ${finding.code}`,
      ...from(file.index, finding),
      ...(finding.variants === undefined ? {} : { variants: finding.variants }),
      related: finding.related.map((each) => ({
        file: shownAddress(each.file, streams),
        ...from(indexFor(each.file, file), each),
        message: each.message,
      })),
      fixes: finding.fixes.map((fix) => fix.title),
    })),
  };
}

/** Files in the order that they were checked in, findings by place. Lines and columns from 1. */
export function checkJson({ files, errors, warnings, information }: Checked, streams: Streams): object {
  return { files: files.map((file) => fileJson(file, streams)), errors, warnings, information };
}
