// The bench sheet: one page that holds everything, to print and to write on. Built from elements, so that no text of a spec can
// be anything but text; there is no script on it. Its pieces are in the files beside this one.

import { render } from 'preact-render-to-string';
import { nothingMoved } from '../../grammar/characters.ts';
import { spoken } from '../../grammar/spoken.ts';
import type { BuiltView } from '../model/build-view.ts';
import { standsInPlan } from '../rehearsal/stands.ts';
import { pageRules, SheetBody, type SheetOptions, titleOf } from './body.tsx';
import { STYLE } from './style.ts';

/** The page of one variant, as HTML that needs nothing else. */
export function sheetPage(view: BuiltView, options: SheetOptions): string {
  const page = (
    <html lang={spoken`en`}>
      <head>
        <meta charset="utf-8" />
        <meta
          http-equiv="Content-Security-Policy"
          content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
        />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>{spoken`Bench sheet: ${titleOf(view)}`}</title>
        <style dangerouslySetInnerHTML={{ __html: `${STYLE}${pageRules(view, options)}` }} />
      </head>
      <body>
        <SheetBody view={view} options={options} standsOf={(plan) => standsInPlan(view, options.file, plan)} />
      </body>
    </html>
  );
  return `<!DOCTYPE html>\n${nothingMoved(render(page))}\n`;
}
