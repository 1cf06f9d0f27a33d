// The page: the step in hand, the whole list, the record; and what keeps them together.

import { useCallback, useMemo, useRef, useState } from 'preact/hooks';
import { spoken } from '../../grammar/spoken.ts';
import type { BenchJob } from '../bench/bench-job.ts';
import { type Entries, noEntries, recordName, stepsOf, withDone } from '../bench/entries.ts';
import { BackBar, Notices, type Screen, StepBar, TopBar } from './bars.tsx';
import { BenchContext, type Spec } from './context.ts';
import type { Panel } from './host.ts';
import { forget, keep, keptEngines, type Shelf } from './kept.ts';
import { now } from './moment.ts';
import { whyNotOpened } from './open-record.tsx';
import { Overview, StepList } from './overview.tsx';
import type { Change } from './record-in-file.ts';
import { RecordView } from './record-view.tsx';
import { settled } from './settled.ts';
import { StartView } from './start-view.tsx';
import { StepView } from './step-view.tsx';
import { usePanel } from './use-panel.ts';
import { usePaper } from './use-paper.ts';
import { useSpec } from './use-spec.ts';
import { type At, atStep, firstOpen, type Where, whereIs } from './where.ts';

export interface AppProps {
  readonly job: BenchJob;
  readonly shelf: Shelf;
  readonly panel: Panel | undefined;
  /** Where the sheet for paper is put. */
  readonly paper: Element;
  readonly read: (job: BenchJob) => Promise<Spec>;
}

/** Where the way on leads. */
function onwardLabel({ step, nextPlace, isLast }: Where): string {
  if (nextPlace !== undefined) return spoken`Next: ${step?.each ?? ''} ${nextPlace}`;
  return isLast ? spoken`To the record` : spoken`Next step`;
}

export function App({ job: given, shelf, panel, paper, read }: AppProps) {
  const [job, setJob] = useState(given);
  const steps = useMemo(() => stepsOf(job), [job]);
  const first = useMemo(() => (panel === undefined ? keptEngines(shelf, given)[0] : undefined), []);
  const [screen, setScreen] = useState<Screen>(first === undefined && panel === undefined ? 'start' : 'step');
  const [entries, setEntries] = useState<Entries>(first?.entries ?? noEntries(given));
  const [at, setAt] = useState<At>({
    step: Math.min(first?.step ?? 0, Math.max(0, steps.length - 1)),
    place: first?.place ?? '',
  });
  const [isKept, setIsKept] = useState(true);
  const [notice, setNotice] = useState('');
  const spec = useSpec(job, read, () =>
    setNotice(
      spoken`This browser can’t read the spec: nothing is judged here, and no record is made. Open the page in a newer one.`,
    ),
  );
  /** What is entered, as it is at this moment. */
  const last = useRef(entries);
  last.current = entries;
  const take = (entered: Entries): void => {
    last.current = entered;
    setEntries(entered);
  };

  const judgement = useMemo(() => spec?.reader.judge(entries, job, spec.view), [entries, job, spec]);
  const isOnPaper = screen === 'record' || panel !== undefined;
  const text = useMemo(
    () => (isOnPaper ? spec?.reader.recordText(entries, job) : undefined),
    [entries, job, spec, isOnPaper],
  );

  const store = useCallback(
    (kept: Entries, place: At) => {
      if (panel === undefined)
        setIsKept(keep(shelf, job, { engine: kept.engineNumber, entries: kept, at: Date.now(), ...place }));
    },
    [job, panel, shelf],
  );
  const tellPanel = usePanel({ panel, job, spec, entries: () => last.current, take, setJob, setNotice });
  const enter = useCallback(
    (change: Change) => {
      const before = last.current;
      const after = settled(before, change(before), job);
      take(after);
      store(after, at);
      tellPanel(change);
    },
    [job, spec, panel, at, store],
  );

  const go = (step: number, place?: string): void => {
    const next = atStep(steps, last.current, step, place);
    setAt(next);
    setScreen('step');
    setNotice('');
    store(last.current, next);
  };

  const openRecord = (written: string, name: string): void => {
    if (spec === undefined) {
      setNotice(spoken`The spec is still being read: open the record again in a moment.`);
      return;
    }
    const found = spec.reader.readRecord(written, job);
    const why = whyNotOpened(spec.reader.recordHead(written), name, job);
    if (found === undefined || why !== undefined) {
      setNotice(why ?? spoken`There is no record in ${name}.`);
      return;
    }
    const known = keptEngines(shelf, job).find((each) => each.engine === found.engineNumber);
    take({ ...found, clocks: known?.entries.clocks ?? new Map() });
    go(firstOpen(steps, last.current));
    if (job.revision !== undefined && found.revision !== undefined && found.revision !== job.revision)
      setNotice(
        spoken`This record was worked to revision ${found.revision}, and the spec is at revision ${job.revision}. See what has changed before you go on.`,
      );
  };

  const rename = (engine: string): void => {
    const before = last.current;
    if (engine === before.engineNumber) return;
    const other = panel === undefined ? keptEngines(shelf, job).find((each) => each.engine === engine) : undefined;
    if (other !== undefined) {
      setNotice(
        spoken`Work on engine ${engine} is kept on this device already: choose "Another engine" to go on with it.`,
      );
      return;
    }
    forget(shelf, job, before.engineNumber);
    enter((was) => ({
      ...was,
      engineNumber: engine,
      record: was.base === undefined ? recordName(engine, job) : was.record,
    }));
  };

  /** Begins with an engine, or goes on with one that is kept. */
  const begin = (engine: string, by: string): void => {
    const known = keptEngines(shelf, job).find((each) => each.engine === engine);
    take(known?.entries ?? { ...noEntries(job), engineNumber: engine, by, record: recordName(engine, job) });
    go(known?.step ?? 0, known?.place);
  };

  const print = usePaper(paper, () =>
    spec === undefined ? undefined : spec.reader.sheetBody(job, last.current, spec.view),
  );

  const where = whereIs(steps, at);
  const { step, place, nextPlace, isLast } = where;
  const chapter = job.chapters.find((each) => step !== undefined && each.steps.includes(step));
  const onward = (): void => {
    // A step of remarks alone is done when it has been read.
    if (step?.lines.every((line) => line.kind === 'note') === true)
      enter((before) => withDone(before, step, place, now()));
    if (nextPlace !== undefined) go(at.step, nextPlace);
    else if (isLast) setScreen('record');
    else go(at.step + 1);
  };

  const notices = <Notices isKept={isKept} notice={notice} />;
  if (screen === 'start')
    return (
      <div class="frame">
        <div>{notices}</div>
        <StartView
          job={job}
          kept={keptEngines(shelf, job)}
          begin={begin}
          goOn={(kept) => {
            take(kept.entries);
            go(kept.step, kept.place);
          }}
          open={openRecord}
        />
      </div>
    );

  return (
    <BenchContext.Provider value={{ job, entries, spec, judgement, enter }}>
      <div class={screen === 'all' ? 'frame' : 'frame two'}>
        <TopBar screen={screen} show={setScreen} />
        {screen === 'all' ? null : (
          <div class="aside">
            <StepList at={at.step} go={go} />
          </div>
        )}
        <div>
          {notices}
          {screen === 'all' ? <Overview at={at.step} go={go} /> : null}
          {screen === 'record' ? (
            <RecordView
              text={text}
              isInPanel={panel !== undefined}
              open={openRecord}
              rename={rename}
              another={() => setScreen('start')}
              print={print}
            />
          ) : null}
          {screen === 'step' && step !== undefined && chapter !== undefined ? (
            <StepView
              key={`${step.name} ${place}`}
              chapter={chapter}
              step={step}
              at={at.step}
              of={steps.length}
              place={place}
              toPlace={(each) => go(at.step, each)}
            />
          ) : null}
        </div>
        {screen === 'step' ? (
          <StepBar
            isFirst={where.isFirst}
            back={() => go(where.before.step, where.before.place)}
            onward={onward}
            label={onwardLabel(where)}
          />
        ) : (
          <BackBar back={() => setScreen('step')} />
        )}
      </div>
    </BenchContext.Provider>
  );
}
