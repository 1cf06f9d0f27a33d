// The figures of the engine that a limit may name, and where they are written. What they come to is in engine-sums.ts.
import type { Statement } from '../../grammar/tree.ts';
import { type Unit, unitOf } from '../mechanics/units.ts';
import type { Engine } from './view.ts';

/** The engine values that a limit may use, with how each is worked out. */
export const ENGINE_FIGURES = {
  displacement: { unit: unitOf('cc'), working: 'π/4 · bore² · stroke · cylinders' },
  'swept-volume': { unit: unitOf('cc'), working: 'π/4 · bore² · stroke' },
  'compression-ratio': { unit: [], working: '1 + swept-volume / (chamber + gasket + deck + dish − dome)' },
  'deck-clearance': { unit: unitOf('mm'), working: 'block-height − stroke / 2 − rod-length − compression-height' },
  squish: { unit: unitOf('mm'), working: 'deck-clearance + gasket-thickness' },
  'rod-ratio': { unit: [], working: 'rod-length / stroke' },
  'piston-speed': {
    unit: [
      { unit: 'm', power: 1 },
      { unit: 's', power: -1 },
    ],
    working: '2 · stroke · redline',
  },
} as const satisfies Readonly<Record<string, { readonly unit: Unit; readonly working: string }>>;
export type EngineFigureName = keyof typeof ENGINE_FIGURES;

export function isEngineFigure(name: string): name is EngineFigureName {
  return Object.hasOwn(ENGINE_FIGURES, name);
}

/** What is written of an engine as a figure; a limit may use these too. */
export const ENGINE_MEASURES = [
  'bore',
  'stroke',
  'rod-length',
  'block-height',
  'compression-height',
  'chamber',
  'dish',
  'dome',
  'gasket-bore',
  'gasket-thickness',
  'redline',
] as const;
export type MeasureName = (typeof ENGINE_MEASURES)[number];

/** The statement of the engine with this word that could be read. */
export function engineStatement<kind extends Statement['kind']>(
  engine: Engine | undefined,
  kind: kind,
  word?: string,
): Extract<Statement, { kind: kind }> | undefined {
  return engine?.statements.find(
    (statement): statement is Extract<Statement, { kind: kind }> =>
      statement.kind === kind && (word === undefined || statement.word === word),
  );
}
