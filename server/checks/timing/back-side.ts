// A wheel without teeth inside a toothed belt, or one with teeth on its back. Common practice, no source.
import { told } from '../../../grammar/told.ts';
import type { ThingCheck } from '../check.ts';
import page from './back-side.md';

export const backSide: ThingCheck<'drive'> = {
  code: 'timing/back-side',
  severity: 'information',
  scope: 'thing',
  of: ['drive'],
  page,
  run(thing, view, report) {
    if (thing.broken) return;
    for (const wrap of thing.wraps) {
      const belt = view.things.get(wrap.part);
      if (wrap.sort !== 'belt' || belt?.kind !== 'part') continue;
      if ((belt.teeth ?? belt.links ?? 0) === 0 && belt.pitch === undefined) continue;
      for (const { part: name, onBack, span } of wrap.wheels) {
        const wheel = view.things.get(name);
        if (wheel?.kind !== 'part' || wheel.broken) continue;
        const hasTeeth = (wheel.teeth ?? 0) > 0;
        if (!onBack && !hasTeeth && wheel.fixedTo === undefined)
          report(
            thing.placed,
            span,
            told`${told.thing(wheel)} has no teeth, and ${told.thing(belt)} runs over it with its toothed side here. Say ${told.thing(wheel)} on-back if it runs on the back of the belt, or give its teeth.`,
          );
        else if (onBack && hasTeeth)
          report(
            thing.placed,
            span,
            told`${told.thing(wheel)} has ${wheel.teeth ?? 0} teeth, and ${told.thing(belt)} runs over it with its back here. Take on-back out, or its teeth.`,
          );
      }
    }
  },
};
