// What the parts above the checks get of a spec: its file, what it uses, what each variant sees, and the findings.
import type { InPieces } from '../../grammar/give-way.ts';
import type { BuiltView } from './build-view.ts';
import type { Finding } from './finding.ts';
import type { ReadFile } from './placed.ts';

export interface Analysis {
  readonly file: ReadFile;
  /** Every file that it uses, directly or not, read. */
  readonly used: readonly ReadFile[];
  readonly variants: readonly string[];
  /** One view for each variant, or one without. */
  readonly views: readonly BuiltView[];
  /** Has the views made piece by piece, for who asks for them afterwards. */
  look(): InPieces<void>;
  /**
   * The same views as the checks see them: what a question works out from one is kept over edits. They are brought up to this text, whether
   * or not it is checked. To be asked for each time, and only while this is the newest analysis of its file.
   */
  recordedViews(): readonly BuiltView[];
  /** Has those brought up piece by piece, for who asks for them afterwards; where none are kept yet, has views made. */
  refresh(): InPieces<void>;
  /** The findings that stand in this file, by place; worked out when they are asked for. */
  readonly findings: readonly Finding[];
  /** The same as far as they are known: none before all are worked out. Who must answer at once looks here, and never waits. */
  readonly known: readonly Finding[];
  /** Works the findings out piece by piece, so that others are heard in between. To be left off once the file is analysed again. */
  check(): Generator<void, void>;
  /** Fettle itself failed: the file was read, and that is all that holds. */
  readonly failed?: true;
}

/** The same with the kept views for its own: for who looks something up at once, and holds nothing of it. */
export function withRecordedViews(analysis: Analysis): Analysis {
  return Object.create(analysis, { views: { value: analysis.recordedViews() } }) as Analysis;
}
