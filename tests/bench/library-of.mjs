// Writes a library of so many invented specs of about 240 lines, to measure `fettle check FOLDER` on.
//
//   node tests/bench/library-of.mjs FOLDER 1000 && time node dist/fettle.js check FOLDER
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { argv } from 'node:process';
import { longSpec, sample } from './long-spec.mjs';

const [folder = 'library', count = '1000'] = argv.slice(2);
mkdirSync(folder, { recursive: true });
writeFileSync(join(folder, 'common-fasteners.fettle'), sample('common-fasteners.fettle'));
for (let number = 1; number <= Number(count); number += 1) {
  // Each has names of its own, and a figure of its own, so that no text stands twice.
  const text = longSpec(200).replaceAll('brindle-pony', `brindle-pony-${number}`);
  const own = text.replace(/^(\s*torque )(\d+)/m, (_, before, torque) => `${before}${torque}.${number % 10}`);
  writeFileSync(join(folder, `${String(number).padStart(4, '0')}.fettle`), own);
}
