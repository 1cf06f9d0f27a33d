// `fettle new`: writes a first spec to change. Overwrites nothing. The text of it is features/first-spec.ts.
import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { firstSpec, isSpecName, readLayout } from '../features/first-spec.ts';
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
      `${name} can't be the name of a spec: letters and digits joined by single hyphens, as in brindle-four.`,
    );
  const path = resolve(streams.folder, options.output ?? `${name}.fettle`);
  const at = shownPath(path, streams.folder);
  const taken = `${at} is there already and was left as it is. Choose another name, or --output.`;
  if (existsSync(path)) throw new CannotDo(taken);
  let wanted = options.layout;
  if (wanted === undefined) {
    if (streams.ask === undefined) throw new CannotDo('Say how the cylinders lie: --layout inline, vee or flat.');
    wanted = await streams.ask('How do the cylinders lie?', ['inline', 'vee', 'flat']);
  }
  const layout = readLayout(options.cylinders === undefined ? wanted : `${options.cylinders} ${wanted}`);
  if (layout === undefined)
    throw new CannotDo(
      `${[options.cylinders, wanted].filter((each) => each !== undefined).join(' ')} is no layout that can be begun with. Write inline, vee or flat, with --cylinders for how many (an even number for vee and flat).`,
    );
  writeNew(path, firstSpec(name, layout));
  streams.out(shown`${at}\n`);
  streams.err(shown`Written. Put in the figures from the maker's manual, then run: fettle check ${at}\n`);
  return 0;
}
