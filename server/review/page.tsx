// A review as one page that needs nothing else: to read on a screen, light or dark, and to print. Built from elements, so that no
// text of a spec can be anything but text; there is no script on it.
import { render } from 'preact-render-to-string';
import { nothingMoved } from '../../grammar/characters.ts';
import { told } from '../../grammar/told.ts';
import { IN_PLAIN_ENGLISH, messageIn, type Say, WEIGHTS, type Weight } from './change.ts';
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

function ChangeItem({ change, files, say }: { change: PlacedChange; files: ReviewedFiles; say: Say }) {
  const sides = sidesText(change);
  const place = placeText(change, files);
  return (
    <li>
      <p class="said">
        <span class="kind">{say(KINDS[change.kind])}</span> {messageIn(change, say)}
        {change.variants === undefined ? null : <span class="variants"> ({change.variants.join(', ')})</span>}
      </p>
      {sides.length === 0 ? null : (
        <dl>
          {sides.map(({ label, text }) => (
            <div key={label.text}>
              <dt>{say(label)}</dt>
              <dd>{text}</dd>
            </div>
          ))}
        </dl>
      )}
      {place === undefined ? null : <p class="place">{say(place)}</p>}
    </li>
  );
}

function Group({ weight, files, say }: { weight: Weight; files: ReviewedFiles; say: Say }) {
  const changes = files.changes.filter((each) => each.weight === weight);
  if (changes.length === 0) return null;
  return (
    <section class={weight}>
      <h3>{say(HEADINGS[weight])}</h3>
      <ul>
        {changes.map((change, i) => (
          <ChangeItem change={change} files={files} say={say} key={i} />
        ))}
      </ul>
    </section>
  );
}

function Files({ files, say }: { files: ReviewedFiles; say: Say }) {
  if (files.changes.length === 0) return null;
  return (
    <section class="files">
      <h2>{say(filesText(files))}</h2>
      {WEIGHTS.map((weight) => (
        <Group weight={weight} files={files} say={say} key={weight} />
      ))}
    </section>
  );
}

/** The page of a whole review, in the language that `say` puts it into. */
export function reviewPage(reviewed: readonly ReviewedFiles[], say: Say = IN_PLAIN_ENGLISH, language = 'en'): string {
  const all = reviewed.flatMap((files) => files.changes);
  const page = (
    <html lang={language}>
      <head>
        <meta charset="utf-8" />
        <meta
          http-equiv="Content-Security-Policy"
          content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
        />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        <title>{say(told`Review of a build spec`)}</title>
        <style dangerouslySetInnerHTML={{ __html: STYLE }} />
      </head>
      <body>
        <header>
          <h1>{say(TITLE)}</h1>
          <p class="counts">{say(countsText(all))}</p>
        </header>
        <main>
          {reviewed.map((files) => (
            <Files files={files} say={say} key={`${files.old} ${files.new}`} />
          ))}
        </main>
        <footer>
          <p>{say(CAUTION)}</p>
        </footer>
      </body>
    </html>
  );
  return `<!DOCTYPE html>\n${nothingMoved(render(page))}\n`;
}
