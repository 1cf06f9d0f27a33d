// Draws Fettle's mark, a timing dot on a toothed wheel under a pointer, into client/media: the extension's icon and
// the two file icons. Run by hand after a change of the drawing; needs Chromium for the PNG.
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

const media = (name) => fileURLToPath(new URL(`media/${name}`, import.meta.url));
const at = (centre, radius, degrees) => {
  const angle = ((degrees - 90) * Math.PI) / 180;
  return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)]
    .map((x) => x.toFixed(2))
    .join(' ');
};

/** The outline of a wheel with a gap at 12 o'clock, so that the pointer stands over it. */
function wheel(centre, root, tip, teeth) {
  const step = 360 / teeth;
  const points = Array.from({ length: teeth }, (_, tooth) => {
    const middle = (tooth + 0.5) * step;
    return [
      at(centre, root, middle - 0.36 * step),
      at(centre, tip, middle - 0.17 * step),
      at(centre, tip, middle + 0.17 * step),
      at(centre, root, middle + 0.36 * step),
    ].join(' L ');
  });
  return `M ${points.join(' L ')} Z`;
}

function mark({ size, teeth, metal, hole, dot, pointer, ground }) {
  const unit = size / 128;
  const centre = [64 * unit, 70 * unit];
  const part = (radius) => (radius * unit).toFixed(2);
  const [dotX, dotY] = at(centre, 29 * unit, 0).split(' ');
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${size}" height="${size}" viewBox="0 0 ${size} ${size}">
  <title>Fettle</title>
  ${ground ? `<rect width="${size}" height="${size}" rx="${part(20)}" fill="${ground}"/>\n  ` : ''}<path d="${wheel(centre, 40 * unit, 50 * unit, teeth)}" fill="${metal}"/>
  <circle cx="${part(64)}" cy="${part(70)}" r="${part(14)}" fill="${hole}"/>
  <circle cx="${dotX}" cy="${dotY}" r="${part(7)}" fill="${dot}"/>
  <path d="M ${part(55)} ${part(6)} L ${part(73)} ${part(6)} L ${part(64)} ${part(24)} Z" fill="${pointer}"/>
</svg>
`;
}

const icon = mark({
  size: 128,
  teeth: 18,
  ground: '#22313b',
  metal: '#c9d3d9',
  hole: '#22313b',
  dot: '#d9482b',
  pointer: '#f2b233',
});
writeFileSync(media('icon.svg'), icon);
const file = { size: 32, teeth: 12, dot: '#d9482b' };
writeFileSync(media('file-light.svg'), mark({ ...file, metal: '#51626d', hole: '#ffffff', pointer: '#51626d' }));
writeFileSync(media('file-dark.svg'), mark({ ...file, metal: '#aebac1', hole: '#1f1f1f', pointer: '#aebac1' }));

const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox', '--disable-gpu'] });
const page = await browser.newPage({ viewport: { width: 128, height: 128 } });
await page.setContent(`<body style="margin:0">${icon}</body>`);
await page.screenshot({ path: media('icon.png'), omitBackground: true });
await browser.close();
