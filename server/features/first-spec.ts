// A first spec to change: a draft for an engine layout, with every kind of declaration once. Its figures are placeholders that
// agree with each other; none is a real engine's. What lies behind the layouts is layouts.ts.
import { blockSpec } from './first-block.ts';
import { firstEngine } from './first-engine.ts';
import { flatSpec } from './first-flat.ts';
import { radialSpec } from './first-radial.ts';
import type { Layout } from './layouts.ts';

export { COMMONEST_LAYOUT, LAYOUT_WORDS, type Layout, readLayout } from './layouts.ts';

/** Whether a text can be the name of a spec. */
export function isSpecName(name: string): boolean {
  return (
    /^\p{L}[\p{L}\p{M}\p{N}]*(?:[-_][\p{L}\p{M}\p{N}]+)*$/u.test(name) &&
    !/^(?:spec|engine|part|fastener|supply|grades|drive|valve-timing|limit|sequence|step|job|record|use|when)$/i.test(
      name,
    ) &&
    !/^x\d+$/i.test(name)
  );
}

function title(name: string): string {
  const words = name.replace(/[-_]/g, ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** The text of a first spec, in canonical layout: a draft that checks without an error. */
export function firstSpec(name: string, layout: Layout): string {
  const bore = layout.layout === 'inline' || layout.layout === 'vee' ? 'block.bore' : 'barrel.bore';
  const rest =
    layout.layout === 'radial' ? radialSpec(layout) : layout.layout === 'flat' ? flatSpec(layout) : blockSpec(layout);
  return `# A first spec to change. Every figure here is a placeholder:
# put in what the maker's manual says, and say where it comes from.
# The word draft keeps Fettle quiet about what is still missing.
# Take it out when the spec is whole.

spec ${name} "${title(name)}" {
  revision 1
  source manual "The maker's workshop manual"
  draft
  per manual
}

${firstEngine(layout, bore)}

${rest}`;
}
