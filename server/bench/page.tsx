// The bench page as one file that needs nothing else: the job as data, our own code to judge it with, a strict policy. Built from elements;
// text of a spec is data in it, and never markup or script.

import { sha256 } from '@noble/hashes/sha2.js';
import { utf8ToBytes } from '@noble/hashes/utils.js';
import { render } from 'preact-render-to-string';
import { nothingMoved } from '../../grammar/characters.ts';
import type { PackedRows } from '../../grammar/languages.ts';
import { spoken } from '../../grammar/spoken.ts';
import { base64 } from '../pictures/data-address.ts';
import { printedMargins } from '../sheet/printed-margins.ts';
import { STYLE } from '../sheet/style.ts';
import type { BenchJob } from './bench-job.ts';
import type { Program } from './program.ts';
import { BENCH_STYLE } from './style.ts';

function hash(text: string): string {
  return `'sha256-${base64(sha256(utf8ToBytes(text)))}'`;
}

/** Data in a page: no letter of it can end the element that it stands in. */
function inScript(data: object): string {
  return JSON.stringify(data)
    .replace(/</g, '\\u003c')
    .replace(/[\u2028\u2029]/g, (letter) => `\\u${letter.charCodeAt(0).toString(16)}`);
}

/** What stands at the head of each page that is printed. */
function printedText(job: BenchJob): string {
  const facts = [
    job.title,
    job.revision === undefined ? '' : spoken`revision ${job.revision}`,
    job.variant ?? '',
    job.job?.title ?? '',
  ];
  return facts.filter((each) => each !== '').join(', ');
}

/** The page, with the program that runs in it, and the words of its language where that is not English. */
export function benchPage(job: BenchJob, program: Program, words?: PackedRows): string {
  // On the screen the bench page, on paper the bench sheet.
  const style = `@media screen {\n${BENCH_STYLE}#paper { display: none; }\n}\n@media print {\n#bench { display: none; }\n${STYLE}}\n${printedMargins(printedText(job))}`;
  const policy = [
    "default-src 'none'",
    `script-src ${hash(program.first)} ${hash(program.rest)}`,
    `style-src ${hash(style)}`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  const title = `${job.job?.title ?? spoken`Bench page`}: ${job.title}`;
  const page = (
    <html lang={spoken`en`}>
      <head>
        <meta charset="utf-8" />
        <meta http-equiv="Content-Security-Policy" content={policy} />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="referrer" content="no-referrer" />
        <title>{title}</title>
        <style dangerouslySetInnerHTML={{ __html: style }} />
      </head>
      <body>
        <div id="bench">
          <main>
            <h1>{job.job?.title ?? job.title}</h1>
            <p>
              {spoken`This page needs scripts to be allowed. They are in the page itself, and ask nothing of any network.`}
            </p>
          </main>
        </div>
        <div id="paper" class="paper" />
        <script type="application/json" id="job" dangerouslySetInnerHTML={{ __html: inScript(job) }} />
        {words === undefined ? null : (
          <script type="application/json" id="words" dangerouslySetInnerHTML={{ __html: inScript(words) }} />
        )}
        <script
          type="text/plain"
          id="rest"
          data-packed={program.packed === undefined ? undefined : 'deflate-raw'}
          dangerouslySetInnerHTML={{ __html: program.packed ?? program.rest }}
        />
        <script dangerouslySetInnerHTML={{ __html: program.first }} />
      </body>
    </html>
  );
  return `<!DOCTYPE html>\n${nothingMoved(render(page))}\n`;
}
