// A review as one page that needs nothing else: to read on a screen, light or dark, and to print. Built from elements, so that no
// text of a spec can be anything but text; there is no script on it.
import { render } from 'preact-render-to-string';
import { nothingMoved } from '../../grammar/characters.ts';
import { WEIGHTS, type Weight } from './change.ts';
import { STYLE } from './page-style.ts';
import {
  CAUTION,
  countsText,
  filesText,
  HEADINGS,
  KINDS,
  type PlacedChange,
  placeText,
  type ReviewedFiles,
  sidesText,
  TITLE,
} from './placed-change.ts';

function ChangeItem({ change, files }: { change: PlacedChange; files: ReviewedFiles }) {
  const sides = sidesText(change);
  const place = placeText(change, files);
  return (
    <li>
      <p class="said">
        <span class="kind">{KINDS[change.kind]}</span> {change.message}
        {change.variants === undefined ? null : <span class="variants"> ({change.variants.join(', ')})</span>}
      </p>
      {sides.length === 0 ? null : (
        <dl>
          {sides.map(({ label, text }) => (
            <div key={label}>
              <dt>{label}</dt>
              <dd>{text}</dd>
            </div>
          ))}
        </dl>
      )}
      {place === '' ? null : <p class="place">{place}</p>}
    </li>
  );
}

function Group({ weight, files }: { weight: Weight; files: ReviewedFiles }) {
  const changes = files.changes.filter((each) => each.weight === weight);
  if (changes.length === 0) return null;
  return (
    <section class={weight}>
      <h3>{HEADINGS[weight]}</h3>
      <ul>
        {changes.map((change, i) => (
          <ChangeItem change={change} files={files} key={i} />
        ))}
      </ul>
    </section>
  );
}

function Files({ files }: { files: ReviewedFiles }) {
  if (files.changes.length === 0) return null;
  return (
    <section class="files">
      <h2>{filesText(files)}</h2>
      {WEIGHTS.map((weight) => (
        <Group weight={weight} files={files} key={weight} />
      ))}
    </section>
  );
}

/** The page of a whole review. */
export function reviewPage(reviewed: readonly ReviewedFiles[]): string {
  const all = reviewed.flatMap((files) => files.changes);
  const page = (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta
          http-equiv="Content-Security-Policy"
          content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
        />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        <title>Review of a build spec</title>
        <style dangerouslySetInnerHTML={{ __html: STYLE }} />
      </head>
      <body>
        <header>
          <h1>{TITLE}</h1>
          <p class="counts">{countsText(all)}</p>
        </header>
        <main>
          {reviewed.map((files) => (
            <Files files={files} key={`${files.old} ${files.new}`} />
          ))}
        </main>
        <footer>
          <p>{CAUTION}</p>
        </footer>
      </body>
    </html>
  );
  return `<!DOCTYPE html>\n${nothingMoved(render(page))}\n`;
}
