// A drive that names something else as its tensioner than what is sprung and held back, or called so, in its own chain or belt.
import { told } from '../../../grammar/told.ts';
import type { Drive, View } from '../../model/view.ts';
import type { ThingCheck } from '../check.ts';
import { change } from '../support.ts';
import page from './tensioner.md';

const CALLED_SO = /tension/i;

/** Whether a part is what keeps something tight, as far as it says so. */
function isTensioner(name: string, view: View): boolean {
  const part = view.things.get(name);
  return part?.kind === 'part' && (part.heldBack || CALLED_SO.test(name) || CALLED_SO.test(part.title ?? ''));
}

/** What the chain or belt runs over that is a tensioner, and is not named as one. */
function leftOut(drive: Drive, view: View): string | undefined {
  const named = new Set(drive.tensioners);
  return drive.wraps
    .flatMap((wrap) => wrap.wheels.map((wheel) => wheel.part))
    .find((name) => !named.has(name) && isTensioner(name, view));
}

export const tensioner: ThingCheck<'drive'> = {
  code: 'timing/tensioner',
  severity: 'warning',
  scope: 'thing',
  of: ['drive'],
  page,
  run(thing, view, report) {
    if (thing.broken || thing.tensioners.length === 0) return;
    const wrong = thing.tensioners.find((name) => view.things.get(name)?.kind === 'part' && !isTensioner(name, view));
    const meant = wrong === undefined ? undefined : leftOut(thing, view);
    if (wrong === undefined || meant === undefined) return;
    const name = thing.statements
      .flatMap((each) => (each.kind === 'names' && each.word === 'tensioner' ? each.names : []))
      .find((each) => each.text === wrong);
    if (name === undefined) return;
    report(
      thing.placed,
      name,
      told`${told.named(wrong, 'part')} is named as the tensioner here, and ${told.named(meant, 'part')} is what keeps this tight. See which is meant.`,
      { fixes: [change(thing.placed, name, meant)] },
    );
  },
};
