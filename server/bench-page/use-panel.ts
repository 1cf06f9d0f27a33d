// What the page and the panel of the editor tell each other: the job made anew, the record's file as it stands, the record as it is to be written.
import { useEffect, useRef } from 'preact/hooks';
import { spoken } from '../../grammar/spoken.ts';
import type { BenchJob } from '../bench/bench-job.ts';
import { type Entries, recordName } from '../bench/entries.ts';
import type { Spec } from './context.ts';
import type { FromPanel, Panel } from './host.ts';
import { type Change, RecordInFile } from './record-in-file.ts';
import { settled } from './settled.ts';

/** What of the page the panel has a hand in. */
export interface InPanel {
  readonly panel: Panel | undefined;
  readonly job: BenchJob;
  readonly spec: Spec | undefined;
  /** What is entered, as it is at this moment. */
  entries(): Entries;
  /** Puts other entries in the place of these. */
  take(entries: Entries): void;
  setJob(job: BenchJob): void;
  setNotice(notice: string): void;
}

type Of<kind extends FromPanel['kind']> = Extract<FromPanel, { readonly kind: kind }>;

/** Hears the panel. Gives what is told of each change of what is entered. */
export function usePanel(page: InPanel): (change: Change) => void {
  const { panel, job, spec } = page;
  const { current: file } = useRef(new RecordInFile());
  /** Which telling of the file was heard last. */
  const telling = useRef(0);

  /** Tells the panel the record as it is now, once the spec has been read. */
  const sayRecord = (): void => {
    if (panel === undefined || spec === undefined) return;
    const text = file.toTell(spec.reader.recordText(page.entries(), job));
    if (text !== undefined) panel.say({ kind: 'record', text, telling: telling.current });
  };

  const begins = (message: Of<'begin'>): void => {
    const before = page.entries();
    const engineNumber = message.engine === '' ? before.engineNumber : message.engine;
    telling.current = message.telling;
    file.read(undefined, false);
    page.take({ ...before, engineNumber, record: recordName(engineNumber, job), base: undefined });
    if (file.isWaiting) sayRecord();
  };

  /** What is entered from now on goes into the text as it was written. */
  const isWritten = ({ text }: Of<'written'>): void => {
    file.written(text);
    page.take({ ...page.entries(), base: text });
  };

  const isRead = (message: Of<'file'>): void => {
    // While the spec is being read the panel is asked again afterwards.
    if (spec === undefined) return;
    telling.current = message.telling;
    const isBroken = spec.reader.recordHead(message.text)?.isBroken ?? true;
    file.read(message.text, isBroken);
    const found = isBroken ? undefined : spec.reader.readRecord(message.text, job);
    if (isBroken)
      page.setNotice(
        spoken`${message.name} has lines that can't be read, or no record. Put that right: what is entered here is kept, and written into it then.`,
      );
    if (found === undefined) return;
    // Clocks of this panel go on. What the file says counts, and what was entered since it was last written comes into it.
    const { by, clocks } = page.entries();
    const read: Entries = { ...found, by: by === '' ? found.by : by, clocks };
    page.take(file.enteredInto(read, (before, change) => settled(before, change(before), job)));
    page.setNotice('');
    if (file.isWaiting) sayRecord();
  };

  const hear = useRef<(message: FromPanel) => void>(() => undefined);
  hear.current = (message) => {
    switch (message.kind) {
      case 'job':
        return page.setJob(JSON.parse(message.job) as BenchJob);
      case 'refused':
        return page.setNotice(message.why);
      case 'begin':
        return begins(message);
      case 'written':
        return isWritten(message);
      case 'file':
        return isRead(message);
    }
  };
  useEffect(() => panel?.listen((message) => hear.current(message)), []);
  useEffect(() => {
    if (spec !== undefined) panel?.say({ kind: 'ready' });
  }, [spec]);

  return (change) => {
    if (panel === undefined) return;
    file.entered(change);
    sayRecord();
  };
}
