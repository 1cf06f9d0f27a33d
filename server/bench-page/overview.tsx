// The whole at a glance: every step with how it stands.
import { progressOf, type StepState } from '../bench/entries.ts';
import { useBench } from './context.ts';

const SAID: Readonly<Record<StepState, string>> = {
  open: '',
  begun: 'begun',
  held: 'held',
  done: 'done',
  left: 'left out',
};

/** The steps as buttons, the one in hand marked. */
export function StepList({ at, go }: { at: number; go: (at: number) => void }) {
  const { job, entries } = useBench();
  let number = -1;
  return (
    <nav class="all" aria-label="Steps">
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
                    <span class="state">{state === 'begun' ? `${done} of ${of}` : SAID[state]}</span>
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
        {count('done')} of {states.length} steps done
        {count('held') === 0 ? '' : `, ${count('held')} held until someone has looked`}
        {count('begun') === 0 ? '' : `, ${count('begun')} begun`}
        {count('left') === 0 ? '' : `, ${count('left')} left out with a reason`}. {job.begins}
      </p>
      {job.conditions.map((text) => (
        <p class="notice" key={text}>
          Before the job: {text}
        </p>
      ))}
      <StepList at={at} go={go} />
      {job.followOn.map((text) => (
        <p class="notice" key={text}>
          After the job: {text}
        </p>
      ))}
      <h2>To lay out</h2>
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
