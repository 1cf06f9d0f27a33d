// The page: the step in hand, the whole list, the record; and what keeps them together.

import { render } from 'preact';
import { useCallback, useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { spoken } from '../../grammar/spoken.ts';
import type { BenchJob } from '../bench/bench-job.ts';
import { type Entries, noEntries, placesOf, recordName, stepEntries, stepsOf, withDone } from '../bench/entries.ts';
import { BenchContext, type Spec } from './context.ts';
import type { FromPanel, Panel } from './host.ts';
import { forget, type Kept, keep, keptEngines, type Shelf } from './kept.ts';
import { now } from './moment.ts';
import { whyNotOpened } from './open-record.tsx';
import { Overview, StepList } from './overview.tsx';
import { RecordInFile } from './record-in-file.ts';
import { RecordView } from './record-view.tsx';
import { settled } from './settled.ts';
import { StartView } from './start-view.tsx';
import { StepView } from './step-view.tsx';

export interface AppProps {
  readonly job: BenchJob;
  readonly shelf: Shelf;
  readonly panel: Panel | undefined;
  /** Where the sheet for paper is put. */
  readonly paper: Element;
  readonly read: (job: BenchJob) => Promise<Spec>;
}

type Screen = 'start' | 'step' | 'all' | 'record';

interface At {
  readonly step: number;
  readonly place: string;
}

export function App({ job: given, shelf, panel, paper, read }: AppProps) {
  const [job, setJob] = useState(given);
  const steps = useMemo(() => stepsOf(job), [job]);
  const first = useMemo(() => (panel === undefined ? keptEngines(shelf, given)[0] : undefined), []);
  const [screen, setScreen] = useState<Screen>(first !== undefined ? 'step' : panel === undefined ? 'start' : 'step');
  const [entries, setEntries] = useState<Entries>(first?.entries ?? noEntries(given));
  const [at, setAt] = useState<At>({
    step: Math.min(first?.step ?? 0, Math.max(0, steps.length - 1)),
    place: first?.place ?? '',
  });
  const [spec, setSpec] = useState<Spec | undefined>(undefined);
  const [isKept, setIsKept] = useState(true);
  const [notice, setNotice] = useState('');
  const { current: file } = useRef(new RecordInFile());
  const last = useRef(entries);
  last.current = entries;

  useEffect(() => {
    let isWanted = true;
    setSpec(undefined);
    read(job).then(
      (found) => {
        if (isWanted) setSpec(found);
      },
      () => {
        if (isWanted)
          setNotice(
            spoken`This browser can’t read the spec: nothing is judged here, and no record is made. Open the page in a newer one.`,
          );
      },
    );
    return () => {
      isWanted = false;
    };
  }, [job]);

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

  /** Which telling of the file was heard last. */
  const telling = useRef(0);
  /** Tells the panel the record as it is now, once the spec has been read. */
  const sayRecord = (): void => {
    if (panel === undefined || spec === undefined) return;
    const text = file.toTell(spec.reader.recordText(last.current, job));
    if (text !== undefined) panel.say({ kind: 'record', text, telling: telling.current });
  };

  const enter = useCallback(
    (change: (before: Entries) => Entries) => {
      const before = last.current;
      const after = settled(before, change(before), job);
      last.current = after;
      setEntries(after);
      store(after, at);
      if (panel === undefined) return;
      file.entered(change);
      sayRecord();
    },
    [job, spec, panel, at, store],
  );

  // What the panel tells.
  const hear = useRef<(message: FromPanel) => void>(() => undefined);
  hear.current = (message) => {
    if (message.kind === 'job') setJob(JSON.parse(message.job) as BenchJob);
    else if (message.kind === 'refused') setNotice(message.why);
    else if (message.kind === 'begin') {
      const engineNumber = message.engine === '' ? last.current.engineNumber : message.engine;
      telling.current = message.telling;
      file.read(undefined, false);
      last.current = { ...last.current, engineNumber, record: recordName(engineNumber, job), base: undefined };
      setEntries(last.current);
      if (file.isWaiting) sayRecord();
    } else if (message.kind === 'written') {
      // What is entered from now on goes into the text as it was written.
      file.written(message.text);
      last.current = { ...last.current, base: message.text };
      setEntries(last.current);
    } else if (message.kind === 'file') {
      // While the spec is being read the panel is asked again afterwards.
      if (spec === undefined) return;
      telling.current = message.telling;
      const isBroken = spec.reader.recordHead(message.text)?.isBroken ?? true;
      file.read(message.text, isBroken);
      const found = isBroken ? undefined : spec.reader.readRecord(message.text, job);
      if (isBroken)
        setNotice(
          spoken`${message.name} has lines that can't be read, or no record. Put that right: what is entered here is kept, and written into it then.`,
        );
      if (found === undefined) return;
      // Clocks of this panel go on. What the file says counts, and what was entered since it was last written comes into it.
      const read: Entries = {
        ...found,
        by: last.current.by === '' ? found.by : last.current.by,
        clocks: last.current.clocks,
      };
      last.current = file.enteredInto(read, (before, change) => settled(before, change(before), job));
      setEntries(last.current);
      setNotice('');
      if (file.isWaiting) sayRecord();
    }
  };
  useEffect(() => panel?.listen((message) => hear.current(message)), []);
  useEffect(() => {
    if (spec !== undefined) panel?.say({ kind: 'ready' });
  }, [spec]);

  const go = (step: number, place?: string): void => {
    const to = Math.max(0, Math.min(step, steps.length - 1));
    const target = steps[to];
    const all = target === undefined ? [''] : placesOf(target);
    const open = all.find((each) => target !== undefined && !stepEntries(last.current, target.name).done.has(each));
    const next = { step: to, place: place ?? open ?? all[0] ?? '' };
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
    const merged: Entries = { ...found, clocks: known?.entries.clocks ?? new Map() };
    last.current = merged;
    setEntries(merged);
    const step = steps.findIndex(
      (each) => !placesOf(each).every((place) => stepEntries(merged, each.name).done.has(place)),
    );
    go(Math.max(step, 0));
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

  const print = (): void => {
    fillPaper();
    globalThis.print();
  };
  const fillPaper = (): void => {
    if (spec !== undefined) render(spec.reader.sheetBody(job, last.current, spec.view), paper);
  };
  const fill = useRef(fillPaper);
  fill.current = fillPaper;
  useEffect(() => {
    const before = (): void => fill.current();
    const empty = (): void => render(null, paper);
    globalThis.addEventListener('beforeprint', before);
    globalThis.addEventListener('afterprint', empty);
    return () => {
      globalThis.removeEventListener('beforeprint', before);
      globalThis.removeEventListener('afterprint', empty);
    };
  }, []);

  const step = steps[at.step];
  const chapter = job.chapters.find((each) => step !== undefined && each.steps.includes(step));
  const places = step === undefined ? [''] : placesOf(step);
  const place = places.includes(at.place) ? at.place : (places[0] ?? '');
  const nextPlace = places[places.indexOf(place) + 1];
  const isLast = at.step >= steps.length - 1 && nextPlace === undefined;
  const onward = (): void => {
    // A step of remarks alone is done when it has been read.
    if (step?.lines.every((line) => line.kind === 'note') === true)
      enter((before) => withDone(before, step, place, now()));
    if (nextPlace !== undefined) go(at.step, nextPlace);
    else if (isLast) setScreen('record');
    else go(at.step + 1);
  };
  const back = (): void => {
    const before = places[places.indexOf(place) - 1];
    if (before !== undefined) go(at.step, before);
    else {
      const target = steps[at.step - 1];
      go(at.step - 1, target === undefined ? undefined : placesOf(target).at(-1));
    }
  };

  const notices = (
    <>
      {isKept ? null : (
        <p class="notice bad" role="alert">
          {spoken`This browser keeps nothing for this page: save the record before you close it.`}
        </p>
      )}
      {notice === '' ? null : (
        <p class="notice" role="alert">
          {notice}
        </p>
      )}
    </>
  );

  if (screen === 'start')
    return (
      <div class="frame">
        <div>{notices}</div>
        <StartView
          job={job}
          kept={keptEngines(shelf, job)}
          begin={(engine, by) => {
            const known = keptEngines(shelf, job).find((each) => each.engine === engine);
            const fresh: Entries = known?.entries ?? {
              ...noEntries(job),
              engineNumber: engine,
              by,
              record: recordName(engine, job),
            };
            last.current = fresh;
            setEntries(fresh);
            go(known?.step ?? 0, known?.place);
          }}
          goOn={(kept: Kept) => {
            last.current = kept.entries;
            setEntries(kept.entries);
            go(kept.step, kept.place);
          }}
          open={openRecord}
        />
      </div>
    );

  return (
    <BenchContext.Provider value={{ job, entries, spec, judgement, enter }}>
      <div class={screen === 'all' ? 'frame' : 'frame two'}>
        <header class="top">
          <p class="which">
            <strong>{entries.engineNumber === '' ? spoken`Engine without a number` : entries.engineNumber}</strong>
            <span class="soft">
              {job.job?.title ?? job.title}
              {job.variant === undefined ? '' : `, ${job.variant}`}
            </span>
          </p>
          <button
            type="button"
            aria-pressed={screen === 'all' ? 'true' : 'false'}
            onClick={() => setScreen(screen === 'all' ? 'step' : 'all')}
          >
            {spoken`All steps`}
          </button>
          <button
            type="button"
            aria-pressed={screen === 'record' ? 'true' : 'false'}
            onClick={() => setScreen(screen === 'record' ? 'step' : 'record')}
          >
            {spoken`The record`}
          </button>
        </header>
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
          <nav class="bottom" aria-label={spoken`Step by step`}>
            <button type="button" disabled={at.step === 0 && places.indexOf(place) <= 0} onClick={back}>
              {spoken`Back`}
            </button>
            <button type="button" class="main" onClick={onward}>
              {nextPlace !== undefined
                ? spoken`Next: ${step?.each ?? ''} ${nextPlace}`
                : isLast
                  ? spoken`To the record`
                  : spoken`Next step`}
            </button>
          </nav>
        ) : (
          <nav class="bottom still" aria-label={spoken`Step by step`}>
            <button type="button" class="main" onClick={() => setScreen('step')}>
              {spoken`Back to the step`}
            </button>
          </nav>
        )}
      </div>
    </BenchContext.Provider>
  );
}
