// Each part where it belongs. Common practice, no source: rods, caps and pistons stay with their own, shells with their half, heads with
// their bank, wheels with their shaft.
import { expect, test } from 'vitest';
import { found } from './work.ts';

const PARTS = `engine {
  cylinders 4 vee 60 deg
  bank left 1, 3
  bank right 2, 4
}
part block { dimension saddle x3 60.00..60.01 mm }
part crankshaft
part camshaft
part rod x4
part rod-cap x4
part piston x4
part main-cap x3 { matched orient arrow toward front }
part main-shell { places upper 1..3, lower 1..3 }
part thrust-half { places upper 1 in block, lower 1 in main-cap }
part barrel x4
part head { places left, right }
part left-cover
part shim x4
part cam-wheel { fixed-to camshaft }
`;

const job = (work: string): readonly string[] =>
  found(
    `${PARTS}sequence build {\n  phase assemble\n  starts-with block, crankshaft, camshaft, rod, rod-cap, piston, main-cap, main-shell, thrust-half, barrel, head, left-cover, shim, cam-wheel\n  step work {\n    ${work}\n  }\n}\n`,
  ).filter((each) => each.startsWith('sequence/wrong-place'));

test.each([
  'fit rod-cap 1 onto rod 2',
  'fit rod-cap 1, 2 onto rod 2, 1',
  'fit piston 3 onto rod 2',
  'fit main-cap 2 onto block.saddle 3',
  'fit main-shell lower into block',
  'fit main-shell upper 2 into main-cap',
  'fit thrust-half upper into main-cap',
  'fit head left onto barrel 2, 4',
  'fit left-cover onto head right',
  'fit cam-wheel onto crankshaft',
])('does not belong there: %s', (line) => {
  expect(job(line)).toEqual([`sequence/wrong-place: ${line}`]);
});

test.each([
  'fit rod-cap 2, 1 onto rod 2, 1',
  'fit rod-cap onto rod',
  'fit piston 3 onto rod 3',
  'fit main-cap 2 onto block.saddle 2',
  'fit main-cap 2 onto block',
  'fit main-shell upper 1, 3 into block',
  'fit main-shell lower into main-cap',
  'fit main-shell onto block',
  'fit thrust-half lower into main-cap',
  'fit head left onto barrel 1, 3',
  'fit left-cover onto head left',
  'fit shim 2 onto barrel 4',
  'fit cam-wheel onto camshaft',
])('belongs there: %s', (line) => {
  expect(job(line)).toEqual([]);
});
