// The button that opens a record: read in to go on from.

import { useRef } from 'preact/hooks';
import { spoken } from '../../grammar/spoken.ts';
import type { BenchJob } from '../bench/bench-job.ts';
import type { RecordHead } from '../bench/read-record.ts';

/** Why a file can't be gone on with on this page, in words; undefined where it can. */
export function whyNotOpened(head: RecordHead | undefined, name: string, job: BenchJob): string | undefined {
  if (head === undefined) return spoken`There is no record in ${name}.`;
  if (head.isBroken)
    return spoken`${name} has lines that can't be read. Have it checked and put right, then open it again.`;
  if (head.of !== undefined && head.of !== job.spec)
    return spoken`${name} is a record of ${head.of}, and this page is of ${job.spec}.`;
  if (head.variant !== undefined && job.variant !== undefined && head.variant !== job.variant)
    return spoken`${name} is of an engine of variant ${head.variant}, and this page is for ${job.variant}.`;
  return undefined;
}

export function OpenRecord({ open }: { open: (text: string, name: string) => void }) {
  const field = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" onClick={() => field.current?.click()}>
        {spoken`Open a record`}
      </button>
      <input
        ref={field}
        hidden
        type="file"
        accept=".fettle,.txt,text/plain"
        onChange={async (event) => {
          const input = event.currentTarget;
          const [file] = input.files ?? [];
          if (file !== undefined) open(await file.text(), file.name);
          input.value = '';
        }}
      />
    </>
  );
}
