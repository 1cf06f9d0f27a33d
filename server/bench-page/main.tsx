// Starts the bench page: takes the job that lies in it, and reads the spec behind what stands already.
import { render } from 'preact';
import type { BenchJob } from '../bench/bench-job.ts';
import { App } from './app.tsx';
import type { Spec } from './context.ts';
import { panelRound, stayAwake } from './host.ts';
import { browserShelf } from './kept.ts';

/** After the page has been drawn. */
function drawn(): Promise<void> {
  return new Promise((done) => requestAnimationFrame(() => setTimeout(done, 0)));
}

async function read(job: BenchJob): Promise<Spec> {
  await drawn();
  const reader = await import('./reader.ts');
  return { reader, view: reader.specOf(job) };
}

const place = document.getElementById('bench');
const paper = document.getElementById('paper');
const data = document.getElementById('job');
if (place !== null && paper !== null && data !== null) {
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
