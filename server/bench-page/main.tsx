// Starts the bench page: takes the job that lies in it, and reads the spec behind what stands already.

import { render } from 'preact';
import { type PackedRows, rowsOf } from '../../grammar/languages.ts';
import { speakAlways } from '../../grammar/spoken.ts';
import type { BenchJob } from '../bench/bench-job.ts';
import { App } from './app.tsx';
import type { Spec } from './context.ts';
import { panelRound, stayAwake } from './host.ts';
import { browserShelf } from './kept.ts';

/** After the page has been drawn. */
function drawn(): Promise<void> {
  return new Promise((done) => requestAnimationFrame(() => setTimeout(done, 0)));
}

/** Lets what was tapped meanwhile be answered: on a slow tablet a spec takes a second to be read. */
function breath(): Promise<void> {
  return new Promise((done) => setTimeout(done, 0));
}

/** The greater part of the program lies in the page as text, packed where the page is a file; see server/bench/program.ts. */
async function restOf(place: HTMLElement): Promise<string> {
  const text = place.textContent ?? '';
  const { packed } = place.dataset;
  if (packed === undefined) return text;
  const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
  const unpacked = new Blob([bytes]).stream().pipeThrough(new DecompressionStream(packed as CompressionFormat));
  return new Response(unpacked).text();
}

async function start(): Promise<void> {
  const place = document.getElementById('rest');
  if (place === null) return;
  const script = document.createElement('script');
  script.textContent = await restOf(place);
  place.replaceWith(script);
}

async function read(job: BenchJob): Promise<Spec> {
  await drawn();
  started ??= start();
  await started;
  await breath();
  const reader = await import('./reader.ts');
  const reading = reader.specInPieces(job);
  for (;;) {
    await breath();
    const { done, value } = reading.next();
    if (done === true) {
      await breath();
      return { reader, view: value };
    }
  }
}

let started: Promise<void> | undefined;

const place = document.getElementById('bench');
const paper = document.getElementById('paper');
const data = document.getElementById('job');
if (place !== null && paper !== null && data !== null) {
  const words = document.getElementById('words');
  if (words !== null) speakAlways(rowsOf(JSON.parse(words.textContent ?? '') as PackedRows));
  place.replaceChildren();
  render(
    <App
      job={JSON.parse(data.textContent ?? '') as BenchJob}
      shelf={browserShelf()}
      panel={panelRound()}
      paper={paper}
      read={read}
    />,
    place,
  );
  stayAwake();
}
