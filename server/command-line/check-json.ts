// The findings of `fettle check --format json`. What they are is decided in check-file.ts.
import type { Checked, ToldFile } from './check-file.ts';

function fileJson(file: ToldFile): object {
  return {
    file: file.file,
    findings: file.findings.map(
      ({ code, severity, message, template, args, start, end, variants, related, fixes }) => ({
        code,
        severity,
        message,
        template,
        args,
        help: `fettle explain ${code}`,
        start,
        end,
        ...(variants === undefined ? {} : { variants }),
        related: related.map((each) => ({ file: each.file, start: each.start, end: each.end, message: each.message })),
        fixes: fixes.map((fix) => fix.title),
      }),
    ),
    ...(file.unsaid === undefined
      ? {}
      : {
          unsaid: file.unsaid.map(({ thing, unsaid, tells, start, end }) => ({ thing, unsaid, tells, start, end })),
        }),
  };
}

/** Files in the order that they were named or lie in, findings by place. Lines and columns from 1. */
export function checkJson({ files, errors, warnings, information }: Checked): object {
  return { files: files.map(fileJson), errors, warnings, information };
}
