// The engine of a first spec: what is usual is written; where several firing orders are usual they stand in a comment, and the line that the
// manual must fill is left out, which the checker says.
import { type Crank, crankLines, type Layout, usualCranks } from './layouts.ts';

const comment = (lines: readonly string[]): string => lines.map((line) => `  # ${line}\n`).join('');

/** Crankpins on which an order fires are those on which another does. */
const sameCrank = (one: Crank, other: Crank): boolean => crankLines(one).join() === crankLines(other).join();

function orderLines(cranks: readonly Crank[]): string {
  const [first, ...others] = cranks;
  if (first === undefined)
    return comment([
      'No crankpins are usual here. Draw them from the manual, a line each:',
      'crankpin 1, 2 at 0 deg',
      'and then the order: firing-order 1-2-…',
    ]);
  const written = crankLines(first)
    .map((line) => `  ${line}\n`)
    .join('');
  if (first.order === '') return written;
  if (others.length === 0) return `${written}  firing-order ${first.order}\n`;
  const alike = [first, ...others.filter((each) => sameCrank(first, each))];
  const apart = others.filter((each) => !sameCrank(first, each));
  const orders = alike.map((each) => `firing-order ${each.order}`);
  return [
    comment([
      'STILL TO BE SAID: the firing order, as the manual has it.',
      'Usual with the crankpins below:',
      ...orders,
    ]),
    apart.length === 0
      ? ''
      : comment([
          'Usual too, each with lines of its own in their place:',
          ...apart.flatMap((each, i) => [
            ...(i === 0 ? [] : ['or']),
            ...crankLines(each),
            `firing-order ${each.order}`,
          ]),
        ]),
    written,
  ].join('');
}

/** Remarks on cranks that differ though the order is the same. */
function remark({ cylinders, layout }: Layout): string {
  if (layout === 'inline' && cylinders === 2)
    return comment(['Both pistons rise together. One up, one down: crankpin 2 at 180 deg.']);
  if (layout === 'vee' && cylinders === 2) return comment(['Both rods on one pin: it fires unevenly.']);
  return '';
}

/** The engine declaration, in canonical layout. */
export function firstEngine(layout: Layout, bore: string): string {
  const lie = layout.layout === 'vee' ? `vee ${layout.angle} deg` : layout.layout;
  return `engine {
  cylinders ${layout.cylinders} ${lie}
  cycle four-stroke
  rotation clockwise
  bore ${bore}
  stroke 81.30 mm
  rod-length 136.70 mm
  block-height 212.90 ±0.05 mm
  compression-height 35.20 mm
  chamber 39.5 ±0.5 cc
  gasket-thickness 1.10 mm
${remark(layout)}${orderLines(usualCranks(layout))}  redline 6000 rpm
}`;
}
