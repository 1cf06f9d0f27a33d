// The whole at a glance: every step with how it stands.

import { speak, spoken } from '../../grammar/spoken.ts';
import { type Told, told } from '../../grammar/told.ts';
import { progressOf, type StepState } from '../bench/entries.ts';
import { isOf } from '../pictures/words.ts';
import { useBench } from './context.ts';

const SAID: Readonly<Record<StepState, Told>> = {
  open: told.nothing,
  begun: told`begun`,
  held: told`held`,
  done: told`done`,
  left: told`left out`,
};

/** The steps as buttons, the one in hand marked. */
export function StepList({ at, go }: { at: number; go: (at: number) => void }) {
  const { job, entries } = useBench();
  let number = -1;
  return (
    <nav class="all" aria-label={spoken`Steps`}>
      {job.chapters.map((chapter) => (
        <section key={chapter.name}>
          <h2>{chapter.title}</h2>
          <ol>
            {chapter.steps.map((step) => {
              number += 1;
              const own = number;
              const { state, done, of } = progressOf(step, entries, job);
              return (
                <li key={step.name} class={state}>
                  <button
                    type="button"
                    class={state}
                    {...(own === at ? { 'aria-current': 'step' as const } : {})}
                    onClick={() => go(own)}
                  >
                    <span>{step.number}</span>
                    <span>{step.title}</span>
                    <span class="state">{state === 'begun' ? isOf(done, of) : speak(SAID[state])}</span>
                  </button>
                </li>
              );
            })}
          </ol>
        </section>
      ))}
    </nav>
  );
}

export function Overview({ at, go }: { at: number; go: (at: number) => void }) {
  const { job, entries } = useBench();
  const states = job.chapters.flatMap((chapter) => chapter.steps.map((step) => progressOf(step, entries, job).state));
  const count = (state: StepState): number => states.filter((each) => each === state).length;
  return (
    <main>
      <h1>{job.job?.title ?? job.title}</h1>
      <p>
        {spoken`${count('done')} of ${states.length} steps done`}
        {count('held') === 0 ? '' : spoken`, ${count('held')} held until someone has looked`}
        {count('begun') === 0 ? '' : spoken`, ${count('begun')} begun`}
        {count('left') === 0 ? '' : spoken`, ${count('left')} left out with a reason`}. {job.begins}
      </p>
      {job.conditions.map((text) => (
        <p class="notice" key={text}>
          {spoken`Before the job: ${text}`}
        </p>
      ))}
      <StepList at={at} go={go} />
      {job.followOn.map((text) => (
        <p class="notice" key={text}>
          {spoken`After the job: ${text}`}
        </p>
      ))}
      <h2>{spoken`To lay out`}</h2>
      {job.layOut.map((list) => (
        <section key={list.title}>
          <h3>{list.title}</h3>
          <ul class="list">
            {list.items.map((item) => (
              <li key={item}>{item}</li>
            ))}
          </ul>
        </section>
      ))}
    </main>
  );
}
