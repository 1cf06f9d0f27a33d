// The spec of the job, read in the page itself.
import { useEffect, useState } from 'preact/hooks';
import type { BenchJob } from '../bench/bench-job.ts';
import type { Spec } from './context.ts';

/** The spec, once it has been read; `failed` is told where this browser can't read it. */
export function useSpec(job: BenchJob, read: (job: BenchJob) => Promise<Spec>, failed: () => void): Spec | undefined {
  const [spec, setSpec] = useState<Spec | undefined>(undefined);
  useEffect(() => {
    let isWanted = true;
    setSpec(undefined);
    read(job).then(
      (found) => {
        if (isWanted) setSpec(found);
      },
      () => {
        if (isWanted) failed();
      },
    );
    return () => {
      isWanted = false;
    };
  }, [job]);
  return spec;
}
