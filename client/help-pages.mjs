// Makes one page of all help pages, for editors that open a link on the code of a finding: each stands under its code.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const STYLE = `
body { font: 1em/1.5 system-ui, sans-serif; max-width: 46em; margin: 2em auto; padding: 0 1em; color-scheme: light dark; }
pre { padding: 0.8em 1em; border-left: 3px solid #888; overflow-x: auto; }
section { border-top: 1px solid #888; }
section:target h2 { text-decoration: underline; }
`;

function escaped(text) {
  return text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
}

/** A paragraph: words between grave accents are code. */
function paragraph(text) {
  return `<p>${escaped(text).replace(/`([^`]+)`/g, '<code>$1</code>')}</p>`;
}

/** A help page as a piece of the whole. */
function section(page) {
  const [heading = '', ...rest] = page.trim().split('\n');
  const code = heading.replace(/^#\s*/, '');
  const blocks = rest.join('\n').split(/(^```\w*\n[\s\S]*?^```$)/m);
  const body = blocks.flatMap((block) =>
    block.startsWith('```')
      ? [`<pre>${escaped(block.split('\n').slice(1, -1).join('\n'))}</pre>`]
      : block
          .split(/\n\s*\n/)
          .filter((each) => each.trim() !== '')
          .map((each) => paragraph(each.trim())),
  );
  return `<section id="${escaped(code)}"><h2>${escaped(code)}</h2>\n${body.join('\n')}\n</section>`;
}

/** The page with the help of every code. */
export function helpPages(root) {
  const checks = join(root, 'server', 'checks');
  const pages = readdirSync(checks, { recursive: true })
    .filter((name) => /^[^.]+\.md$/.test(name))
    .sort()
    .map((name) => section(readFileSync(join(checks, name), 'utf8')));
  return `<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><title>Fettle: what the findings mean</title><style>${STYLE}</style></head><body>\n<h1>What the findings mean</h1>\n${pages.join('\n')}\n</body></html>\n`;
}
