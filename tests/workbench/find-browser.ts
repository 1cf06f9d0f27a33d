// The browser that tests are run in.
import { existsSync } from 'node:fs';

export function findBrowser(): string {
  const places = [
    process.env['CHROMIUM'] ?? '',
    '/usr/bin/chromium',
    '/usr/bin/chromium-browser',
    '/usr/bin/google-chrome',
  ];
  const found = places.find((place) => place !== '' && existsSync(place));
  if (found !== undefined) return found;
  throw new Error('These tests need Chromium. On Debian: apt-get install chromium. Or set CHROMIUM to its program.');
}
