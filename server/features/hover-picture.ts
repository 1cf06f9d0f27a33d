// The picture that goes with what is hovered: of a thing its own, of a step the timing face as it stands after it.

import { speaking } from '../../grammar/spoken.ts';
import type { Rows } from '../../grammar/told.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Step, Thing, View } from '../model/view.ts';
import { drivesOfStep, type PictureName, pictureOf } from '../pictures/catalog.ts';
import { dataAddress } from '../pictures/data-address.ts';
import type { Picture } from '../pictures/drawing.tsx';
import { gapsOf } from '../pictures/ring-gaps.tsx';
import { driveAfter } from '../rehearsal/stands.ts';

/** Pixels that a hover has room for. */
const WIDEST = 420;

function nameFor(thing: Thing, view: View): PictureName | undefined {
  switch (thing.kind) {
    case 'drive':
      return 'timing-face';
    case 'fastener':
      return 'tightening-order';
    case 'valve-timing':
      return 'valve-events';
    case 'limit':
      return 'stack';
    case 'part':
      return gapsOf(thing, view).length > 0 ? 'ring-gaps' : 'way-round';
    default:
      return undefined;
  }
}

/** The step as the kept views have it: the job that it is done in was carried out there. */
function ofStep({ name }: Step, analysis: Analysis): Picture | undefined {
  const view = analysis.recordedViews().find(({ things }) => things.get(name)?.kind === 'step');
  const step = view?.things.get(name);
  if (view === undefined || step?.kind !== 'step') return undefined;
  const [drive] = drivesOfStep(step, view);
  const after = drive === undefined ? undefined : driveAfter(view, analysis.file.file, step, drive);
  return after === undefined || drive === undefined
    ? undefined
    : pictureOf('timing-face', { view, stands: { before: after, after }, of: drive });
}

/** The picture of a thing in the first view that has it, as Markdown in this language; empty where there is none. */
export function hoverPicture(analysis: Analysis, thing: Thing, rows: Rows): string {
  return speaking(rows, () => pictureText(analysis, thing));
}

function pictureText(analysis: Analysis, thing: Thing): string {
  const view = analysis.views.find((each) => each.things.get(thing.name) === thing) ?? analysis.views[0];
  if (view === undefined) return '';
  const what = nameFor(thing, view);
  const picture =
    thing.kind === 'step'
      ? ofStep(thing, analysis)
      : what === undefined
        ? undefined
        : pictureOf(what, { view, views: analysis.views, ...(what === 'ring-gaps' ? {} : { of: thing.name }) });
  if (picture === undefined) return '';
  const width = Math.min(WIDEST, Math.round(picture.width));
  const alt = picture.title.replace(/[^\p{L}\p{N} ,.:-]/gu, ' ').replace(/\s+/g, ' ');
  return `\n\n![${alt}](${dataAddress(picture)}|width=${width})`;
}
