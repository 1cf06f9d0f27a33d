// `fettle new`: writes a first spec to change. Overwrites nothing. The text of it is features/first-spec.ts.

import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { told } from '../../grammar/told.ts';
import { COMMONEST_LAYOUT, firstSpec, isSpecName, LAYOUT_WORDS, readLayout } from '../features/first-spec.ts';
import { shown } from './output.ts';
import { shownPath } from './specs.ts';
import { CannotDo, type Streams } from './streams.ts';
import { writeNew } from './write.ts';

export interface NewOptions {
  readonly layout?: string;
  readonly cylinders?: string;
  readonly output?: string;
}

/** Runs `new`; asks for the layout where a person sits at the terminal and none is given. */
export async function newSpec(name: string, options: NewOptions, streams: Streams): Promise<number> {
  if (!isSpecName(name))
    throw new CannotDo(
      told`${name} can't be the name of a spec: letters and digits joined by single hyphens, as in brindle-four.`,
    );
  const path = resolve(streams.folder, options.output ?? `${name}.fettle`);
  const at = shownPath(path, streams.folder);
  const taken = told`${at} is there already and was left as it is. Choose another name, or --output.`;
  if (existsSync(path)) throw new CannotDo(taken);
  let wanted = options.layout;
  if (wanted === undefined && streams.ask !== undefined)
    wanted = await streams.ask(streams.say(told`How do the cylinders lie?`), LAYOUT_WORDS);
  // Nobody says and nobody can be asked: the commonest, which is said.
  const isTaken = wanted === undefined;
  wanted ??= options.cylinders === undefined ? COMMONEST_LAYOUT : 'inline';
  const layout = readLayout(options.cylinders === undefined ? wanted : `${options.cylinders} ${wanted}`);
  if (layout === undefined)
    throw new CannotDo(
      told`${[options.cylinders, wanted].filter((each) => each !== undefined).join(' ')} is no layout that can be begun with. Write inline, vee, flat or radial, with --cylinders for how many (an even number for vee and flat, 3, 5, 7 or 9 for a radial).`,
    );
  writeNew(path, firstSpec(name, layout));
  streams.out(shown`${at}\n`);
  if (isTaken)
    streams.err(
      shown`${told`For ${layout.cylinders} cylinders in line, as most are; --layout says otherwise: inline, vee, flat or radial.`}\n`,
    );
  streams.err(shown`${told`Written. Put in the figures from the maker's manual, then run: fettle check ${at}`}\n`);
  return 0;
}
