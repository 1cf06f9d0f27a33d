// What stands round each screen of the page: which engine it is, where one can go, the way on and back, and what has to be said.
import { spoken } from '../../grammar/spoken.ts';
import { useBench } from './context.ts';

export type Screen = 'start' | 'step' | 'all' | 'record';

export function Notices({ isKept, notice }: { isKept: boolean; notice: string }) {
  return (
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
}

/** A button that leads to a screen, and from there back to the step. */
function Leads({ to, screen, show, label }: { to: Screen; screen: Screen; show: (to: Screen) => void; label: string }) {
  const isThere = screen === to;
  return (
    <button type="button" aria-pressed={isThere ? 'true' : 'false'} onClick={() => show(isThere ? 'step' : to)}>
      {label}
    </button>
  );
}

export function TopBar({ screen, show }: { screen: Screen; show: (to: Screen) => void }) {
  const { job, entries } = useBench();
  return (
    <header class="top">
      <p class="which">
        <strong>{entries.engineNumber === '' ? spoken`Engine without a number` : entries.engineNumber}</strong>
        <span class="soft">
          {job.job?.title ?? job.title}
          {job.variant === undefined ? '' : `, ${job.variant}`}
        </span>
      </p>
      <Leads to="all" screen={screen} show={show} label={spoken`All steps`} />
      <Leads to="record" screen={screen} show={show} label={spoken`The record`} />
    </header>
  );
}

/** The way on and back from a step; `onward` says where on leads. */
export function StepBar({
  isFirst,
  back,
  onward,
  label,
}: {
  isFirst: boolean;
  back: () => void;
  onward: () => void;
  label: string;
}) {
  return (
    <nav class="bottom" aria-label={spoken`Step by step`}>
      <button type="button" disabled={isFirst} onClick={back}>
        {spoken`Back`}
      </button>
      <button type="button" class="main" onClick={onward}>
        {label}
      </button>
    </nav>
  );
}

/** The way back to the step from another screen. */
export function BackBar({ back }: { back: () => void }) {
  return (
    <nav class="bottom still" aria-label={spoken`Step by step`}>
      <button type="button" class="main" onClick={back}>
        {spoken`Back to the step`}
      </button>
    </nav>
  );
}
